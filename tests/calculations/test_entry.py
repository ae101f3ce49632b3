"""What a person types becomes a quantity, or an error that says what would be right."""

from fractions import Fraction
from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.calculations.entry import LONGEST, read_amount, read_entry
from generator.calculations.result import CODES, InputError
from generator.quantities import Quantity


@pytest.mark.parametrize(("text", "value", "unit"), [
    ("0.05", 0.05, "mm"), ("0,05", 0.05, "mm"), (".002", 0.002, "mm"), (",5", 0.5, "mm"), ("2/1000", 0.002, "mm"),
    ("0.05 mm", 0.05, "mm"), ("0.05mm", 0.05, "mm"), ("0,05 mm", 0.05, "mm"), ("2 7/8 in", 2.875, "in"), ('2-7/8"', 2.875, "in"),
    (" 12 ", 12.0, "mm"), ("+0.1", 0.1, "mm"), ("-0.2", -0.2, "mm"), ("−0.2", -0.2, "mm"), ("38 µm", 38.0, "um"),
    ("5\u00a0in", 5.0, "in"), ("1.524", 1.524, "mm"), ("12,5", 12.5, "mm"), ("0,524", 0.524, "mm"), ("0,0005", 0.0005, "mm"),
    ("1,5240", 1.524, "mm"),
])
def test_understood(text, value, unit):
    assert read_entry(text, "mm", "gap") == Quantity(value, unit)


@pytest.mark.parametrize("text", ["1,524", "-1,524", "12,500 mm", "999,000"])
def test_a_comma_that_may_part_thousands_is_refused_with_both_readings(text):
    with pytest.raises(InputError) as caught:
        read_entry(text, "mm", "gap")
    digits = text.removesuffix(" mm")
    assert caught.value.code == "ambiguous"
    assert digits.replace(",", "") in caught.value.expected
    assert digits.replace(",", ".") in caught.value.expected


@pytest.mark.parametrize(("text", "code"), [
    ("", "missing"), ("   ", "missing"), ("abc", "not-a-number"), ("nan", "not-a-number"), ("inf", "not-a-number"),
    ("-inf", "not-a-number"), ("1\u202f500 um", "not-a-number"),
    ("1e5", "not-a-number"), ("1e400", "not-a-number"), ("1/0", "not-a-number"), ("5-6", "not-a-number"), ("5 - 6 mm", "not-a-number"),
    ("1,524.5", "not-a-number"), ("1.524,5", "not-a-number"), ("1 524", "not-a-number"), ("mm", "not-a-number"), ("5 5", "not-a-number"),
    ("\u0663", "not-a-number"), ("1" * (LONGEST + 1), "not-a-number"),
    ("5 N.m", "wrong-unit"), ("5 psi", "wrong-unit"), ("5 thou", "unknown"), ("5 mmm", "unknown"),
])
def test_refused(text, code):
    with pytest.raises(InputError) as caught:
        read_entry(text, "mm", "gap")
    assert (caught.value.code, caught.value.field) == (code, "gap")


def test_an_unknown_unit_is_answered_with_those_of_the_field():
    with pytest.raises(InputError, match="write one of mm, um, m, in, uin, ft"):
        read_entry("5 thou", "mm", "gap")


def test_a_name_that_stands_for_two_things_or_is_no_unit_of_the_table_is_explained():
    with pytest.raises(InputError, match=r"ft \(write the length in in: one thou is 0.001 in\)$"):
        read_entry("2 thou", "mm", "gap")


def test_money_has_no_unit():
    assert read_amount("120,50", "extra measure") == 120.5
    for text, code in (("120 mm", "not-a-number"), ("1,200", "ambiguous"), ("", "missing")):
        with pytest.raises(InputError) as caught:
            read_amount(text, "extra measure")
        assert caught.value.code == code


@given(st.text(alphabet="0123456789.,/+- ein%\u0661mMN\"", max_size=LONGEST + 5) | st.text(max_size=20))
def test_any_text_is_a_finite_quantity_or_one_typed_error(text):
    try:
        found = read_entry(text, "mm", "gap")
    except InputError as error:
        assert error.code in CODES and error.expected
    else:
        assert isfinite(found.value) and found.dimension == "length"


@given(st.decimals(min_value=-10**6, max_value=10**6, places=5))
def test_a_decimal_point_and_a_decimal_comma_say_the_same(number):
    text = format(number, "f")
    assert read_entry(text, "mm", "gap").value == float(Fraction(text)) == read_entry(text.replace(".", ","), "mm", "gap").value
