"""The drawing: orders from the centre, places apart and on the head, bores of the right size."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import hypot
from statistics import mean

from generator.audit.rule import Rule
from generator.audit.spans import spans_at
from generator.reading import Problem
from generator.record.engine import Engine, Head
from generator.record.fasteners import Spot
from generator.record.library import Library

# From so many fasteners on an order has a centre to begin from.
ENOUGH = 6
_NEAREST = 5.0  # mm: no two fasteners of a head stand nearer
_RING = 1.0  # mm; places as far from the centre as that stand in a ring, which has no way outwards
_OUTSIDE = 15.0  # mm: a lug for a bolt may stand out of the outline
_BORE = 0.03  # of a drawn bore against the nominal one


def _from_centre(engine: Engine, library: Library) -> Iterator[Problem]:
    for each in engine.sets.values():
        for name, order in each.orders.items():
            spots = [each.spots[place] for place in order if place in each.spots]
            if len(spots) >= ENOUGH and len({spot.heads for spot in spots}) == 1 and not _outwards(spots):
                at = (*each.at, "tightening", "orders", name)
                message = f"the order {name!r} does not run from the centre outwards: {order[0]} comes first, {order[-1]} last"
                hint = "look at the figure of the manual again; some engines do it otherwise"
                yield engine.file.problem(at, "order-from-centre", message, hint, "note")


def _outwards(spots: list[Spot]) -> bool:
    """Whether the first half of an order lies nearer to the centre of its places than the second."""
    middle = (mean(spot.x for spot in spots), mean(spot.y for spot in spots))
    out = [hypot(spot.x - middle[0], spot.y - middle[1]) for spot in spots]
    half = len(out) // 2
    return max(out) - min(out) < _RING or mean(out[:half]) < mean(out[-half:])


def _apart(engine: Engine, library: Library) -> Iterator[Problem]:
    for each in engine.sets.values():
        for one, other in combinations(each.spots.values(), 2):
            shared = not one.heads or not other.heads or set(one.heads) & set(other.heads)
            if shared and (gap := hypot(one.x - other.x, one.y - other.y)) < _NEAREST:
                message = f"places {one.name} and {other.name} are {gap:.3g} mm apart: two fasteners cannot stand so near"
                yield engine.file.problem((*each.at, "places", other.name, "at"), "places-apart", message, "look at the drawing again")


def _on_head(engine: Engine, library: Library) -> Iterator[Problem]:
    each = engine.sets.get("head")
    for spot in each.spots.values() if each else ():
        heads = [head for head in engine.heads if head.outline and (not spot.heads or head.name in spot.heads)]
        if each and heads and not any(_within(spot, head) for head in heads):
            message = f"place {spot.name} stands outside the outline of the head"
            yield engine.file.problem((*each.at, "places", spot.name, "at"), "places-on-head", message, "look at the drawing again", "warning")


def _within(spot: Spot, head: Head) -> bool:
    xs, ys = [x for x, _ in head.outline], [y for _, y in head.outline]
    return min(xs) - _OUTSIDE <= spot.x <= max(xs) + _OUTSIDE and min(ys) - _OUTSIDE <= spot.y <= max(ys) + _OUTSIDE


def _drawn(engine: Engine, library: Library) -> Iterator[Problem]:
    nominal = spans_at(engine, "identity.bore")
    for head in engine.heads if len(nominal) == 1 else ():
        for bore in head.bores:
            if abs(bore.diameter / 1000 - nominal[0].middle) > _BORE * nominal[0].middle:
                message = f"bore {bore.name} is drawn {bore.diameter:g} mm wide, beside {nominal[0].text}"
                at = ("geometry", "heads", head.name, "bores", bore.name, "diameter")
                yield engine.file.problem(at, "bores-as-drawn", message, "look at the page again: one of the two is wrong", "warning")


RULES = [
    Rule(
        "order-from-centre", "An order that does not run from the centre outwards.", "an order typed from the last bolt to the first", _from_centre,
        ("note",),
    ),
    Rule("places-apart", "Two fasteners at one spot.", "B3 at [0, -46] where A3 is", _apart),
    Rule("places-on-head", "A fastener outside the head.", "at [1740, 46] typed for [174, 46]", _on_head, ("warning",)),
    Rule("bores-as-drawn", "A bore drawn in another size than the record gives.", "diameter 97 beside a bore of 79.0 mm", _drawn, ("warning",)),
]
