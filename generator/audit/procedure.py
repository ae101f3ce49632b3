"""The procedure's references must stand for something: never a blank on a page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TypeAlias

from generator.audit.rule import LibraryRule
from generator.reading import At, Problem, ReadFile, Shape, nearest
from generator.record.facts import Cite
from generator.record.library import Library
from generator.record.procedure import Cause, Phase, Sign, Step, When

PHASES = 11
Place: TypeAlias = tuple[ReadFile, At]


def placed_steps(library: Library) -> Iterator[tuple[Phase, At, Step]]:
    """Every step with its phase and its place in the phase's file, in the order of the job."""
    for phase in library.phases:
        for index, step in enumerate(phase.steps):
            yield phase, ("steps", index), step


def _rows(phase: Phase) -> Iterator[tuple[str, int, Step | Cause | Sign]]:
    """Steps and rows of tables, each with its list and its position there."""
    lists: tuple[tuple[str, tuple[Step | Cause | Sign, ...]], ...] = (("steps", phase.steps), ("causes", phase.causes), ("signs", phase.signs))
    for key, rows in lists:
        for index, row in enumerate(rows):
            yield key, index, row


def _cited(library: Library) -> Iterator[tuple[Place, Iterable[Cite]]]:
    for phase in library.phases:
        for key, index, row in _rows(phase):
            yield (phase.file, (key, index)), row.cites
    if library.cautions_file:
        for caution in library.cautions.values():
            yield (library.cautions_file, ("cautions", caution.id)), caution.cites


def _sources(library: Library) -> Iterator[Problem]:
    for (file, at), cites in _cited(library):
        for cite in cites:
            yield from _registered(library, file, at, cite)


def _registered(library: Library, file: ReadFile, at: At, cite: Cite) -> Iterator[Problem]:
    book = library.sources.get(cite.source)
    if not library.registers(cite.source):
        message = f"the source {cite.source!r} is not registered in specs/sources"
        yield file.problem(at, "step-cite-resolves", message, library.how_to_register(cite.source))
    elif book and book.invented:
        message = f"a step cites an invented book, {book.number}"
        yield file.problem(at, "step-cite-resolves", message, "steps and cautions cite real publications everywhere")


def _figures(library: Library) -> Iterator[Problem]:
    shape = library.schemas.shape("engine")
    for phase, at, step in placed_steps(library):
        for index, wanted in enumerate(step.figures):
            yield from _known(shape, phase.file, (*at, "figures", index), "the step", wanted.places)
    if library.needs_file:
        for need in library.needs.values():
            yield from _known(shape, library.needs_file, ("needs", need.id, "figures"), "the need", need.figures)


def _known(shape: Shape, file: ReadFile, at: At, who: str, places: Iterable[str]) -> Iterator[Problem]:
    for dotted in places:
        if not stands_for(shape, dotted.split(".")):
            message = f"{who} refers to {dotted!r}, which no record can have"
            yield file.problem(at, "step-figure-known", message, "write keys of the record, joined by full stops")


def stands_for(shape: Shape | None, keys: list[str]) -> bool:
    """Whether a record may have something at these keys."""
    for key in keys:
        if shape is None:
            return False
        shape = shape.others if key == "*" else shape.children.get(key) or shape.others
    return shape is not None


def _names(library: Library) -> Iterator[Problem]:
    """Cautions and needs that steps name."""
    for phase, at, step in placed_steps(library):
        yield from _listed(phase.file, (*at, "cautions"), "caution", step.cautions, library.cautions)
        yield from _listed(phase.file, (*at, "needs"), "need", step.needs, library.needs)


def _listed(file: ReadFile, at: At, kind: str, names: Iterable[str], known: Iterable[str]) -> Iterator[Problem]:
    names_known = list(known)
    for index, name in enumerate(names):
        if name not in names_known:
            message = f"the {kind} {name!r} is not in {kind}s.yaml"
            yield file.problem((*at, index), "step-names-known", message, nearest(name, names_known))


def _used(library: Library) -> Iterator[Problem]:
    steps = [step for _, _, step in placed_steps(library)]
    for kind, file, known, used in (
        ("caution", library.cautions_file, library.cautions, {name for step in steps for name in step.cautions}),
        ("need", library.needs_file, library.needs, {name for step in steps for name in step.needs}),
    ):
        for name in known:
            if file and name not in used:
                hint = f"name it under '{kind}s' of the steps it belongs to, or delete it"
                yield file.problem((f"{kind}s", name), "named-by-step", f"no step names the {kind} {name!r}", hint, key=True)


def _conditions(library: Library) -> Iterator[Problem]:
    engine = library.schemas.shape("engine")
    for phase, at, step in placed_steps(library):
        yield from condition_problems(phase.file, (*at, "when"), step.when, engine)
        for index, wanted in enumerate(step.figures):
            yield from condition_problems(phase.file, (*at, "figures", index, "when"), wanted.when, engine)
    for phase in library.phases:
        for index, cause in enumerate(phase.causes):
            yield from condition_problems(phase.file, ("causes", index, "when"), cause.when, engine)
    if library.cautions_file:
        for caution in library.cautions.values():
            yield from condition_problems(library.cautions_file, ("cautions", caution.id, "when"), caution.when, engine)


