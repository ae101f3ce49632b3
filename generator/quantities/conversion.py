"""Conversion of a printed statement into a unit that was not printed.

The step of the result is the largest power of ten not above the step of the
printed value, in the new unit. Limits and tolerance bands round inward (a maximum
down, a minimum up), so that a converted figure never allows what the printed one
forbids; nominal values and descriptive ranges round to the nearest.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from generator.quantities.numbers import Number, number_at, power_of_ten_not_above
from generator.quantities.statement import Statement
from generator.quantities.units import UNITS, Unit

# The unit a reader of the other system works in.
COUNTERPARTS: dict[str, tuple[str, ...]] = {
    "mm": ("in",), "um": ("uin",), "m": ("ft",), "in": ("mm",), "uin": ("um",), "ft": ("m",),
    "N.m": ("lbf.ft",), "lbf.ft": ("N.m",), "lbf.in": ("N.m",), "kgf.m": ("N.m", "lbf.ft"), "kgf.cm": ("N.m", "lbf.in"),
    "kPa": ("psi",), "MPa": ("psi",), "bar": ("psi",), "psi": ("kPa",), "kgf/cm2": ("kPa", "psi"),
    "mmHg": ("kPa", "inHg"), "inHg": ("kPa",),
    "L": ("qt(US)",), "mL": ("floz(US)",), "qt(US)": ("L",), "gal(US)": ("L",), "pt(US)": ("L",), "floz(US)": ("mL",),
    "qt(imp)": ("L", "qt(US)"), "gal(imp)": ("L", "gal(US)"),
    "mm2": ("in2",), "cm2": ("in2",), "in2": ("cm2",), "mm3": ("in3",), "cm3": ("in3",), "in3": ("cm3",),
    "degC": ("degF",), "degF": ("degC",),
    "degC difference": ("degF difference",), "degF difference": ("degC difference",),
    "N": ("lbf",), "kN": ("lbf",), "lbf": ("N",), "kgf": ("N", "lbf"),
    "kg": ("lb",), "g": ("lb",), "lb": ("kg",),
}

# Inward rounding may take this share of a band or a limit; beyond it a digit is added.
MOST_TAKEN = Fraction(1, 10)
MOST_DIGITS_ADDED = 12


def conversions(printed: Iterable[Statement], descriptive: bool = False) -> list[Statement]:
    """Statements in the units a reader lacks, each from the leading printed one.

    printed: all units of one figure, the leading one first, known to agree.
    descriptive: a capacity, a flash point, an example, where nothing is limited.
    """
    units = [statement.unit for statement in printed if statement.unit]
    leading = next(iter(printed), None)
    if leading is None or leading.unit is None:
        return []
    systems = {unit.system for unit in units}
    targets = (UNITS[symbol] for symbol in COUNTERPARTS.get(leading.unit.symbol, ()))
    return [convert(leading, target, descriptive) for target in targets if target.system not in systems]


def convert(statement: Statement, target: Unit, descriptive: bool = False) -> Statement:
    """Express a statement in another unit of its dimension, rounded as the module says.

    A tolerance becomes a range. Raise ValueError if the dimensions differ or
    nothing readable was printed.
    """
    if statement.unit is None or statement.unit.dimension != target.dimension:
        raise ValueError(f"{statement} cannot be expressed in {target.symbol}")
    form = "range" if statement.form == "tolerance" else statement.form
    exact = [_carry(value, statement.unit, target) for value in _values(statement)]
    step = min(number.step for number in statement.numbers) * statement.unit.factor / target.factor
    exponent = power_of_ten_not_above(step)
    # A band without width has no inside to round towards.
    nominal = descriptive or (form == "range" and exact[0] == exact[-1])
    directions = ["nearest"] * len(exact) if nominal else _INWARD[form]
    for extra in range(MOST_DIGITS_ADDED):
        numbers = [number_at(value, exponent - extra, way) for value, way in zip(exact, directions, strict=True)]
        if nominal or _close_enough(form, exact, numbers, target):
            break
    return Statement(form, tuple(numbers), target)


_INWARD = {
    "exact": ["nearest"],
    "range": ["up", "down"],
    "max": ["down"], "under": ["down"],
    "min": ["up"], "over": ["up"],
}


def _values(statement: Statement) -> list[Fraction]:
    bounds = (statement.low, statement.high) if statement.form in ("range", "tolerance") else (statement.numbers[0].value,)
    return [value for value in bounds if value is not None]


def _carry(value: Fraction, source: Unit, target: Unit) -> Fraction:
    return target.from_base(source.to_base(value))


def _close_enough(form: str, exact: list[Fraction], rounded: list[Number], target: Unit) -> bool:
    """Whether inward rounding left the band whole and took at most a tenth of it or of the limit."""
    if form == "exact":
        return True
    if form == "range":
        width, left = exact[1] - exact[0], rounded[1].value - rounded[0].value
        return left >= 0 and width - left <= MOST_TAKEN * width
    # A share of a temperature means nothing: its zero is a convention.
    return bool(target.offset) or abs(exact[0] - rounded[0].value) <= MOST_TAKEN * abs(exact[0])
