"""Which drawings a set of fasteners needs, what is on each, and the same in words: heads, places, turns, angles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from generator.record.engine import Engine, Head
from generator.record.facts import Fact
from generator.record.fasteners import FastenerSet, Spot, Stage

# Sets that are seen in the plane of the head's own drawing; a manifold is not.
ON_THE_HEAD = (
    "head", "cam_caps", "head_cover", "rocker_brackets", "rocker_arms", "spark_plugs", "glow_plugs", "injectors",
)
LOOSENING = "loosening"  # key of the course of the loosening order
# Places whose heights differ by less than this share of the whole height stand in one row.
ONE_ROW = 0.24


@dataclass(frozen=True, slots=True)
class View:
    """What one drawing shows: the heads it draws, none where the places are not on a head, and the places."""

    heads: tuple[Head, ...]
    spots: tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class Course:
    """One order to draw. key: for ids. title: in words. turns: number by place. angles: of each group, stage by stage."""

    key: str
    title: str
    turns: dict[str, int]
    angles: dict[str, tuple[float, ...]] = field(default_factory=dict)


def views(engine: Engine, fasteners: FastenerSet) -> list[View]:
    """One view a head; one of all heads where they share fasteners; one without a head where the places are on none."""
    spots = tuple(fasteners.spots.values())
    if not spots:
        return []
    if any(len(spot.heads) > 1 for spot in spots):
        return [View(_held(engine, spots), spots)]
    if any(spot.heads for spot in spots):
        own = [(head, tuple(spot for spot in spots if head.name in (spot.heads or (head.name,)))) for head in engine.heads]
        return [View((head,), held) for head, held in own if held]
    if _on_each_head(engine, fasteners):
        return [View((head,), spots) for head in engine.heads]
    return [View((), spots)]


def _held(engine: Engine, spots: Sequence[Spot]) -> tuple[Head, ...]:
    named = {name for spot in spots for name in spot.heads}
    return tuple(head for head in engine.heads if head.name in named)


def _on_each_head(engine: Engine, fasteners: FastenerSet) -> bool:
    """Whether the places hold for every drawn head."""
    alone = len(engine.heads) == 1 and fasteners.per == "engine"
    return bool(engine.heads) and fasteners.key in ON_THE_HEAD and (alone or fasteners.per in ("head", "bank", ""))


def courses(fasteners: FastenerSet) -> Iterator[Course]:
    """The orders of the set as the record gives them, tightening first."""
    for name, order in fasteners.orders.items():
        stages = [(number, stage) for number, stage in enumerate(fasteners.stages, start=1) if stage.order == name]
        title = "Tightening order" + (f" {name}" if len(fasteners.orders) > 1 else "") + _stages_said([number for number, _ in stages])
        angles = {group: tuple(_angles([stage for _, stage in stages], group)) for group in fasteners.groups}
        yield Course(name, title, _turns(order), {group: found for group, found in angles.items() if found})
    if fasteners.loosening:
        yield Course(LOOSENING, "Loosening order", _turns(fasteners.loosening))


def _turns(order: Sequence[str]) -> dict[str, int]:
    return {place: turn for turn, place in enumerate(order, start=1)}


def _stages_said(numbers: list[int]) -> str:
    if not numbers:
        return ""
    if len(numbers) == 1:
        return f", stage {numbers[0]}"
    unbroken = numbers == list(range(numbers[0], numbers[-1] + 1)) and len(numbers) > 2
    return f", stages {numbers[0]} to {numbers[-1]}" if unbroken else f", stages {', '.join(map(str, numbers[:-1]))} and {numbers[-1]}"


def _angles(stages: Sequence[Stage], group: str) -> Iterator[float]:
    """Angles by which a group is turned further, stage by stage; none where the record leaves the figure open."""
    for stage in stages:
        if stage.do == "angle" and (not stage.groups or group in stage.groups):
            yield from _settled([fact for fact in stage.figures if not fact.superseded_by])


def _settled(figures: Sequence[Fact]) -> Iterator[float]:
    if len(figures) == 1 and figures[0].printed and not figures[0].doubt and figures[0].status != "contested":
        statement = figures[0].printed[0]
        if statement.form in ("exact", "tolerance"):
            yield float(statement.numbers[0].value)


def head_words(head: Head) -> str:
    """A head's name for people: head left, head 3."""
    name = head.name.replace("-", " ").replace("_", " ")
    return name if name.startswith("head") else f"head {name}"


def where_words(spots: Sequence[Spot]) -> dict[str, str]:
    """Where each place stands among the others: "bottom row, 3 of 5 from the left"."""
    rows = _rows(spots)
    found = {}
    for number, row in enumerate(rows, start=1):
        for position, spot in enumerate(row, start=1):
            across = f"{position} of {len(row)} from the left" if len(row) > 1 else ""
            found[spot.name] = ", ".join(each for each in (_row_words(number, len(rows)), across) if each)
    return found


def _rows(spots: Sequence[Spot]) -> list[list[Spot]]:
    """Rows from the top, each from the left."""
    falling = sorted(spots, key=lambda spot: -spot.y)
    apart = (falling[0].y - falling[-1].y) * ONE_ROW
    rows = [[falling[0]]]
    for spot in falling[1:]:
        if rows[-1][0].y - spot.y > apart:
            rows.append([])
        rows[-1].append(spot)
    return [sorted(row, key=lambda spot: (spot.x, -spot.y)) for row in rows]


def _row_words(number: int, rows: int) -> str:
    if rows == 1:
        return ""
    return {1: "top row", rows: "bottom row"}.get(number, f"row {number} from the top")
