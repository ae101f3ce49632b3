"""What a person types in a field, as a quantity.

Understood: `0.05`, `.002`, `0,05`, `2/1000`, `2 7/8 in`, `0.05 mm`, a sign in front.
A unit in the text stands instead of the field's. A comma with three digits behind it
may part thousands, so it is refused with both readings named, except after a lone 0.
"""

from __future__ import annotations

import re

from generator.calculations.result import InputError
from generator.quantities import UNITS, Quantity, Unit, UnitError, unit_named, units_of
from generator.quantities.numbers import NUMBER, read_number, tidied

# A longer text is no reading; the bound also keeps every value far from infinity.
LONGEST = 60
_SPLIT = re.compile(rf"({NUMBER}|[+-]?\d*,\d+)\s*((?:[A-Za-z%°µμ\":].*)?)", re.ASCII)
# "1e5" is a way of computers to write a number, not a unit called e5
_EXPONENT = re.compile(r"e[+-]?\d", re.IGNORECASE | re.ASCII)
_MAY_PART_THOUSANDS = re.compile(r"[+-]?0*[1-9]\d{0,2},\d{3}", re.ASCII)
# How the hint of a name begins that does not stand for two things.
_LISTS = ("write one of", "did you mean")
_HOW = "write one number, for example 0.05 or 2 7/8"


def read_entry(text: str, unit: str, field: str) -> Quantity:
    """Read one typed value; without a unit of its own it is in `unit`.

    text: at most LONGEST characters. unit: the field's unit. field: its name, for messages.
    Raise InputError: missing (nothing typed), ambiguous (`1,524`), not-a-number, unknown (a unit
    that does not exist), wrong-unit (one that measures something else). Signs are read, not judged.
    """
    digits, name = _parts(text, field)
    return Quantity(_number(digits, field), _unit(name, unit, field).symbol)


def read_amount(text: str, field: str) -> float:
    """Read a sum of money, the one input without a unit. Raise InputError as `read_entry` does."""
    digits, name = _parts(text, field)
    if name:
        raise InputError("not-a-number", field, "write the amount alone, for example 120.50")
    return _number(digits, field)


def _parts(text: str, field: str) -> tuple[str, str]:
    tidy = tidied(text)
    if not tidy:
        raise InputError("missing", field, _HOW)
    match = _SPLIT.fullmatch(tidy) if len(tidy) <= LONGEST else None
    if not match or _EXPONENT.match(match[2]):
        raise InputError("not-a-number", field, _HOW)
    return match[1], match[2]


def _number(digits: str, field: str) -> float:
    if _MAY_PART_THOUSANDS.fullmatch(digits):
        joined, point = digits.replace(",", ""), digits.replace(",", ".")
        raise InputError("ambiguous", field, f"write {joined} if the comma parts thousands, {point} if it is the decimal point")
    try:
        return float(read_number(digits.replace(",", ".")).value)
    except ValueError:
        raise InputError("not-a-number", field, _HOW) from None


def _unit(name: str, default: str, field: str) -> Unit:
    wanted = UNITS[default]
    if not name:
        return wanted
    try:
        found = unit_named(name.strip())
    except UnitError as error:
        choices = ", ".join(units_of(wanted.dimension))
        twofold = "" if error.hint.startswith(_LISTS) else f" ({error.hint})"
        raise InputError("unknown", field, f"the unit {name.strip()} is not known; write one of {choices}{twofold}") from None
    if found.dimension != wanted.dimension:
        raise InputError("wrong-unit", field, f"{found.symbol} measures {found.dimension}; give a value in {wanted.symbol}")
    return found
