"""The bolt-order diagram: SVG drawn from places and orders, black and white, groups told apart by shape.

Everything that a drawing needs to be seen right stands in it: no style sheet, no script. Beside each
stands the same in words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

from markupsafe import Markup

from generator.pages.drawing import DOWEL, NUMBER, RADIUS, SMALL, Drawing, lay_out
from generator.pages.page import environment
from generator.pages.views import LOOSENING, Course, View, courses, head_words, views, where_words
from generator.record.engine import Engine
from generator.record.fasteners import FastenerSet


@dataclass(frozen=True, slots=True)
class Medium:
    """Where a drawing is looked at.

    unit: px or mm. room: width there is for it. numbers: heights of the numbers, the one
    wished for first; a smaller one is taken only where the drawing would not fit.
    legend: whether it explains its marks.
    """

    unit: str
    room: float
    numbers: tuple[float, ...]
    legend: bool = True


PHONE = Medium("px", 320.0, (24.0,))  # what a phone of 360 px leaves; a wider drawing is moved sideways


def paper(room: float = 186.0) -> Medium:
    """Paper with this width for a drawing, in mm. At 7 mm the digits themselves are 5 mm high, 4.8 in a low font."""
    return Medium("mm", room, (7.3, 7.0, 6.0, 5.0))


@dataclass(frozen=True, slots=True)
class Turn:
    """One line of the words beside a drawing. where: among the other places. group: its label, empty where there is one group."""

    number: int
    name: str
    where: str
    group: str


@dataclass(frozen=True, slots=True)
class Diagram:
    """One drawing, ready to stand in a page.

    heads: names of the heads drawn, empty for none. course: name of the order, or
    LOOSENING. width, height: in the medium's unit. seen: from where. text: all of it in words.
    """

    key: str
    title: str
    heads: tuple[str, ...]
    course: str
    svg: Markup
    width: float
    height: float
    seen: str
    turns: tuple[Turn, ...]

    @property
    def sideways(self) -> bool:
        """Whether a phone has to move it sideways."""
        return self.width > PHONE.room

    @property
    def text(self) -> str:
        """The whole drawing in words, in one paragraph."""
        lines = (", ".join(each for each in (f"{turn.number}: {turn.name}", turn.where, turn.group) if each) for turn in self.turns)
        return f"{self.title}. {self.seen}. {'; '.join(lines)}."


def diagrams(engine: Engine, fasteners: FastenerSet, medium: Medium = PHONE) -> list[Diagram]:
    """Every drawing of a set: each order and the loosening order, head by head where the places hold for each head.

    None where the record has no places or no order: nothing is guessed.
    """
    return [
        _diagram(engine, fasteners, view, course, medium)
        for course in courses(fasteners)
        for view in views(engine, fasteners)
        if any(spot.name in course.turns for spot in view.spots)
    ]


def _diagram(engine: Engine, fasteners: FastenerSet, view: View, course: Course, medium: Medium) -> Diagram:
    several = len(engine.heads) > len(view.heads) > 0
    title = course.title + (f", {' and '.join(head_words(head) for head in view.heads)}" if several else "")
    key = "-".join([fasteners.key, course.key, *(head.name for head in view.heads if several)]).replace("_", "-")
    drawing, unit = _fitted(fasteners, view, course, medium)
    width, height = round(drawing.width * unit, 2), round(drawing.height * unit, 2)
    svg = environment().get_template("diagram.svg").render(
        key=key, title=title, drawing=drawing, width=width, height=height, unit=medium.unit, number=NUMBER, radius=RADIUS, small=SMALL, dowel=DOWEL,
    )
    heads = tuple(head.name for head in view.heads)
    return Diagram(key, title, heads, course.key, Markup(svg), width, height, _seen(view), tuple(_turns(fasteners, view, course)))


def _fitted(fasteners: FastenerSet, view: View, course: Course, medium: Medium) -> tuple[Drawing, float]:
    """The drawing with the largest numbers that fit the room, else with the smallest; and the size of its unit."""
    for number in medium.numbers:
        unit = number / NUMBER
        drawing = lay_out(fasteners, view, course, floor(medium.room / unit), explained=medium.legend)
        if drawing.width * unit <= medium.room:
            break
    return drawing, unit


def _seen(view: View) -> str:
    words = ["Seen square on from the wrench's side"]
    for head in view.heads[:1]:
        words += [f"front at the {head.front}"] if head.front else []
        words += [f"exhaust side at the {head.exhaust}"] if head.exhaust else []
    return ", ".join(words)


def _turns(fasteners: FastenerSet, view: View, course: Course) -> Sequence[Turn]:
    where = where_words(view.spots)
    taken = sorted((spot for spot in view.spots if spot.name in course.turns), key=lambda spot: course.turns[spot.name])
    labels = {name: str(group.get("label", name.replace("_", " "))) for name, group in fasteners.groups.items()}
    several = len({spot.group for spot in view.spots}) > 1
    return [Turn(course.turns[spot.name], spot.name, where[spot.name], labels.get(spot.group, "") if several else "") for spot in taken]


__all__ = ["LOOSENING", "PHONE", "Diagram", "Medium", "Turn", "diagrams", "paper"]
