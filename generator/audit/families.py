"""Figures that are of one size in any engine: intake and exhaust, lengthwise and crosswise, new and limit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.audit.limits import DIRECTIONS, FACES, VALVES, each_of
from generator.audit.spans import Span, comparable, filled, pattern, spans
from generator.audit.suspicion import FigureRule, Suspicion
from generator.record.engine import Engine
from generator.record.library import Library


@dataclass(frozen=True, slots=True)
class Family:
    """Figures that are of one size in any engine. times: so far from every other member one is likelier to be a slip."""

    times: float
    keys: tuple[str, ...]


# Ten times is the slip that is looked for. Where the figures of a family lie within three times
# of each other a tenfold slip of the smaller one is only three times out, hence the five.
FAMILIES = [
    *(Family(5, tuple(each_of("faces.{}.flatness.{}", ("head", "deck", "barrel"), (way,)))) for way in DIRECTIONS),
    *(Family(5, tuple(each_of("faces.{}.flatness.{}", (face,), DIRECTIONS))) for face in FACES),
    *(
        Family(5, tuple(each_of(f"valves.{block}", VALVES)))
        for block in (
            "clearance.{}", "to_piston.{}", "stem_clearance.{}.new", "stem_clearance.{}.limit", "recession.{}.new", "recession.{}.limit",
            "stem.{}.new", "stem.{}.limit", "guide.{}.new", "guide.{}.limit",
        )
    ),
    *(Family(10, (f"valves.{block}.{each}.new", f"valves.{block}.{each}.limit")) for block in ("stem_clearance", "recession") for each in VALVES),
    *(Family(12, (*each_of("faces.{}.flatness.{}", (face,), DIRECTIONS), f"faces.{face}.stock_removal.total")) for face in ("head", "deck")),
    Family(5, ("bores.taper", "bores.out_of_round", "bores.bore_wear")),
]
_FAMILY: dict[str, list[Family]] = {}
for _family in FAMILIES:
    for _key in _family.keys:
        _FAMILY.setdefault(_key, []).append(_family)


def _out_of_family(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for key in engine.by_key:
        for family in _FAMILY.get(pattern(key), ()):
            others = {name: spans(engine, filled(name, key)) for name in family.keys if name != pattern(key)}
            given = {name: found for name, found in others.items() if found}
            # Of two that part nobody knows which is wrong: the later key reports it, once.
            if given and (len(given) > 1 or family.keys.index(pattern(key)) > family.keys.index(next(iter(given)))):
                yield from _far_from_all(spans(engine, key), list(given.values()), family.times)


def _far_from_all(ones: list[Span], others: list[list[Span]], times: float) -> Iterator[Suspicion]:
    for one in ones:
        beside = [two for found in others for first, two in comparable(ones, found) if first is one]
        near = min(beside, key=lambda each: _times(one, each), default=None)
        if near and _times(one, near) >= times:
            yield _far(one, near, times)


def _side_by_side(engine: Engine, library: Library) -> Iterator[Suspicion]:
    """Figures of one key: two sources, or hot and cold. What a record gives under a label of its own may be anything."""
    for key, facts in engine.by_key.items():
        found = spans(engine, key) if len(facts) > 1 and key[0] != "other" else []
        for each in found[1:]:
            if _times(each, found[0]) >= _CONDITIONS:
                yield _far(each, found[0], _CONDITIONS)


_CONDITIONS = 5.0


def _times(one: Span, other: Span) -> float:
    """How many times the larger is the smaller; 1 where one is zero, which has no size to compare."""
    small, large = sorted((abs(one.middle), abs(other.middle)))
    return large / small * (1 + 1e-9) if small else 1.0


def _far(one: Span, other: Span, times: float) -> Suspicion:
    how = "as large as" if abs(one.middle) > abs(other.middle) else "smaller than"
    message = f"{one.text} is {_times(one, other):.3g} times {how} {other.text}; less than {times:g} times is usual"
    return Suspicion(one.fact.at, message, (one.fact, other.fact), "warning")


FIGURE_RULES = [
    FigureRule(
        "limit-out-of-family", "A figure ten times off its neighbours. How far apart they may be is a rule of this project, no source.",
        "flatness lengthwise 0.05 mm, crosswise 0.5 mm",
        lambda engine, library: (*_out_of_family(engine, library), *_side_by_side(engine, library)), ("warning",),
    ),
]