def condition_problems(file: ReadFile, at: At, when: When, engine: Shape, rule: str = "condition-known") -> Iterator[Problem]:
    """Conditions on what is no fact of an engine's identity with words of its own, or on words it never says."""
    identity = engine.children["identity"]
    for key, words in when:
        shape: Shape | None = engine
        for part in (key if "." in key else f"identity.{key}").split("."):
            shape = shape.children.get(part) if shape else None
        says = shape.children["says"].node if shape and shape.leaf == "statement" else {}
        if "enum" not in says and says.get("type") != "integer":
            known = [name for name, child in identity.children.items() if child.leaf == "statement" and "enum" in child.children["says"].node]
            message = f"{key!r} is no fact of an engine's identity with words of its own"
            yield file.problem((*at, key), rule, message, nearest(key, known), key=True)
            continue
        for word in words:
            if "enum" in says and word not in says["enum"]:
                yield file.problem((*at, key), rule, f"{key} is never {word!r}", nearest(word, says["enum"]))


def _once(library: Library) -> Iterator[Problem]:
    seen: dict[tuple[str, str], str] = {}
    for phase in library.phases:
        for key, index, row in _rows(phase):
            if (key, row.id) in seen:
                message = f"the {key[:-1]} id {row.id!r} also stands in {seen[key, row.id]}"
                yield phase.file.problem((key, index, "id"), "step-once", message, "ids are for ever: choose another")
            seen[key, row.id] = phase.file.name


def _steps_named(library: Library) -> Iterator[tuple[Place, str]]:
    for phase, at, step in placed_steps(library):
        if step.no_pause:
            yield (phase.file, (*at, "no_pause", "until")), step.no_pause.until
    for phase in library.phases:
        for index, cause in enumerate(phase.causes):
            if cause.step:
                yield (phase.file, ("causes", index, "step")), cause.step
        for index, sign in enumerate(phase.signs):
            yield (phase.file, ("signs", index, "back_to")), sign.back_to


def _known_steps(library: Library) -> Iterator[Problem]:
    steps = {step.id: step for _, _, step in placed_steps(library)}
    order = list(steps)
    for (file, at), name in _steps_named(library):
        if name not in order:
            yield file.problem(at, "step-known", f"{name!r} is no step of the job", nearest(name, order))
        elif steps[name].when and at[-1] != "step":
            message = f"{name!r} is a step that some engines do not have"
            yield file.problem(at, "step-known", message, "name a step without 'when'")
    for phase, at, step in placed_steps(library):
        if step.no_pause and step.no_pause.until in order and order.index(step.no_pause.until) <= order.index(step.id):
            message = f"the step {step.no_pause.until!r} that ends it comes before the step {step.id!r} that begins it"
            yield phase.file.problem((*at, "no_pause", "until"), "step-known", message, "name a later step")


def _tables(library: Library) -> Iterator[Problem]:
    """Rows that no step shows, and steps that show no rows."""
    for phase in library.phases:
        shown = [step.causes for step in phase.steps]
        tables = {cause.of for cause in phase.causes}
        for index, step in enumerate(phase.steps):
            if step.causes and step.causes not in tables:
                message = f"no cause of this phase is of {step.causes!r}"
                yield phase.file.problem(("steps", index, "causes"), "table-shown", message, nearest(step.causes, sorted(tables)))
            if step.signs and not phase.signs:
                yield phase.file.problem(("steps", index, "signs"), "table-shown", "this phase has no signs", "delete 'signs: true', or add them")
        for index, cause in enumerate(phase.causes):
            if shown.count(cause.of) != 1:
                message = f"the table {cause.of!r} stands at {shown.count(cause.of)} steps; one was expected"
                yield phase.file.problem(("causes", index, "of"), "table-shown", message, f"write 'causes: {cause.of}' at the step it belongs to")
        if phase.signs and sum(step.signs for step in phase.steps) != 1:
            message = "the signs of this phase must stand at one step"
            yield phase.file.problem(("signs",), "table-shown", message, "write 'signs: true' at the step they belong to", key=True)


def _eleven(library: Library) -> Iterator[Problem]:
    found = [phase.number for phase in library.phases]
    for phase in library.phases:
        if found.count(phase.number) > 1:
            yield phase.file.problem(("number",), "phases-complete", f"two phases have the number {phase.number}", "number them 1 to 11")
    missing = sorted(set(range(1, PHASES + 1)) - set(found))
    if missing:
        words = ", ".join(map(str, missing))
        yield Problem("specs/procedure", 1, 1, "phases-complete", "error", f"the job has no phase {words}", "one file a phase, 1 to 11")


RULES = [
    LibraryRule("step-cite-resolves", "A step or caution whose source is not registered, or is invented.", "cite: od1002", _sources),
    LibraryRule("step-figure-known", "A step that refers to a figure no record can have.", "figures: [tests.compresion.minimum]", _figures),
    LibraryRule("step-names-known", "A step that names a caution or a need that is nowhere.", "cautions: [hot-colant]", _names),
    LibraryRule("named-by-step", "A caution or a need that no step names.", "a caution written and not put before a step", _used),
    LibraryRule("condition-known", "A condition on a fact that no record states.", "when: {coolant: liquid}", _conditions),
    LibraryRule("step-once", "An id of a step, cause or sign that stands twice.", "a step copied and not renamed", _once),
    LibraryRule("step-known", "A reference to a step that is not there, or comes too early.", "back_to: by-hand-frist", _known_steps),
    LibraryRule("table-shown", "Causes or signs that no step shows.", "of: overheatign", _tables),
    LibraryRule("phases-complete", "A phase that is missing or numbered twice.", "two files with number: 4", _eleven),
]
