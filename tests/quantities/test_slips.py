"""The likely slip behind units that disagree, and what each unit would have to be."""

import pytest

from generator.quantities import each_if_right, likely_slip, parse


def named(*texts: str) -> str:
    return likely_slip([parse(text) for text in texts])


@pytest.mark.parametrize(("printed", "words"), [
    (("max 0.10 mm", "max 0.039 in"), "the decimal point: one of the two is ten times off"),
    (("0.10 mm", "0.39 in"), "the decimal point: one of the two is a hundred times off"),
    (("35 lbf.ft", "26 N.m"), "the units exchanged: 35 may be N.m and 26 may be lbf.ft"),
    (("66 lbf.ft", "98 N.m"), "digits transposed: 98 may be 89 N.m"),
    (("9 qt(imp)", "8.5 L"), "another gallon: 9 may be qt(US) and not qt(imp)"),
    (("35 N.m", "25.8 lbf.in"), "another unit: 25.8 may be lbf.ft and not lbf.in"),
    (("11.0 kgf/cm2", "15 psi"), "a digit lost: 15 may be 156 psi"),
    (("max 1.063 in", "max 27.015 mm"), "converted with a rounded factor: the two are nearly the same"),
    (("8.0 to 9.5 kgf.m", "59 to 69 lbf.ft"), "one digit: 59 may be 58 lbf.ft, or 8.0 may be 8.2 kgf.m"),
    (("1 1/2 in", "83.1 mm"), "digits transposed: 83.1 may be 38.1 mm"),
])
def test_the_one_change_that_makes_two_units_agree_is_named(printed, words):
    assert named(*printed) == words


@pytest.mark.parametrize("printed", [
    ("0.10 mm", "0.0039 in"),  # they agree
    ("35 N.m",),
    ("35 N.m", "max 99 lbf.ft"),  # not the same form: no digit mends it
    ("10 mm", "77.77 in"),  # no single slip
])
def test_nothing_is_named_where_no_single_slip_explains_it(printed):
    assert named(*printed) == ""


def test_each_unit_is_worked_out_from_the_other():
    found = each_if_right([parse("11.0 kgf/cm2"), parse("15 psi")])
    assert [(str(one), str(other)) for one, other in found] == [("11.0 kgf/cm2", "156 psi"), ("15 psi", "1.05 kgf/cm2")]
    assert each_if_right([parse("0.10 mm"), parse("0.0039 in")]) == []


def test_the_two_of_three_that_disagree_are_taken():
    found = each_if_right([parse("8.5 L"), parse("9 qt(US)"), parse("9 qt(imp)")])
    assert [str(one) for one, _ in found] == ["8.5 L", "9 qt(imp)"]
