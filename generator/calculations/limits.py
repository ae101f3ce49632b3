"""A reading, or several with a spread, against the bounds that a source gives.

Bolt length, neck, valve recession, liner stand-out, head height, clearance: whatever is one number
against one or two bounds. A bound may be reached ("max", "min") unless the limit is strict ("under",
"over"). A reading equals a bound within a relative 1e-9 (see `wording.compare`), so 0.1 mm measured
reaches 0.1 mm printed, and 25.4 mm reaches 1 in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.calculations.result import InputError, Limit, Result, check_bounds, measured
from generator.calculations.wording import bounds_text, compare, say, say_beside, say_quantity
from generator.quantities import UNITS, Quantity

WITHIN, OVER, UNDER = "within", "over", "under"
NO_LIMIT, NO_NUMBER, PRACTICE = "no limit", "no number", "practice only"
SAY_WHICH, CONDITION_FAILS = "say which", "condition not met"

# What weighs most first: the verdict on several readings is the weightiest of theirs.
WEIGHT = (OVER, UNDER, CONDITION_FAILS, SAY_WHICH, NO_NUMBER, NO_LIMIT, PRACTICE, WITHIN)

NEXT = {
    WITHIN: "Write it down and go on.",
    OVER: "Do not fit it like this: do what the manual says past the limit, or ask the machine shop.",
    UNDER: "Do not fit it like this: do what the manual says past the limit, or ask the machine shop.",
    NO_LIMIT: "Write the reading down and look the limit up in the manual of this engine.",
    NO_NUMBER: "Judge it by what the source says, and write down what you found.",
    PRACTICE: "Write the reading down and look up this engine's own limit before deciding.",
    SAY_WHICH: "Say which of these holds, then read the verdict.",
    CONDITION_FAILS: "Settle the other reading first.",
}


@dataclass(frozen=True, slots=True)
class Reading:
    """One of several readings of a kind: the name of the place (bolt 3, No. 2) and the value."""

    name: str
    value: Quantity


@dataclass(frozen=True, slots=True)
class Case:
    """A limit that holds under a condition: when "cold", "new", "long bolts"."""

    when: str
    limit: Limit


@dataclass(frozen=True, slots=True)
class Several:
    """each: one Result a reading, in the order given. spread: of the whole row, None if nothing limits it.

    result: the weightiest of all of these; of equals, the first reading.
    """

    each: tuple[Result, ...]
    spread: Result | None
    result: Result


def judge(reading: Quantity, limit: Limit | None, field: str = "reading", *, signed: bool = False) -> Result:
    """Judge one reading against one limit.

    reading: any quantity of the limit's dimension. limit: None if the record has none.
    signed: whether a value below zero can be measured (recession, stand-out, protrusion can be).
    Verdicts: within, over, under, no limit (None), no number (both bounds missing), practice only
    (the limit is not this engine's). number: the reading. Formula: reading <= high and reading >= low,
    < and > where the limit is strict.
    Raise InputError: missing, wrong-unit (a bound that is a bare number too), negative, out-of-range; out-of-order
    if the low bound is above the high one.
    """
    if limit is None or (limit.low is None and limit.high is None):
        return _without_number(reading, limit, field, signed)
    _check_band(limit, _unit_of(reading))
    side, bound = _side(reading, limit, field, signed)
    reason = f"{limit.label}: {_words(reading, side, bound, limit)}"
    verdict = side
    if not limit.own:
        verdict = PRACTICE
        against = f"{say_beside(reading, bound)} against {bounds_text(limit)}"
        reason = f"{limit.label}: {against}, a rule of practice and not this engine's limit."
    return Result(verdict, reason, NEXT[verdict], reading, limit.basis)


def judge_when(reading: Quantity, cases: Sequence[Case], when: str | None, field: str = "reading", *, signed: bool = False) -> Result:
    """Judge a reading whose limit depends on a condition.

    when: the condition that holds, None if the reader has not said: verdict "say which". A case without
    condition has "" and holds where none of the others does; alone it needs no saying. Raise InputError: unknown
    for a condition that no case has, else as `judge`.
    """
    conditional = any(case.when for case in cases)
    wanted = "" if when is None and not conditional else when
    found = next((case for case in cases if case.when == wanted), None)
    if found or not cases:
        return judge(reading, found.limit if found else None, field, signed=signed)
    choices = "; ".join(case.when or "none of these" for case in cases)  # a condition may have a comma of its own
    if when is not None:
        raise InputError("unknown", "when", f"say one of: {choices}")
    reason = f"{cases[0].limit.label}: the limit depends on which of these holds: {choices}."
    return Result(SAY_WHICH, reason, NEXT[SAY_WHICH], reading)


def judge_provided(result: Result, conditions: Sequence[Result]) -> Result:
    """Keep a verdict "within" only while every condition is within too; else "condition not met".

    For limits that a source gives only while another figure holds. Any other verdict stands as it is.
    """
    broken = [condition for condition in conditions if condition.verdict != WITHIN]
    if result.verdict != WITHIN or not broken:
        return result
    reason = f"{result.reason.removesuffix('.')}, but that counts only while another figure holds, and it is not shown to: {broken[0].reason}"
    return Result(CONDITION_FAILS, reason, NEXT[CONDITION_FAILS], result.number, broken[0].basis)


def judge_several(
    readings: Sequence[Reading], limit: Limit | None, spread: Limit | None = None, field: str = "readings", *, signed: bool = False,
) -> Several:
    """Judge each reading and the spread of all: spread = highest - lowest, in the unit of the spread limit.

    Raise InputError: too-few without a reading, or with one where a spread is limited; too-many for a name
    that comes twice; else as `judge`.
    """
    _check_names(readings, field)
    if not readings or (spread is not None and len(readings) < 2):
        raise InputError("too-few", field, "a spread needs two readings or more" if readings else "give at least one reading")
    each = tuple(_named(one, judge(one.value, limit, f"{field}: {one.name}", signed=signed)) for one in readings)
    of_all = None if spread is None else _spread(readings, spread, field, signed)
    every = [*each, of_all] if of_all else list(each)
    return Several(each, of_all, min(every, key=lambda result: WEIGHT.index(result.verdict)))


def _named(reading: Reading, result: Result) -> Result:
    return Result(result.verdict, f"{reading.name}: {result.reason}", result.next_step, result.number, result.basis)


def _spread(readings: Sequence[Reading], limit: Limit, field: str, signed: bool) -> Result:
    check_bounds(limit, readings[0].value.unit)
    bound = limit.high or limit.low or readings[0].value
    unit = bound.unit
    values = [measured(one.value, unit, f"{field}: {one.name}", negative=signed) for one in readings]
    return judge(Quantity(max(values) - min(values), unit), limit, field)


def _check_names(readings: Sequence[Reading], field: str) -> None:
    seen: set[str] = set()
    for reading in readings:
        if reading.name in seen:
            raise InputError("too-many", field, f"two readings for {reading.name}; give one")
        seen.add(reading.name)


def _unit_of(reading: object) -> str:
    return reading.unit if isinstance(reading, Quantity) else "its unit"


def _check_band(limit: Limit, unit: str) -> None:
    check_bounds(limit, unit)
    if limit.low is None or limit.high is None:
        return
    low = measured(limit.low, limit.high.unit, limit.label, negative=True)
    order = compare(low, limit.high.value)
    if order > 0 or (order == 0 and limit.strict):
        raise InputError("out-of-order", limit.label, "the lower bound must be below the upper one")


def _without_number(reading: Quantity, limit: Limit | None, field: str, signed: bool) -> Result:
    measured(reading, _unit_of(reading), field, negative=signed)
    if limit is None:
        return Result(NO_LIMIT, f"{say_quantity(reading)} was measured, and this record has no limit for it.", NEXT[NO_LIMIT], reading)
    verdict = NO_NUMBER if limit.own else PRACTICE
    reason = f"{limit.label}: {say_quantity(reading)} was measured, and the source gives no number to hold it against."
    return Result(verdict, reason, NEXT[verdict], reading, limit.basis)


def _side(reading: Quantity, limit: Limit, field: str, signed: bool) -> tuple[str, Quantity]:
    """The verdict by numbers, and the bound that decides: the one passed, or the nearest."""
    nearest: list[tuple[float, Quantity]] = []
    for verdict, bound, wrong in ((OVER, limit.high, 1), (UNDER, limit.low, -1)):
        if bound is None:
            continue
        value = measured(reading, bound.unit, field, negative=signed)
        order = compare(value, bound.value)
        if order == wrong or (order == 0 and limit.strict):
            return verdict, bound
        # the two bounds may be printed in two units
        nearest.append((abs(value - bound.value) * float(UNITS[bound.unit].factor), bound))
    return WITHIN, min(nearest, key=lambda pair: pair[0])[1]


def _words(reading: Quantity, side: str, bound: Quantity, limit: Limit) -> str:
    value = reading.to(bound.unit)
    text, bounds = say_beside(reading, bound), bounds_text(limit)
    if compare(value, bound.value) == 0:
        ending = "is exactly on the bound, which is allowed" if side == WITHIN else "is exactly on the bound, which is not allowed"
        return f"{text} {ending} ({bounds})."
    gap = say(abs(value - bound.value), bound.unit)
    return f"{text} is {side} the limit ({bounds}) by {gap}."
