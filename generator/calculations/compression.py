"""Compression readings against the record's own rules; rules of practice and patterns beside them.

The record's rules give the verdicts. A rule of practice (75 % of the highest, for one) is not this engine's
limit: it is shown with its basis and never yields "within". A pattern (two neighbours low, one that oil lifts)
says where to look, never what is wrong. Which pattern means what: TM 5-4210-230-14&P-1, Addendum 2, step 7;
Army course OD1001, lesson 3, learning event 2.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from generator.calculations.limits import NO_LIMIT, NO_NUMBER, OVER, PRACTICE, UNDER, WITHIN, judge
from generator.calculations.result import InputError, Limit, Result, check_bounds, measured
from generator.calculations.wording import compare, listing, say, say_quantity, total
from generator.quantities import Quantity

SPARK, DIESEL = "spark", "compression"  # how it ignites
MINIMUM, SPREAD, OF_HIGHEST, BELOW_MEAN = "minimum", "spread", "of highest", "below mean"
NOT_COMPUTED, DOES_NOT_APPLY = "not computed", "does not apply"
NEIGHBOURS_LOW, ONE_LOW, ALL_LOW = "neighbours low", "one low", "all low"
OIL_LIFTS, OIL_DOES_NOTHING, OIL_HELPS_A_LITTLE = "oil lifts it", "oil does not lift it", "oil lifts it part of the way"

# What weighs most first.
WEIGHT = (UNDER, OVER, NOT_COMPUTED, NO_NUMBER, NO_LIMIT, PRACTICE, WITHIN, DOES_NOT_APPLY)
NEXT = {
    WITHIN: "Write the readings down and go on.",
    NOT_COMPUTED: "Read the cylinders that are left.",
    NO_NUMBER: "Judge the readings by what the source says, and write them down.",
    NO_LIMIT: "Write the readings down and look the limits up in the manual of this engine.",
    PRACTICE: "Take it as a hint, and look up this engine's own rule.",
    DOES_NOT_APPLY: "Go by the other rules.",
}
WET_NEXT = "Put about a tablespoon of oil into {} and test again."
DIESEL_NEXT = "Test {} for leakage; no oil goes into the cylinder of a diesel."
ALREADY_WET_NEXT = "See below what the oil says of {}."
HIGH_NEXT = "Check the gauge, and look for carbon or liquid in {}."
LEAK_NEXT = {
    OVER: "If the engine can run, run it for three minutes or more and test again; then listen where the air comes out: "
          "intake, exhaust, oil filler, coolant, next cylinder.",
    WITHIN: "Write the loss down and go on.",
}
PATTERN_NEXT = {
    NEIGHBOURS_LOW: "Test them for leakage and listen at the neighbour before the head comes off.",
    ALL_LOW: "Before you blame the cylinders, check the gauge, the cranking speed, the open throttle and the valve timing.",
    OIL_LIFTS: "Expect worn rings or bore: taking the head off alone will not cure it.",
    OIL_DOES_NOTHING: "Look at the valves and their clearance, and at the head gasket if a neighbour is low too.",
    OIL_HELPS_A_LITTLE: "Test it for leakage: more than one place may leak.",
}


@dataclass(frozen=True, slots=True)
class Cylinder:
    """One cylinder: its name, the dry reading, the reading with oil in it if one was taken."""

    name: str
    dry: Quantity
    wet: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule as found. kind and what its limit bounds:

    minimum: the pressure of each cylinder (low, and high where a normal range is printed). spread: highest less
    lowest (high, a pressure). of highest: lowest over highest (low, in %). below mean: how far one is below the
    mean of all (high, in %; strict where "20 % below fails").
    """

    kind: str
    limit: Limit


@dataclass(frozen=True, slots=True)
class Judged:
    """One rule: its kind, the result, the cylinders that fail it in the order of the rows."""

    kind: str
    result: Result
    cylinders: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Pattern:
    """Where to look. kind: a fixed word. cylinders: those it speaks of."""

    kind: str
    cylinders: tuple[str, ...]
    reason: str
    next_step: str
    basis: str = ""


