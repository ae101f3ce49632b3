"""One broken record through everything that a build does with it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from time import process_time

from generator.audit import RULES
from generator.audit.alone import of_broken
from generator.pages.bench import bundles_of, model_script
from generator.pages.engine import engine_page
from generator.pages.keys import keys_page
from generator.pages.model import as_json, engine_model
from generator.pages.pocket import pocket
from generator.pages.procedure import procedure_page
from generator.pages.request import request
from generator.pages.scripts import bundle
from generator.pages.sheet import sheet
from generator.reading import Problem, read_text
from generator.record.engine import Engine, read_engine
from generator.record.library import Library
from tests.hostile.harmless import harm_of

LONGEST = 1.0  # s


@dataclass(frozen=True, slots=True)
class Outcome:
    """accepted: whether pages were made. harm: what stands on them and may not. seconds: of the processor, for all of it."""

    accepted: bool
    problems: int
    harm: list[str]
    seconds: float


def try_record(raw: bytes, library: Library, invented: bool) -> Outcome:
    """Read, check and show one record; raises whatever a defect raises."""
    start = process_time()
    engine, problems = _read(raw, library, invented)
    harm: list[str] = []
    if engine and not any(problem.level == "error" for problem in problems):
        alone = replace(library, engines={engine.id: engine})
        ours = frozenset((*map(bundle, bundles_of(engine)), model_script(engine, alone, None)))
        harm = [each for page in _pages(engine, alone) for each in harm_of(page, ours)]
        as_json(engine_model(engine, alone, None))
    for problem in problems:
        if problem.level == "error" and not (problem.message and problem.line >= 1):
            harm.append(f"a problem without words or place: {problem}")
    accepted = engine is not None and not any(problem.level == "error" for problem in problems)
    return Outcome(accepted, len(problems), harm, process_time() - start)


def is_sound(raw: bytes, library: Library, invented: bool) -> bool:
    """Whether the check lets a record through."""
    engine, problems = _read(raw, library, invented)
    return engine is not None and not any(problem.level == "error" for problem in problems)


def _read(raw: bytes, library: Library, invented: bool) -> tuple[Engine | None, list[Problem]]:
    file, problems = read_text(raw, "specs/engines/hostile.yaml")
    if file is None:
        return None, problems
    problems = [*problems, *library.schemas.check(file, "engine")]
    engine, found = read_engine(file, library.schemas.shape("engine"), invented)
    problems += found
    if any(problem.level == "error" for problem in problems):
        problems += of_broken(engine, library, problems)
    else:
        problems += [problem for rule in RULES for problem in rule.check(engine, library)]
    return engine, problems


def _pages(engine: Engine, library: Library) -> list[str]:
    return [
        engine_page(engine, library, None).body, procedure_page(engine, library).body, sheet(engine, library), request(engine, library),
        pocket(engine, library, None), keys_page(library).body,
    ]
