"""A measured or computed value with its unit, and how such a value is shown."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Context, Decimal
from math import isfinite

from generator.quantities.units import UNITS

# More digits than any finite float has before its point, with room behind it.
_DIGITS = Context(prec=400)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A finite value in a unit. Raise ValueError for NaN, infinity or an unknown unit."""

    value: float
    unit: str

    def __post_init__(self) -> None:
        if self.unit not in UNITS:
            raise ValueError(f"unit {self.unit!r} is not known")
        if not isfinite(self.value):
            raise ValueError(f"{self.value} is not a finite number")

    @property
    def dimension(self) -> str:
        """What it measures: length, torque, pressure, …"""
        return UNITS[self.unit].dimension

    def to(self, unit: str) -> float:
        """The value in another unit of the same dimension; ValueError for another dimension."""
        here, there = UNITS[self.unit], UNITS[unit]
        if here.dimension != there.dimension:
            raise ValueError(f"{self.unit} measures {here.dimension}, {unit} measures {there.dimension}")
        if here is there:
            return self.value
        base = (self.value + float(here.offset)) * float(here.factor)
        return base / float(there.factor) - float(there.offset)

    def converted(self, unit: str) -> Quantity:
        """The same in another unit; errors as `to`."""
        return Quantity(self.to(unit), unit)


def shown(value: float, decimals: int) -> str:
    """Decimal text of a value, halves away from zero on its shortest decimal text.

    The browser rounds the same text by the same rule, so both show the same digits.
    """
    step = Decimal((0, (1,), -decimals))
    text = format(Decimal(repr(float(value))).quantize(step, rounding=ROUND_HALF_UP, context=_DIGITS), "f")
    return text if text.strip("-0.") else text.lstrip("-")
