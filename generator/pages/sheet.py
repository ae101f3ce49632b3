"""The sheet: what hangs above the bench. One page of figures, then one page a head, for A4 and Letter alike.

A page of its own without the site's frame and without a script. The first page must hold on one side
whatever the record says: its lines are counted here, in columns that fit the smaller of both papers,
and how many figures did not fit is printed.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from math import ceil

import segno
from markupsafe import Markup

from generator.audit.pulls import pulls
from generator.calculations.flatness import lines_of, lines_of_round
from generator.calculations.tightening import ALL, Pull
from generator.calculations.wording import say_quantity, say_range
from generator.pages.diagram import LOOSENING, Diagram, diagrams, paper
from generator.pages.engine import StageView, gaps, stage_views
from generator.pages.figures import FactView, fact_view
from generator.pages.page import TEMPLATES, environment, runs
from generator.pages.policy import policy
from generator.pages.standing import standing
from generator.pages.views import head_words
from generator.pages.wording import joined, sentence, statement_words, unit_words
from generator.quantities import Quantity
from generator.record.engine import Engine, Head
from generator.record.facts import Cite, Fact
from generator.record.fasteners import FastenerSet
from generator.record.library import Library
from generator.record.procedure import NO, SIGNALS, Caution, HoldPoint, applies

COLUMN = 43  # characters of 8 pt in one of three columns of the first page
LINES = 198  # lines of 8 pt in its three columns, less the ends of columns
HEADING = 2  # lines that a heading takes
TORQUES = 24  # lines of other torques beside the readings of a head
WIDE = 58  # characters of 8 pt in the wide column of a head's page
ROOM, PAGE = 92.0, 186.0  # mm for a drawing in a column of a head's page, and across it
UNKNOWN_BOLTS, UNKNOWN_CYLINDERS = 12, 6  # rows to write in where the record does not say how many

# The order in which the first page fills: what the bench cannot do without first.
_SECTIONS = (
    "identity.application", "identity.layout", "identity.cylinders", "identity.bore", "identity.stroke", "identity.firing_order",
    "identity.numbering", "faces", "fasteners.head", "gasket", "tests", "cracks", "decisions", "cautions", "timing", "valves",
    "identity", "bores", "other",
)
_TITLES = {"identity": "Engine", "fasteners": "Head bolts", "cautions": "The source warns", "decisions": "The source decides", "bores": "Cylinders"}


@dataclass(frozen=True, slots=True)
class Row:
    """One figure of the first page. cost: how many printed lines it takes."""

    label: str
    view: FactView
    cite: str
    cost: int


@dataclass(frozen=True, slots=True)
class Block:
    """Rows under a heading, in runs of one source and place."""

    heading: str
    runs: list[tuple[str, list[Row]]]


@dataclass(frozen=True, slots=True)
class HeadPage:
    """One head: its lines to measure, cylinders, drawings, bolts in order with a box for each stage.

    wide: drawings that take the whole width. turns: each bolt's number on its drawing. shared: the other heads a bolt holds.
    """

    title: str
    lines: list[str]
    cylinders: list[str]
    drawings: list[Diagram]
    wide: list[Diagram]
    bolts: list[str]
    turns: dict[str, str]
    shared: dict[str, str]


@dataclass(frozen=True, slots=True)
class Column:
    """A column of the table of pulls.

    round: of a stage of rounds, else 0. torques: where there are no stages. goal: of the round. places: with a box.
    """

    number: int
    round: int
    stage: StageView | None
    torques: list[FactView]
    goal: str
    places: set[str]

    def holds(self, place: str) -> bool:
        """Whether a bolt has a pull here; every bolt has where the order is not known."""
        return place in self.places or ALL in self.places


@dataclass(frozen=True, slots=True)
class Torque:
    """Another torque of the engine. label: what it tightens."""

    label: str
    view: FactView
    cite: str


def sheet_path(engine: Engine) -> str:
    """The sheet's file, from the site's folder."""
    return f"sheets/{engine.id}.html"


def sheet(engine: Engine, library: Library) -> str:
    """The whole file: 1 + heads pages."""
    letters = source_letters(engine)
    missing, cautions, holds = gaps(engine), _cautions(engine, library), _holds(engine, library)
    fixed = sum(_lines(each) + 1 for each in missing) + sum(_lines(_first(each.text), 12) for each in cautions) + 3 * len(holds) + 3 * HEADING
    blocks, left = _fill(engine, library, letters, LINES - fixed)
    heads = head_pages(engine)
    return environment().get_template("sheet.html").render(
        engine=engine, sources=[(letters[each], library.sources[each]) for each in engine.sources if each in library.sources],
        blocks=blocks, left=left, gaps=missing, cautions=[(each.signal, _first(each.text)) for each in cautions], holds=holds,
        heads=heads, columns=_columns(engine, library), standing=standing(engine), torques=_torques(engine, library, letters), qr=qr(engine),
        pages=1 + len(heads), style=paper_style(), policy=policy(styles=[paper_style()]),
    )


@cache
def paper_style() -> Markup:
    """The style of everything that is printed on pages of its own."""
    return Markup((TEMPLATES / "sheet.css").read_text(encoding="utf-8"))


def source_letters(engine: Engine) -> dict[str, str]:
    """A letter for each source of the record, in its order."""
    return {source: chr(ord("A") + index) for index, source in enumerate(engine.sources)}


def qr(engine: Engine) -> Markup:
    """Id and revision as a QR code, to tie a printed page to its record."""
    return _code(f"{engine.id} {engine.revision}")


@lru_cache(maxsize=4)  # the sheet and the request of one engine carry the same
def _code(text: str) -> Markup:
    code = segno.make(text, error="m", micro=False)
    return Markup(code.svg_inline(omitsize=True, svgclass="qr", lineclass=None, border=2))


def _first(text: str) -> str:
    """The first sentence: the hazard itself; the rest stands in the procedure."""
    return text.partition(". ")[0].rstrip(".") + "."


def _lines(text: str, extra: int = 0, width: int = COLUMN) -> int:
    return ceil((len(text) + extra) / width)


def _steps(engine: Engine, library: Library) -> Iterator[tuple[tuple[str, ...], HoldPoint | None]]:
    for phase in library.phases:
        for step in phase.steps:
            if applies(step.when, engine) != NO:
                yield step.cautions, step.hold


def _cautions(engine: Engine, library: Library) -> list[Caution]:
    """Every caution that stands before a step of this engine, the gravest first."""
    names = dict.fromkeys(name for cautions, _ in _steps(engine, library) for name in cautions)
    found = [library.cautions[name] for name in names if applies(library.cautions[name].when, engine) != NO]
    return sorted(found, key=lambda each: SIGNALS.index(each.signal))


def _holds(engine: Engine, library: Library) -> list[HoldPoint]:
    return [hold for _, hold in _steps(engine, library) if hold]


def _fill(engine: Engine, library: Library, letters: dict[str, str], room: int) -> tuple[list[Block], int]:
    """Blocks of figures as far as there is room, and how many figures were left out."""
    chosen: dict[str, list[Row]] = {}
    taken: set[tuple[str | int, ...]] = set()
    left = 0
    for place in _SECTIONS:
        for fact in engine.below(place):
            if fact.at in taken or _on_a_head_page(fact):
                continue
            taken.add(fact.at)
            row, before = _row(fact, library, letters), chosen.get(str(fact.at[0]))
            cost = row.cost + (HEADING if before is None else 0) + (before is None or before[-1].cite != row.cite)
            if cost > room:
                left += 1
                continue
            room -= cost
            chosen.setdefault(str(fact.at[0]), []).append(row)
    return [Block(_title(key, library), runs(rows)) for key, rows in chosen.items()], left


def _on_a_head_page(fact: Fact) -> bool:
    return fact.at[:2] == ("fasteners", "head") and fact.at[2] in ("tightening", "torque")


def _title(key: str, library: Library) -> str:
    return _TITLES.get(key) or library.schemas.shape("engine").children[key].title


def _row(fact: Fact, library: Library, letters: dict[str, str]) -> Row:
    view, cite = fact_view(fact, library), short_cite(fact.cite, letters)
    skip = 2 if fact.at[0] == "fasteners" else 1
    label = joined(fact.labels[skip:]) or sentence(fact.labels[-1])
    text = f"{label} {value_text(view)} {view.warning}"
    return Row(label, view, cite, _lines(text))


def value_text(view: FactView) -> str:
    """A value as the sheet prints it, without its marks."""
    printed = " / ".join(statement_words(each) for each in view.printed) or view.text
    converted = "".join(f" (= {statement_words(each)})" for each in view.conversions)
    return f"{printed}{converted} {view.when}".strip()


def short_cite(cite: Cite | None, letters: dict[str, str]) -> str:
    """A cite with the letter of its source: [A] para 4-1-1."""
    return f"[{letters.get(cite.source, '?')}] {cite.place}" if cite else ""


def _columns(engine: Engine, library: Library) -> list[Column]:
    """A column for each stage, and for each round of a stage that goes by rounds."""
    head = engine.sets.get("head")
    if head is None:
        return []
    views, by_column = stage_views(head, library), defaultdict(list)
    for pull in pulls(engine, head):
        by_column[pull.stage, pull.round].append(pull)
    torques = [fact_view(fact, library) for fact in engine.below("fasteners.head.torque")]
    return [_column(stage, found, views[stage] if views else None, torques) for (stage, _), found in by_column.items()]


def _column(stage: int, found: list[Pull], view: StageView | None, torques: list[FactView]) -> Column:
    first = found[0]
    rounds = view is not None and bool(view.rounds)
    goal = _goal(first.low, first.high) if rounds and first.low and first.high else ""
    places = {pull.place for pull in found if pull.action != "wait"}
    return Column(stage + 1, first.round if rounds else 0, view, [] if view else torques, goal, places)


def _goal(low: Quantity, high: Quantity) -> str:
    said = say_quantity(low) if low == high else say_range(low, high)
    return said.replace(low.unit, unit_words(low.unit))


def _torques(engine: Engine, library: Library, letters: dict[str, str]) -> tuple[list[Torque], int]:
    """Torques of the other sets as far as there is room, and how many were left out."""
    facts = [
        fact for fact in engine.below("fasteners")
        if fact.kind == "figure" and fact.at[1] != "head" and {"torque", "tightening", "prevailing_torque"} & set(fact.at)
    ]
    found, room = [], TORQUES
    for fact in facts:
        each = Torque(joined(fact.labels[1:]).removesuffix(", Torque"), fact_view(fact, library), short_cite(fact.cite, letters))
        room -= _lines(f"{each.label} {value_text(each.view)} {each.cite} {each.view.warning}", 0, WIDE)
        if room >= 0:
            found.append(each)
    return found, len(facts) - len(found)


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
                 *_sided(drawings), _bolts(fasteners, None), _turns(fasteners), {})
        for n, title in enumerate(titles)
    ]


def _drawings(engine: Engine, fasteners: FastenerSet) -> list[Diagram]:
    """Drawings of the tightening orders for the column, or for the whole page where the column is too narrow."""
    narrow, whole = (diagrams(engine, fasteners, paper(room)) for room in (ROOM, PAGE))
    fitted = [a if a.width <= ROOM else b for a, b in zip(narrow, whole, strict=True)]
    return [each for each in fitted if each.course != LOOSENING]


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
    return HeadPage(title, lines, bores or [""] * UNKNOWN_CYLINDERS, *own, _bolts(fasteners, head), _turns(fasteners), shared)


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