@dataclass(frozen=True, slots=True)
class Compression:
    """result: the weightiest of the record's own rules. rules: those, in the order given. practice: the others.

    patterns: of the cylinders that fail a rule of the record or, where it has none, a rule of practice.
    """

    result: Result
    rules: tuple[Judged, ...]
    practice: tuple[Judged, ...]
    patterns: tuple[Pattern, ...]


@dataclass(frozen=True, slots=True)
class AltitudeRow:
    """The least pressure at an altitude. also: the same altitude in the other units that are printed beside it."""

    altitude: Quantity
    minimum: Quantity
    also: tuple[Quantity, ...] = ()


@dataclass(frozen=True, slots=True)
class _Test:
    """The readings in one unit. order: every cylinder of the engine; dry, wet: by name."""

    order: tuple[str, ...]
    unit: str
    dry: dict[str, float]
    wet: dict[str, float]
    ignition: str

    @property
    def read(self) -> list[str]:
        return [name for name in self.order if name in self.dry]

    @property
    def highest(self) -> float:
        return max(self.dry.values())

    @property
    def mean(self) -> float:
        return total(self.dry[name] for name in self.read) / len(self.dry)


# What a rule measures of one cylinder: pressure, highest, mean -> number.
_MEASURES: dict[str, Callable[[float, float, float], float]] = {
    MINIMUM: lambda pressure, highest, mean: pressure,
    SPREAD: lambda pressure, highest, mean: highest - pressure,
    OF_HIGHEST: lambda pressure, highest, mean: pressure / highest * 100,
    BELOW_MEAN: lambda pressure, highest, mean: (mean - pressure) / mean * 100,
}
_SHARES = (OF_HIGHEST, BELOW_MEAN)


def judge_compression(
    rows: Sequence[Sequence[str]], ignition: str, cylinders: Sequence[Cylinder], rules: Sequence[Rule],
    division: Quantity | None = None, pattern_basis: str = "",
) -> Compression:
    """Judge a compression test.

    rows: names of all cylinders, in order along each bank; cylinders that share no head gasket stand in rows of
    their own. ignition: "spark" or "compression". cylinders: the readings, in any order. rules: the record's
    and, with `limit.own` False, those of practice. division: of the gauge; a rise by oil up to it is no rise.
    Formulas: see Rule; mean = sum / number. Results are in the unit of the rule, else of the first reading.
    Verdicts: within, under, over, no number, no limit, practice only; not computed (a rule that compares, and not
    all cylinders are read); does not apply (it compares, and there is one cylinder).
    Raise InputError: too-few (no reading, no cylinder), too-many (a cylinder twice), unknown (a name, kind or
    ignition), refused (a wet test on a diesel), missing, wrong-unit, negative.
    """
    test = _test(rows, ignition, cylinders)
    judged = [(rule.limit.own, _judge_rule(rule, test)) for rule in rules]
    own = tuple(one for mine, one in judged if mine)
    practice = tuple(one for mine, one in judged if not mine)
    finding = [rule for rule in rules if rule.limit.own] or list(rules)
    patterns = _patterns(rows, test, finding, division, pattern_basis)
    return Compression(_overall(own, test), own, practice, patterns)


def altitude_minimum(label: str, rows: Sequence[AltitudeRow], altitude: Quantity, basis: str = "") -> Limit:
    """The minimum at an altitude from the record's table, as a limit for a rule of kind "minimum".

    Formula: linear between two rows, p = p1 + (p2 - p1)(h - h1)/(h2 - h1), in the unit of the first row.
    The table reaches as far as the first and the last row say in any unit: where 500 ft stands beside 152 m
    (498.7 ft), 152 m has the pressure of that row. Raise InputError: too-few rows (two needed), out-of-order (rows
    not rising), out-of-range outside the table, missing, wrong-unit, negative for a pressure.
    """
    if len(rows) < 2:
        raise InputError("too-few", label, "a table needs two rows or more")
    unit = _pressure_unit(rows[0].minimum)
    points = [(measured(row.altitude, "m", "altitude", negative=True), measured(row.minimum, unit, label)) for row in rows]
    for (lower, _), (upper, _) in pairwise(points):
        if compare(lower, upper) >= 0:
            raise InputError("out-of-order", label, "the altitudes of the table must rise from row to row")
    height = measured(altitude, "m", "altitude", negative=True)
    first, last = _all_heights(rows[0]), _all_heights(rows[-1])
    if compare(height, min(first)) < 0 or compare(height, max(last)) > 0:
        ends = " to ".join(" / ".join(map(say_quantity, (row.altitude, *row.also))) for row in (rows[0], rows[-1]))
        raise InputError("out-of-range", "altitude", f"the table covers {ends} and says nothing outside")
    inside = min(max(height, points[0][0]), points[-1][0])
    return Limit(label, low=Quantity(_between(points, inside), unit), basis=basis)


