"""Numbers as printed: the digits are kept, the value and its last step are exact."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

NUMBER = r"[+-]?(?:\d+[ -]\d+/\d+|\d+/\d+|\d+\.\d+|\.\d+|\d+)"
_PARTS = re.compile(r"([+-]?)(?:(?:(\d+)[ -])?(\d+)/(\d+)|(\d*)(?:\.(\d+))?)", re.ASCII)
_SPACE = re.compile(r"\s")


@dataclass(frozen=True, slots=True)
class Number:
    """A printed number. text: its digits in canonical form. value: exact.

    step: what one unit of the last printed digit is worth (0.01 for 0.10, 1/8 for
    2 7/8). rounded_step: the same if trailing zeros of a whole number are
    rounding (10 for 90), as far as that takes at most a tenth of it: 100 may be
    rounded to tens, not to hundreds.
    """

    text: str
    value: Fraction
    step: Fraction
    rounded_step: Fraction


def tidied(text: str) -> str:
    """Typed or printed text with every space a plain one and none around, and the minus sign of the keyboard."""
    return _SPACE.sub(" ", text).strip().replace("\u2212", "-")


def read_number(text: str) -> Number:
    """Read digits that match NUMBER; raise ValueError for a zero denominator."""
    match = _PARTS.fullmatch(text.strip())
    if not match:
        raise ValueError(f"{text!r} is not a number")
    sign, whole, top, bottom, digits, decimals = match.groups()
    minus = "-" if sign == "-" else ""
    if bottom is not None:
        return _vulgar(minus, whole, int(top), int(bottom))
    return _decimal(minus, digits or "0", decimals or "")


def _vulgar(minus: str, whole: str | None, top: int, bottom: int) -> Number:
    if bottom == 0:
        raise ValueError("a fraction with 0 below the line")
    size = Fraction(top, bottom) + int(whole or 0)
    text = f"{minus}{int(whole)} {top}/{bottom}" if whole else f"{minus}{top}/{bottom}"
    step = Fraction(1, bottom)
    return Number(text, -size if minus else size, step, step)


def _decimal(minus: str, digits: str, decimals: str) -> Number:
    text = f"{minus}{int(digits)}" + (f".{decimals}" if decimals else "")
    scale = 10 ** len(decimals)
    step = Fraction(1, scale)
    zeros = 0 if decimals else len(digits) - len(digits.rstrip("0"))
    whole = str(int(digits))
    most = len(whole) - (1 if whole[0] >= "5" else 2)
    rounded = step * 10 ** min(zeros, most) if zeros and most > 0 else step
    return Number(text, Fraction(int(f"{minus}{digits}{decimals}"), scale), step, rounded)


def power_of_ten_not_above(step: Fraction) -> int:
    """Exponent e of the largest 10**e that is not above `step` (> 0)."""
    exponent = len(str(step.numerator)) - len(str(step.denominator))
    return exponent if Fraction(10) ** exponent <= step else exponent - 1


def half_away_from_zero(value: Fraction) -> int:
    """Round to the nearest whole number, halves away from zero."""
    size = floor(abs(value) + Fraction(1, 2))
    return -size if value < 0 else size


ROUNDERS: dict[str, Callable[[Fraction], int]] = {"nearest": half_away_from_zero, "down": floor, "up": ceil}


def number_at(value: Fraction, exponent: int, direction: str) -> Number:
    """The number with its last digit at 10**exponent, rounded "nearest", "down" or "up"."""
    unit = Fraction(10) ** exponent
    count = ROUNDERS[direction](value / unit)
    text = decimal_text(count, exponent)
    return Number(text, count * unit, unit, unit)


def decimal_text(count: int, exponent: int) -> str:
    """Write count * 10**exponent as a decimal with every digit down to the exponent."""
    if exponent >= 0:
        return str(count * 10**exponent)
    digits = str(abs(count)).rjust(1 - exponent, "0")
    sign = "-" if count < 0 else ""
    return f"{sign}{digits[:exponent]}.{digits[exponent:]}"
