"""Tables of the standards and handbooks: sizes of threads, strengths of bolts, nut factors, each value with its source."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

from generator.reading import At, Problem, ReadFile, Shape
from generator.record.cites import uncited
from generator.record.facts import Fact, Walk


@dataclass(frozen=True, slots=True)
class ThreadSize:
    """One thread. designation: with its pitch, as its file has it. series: coarse or fine.

    Each value: figures side by side, one a source; empty where nobody quoted it.
    """

    at: At
    designation: str
    series: str
    pitch_diameter: tuple[Fact, ...]
    minor_diameter: tuple[Fact, ...]
    external_minor_diameter: tuple[Fact, ...]
    stress_area: tuple[Fact, ...]
    tapping_drill: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class StrengthRow:
    """One class or grade over one band of diameters. name: for people. class_name: as marked.

    Each value: figures side by side, one a source; diameter is empty for all diameters.
    """

    at: At
    name: str
    class_name: str
    diameter: tuple[Fact, ...]
    tensile: tuple[Fact, ...]
    yield_strength: tuple[Fact, ...]
    proof: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class FrictionRow:
    """The nut factor of one condition. name: the source's words. treatments: of a record's thread that it answers, may be empty."""

    at: At
    name: str
    treatments: tuple[str, ...]
    factor: tuple[Fact, ...]


Row = TypeVar("Row")


@dataclass(frozen=True)
class Table(Generic[Row]):
    """A table. system: metric or unified, empty where it has none. facts: all of them, in the order of the file."""

    file: ReadFile
    id: str
    name: str
    system: str
    rows: tuple[Row, ...]
    facts: tuple[Fact, ...]


def read_threads(file: ReadFile, shape: Shape) -> tuple[Table[ThreadSize], list[Problem]]:
    """The table of a file in specs/threads. It is usable only if no problem is an error."""
    return _table(file, shape, "sizes", _size)


def read_strengths(file: ReadFile, shape: Shape) -> tuple[Table[StrengthRow], list[Problem]]:
    """The table of a file in specs/strength. It is usable only if no problem is an error."""
    return _table(file, shape, "rows", _strength)


def read_friction(file: ReadFile, shape: Shape) -> tuple[Table[FrictionRow], list[Problem]]:
    """The table of a file in specs/friction. It is usable only if no problem is an error."""

    def build(at: At, found: dict[str, tuple[Fact, ...]]) -> FrictionRow:
        said = file.data["rows"][at[1]].get("treatment")
        treatments = tuple(each for each in said if isinstance(each, str)) if isinstance(said, list) else ()
        return FrictionRow(at, str(at[1]), treatments, found.get("factor", ()))

    return _table(file, shape, "rows", build)


def _table(file: ReadFile, shape: Shape, key: str, build: Callable[[At, dict[str, tuple[Fact, ...]]], Row]) -> tuple[Table[Row], list[Problem]]:
    walk = Walk(file, [], [])
    walk.block(file.data, shape, (), (), None)
    facts = tuple(fact for fact in walk.facts if fact.at[0] == key)
    rows = tuple(build((key, name), dict(_by_key(facts, (key, name)))) for name in _names(file, key))
    table = Table(file, str(file.data.get("id", "")), str(file.data.get("name", "")), str(file.data.get("system", "")), rows, facts)
    return table, [*walk.problems, *uncited(file, shape, facts)]


def _names(file: ReadFile, key: str) -> list[str]:
    rows = file.data.get(key)
    return [name for name, row in rows.items() if isinstance(row, dict)] if isinstance(rows, dict) else []


def _by_key(facts: tuple[Fact, ...], row: At) -> Iterator[tuple[str, tuple[Fact, ...]]]:
    own = [fact for fact in facts if fact.at[:2] == row]
    for key in dict.fromkeys(str(fact.at[2]) for fact in own):
        yield key, tuple(fact for fact in own if fact.at[2] == key)


def _text(facts: tuple[Fact, ...]) -> str:
    return facts[0].text if facts else ""


def _size(at: At, found: dict[str, tuple[Fact, ...]]) -> ThreadSize:
    keys = ("pitch_diameter", "minor_diameter", "external_minor_diameter", "stress_area", "tapping_drill")
    return ThreadSize(at, str(at[1]), _text(found.get("series", ())), *(found.get(key, ()) for key in keys))


def _strength(at: At, found: dict[str, tuple[Fact, ...]]) -> StrengthRow:
    keys = ("diameter", "tensile", "yield", "proof")
    return StrengthRow(at, str(at[1]), _text(found.get("class", ())), *(found.get(key, ()) for key in keys))
