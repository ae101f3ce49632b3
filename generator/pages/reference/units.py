"""Units: the definitions they rest on, exact factors, the pairs of the bench, and how a converted figure is rounded."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import floor, log10

from generator.pages.figures import CiteView, cite_view
from generator.pages.model import BASE_UNITS
from generator.pages.page import Page, render
from generator.quantities import UNITS, Statement, Unit, convert, parse
from generator.quantities.conversion import COUNTERPARTS
from generator.quantities.numbers import number_at
from generator.quantities.units import units_of
from generator.record.facts import Cite
from generator.record.library import Library

# What everything else follows from: one unit in another, and where that stands; empty where it is from memory.
DEFINITIONS = (
    ("in", "mm", "nist-sp-811 Appendix B.9"), ("lbf", "N", "nist-sp-811 Appendix B"), ("kgf", "N", "nist-sp-811 Appendix B"),
    ("gal(US)", "in3", "nist-handbook-44 Appendix C"), ("gal(imp)", "L", "nist-sp-811 Appendix B.9"), ("bar", "kPa", "nist-sp-811 Appendix B"),
    ("lb", "kg", ""), ("mmHg", "kPa", ""),
)
# Dimensions with more than one unit that converts by a factor.
FACTORS = ("length", "torque", "pressure", "force", "volume", "area", "mass")
# Statements that show the rule of rounding, each with the unit it is converted to.
ROUNDED = (("max 0.05 mm", "in"), ("0.028 to 0.030 mm", "in"), ("20 to 24 N.m", "lbf.ft"), ("min 95 psi", "kPa"), ("4.2 L", "qt(US)"))
_SIGNIFICANT = 12
_LONGEST = 22  # digits of an exact decimal that still help anybody


@dataclass(frozen=True, slots=True)
class Factor:
    """One unit of `one` in units of `other`. exact: the digits are all there are."""

    one: str
    other: str
    digits: str
    exact: bool


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension with the factor of each of its units to the base unit."""

    name: str
    base: str
    factors: list[Factor]


def units_page(library: Library) -> Page:
    """Everything computed from the exact factors; nothing is typed in."""
    return render(
        "reference/units.html", "reference/units.html", "Units",
        definitions=[(_factor(UNITS[one], UNITS[other]), _cite(cite, library)) for one, other, cite in DEFINITIONS],
        dimensions=[_dimension(name) for name in FACTORS],
        pairs=[_factor(UNITS[one], UNITS[other]) for one, others in COUNTERPARTS.items() for other in others if UNITS[one].dimension in FACTORS],
        temperature=_cite("nist-sp-811 Appendix B.9", library),
        difference=_factor(UNITS["degC difference"], UNITS["degF difference"]),
        rounded=[(parse(text), converted(text, unit)) for text, unit in ROUNDED],
    )


def converted(text: str, unit: str) -> Statement:
    """A printed statement in another unit, rounded as limits and bands are."""
    return convert(parse(text), UNITS[unit])


def _cite(text: str, library: Library) -> CiteView | None:
    return cite_view(Cite.read(text), library) if text else None


def _dimension(name: str) -> Dimension:
    base = BASE_UNITS[name]
    return Dimension(name, base, [Factor(symbol, base, *_decimal(UNITS[symbol].factor)) for symbol in units_of(name) if symbol != base])


def _factor(one: Unit, other: Unit) -> Factor:
    return Factor(one.symbol, other.symbol, *_decimal(one.factor / other.factor))


def _decimal(value: Fraction) -> tuple[str, bool]:
    """Decimal digits of a factor and whether they are all of them; else twelve significant ones."""
    rest, twos, fives = value.denominator, 0, 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    places = max(twos, fives)
    if rest == 1 and places <= _LONGEST:
        digits = str(int(value * 10**places)).rjust(places + 1, "0")
        return (f"{digits[:-places]}.{digits[-places:]}" if places else digits), True
    return number_at(value, floor(log10(value)) + 1 - _SIGNIFICANT, "nearest").text, False
