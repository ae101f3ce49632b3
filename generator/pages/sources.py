"""Sources: a list, and a page each with every figure and step that cites it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Container, Iterator
from dataclasses import dataclass

from generator.pages.engine import engine_path
from generator.pages.figures import FactView, fact_view, source_path
from generator.pages.page import Page, render
from generator.pages.practice import practice_path
from generator.pages.reference.methods import method_path
from generator.pages.reference.tables import table_rows
from generator.record.engine import Engine
from generator.record.facts import Fact
from generator.record.library import Library
from generator.record.procedure import Phase, Step


@dataclass
class Citing:
    """What cites one source. facts: by the engine's id. tables: place on the site and value. methods, practice: name by place on the site."""

    facts: dict[str, list[Fact]]
    engines: dict[str, Engine]
    steps: list[tuple[Phase, Step]]
    cautions: list[str]
    tables: list[tuple[str, FactView]]
    methods: dict[str, str]
    practice: dict[str, str]

    @property
    def count(self) -> int:
        """Figures, steps, values of tables, methods and rules of practice together."""
        others = len(self.steps) + len(self.cautions) + len(self.tables) + len(self.methods) + len(self.practice)
        return sum(map(len, self.facts.values())) + others


def sources_page(library: Library) -> Page:
    """The list of all sources."""
    by_kind = sorted(library.sources.values(), key=lambda source: (source.kind, source.number))
    return render("sources.html", "sources.html", "Sources", sources=by_kind, counts={key: each.count for key, each in _citing(library).items()})


def source_pages(library: Library, only: Container[str] | None = None) -> Iterator[Page]:
    """A page a source. only: ids of the sources whose pages are asked for; every one if not given."""
    citing = _citing(library)
    for source in library.sources.values():
        if only is None or source.id in only:
            found = citing[source.id]
            views = {key: [fact_view(fact, library, 0) for fact in facts] for key, facts in found.facts.items()}
            paths = {key: engine_path(engine) for key, engine in found.engines.items()}
            yield render("source.html", source_path(source), source.number, source=source, citing=found, views=views, paths=paths)


def _citing(library: Library) -> dict[str, Citing]:
    found: dict[str, Citing] = library.once("citing", _gathered)
    return found


def _by_source(engine: Engine) -> dict[str, list[Fact]]:
    found: dict[str, list[Fact]] = {}
    for fact in engine.facts:
        if fact.cite:
            found.setdefault(fact.cite.source, []).append(fact)
    return found


def _gathered(library: Library) -> dict[str, Citing]:
    found: dict[str, Citing] = defaultdict(lambda: Citing({}, {}, [], [], [], {}, {}))
    for engine in library.engines.values():
        cited: dict[str, list[Fact]] = engine.once("facts by source", _by_source, kept=True)
        for source, facts in cited.items():
            found[source].engines[engine.id] = engine
            found[source].facts[engine.id] = facts
    for phase in library.phases:
        for step in phase.steps:
            for source in dict.fromkeys(cite.source for cite in step.cites):
                found[source].steps.append((phase, step))
    for caution in library.cautions.values():
        for source in dict.fromkeys(cite.source for cite in caution.cites):
            found[source].cautions.append(caution.text)
    for href, fact in table_rows(library):
        if fact.cite:
            found[fact.cite.source].tables.append((href, fact_view(fact, library, 0)))
    for calculation in library.calculations:
        for method in calculation.methods:
            given = [fact.cite for each in method.given for fact in each.facts if fact.cite]
            for cite in (*method.cites, *given):
                found[cite.source].methods[method_path(method)] = method.label
    for rule in (rule for each in library.practice for rule in each.rules):
        for cite in (*rule.cites, *(fact.cite for limit in rule.limits for fact in limit.facts if fact.cite)):
            found[cite.source].practice[practice_path(rule)] = rule.label
    return found
