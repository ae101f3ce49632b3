"""The record of one engine: identity, facts in the schema's order, fasteners, geometry, revision."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from itertools import takewhile
from typing import Any

from generator.reading import At, Problem, ReadFile, Shape, nearest
from generator.record.cites import HOW_TO_CITE, uncited
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
    """The drawing of one head, in mm; front and exhaust name an edge, empty where not given. round: of a round face, instead of an outline."""

    name: str
    outline: tuple[tuple[float, float], ...]
    round: Bore | None
    bores: tuple[Bore, ...]
    dowels: tuple[tuple[float, float], ...]
    front: str
    exhaust: str
    cite: Cite | None


@dataclass(frozen=True, slots=True)
class GivenException:
    """A warning that the record says was looked into. at: the place it is about, keys joined by full stops. reason: why it stands."""

    rule: str
    at: str
    reason: str


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
    exceptions: tuple[GivenException, ...] = ()
    _made: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    _kept: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    def once(self, name: str, make: Callable[[Engine], Any], *, kept: bool = False) -> Any:
        """What `make` makes of the record, made at the first call: several rules ask for the same.

        kept: it is small, made of nothing but the record, and asked for again when another record has changed.
        """
        made = self._kept if kept else self._made
        if name not in made:
            made[name] = make(self)
        return made[name]

    def forget(self) -> None:
        """Drop what was worked out and is not kept: what it was made with may have changed, or it is not needed for a while."""
        self._made.clear()
        for name in ("by_key", "_under"):
            self.__dict__.pop(name, None)

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
        start = tuple(dotted.split("."))
        plain = tuple(takewhile(lambda part: part != "*", start))
        found = self._under.get(plain, ())
        return found if plain == start else tuple(fact for fact in found if _begins(fact.key, start))

    @cached_property
    def _under(self) -> dict[At, tuple[Fact, ...]]:
        """Facts by every beginning of their place: pages ask for them a hundred times each."""
        found: dict[At, list[Fact]] = {}
        for fact in self.facts:
            for length in range(len(fact.key) + 1):
                found.setdefault(fact.key[:length], []).append(fact)
        return {key: tuple(facts) for key, facts in found.items()}

    def says(self, dotted: str) -> str:
        """The one word the record gives there, or empty where it is silent."""
        facts = self.at(dotted)
        return facts[0].text if facts else ""

    @cached_property
    def revision(self) -> str:
        """First 8 hex digits of the hash of the canonical content: comments and layout do not count."""
        canonical = json.dumps(self.file.data, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
        return hashlib.sha256(canonical.encode()).hexdigest()[:8]


def _begins(key: At, start: tuple[str, ...]) -> bool:
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
        sources=tuple(_texts(file.data.get("sources"))),
        facts=tuple(walk.facts),
        sets=sets,
        heads=tuple(_heads(file.data.get("geometry"))),
        exceptions=tuple(_exceptions(file.data.get("exceptions"))),
    )
    found = [*walk.problems, *uncited(file, shape, engine.facts), *_order_uncited(engine), *problems_of(file, sets), *_unknown_heads(engine)]
    return engine, found


def _texts(data: Any) -> list[str]:
    return [each for each in data if isinstance(each, str)] if isinstance(data, list) else []


def _unknown_heads(engine: Engine) -> Iterator[Problem]:
    """Heads that places and gaskets name must be drawn."""
    drawn = [head.name for head in engine.heads]
    named: list[tuple[At, str]] = [
        ((*each.at, "places", spot.name, "heads", index), name)
        for each in engine.sets.values() for spot in each.spots.values() for index, name in enumerate(spot.heads)
    ]
    gasket = engine.file.data.get("gasket")
    by_head = gasket.get("by_head") if isinstance(gasket, dict) else None
    named += [(("gasket", "by_head", name), name) for name in by_head or {}] if drawn else []
    for at, name in named:
        if name not in drawn:
            message = f"{name!r} is no head of the geometry"
            yield engine.file.problem(at, "head-known", message, nearest(name, drawn) or "draw it under geometry, or leave 'heads' out")


def _order_uncited(engine: Engine) -> Iterator[Problem]:
    """Orders and drawings are no facts, but come from a source too."""
    for key, each in engine.sets.items():
        if each.order_cite is not None or not (each.orders or each.order_in_figure):
            continue
        said = [fact for fact in engine.facts if fact.at[:2] == ("fasteners", key)]
        # Where nothing of the set has a source, that is told already.
        if not said or any(fact.cite for fact in said):
            yield engine.file.problem(("fasteners", key, "tightening"), "cite-missing", "the order has no source", HOW_TO_CITE, key=True)
    if engine.heads and engine.heads[0].cite is None:
        yield engine.file.problem(("geometry",), "cite-missing", "the geometry has no source", HOW_TO_CITE, key=True)


def _heads(geometry: Any) -> Iterator[Head]:
    if not isinstance(geometry, dict) or not isinstance(geometry.get("heads"), dict):
        return
    cite = geometry.get("cite")
    for name, head in geometry["heads"].items():
        if isinstance(head, dict):
            yield Head(
                name=name,
                outline=tuple(_points(head.get("outline"))),
                round=next(_bores({"face": head.get("round")}), None),
                bores=tuple(_bores(head.get("bores"))),
                dowels=tuple(_points(head.get("dowels"))),
                front=str(head.get("front", "")),
                exhaust=str(head.get("exhaust", "")),
                cite=Cite.read(cite) if isinstance(cite, str) else None,
            )


def _exceptions(data: Any) -> Iterator[GivenException]:
    for item in data if isinstance(data, list) else []:
        match item:
            case {"rule": str(rule), "at": str(at), "reason": str(reason)}:
                yield GivenException(rule, at, reason)


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
