"""What a broken record can be asked all the same: rules that judge one figure or cite at a time, over what could be read.

So that a misspelt key hides nothing: every other slip of the file is told at once. What
stands at or under an error is left out, for it would only echo it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from generator.audit import cites, statuses, units
from generator.audit.exceptions import fact_of
from generator.audit.rule import Rule
from generator.reading import Problem
from generator.record.engine import Engine
from generator.record.library import Library

# Rules by name, with the key of the record that they read besides the figure; an error there makes them say nothing.
READS_BESIDES: Mapping[str, str] = {
    "cite-resolves": "", "source-unlisted": "sources", "real-cites-invented": "sources",
    "units-agree": "", "unreadable-doubted": "", "compared-status": "",
}
RULES: list[Rule] = [rule for rule in (*cites.RULES, *units.RULES, *statuses.RULES) if rule.name in READS_BESIDES]
_UNKNOWN = "schema-additionalProperties"
_MISSING = ("schema-required", "schema-dependentRequired")  # they stand at a block, and say nothing of what is in it


def of_broken(engine: Engine, library: Library, problems: Iterable[Problem]) -> Iterator[Problem]:
    """What these rules find in a record that has the given problems."""
    errors = [problem for problem in problems if problem.level == "error" and problem.at and problem.rule not in _MISSING]
    engine = _without_broken_statements(engine, errors)
    for rule in RULES:
        key = READS_BESIDES[rule.name]
        if key and (key not in engine.file.data or any(error.at[0] == key for error in errors)):
            continue
        yield from (found for found in rule.check(engine, library) if not any(_echoes(found, error) for error in errors))


def _without_broken_statements(engine: Engine, errors: Iterable[Problem]) -> Engine:
    """The record without the statements that an error stands at: a list of hundreds, each held against each, would take minutes."""
    broken = {error.at[: index + 1] for error in errors for index, part in enumerate(error.at) if part == "printed"}
    facts = (replace(fact, printed=()) if (*fact.at, "printed") in broken else fact for fact in engine.facts)
    return replace(engine, facts=tuple(facts))


def _echoes(found: Problem, error: Problem) -> bool:
    if found.at[-1] in ("cite", "superseded_by"):
        # A cite is one under whatever key it stands.
        return error.rule != _UNKNOWN and found.at[: len(error.at)] == error.at
    fact = fact_of(found.at)
    return found.at[: len(error.at)] == error.at or error.at[: len(fact)] == fact
