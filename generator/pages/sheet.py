"""The sheet: what hangs above the bench. One page of figures, then one page a head, for A4 and Letter alike.

A page of its own without the site's frame and without a script. The first page must hold on one side
whatever the record says: its lines are counted here, in columns that fit the smaller of both papers,
and how many figures did not fit is printed.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from math import ceil

import segno
from markupsafe import Markup

from generator.audit.pulls import loosened, pulls
from generator.calculations.tightening import ALL, Pull
from generator.calculations.wording import say_quantity, say_range
from generator.pages.engine import StageView, gaps, stage_views
from generator.pages.figures import FactView, fact_view
from generator.pages.head_page import HEADING_HIGH, LINE_HIGH, ROOM, HeadPage, head_pages, with_loosening
from generator.pages.page import TEMPLATES, filled, runs
from generator.pages.policy import policy
from generator.pages.standing import standing
from generator.pages.wording import joined, sentence, statement_words, unit_words
from generator.quantities import Quantity
from generator.record.engine import Engine
from generator.record.facts import Cite, Fact
from generator.record.fasteners import FastenerSet
from generator.record.library import Library
from generator.record.procedure import NO, SIGNALS, Caution, HoldPoint, applies

COLUMN = 43  # characters of 8 pt in one of three columns of the first page
LINES = 198  # lines of 8 pt in its three columns, less the ends of columns
HEADING = 2  # lines that a heading takes
WIDE = 66  # characters of 8 pt in the wide column of a head's page

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
class Column:
    """A column of the table of pulls.

    round: of a stage of rounds, else 0. words: what is done, as short as can be. places: with a box.
    """

    number: int
    round: int
    words: str
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

    @property
    def text(self) -> str:
        """All that is printed of it."""
        return f"{self.label} {value_text(self.view)} {self.cite} {self.view.warning}"

    @property
    def lines(self) -> int:
        """How many printed lines it takes in a column of a head's page."""
        return _lines(self.text, 0, WIDE)


@dataclass(frozen=True, slots=True)
class Torques:
    """Other torques of the last page. left: how many had no room. below: across the page, not in its right column. high: mm."""

    found: list[Torque]
    left: int
    below: bool
    high: float


def sheet_path(engine: Engine) -> str:
    """The sheet's file, from the site's folder."""
    return f"sheets/{engine.id}.html"


def sheet(engine: Engine, library: Library) -> str:
    """The whole file: 1 + heads pages."""
    letters = source_letters(engine)
    missing, cautions, holds = gaps(engine), _cautions(engine, library), _holds(engine, library)
    fixed = sum(_lines(each) + 1 for each in missing) + sum(_lines(_first(each.text), 12) for each in cautions) + 3 * len(holds) + 3 * HEADING
    blocks, left = _fill(engine, library, letters, LINES - fixed)
    stages, (*pages, last) = _stages(engine, library, letters), head_pages(engine)
    torques = _torques(engine, library, letters, last, len(stages))
    heads = [with_loosening(page, engine, len(stages), 0) for page in pages] + [with_loosening(last, engine, len(stages), torques.high)]
    return filled(
        "sheet.html",
        engine=engine, sources=[(letters[each], library.sources[each]) for each in engine.sources if each in library.sources],
        blocks=blocks, left=left, gaps=missing, cautions=[(each.signal, _first(each.text)) for each in cautions], holds=holds,
        heads=heads, columns=_columns(engine, library), stages=stages, lone=_lone_torques(engine, library, letters),
        loosening=_loosening(engine, letters), standing=standing(engine), torques=torques, qr=qr(engine),
        pages=1 + len(heads), room=ROOM, style=paper_style(), policy=policy(styles=[paper_style()]),
    )


@cache
def paper_style() -> Markup:
    """The style of everything that is printed on pages of its own."""
    return Markup((TEMPLATES / "sheet.css").read_text(encoding="utf-8"))


def source_letters(engine: Engine) -> dict[str, str]:
    """A letter for each source of the record, in its order."""
    return {source: chr(ord("A") + index) for index, source in enumerate(engine.sources)}


def qr(engine: Engine) -> Markup:
    """Id and revision as a QR code, to tie a printed page to its record. The same stands beside it in words."""
    return _code(f"{engine.id} {engine.revision}")


@lru_cache(maxsize=4)  # the sheet and the request of one engine carry the same
def _code(text: str) -> Markup:
    code = segno.make(text, error="m", micro=False)
    drawn = code.svg_inline(omitsize=True, svgclass="qr", lineclass=None, border=2)
    return Markup(drawn.replace("<svg ", '<svg aria-hidden="true" ', 1))


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
            alike = _alike(fact, engine)
            taken.update(each.at for each in alike)
            row, before = _row(alike, library, letters), chosen.get(str(fact.at[0]))
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


