"""Conversion is exact, rounds inward where something is limited, and agrees with other libraries."""

from fractions import Fraction

import pint
import pytest
import scipy.constants
from hypothesis import given
from hypothesis import strategies as st

from generator.quantities import UNITS, conversions, convert, parse
from generator.quantities.conversion import COUNTERPARTS, MOST_TAKEN

# How pint spells our units; the two temperatures and the plain counts are tested by hand.
PINT = {
    "mm": "mm", "um": "um", "m": "m", "in": "inch", "uin": "microinch", "ft": "foot", "N.m": "N*m", "lbf.ft": "force_pound*foot",
    "lbf.in": "force_pound*inch", "kgf.m": "force_kilogram*m", "kgf.cm": "force_kilogram*cm", "kPa": "kPa", "MPa": "MPa", "bar": "bar",
    "psi": "psi", "kgf/cm2": "force_kilogram/cm**2", "L": "liter", "mL": "milliliter",
    "qt(US)": "quart", "gal(US)": "gallon", "pt(US)": "pint", "floz(US)": "fluid_ounce", "qt(imp)": "imperial_quart",
    "gal(imp)": "imperial_gallon", "mm3": "mm**3", "cm3": "cm**3", "in3": "inch**3", "mm2": "mm**2", "cm2": "cm**2", "in2": "inch**2",
    "N": "N", "kN": "kN", "lbf": "force_pound", "kgf": "force_kilogram", "kg": "kg", "g": "g", "lb": "pound", "h": "hour",
    "min": "minute", "s": "second", "mmHg": "mmHg", "inHg": "inHg",
}
BASE = {"length": "m", "torque": "N*m", "pressure": "Pa", "volume": "m**3", "area": "m**2", "force": "N", "mass": "kg", "time": "s"}


@pytest.mark.parametrize("symbol", PINT)
def test_factors_agree_with_pint(symbol):
    registry = pint.UnitRegistry()
    unit = UNITS[symbol]
    theirs = registry.Quantity(1.0, PINT[symbol]).to(BASE[unit.dimension]).magnitude
    # pint defines the column of mercury by a rounded density: 3e-7 apart
    tolerance = 1e-6 if "Hg" in symbol else 1e-12
    assert float(unit.factor) == pytest.approx(theirs, rel=tolerance)


def test_every_unit_has_a_second_opinion():
    by_hand = {"deg", "degC", "degF", "degC difference", "degF difference", "rpm", "%", "ratio"}
    assert set(UNITS) == set(PINT) | by_hand


@pytest.mark.parametrize(("symbol", "theirs"), [
    ("in", scipy.constants.inch), ("ft", scipy.constants.foot), ("lb", scipy.constants.pound), ("psi", scipy.constants.psi),
    ("kgf", scipy.constants.kilogram_force), ("lbf", scipy.constants.pound_force), ("gal(US)", scipy.constants.gallon_US),
    ("gal(imp)", scipy.constants.gallon_imp), ("floz(US)", scipy.constants.fluid_ounce_US), ("bar", scipy.constants.bar),
    ("um", scipy.constants.micron), ("L", scipy.constants.liter),
])
def test_factors_agree_with_scipy(symbol, theirs):
    assert float(UNITS[symbol].factor) == pytest.approx(theirs, rel=1e-12)


def test_mercury_against_the_torr_which_differs_in_the_seventh_digit():
    assert float(UNITS["mmHg"].factor) == pytest.approx(scipy.constants.mmHg, rel=2e-7)


@pytest.mark.parametrize(("printed", "unit", "expected"), [
    # the two checks of the rounding rule
    ("0.028 to 0.030 mm", "in", "0.001103 to 0.001181 in"),
    ("max 0.05 mm", "in", "max 0.0019 in"),
    # a limit loses at most a tenth; otherwise one digit more
    ("under 0.1 mm", "in", "under 0.0039 in"),
    ("min 0.45 mm", "in", "min 0.0178 in"),
    ("39.2 to 44.1 N.m", "lbf.ft", "28.92 to 32.52 lbf.ft"),
    ("54 +-7 N.m", "lbf.ft", "34.7 to 44.9 lbf.ft"),
    ("35 N.m", "lbf.ft", "25.8 lbf.ft"),
    ("2 7/8 in", "mm", "73 mm"),
    ("-0.004 to 0.019 in", "mm", "-0.10 to 0.48 mm"),
    ("100 degC", "degF", "212 degF"),
    ("max 100 degF", "degC", "max 37.7 degC"),
    ("10 degC difference", "degF difference", "18 degF difference"),
])
def test_rounding(printed, unit, expected):
    assert str(convert(parse(printed), UNITS[unit])) == expected


def test_descriptive_ranges_round_to_the_nearest():
    assert str(convert(parse("38 to 59 degC"), UNITS["degF"], descriptive=True)) == "100 to 138 degF"


def test_a_reader_gets_the_unit_that_is_missing_and_no_other():
    assert [str(each) for each in conversions([parse("1.4 to 1.8 kgf.m"), parse("10 to 13 lbf.ft")])] == ["13.8 to 17.6 N.m"]
    assert conversions([parse("30 N.m"), parse("22.14 lbf.ft")]) == []
    assert conversions([parse('unreadable "005 in."'), parse("0.15 mm")]) == []


def test_counterparts_are_of_the_same_dimension():
    for symbol, targets in COUNTERPARTS.items():
        assert {UNITS[target].dimension for target in targets} == {UNITS[symbol].dimension}


values = st.decimals(min_value="0.001", max_value="9999", places=3)
pairs = st.sampled_from([(a, b) for a, targets in COUNTERPARTS.items() for b in targets if UNITS[a].offset == 0])


@given(values, values, pairs)
def test_a_converted_band_lies_inside_the_printed_one(a, b, pair):
    source, target = UNITS[pair[0]], UNITS[pair[1]]
    printed = parse(f"{min(a, b)} to {max(a, b)} {source.symbol}")
    converted = convert(printed, target)
    low, high = (source.from_base(target.to_base(number.value)) for number in converted.numbers)
    width = printed.high - printed.low
    if width:
        assert printed.low <= low and high <= printed.high
        assert width - (high - low) <= MOST_TAKEN * width
    else:
        assert low == high


@given(values, pairs)
def test_there_and_back_stays_within_the_step(value, pair):
    source, target = UNITS[pair[0]], UNITS[pair[1]]
    printed = parse(f"{value} {source.symbol}")
    back = source.from_base(target.to_base(convert(printed, target).numbers[0].value))
    assert abs(back - printed.numbers[0].value) <= Fraction(1, 1000) / 2


@given(values, pairs, st.sampled_from(["max", "under", "min", "over"]))
def test_a_converted_limit_never_allows_more(value, pair, bound):
    source, target = UNITS[pair[0]], UNITS[pair[1]]
    printed = parse(f"{bound} {value} {source.symbol}")
    back = source.from_base(target.to_base(convert(printed, target).numbers[0].value))
    assert back <= printed.numbers[0].value if bound in ("max", "under") else back >= printed.numbers[0].value
