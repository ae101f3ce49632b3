"""Quantities carry a unit and are finite; what is shown rounds halves away from zero."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.quantities import Quantity, shown


@pytest.mark.parametrize(("value", "decimals", "text"), [
    (2.675, 2, "2.68"), (0.5, 0, "1"), (-1.25, 1, "-1.3"), (-0.001, 2, "0.00"), (1e-9, 3, "0.000"), (1234.5, 0, "1235"),
    (0.0395, 3, "0.040"), (1e60, 4, "1" + "0" * 60 + ".0000"), (1e-300, 2, "0.00"), (-1.7e308, 0, "-17" + "0" * 307),
])
def test_shown(value, decimals, text):
    assert shown(value, decimals) == text


@given(st.floats(-1e6, 1e6), st.integers(0, 6))
def test_shown_is_within_half_a_step(value, decimals):
    assert abs(float(shown(value, decimals)) - value) <= 0.5 * 10**-decimals * (1 + 1e-9)


@pytest.mark.parametrize(("value", "unit"), [(math.nan, "mm"), (math.inf, "mm"), (1.0, "furlong")])
def test_what_is_no_quantity_is_refused(value, unit):
    with pytest.raises(ValueError):
        Quantity(value, unit)


def test_conversion_keeps_to_the_dimension():
    assert Quantity(1.0, "in").to("mm") == pytest.approx(25.4)
    assert Quantity(212.0, "degF").to("degC") == pytest.approx(100)
    assert Quantity(2.0, "in").converted("mm") == Quantity(50.8, "mm")
    with pytest.raises(ValueError, match="measures"):
        Quantity(1.0, "in").to("N.m")
