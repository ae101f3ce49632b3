"""An engine as plain text for a terminal of eighty columns: what the bench asks for first, then the rest, nothing twice.

Printed first, then the conversion, told apart; source and place with each; doubts and
gaps in words. Says the same as the page, from the same views.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from textwrap import wrap

from generator.audit import Findings
from generator.pages.diagram import Diagram, diagrams
from generator.pages.engine import ORDER_GAP, TIGHTENING, TOPICS, StageView, Topic, gaps, set_name, stage_views, topic_gaps
from generator.pages.figures import FactView, anchor, fact_view, sections, warning
from generator.pages.page import closing_notice
from generator.pages.standing import standing
from generator.pages.warnings import WarningView, warnings_of
from generator.pages.wording import sentence, statement_words
from generator.quantities import Statement
from generator.record.engine import Engine
from generator.record.facts import Fact
from generator.record.fasteners import FastenerSet
from generator.record.library import Library

WIDTH = 80
INVENTED = "Invented for demonstration. Not for work on any engine."
MADE_UP = "Every figure here is made up, in the shape of a real record."


def engine_text(engine: Engine, library: Library, changed: date | None = None, found: Findings | None = None) -> str:
    """The whole text; only for a record without errors. changed: when it was last committed. found: what the check found, for its warnings."""
    lines = [*_top(engine, changed), *_warned("The check warns", warnings_of(engine, found).left), *_doubtful(engine, library)]
    shown: set[str] = set()
    for topic in TOPICS:
        facts = _facts_of(engine, topic)
        shown |= {anchor(fact.at) for fact in facts}
        lines += [*_heading(topic.heading), *_topic(engine, topic, facts, library)]
    lines += [*_others(engine, library), *_rest(engine, library, shown), *_end(engine, library, found)]
    return "\n".join(lines) + "\n"


def _top(engine: Engine, changed: date | None) -> Iterator[str]:
    yield from _wrapped(engine.name, 0)
    said = standing(engine)
    yield from [INVENTED, MADE_UP] if engine.invented else _wrapped(f"{said.short} {said.more}", 0)
    yield from _wrapped(f"{engine.id}, revision {engine.revision}" + (f" of {changed}" if changed else "") + ".", 0)


def _warned(heading: str, views: Iterable[WarningView]) -> Iterator[str]:
    found = list(views)
    if found:
        yield from _heading(heading)
    for view in found:
        yield from _wrapped(f"{view.label}: {view.message}." + (f" Why it stands: {view.reason}" if view.reason else ""), 2)


def _doubtful(engine: Engine, library: Library) -> Iterator[str]:
    doubted = [fact_view(fact, library, 0) for fact in engine.facts if warning(fact)]
    head = engine.sets.get("head")
    rounds = any(stage.rounds and stage.warning for stage in stage_views(head, library)) if head else False
    if doubted or rounds:
        yield from _heading("Doubtful figures")
    for view in doubted:
        yield from _wrapped(f"{view.label}: {_printed(view)}", 2)
    if rounds:
        yield from _wrapped("Stages of the head", 2)


def _facts_of(engine: Engine, topic: Topic) -> list[Fact]:
    places = topic.shows if topic != TIGHTENING else ("fasteners.head.torque", "fasteners.head.tightening.total_angle")
    return [fact for place in places for fact in engine.below(place)]


def _topic(engine: Engine, topic: Topic, facts: list[Fact], library: Library) -> Iterator[str]:
    head = engine.sets.get("head")
    if topic == TIGHTENING and head:
        yield from _stages(stage_views(head, library))
    for fact in facts:
        yield from _row(fact_view(fact, library))
    if topic == TIGHTENING:
        yield from _orders(engine, head) if head else []
    for what in _lacking(engine, topic, head):
        yield from _wrapped(f"Not in this record: {what}. Look it up in the manual for this engine.", 2)


def _lacking(engine: Engine, topic: Topic, head: FastenerSet | None) -> list[str]:
    """Gaps of a topic; an order that stands in a figure of the manual is told where the orders are."""
    pointed = head is not None and head.order_in_figure
    order = [gap for gap in gaps(engine) if gap == ORDER_GAP and topic == TIGHTENING and not pointed]
    return topic_gaps(engine, topic) + order


def _stages(views: list[StageView]) -> Iterator[str]:
    for number, view in enumerate(views, start=1):
        figures = " or ".join(f"{_printed(each)}{_converted(each)}" for each in view.figures)
        first, by, last = map(_quantity, view.rounds) if view.rounds else ("", "", "")
        rounds = f"up to {last}: {first} first, then {by} more each round" if view.rounds else ""
        what = f"{view.to}: {view.do}" if view.to else view.do
        said = " ".join(each for each in (what, figures, rounds) if each)
        yield from _wrapped(f"{number}. {sentence(said)}" + (f", {view.more}" if view.more else ""), 2, 5)
        yield from _about(view.figures[0] if view.figures else None, view.warning, _source_of(view))


def _source_of(view: StageView) -> str:
    return ", ".join(each for each in (view.cite.number, view.cite.place) if each) if view.cite else ""


def _orders(engine: Engine, each: FastenerSet) -> Iterator[str]:
    for drawn in diagrams(engine, each):
        yield from _order(drawn)
    for said, found in (("The order", each.order_in_figure), ("The loosening order", each.loosening_in_figure)):
        if found:
            yield from _wrapped(f"{said} is in a figure of the manual: {found}. Look it up; a guess would ruin the gasket.", 2)


def _order(drawn: Diagram) -> Iterator[str]:
    yield from _wrapped(f"{drawn.title}. {drawn.seen}.", 2)
    for turn in drawn.turns:
        yield from _wrapped(", ".join(each for each in (f"{turn.number:>2} {turn.name}", turn.where, turn.group) if each), 4, 8)


def _others(engine: Engine, library: Library) -> Iterator[str]:
    others = [(key, each) for key, each in engine.sets.items() if key != "head" and each.stages]
    if others:
        yield from _heading("Other orders")
    for key, each in others:
        yield from _wrapped(set_name(key, engine, library), 0)
        yield from _stages(stage_views(each, library))
        yield from _orders(engine, each)


def _rest(engine: Engine, library: Library, shown: set[str]) -> Iterator[str]:
    staged = {anchor(fact.at) for each in engine.sets.values() for stage in each.stages for fact in stage.figures}
    for _, heading, rows in sections(engine, library):
        left = [row for row in rows if row.anchor not in shown | staged]
        if left:
            yield from _heading(heading)
        for row in left:
            yield from _row(row)


def _end(engine: Engine, library: Library, found: Findings | None) -> Iterator[str]:
    yield from _warned("Warnings that were looked into", warnings_of(engine, found).excepted)
    lacking = gaps(engine)
    yield from _heading("Not in this record" if lacking else "Nothing is missing")
    for what in lacking or ["Everything that the bench asks for first is here."]:
        yield from _wrapped(what, 2)
    yield from _heading("Sources")
    for source in (library.sources[each] for each in engine.sources if each in library.sources):
        yield from _wrapped(f"{source.number}: {source.about}. Read: {source.read}.", 2)
    yield ""
    yield from _wrapped(" ".join(closing_notice().striptags().split()), 0)
    if engine.invented:
        yield INVENTED


def _heading(words: str) -> list[str]:
    return ["", words, "-" * len(words)]


def _row(view: FactView) -> Iterator[str]:
    yield from _wrapped(f"{view.label}: {_printed(view)}{_converted(view)}", 2)
    yield from _about(view, view.warning, ", ".join(each for each in (view.cite.number, view.cite.place) if each) if view.cite else "")


def _about(view: FactView | None, doubt: str, source: str) -> Iterator[str]:
    """What stands below a figure: its condition and state, its doubt, its source."""
    if view:
        called = f"called {view.called}" if view.called and view.called.lower() != view.label.lower() else ""
        said = [view.when, called, view.state, f"replaced by {view.superseded_by}" if view.superseded_by else ""]
        yield from _wrapped("; ".join(each for each in said if each), 6)
    yield from _wrapped(f"Doubt. {doubt}" if doubt else "", 6)
    yield from _wrapped(source, 6)


def _printed(view: FactView) -> str:
    return " / ".join(map(_quantity, view.printed)) or view.text


def _converted(view: FactView) -> str:
    """The units that the source does not print; = and the word tell them from what it prints."""
    return "".join(f" (=\u00a0{_quantity(each)}\u00a0converted)" for each in view.conversions)


def _quantity(statement: Statement) -> str:
    """A statement whose number and unit no line parts."""
    return statement_words(statement).replace(" ", "\u00a0")


def _wrapped(text: str, indent: int, further: int | None = None) -> list[str]:
    """Lines of at most WIDTH columns; a line that goes on is indented by four more, or by `further`."""
    behind = " " * (indent + 4 if further is None else further)
    if indent == 0 and further is None:
        behind = ""
    lines = wrap(text, WIDTH, initial_indent=" " * indent, subsequent_indent=behind, break_on_hyphens=False)
    return [line.replace("\u00a0", " ") for line in lines]
