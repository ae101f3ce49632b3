"""Plants faults, checks each record in process, and counts what was caught by which rules."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from random import Random
from typing import Any

from generator.audit import FINDING_RULES, LIBRARY_RULES, RULES
from generator.audit.exceptions import judge
from generator.reading import At, Problem, dotted
from generator.record.engine import Engine, read_engine
from generator.record.library import Library
from tests.faults import blocks, figures
from tests.faults.fault import Fault, few
from tests.faults.shape import CATCHABLE

SEED = 20_261
# Faults of one kind in one record; more would only repeat the same shapes.
MOST = 12
OF_CATCHABLE, OF_ALL = 0.95, 0.60
_LEVELS = {rule.name: rule.levels for rule in RULES} | {rule.name: rule.levels for rule in LIBRARY_RULES}


@dataclass
class Row:
    """One kind of fault: how many were planted, could be caught, were caught; by which rules; which were not caught."""

    planted: int = 0
    catchable: int = 0
    caught: int = 0
    caught_catchable: int = 0
    rules: Counter[str] = field(default_factory=Counter)
    uncaught: list[Fault] = field(default_factory=list)

    def count(self, fault: Fault, rules: set[str]) -> None:
        self.planted += 1
        self.catchable += fault.catchable
        self.caught += bool(rules)
        self.caught_catchable += fault.catchable and bool(rules)
        self.rules.update(rules)
        if not rules:
            self.uncaught.append(fault)


def faults_of(engine: Engine, library: Library, most: int = MOST) -> Iterator[Fault]:
    """The same faults at every run: each kind draws by a seed of its own."""
    for kind in (*figures.KINDS, *blocks.KINDS):
        chance = Random(f"{SEED} {kind.__name__} {engine.id}")
        yield from few(list(kind(engine, chance)), most, chance)
    for one in blocks.LIBRARY_KINDS:
        chance = Random(f"{SEED} {one.__name__} {engine.id}")
        yield from few(list(one(engine, library, chance)), most, chance)


def check(engine: Engine, data: dict[str, Any], library: Library) -> list[Problem]:
    """Errors and warnings of a record with this data, as the command finds them."""
    return [problem for problem in every_problem(engine, data, library) if problem.level != "note"]


def every_problem(engine: Engine, data: dict[str, Any], library: Library) -> list[Problem]:
    """The same with the notes, exceptions applied. No process is started and no file read."""
    file = replace(engine.file, data=data)
    changed, found = read_engine(file, library.schemas.shape("engine"), engine.invented)
    found = [*library.schemas.check(file, "engine"), *found]
    if not any(problem.level == "error" for problem in found):
        found += [problem for rule in RULES for problem in rule.check(changed, library)]
        found += [problem for rule in FINDING_RULES for problem in rule.check(changed, found, _LEVELS)]
        found = judge(changed, found).left
    return found


def caught_by(fault: Fault, problems: list[Problem], before: set[tuple[str, At]]) -> set[str]:
    """Rules whose problem is new, and at or under the place of the fault or about it by name."""
    return {problem.rule for problem in problems if (problem.rule, problem.at) not in before and _is_about(problem, fault)}


def _is_about(problem: Problem, fault: Fault) -> bool:
    if problem.at[: len(fault.at)] == fault.at:
        return True
    return any(_names(problem.message, name) for name in (*fault.names, dotted(fault.at)))


def _names(message: str, name: str) -> bool:
    """Whether a message holds the whole name: stage 1 is not named by stage 12, nor A1 by A10."""
    return re.search(rf"(?<![\w.]){re.escape(name)}(?![\w])", message) is not None


def run(library: Library, most: int = MOST) -> dict[str, Row]:
    """A row for each kind, in the order of the table of shapes."""
    rows = {kind: Row() for kind in CATCHABLE}
    for engine in library.engines.values():
        before = {(problem.rule, problem.at) for problem in check(engine, engine.file.data, library)}
        for fault in faults_of(engine, library, most):
            problems = check(engine, fault.planted(engine.file.data), library)
            rows[fault.kind].count(fault, caught_by(fault, problems, before))
    return rows


def shares(rows: dict[str, Row]) -> tuple[float, float]:
    """Of the catchable, and of all: how much was caught."""
    planted, catchable = sum(row.planted for row in rows.values()), sum(row.catchable for row in rows.values())
    return sum(row.caught_catchable for row in rows.values()) / max(catchable, 1), sum(row.caught for row in rows.values()) / max(planted, 1)