def leak_down(applied: Quantity, held: Quantity, limit: Limit | None) -> Result:
    """Loss in a leak-down test against a limit in %.

    Formula: loss = (applied - held) / applied, in percent. number: the loss. limit: its high bound, in %.
    Verdicts as `limits.judge`. That it is run and tested again: FAA AC 43.13-1B para 8-14/8-15, step (i).
    Raise InputError: missing, wrong-unit, negative, zero; out-of-order if more is held than was applied.
    """
    unit = _pressure_unit(applied)
    full = measured(applied, unit, "applied pressure", zero=False)
    left = measured(held, unit, "held pressure")
    if compare(left, full) > 0:
        raise InputError("out-of-order", "held pressure", "a cylinder cannot hold more than is applied")
    loss, held_text = Quantity(max(full - left, 0.0) / full * 100, "%"), f"{say(left, unit)} held of {say(full, unit)}"
    found = judge(loss, limit and replace(limit, label=f"{limit.label}, {held_text}"), "loss")
    reason = found.reason if limit else f"{held_text} is a loss of {say_quantity(loss)}, and this record has no limit for it."
    return replace(found, reason=reason, next_step=LEAK_NEXT.get(found.verdict, found.next_step))


def _pressure_unit(value: object) -> str:
    """The unit to answer in; kPa where the input is no pressure, for `measured` to refuse it."""
    return value.unit if isinstance(value, Quantity) and value.dimension == "pressure" else "kPa"


def _all_heights(row: AltitudeRow) -> list[float]:
    """The altitude of a row in m, by every unit it is printed in."""
    return [measured(each, "m", "altitude", negative=True) for each in (row.altitude, *row.also)]


def _between(points: Sequence[tuple[float, float]], height: float) -> float:
    for (lower, low), (upper, high) in pairwise(points):
        if compare(height, upper) <= 0:
            # the rows themselves come back as printed
            if compare(height, lower) == 0 or compare(height, upper) == 0:
                return low if compare(height, lower) == 0 else high
            return low + (high - low) * (height - lower) / (upper - lower)
    return points[-1][1]


# -- the readings --

def _test(rows: Sequence[Sequence[str]], ignition: str, cylinders: Sequence[Cylinder]) -> _Test:
    order = tuple(name for row in rows for name in row)
    _check_names(order, ignition, cylinders)
    unit = _pressure_unit(cylinders[0].dry)
    dry = {one.name: measured(one.dry, unit, f"No. {one.name}") for one in cylinders}
    wet = {one.name: measured(one.wet, unit, f"No. {one.name} wet") for one in cylinders if one.wet is not None}
    return _Test(order, unit, dry, wet, ignition)


def _check_names(order: Sequence[str], ignition: str, cylinders: Sequence[Cylinder]) -> None:
    if not order or not cylinders:
        raise InputError("too-few", "cylinders", "give at least one cylinder and one reading")
    if len(set(order)) < len(order):
        raise InputError("too-many", "rows", "name every cylinder once")
    if ignition not in (SPARK, DIESEL):
        raise InputError("unknown", "ignition", f"say {SPARK} or {DIESEL}")
    if len(cylinders) > len(order):
        raise InputError("too-many", "cylinders", f"{len(cylinders)} readings for {len(order)} cylinders")
    seen: set[str] = set()
    for one in cylinders:
        if one.name not in order:
            raise InputError("unknown", "cylinders", f"there is no No. {one.name} in this engine")
        if one.name in seen:
            raise InputError("too-many", f"No. {one.name}", "give one reading a cylinder")
        if one.wet is not None and ignition == DIESEL:
            raise InputError("refused", f"No. {one.name} wet", "no wet test on a diesel; compare its cylinders or test it for leakage")
        seen.add(one.name)


