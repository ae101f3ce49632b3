"""Sideways adapters, the range of a wrench, and drag."""

from math import hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.calculations.entry import read_entry
from generator.calculations.result import InputError, Limit
from generator.calculations.wrench import (
    ABOVE,
    ADDED,
    BELOW,
    BEST,
    NEXT,
    NOT_ADDED,
    SET_AS_IS,
    SET_CORRECTED,
    USABLE,
    WrenchRange,
    adapter_setting,
    torque_delivered,
    with_run_down,
    wrench_range,
)
from generator.quantities import Quantity
from tests.published import published


def nm(value: float) -> Quantity:
    return Quantity(value, "N.m")


def mm(value: float) -> Quantity:
    return Quantity(value, "mm")


def deg(value: float) -> Quantity:
    return Quantity(value, "deg")


def torque(text: str) -> Quantity:
    return read_entry(text, "N.m", "published")


def length(text: str) -> Quantity:
    return read_entry(text, "mm", "published")


@pytest.mark.parametrize("case", published("wrench", "settings"), ids=lambda case: case["id"])
def test_published_settings(case):
    result = adapter_setting(torque(case["torque"]), length(case["length"]), length(case["adapter"]), deg(case["angle"]))
    assert result.number is not None and result.number.unit == torque(case["torque"]).unit
    assert result.number.value == pytest.approx(case["setting"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("wrench", "delivered"), ids=lambda case: case["id"])
def test_published_torque_delivered(case):
    found = torque_delivered(torque(case["setting"]), length(case["length"]), length(case["adapter"]), deg(case["angle"]))
    assert found.value == pytest.approx(case["delivered"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("wrench", "ranges"), ids=lambda case: f"{case['id']} {case['setting']}")
def test_published_ranges(case):
    assert wrench_range(torque(case["setting"]), WrenchRange(torque(case["full_scale"]))).verdict == case["verdict"]


@pytest.mark.parametrize("case", published("wrench", "run_down"), ids=lambda case: case["id"])
def test_published_run_down(case):
    result = with_run_down(torque(case["torque"]), torque(case["drag"]), Limit("Prevailing torque"))
    assert result.verdict == ADDED and result.number is not None
    assert result.number.value == pytest.approx(case["sum"], abs=case["tolerance"])


GOLDEN = [
    ((nm(80), mm(400), None), SET_AS_IS, "A bar in line with the bolt changes nothing: leave 0. Set 80 N.m."),
    ((nm(80), mm(400), mm(0)), SET_AS_IS, "A bar in line with the bolt changes nothing: leave 0. Set 80 N.m."),
    ((Quantity(65, "lbf.ft"), Quantity(18, "in"), None), SET_AS_IS, "A bar in line with the bolt changes nothing: leave 0. Set 65 lbf.ft."),
    ((nm(80), mm(400), mm(50), deg(90)), SET_AS_IS, "An adapter at a right angle changes nothing: set 80 N.m."),
    ((nm(80), mm(400), mm(50)), SET_CORRECTED,
     "The adapter makes the wrench longer, 450 mm instead of 400 mm: set 71.1 N.m for 80 N.m at the bolt."),
    ((nm(80), mm(400), mm(50), deg(180)), SET_CORRECTED,
     "The adapter makes the wrench shorter, 350 mm instead of 400 mm: set 91.4 N.m for 80 N.m at the bolt."),
    ((Quantity(40, "lbf.ft"), Quantity(12, "in"), Quantity(4, "in"), deg(60)), SET_CORRECTED,
     "The adapter makes the wrench longer, 14 in instead of 12 in: set 34.3 lbf.ft for 40 lbf.ft at the bolt."),
]


@pytest.mark.parametrize(("arguments", "verdict", "reason"), GOLDEN)
def test_golden_sentences_of_the_adapter(arguments, verdict, reason):
    result = adapter_setting(*arguments, basis="methods")
    assert (result.verdict, result.reason, result.next_step, result.basis) == (verdict, reason, NEXT[verdict], "methods")


GOLDEN_RANGE = [
    (nm(10), WrenchRange(nm(100)), BELOW, "10 N.m is 10 % of the full scale of 100 N.m: below its range, which begins at 20 %."),
    (nm(25), WrenchRange(nm(100), lowest=nm(28)), BELOW,
     "25 N.m is 25 % of the full scale of 100 N.m: below its range, which begins at 28 N.m."),
    (Quantity(15, "lbf.ft"), WrenchRange(nm(200), lowest=nm(20)), BELOW,
     "15 lbf.ft is 10.2 % of the full scale of 200 N.m: below its range, which begins at 20 %."),
    (nm(110), WrenchRange(nm(100)), ABOVE, "110 N.m is 110 % of the full scale of 100 N.m: above its range."),
    (Quantity(90, "lbf.ft"), WrenchRange(nm(100)), ABOVE, "90 lbf.ft is 122 % of the full scale of 100 N.m: above its range."),
    (nm(60.5), WrenchRange(nm(60)), ABOVE, "60.5 N.m is 100.8 % of the full scale of 60 N.m: above its range."),
    (nm(25), WrenchRange(nm(100)), USABLE, "25 N.m is 25 % of the full scale of 100 N.m: in its range."),
    (nm(90), WrenchRange(nm(100)), USABLE, "90 N.m is 90 % of the full scale of 100 N.m: in its range."),
    (Quantity(30, "lbf.ft"), WrenchRange(nm(200), lowest=nm(40)), USABLE, "30 lbf.ft is 20.3 % of the full scale of 200 N.m: in its range."),
    (nm(50), WrenchRange(nm(100), lowest=nm(20)), BEST,
     "50 N.m is 50 % of the full scale of 100 N.m: best part of its range, 30 % to 80 %."),
    (Quantity(65, "lbf.ft"), WrenchRange(Quantity(100, "lbf.ft")), BEST,
     "65 lbf.ft is 65 % of the full scale of 100 lbf.ft: best part of its range, 30 % to 80 %."),
    (nm(9), WrenchRange(nm(30), best_from=25, best_to=75), BEST,
     "9 N.m is 30 % of the full scale of 30 N.m: best part of its range, 25 % to 75 %."),
]


@pytest.mark.parametrize(("setting", "wrench", "verdict", "reason"), GOLDEN_RANGE)
def test_golden_sentences_of_the_range(setting, wrench, verdict, reason):
    result = wrench_range(setting, wrench)
    assert (result.verdict, result.reason, result.next_step) == (verdict, reason, NEXT[verdict])


def test_the_range_is_the_same_for_a_setting_in_another_unit():
    assert wrench_range(Quantity(nm(30).to("lbf.ft"), "lbf.ft"), WrenchRange(nm(100))).verdict == BEST


BAND = Limit("Prevailing torque", nm(2), nm(6), basis="book B")


GOLDEN_DRAG = [
    (None, 5, NOT_ADDED, 40, "The record states no prevailing torque here, so 5 N.m of drag is a fault: the torque stays 40 N.m."),
    (Limit("Prevailing torque"), 5, ADDED, 45, "40 N.m and 5 N.m of prevailing torque make 45 N.m."),
    (BAND, 6, ADDED, 46, "40 N.m and 6 N.m of prevailing torque make 46 N.m."),
    (Limit("Prevailing torque", low=nm(1)), 2.5, ADDED, 42.5, "40 N.m and 2.5 N.m of prevailing torque make 42.5 N.m."),
    (BAND, 9, NOT_ADDED, 40, "The drag is not what a good fastener of this kind has, so it is not added: "
     "Prevailing torque: 9 N.m is over the limit (2 to 6 N.m) by 3 N.m."),
    (BAND, 1, NOT_ADDED, 40, "The drag is not what a good fastener of this kind has, so it is not added: "
     "Prevailing torque: 1 N.m is under the limit (2 to 6 N.m) by 1 N.m."),
]


@pytest.mark.parametrize(("prevailing", "drag", "verdict", "number", "reason"), GOLDEN_DRAG)
def test_golden_sentences_of_drag(prevailing, drag, verdict, number, reason):
    result = with_run_down(nm(40), nm(drag), prevailing)
    assert (result.verdict, result.number, result.reason, result.next_step) == (verdict, nm(number), reason, NEXT[verdict])


def test_no_drag_is_no_fault():
    result = with_run_down(nm(40), nm(0), None)
    assert (result.verdict, result.number, result.reason) == (NOT_ADDED, nm(40), "No drag: the torque stays 40 N.m.")
    assert result.next_step == NEXT[SET_AS_IS]
    assert with_run_down(nm(40), nm(0), BAND).next_step == NEXT[NOT_ADDED]  # a worn self-locking nut


@pytest.mark.parametrize(("arguments", "code"), [
    ((None, mm(400), mm(50)), "missing"), ((80, mm(400), mm(50)), "wrong-unit"), ((mm(80), mm(400), mm(50)), "wrong-unit"),
    ((nm(0), mm(400), mm(50)), "zero"), ((nm(-5), mm(400), mm(50)), "negative"), ((nm(80), mm(0), mm(50)), "zero"),
    ((nm(80), mm(400), mm(-50)), "negative"), ((nm(80), mm(400), nm(50)), "wrong-unit"),
    ((nm(80), mm(400), mm(50), deg(181)), "out-of-range"),
    ((nm(80), mm(400), mm(50), deg(-1)), "negative"), ((nm(80), mm(400), mm(400), deg(180)), "out-of-range"),
    ((nm(80), mm(400), mm(900), deg(120)), "out-of-range"),
])
@pytest.mark.parametrize("function", [adapter_setting, torque_delivered])
def test_bad_input_of_the_adapter(function, arguments, code):
    with pytest.raises(InputError) as caught:
        function(*arguments)
    assert caught.value.code == code


@pytest.mark.parametrize(("call", "code"), [
    (lambda: wrench_range(nm(0), WrenchRange(nm(100))), "zero"), (lambda: wrench_range(nm(50), WrenchRange(nm(0))), "zero"),
    (lambda: wrench_range(mm(50), WrenchRange(nm(100))), "wrong-unit"), (lambda: with_run_down(nm(40), nm(-1), None), "negative"),
    (lambda: with_run_down(nm(40), None, None), "missing"), (lambda: with_run_down(mm(40), nm(1), None), "wrong-unit"),
])
def test_bad_input_of_range_and_drag(call, code):
    with pytest.raises(InputError) as caught:
        call()
    assert caught.value.code == code


arms = st.floats(100, 1000)


@given(st.floats(1, 500), arms, st.floats(0, 90), st.floats(0, 180))
def test_there_and_back_agree(wanted, arm, adapter, angle):
    result = adapter_setting(nm(wanted), mm(arm), mm(adapter), deg(angle))
    assert result.number is not None
    assert torque_delivered(result.number, mm(arm), mm(adapter), deg(angle)).value == pytest.approx(wanted, rel=1e-9)


@given(st.floats(1, 500), arms, st.floats(1, 90), st.floats(0, 179))
def test_the_formula_against_forces(wanted, arm, adapter, angle):
    """Independent: the hand pulls square to the wrench; torque about the bolt is force times lever from bolt to pull."""
    result = adapter_setting(nm(wanted), mm(arm), mm(adapter), deg(angle))
    assert result.number is not None
    force = result.number.value / arm
    across = adapter * sin(radians(angle))
    from_bolt = hypot(adapter, arm) ** 2 + 2 * arm * adapter * ((1 if angle <= 90 else -1) * (1 - sin(radians(angle)) ** 2) ** 0.5)
    lever = (from_bolt - across * across) ** 0.5  # the part of the way from bolt to hand that lies along the wrench
    assert force * lever == pytest.approx(wanted, rel=1e-6)


@given(st.floats(1, 500), arms, st.floats(1, 90), st.floats(1, 50))
def test_a_longer_adapter_needs_a_lower_setting(wanted, arm, adapter, more):
    short, long = (adapter_setting(nm(wanted), mm(arm), mm(size)).number for size in (adapter, adapter + more))
    assert short is not None and long is not None and long.value < short.value < wanted


@given(st.floats(0.1, 200), st.floats(0.1, 50))
def test_a_higher_setting_never_falls_back(setting, more):
    first, second = (wrench_range(nm(value), WrenchRange(nm(100))).verdict for value in (setting, setting + more))
    assert second == ABOVE or first != ABOVE
    assert first == BELOW or second != BELOW
    assert (first == BELOW) == (setting < 20 * (1 - 1e-9))
