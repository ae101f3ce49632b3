"""Rules of practice: what the trade holds of engines in general, each with its source. None is a limit of any one engine."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from generator.reading import At, Problem, ReadFile, Shape
from generator.record.engine import Engine
from generator.record.facts import Cite, Fact, Walk
from generator.record.procedure import NO, When, applies, read_when


@dataclass(frozen=True, slots=True)
class PracticeLimit:
    """A number of a rule. label: what is limited, or for which engines. when: facts of the engine it depends on. facts: one a source."""

    at: At
    label: str
    when: When
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class PracticeRule:
    """A rule of the trade. stated_for: the engines its source speaks of, empty for all. beside: keys of a record whose gap it stands beside."""

    at: At
    id: str
    label: str
    says: str
    cites: tuple[Cite, ...]
    stated_for: str
    note: str
    beside: tuple[str, ...]
    limits: tuple[PracticeLimit, ...]


@dataclass(frozen=True)
class Practice:
    """The rules of one file. facts: the figures of all its limits."""

    file: ReadFile
    id: str
    number: int
    name: str
    about: str
    rules: tuple[PracticeRule, ...]
    facts: tuple[Fact, ...]


def read_practice(file: ReadFile, shape: Shape) -> tuple[Practice, list[Problem]]:
    """The rules of a file in specs/practice. They are usable only if no problem is an error."""
    walk = Walk(file, [], [])
    walk.block(file.data, shape, (), (), None)
    facts = tuple(fact for fact in walk.facts if fact.kind == "figure")
    number = file.data.get("number")
    found = Practice(
        file=file,
        id=str(file.data.get("id", "")),
        number=number if isinstance(number, int) else 0,
        name=str(file.data.get("name", "")),
        about=str(file.data.get("about", "")),
        rules=tuple(_rule(block, ("rules", index), facts) for index, block in _blocks(file.data.get("rules"))),
        facts=facts,
    )
    return found, [*walk.problems, *_uncited(found)]


def limits_beside(practice: Iterable[Practice], places: Iterable[str], engine: Engine) -> list[tuple[PracticeRule, PracticeLimit]]:
    """Limits of practice for what a record says nothing of: the numbers of every general rule beside any of these places.

    A rule that its source states for some engines only is none of them, nor is a limit
    whose condition the record answers with no. Where the record does not answer, the
    limit comes back and has to be shown under its condition.
    """
    wanted = set(places)
    return [
        (rule, limit)
        for each in practice for rule in each.rules if wanted & set(rule.beside) and not rule.stated_for
        for limit in rule.limits if applies(limit.when, engine) != NO
    ]


def _uncited(found: Practice) -> Iterator[Problem]:
    for fact in found.facts:
        if fact.cite is None:
            yield found.file.problem(fact.at, "cite-missing", "this limit has no source", "add 'cite: <source id> <place>' to it or to its rule")


def _rule(block: dict[str, Any], at: At, facts: tuple[Fact, ...]) -> PracticeRule:
    cites = [block.get("cite"), *_list(block.get("cites"))]
    return PracticeRule(
        at=at,
        id=str(block.get("id", "")),
        label=str(block.get("label", "")),
        says=str(block.get("says", "")),
        cites=tuple(Cite.read(each) for each in cites if isinstance(each, str)),
        stated_for=str(block.get("stated_for", "")),
        note=str(block.get("note", "")),
        beside=tuple(each for each in _list(block.get("beside")) if isinstance(each, str)),
        limits=tuple(_limit(each, (*at, "limits", index), facts) for index, each in _blocks(block.get("limits"))),
    )


def _limit(block: dict[str, Any], at: At, facts: tuple[Fact, ...]) -> PracticeLimit:
    own = tuple(fact for fact in facts if fact.at[: len(at)] == at)
    return PracticeLimit(at, str(block.get("label", "")), read_when(block), own)


def _blocks(data: Any) -> Iterator[tuple[int, dict[str, Any]]]:
    return ((index, block) for index, block in enumerate(_list(data)) if isinstance(block, dict))


def _list(data: Any) -> list[Any]:
    return data if isinstance(data, list) else []
