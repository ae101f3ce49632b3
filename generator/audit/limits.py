"""Figures beside each other: which of two is the smaller, limits beyond what is new, bounds on their side."""

from __future__ import annotations

from collections.abc import Iterator

from generator.audit.spans import Span, comparable, filled, pattern, place, spans, spans_at
from generator.audit.suspicion import FigureRule, Suspicion
from generator.record.engine import Engine
from generator.record.library import Library

VALVES = ("intake", "exhaust", "both")
FACES = ("head", "deck", "exhaust_manifold", "intake_manifold", "barrel")
DIRECTIONS = ("lengthwise", "crosswise", "any")


def each_of(template: str, *parts: tuple[str, ...]) -> list[str]:
    """The template with every one of the parts in the place of {}."""
    found = [template]
    for choices in parts:
        found = [each.replace("{}", choice, 1) for each in found for choice in choices]
    return found


# Which of two figures is the smaller, whatever the engine.
ORDERED: list[tuple[str, str]] = [
    ("faces.head.height.minimum", "faces.head.height.new"),
    ("tests.compression.minimum", "tests.compression.normal"),
    ("tests.compression.spread", "tests.compression.minimum"),
    ("tests.compression.spread", "tests.compression.normal"),
    ("tests.crankcase.fall", "tests.crankcase.pressure"),
    ("valves.clearance.go", "valves.clearance.no_go"),
    ("valves.shims.step", "valves.shims.sizes"),
    ("identity.bore", "gasket.bore"),
    ("bores.piston", "bores.bore.new"),
    *((f"valves.stem.{each}.new", f"valves.guide.{each}.new") for each in VALVES),
    *((f"faces.{each}.stock_removal.per_cut", f"faces.{each}.stock_removal.total") for each in ("head", "deck")),
    *((f"faces.{face}.flatness.local.limit", f"faces.{face}.flatness.{way}") for face in FACES for way in DIRECTIONS),
    ("faces.liners.spread", "faces.liners.stand_out"),
    ("faces.liners.counterbore_spread", "faces.liners.counterbore_depth"),
    ("fasteners.*.groups.*.grip", "fasteners.*.groups.*.length"),
    ("fasteners.*.groups.*.length", "fasteners.*.groups.*.length_limit"),
    ("fasteners.*.groups.*.neck_limit", "fasteners.*.groups.*.shank"),
    ("fasteners.*.prevailing_torque", "fasteners.*.torque"),
]
_LARGER: dict[str, list[str]] = {}
for _small, _large in ORDERED:
    _LARGER.setdefault(_small, []).append(_large)

# Sizes that grow in use: the limit is a maximum, and lies at or above what is new. A stem wears thin.
_GROWS = {
    f"{block}.limit": f"{block}.new"
    for block in ["bores.bore", *each_of("valves.{}.{}", ("guide", "stem_clearance", "recession"), VALVES)]
}
_SHRINKS = {f"valves.stem.{each}.limit": f"valves.stem.{each}.new" for each in VALVES}

# Which way a bound can go.
MAXIMA = {
    *each_of("faces.{}.flatness.{}", FACES, DIRECTIONS), *each_of("faces.{}.flatness.local.limit", FACES),
    *each_of("faces.{}.stock_removal.{}", ("head", "deck"), ("per_cut", "total", "head_and_block")),
    *each_of("faces.{}.finish.{}", ("head", "deck", "barrel"), ("ra", "rz", "waviness")), "valves.seat_grinding_depth",
    "faces.liners.spread", "faces.liners.counterbore_spread", "faces.joint.offset",
    "tests.compression.spread", "tests.compression.below_mean", "tests.leak_down.maximum", "tests.crankcase.fall",
    "fasteners.*.groups.*.length_limit", "bores.bore_wear", "bores.taper", "bores.out_of_round",
    *(key for key in _GROWS if "recession" not in key),
}
MINIMA = {
    "faces.head.height.minimum", "tests.compression.minimum", "tests.compression.by_altitude.*.minimum", "tests.compression.fraction_of_highest",
    *each_of("valves.to_piston.{}", VALVES), "bores.piston_to_head", "fasteners.*.groups.*.neck_limit", *_SHRINKS,
}


# Above this many times its low end a range has a slip of the point in one of its ends.
_WIDEST = 6


def _wide(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for fact in engine.facts:
        for statement in fact.printed if not fact.descriptive and fact.key[0] != "other" else ():
            low, high = statement.low, statement.high
            proper = statement.form == "range" and statement.unit is not None and not statement.unit.offset
            if proper and low is not None and high is not None and low > 0 and high > _WIDEST * low:
                times = float(high / low)
                message = f"the high end of {place(fact.key)} ({statement}) is {times:.3g} times its low end; up to {_WIDEST} times is usual"
                hint = "look at the page again for the decimal point of both ends"
                yield Suspicion((*fact.at, "printed"), message, (fact,), "warning", hint)


def _ordered(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for key in engine.by_key:
        for other in _LARGER.get(pattern(key), ()):
            for small, large in comparable(spans(engine, key), spans(engine, filled(other, key))):
                if small.middle > large.middle + small.digit + large.digit:
                    message = f"{small.text} is more than {large.text}; it should be the smaller of the two"
                    yield Suspicion(small.fact.at, message, (small.fact, large.fact))


def _beyond_new(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for pairs, grows in ((_GROWS, True), (_SHRINKS, False)):
        for limit_key, new_key in pairs.items():
            for limit, new in comparable(spans_at(engine, limit_key), spans_at(engine, new_key)):
                if _short(limit, new, _upwards(limit, grows)):
                    side = "below" if _upwards(limit, grows) else "above"
                    message = f"{limit.text} is {side} {new.text}: a new part would be past its limit"
                    yield Suspicion(limit.fact.at, message, (limit.fact, new.fact))


def _upwards(limit: Span, grows: bool) -> bool:
    """Whether the limit is a maximum: by its own word, else by what wears."""
    return {"max": True, "under": True, "min": False, "over": False}.get(limit.statement.form, grows)


def _short(limit: Span, new: Span, upwards: bool) -> bool:
    digits = limit.digit + new.digit
    return limit.high < new.high - digits if upwards else limit.low > new.low + digits


def _bound_side(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for fact in engine.facts:
        name = pattern(fact.key) if fact.printed else ""
        wrong = ("min", "over") if name in MAXIMA else ("max", "under") if name in MINIMA else ()
        for statement in fact.printed:
            if statement.form in wrong:
                found, wanted = ("minimum", "maximum") if name in MAXIMA else ("maximum", "minimum")
                message = f"{place(fact.key)} ({statement}) is a {found}; what stands here is a {wanted}"
                yield Suspicion((*fact.at, "printed"), message, (fact,), hint="look at the page again: max or min, or another key")


FIGURE_RULES = [
    FigureRule("range-order", "Two figures of which the smaller one is larger.", "head height minimum 136.0 mm beside 131.0 mm new", _ordered),
    FigureRule("limit-beyond-new", "A limit on the wrong side of what is new.", "stem clearance limit max 0.03 mm, new 0.03 to 0.06 mm", _beyond_new),
    FigureRule("range-wide", "A range with the point of one end moved.", "13 to 150 lbf.ft, typed for 13 to 15", _wide, ("warning",)),
    FigureRule("bound-side", "A maximum printed as a minimum, or the other way round.", "flatness min 0.05 mm", _bound_side),
]
