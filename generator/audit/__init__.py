"""Rules beyond the schema, one small function each."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, partial

from generator.audit import (
    alone,
    bolts,
    cites,
    clamp,
    copies,
    doubts,
    exceptions,
    families,
    fasteners,
    fits,
    heights,
    identity,
    limits,
    methods,
    names,
    orders,
    practice,
    procedure,
    pulls,
    required,
    sizes,
    stages,
    standards,
    statuses,
    units,
)
from generator.audit.exceptions import Excepted
from generator.audit.reading import READING_RULES
from generator.audit.rule import FindingRule, LibraryRule, ReadingRule, Rule
from generator.audit.suspicion import FigureRule
from generator.reading import Problem, in_order
from generator.record.engine import Engine
from generator.record.library import Library
from generator.record.memory import Known, uncollected

# Rules over figures: what they find is acknowledged by a doubt.
FIGURE_RULES: list[FigureRule] = [
    *identity.FIGURE_RULES, *limits.FIGURE_RULES, *families.FIGURE_RULES, *sizes.FIGURE_RULES, *fits.FIGURE_RULES, *heights.FIGURE_RULES,
    *stages.FIGURE_RULES, *bolts.FIGURE_RULES, *clamp.FIGURE_RULES,
]
RULES: list[Rule] = [
    *cites.RULES, *units.RULES, doubts.needed(FIGURE_RULES), *(each.rule() for each in FIGURE_RULES),
    *fasteners.RULES, *pulls.RULES, *orders.RULES, *bolts.RULES, *names.RULES, *statuses.RULES, *copies.RULES,
]
LIBRARY_RULES: list[LibraryRule] = [*procedure.RULES, *required.RULES, *standards.RULES, *methods.RULES, *practice.RULES]
FINDING_RULES: list[FindingRule] = [*exceptions.RULES]


@dataclass(frozen=True)
class Findings:
    """What a check found. problems: in order, those that records except left out. excepted: those, with their reasons."""

    problems: list[Problem]
    excepted: list[Excepted]

    def of(self, names: Iterable[str]) -> Findings:
        """Only what was found in these files."""
        wanted = set(names)
        return Findings(
            [problem for problem in self.problems if problem.file in wanted],
            [each for each in self.excepted if each.problem.file in wanted],
        )

    @cached_property
    def warnings(self) -> Mapping[str, list[Problem]]:
        """The warnings that are left, by file."""
        return _by_file(problem for problem in self.problems if problem.level == "warning")

    @cached_property
    def reasons(self) -> Mapping[str, list[Excepted]]:
        """The warnings that records except, by file."""
        found: dict[str, list[Excepted]] = defaultdict(list)
        for each in self.excepted:
            found[each.problem.file].append(each)
        return found

    @property
    def serious(self) -> list[Problem]:
        """Errors and warnings. Notes are quiet: they ask for nothing."""
        return [problem for problem in self.problems if problem.level != "note"]

    @property
    def failed(self) -> bool:
        """Whether any problem is an error."""
        return any(problem.level == "error" for problem in self.problems)


def findings(library: Library, known: Known | None = None) -> Findings:
    """Everything that reading and the rules found, the exceptions of the records applied. known: as for `load`."""
    with uncollected():
        by_file = _by_file([*library.problems, *audit(library, known)])
    excepted: list[Excepted] = []
    for engine in _sound(library):
        judged = exceptions.judge(engine, by_file[engine.file.name])
        by_file[engine.file.name] = _without_shadows(judged.left)
        excepted += judged.excepted
    return Findings(in_order(problem for found in by_file.values() for problem in found), excepted)


def _without_shadows(problems: list[Problem]) -> list[Problem]:
    """A warning about a figure that has an error already would tell one slip twice."""
    wrong = {exceptions.fact_of(problem.at) for problem in problems if problem.level == "error"}
    return [problem for problem in problems if problem.level != "warning" or exceptions.fact_of(problem.at) not in wrong]


def audit(library: Library, known: Known | None = None) -> list[Problem]:
    """Every problem of every rule, over all records that have the right shape; others would only echo their first fault."""
    engines, known = _sound(library), known or Known()
    rest = known.once("rest", tuple(library.rest), object)
    found = [problem for engine in engines for problem in known.once(f"judged {engine.id}", (engine, rest), partial(_judged, engine, library))]
    found += [problem for rule in RULES if rule.across for engine in engines for problem in rule.check(engine, library)]
    broken = library.broken
    for rule in LIBRARY_RULES:
        if not any(name.startswith(rule.folders) for name in broken):
            found += rule.check(library)
    found += _of_broken(library)
    by_file = _by_file([*library.problems, *found])
    named: list[ReadingRule | Rule | LibraryRule] = [*READING_RULES, *RULES, *LIBRARY_RULES]
    levels = {rule.name: rule.levels for rule in named}
    return found + [
        problem for engine in engines for rule in FINDING_RULES for problem in rule.check(engine, by_file[engine.file.name], levels)
    ]


def _judged(engine: Engine, library: Library) -> list[Problem]:
    """What the rules find that look at nothing but the engine and what is no engine."""
    engine.forget()
    found = [problem for rule in RULES if not rule.across for problem in rule.check(engine, library)]
    engine.forget()  # or a thousand engines fill the memory with what their rules worked out
    return found


def _sound(library: Library) -> list[Engine]:
    broken = library.broken
    return [engine for engine in library.engines.values() if engine.file.name not in broken]


def _of_broken(library: Library) -> Iterator[Problem]:
    """Of records that have not the right shape: what one figure or cite can tell, which echoes nothing."""
    read, broken = _by_file(library.problems), library.broken
    for engine in library.engines.values():
        if engine.file.name in broken:
            yield from alone.of_broken(engine, library, read[engine.file.name])


def _by_file(problems: Iterable[Problem]) -> dict[str, list[Problem]]:
    found: dict[str, list[Problem]] = defaultdict(list)
    for problem in problems:
        found[problem.file].append(problem)
    return found


__all__ = [
    "FINDING_RULES", "LIBRARY_RULES", "RULES", "Excepted", "FindingRule", "Findings", "LibraryRule", "Rule", "audit", "findings",
]
