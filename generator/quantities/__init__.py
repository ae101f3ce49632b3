"""Units, printed statements, conversion and rounding. Knows nothing of records."""

from generator.quantities.agreement import AGREE, DISAGREE, ROUNDING, Agreement, agreement
from generator.quantities.conversion import conversions, convert
from generator.quantities.quantity import Quantity, shown
from generator.quantities.slips import each_if_right, likely_slip
from generator.quantities.statement import Statement, StatementError, parse
from generator.quantities.units import UNITS, Unit, UnitError, unit_named, units_of

__all__ = [
    "AGREE", "DISAGREE", "ROUNDING", "Agreement", "agreement", "conversions", "convert", "each_if_right", "likely_slip",
    "Quantity", "shown",
    "Statement", "StatementError", "parse", "UNITS", "Unit", "UnitError", "unit_named", "units_of",
]
