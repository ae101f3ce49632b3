"""Parts that fit into each other: the clearance that is printed must be what their sizes leave; sizes of a gasket must follow their readings."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import inf, pi

from generator.audit.spans import Span, comparable, pattern, spans, spans_at
from generator.audit.suspicion import FigureRule, Suspicion
from generator.quantities import UNITS
from generator.record.engine import Engine
from generator.record.library import Library

_VALVES = ("intake", "exhaust", "both")
# Outer part, inner part, what is between them.
FITS = [
    ("bores.bore.new", "bores.piston", "bores.piston_clearance"),
    *((f"valves.guide.{each}.new", f"valves.stem.{each}.new", f"valves.stem_clearance.{each}.new") for each in _VALVES),
    # One guide for both valves.
    *(("valves.guide.both.new", f"valves.stem.{each}.new", f"valves.stem_clearance.{each}.new") for each in _VALVES[:2]),
    ("valves.seat_angle", "valves.face_angle", "valves.interference_angle"),
]


def _adds_up(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for keys in FITS:
        outer, inner, between = (spans_at(engine, key) for key in keys)
        if len(outer) == len(inner) == len(between) == 1 and (message := _mismatch(outer[0], inner[0], between[0])):
            yield Suspicion(between[0].fact.at, message, (between[0].fact, outer[0].fact, inner[0].fact))


def _mismatch(outer: Span, inner: Span, between: Span) -> str:
    """The middles must part by an amount that the printed clearance allows, digits included; empty if they do."""
    gap, digits = abs(outer.middle - inner.middle), outer.digit + inner.digit + between.digit
    if between.low - digits <= gap <= between.high + digits:
        return ""
    unit = between.statement.unit or UNITS["mm"]
    left = gap / float(unit.factor)
    return f"{between.text} is not what {outer.text} and {inner.text} leave in the middle: {left:.3g} {unit.symbol}"


def _sizes(engine: Engine, library: Library) -> Iterator[Suspicion]:
    """Gaskets chosen by a reading: no reading may have two sizes, and more protrusion needs a thicker one."""
    rows = sorted({fact.key[:4] for fact in engine.facts if pattern(fact.key[:4]) == "gasket.choice.sizes.*"})
    found = [(spans(engine, (*row, "reading")), spans(engine, (*row, "thickness"))) for row in rows]
    pairs = sorted((pair for readings, sizes in found for pair in comparable(readings, sizes)), key=lambda pair: (pair[0].middle, _least(pair[0])))
    by_protrusion = engine.says("gasket.choice.by") == "piston protrusion"
    for (reading, size), (higher, thicker) in pairwise(pairs):
        facts = (higher.fact, reading.fact, thicker.fact, size.fact)
        if _least(higher) < _most(reading) - reading.digit - higher.digit:
            yield Suspicion(higher.fact.at, f"{higher.text} overlaps {reading.text}: a reading would have two sizes", facts)
        if by_protrusion and thicker.middle <= size.middle:
            message = f"{thicker.text} is not thicker than {size.text}, which is for less protrusion"
            yield Suspicion(thicker.fact.at, message, facts)


def _least(reading: Span) -> float:
    """The smallest reading that a row is for; without end for "max" and "under"."""
    return -inf if reading.statement.form in ("max", "under") else reading.low


def _most(reading: Span) -> float:
    return inf if reading.statement.form in ("min", "over") else reading.high


def _chamber(engine: Engine, library: Library) -> Iterator[Suspicion]:
    """A chamber at the face lies inside the opening of its gasket, or burns it."""
    for area, opening in comparable(spans_at(engine, "faces.head.chamber.area"), spans_at(engine, "gasket.bore")):
        share = area.middle / (pi / 4 * opening.middle**2)
        if share > _BEYOND:
            message = f"{area.text} is {share:.3g} times the opening of the gasket, {opening.text}"
            yield Suspicion(area.fact.at, message, (area.fact, opening.fact), "warning")


_BEYOND = 1.1  # an opening that is not round is given by one of its diameters

FIGURE_RULES = [
    FigureRule("fit-adds-up", "A clearance that is not what the two parts leave.", "guide 6.010 mm, stem 5.986 mm, clearance 0.043 mm", _adds_up),
    FigureRule(
        "chamber-within-gasket", "A chamber wider at the face than the opening of its gasket.", "34.2 in2, typed for 34.2 cm2, under a bore of 68 mm",
        _chamber, ("warning",),
    ),
    FigureRule("gasket-sizes-follow", "Gasket sizes that overlap or do not rise with the protrusion.", "0.55 to 0.65 mm and 0.56 to 0.74 mm", _sizes),
]
