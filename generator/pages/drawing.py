"""Laying out one drawing of bolts: from millimetres to the units of the drawing, nothing touching, nothing hidden.

A unit is what makes the numbers NUMBER high; how large it is on paper or glass is the caller's affair.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import ceil, cos, hypot, radians, sin
from textwrap import wrap

from generator.pages.views import Course, View
from generator.record.fasteners import FastenerSet, Spot

NUMBER = 24.0  # height of the numbers
RADIUS = 19.0  # of a mark; holds two digits of that height
REACH = {"circle": RADIUS, "square": RADIUS, "diamond": RADIUS * 1.25, "hexagon": RADIUS * 1.1}
SHAPES = tuple(REACH)
SMALL = 6.0  # radius of a mark without a number; it may lie partly under a numbered one
SWEEP, ARROW = 4.0, 4.0  # from a mark to the sweep round it; half the breadth of its arrow
GAP = 3.0  # between neighbours
EDGE, BARE = 27.0, 6.0  # beside the drawing, with words for the edge and without
WORDS = 15.0  # height of those words
DOWEL = 5.0  # radius
LETTER, LINE, ICON = 8.1, 21.0, 34.0  # legend: mean breadth of a letter of the widest font, height of a line, room for what it explains
CYLINDER = (19.0, 9.0)  # half the breadth and height of the name of a bore
LARGEST = 3.0  # units for a millimetre: a small part is not blown up further
FULL, BETWEEN = 345.0, 6.0  # degrees; a sweep is drawn no further, and so much lies between two
CLOSE = 1e-3  # units; no more than the search for the scale leaves open
SAME = 0.5  # mm; a dowel nearer than this is round its bolt


@dataclass(frozen=True, slots=True)
class Scale:
    """From millimetres, y upwards, to the drawing, y downwards."""

    factor: float
    left: float
    top: float

    def x(self, x: float) -> float:
        """Across the drawing."""
        return round(x * self.factor + self.left, 1)

    def y(self, y: float) -> float:
        """Down the drawing."""
        return round(self.top - y * self.factor, 1)

    def long(self, length: float) -> float:
        """A length."""
        return round(length * self.factor, 1)


@dataclass(frozen=True, slots=True)
class Mark:
    """One fastener. number: its turn, empty where it is not in this order. sweeps: paths, one a stage. arrow: corners."""

    number: str
    x: float
    y: float
    shape: str
    sweeps: tuple[str, ...] = ()
    arrow: str = ""

    @property
    def numbered(self) -> bool:
        """Whether it is in this order; the others are drawn first, below."""
        return bool(self.number)


@dataclass(frozen=True, slots=True)
class Explained:
    """A line of the legend. icon: a shape, sweep, empty or dowel; none for a line that goes on."""

    icon: str
    words: str
    y: float


@dataclass(frozen=True, slots=True)
class Label:
    """Words on the drawing. turned: degrees."""

    words: str
    x: float
    y: float
    turned: int = 0


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing laid out. width, height: in its own units, whole ones, so that no screen shrinks the numbers to fit."""

    width: int
    height: int
    scale: Scale
    view: View
    marks: tuple[Mark, ...]
    dowels: tuple[tuple[float, float], ...]
    cylinders: tuple[Label, ...]
    edges: tuple[Label, ...]
    legend: tuple[Explained, ...]


@dataclass(frozen=True, slots=True)
class _Box:
    """Bounds, in units of the drawing before it is moved to its place, y upwards."""

    left: float
    right: float
    bottom: float
    top: float


def lay_out(fasteners: FastenerSet, view: View, course: Course, room: float, *, explained: bool = True) -> Drawing:
    """Fill the room where that is enough, else grow beyond it until no two marks touch. explained: with a legend."""
    shapes = dict(zip(fasteners.groups, SHAPES * len(fasteners.groups), strict=False))
    reach = {spot.name: _reach(spot, shapes, course) for spot in view.spots}
    words = _edge_words(view)
    beside = [EDGE if edge in words else BARE for edge in ("left", "right")]
    factor = max(_fill(view, reach, room - sum(beside)), _apart(view.spots, reach))
    box = _box(view, reach, factor)
    above, below = (EDGE if edge in words else BARE for edge in ("top", "bottom"))
    scale = Scale(factor, beside[0] - box.left, above + box.top)
    width, height = box.right - box.left + sum(beside), box.top - box.bottom + above + below
    marks = tuple(_mark(spot, shapes, course, scale, fasteners) for spot in view.spots)
    legend = tuple(_legend(fasteners, view, course, shapes, height, min(room, max(width, room)))) if explained else ()
    return Drawing(
        ceil(max(width, _legend_width(legend)) - CLOSE), ceil(height + len(legend) * LINE - CLOSE), scale, view, marks,
        tuple(_dowels(view, scale, reach)), tuple(_cylinders(view, scale)), tuple(_edges(words, width, height, room)), legend,
    )


