"""One planted fault, and how a record is changed and read for it."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from random import Random
from typing import Any

from generator.quantities import Statement
from generator.quantities.numbers import read_number
from generator.reading import At, dotted
from generator.record.engine import Engine
from generator.record.facts import Fact


@dataclass(frozen=True)
class Fault:
    """kind: the row of the table. at: where it stands. change: plants it in a copy of the record's data.

    catchable: whether the record's shape lets it be seen, decided when it is planted. names:
    what a message elsewhere in the record must hold to be about it. says: what was done.
    """

    kind: str
    engine: str
    at: At
    change: Callable[[Any], None]
    catchable: bool
    says: str
    names: tuple[str, ...] = ()

    def planted(self, data: Any) -> Any:
        """A copy of the data with the fault in it."""
        found = copy.deepcopy(data)
        self.change(found)
        return found


def get(data: Any, at: At) -> Any:
    """What stands at a place; KeyError or IndexError if nothing does."""
    for key in at:
        data = data[key]
    return data


def setter(at: At, value: Any) -> Callable[[Any], None]:
    """A change that puts a value at a place."""

    def change(data: Any) -> None:
        get(data, at[:-1])[at[-1]] = copy.deepcopy(value)

    return change


def figures(engine: Engine) -> Iterator[Fact]:
    """Figures with at least one readable statement, not doubted already and not replaced by a later bulletin."""
    for fact in engine.facts:
        if fact.kind == "figure" and any(each.unit for each in fact.printed) and fact.doubt is None and not fact.superseded_by:
            yield fact


def respelt(statement: Statement, index: int, text: str) -> Statement:
    """The statement with another number at an index; a tolerance the same both ways stays so."""
    number = read_number(text)
    numbers = list(statement.numbers)
    numbers[index] = number
    if statement.form == "tolerance" and index == 1 and statement.numbers[1] == statement.numbers[2]:
        numbers[2] = number
    return replace(statement, numbers=tuple(numbers))


def place_names(fact: Fact) -> tuple[str, ...]:
    """The names under which a message elsewhere may speak of a figure."""
    key = fact.key
    if len(key) > 4 and key[3] == "stages" and isinstance(key[4], int):
        return (f"{dotted(key[:2])}, stage {key[4] + 1}", f"stage {key[4] + 1}")
    return (dotted(key),)


def few(found: list[Fault], most: int, chance: Random) -> list[Fault]:
    """At most so many of them, in their order."""
    if len(found) <= most:
        return found
    kept = set(chance.sample(range(len(found)), most))
    return [each for index, each in enumerate(found) if index in kept]


def doubted(data: Any, at: At = ()) -> Iterator[At]:
    """Places of everything in a record that has a doubt."""
    pairs = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in pairs:
        if key == "doubt":
            yield at
        yield from doubted(value, (*at, key))


def without_doubt(engine: Engine, at: At) -> Any:
    """The data of a record without the doubt at a place."""

    def change(data: Any) -> None:
        del get(data, at)["doubt"]

    return Fault("", engine.id, at, change, True, "").planted(engine.file.data)
