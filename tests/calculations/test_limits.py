"""A reading against one or two bounds: on the bound, strict, conditional, in another unit, with a spread."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.calculations.limits import (
    CONDITION_FAILS,
    NEXT,
    NO_LIMIT,
    NO_NUMBER,
    OVER,
    PRACTICE,
    SAY_WHICH,
    UNDER,
    WEIGHT,
    WITHIN,
    Case,
    Reading,
    judge,
    judge_provided,
    judge_several,
    judge_when,
)
from generator.calculations.result import InputError, Limit
from generator.quantities import Quantity


def mm(value: float) -> Quantity:
    return Quantity(value, "mm")


MAX = Limit("Bolt length", high=mm(0.1), basis="book A, p. 1")
UNDER_01 = Limit("Head face", high=mm(0.1), strict=True, basis="book A, p. 2")
MIN = Limit("Neck", low=mm(9.5))
BAND = Limit("Valve recession", mm(0.45), mm(0.9))


GOLDEN = [
    (mm(0.05), MAX, WITHIN, "Bolt length: 0.05 mm is within the limit (max 0.1 mm) by 0.05 mm."),
    (mm(0.1), MAX, WITHIN, "Bolt length: 0.1 mm is exactly on the bound, which is allowed (max 0.1 mm)."),
    (Quantity(0.003, "in"), MAX, WITHIN, "Bolt length: 0.003 in (0.0762 mm) is within the limit (max 0.1 mm) by 0.0238 mm."),
    (mm(0.12), MAX, OVER, "Bolt length: 0.12 mm is over the limit (max 0.1 mm) by 0.02 mm."),
    (mm(0.1), UNDER_01, OVER, "Head face: 0.1 mm is exactly on the bound, which is not allowed (under 0.1 mm)."),
    (Quantity(0.004, "in"), MAX, OVER, "Bolt length: 0.004 in (0.1016 mm) is over the limit (max 0.1 mm) by 0.0016 mm."),
    (mm(0.4), BAND, UNDER, "Valve recession: 0.4 mm is under the limit (0.45 to 0.9 mm) by 0.05 mm."),
    (mm(9.2), MIN, UNDER, "Neck: 9.2 mm is under the limit (min 9.5 mm) by 0.3 mm."),
    (mm(9.5), Limit("Neck", low=mm(9.5), strict=True), UNDER, "Neck: 9.5 mm is exactly on the bound, which is not allowed (over 9.5 mm)."),
    (mm(0.85), BAND, WITHIN, "Valve recession: 0.85 mm is within the limit (0.45 to 0.9 mm) by 0.05 mm."),
    (mm(0.2), None, NO_LIMIT, "0.2 mm was measured, and this record has no limit for it."),
    (Quantity(4.7185, "in"), None, NO_LIMIT, "4.7185 in was measured, and this record has no limit for it."),
    (Quantity(1.5, "bar"), None, NO_LIMIT, "1.5 bar was measured, and this record has no limit for it."),
    (Quantity(0.02, "in"), Limit("Warp of the manifold face"), NO_NUMBER,
     "Warp of the manifold face: 0.02 in was measured, and the source gives no number to hold it against."),
    (mm(118.4), Limit("Length of the bolts", basis="book A, p. 3"), NO_NUMBER,
     "Length of the bolts: 118.4 mm was measured, and the source gives no number to hold it against."),
    (mm(0.2), Limit("Head face"), NO_NUMBER, "Head face: 0.2 mm was measured, and the source gives no number to hold it against."),
    (mm(0.01), Limit("Head face", high=mm(0.05), own=False), PRACTICE,
     "Head face: 0.01 mm against max 0.05 mm, a rule of practice and not this engine's limit."),
    (mm(0.06), Limit("Head face", high=mm(0.05), own=False), PRACTICE,
     "Head face: 0.06 mm against max 0.05 mm, a rule of practice and not this engine's limit."),
    (mm(0.06), Limit("Head face", own=False), PRACTICE,
     "Head face: 0.06 mm was measured, and the source gives no number to hold it against."),
]


@pytest.mark.parametrize(("reading", "limit", "verdict", "reason"), GOLDEN)
def test_golden_sentences(reading, limit, verdict, reason):
    result = judge(reading, limit)
    assert (result.verdict, result.reason) == (verdict, reason)
    assert result.next_step == NEXT[verdict]
    assert result.number == reading


def test_the_basis_of_the_limit_comes_back():
    assert judge(mm(0.05), MAX).basis == "book A, p. 1"
    assert judge(mm(0.05), UNDER_01).basis == "book A, p. 2"


@pytest.mark.parametrize(("reading", "bound"), [
    (mm(25.4), Quantity(1.0, "in")), (mm(0.0508), Quantity(0.002, "in")), (Quantity(0.0015, "in"), mm(0.0381)), (mm(0.3), mm(0.1 + 0.2)),
    (Quantity(50.0, "um"), mm(0.05)),
])
def test_exactly_on_the_bound_across_units(reading, bound):
    assert judge(reading, Limit("x", high=bound)).verdict == WITHIN
    assert judge(reading, Limit("x", low=bound)).verdict == WITHIN
    assert judge(reading, Limit("x", high=bound, strict=True)).verdict == OVER
    assert judge(reading, Limit("x", low=bound, strict=True)).verdict == UNDER


def test_a_millionth_past_the_bound_is_past_it_and_looks_so():
    result = judge(mm(0.1000001), MAX)
    assert result.verdict == OVER and result.reason.startswith("Bolt length: 0.1000001 mm is over")


@pytest.mark.parametrize(("reading", "code"), [
    (None, "missing"), (0.05, "wrong-unit"), (Quantity(5.0, "N.m"), "wrong-unit"), (mm(-0.1), "negative"),
    (Quantity(1e308, "m"), "out-of-range"),
])
@pytest.mark.parametrize("limit", [MAX, MIN, None])
def test_bad_readings(reading, code, limit):
    if limit is None and reading == Quantity(5.0, "N.m"):
        assert judge(reading, limit).verdict == NO_LIMIT  # without a limit any unit is a reading
        return
    with pytest.raises(InputError) as caught:
        judge(reading, limit, "bolt 3")
    assert (caught.value.code, caught.value.field) == (code, "bolt 3")


@pytest.mark.parametrize("bounds", [{"high": 0.1}, {"low": 0.1}, {"high": 0}, {"low": mm(0.1), "high": 0.2}, {"low": 0.1, "high": mm(0.2)}])
@pytest.mark.parametrize("own", [True, False])
def test_a_bare_number_is_no_bound(bounds, own):
    limit = Limit("Head face", **bounds, own=own)
    row = [Reading("1", mm(0.1)), Reading("2", mm(0.2))]
    for call in (lambda: judge(mm(0.1), limit), lambda: judge_several(row, None, limit)):
        with pytest.raises(InputError) as caught:
            call()
        assert (caught.value.code, caught.value.field) == ("wrong-unit", "Head face")
        assert caught.value.expected.endswith("for example mm")


def test_what_may_stand_below_zero_says_so():
    assert judge(mm(-0.1), Limit("Stand-out", mm(-0.2), mm(0.1)), signed=True).verdict == WITHIN


def test_a_band_upside_down_is_refused():
    for limit in (Limit("x", mm(2.0), mm(1.0)), Limit("x", mm(1.0), mm(1.0), strict=True)):
        with pytest.raises(InputError) as caught:
            judge(mm(1.0), limit)
        assert caught.value.code == "out-of-order"


CASES = (Case("new", Limit("Bolt length", high=mm(100.0))), Case("used", Limit("Bolt length", high=mm(101.0))))


GOLDEN_WHEN = [
    (CASES, SAY_WHICH, "Bolt length: the limit depends on which of these holds: new; used."),
    ([CASES[1], Case("", CASES[0].limit)], SAY_WHICH, "Bolt length: the limit depends on which of these holds: used; none of these."),
    ([Case(word, Limit("Valve clearance", high=mm(0.4))) for word in ("cold", "hot", "hot, first fit")], SAY_WHICH,
     "Valve clearance: the limit depends on which of these holds: cold; hot; hot, first fit."),
]


@pytest.mark.parametrize(("cases", "verdict", "reason"), GOLDEN_WHEN)
def test_golden_sentences_of_conditions(cases, verdict, reason):
    asked = judge_when(mm(100.5), cases, None)
    assert (asked.verdict, asked.reason, asked.next_step) == (verdict, reason, NEXT[verdict])


def test_a_condition_chooses_the_limit():
    assert judge_when(mm(100.5), CASES, "new").verdict == OVER
    assert judge_when(mm(100.5), CASES, "used").verdict == WITHIN
    assert judge_when(mm(100.5), [], None).verdict == NO_LIMIT
    lone = Case("", CASES[0].limit)
    assert judge_when(mm(100.5), [lone], None) == judge_when(mm(100.5), [lone], "") == judge(mm(100.5), lone.limit)
    assert judge_when(mm(100.5), [CASES[1], lone], "").verdict == OVER
    with pytest.raises(InputError) as caught:
        judge_when(mm(100.5), CASES, "hot")
    assert caught.value.code == "unknown" and "new; used" in caught.value.expected


CUT = judge(mm(0.05), Limit("Stock removal", high=mm(0.1)))
GOLDEN_PROVIDED = [
    ([judge(mm(0.5), BAND), judge(mm(0.4), BAND)], CONDITION_FAILS,
     "Stock removal: 0.05 mm is within the limit (max 0.1 mm) by 0.05 mm, but that counts only while another figure holds, "
     "and it is not shown to: Valve recession: 0.4 mm is under the limit (0.45 to 0.9 mm) by 0.05 mm."),
    ([judge(mm(0.5), None)], CONDITION_FAILS,
     "Stock removal: 0.05 mm is within the limit (max 0.1 mm) by 0.05 mm, but that counts only while another figure holds, "
     "and it is not shown to: 0.5 mm was measured, and this record has no limit for it."),
    ([judge(mm(89.95), Limit("Head height", low=mm(90.0), strict=True))], CONDITION_FAILS,
     "Stock removal: 0.05 mm is within the limit (max 0.1 mm) by 0.05 mm, but that counts only while another figure holds, "
     "and it is not shown to: Head height: 89.95 mm is under the limit (over 90 mm) by 0.05 mm."),
]


@pytest.mark.parametrize(("conditions", "verdict", "reason"), GOLDEN_PROVIDED)
def test_golden_sentences_of_a_limit_that_holds_only_while_another_figure_holds(conditions, verdict, reason):
    held = judge_provided(CUT, conditions)
    assert (held.verdict, held.reason, held.next_step) == (verdict, reason, NEXT[verdict])


def test_a_limit_that_holds_only_while_another_figure_holds():
    cut, recession = judge(mm(0.05), MAX), judge(mm(0.4), BAND)
    assert judge_provided(cut, [judge(mm(0.5), BAND)]) == cut
    over = judge(mm(0.2), MAX)
    assert judge_provided(over, [recession]) == over


def test_several_readings_and_their_spread():
    row = [Reading("liner 1", mm(0.05)), Reading("liner 2", mm(0.09)), Reading("liner 3", mm(0.06))]
    spread = Limit("Spread of stand-out", high=mm(0.04))
    found = judge_several(row, MAX, spread)
    assert [each.verdict for each in found.each] == [WITHIN] * 3
    assert found.spread is not None and found.spread.verdict == WITHIN  # 0.09 - 0.05 in binary is a little over 0.04
    assert found.spread.reason == "Spread of stand-out: 0.04 mm is exactly on the bound, which is allowed (max 0.04 mm)."
    tighter = judge_several(row, MAX, Limit("Spread of stand-out", high=mm(0.03)))
    assert tighter.result == tighter.spread and tighter.result.verdict == OVER
    over = judge_several([*row, Reading("liner 4", mm(0.2))], MAX)
    assert over.result.reason == "liner 4: Bolt length: 0.2 mm is over the limit (max 0.1 mm) by 0.1 mm."


@pytest.mark.parametrize(("row", "spread", "code"), [
    ([], None, "too-few"), ([Reading("1", mm(1.0))], MAX, "too-few"), ([Reading("1", mm(1.0))] * 2, None, "too-many"),
    ([Reading("1", mm(1.0)), Reading("2", Quantity(1.0, "psi"))], MAX, "wrong-unit"),
])
def test_rows_that_cannot_be_judged(row, spread, code):
    with pytest.raises(InputError) as caught:
        judge_several(row, MAX, spread)
    assert caught.value.code == code


def test_every_verdict_has_a_weight_and_a_next_step():
    assert set(WEIGHT) == set(NEXT)


sizes = st.floats(0, 1000, allow_nan=False)


@given(sizes, sizes, sizes, st.booleans())
def test_more_never_turns_over_into_within(reading, more, bound, strict):
    limit = Limit("x", high=mm(bound), strict=strict)
    if judge(mm(reading), limit).verdict == OVER:
        assert judge(mm(reading + more), limit).verdict == OVER


@given(sizes, sizes, st.booleans())
def test_strict_is_never_kinder_and_practice_is_never_within(reading, bound, low):
    bounds = {"low" if low else "high": mm(bound)}
    if judge(mm(reading), Limit("x", **bounds)).verdict != WITHIN:
        assert judge(mm(reading), Limit("x", **bounds, strict=True)).verdict != WITHIN
    assert judge(mm(reading), Limit("x", **bounds, own=False)).verdict == PRACTICE


@given(sizes, sizes)
def test_the_verdict_is_the_same_in_inches(reading, bound):
    inches = Quantity(mm(reading).to("in"), "in")
    assert judge(inches, Limit("x", high=mm(bound))).verdict == judge(mm(reading), Limit("x", high=mm(bound))).verdict