# Size


def _reach(spot: Spot, shapes: dict[str, str], course: Course) -> float:
    if spot.name not in course.turns:
        return 0.0
    return REACH[shapes.get(spot.group, SHAPES[0])] + (SWEEP + ARROW if _angles(spot, course) else 0.0)


def _fill(view: View, reach: dict[str, float], room: float) -> float:
    """The largest factor with which the drawing is no wider than the room."""
    low, high = 0.0, LARGEST
    for _ in range(30):
        middle = (low + high) / 2
        box = _box(view, reach, middle)
        low, high = (middle, high) if box.right - box.left <= room else (low, middle)
    return low


def _apart(spots: Sequence[Spot], reach: dict[str, float]) -> float:
    """The least factor with which no two marks touch."""
    pairs = ((a, b, hypot(a.x - b.x, a.y - b.y)) for a, b in combinations(spots, 2))
    return max(((reach[a.name] + reach[b.name] + GAP) / far for a, b, far in pairs if far), default=0.0)


def _box(view: View, reach: dict[str, float], factor: float) -> _Box:
    points = [(x * factor, y * factor, 0.0) for x, y in _corners(view)]
    points += [(spot.x * factor, spot.y * factor, reach[spot.name]) for spot in view.spots]
    return _Box(
        min(x - r for x, _, r in points), max(x + r for x, _, r in points), min(y - r for _, y, r in points), max(y + r for _, y, r in points)
    )


def _corners(view: View) -> Iterator[tuple[float, float]]:
    for head in view.heads:
        yield from head.outline
        yield from head.dowels
        for round_ in (*head.bores, *([head.round] if head.round else [])):
            half = round_.diameter / 2
            yield from ((round_.x + side * half, round_.y + side * half) for side in (-1, 1))


# Marks


def _angles(spot: Spot, course: Course) -> tuple[float, ...]:
    return course.angles.get(spot.group, ()) if spot.name in course.turns else ()


def _mark(spot: Spot, shapes: dict[str, str], course: Course, scale: Scale, fasteners: FastenerSet) -> Mark:
    shape, x, y = shapes.get(spot.group, SHAPES[0]), scale.x(spot.x), scale.y(spot.y)
    turn = course.turns.get(spot.name)
    hand = -1 if fasteners.groups.get(spot.group, {}).get("hand") == "left" else 1
    sweeps, arrow = swept(x, y, REACH[shape] + SWEEP, _angles(spot, course), hand)
    return Mark(str(turn or ""), x, y, shape, sweeps, arrow)


def swept(x: float, y: float, radius: float, angles: Sequence[float], hand: int = 1) -> tuple[tuple[str, ...], str]:
    """Arcs from the top round a mark, one a stage with a gap between, and the arrow at the end. hand: -1 for a left-hand thread."""
    paths, start = [], 0.0
    for angle in angles:
        begin, end = start + (BETWEEN if start else 0.0), min(start + angle, FULL)
        if end > begin:
            (a, b), (c, d) = _at(x, y, radius, hand * begin), _at(x, y, radius, hand * end)
            paths.append(f"M{a},{b}A{radius:g},{radius:g} 0 {int(end - begin > 180)} {int(hand > 0)} {c},{d}")
        start = end
    if not paths:
        return (), ""
    back = start - 2 * ARROW / radius * 57.3  # the arrow is as long as it is broad
    corners = [_at(x, y, radius, hand * (start + 4)), _at(x, y, radius - ARROW, hand * back), _at(x, y, radius + ARROW, hand * back)]
    return tuple(paths), " ".join(f"{a},{b}" for a, b in corners)


def _at(x: float, y: float, radius: float, degrees: float) -> tuple[float, float]:
    """A point round a mark, clockwise from the top."""
    return round(x + radius * sin(radians(degrees)), 1), round(y - radius * cos(radians(degrees)), 1)


# What stands round the marks


