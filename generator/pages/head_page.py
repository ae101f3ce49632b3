"""The page of a head on the sheet: what stands on it, and what there is room for.

It must hold on one side of either paper, so heights are counted here, rather too high than too low.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from generator.audit.pulls import loosened
from generator.calculations.flatness import lines_of, lines_of_round
from generator.pages.diagram import LOOSENING, Diagram, Medium, diagrams, paper
from generator.pages.views import head_words
from generator.pages.wording import sentence
from generator.record.engine import Engine, Head
from generator.record.fasteners import FastenerSet

ROOM, PAGE = 92.0, 186.0  # mm for a drawing in a column of a head's page, and across it
HIGH = 223.0  # mm between header and footer
LINE_HIGH, ROW_HIGH, HEADING_HIGH = 3.4, 5.35, 6.5  # mm of a line of 8 pt, a row of a table, a heading of one line
UNKNOWN_BOLTS, UNKNOWN_CYLINDERS = 12, 6  # rows to write in where the record does not say how many


@dataclass(frozen=True, slots=True)
class HeadPage:
    """One head: its lines to measure, cylinders, drawings, bolts in order with a box for each stage.

    wide: drawings that take the whole width. turns: each bolt's number on its drawing. shared: the other heads a bolt holds.
    out: each bolt's number in the loosening order. loosening: its drawing, where the page has room for it. names: of the heads.
    """

    title: str
    lines: list[str]
    cylinders: list[str]
    drawings: list[Diagram]
    wide: list[Diagram]
    bolts: list[str]
    turns: dict[str, str]
    shared: dict[str, str]
    out: dict[str, int]
    names: tuple[str, ...] = ()
    loosening: Diagram | None = None

    @property
    def room(self) -> float:
        """Height for the two columns, in mm."""
        return HIGH - sum(each.height + HEADING_HIGH for each in self.wide)

    @property
    def right(self) -> float:
        """How high the right column is, in mm, at most; without other torques and the drawing of the loosening order."""
        tables = 3 * HEADING_HIGH + LINE_HIGH + (len(self.lines) + len(self.cylinders) + 1) * ROW_HIGH
        return tables + sum(each.height + 9 for each in self.drawings[1:]) + HEADING_HIGH + 3 * LINE_HIGH

    def left(self, stages: int) -> float:
        """How high the left column is, in mm, at most."""
        drawn = sum(each.height + 10 for each in self.drawings[:1])
        rows = sum(ROW_HIGH + (LINE_HIGH if bolt in self.shared or " " in self.turns.get(bolt, "") else 0) for bolt in self.bolts)
        return drawn + HEADING_HIGH + 2 * max(stages, 3) * LINE_HIGH + HEADING_HIGH + 4 * LINE_HIGH + rows


def head_pages(engine: Engine) -> list[HeadPage]:
    """One page for each head the record draws, or as many as it says there are."""
    fasteners = engine.sets.get("head") or FastenerSet("head", ("fasteners", "head"))
    drawings = _drawings(engine, fasteners)
    if engine.heads:
        return [_drawn(head, engine, fasteners, drawings) for head in engine.heads]
    titles = _undrawn(engine)
    cylinders = [str(n) for n in range(1, _cylinders(engine) + 1)]
    each = -(-len(cylinders) // len(titles))
    return [
        HeadPage(title, _line_names(cylinders[n * each:(n + 1) * each]), cylinders[n * each:(n + 1) * each] or [""] * UNKNOWN_CYLINDERS,
                 *_sided(drawings), _bolts(fasteners, None), _turns(fasteners), {}, _out(engine))
        for n, title in enumerate(titles)
    ]


def _drawings(engine: Engine, fasteners: FastenerSet) -> list[Diagram]:
    """Drawings of the tightening orders. Only the first explains its marks; they mean the same in all."""
    first, *more = fasteners.orders or [""]
    return [each for legend, courses in ((True, [first]), (False, more)) if courses
            for each in _fitted(engine, fasteners, legend) if each.course in courses]


def _fitted(engine: Engine, fasteners: FastenerSet, legend: bool) -> list[Diagram]:
    """Each drawing in the column, or across the page, with digits of 5 mm; with smaller ones only where it fits neither."""
    found: dict[str, Diagram] = {}
    for numbers in (paper().numbers[:2], paper().numbers):
        for room in (ROOM, PAGE):
            drawn = diagrams(engine, fasteners, Medium("mm", room, numbers, legend))
            for each in drawn:
                if each.width <= room or (room == PAGE and numbers == paper().numbers):
                    found.setdefault(each.key, each)
            if len(found) == len(drawn):
                return [found[each.key] for each in drawn]
    return list(found.values())


def _sided(drawings: Iterable[Diagram]) -> tuple[list[Diagram], list[Diagram]]:
    found: tuple[list[Diagram], list[Diagram]] = ([], [])
    for each in drawings:
        found[each.width > ROOM].append(each)
    return found


def _turns(fasteners: FastenerSet) -> dict[str, str]:
    """The number of each bolt on its drawing, with the name of its order from the second on."""
    found: dict[str, str] = {}
    for index, (name, order) in enumerate(fasteners.orders.items()):
        for turn, place in enumerate(order, start=1):
            found.setdefault(place, f"{name} {turn}" if index else str(turn))
    return found


def _out(engine: Engine) -> dict[str, int]:
    """The number of each bolt in the order in which they are loosened."""
    head = engine.sets.get("head")
    return {place: turn for turn, place in enumerate(loosened(engine, head).order, start=1)} if head else {}


def with_loosening(page: HeadPage, engine: Engine, stages: int, taken: float) -> HeadPage:
    """The page with the drawing of its loosening order: in the right column, else across the page, else without. taken: mm below it."""
    head = engine.sets.get("head")
    if head is None or not head.loosening:
        return page
    high = page.room - page.right - taken
    for room, free in ((ROOM, high), (PAGE, min(high, page.room - page.left(stages)) - HEADING_HIGH)):
        for each in diagrams(engine, head, Medium("mm", room, paper().numbers[:2], legend=False)):
            own = not each.heads or any(name in each.heads for name in page.names)
            if each.course == LOOSENING and own and each.width <= room and each.height <= free:
                return replace(page, loosening=each)
    return page


def _cylinders(engine: Engine) -> int:
    return int(engine.says("identity.cylinders") or 0)


def _undrawn(engine: Engine) -> list[str]:
    """Titles of heads that the record counts, but does not draw."""
    per = engine.says("identity.head_per")
    banks = [str(fact.at[2]) for fact in engine.below("identity.banks")]
    if per == "bank":  # no engine has more than two banks that a record could leave unnamed
        return [f"Head {bank}" for bank in banks] or ["Head, first bank", "Head, second bank"]
    if per in ("cylinder", "barrel") and _cylinders(engine):
        return [f"Head of cylinder {n}" for n in range(1, _cylinders(engine) + 1)]
    if per == "pair of cylinders" and _cylinders(engine):
        return [f"Head of cylinders {n} and {n + 1}" for n in range(1, _cylinders(engine), 2)]
    return ["The head"]


def _drawn(head: Head, engine: Engine, fasteners: FastenerSet, drawings: list[Diagram]) -> HeadPage:
    bores = [bore.name for bore in head.bores]
    shared = {
        spot.name: " and ".join(head_words(each) for each in engine.heads if each.name in spot.heads and each is not head)
        for spot in fasteners.spots.values() if head.name in spot.heads and len(spot.heads) > 1
    }
    title = "The head" if len(engine.heads) == 1 else sentence(head_words(head))
    own = _sided(each for each in drawings if not each.heads or head.name in each.heads)
    lines = [line.name for line in lines_of_round()] if head.round else _line_names(bores)
    cylinders = bores or [""] * UNKNOWN_CYLINDERS
    return HeadPage(title, lines, cylinders, *own, _bolts(fasteners, head), _turns(fasteners), shared, _out(engine), (head.name,))


def _line_names(bores: list[str]) -> list[str]:
    if bores:
        return [line.name for line in lines_of(bores)]
    return [*(line.name for line in lines_of(["__"]))] + ["across between bores __ and __"] * 3


def _bolts(fasteners: FastenerSet, head: Head | None) -> list[str]:
    """Places of this head in the order of the work; empty names to write in where the record has no order."""
    places = list(dict.fromkeys(name for order in fasteners.orders.values() for name in order))
    if head:
        places = [name for name in places if not fasteners.spots[name].heads or head.name in fasteners.spots[name].heads]
    count = sum(int(group.get("count", 0)) for group in fasteners.groups.values())
    return places or [""] * min(count or UNKNOWN_BOLTS, 26)