def _alike(fact: Fact, engine: Engine) -> list[Fact]:
    """The same figure of other places of a set, said in one row with it."""
    if fact.at[0] != "fasteners" or fact.at[2] != "places":
        return [fact]
    said = (fact.at[4:], fact.printed, fact.text, fact.when, fact.cite, fact.doubt, fact.status, fact.superseded_by)
    return [
        each for each in engine.below(".".join(map(str, fact.at[:3])))
        if (each.at[4:], each.printed, each.text, each.when, each.cite, each.doubt, each.status, each.superseded_by) == said
    ]


def _row(alike: list[Fact], library: Library, letters: dict[str, str]) -> Row:
    fact = alike[0]
    view, cite = fact_view(fact, library), short_cite(fact.cite, letters)
    skip = 2 if fact.at[0] == "fasteners" else 1
    label = joined(fact.labels[skip:]) or sentence(fact.labels[-1])
    if len(alike) > 1:
        label = f"{' '.join(str(each.at[3]) for each in alike)}: {label.partition(', ')[2]}"
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
    return [_column(stage, found, views[stage] if views else None) for (stage, _), found in by_column.items()]


def _column(stage: int, found: list[Pull], view: StageView | None) -> Column:
    first = found[0]
    rounds = view is not None and bool(view.rounds)
    words = _goal(first.low, first.high) if rounds and first.low and first.high and view and not view.warning else _brief(view)
    places = {pull.place for pull in found if pull.action != "wait"}
    return Column(stage + 1, first.round if rounds else 0, words, places)


def _brief(view: StageView | None) -> str:
    """What is done in a stage in a word or two; all of it stands in words above the table."""
    if view is None:
        return "torque"
    if view.warning:  # a value that nobody may trust does not stand without its doubt
        return "in doubt, see above"
    return " or ".join(statement_words(each.printed[0]) for each in view.figures if each.printed) or view.do.split()[0]


def _goal(low: Quantity, high: Quantity) -> str:
    said = say_quantity(low) if low == high else say_range(low, high)
    return said.replace(low.unit, unit_words(low.unit))


def _stages(engine: Engine, library: Library, letters: dict[str, str]) -> list[tuple[StageView, str]]:
    """The stages of the head in words, each with its source."""
    head = engine.sets.get("head")
    views = zip(stage_views(head, library), head.stages, strict=True) if head else ()
    return [(view, short_cite(stage.figures[0].cite if stage.figures else stage.cite, letters)) for view, stage in views]


def _lone_torques(engine: Engine, library: Library, letters: dict[str, str]) -> list[Torque]:
    """Torques of the head that stand in no stage."""
    return [Torque("Every one", fact_view(fact, library), short_cite(fact.cite, letters)) for fact in engine.below("fasteners.head.torque")]


def _torques(engine: Engine, library: Library, letters: dict[str, str], page: HeadPage, stages: int) -> Torques:
    """Torques of the other sets as far as the page has room: in its right column, else across it, where they take half the lines."""
    facts = [
        fact for fact in engine.below("fasteners")
        if fact.kind == "figure" and fact.at[1] != "head" and {"torque", "tightening", "prevailing_torque"} & set(fact.at)
    ]
    all_of_them = [
        Torque(joined(fact.labels[1:]).removesuffix(", Torque"), fact_view(fact, library), short_cite(fact.cite, letters)) for fact in facts
    ]
    aside = (page.room - page.right - HEADING_HIGH) / LINE_HIGH
    across = 2 * (page.room - max(page.right, page.left(stages)) - HEADING_HIGH) / LINE_HIGH
    below = across > aside and sum(each.lines for each in all_of_them) > aside
    room, found = int(across if below else aside), []
    for each in all_of_them:
        room -= each.lines
        if room >= 0:
            found.append(each)
    high = HEADING_HIGH + sum(each.lines for each in found) * LINE_HIGH / (2 if below else 1)
    return Torques(found, len(facts) - len(found), below, high if found else 0)


def _loosening(engine: Engine, letters: dict[str, str]) -> tuple[str, str]:
    """How the bolts come out, and where that stands."""
    head = engine.sets.get("head") or FastenerSet("head", ("fasteners", "head"))
    found = loosened(engine, head)
    block = engine.file.data.get("fasteners", {}).get("head", {})
    own = str(block.get("loosening", {}).get("cite", block.get("cite", ""))) if head.loosening else ""
    where = head.loosening_in_figure if not found.order else ""
    return " ".join(each for each in (f"In a figure of the manual: {where}." if where else "", found.text) if each), (
        short_cite(Cite.read(own), letters) if own else found.basis)
