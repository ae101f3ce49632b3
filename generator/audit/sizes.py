"""Usual sizes: what a figure of a key measures in engines from a small single to a heavy six, and parts beside each other.

The bounds are a rule of this project, no source: wide enough for engines of the trade, narrow enough
that most figures typed ten times off, or in inches for millimetres, fall outside. An engine outside
them is possible; its record says so in an exception.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.audit.limits import DIRECTIONS, FACES, ORDERED, VALVES, each_of
from generator.audit.spans import Span, comparable, filled, pattern, span, spans
from generator.audit.suspicion import LOOK_AGAIN, FigureRule, Suspicion
from generator.quantities import UNITS
from generator.reading import At, dotted
from generator.record.engine import Engine
from generator.record.library import Library

ENDS = ("new", "limit")
MACHINED = ("head", "deck", "barrel")
# Pattern of the key: lowest and highest, in the unit.
USUAL: dict[str, tuple[float, float, str]] = {
    "identity.bore": (25, 300, "mm"), "identity.stroke": (20, 400, "mm"), "identity.displacement": (20, 60_000, "cm3"),
    "identity.ratio": (4.5, 28, "ratio"), "identity.vee_angle": (10, 180, "deg"), "identity.head_weight": (0.5, 300, "kg"),
    "identity.oil.capacity": (0.2, 150, "L"), "identity.coolant.capacity": (0.5, 300, "L"),
    **dict.fromkeys(each_of("faces.{}.flatness.{}", ("head", "deck", "barrel"), DIRECTIONS), (0.01, 0.4, "mm")),
    **dict.fromkeys(each_of("faces.{}.flatness.{}", ("exhaust_manifold", "intake_manifold"), DIRECTIONS), (0.02, 1, "mm")),
    **dict.fromkeys(each_of("faces.{}.flatness.local.limit", FACES), (0.005, 0.3, "mm")),
    **dict.fromkeys(each_of("faces.{}.flatness.local.span", FACES), (20, 300, "mm")),
    **dict.fromkeys(each_of("faces.{}.finish.ra", MACHINED), (0.2, 7, "um")),
    **dict.fromkeys(each_of("faces.{}.finish.rz", MACHINED), (0.5, 60, "um")),
    **dict.fromkeys(each_of("faces.{}.finish.waviness", MACHINED), (1, 100, "um")),
    "faces.head.height.new": (15, 300, "mm"), "faces.head.height.minimum": (15, 300, "mm"),
    **dict.fromkeys(each_of("faces.{}.stock_removal.{}", ("head", "deck"), ("per_cut", "total", "head_and_block")), (0.03, 2.5, "mm")),
    "faces.liners.stand_out": (0.01, 0.4, "mm"), "faces.liners.spread": (0.004, 0.2, "mm"),
    "faces.liners.counterbore_depth": (1, 40, "mm"), "faces.liners.counterbore_spread": (0.004, 0.2, "mm"), "faces.joint.offset": (0.02, 1, "mm"),
    "faces.head.chamber.area": (0, 300, "cm2"), "faces.head.chamber.volume": (3, 500, "cm3"),
    "fasteners.head.torque": (5, 700, "N.m"), "fasteners.head_cover.torque": (1.5, 40, "N.m"), "fasteners.spark_plugs.torque": (8, 45, "N.m"),
    "fasteners.glow_plugs.torque": (5, 40, "N.m"), "fasteners.injectors.torque": (4, 130, "N.m"), "fasteners.drain_plugs.torque": (8, 130, "N.m"),
    "fasteners.*.groups.*.length": (8, 500, "mm"), "fasteners.*.groups.*.length_limit": (8, 500, "mm"),
    "fasteners.*.groups.*.grip": (2, 450, "mm"), "fasteners.*.groups.*.shank": (4, 40, "mm"), "fasteners.*.groups.*.neck_limit": (3, 40, "mm"),
    "fasteners.*.places.*.hole.depth": (8, 250, "mm"), "fasteners.*.standing_height": (5, 250, "mm"),
    "fasteners.*.tightening.total_angle": (20, 720, "deg"),
    "gasket.thickness": (0.25, 3, "mm"), "gasket.bore": (25, 320, "mm"), "gasket.choice.clearance": (0.3, 2.5, "mm"),
    "gasket.choice.sizes.*.thickness": (0.25, 3, "mm"), "gasket.choice.sizes.*.reading": (-3, 3, "mm"),
    "tests.compression.normal": (400, 5500, "kPa"), "tests.compression.minimum": (400, 5500, "kPa"),
    "tests.compression.spread": (30, 800, "kPa"), "tests.compression.by_altitude.*.minimum": (300, 5500, "kPa"),
    "tests.compression.by_altitude.*.altitude": (0, 6000, "m"), "tests.compression.by_altitude.*.barometer": (40, 110, "kPa"),
    "tests.compression.by_altitude.*.temperature": (-40, 60, "degC"),
    "tests.compression.fraction_of_highest": (50, 98, "%"), "tests.compression.below_mean": (2, 40, "%"),
    "tests.leak_down.pressure": (100, 1100, "kPa"), "tests.leak_down.maximum": (2, 60, "%"),
    "tests.crankcase.pressure": (10, 200, "kPa"), "tests.radiator_cap": (20, 250, "kPa"), "tests.cooling_system": (40, 400, "kPa"),
    **{f"valves.clearance.{key}": (0.04, 0.9, "mm") for key in ("intake", "exhaust", "both", "go", "no_go")},
    "valves.clearance.crosshead": (0.02, 3, "mm"),
    "valves.shims.sizes": (0.3, 8, "mm"), "valves.shims.step": (0.005, 0.2, "mm"),
    "valves.lifter_preload": (0.1, 6, "mm"), "valves.push_rod_length": (40, 600, "mm"),
    **{f"valves.to_piston.{key}": (0.2, 6, "mm") for key in ("intake", "exhaust", "both")},
    "valves.face_angle": (18, 62, "deg"), "valves.seat_angle": (18, 62, "deg"), "valves.interference_angle": (0.2, 3, "deg"),
    "valves.seat_width": (0.5, 6, "mm"), "valves.seat_grinding_depth": (0.05, 3, "mm"), "valves.insert_bore": (12, 120, "mm"),
    "valves.rocker_bore": (6, 60, "mm"),
    **dict.fromkeys(each_of("valves.{}.{}.{}", ("stem", "guide"), VALVES, ENDS), (3.5, 20, "mm")),
    **dict.fromkeys(each_of("valves.stem_clearance.{}.{}", VALVES, ENDS), (0.008, 0.6, "mm")),
    **dict.fromkeys(each_of("valves.recession.{}.{}", VALVES, ENDS), (-3, 5, "mm")),
    "timing.sprockets.pitch": (4, 60, "mm"), "timing.sprockets.strand_angle": (0, 89, "deg"), "timing.tension.deflection": (1, 40, "mm"),
    "timing.pump_timing.angle": (0, 45, "deg"), "timing.ignition_timing.angle": (-10, 45, "deg"), "timing.ignition_timing.piston": (0.3, 9, "mm"),
    "bores.bore.new": (25, 300, "mm"), "bores.bore.limit": (25, 300, "mm"), "bores.piston": (25, 300, "mm"),
    "bores.bore_wear": (0.02, 1.2, "mm"), "bores.taper": (0.005, 0.4, "mm"), "bores.out_of_round": (0.005, 0.4, "mm"),
    "bores.piston_clearance": (0.008, 0.6, "mm"), "bores.piston_protrusion": (-4, 4, "mm"), "bores.piston_to_head": (0.2, 3, "mm"),
}
_STAGE_ANGLE = (15.0, 360.0)  # deg, of one stage

# One key as a share of another: least and most.
PROPORTIONS: dict[tuple[str, str], tuple[float, float]] = {
    ("identity.stroke", "identity.bore"): (0.5, 2.0),
    ("gasket.bore", "identity.bore"): (0.99, 1.15),
    ("bores.bore.new", "identity.bore"): (0.985, 1.015),
    ("bores.bore.limit", "bores.bore.new"): (0.99, 1.03),
    ("bores.piston", "bores.bore.new"): (0.98, 1.0),
    ("bores.piston_clearance", "bores.bore.new"): (0.0001, 0.005),
    ("faces.head.height.minimum", "faces.head.height.new"): (0.95, 1.0),
    ("tests.compression.minimum", "tests.compression.normal"): (0.5, 1.0),
    ("tests.compression.spread", "tests.compression.normal"): (0.02, 0.5),
    ("tests.compression.spread", "tests.compression.minimum"): (0.02, 0.5),
    ("fasteners.*.groups.*.grip", "fasteners.*.groups.*.length"): (0.25, 1.0),
    ("fasteners.*.groups.*.length_limit", "fasteners.*.groups.*.length"): (1.0, 1.06),
    **{(f"valves.guide.{each}.{end}", f"valves.stem.{each}.{end}"): (0.99, 1.04) for each in VALVES for end in ENDS},
    **{(f"valves.{part}.{each}.limit", f"valves.{part}.{each}.new"): (0.96, 1.04) for part in ("stem", "guide") for each in VALVES},
}
_PROPORTIONS: dict[str, list[tuple[str, tuple[float, float]]]] = {}
for (_part, _whole), _shares in PROPORTIONS.items():
    _PROPORTIONS.setdefault(_part, []).append((_whole, _shares))


def usual(key: At) -> tuple[float, float, str] | None:
    """The usual size of a key: its own, else that of its pattern."""
    return USUAL.get(dotted(key)) or USUAL.get(pattern(key))


def _size(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for key in engine.by_key:
        wanted = usual(key)
        for each in spans(engine, key) if wanted else ():
            if wanted and (outside := _outside(each, wanted)):
                message = f"{each.text} is {outside} in other engines"
                hint = "look at the page again: unit, decimal point, or another key"
                yield Suspicion((*each.fact.at, "printed"), message, (each.fact,), "warning", hint)


def _outside(each: Span, wanted: tuple[float, float, str]) -> str:
    """In words what is usual, if the figure lies outside it."""
    least, most, symbol = wanted
    unit = UNITS[symbol]
    if each.statement.unit is None or each.statement.unit.dimension != unit.dimension:
        return ""
    low, high = ((value + float(unit.offset)) * float(unit.factor) for value in (least, most))
    within = low - each.digit <= each.low and each.high <= high + each.digit
    return "" if within else f"outside {least:g} to {most:g} {symbol}, the usual size"


def _angles(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for each in engine.sets.values():
        for stage in each.stages:
            for found in (span(fact) for fact in stage.figures if stage.do == "angle"):
                if found and not _STAGE_ANGLE[0] <= found.middle <= _STAGE_ANGLE[1]:
                    message = f"{found.text} is no usual angle of one stage: 15 to 360 deg"
                    yield Suspicion((*found.fact.at, "printed"), message, (found.fact,), "warning", LOOK_AGAIN)


def _proportion(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for key in engine.by_key:
        for whole, (least, most) in _PROPORTIONS.get(pattern(key), ()):
            for one, other in comparable(spans(engine, key), spans(engine, filled(whole, key))):
                share = one.middle / other.middle if other.middle else 0.0
                digits = (one.digit + other.digit) / abs(other.middle or 1.0)
                if not least - digits <= share <= most + digits and not (share > most and (pattern(key), whole) in ORDERED):
                    message = f"{one.text} is {share:.3g} times {other.text}; {least:g} to {most:g} times is usual"
                    yield Suspicion(one.fact.at, message, (one.fact, other.fact), "warning")


FIGURE_RULES = [
    FigureRule(
        "size-usual", "A figure of a size that no other engine has. The usual sizes are a rule of this project, no source.",
        "valve clearance 2.0 mm, typed for 0.20 mm",
        lambda engine, library: (*_size(engine, library), *_angles(engine, library)), ("warning",),
    ),
    FigureRule(
        "proportion-usual", "Two parts that do not go together. The proportions are a rule of this project, no source.",
        "a gasket bore of 108.5 mm, typed for 80.5 mm, over a bore of 79.0 mm", _proportion,
        ("warning",),
    ),
]
