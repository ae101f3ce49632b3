"""Rows and remainders: what a cut leaves of the head, compression by altitude."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from generator.audit.spans import pattern, spans, spans_at
from generator.audit.suspicion import FigureRule, Suspicion
from generator.quantities import Quantity
from generator.record.engine import Engine
from generator.record.library import Library


def _removal(engine: Engine, library: Library) -> Iterator[Suspicion]:
    keys = ("faces.head.height.new", "faces.head.height.minimum", "faces.head.stock_removal.total")
    new, least, total = (spans_at(engine, key) for key in keys)
    if not len(new) == len(least) == len(total) == 1:
        return
    room = new[0].middle - least[0].middle
    slack = (new[0].high - new[0].low) / 2 + new[0].digit + least[0].digit + total[0].digit
    facts = (total[0].fact, new[0].fact, least[0].fact)
    between = f"{new[0].text} and {least[0].text} leave {_millimetres(room)} to come off"
    if total[0].high > room + slack:
        yield Suspicion(total[0].fact.at, f"{total[0].text} is too much: {between}", facts)
    elif total[0].high * 5 < room - slack:
        yield Suspicion(total[0].fact.at, f"{total[0].text} is far less than the heights allow: {between}", facts, "warning")


def _millimetres(metres: float) -> str:
    return f"{Quantity(metres, 'm').to('mm'):.4g} mm"


def _altitude(engine: Engine, library: Library) -> Iterator[Suspicion]:
    rows = sorted({fact.key[:4] for fact in engine.facts if pattern(fact.key[:4]) == "tests.compression.by_altitude.*"})
    found = [[next(iter(spans(engine, (*row, key))), None) for key in ("altitude", "minimum")] for row in rows]
    given = sorted(((at.middle, at, least) for at, least in found if at and least), key=lambda row: row[0])
    for (_, low_at, low), (_, high_at, high) in pairwise(given):
        if high.middle >= low.middle:
            message = f"{high.text} at {high_at.statement} is not below {low.text} at {low_at.statement}: compression falls with altitude"
            yield Suspicion(high.fact.at, message, (high.fact, low.fact, high_at.fact, low_at.fact))


FIGURE_RULES = [
    FigureRule(
        "removal-fits-height", "A stock removal that the head heights do not leave.", "131.0 mm new, minimum 130.6 mm, removal max 3 mm", _removal,
        ("error", "warning"),
    ),
    FigureRule("altitude-falls", "A minimum compression that rises with altitude.", "480 psi at 500 ft, 515 psi at 2500 ft", _altitude),
]
