"""Do the units printed side by side say the same thing?

Each printed number stands for the interval of half a digit on both sides; two
printed units agree where those intervals overlap.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from generator.quantities.numbers import Number, number_at, power_of_ten_not_above
from generator.quantities.statement import Statement
from generator.quantities.units import Unit

AGREE, ROUNDING, DISAGREE = "agree", "agree if trailing zeros are rounding", "disagree"
_DIGITS = 6
_WORST_LAST = (AGREE, ROUNDING, DISAGREE)
_ENDS = {"range": ("low end", "high end"), "tolerance": ("value", "upper tolerance", "lower tolerance")}


@dataclass(frozen=True, slots=True)
class Agreement:
    """verdict: AGREE, ROUNDING or DISAGREE. says: where they part, in words; empty if they agree."""

    verdict: str
    says: str = ""


_AGREED = Agreement(AGREE)


def agreement(printed: Sequence[Statement]) -> Agreement:
    """Compare every two readable statements of one figure; the worst pair decides."""
    readable = [statement for statement in printed if statement.unit]
    if len(readable) < 2:
        return _AGREED
    found = [_pair(one, other) for one, other in combinations(readable, 2)]
    return max(found, key=lambda each: _WORST_LAST.index(each.verdict))


def _pair(one: Statement, other: Statement) -> Agreement:
    if one.unit is None or other.unit is None:
        return _AGREED
    if one.unit.dimension != other.unit.dimension:
        return Agreement(DISAGREE, f"{one} and {other} are not of one kind")
    if one.form != other.form:
        return Agreement(DISAGREE, f"{one} and {other} do not say the same: {one.form}, {other.form}")
    ends = _ENDS.get(one.form, ("",))
    pairs = zip(ends, one.numbers, other.numbers, strict=True)
    found = [_numbers(end, a, one.unit, b, other.unit) for end, a, b in pairs]
    return max(found, key=lambda each: _WORST_LAST.index(each.verdict))


def _numbers(end: str, a: Number, a_unit: Unit, b: Number, b_unit: Unit) -> Agreement:
    difference = end.endswith("tolerance")  # a tolerance of a temperature has no zero point
    if _overlap(a, a.step, a_unit, b, b.step, b_unit, difference):
        return _AGREED
    rounding = _overlap(a, a.rounded_step, a_unit, b, b.rounded_step, b_unit, difference)
    return Agreement(ROUNDING if rounding else DISAGREE, _words(end, a, a_unit, b, b_unit))


def _overlap(a: Number, a_step: Fraction, a_unit: Unit, b: Number, b_step: Fraction, b_unit: Unit, difference: bool) -> bool:
    """Whether the two are no further apart than half a step of each."""
    apart = _in_base(a, a_unit, difference) - _in_base(b, b_unit, difference)
    return 2 * abs(apart) <= a_step * a_unit.factor + b_step * b_unit.factor


def _in_base(number: Number, unit: Unit, difference: bool) -> Fraction:
    return number.value * unit.factor if difference or not unit.offset else unit.to_base(number.value)


def _words(end: str, a: Number, a_unit: Unit, b: Number, b_unit: Unit) -> str:
    there = b_unit.from_base(a_unit.to_base(a.value))
    place = f"{end}: " if end else ""
    return f"{place}{a.text} {a_unit.symbol} is {_about(there)} {b_unit.symbol}, printed {b.text} {b_unit.symbol}"


def _about(value: Fraction) -> str:
    """Six digits of a value, without zeros at the end."""
    if value == 0:
        return "0"
    text = number_at(value, power_of_ten_not_above(abs(value)) - _DIGITS + 1, "nearest").text
    return text.rstrip("0").rstrip(".") if "." in text else text
