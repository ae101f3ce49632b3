"""How numbers are compared and said in a reason. Fixed templates, no locale."""

from __future__ import annotations

from collections.abc import Iterable

from generator.calculations.result import Limit
from generator.quantities import Quantity, shown

# Two values this close are one value: the error of binary arithmetic and of a conversion there and
# back is near 1e-15 of the value, the finest tool of the job resolves about 1e-6 of what it measures.
RELATIVE = 1e-9
# Beside zero nothing is relative; 1e-12 of any unit used here is far below every tool.
ABSOLUTE = 1e-12

# The decimals that a computed value is rounded to; zeros at the end are dropped.
DECIMALS = {
    "mm": 4, "um": 2, "m": 3, "in": 5, "uin": 1, "ft": 2, "deg": 2,
    "N.m": 1, "lbf.ft": 1, "lbf.in": 1, "kgf.m": 2, "kgf.cm": 1,
    "kPa": 1, "MPa": 3, "bar": 2, "psi": 1, "kgf/cm2": 2, "mmHg": 1, "inHg": 2, "%": 1,
    "N": 0, "lbf": 0, "kgf": 0, "kN": 1, "mm2": 1, "in2": 4, "cm3": 2, "ratio": 2,
}
_OTHERS = 3
_MOST = 15
# A value of no more digits than these was printed or typed, and is said whole: a target of 2.9 N.m
# must not be refused for lying below `2.9 N.m` where the manual prints 2.94 N.m.
_PRINTED = 4


def compare(one: float, other: float) -> int:
    """-1, 0 or 1 as `one` is less than, the same as or more than `other` (both in one unit).

    The same: apart by no more than RELATIVE of the larger, or by ABSOLUTE.
    """
    nearness = max(abs(one), abs(other)) * RELATIVE
    if abs(one - other) <= max(nearness, ABSOLUTE):
        return 0
    return -1 if one < other else 1


def total(values: Iterable[float]) -> float:
    """The sum, added one by one: the library's own differs between versions, and the browser's twin must say the same."""
    found = 0.0
    for each in values:
        found += each
    return found


def number_text(value: float, decimals: int) -> str:
    """Digits without zeros at the end; more decimals than asked for rather than a 0 that is none."""
    places = decimals
    text = shown(value, places)
    while text.strip("-0.") == "" and abs(value) > ABSOLUTE and places < _MOST:
        places += 1
        text = shown(value, places)
    return _without_zeros(text)


def say(value: float, unit: str) -> str:
    """Value and unit, for example `0.05 mm`."""
    return f"{number_text(value, _decimals(value, unit))} {unit}"


def say_rounded(value: float, unit: str) -> str:
    """The same for a value that is computed, whatever its digits."""
    return f"{number_text(value, DECIMALS.get(unit, _OTHERS))} {unit}"


def say_number(quantity: Quantity) -> str:
    """The digits of a quantity without its unit."""
    return number_text(quantity.value, _decimals(quantity.value, quantity.unit))


def say_quantity(quantity: Quantity) -> str:
    """The same for a quantity, in its own unit."""
    return say(quantity.value, quantity.unit)


def say_range(low: Quantity, high: Quantity) -> str:
    """Two bounds, for example `39.2 to 44.1 N.m`; the unit stands once if both share it."""
    return _band(low, high) if low.unit == high.unit else f"{say_quantity(low)} to {say_quantity(high)}"


def say_apart(value: float, other: float, unit: str) -> str:
    """`value` with as many decimals as it takes to look different from `other`, where it is different."""
    places = _decimals(value, unit)
    while compare(value, other) != 0 and shown(value, places) == shown(other, places) and places < _MOST:
        places += 1
    return f"{number_text(value, places)} {unit}"


def say_beside(quantity: Quantity, bound: Quantity) -> str:
    """A reading as it was taken, and in the unit of the bound where that is another."""
    there = say_apart(quantity.to(bound.unit), bound.value, bound.unit)
    return there if quantity.unit == bound.unit else f"{say_quantity(quantity)} ({there})"


def bounds_text(limit: Limit) -> str:
    """What a limit allows: `max 0.1 mm`, `under 0.1 mm`, `0.45 to 0.9 mm`; `no number` where it has none."""
    low, high = limit.low, limit.high
    if low is not None and high is not None:
        text = say_range(low, high)
        return f"{text}, ends not allowed" if limit.strict else text
    if high is not None:
        return f"{'under' if limit.strict else 'max'} {say_quantity(high)}"
    if low is not None:
        return f"{'over' if limit.strict else 'min'} {say_quantity(low)}"
    return "no number"


def listing(names: list[str] | tuple[str, ...]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def _decimals(value: float, unit: str) -> int:
    usual = DECIMALS.get(unit, _OTHERS)
    for places in range(usual, _MOST):
        text = shown(value, places)
        if len(text.replace(".", "").strip("-0")) > _PRINTED:
            break
        if compare(float(text), value) == 0:
            return places
    return usual


def _band(low: Quantity, high: Quantity) -> str:
    return f"{say_number(low)} to {say_quantity(high)}"


def _without_zeros(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text
