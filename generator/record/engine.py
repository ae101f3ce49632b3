"""The record of one engine: identity, facts in the schema's order, fasteners, geometry, revision."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from generator.reading import At, Problem, ReadFile, Shape
from generator.record.facts import Cite, Fact, Walk
from generator.record.fasteners import FastenerSet, problems_of, read_sets


@dataclass(frozen=True, slots=True)
class Bore:
    """A bore of the head's drawing, in mm."""

    name: str
    x: float
    y: float
    diameter: float


@dataclass(frozen=True, slots=True)
class Head:
    """The drawing of one head, in mm; front and exhaust name an edge, empty where not given."""

    name: str
    outline: tuple[tuple[float, float], ...]
    bores: tuple[Bore, ...]
    dowels: tuple[tuple[float, float], ...]
    front: str
    exhaust: str
    cite: Cite | None


@dataclass(frozen=True)
class Engine:
    """A record. invented: made for demonstration. facts: all of them, in the schema's order."""

    file: ReadFile
    id: str
    name: str
    invented: bool
    sources: tuple[str, ...]
    facts: tuple[Fact, ...]
    sets: dict[str, FastenerSet]
    heads: tuple[Head, ...]

    @cached_property
    def by_key(self) -> dict[At, tuple[Fact, ...]]:
        """Facts by their place in the record; figures of one place stand side by side."""
        found: dict[At, list[Fact]] = {}
        for fact in self.facts:
            found.setdefault(fact.key, []).append(fact)
        return {key: tuple(facts) for key, facts in found.items()}

    def at(self, dotted: str) -> tuple[Fact, ...]:
        """Facts at a place written with full stops, e.g. tests.compression.minimum."""
        return self.by_key.get(tuple(dotted.split(".")), ())

    def below(self, dotted: str) -> tuple[Fact, ...]:
        """Facts at a place or anywhere under it; * stands for any one key."""
        start = dotted.split(".")
        return tuple(fact for fact in self.facts if _begins(fact.key, start))

    def says(self, dotted: str) -> str:
        """The one word the record gives there, or empty where it is silent."""
        facts = self.at(dotted)
        return facts[0].text if facts else ""

    @cached_property
    def revision(self) -> str:
        """First 8 hex digits of the hash of the canonical content: comments and layout do not count."""
        canonical = json.dumps(self.file.data, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
        return hashlib.sha256(canonical.encode()).hexdigest()[:8]


def _begins(key: At, start: list[str]) -> bool:
    return len(key) >= len(start) and all(part in ("*", found) for part, found in zip(start, key, strict=False))


def read_engine(file: ReadFile, shape: Shape, invented: bool) -> tuple[Engine, list[Problem]]:
    """Build the record from a read file. It is usable only if no problem is an error."""
    walk = Walk(file, [], [])
    walk.block(file.data, shape, (), (), None)
    sets = read_sets(file.data.get("fasteners"), walk.facts)
    engine = Engine(
        file=file,
        id=str(file.data.get("id", "")),
        name=str(file.data.get("name", "")),
        invented=invented,
        sources=tuple(str(each) for each in file.data.get("sources", []) if isinstance(each, str)),
        facts=tuple(walk.facts),
        sets=sets,
        heads=tuple(_heads(file.data.get("geometry"))),
    )
    found = [*walk.problems, *_uncited(engine), *problems_of(file, sets)]
    return engine, found


def _uncited(engine: Engine) -> Iterator[Problem]:
    for fact in engine.facts:
        if fact.cite is None:
            hint = "add 'cite: <source id> <place>' to it or to the block it stands in"
            what = "this figure" if fact.kind == "figure" else "what stands here"
            yield engine.file.problem(fact.at, "cite-missing", f"{what} has no source", hint)
    for key, each in engine.sets.items():
        if (each.orders or each.order_in_figure or each.stages) and each.order_cite is None:
            hint = "add 'cite: <source id> <place>' to the block 'tightening'"
            yield engine.file.problem(("fasteners", key, "tightening"), "cite-missing", "the order and the stages have no source", hint)
    if engine.heads and engine.heads[0].cite is None:
        yield engine.file.problem(("geometry",), "cite-missing", "the geometry has no source", "add 'cite: <source id> <place>' to it")


def _heads(geometry: Any) -> Iterator[Head]:
    if not isinstance(geometry, dict) or not isinstance(geometry.get("heads"), dict):
        return
    cite = geometry.get("cite")
    for name, head in geometry["heads"].items():
        if isinstance(head, dict):
            yield Head(
                name=name,
                outline=tuple(_points(head.get("outline"))),
                bores=tuple(_bores(head.get("bores"))),
                dowels=tuple(_points(head.get("dowels"))),
                front=str(head.get("front", "")),
                exhaust=str(head.get("exhaust", "")),
                cite=Cite.read(cite) if isinstance(cite, str) else None,
            )


def _points(data: Any) -> Iterator[tuple[float, float]]:
    for point in data if isinstance(data, list) else []:
        match point:
            case [int() | float() as x, int() | float() as y]:
                yield float(x), float(y)


def _bores(data: Any) -> Iterator[Bore]:
    for name, bore in (data if isinstance(data, dict) else {}).items():
        match bore:
            case {"at": [int() | float() as x, int() | float() as y], "diameter": int() | float() as diameter}:
                yield Bore(name, float(x), float(y), float(diameter))
