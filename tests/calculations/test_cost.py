"""The break-even chance of a comeback, from the reader's own prices."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.calculations.cost import NEVER_BY_PRICE, NEXT, PAYS_ABOVE, break_even
from generator.calculations.result import InputError
from generator.quantities import Quantity

GOLDEN = [
    (60, 900, PAYS_ABOVE, "60 against a comeback of 900: it pays if more than 6.7 % of such jobs would come back, 1 in 15."),
    (12.5, 1000, PAYS_ABOVE, "12.5 against a comeback of 1000: it pays if more than 1.25 % of such jobs would come back, 1 in 80."),
    (0.4, 1000, PAYS_ABOVE, "0.4 against a comeback of 1000: it pays if more than 0.04 % of such jobs would come back, 1 in 2500."),
    (900, 900, NEVER_BY_PRICE, "900 against a comeback of 900: the measure costs no less than what it prevents."),
    (1200, 900, NEVER_BY_PRICE, "1200 against a comeback of 900: the measure costs no less than what it prevents."),
    (0.3, 0.1 + 0.2, NEVER_BY_PRICE, "0.3 against a comeback of 0.3: the measure costs no less than what it prevents."),
]


@pytest.mark.parametrize(("extra", "comeback", "verdict", "reason"), GOLDEN)
def test_golden_sentences(extra, comeback, verdict, reason):
    result = break_even(extra, comeback, "own prices")
    assert (result.verdict, result.reason, result.next_step, result.basis) == (verdict, reason, NEXT[verdict], "own prices")


def test_the_chance_comes_back_as_a_number():
    assert break_even(250, 1000).number == Quantity(25.0, "%")


@pytest.mark.parametrize(("value", "code"), [
    (None, "missing"), (float("nan"), "not-a-number"), (float("inf"), "not-a-number"), (-float("inf"), "not-a-number"),
    ("60", "not-a-number"),
    (True, "not-a-number"), (Quantity(1, "mm"), "not-a-number"), (-1, "negative"), (0, "zero"), (1e13, "out-of-range"),
    (1e-13, "out-of-range"),
    (10**400, "out-of-range"),
])
@pytest.mark.parametrize("field", ["extra measure", "comeback"])
def test_bad_prices(value, code, field):
    with pytest.raises(InputError) as caught:
        break_even(*((value, 900) if field == "extra measure" else (60, value)))
    assert (caught.value.code, caught.value.field) == (code, field)


prices = st.floats(0.01, 1e6)


@given(prices, prices)
def test_at_the_break_even_chance_both_ways_cost_the_same(extra, comeback):
    number = break_even(extra, comeback).number
    assert number is not None and number.value / 100 * comeback == pytest.approx(extra, rel=1e-12)


@given(prices, prices, st.floats(0, 1e6))
def test_a_dearer_measure_never_pays_sooner(extra, comeback, more):
    first, second = break_even(extra, comeback), break_even(extra + more, comeback)
    assert first.number is not None and second.number is not None and second.number.value >= first.number.value
    assert first.verdict == PAYS_ABOVE or second.verdict == NEVER_BY_PRICE