# -- the rules --

def _judge_rule(rule: Rule, test: _Test) -> Judged:
    if rule.kind not in _MEASURES:
        raise InputError("unknown", rule.limit.label, f"a rule is one of {', '.join(_MEASURES)}")
    check_bounds(rule.limit, "%" if rule.kind in _SHARES else test.unit)
    if rule.limit.low is None and rule.limit.high is None:
        verdict = NO_NUMBER if rule.limit.own else PRACTICE
        return Judged(rule.kind, Result(verdict, f"{rule.limit.label}: the source gives no number.", NEXT[verdict], None, rule.limit.basis))
    return _hindered(rule, test) or _compared(rule, test)


def _hindered(rule: Rule, test: _Test) -> Judged | None:
    """A rule that compares cylinders, where there is nothing to compare."""
    label, total, read = rule.limit.label, len(test.order), len(test.dry)
    if rule.kind == MINIMUM:
        return None
    if total == 1:
        return _without(rule, DOES_NOT_APPLY, f"{label}: one cylinder has nothing to be compared with.")
    if read < total:
        return _without(rule, NOT_COMPUTED, f"{label}: it compares all cylinders, and {read} of {total} {_were(read, 'is', 'are')} read.")
    if test.highest == 0 and rule.kind != SPREAD:
        return _without(rule, DOES_NOT_APPLY, f"{label}: no cylinder shows any compression.")
    return None


def _without(rule: Rule, verdict: str, reason: str) -> Judged:
    return Judged(rule.kind, Result(verdict, reason, NEXT[verdict], None, rule.limit.basis))


def _compared(rule: Rule, test: _Test) -> Judged:
    failing = tuple(name for name in test.read if _fails(rule, test, test.dry[name]))
    low = [name for name in failing if not _is_high(rule, test, name)]
    high = bool(failing) and not low
    names = low or failing or tuple(test.read)
    deciding = (max if high else min)(names, key=test.dry.__getitem__)
    label = f"{rule.limit.label}, {_named(names if failing else [deciding], test.dry[deciding], 'highest' if high else 'lowest', test)}"
    result = judge(_measure(rule, test, test.dry[deciding]), replace(rule.limit, label=label), rule.limit.label, signed=True)
    return Judged(rule.kind, replace(result, next_step=_next(result.verdict, names, high, test)), failing)


def _measure(rule: Rule, test: _Test, pressure: float) -> Quantity:
    """What the rule measures of one cylinder, in the unit of its limit."""
    number = _MEASURES[rule.kind](pressure, test.highest, test.mean)
    if rule.kind in _SHARES:
        return Quantity(number, "%")
    bound = rule.limit.low or rule.limit.high
    unit = bound.unit if bound is not None and bound.dimension == "pressure" else test.unit
    return Quantity(number, test.unit).converted(unit)


def _fails(rule: Rule, test: _Test, pressure: float) -> bool:
    found = judge(_measure(rule, test, pressure), replace(rule.limit, own=True), rule.limit.label, signed=True)
    return found.verdict != WITHIN


def _is_high(rule: Rule, test: _Test, name: str) -> bool:
    """Whether a cylinder fails by standing above a normal range; every other failing is a low one."""
    if rule.kind != MINIMUM:
        return False
    return judge(_measure(rule, test, test.dry[name]), replace(rule.limit, own=True), rule.limit.label).verdict == OVER


def _named(names: Sequence[str], pressure: float, end: str, test: _Test) -> str:
    which = "" if len(names) == 1 else f", the {end}"
    return f"{_numbers(names)}{which} at {say(pressure, test.unit)}"


def _next(verdict: str, names: Sequence[str], high: bool, test: _Test) -> str:
    if verdict in NEXT:
        return NEXT[verdict]
    numbers = _numbers(names)
    if high:
        return HIGH_NEXT.format(numbers)
    if test.ignition == DIESEL:
        return DIESEL_NEXT.format(numbers)
    return (ALREADY_WET_NEXT if all(name in test.wet for name in names) else WET_NEXT).format(numbers)


