"""Comparison tolerates binary error only, and no text says that a value is over itself."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.calculations.result import Limit
from generator.calculations.wording import bounds_text, compare, listing, say, say_apart, say_beside, say_rounded, total
from generator.quantities import Quantity


@pytest.mark.parametrize(("one", "other", "expected"), [
    (0.1 + 0.2, 0.3, 0), (0.3 - 0.1 - 0.2, 0.0, 0), (0.1, 0.1001, -1), (0.1001, 0.1, 1), (-0.1, 0.1, -1), (0.0, 0.0, 0),
    (1.0, 1.0 + 2e-9, -1), (1.0, 1.0 + 5e-10, 0),
])
def test_compare(one, other, expected):
    assert compare(one, other) == expected


@given(st.floats(0.0001, 1000))
def test_there_and_back_is_the_same_length(value):
    there = Quantity(value, "mm").to("in")
    assert compare(Quantity(there, "in").to("mm"), value) == 0


@pytest.mark.parametrize(("value", "unit", "text"), [
    (0.05, "mm", "0.05 mm"), (100.0, "mm", "100 mm"), (0.0015, "in", "0.0015 in"), (0.00035, "in", "0.00035 in"), (405.0, "psi", "405 psi"),
    (25.0, "%", "25 %"), (-0.0, "mm", "0 mm"), (0.000004, "mm", "0.000004 mm"), (2 / 3, "%", "0.7 %"), (-0.25, "mm", "-0.25 mm"),
    (2.94, "N.m", "2.94 N.m"), (39.2266, "N.m", "39.2 N.m"),
    (0.055, "N.m", "0.055 N.m"), (2.94 + 4e-16, "N.m", "2.94 N.m"), (1e60, "mm", f"1{'0' * 60} mm"),
])
def test_say(value, unit, text):
    assert say(value, unit) == text


def test_a_computed_value_is_rounded_however_few_digits_it_has():
    assert say_rounded(33.64, "kN") == "33.6 kN"


def test_a_value_just_over_a_bound_never_looks_like_it():
    assert say_apart(0.10001, 0.1, "mm") == "0.10001 mm"
    assert say_apart(0.1, 0.1, "mm") == "0.1 mm"
    assert say_beside(Quantity(0.004, "in"), Quantity(0.1, "mm")) == "0.004 in (0.1016 mm)"


def test_bounds():
    mm = [Quantity(value, "mm") for value in (0.45, 0.9)]
    assert bounds_text(Limit("recession", *mm)) == "0.45 to 0.9 mm"
    assert bounds_text(Limit("recession", *mm, strict=True)) == "0.45 to 0.9 mm, ends not allowed"
    assert bounds_text(Limit("recession", low=mm[0])) == "min 0.45 mm"
    assert bounds_text(Limit("recession", low=mm[0], strict=True)) == "over 0.45 mm"
    assert bounds_text(Limit("recession", high=mm[1])) == "max 0.9 mm"
    assert bounds_text(Limit("recession", high=mm[1], strict=True)) == "under 0.9 mm"
    assert bounds_text(Limit("recession")) == "no number"
    assert bounds_text(Limit("length", Quantity(1.0, "in"), Quantity(30.0, "mm"))) == "1 in to 30 mm"


def test_a_total_is_added_one_by_one():
    assert total([]) == 0 and total([0.1] * 10) == 0.1 + 0.1 + 0.1 + 0.1 + 0.1 + 0.1 + 0.1 + 0.1 + 0.1 + 0.1


def test_listing():
    assert [listing(names) for names in ([], ["1"], ["1", "2"], ["1", "2", "3"])] == ["", "1", "1 and 2", "1, 2 and 3"]
