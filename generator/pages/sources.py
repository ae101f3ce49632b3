"""Sources: a list, and a page each with every figure and step that cites it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from generator.pages.engine import engine_path
from generator.pages.figures import FactView, fact_view, source_path
from generator.pages.page import Page, render
from generator.record.engine import Engine
from generator.record.library import Library
from generator.record.procedure import Phase, Step


@dataclass
class Citing:
    """What cites one source."""

    facts: dict[str, list[FactView]]
    engines: dict[str, Engine]
    steps: list[tuple[Phase, Step]]
    cautions: list[str]

    @property
    def count(self) -> int:
        """Figures and steps together."""
        return sum(map(len, self.facts.values())) + len(self.steps) + len(self.cautions)


def source_pages(library: Library) -> Iterator[Page]:
    """The list first, then a page a source."""
    citing = _citing(library)
    by_kind = sorted(library.sources.values(), key=lambda source: (source.kind, source.number))
    yield render("sources.html", "sources.html", "Sources", sources=by_kind, counts={key: each.count for key, each in citing.items()})
    for source in library.sources.values():
        found = citing[source.id]
        paths = {key: engine_path(engine) for key, engine in found.engines.items()}
        yield render("source.html", source_path(source), source.number, source=source, citing=found, paths=paths)


def _citing(library: Library) -> dict[str, Citing]:
    found: dict[str, Citing] = defaultdict(lambda: Citing({}, {}, [], []))
    for engine in library.engines.values():
        for fact in engine.facts:
            if fact.cite:
                each = found[fact.cite.source]
                each.engines[engine.id] = engine
                each.facts.setdefault(engine.id, []).append(fact_view(fact, library, 0))
    for phase in library.phases:
        for step in phase.steps:
            for source in dict.fromkeys(cite.source for cite in step.cites):
                found[source].steps.append((phase, step))
    for caution in library.cautions.values():
        for source in dict.fromkeys(cite.source for cite in caution.cites):
            found[source].cautions.append(caution.text)
    return found