def _dowels(view: View, scale: Scale, reach: dict[str, float]) -> Iterator[tuple[float, float]]:
    """Dowels, each moved clear of the mark of a bolt that would hide it."""
    for x, y in dict.fromkeys(point for head in view.heads for point in head.dowels):
        here = (scale.x(x), scale.y(y))
        near = min(view.spots, key=lambda spot: hypot(spot.x - x, spot.y - y))
        clear = reach[near.name] + DOWEL + 1
        away = (here[0] - scale.x(near.x), here[1] - scale.y(near.y))
        far = hypot(*away)
        if far >= clear:
            yield here
        else:
            along = (away[0] / far, away[1] / far) if far > SAME * scale.factor else (cos(radians(45)), -sin(radians(45)))
            yield round(scale.x(near.x) + along[0] * clear, 1), round(scale.y(near.y) + along[1] * clear, 1)


def _cylinders(view: View, scale: Scale) -> Iterator[Label]:
    """The name of each bore in it, where no mark would hide it."""
    for head in view.heads:
        for bore in head.bores:
            x, y = scale.x(bore.x), scale.y(bore.y)
            lower = scale.long(bore.diameter / 2) - CYLINDER[1] - 2
            free = [each for each in (y, y + lower, y - lower) if not any(_hides(spot, scale, x, each) for spot in view.spots)]
            if free:
                yield Label(f"cyl {bore.name}", x, round(free[0], 1))


def _hides(spot: Spot, scale: Scale, x: float, y: float) -> bool:
    away = (max(abs(scale.x(spot.x) - x) - CYLINDER[0], 0.0), max(abs(scale.y(spot.y) - y) - CYLINDER[1], 0.0))
    return hypot(*away) < RADIUS


def _edge_words(view: View) -> dict[str, str]:
    """Words for the edges of the drawing, the same for every head on it."""
    found: dict[str, str] = {}
    for head in view.heads[:1]:
        for edge, words in ((head.front, "front"), (head.exhaust, "exhaust side")):
            if edge:
                found[edge] = f"{found[edge]}, {words}" if edge in found else words
    return found


def _edges(words: dict[str, str], width: float, height: float, room: float) -> Iterator[Label]:
    inset, middle = EDGE / 2, min(width, room) / 2
    places = {
        "left": (inset, height / 2, -90), "right": (width - inset, height / 2, 90), "top": (middle, inset, 0), "bottom": (middle, height - inset, 0),
    }
    for edge, said in words.items():
        x, y, turned = places[edge]
        yield Label(said, round(x, 1), round(y, 1), turned)


# The legend


def _legend(
    fasteners: FastenerSet, view: View, course: Course, shapes: dict[str, str], top: float, room: float
) -> Iterator[Explained]:
    lines = 0
    for icon, words in _explained(fasteners, view, course, shapes):
        for index, line in enumerate(wrap(words, int((room - ICON) / LETTER)) or [""]):
            yield Explained("" if index else icon, line, round(top + (lines + 0.5) * LINE, 1))
            lines += 1


def _explained(fasteners: FastenerSet, view: View, course: Course, shapes: dict[str, str]) -> Iterator[tuple[str, str]]:
    present = list(dict.fromkeys(spot.group for spot in view.spots))
    if len(present) > 1:
        yield from ((shapes.get(group, SHAPES[0]), _group_words(fasteners, group)) for group in present)
    for angles in dict.fromkeys(course.angles.values()):
        groups = [group for group in present if course.angles.get(group) == angles]
        only = f"{' and '.join(_label(fasteners, group) for group in groups)}: " if len(groups) < len(present) else ""
        yield "sweep", f"{only}turned further by {' and '.join(f'{angle:g}°' for angle in angles)}"
    if any(spot.name not in course.turns for spot in view.spots):
        yield "empty", "without a number: not in this order"
    if any(head.dowels for head in view.heads):
        yield "dowel", "dowel"


def _label(fasteners: FastenerSet, group: str) -> str:
    return str(fasteners.groups.get(group, {}).get("label", group.replace("_", " ")))


def _group_words(fasteners: FastenerSet, group: str) -> str:
    thread = fasteners.groups.get(group, {}).get("thread")
    size = str(thread.get("as", "")) if isinstance(thread, dict) else ""
    return ", ".join(each for each in (_label(fasteners, group), size) if each)


def _legend_width(legend: Sequence[Explained]) -> float:
    return max((ICON + len(line.words) * LETTER for line in legend), default=0.0)
