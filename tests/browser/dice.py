"""A seeded random that throws what a person at the bench may type: mostly good, often of few digits, now and then of no use."""

from __future__ import annotations

from random import Random
from typing import Any

from generator.calculations.result import Limit
from generator.quantities import Quantity

LENGTHS = {"mm": 1.0, "in": 25.4, "um": 0.001}
TORQUES = {"N.m": 1.0, "lbf.ft": 1.355818, "kgf.m": 9.80665, "lbf.in": 0.112985}
PRESSURES = {"psi": 1.0, "kPa": 0.145038, "bar": 14.50377, "kgf/cm2": 14.22334}
VOLUMES = {"cm3": 1.0, "in3": 16.387064}


class Dice(Random):
    """Random with the throws of the parity test. Ranges are in the first unit of a table of units."""

    def often(self, share: float) -> bool:
        return self.random() < share

    def pick(self, *options: Any) -> Any:
        return self.choice(options)

    def maybe(self, value: Any, share: float = 0.5) -> Any:
        """The value, or None."""
        return value if self.often(share) else None

    def of(self, units: dict[str, float], low: float, high: float) -> Quantity:
        """A value in any of the units."""
        unit = self.choice(list(units))
        value = self.uniform(low, high) / units[unit]
        return Quantity(value if self.often(0.2) else float(f"{value:.{self.randint(1, 5)}g}"), unit)

    def length(self, low: float, high: float) -> Quantity:
        return self.of(LENGTHS, low, high)

    def torque(self, low: float, high: float) -> Quantity:
        return self.of(TORQUES, low, high)

    def pressure(self, low: float, high: float) -> Quantity:
        return self.of(PRESSURES, low, high)

    def volume(self, low: float, high: float) -> Quantity:
        return self.of(VOLUMES, low, high)

    def spoilt(self, value: Any, share: float = 0.02) -> Any:
        """The value, or now and then what nobody can use: missing, bare or odd."""
        return self.pick(None, 0.05, self.odd(value)) if self.often(share) else value

    def odd(self, value: Any) -> Quantity:
        """A quantity that nobody measures."""
        unit = value.unit if isinstance(value, Quantity) else "mm"
        return self.pick(Quantity(5.0, "h"), *(Quantity(each, unit) for each in (0.0, -0.0, -1.5, 1e61, 1e-61)))

    def bound(self, units: dict[str, float], at: float) -> Any:
        """Near a value, now and then odd or bare, never missing: no bound is another limit."""
        found = self.of(units, at * 0.6, at * 1.4)
        return self.pick(self.odd(found), at, 0) if self.often(0.015) else found

    def limit(self, units: dict[str, float], at: float, sides: str = "both") -> Limit:
        low = self.maybe(self.bound(units, at * 0.7), 0.6) if sides != "high" else None
        high = self.maybe(self.bound(units, at), 0.8) if sides != "low" else None
        return Limit(self.pick("Head face", "Stand-out"), low, high, self.often(0.3), self.pick("", "book p. 1"), self.often(0.85))
