"""The bolt-order diagram: SVG drawn from places and orders, black and white, groups told apart by shape."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from math import hypot

from generator.pages.page import environment
from generator.record.engine import Engine, Head
from generator.record.fasteners import FastenerSet, Spot

PHONE = 320.0  # px that a phone of 360 px leaves for a drawing
NUMBER = 24.0  # px, the least height of a number on a phone
RADIUS = 19.0  # px, holds two digits of that height
GAP = 3.0  # px between neighbours
MARGIN = 34.0  # px round the drawing, for the words front and exhaust side
SHAPES = ("circle", "square", "diamond", "hexagon")


@dataclass(frozen=True, slots=True)
class Mark:
    """One fastener on the drawing. number: its turn in the order, or empty. x, y: in px of the drawing."""

    number: str
    name: str
    x: float
    y: float
    shape: str
    group: str


@dataclass(frozen=True, slots=True)
class Scale:
    """From millimetres, y upwards, to the px of the drawing, y downwards."""

    factor: float
    left: float
    top: float

    def x(self, x: float) -> float:
        return round((x - self.left) * self.factor + MARGIN, 1)

    def y(self, y: float) -> float:
        return round((self.top - y) * self.factor + MARGIN, 1)


def order_diagrams(engine: Engine, fasteners: FastenerSet) -> list[str]:
    """One drawing for each order of the set; none where the record has no places or no order."""
    if not fasteners.spots or not fasteners.orders:
        return []
    head = engine.heads[0] if engine.heads else None
    return [_draw(fasteners, head, name, order) for name, order in fasteners.orders.items()]


def _draw(fasteners: FastenerSet, head: Head | None, name: str, order: tuple[str, ...]) -> str:
    points = _points(fasteners, head)
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    bottom, top = min(y for _, y in points), max(y for _, y in points)
    scale = Scale(_factor(right - left, list(fasteners.spots.values())), left, top)
    turns = {place: str(turn) for turn, place in enumerate(order, start=1)}
    shapes = dict(zip(fasteners.groups, SHAPES * len(fasteners.groups), strict=False))
    marks = [
        Mark(turns.get(spot.name, ""), spot.name, scale.x(spot.x), scale.y(spot.y), shapes.get(spot.group, SHAPES[0]), spot.group)
        for spot in fasteners.spots.values()
    ]
    return environment().get_template("diagram.svg").render(
        key=f"{fasteners.key}-{name}", name=name, marks=marks, order=order, head=head, scale=scale, radius=RADIUS, number=NUMBER,
        width=round((right - left) * scale.factor + 2 * MARGIN), height=round((top - bottom) * scale.factor + 2 * MARGIN), groups=shapes,
    )


def _points(fasteners: FastenerSet, head: Head | None) -> list[tuple[float, float]]:
    points = [(spot.x, spot.y) for spot in fasteners.spots.values()]
    if head:
        points += head.outline
        points += [(bore.x + side * bore.diameter / 2, bore.y + side * bore.diameter / 2) for bore in head.bores for side in (-1, 1)]
    return points


def _factor(width: float, spots: list[Spot]) -> float:
    """px for a millimetre: the drawing fills a phone, but never so that two numbers touch."""
    nearest = min((hypot(a.x - b.x, a.y - b.y) for a, b in combinations(spots, 2)), default=0.0)
    fill = (PHONE - 2 * MARGIN) / width if width else 1.0
    return max(fill, (2 * RADIUS + GAP) / nearest) if nearest else fill
