"""Inputs made by a seeded random, the same at every run: good ones, odd ones and every kind of bad one.

Each maker takes the dice and gives one call.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from generator.calculations import compression, cost, cut, entry, flatness, gasket, limits, tightening, wording, wrench
from generator.calculations.result import Limit
from generator.quantities import UNITS, Quantity, StatementError, agreement, conversions, convert, likely_slip, parse, shown, unit_named
from generator.quantities.conversion import COUNTERPARTS
from generator.quantities.units import SPELLINGS
from tests.browser.dice import LENGTHS, PRESSURES, TORQUES, Dice
from tests.browser.twin import Call


def call(function: Callable[..., Any], *given: Any, **options: Any) -> Call:
    """A call of a function of the calculations."""
    return Call(function, f"{function.__module__.removeprefix('generator.')}.{function.__name__}", given, options)


# What is typed and printed

SIGNS = "0123456789.,/+-−  '\"eE()³²·°µ%mnNftlbkgPa\u00a0\u2009\u0663ſ\n\\é"
FIELDS = ["mm", "in", "N.m", "psi", "deg", "%", "cm3", "degF"]
NAMES = [*UNITS, *(name for names in SPELLINGS.values() for name in names), "qt", "mil", "thou", "oz", "furlong", "Nmm", "mms", "lbf/ft"]
DIGITS = ["{a}", "{a}.{b}", ".{b}", "{a},{b}", "{a}/{c}", "{a} {d}/{c}", "{a}-{d}/{c}", "{a},{e:03}", "0.{b}", "{a}00", "0,{b}"]
PRINTED = [
    "{a} {u}", "{a}{u}", "{a} to {b} {u}", "{a}-{b} {u}", "{a} – {b} {u}", "{a}...{b} {u}", "{a} +-{b} {u}", "{a} ± {b} {u}",
    "{a} +{b} -{c} {u}", "{w}{a} {u}", "{w}{a}{u}", "{a} {u} max.", "{a} {u} minimum", "{a} {u} ({b} {u})", 'unreadable "{a} {u}"',
    "{a} to {b}", "{a}", "{a} {u} or less", "{a} {u} when cold", "{a} {u} or {b} {u}", "{a} x{u}", "{a} {u}s", "{b} to {a} 'mm", "max {a} {u} each",
]
BOUNDS = ["max ", "min. ", "under ", "<", "not over ", "≥", "more than ", "MAX ", "leſs than "]


def digits(dice: Dice) -> str:
    a, b, c, d, e = (dice.randint(0, top) for top in (9999, 99999, 64, 9, 999))
    return dice.pick("", "", "", "-", "+", "−") + dice.choice(DIGITS).format(a=a, b=b, c=c, d=d, e=e)


def noise(dice: Dice, longest: int) -> str:
    return "".join(dice.choices(SIGNS, k=dice.pick(0, 1, 2, 3, 5, 8, 13, longest)))


def entry_call(dice: Dice) -> Call:
    name = dice.pick("", "", dice.choice(NAMES))
    text = noise(dice, entry.LONGEST + 1) if dice.often(0.15) else dice.pick("", " ") + digits(dice) + dice.pick("", " ") + name
    return call(entry.read_amount, text, "comeback") if dice.often(0.1) else call(entry.read_entry, text, dice.choice(FIELDS), "gap")


def parsed(text: str) -> Call:
    return Call(parse, "quantities.parse", (text,))


def converted(text: str, symbol: str, descriptive: bool) -> Call:
    return Call(lambda text, symbol, descriptive: convert(parse(text), UNITS[symbol], descriptive), "quantities.convert", (text, symbol, descriptive))


def conversions_of(texts: list[str], descriptive: bool) -> Call:
    return Call(lambda texts, descriptive: conversions([*map(parse, texts)], descriptive), "quantities.conversions", (texts, descriptive))


def agreed(texts: list[str]) -> Call:
    return Call(lambda texts: agreement([*map(parse, texts)]), "quantities.agreement", (texts,))


def slipped(texts: list[str]) -> Call:
    return Call(lambda texts: likely_slip([*map(parse, texts)]), "quantities.likely_slip", (texts,))


def exact(dice: Dice, symbol: str) -> str:
    """A statement in a unit, of some form."""
    form = dice.pick("{a}", "{a} to {b}", "{b} +-{a}", "{b} +{a} -{a}", "max {a}", "min {a}", "under {a}", "over {a}", "0", "{a} to {a}")
    low, high = sorted(dice.uniform(0, 10 ** dice.randint(-2, 3)) for _ in range(2))
    places = dice.randint(0, 4)
    return f"{form.format(a=f'{low:.{places}f}', b=f'{high:.{places}f}')} {symbol}"


def statement_call(dice: Dice) -> Call:
    source = dice.choice(list(COUNTERPARTS))
    text, other = exact(dice, source), dice.choice(COUNTERPARTS[source])
    kind = dice.random()
    if kind < 0.05:
        return parsed(noise(dice, 201))
    if kind < 0.4:
        a, b, c = (digits(dice) for _ in range(3))
        return parsed(dice.choice(PRINTED).format(a=a, b=b, c=c, u=dice.choice(NAMES), w=dice.choice(BOUNDS)))
    if kind < 0.65:
        return converted(text, dice.choice([symbol for symbol, unit in UNITS.items() if unit.dimension == UNITS[source].dimension]), dice.often(0.2))
    if kind < 0.75:
        return conversions_of([text, *(exact(dice, symbol) for symbol in COUNTERPARTS[source] if dice.often(0.5))], dice.often(0.2))
    near = str(convert(parse(text), UNITS[other], True))
    if dice.often(0.2):  # zeros at the end that may be rounding
        whole = dice.randint(1, 99) * 10 ** dice.randint(1, 3)
        return agreed([f"{whole} N.m", str(convert(parse(f"{whole * dice.uniform(0.9, 1.1):.1f} N.m"), UNITS["lbf.ft"], True))])
    return agreed([text, dice.pick(near, near, exact(dice, other), exact(dice, dice.choice(list(UNITS))), 'unreadable "1"')])


def slip_call(dice: Dice) -> Call:
    """Two units of one figure, of which one slipped."""
    source = dice.choice(list(COUNTERPARTS))
    text, other = exact(dice, source), UNITS[dice.choice(COUNTERPARTS[source])]
    near = str(convert(parse(text), other, True))
    at = dice.randint(0, len(near.split(" ")[0]))
    places = [index for index, sign in enumerate(near) if sign.isdigit()]
    one = dice.choice(places)
    same = [symbol for symbol, unit in UNITS.items() if unit.dimension == other.dimension]
    spoilt = dice.pick(
        near, near[:one] + str(dice.randint(0, 9)) + near[one + 1:], near[:one] + near[one + 1:], near[:at] + "0" + near[at:],
        near.replace(".", "", 1), near.replace(other.symbol, dice.choice(same)), near[:one] + near[one:one + 2][::-1] + near[one + 2:],
    )
    try:
        return slipped([text, str(parse(spoilt))])
    except StatementError:
        return slipped([text, near])


def unit_call(dice: Dice) -> Call:
    if dice.often(0.3):
        symbol = dice.choice(list(UNITS))
        return Call(_unit, "quantities.unit", (symbol,))
    name = dice.choice(NAMES)
    at = dice.randint(0, len(name))
    slip = dice.pick(name, name[:at] + name[at + 1:], name[:at] + dice.choice(SIGNS) + name[at:], name.upper(), f" {name}", f"{name}'", "constructor")
    return Call(lambda text: unit_named(text).symbol, "quantities.unit_named", (slip,))


def _unit(symbol: str) -> dict[str, Any]:
    unit = UNITS[symbol]
    return {"dimension": unit.dimension, "system": unit.system, "size": float(unit.factor), "zero": float(unit.offset)}


def wording_call(dice: Dice) -> Call:
    few = dice.randint(0, 9999) / 10 ** dice.randint(0, 7)
    half = float(f"{dice.uniform(0, 100):.1f}5")
    value = dice.pick(-1, 1, 1) * dice.pick(0.0, 5e-324, dice.uniform(0, 10), few, 10 ** dice.uniform(-20, 30), half, dice.randint(0, 999) / 8)
    unit = dice.choice(list(UNITS))
    kin = dice.choice([symbol for symbol, other in UNITS.items() if other.dimension == UNITS[unit].dimension])
    return dice.pick(
        Call(shown, "quantities.shown", (value, dice.randint(0, 12))),
        call(wording.say, value, unit),
        call(wording.number_text, value, dice.randint(0, 6)),
        call(wording.compare, value, dice.pick(value, value * (1 + 1e-10), value * 1.001, 0.0)),
        call(wording.say_beside, Quantity(value, unit), Quantity(value * dice.pick(1, 1 + 1e-7, 2), kin)),
        call(wording.listing, dice.sample(["1", "2", "3", "4"], dice.randint(0, 4))),
    )


# Limits


def limits_call(dice: Dice) -> Call:
    at, signed, kind = 10 ** dice.uniform(-2, 2), dice.often(0.4), dice.random()
    some = dice.limit(LENGTHS, at)
    reading = dice.pick(dice.length(at * (-0.3 if signed else 0.1), at * 1.8), some.high or some.low or Quantity(1.0, "mm"))
    reading = dice.spoilt(reading)
    if kind < 0.5:
        return call(limits.judge, reading, dice.maybe(some, 0.9), "bolt 3", signed=signed)
    if kind < 0.65:
        cases = [limits.Case(name, dice.limit(LENGTHS, at)) for name in dice.sample(["new", "used", "hot", ""], dice.randint(0, 3))]
        return call(limits.judge_when, reading, cases, dice.pick(None, None, "", "new", "hot", "cold"), "bolt 3", signed=signed)
    if kind < 0.75:
        results = [limits.judge(dice.length(at * 0.5, at * 1.5), Limit("x", high=Quantity(at, "mm"))) for _ in range(3)]
        return call(limits.judge_provided, results[0], results[1:dice.randint(1, 3)])
    names = [str(dice.randint(1, 40)) for _ in range(dice.randint(0, 5))]
    row = [limits.Reading(name, dice.spoilt(dice.length(at * 0.5, at * 1.5), 0.01)) for name in names]
    spread = dice.maybe(dice.limit(LENGTHS, at * 0.4, "high"), 0.4)
    return call(limits.judge_several, row, dice.maybe(some, 0.9), spread, "stand-out", signed=signed)


# Flatness

BLADES = [Quantity(size, "mm") for size in (0.02, 0.03, 0.04, 0.05, 0.06, 0.08, 0.1, 0.15)] + [
    Quantity(size, "in") for size in (0.0015, 0.002, 0.0025, 0.003, 0.004, 0.005)]
FACE_LIMITS = [Quantity(0.05, "mm"), Quantity(0.1, "mm"), Quantity(0.002, "in"), Quantity(0.03, "mm"), Quantity(0.004, "in")]
SPANS = [Quantity(size, "mm") for size in (60.0, 100.0, 150.0, 400.0)]


def felt(dice: Dice, line: str) -> flatness.LineReading:
    sizes = sorted(dice.sample(BLADES, 3), key=lambda blade: blade.to("mm"))
    goes, stops = sizes[:dice.pick(0, 1, 1, 1, 2)], sizes[dice.pick(2, 2, 2, 2, 1, 3, 3):]
    if dice.often(0.02):
        goes, stops = stops, goes
    goes, stops = ([dice.spoilt(blade, 0.005) for blade in blades] for blades in (goes, stops))
    span = dice.maybe(dice.spoilt(dice.choice(SPANS)), 0.3)
    doubt = dice.maybe(dice.spoilt(Quantity(dice.pick(1.0, 4.0, 10.0, 30.0), "um")), 0.3)
    return flatness.LineReading(line, tuple(goes), tuple(stops), span, dice.often(0.02), doubt)


def face_limit(dice: Dice) -> flatness.FaceLimit:
    high = dice.maybe(dice.spoilt(dice.choice(FACE_LIMITS), 0.01), 0.95)
    low = dice.maybe(Quantity(0.01, "mm"), 0.01)
    span = dice.maybe(dice.spoilt(dice.pick(Quantity(100.0, "mm"), Quantity(6.0, "in")), 0.01), 0.3)
    direction = "sideways" if dice.often(0.01) else dice.pick("any", *flatness.DIRECTIONS)
    return flatness.FaceLimit(Limit("Head face", low, high, dice.often(0.2), "book", dice.often(0.9)), direction, span)


def flatness_call(dice: Dice) -> Call:
    bearing = [face_limit(dice) for _ in range(dice.pick(0, 1, 1, 1, 2, 2, 3))]
    blades = dice.sample(BLADES, dice.pick(0, 0, 3, 6)) + ([dice.spoilt(BLADES[0], 1)] if dice.often(0.02) else [])
    kind = dice.random()
    if kind < 0.03:
        return call(flatness.lines_of, [str(dice.randint(1, 8)) for _ in range(dice.randint(0, 5))])
    if kind < 0.04:
        return call(flatness.lines_of_round, dice.randint(0, 6))
    if kind < 0.7:
        length = dice.maybe(dice.spoilt(Quantity(dice.pick(90.0, 420.0), "mm"), 0.01), 0.3)
        line = flatness.Line("edge-a", "along one edge", dice.choice(flatness.DIRECTIONS[:-1]), length)
        ids = ["edge-a" if dice.often(0.99) else "edge-z" for _ in range(dice.pick(0, 1, 1, 1, 1, 1, 2, 2))]
        return call(flatness.judge_line, line, [felt(dice, each) for each in ids], bearing, blades)
    lines = flatness.lines_of(["1", "2", "3"])[:dice.randint(0 if dice.often(0.1) else 1, 8)]
    readings = [felt(dice, line.id) for line in lines if dice.often(0.97)] + ([felt(dice, "edge-z")] if dice.often(0.02) else [])
    return call(flatness.judge_face, lines, readings, bearing, blades)


# Compression

ROWS = [[["1"]], [["1", "2"]], [["1", "2", "3", "4"]], [["1", "3", "5"], ["2", "4", "6"]], [["1"], ["2"], ["3"]], [["1", "2"], ["3", "4"]]]


def rule(dice: Dice) -> compression.Rule:
    kind = dice.pick("best", "valueOf") if dice.often(0.01) else dice.pick("minimum", "spread", "of highest", "below mean")
    low, high = {
        "minimum": (dice.bound(PRESSURES, 100.0), dice.maybe(Quantity(150.0, "psi"), 0.3)),
        "spread": (None, dice.bound(PRESSURES, 25.0)),
        "of highest": (Quantity(75.0, "%"), None),
        "below mean": (None, Quantity(float(dice.randint(5, 25)), "%")),
    }.get(kind, (Quantity(1.0, "psi"), None))
    if dice.often(0.05):
        low = high = None
    return compression.Rule(kind, Limit(kind, low, high, dice.often(0.3), "book", dice.often(0.75)))


def cylinder(dice: Dice, name: str, usual: float, oil: bool) -> compression.Cylinder:
    dry = dice.pick(dice.of({"psi": 1.0}, usual * 0.9, usual * 1.1), dice.of({"psi": 1.0}, usual * 0.9, usual * 1.1), dice.pressure(0, usual * 1.6))
    dry = Quantity(0.0, "psi") if dice.often(0.1) else dice.spoilt(dry, 0.005)
    return compression.Cylinder(name, dry, dice.maybe(dice.of({"psi": 1.0}, 40, 130), 0.4 if oil else 0.03))


def altitude_call(dice: Dice) -> Call:
    heights = sorted(dice.sample(range(0, 12000, 500), dice.randint(1, 4)), reverse=dice.often(0.05))
    rows = [compression.AltitudeRow(Quantity(float(each), "ft"), dice.pressure(300, 520)) for each in heights]
    at = dice.pick(rows[-1].altitude, dice.of({"m": 1.0, "ft": 0.3048}, 0, 4000), dice.of({"m": 1.0, "ft": 0.3048}, 500, 2000))
    return call(compression.altitude_minimum, "Minimum", rows, dice.spoilt(at), "Table 1")


def compression_call(dice: Dice) -> Call:
    kind = dice.random()
    if kind < 0.07:
        pressures = dice.spoilt(dice.pressure(60, 90)), dice.spoilt(dice.pressure(20, 95))
        return call(compression.leak_down, *pressures, dice.maybe(dice.limit({"%": 1.0}, 25.0, "high"), 0.8))
    if kind < 0.14:
        return altitude_call(dice)
    rows = dice.choice(ROWS)
    names = [name for row in rows for name in row if dice.often(0.97)]
    names += dice.pick(["9"], names[:1]) if dice.often(0.04) else []
    ignition = "steam" if dice.often(0.02) else dice.pick("spark", "spark", "compression")
    usual = dice.pick(110.0, 110.0, 70.0)
    cylinders = [cylinder(dice, name, usual, ignition == "spark") for name in names]
    rules = [rule(dice) for _ in range(dice.pick(0, 1, 1, 2, 2, 3))]
    division = dice.maybe(dice.spoilt(Quantity(5.0, "psi")), 0.4)
    return call(compression.judge_compression, rows, ignition, cylinders, rules, division, "manual C")


# Cut


def cut_call(dice: Dice) -> Call:
    return dice.pick(removal_call, removal_call, ratio_call, restoring_call, retard_call, volume_call)(dice)


def depth(dice: Dice, most: float = 0.5) -> Any:
    return dice.spoilt(dice.pick(dice.length(0.01, most), dice.length(0.01, most), Quantity(0.0, "mm")))


def gain(dice: Dice) -> Any:
    return dice.spoilt(dice.length(-0.3, 0.4))


def removal_call(dice: Dice) -> Call:
    highest = [dice.maybe(dice.limit(LENGTHS, at, "high"), 0.4) for at in (0.5, 0.8, 0.9)]
    lowest = [dice.maybe(dice.limit(LENGTHS, at, "low"), 0.3) for at in (127.0, 0.65)]
    readings = [dice.maybe(each, 0.7) for each in (dice.spoilt(dice.length(89.5, 90.5)), dice.spoilt(dice.length(-0.1, 1.2)))]
    face = dice.pick("lid", "toString") if dice.often(0.02) else dice.pick("head", "head", "deck")
    before = [dice.maybe(depth(dice, 0.3), 0.7) for _ in range(2)]
    return call(cut.stock_removal, cut.Planned(dice.spoilt(dice.length(0.01, 0.5)), *before, *readings, *highest, *lowest, face))


def areas(dice: Dice) -> cut.Areas | None:
    sizes = (dice.of({"cm2": 1.0, "in2": 6.4516, "mm2": 0.01}, low, 80.0) for low in (0, 40, 40))
    return dice.maybe(cut.Areas(*(dice.spoilt(size, 0.02) for size in sizes)), 0.98)


def ratio_call(dice: Dice) -> Call:
    swept, clearance = dice.volume(100, 900), dice.volume(1 if dice.often(0.1) else 20, 100)
    return call(cut.ratio_after, dice.spoilt(swept), dice.spoilt(clearance), areas(dice), depth(dice), depth(dice, 0.1), gain(dice))


def drive(dice: Dice) -> str | None:
    return dice.pick(*cut.DRIVES, None, "rope") if dice.often(0.3) else dice.pick("chain", "belt")


def restoring_call(dice: Dice) -> Call:
    return call(cut.restoring_gaskets, areas(dice), depth(dice), depth(dice), drive(dice))


def retard_call(dice: Dice) -> Call:
    angle = dice.spoilt(Quantity(dice.pick(0.0, 5.205, 89.9, 90.0, 12.5), "deg"))
    return call(cut.cam_retard, drive(dice), depth(dice), depth(dice, 0.1), gain(dice), angle, dice.spoilt(dice.length(30, 80)))


def volume_call(dice: Dice) -> Call:
    bore, stroke = dice.spoilt(dice.length(50, 130)), dice.spoilt(dice.length(50, 130))
    swept, clearance = dice.spoilt(dice.volume(100, 900)), dice.spoilt(dice.volume(20, 180))
    ratio = dice.spoilt(Quantity(dice.pick(0.5, 1.0, 8.5, 22.0), "ratio"))
    teeth, pitch = dice.pick(3, 18, 36, 36.5, 40, True), dice.spoilt(dice.length(5, 13))
    return dice.pick(
        call(cut.circle_area, bore), call(cut.swept_volume, bore, stroke), call(cut.compression_ratio, swept, clearance),
        call(cut.clearance_volume, swept, ratio), call(cut.sprocket_radius, teeth, pitch, dice.pick("chain", "belt", "gears")),
    )


# Gasket


def classes(dice: Dice) -> list[gasket.Gasket]:
    gap = dice.pick(0.01, 0.01, 0.0)
    found = []
    for n in range(dice.pick(2, 3, 3, 4, 0 if dice.often(0.2) else 3)):
        low, high = (dice.spoilt(Quantity(at, "mm"), 0.005) for at in (0.6 + n / 10 + gap, 0.7 + n / 10))
        found.append(gasket.Gasket(f"{n} notches", low, high, Quantity(1.2 + n / 10, "mm"), "book p. 9"))
    return [*found[:-1], gasket.Gasket("thick", found[-1].low)] if found and dice.often(0.2) else found


def gasket_call(dice: Dice) -> Call:
    return dice.pick(protrusion_call, protrusion_call, wire_call, clearance_call)(dice)


def protrusion_call(dice: Dice) -> Call:
    places = [str(dice.randint(1, 60)) for _ in range(dice.randint(0 if dice.often(0.1) else 1, 6))]
    readings = [gasket.Reading(each, dice.spoilt(dice.length(0.55, 1.0), 0.005), dice.pick("left", "left", "right")) for each in places]
    if readings and dice.often(0.05):
        readings[-1] = gasket.Reading("61", readings[-1].value)
    decides = "lowest" if dice.often(0.02) else dice.pick("highest", "mean")
    return call(gasket.by_protrusion, readings, classes(dice), decides, "bore" if dice.often(0.02) else dice.pick("engine", "head"))


def wire_call(dice: Dice) -> Call:
    return call(gasket.by_measurement, dice.spoilt(dice.length(0.4, 1.2)), classes(dice), dice.pick("crushed wire", "erosion"))


def clearance_call(dice: Dice) -> Call:
    unit = dice.pick("mm", "in")
    steps = [dice.randint(4, 24) / 20 / LENGTHS[unit] for _ in range(dice.pick(0, 1, 2, 3, 4, 5))]
    sheets = [gasket.Gasket(f"no. {n}", thickness=dice.spoilt(Quantity(each, unit), 0.005), basis="book") for n, each in enumerate(steps, 1)]
    low, high = sorted((dice.of({unit: LENGTHS[unit]}, 0.4, 0.8) for _ in range(2)), key=lambda each: each.value, reverse=dice.often(0.03))
    between = "thinner" if dice.often(0.02) else dice.pick(None, "thicker", "thicker")
    return call(gasket.by_clearance, low, high, dice.spoilt(dice.length(-0.5, 0.5)), sheets, between)


# Tightening

GROUPS = {"A1": "long", "A2": "short", "A3": "long", "B1": "short", "B2": "long", "B3": "short"}


def figure(dice: Dice, do: str) -> dict[str, Any]:
    """Bounds and nominal value of a stage."""
    if not dice.often(0.05 if do == "wait" else 0.9):
        return {}
    turns = do == "angle" or (do in ("loosen", "recheck", "retorque") and dice.often(0.5))
    low = dice.of({"deg": 1.0} if turns else TORQUES, 20, 90)
    high = Quantity(low.value * dice.pick(1.0, 1.0, 1.1, 1.2, 0.9 if dice.often(0.2) else 1.0), low.unit)
    nominal = dice.maybe(Quantity((low.value + high.value) / 2, low.unit), 0.15)
    return {"low": dice.spoilt(dice.maybe(low, 0.97), 0.01), "high": high, "nominal": nominal}


def stage(dice: Dice, order: tuple[str, ...]) -> tightening.Stage:
    do = dice.pick("hammer", "constructor") if dice.often(0.01) else dice.pick("torque", "torque", "angle", *tightening.ACTIONS)
    covers = dice.pick((), (), (), ("long",), ("short",), ("long", "short"), ("middle",) if dice.often(0.1) else ())
    rise = [dice.maybe(dice.spoilt(dice.torque(1, most)), 0.98) for most in (30, 20)]
    more = figure(dice, do)
    return tightening.Stage(do, order if dice.often(0.9) else (), covers, first=rise[0], by=rise[1], doubtful=dice.often(0.1), **more)


def chosen_targets(dice: Dice, stages: list[tightening.Stage]) -> dict[int, Quantity]:
    known = {index: each.low for index, each in enumerate(stages) if isinstance(each.low, Quantity) and dice.often(0.4)}
    found = {index: Quantity(low.value * dice.pick(1.0, 1.0, 1.05, 1.4), low.unit) for index, low in known.items()}
    return found | ({9: Quantity(30.0, "N.m")} if dice.often(0.02) else {})


def tightening_call(dice: Dice) -> Call:
    order = tuple(dice.sample(list(GROUPS), len(GROUPS)))
    if dice.often(0.05):
        order = dice.pick(order[:-1], (*order, order[0]), (*order, "C9"), ("all", *order[1:]))
    kind, groups = dice.random(), GROUPS if dice.often(0.85) else {}
    if kind < 0.2:
        bounds = dice.spoilt(dice.torque(20, 60)), dice.spoilt(dice.torque(40, 90))
        return call(tightening.choose_target, *bounds, dice.maybe(dice.spoilt(dice.torque(30, 70))))
    stages = [stage(dice, order if dice.often(0.95) else order[::-1]) for _ in range(dice.randint(1, 5))]
    if kind < 0.35:
        return call(tightening.loosening, stages, groups, dice.pick((), (), order))
    if dice.often(0.4):
        stages.append(tightening.Stage(dice.pick("recheck", "retorque"), order, low=stages[0].low, high=stages[0].high))
    walk = "at random" if dice.often(0.02) else dice.choice(tightening.WALKS)
    return call(tightening.expand, stages, groups, walk, chosen_targets(dice, stages))


# Wrench and cost


def wrench_call(dice: Dice) -> Call:
    torque, arm = dice.spoilt(dice.torque(5, 200)), dice.spoilt(dice.length(200, 700))
    adapter = dice.maybe(dice.spoilt(dice.pick(dice.length(20, 250), dice.length(20, 250), Quantity(0.0, "mm"))), 0.9)
    angle = dice.maybe(dice.spoilt(Quantity(dice.pick(0.0, 30.0, 45.0, 60.0, 90.0, 120.0, 180.0, 200.0, 91.5), "deg")), 0.8)
    kind = dice.random()
    if kind < 0.4:
        return call(wrench.adapter_setting, torque, arm, adapter, angle, "methods")
    if kind < 0.55:
        return call(wrench.torque_delivered, torque, arm, adapter, angle)
    if kind < 0.8:
        lowest = dice.maybe(dice.spoilt(dice.torque(10, 60)), 0.3)
        return call(wrench.wrench_range, torque, wrench.WrenchRange(dice.spoilt(dice.torque(100, 250)), lowest, basis="manual"))
    drag = dice.spoilt(dice.pick(dice.torque(1, 15), dice.torque(1, 15), Quantity(0.0, "N.m")))
    return call(wrench.with_run_down, torque, drag, dice.maybe(dice.limit(TORQUES, 10.0), 0.7))


def price(dice: Dice) -> Any:
    if dice.often(0.1):
        return dice.pick(None, 0, -1, 1e13, 1e-13, "60", float("nan"), float("inf"), -float("inf"), True, Quantity(1.0, "mm"))
    return dice.pick(round(dice.uniform(0.01, 2000), 2), dice.randint(1, 900), dice.uniform(1, 1e6))


def cost_call(dice: Dice) -> Call:
    return call(cost.break_even, price(dice), price(dice), "own prices")


MAKERS: dict[str, tuple[Callable[[Dice], Call], int]] = {
    "entry": (entry_call, 900), "statements": (statement_call, 1800), "slips": (slip_call, 600), "units": (unit_call, 500),
    "wording": (wording_call, 900),
    "limits": (limits_call, 900), "flatness": (flatness_call, 1500), "compression": (compression_call, 1100), "cut": (cut_call, 1100),
    "gasket": (gasket_call, 900), "tightening": (tightening_call, 1100), "wrench": (wrench_call, 700), "cost": (cost_call, 300),
}


def generated(name: str) -> Iterator[Call]:
    """The calls of one maker, from a seed of its own."""
    maker, count = MAKERS[name]
    dice = Dice(f"firedeck {name}")
    return (maker(dice) for _ in range(count))