def _numbers(names: Sequence[str]) -> str:
    return f"No{'s' if len(names) > 1 else ''}. {listing(tuple(names))}"


def _were(count: int, single: str, several: str) -> str:
    return single if count == 1 else several


def _overall(own: Sequence[Judged], test: _Test) -> Result:
    if own:
        return min(own, key=lambda one: WEIGHT.index(one.result.verdict)).result
    readings = listing(tuple(say(test.dry[name], test.unit) for name in test.read))
    return Result(NO_LIMIT, f"{readings} {_were(len(test.read), 'was', 'were')} read, and this record has no rule for them.", NEXT[NO_LIMIT])


# -- the patterns --

def _patterns(
    rows: Sequence[Sequence[str]], test: _Test, rules: Sequence[Rule], division: Quantity | None, basis: str,
) -> tuple[Pattern, ...]:
    smallest = 0.0 if division is None else measured(division, test.unit, "division")
    broken = {name: _broken(rules, test, name) for name in test.read}
    low = [name for name in test.read if broken[name]]
    if len(low) > 1 and len(low) == len(test.order):
        return (_all_low(test, basis),)
    # of two cylinders both low is all low, so two never get here; while some are unread, all may be low
    runs = _runs(rows, low) if len(test.read) == len(test.order) else []
    together = [_neighbours(run, test, basis) for run in runs]
    neighbours = {name for run in runs for name in run}
    alone = [_wet(name, broken[name], test, smallest, basis) for name in low if name in test.wet or name not in neighbours]
    return (*together, *alone)


def _broken(rules: Sequence[Rule], test: _Test, name: str) -> list[Rule]:
    """The rules by which a cylinder is low; one above a normal range is not."""
    usable = [rule for rule in rules if (rule.limit.low or rule.limit.high) and not _hindered(rule, test)]
    return [rule for rule in usable if _fails(rule, test, test.dry[name]) and not _is_high(rule, test, name)]


def _runs(rows: Sequence[Sequence[str]], low: Sequence[str]) -> list[list[str]]:
    """Stretches of two or more low cylinders side by side in one row."""
    runs: list[list[str]] = []
    for row in rows:
        run: list[str] = []
        for name in row:
            if name in low:
                run.append(name)
            else:
                runs.append(run)
                run = []
        runs.append(run)
    return [run for run in runs if len(run) > 1]


def _all_low(test: _Test, basis: str) -> Pattern:
    reason = f"All {len(test.order)} cylinders are low, the highest at {say(test.highest, test.unit)}: look for one cause common to them."
    return Pattern(ALL_LOW, test.order, reason, PATTERN_NEXT[ALL_LOW], basis)


def _neighbours(run: Sequence[str], test: _Test, basis: str) -> Pattern:
    readings = listing(tuple(say(test.dry[name], test.unit) for name in run))
    reason = f"{_numbers(run)} are neighbours and low, {readings}: the head gasket may leak between them."
    return Pattern(NEIGHBOURS_LOW, tuple(run), reason, PATTERN_NEXT[NEIGHBOURS_LOW], basis)


def _wet(name: str, broken: Sequence[Rule], test: _Test, smallest: float, basis: str) -> Pattern:
    dry, wet = test.dry[name], test.wet.get(name)
    if wet is None:
        step = DIESEL_NEXT if test.ignition == DIESEL else WET_NEXT
        return Pattern(ONE_LOW, (name,), f"No. {name} is low, {say(dry, test.unit)}.", step.format(f"No. {name}"), basis)
    kind = _oil(dry, wet, broken, test, smallest)
    reason = f"No. {name}: {kind}, {say(dry, test.unit)} dry and {say(wet, test.unit)} wet."
    return Pattern(kind, (name,), reason, PATTERN_NEXT[kind], basis)


def _oil(dry: float, wet: float, broken: Sequence[Rule], test: _Test, smallest: float) -> str:
    """Lifted: it keeps every rule that it broke dry. Not lifted: no rise that the gauge can show."""
    if compare(wet - dry, smallest) <= 0:
        return OIL_DOES_NOTHING
    return OIL_HELPS_A_LITTLE if any(_fails(rule, test, wet) for rule in broken) else OIL_LIFTS
