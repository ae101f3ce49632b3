"""Published conversions and the dual values of real manuals."""

from decimal import Decimal
from fractions import Fraction

import pytest

from generator.quantities import DISAGREE, UNITS, agreement, convert, parse
from tests.published import published


@pytest.mark.parametrize("case", published("conversions", "factors"), ids=lambda case: case["id"])
def test_factors_are_right_to_the_last_published_digit(case):
    ours = UNITS[case["unit"]].from_base(UNITS[case["one"]].to_base(Fraction(1)))
    half_digit = Fraction(10) ** Decimal(case["value"]).as_tuple().exponent / 2
    assert abs(ours - Fraction(case["value"])) <= half_digit


@pytest.mark.parametrize("case", published("conversions", "temperatures"), ids=lambda case: case["printed"])
def test_temperatures(case):
    ours = UNITS[case["unit"]].from_base(UNITS["degF"].to_base(parse(case["printed"]).numbers[0].value))
    assert float(ours) == pytest.approx(float(case["value"]), abs=0.0005)


@pytest.mark.parametrize("case", published("conversions", "dual_values"), ids=lambda case: " = ".join(case["printed"]))
def test_dual_values_round_as_printed(case):
    first, second = map(parse, case["printed"])
    exact = second.unit.from_base(first.unit.to_base(first.numbers[0].value))
    rounded_off = abs(exact - second.numbers[0].value) <= Fraction(case["step"]) / 2
    assert rounded_off == case["rounds_correctly"]


@pytest.mark.parametrize("case", published("printed_pairs", "pairs"), ids=lambda case: " / ".join(case["printed"]))
def test_every_pair_that_disagrees_is_found_and_no_other(case):
    assert agreement([parse(text) for text in case["printed"]]).verdict == case["verdict"]


def test_the_pairs_that_disagree_are_the_ones_the_manuals_were_found_to_misprint():
    wrong = [case["printed"][0] for case in published("printed_pairs", "pairs") if case["verdict"] == DISAGREE]
    assert len(wrong) == 7


def test_convert_refuses_another_dimension():
    with pytest.raises(ValueError, match="cannot be expressed in mm"):
        convert(parse("35 N.m"), UNITS["mm"])
