"""Which gasket: the deciding reading is the caller's, nothing is chosen outside the table."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.calculations.gasket import (
    CANNOT_TELL,
    CHOSEN,
    OUTSIDE,
    THICKER,
    Gasket,
    Reading,
    by_clearance,
    by_measurement,
    by_protrusion,
)
from generator.calculations.result import InputError
from generator.quantities import Quantity
from tests.published import published


def mm(number):
    return Quantity(number, "mm")


TABLE = (
    Gasket("1 hole", mm(0.60), mm(0.70), mm(1.2), "book p. 9"),
    Gasket("2 holes", mm(0.71), mm(0.80), mm(1.3), "book p. 9"),
    Gasket("3 holes", mm(0.81), mm(0.90), mm(1.4), "book p. 9"),
)


def readings(*values, head=""):
    return [Reading(str(place), mm(value), head) for place, value in enumerate(values, start=1)]


def code_of(call, *args):
    with pytest.raises(InputError) as caught:
        call(*args)
    return caught.value.code, caught.value.field


# By protrusion


OVERLAPPING = (Gasket("A", mm(0.6), mm(0.7)), Gasket("B", mm(0.7), mm(0.8)), Gasket("C", mm(0.75)))
GOLDEN = [
    ((0.66, 0.74, 0.69, 0.68), "highest", "2 holes", CHOSEN,
     "The highest protrusion, at 2, is 0.74 mm: gasket 2 holes, for 0.71 to 0.8 mm."),
    ((0.66, 0.74, 0.69, 0.68), "mean", "1 hole", CHOSEN, "The mean of 4 protrusions is 0.6925 mm: gasket 1 hole, for 0.6 to 0.7 mm."),
    ((0.81,), "highest", "3 holes", CHOSEN,
     "The highest protrusion, at 1, is 0.81 mm: gasket 3 holes, for 0.81 to 0.9 mm."),
    ((0.95, 0.7), "highest", None, OUTSIDE, "The highest protrusion, at 1, is 0.95 mm: no gasket of the table is for it."),
    ((0.70, 0.71), "mean", None, OUTSIDE, "The mean of 2 protrusions is 0.705 mm: no gasket of the table is for it."),
    ((-0.1, 0.2), "highest", None, OUTSIDE, "The highest protrusion, at 2, is 0.2 mm: no gasket of the table is for it."),
]


@pytest.mark.parametrize(("values", "decides", "mark", "verdict", "reason"), GOLDEN)
def test_golden_sentences_by_protrusion(values, decides, mark, verdict, reason):
    choice, = by_protrusion(readings(*values), TABLE, decides, "engine")
    assert (choice.gasket and choice.gasket.mark, choice.result.verdict, choice.result.reason) == (mark, verdict, reason)
    assert choice.result.basis == "book p. 9"


GOLDEN_TWICE = [
    ((0.7,), "highest", CANNOT_TELL, "The highest protrusion, at 1, is 0.7 mm: the table has A and B for it."),
    ((0.66, 0.74), "mean", CANNOT_TELL, "The mean of 2 protrusions is 0.7 mm: the table has A and B for it."),
    ((0.62, 0.64, 0.78), "highest", CANNOT_TELL, "The highest protrusion, at 3, is 0.78 mm: the table has B and C for it."),
]


@pytest.mark.parametrize(("values", "decides", "verdict", "reason"), GOLDEN_TWICE)
def test_a_value_in_two_classes_is_not_decided_here(values, decides, verdict, reason):
    choice, = by_protrusion(readings(*values), OVERLAPPING, decides, "engine")
    assert (choice.gasket, choice.result.verdict, choice.result.reason) == (None, verdict, reason)
    assert choice.result.next_step == "Look up in the manual which of them it is."


def test_each_head_has_its_own_gasket_where_the_record_says_so():
    heads = {"1": (0.65, "left"), "2": (0.85, "right"), "3": (0.66, "left"), "4": (0.82, "right")}
    taken = [Reading(place, mm(value), head) for place, (value, head) in heads.items()]
    choices = by_protrusion(taken, TABLE, "highest", "head")
    assert [(choice.head, choice.gasket.mark) for choice in choices] == [("left", "1 hole"), ("right", "3 holes")]
    assert choices[0].result.reason == "The highest protrusion, at 3 on head left, is 0.66 mm: gasket 1 hole, for 0.6 to 0.7 mm."
    whole, = by_protrusion(taken, TABLE, "highest", "engine")
    assert (whole.head, whole.gasket.mark) == ("", "3 holes")


def test_bounds_belong_to_their_class_in_every_unit():
    choice, = by_protrusion([Reading("1", Quantity(0.9 / 25.4, "in"))], TABLE, "highest", "engine")
    assert choice.gasket.mark == "3 holes"
    open_ended = (Gasket("thin", high=mm(0.5)), Gasket("thick", low=mm(0.51)))
    assert by_protrusion(readings(-0.2), open_ended, "mean", "engine")[0].result.reason.endswith("gasket thin, for up to 0.5 mm.")
    assert by_protrusion(readings(2.0), open_ended, "mean", "engine")[0].result.reason.endswith("gasket thick, for 0.51 mm and more.")


# By another measurement


ENDLESS = (Gasket("thin", high=mm(0.5)), Gasket("thick", low=mm(0.51)))
GOLDEN_MEASURED = [
    (mm(0.75), TABLE, "crushed wire", CHOSEN, "Crushed wire of 0.75 mm: gasket 2 holes, for 0.71 to 0.8 mm."),
    (Quantity(0.015, "in"), ENDLESS, "crushed wire", CHOSEN, "Crushed wire of 0.015 in (0.381 mm): gasket thin, for up to 0.5 mm."),
    (mm(1.2), ENDLESS, "water-hole erosion", CHOSEN, "Water-hole erosion of 1.2 mm: gasket thick, for 0.51 mm and more."),
    (mm(0.1), TABLE, "crushed wire", OUTSIDE, "Crushed wire of 0.1 mm: no gasket of the table is for it."),
    (mm(0.705), TABLE, "crushed wire", OUTSIDE, "Crushed wire of 0.705 mm: no gasket of the table is for it."),
    (Quantity(0.08, "in"), TABLE, "water-hole erosion", OUTSIDE, "Water-hole erosion of 0.08 in (2.032 mm): no gasket of the table is for it."),
    (mm(0.7), OVERLAPPING, "crushed wire", CANNOT_TELL, "Crushed wire of 0.7 mm: the table has A and B for it."),
    (mm(0.8), OVERLAPPING, "crushed wire", CANNOT_TELL, "Crushed wire of 0.8 mm: the table has B and C for it."),
    (Quantity(0.03, "in"), OVERLAPPING, "water-hole erosion", CANNOT_TELL, "Water-hole erosion of 0.03 in (0.762 mm): the table has B and C for it."),
]


@pytest.mark.parametrize(("value", "table", "what", "verdict", "reason"), GOLDEN_MEASURED)
def test_golden_sentences_by_another_measurement(value, table, what, verdict, reason):
    choice = by_measurement(value, table, what)
    assert (choice.result.verdict, choice.result.reason) == (verdict, reason)
    assert (choice.gasket is not None) == (verdict == CHOSEN)


def test_what_to_do_outside_the_table():
    outside = [by_measurement(mm(value), TABLE, "crushed wire").result for value in (0.1, 2.0, 0.705)]
    assert {result.verdict for result in outside} == {OUTSIDE}
    assert [result.next_step.split(":")[0].split(";")[0] for result in outside] == [
        "Measure again", "Measure again", "It lies between two classes"]
    assert code_of(by_measurement, 0.75, TABLE, "crushed wire") == ("wrong-unit", "crushed wire")


# By clearance


def sheets(*thicknesses, unit="mm"):
    return [Gasket(f"no. {number}", thickness=Quantity(each, unit)) for number, each in enumerate(thicknesses, start=1)]


@pytest.mark.parametrize("case", published("gasket", "clearances"), ids=lambda case: case["id"])
def test_published_clearance_less_measurement(case):
    low, high, measurement = (Quantity(case[key], case["unit"]) for key in ("low", "high", "measurement"))
    choice = by_clearance(low, high, measurement, sheets(*case["thicknesses"], unit=case["unit"]), THICKER)
    if case["value"] is None:
        assert (choice.gasket, choice.result.verdict) == (None, OUTSIDE)
    else:
        assert choice.gasket.thickness.value == case["value"]
        assert choice.result.number.value == pytest.approx(case["clearance"], abs=case["tolerance"])


GOLDEN_CLEARANCE = [
    (0.2, sheets(0.3, 0.4, 0.5), None, CHOSEN,
     "The gasket may be 0.35 to 0.45 mm thick; no. 2 is 0.4 mm and leaves a clearance of 0.6 mm."),
    (0.2, sheets(0.35, 0.45), THICKER, CHOSEN,
     "The gasket may be 0.35 to 0.45 mm thick; no. 2 is 0.45 mm and leaves a clearance of 0.65 mm."),
    (0.2, sheets(0.3, 0.5), THICKER, CHOSEN,
     "The gasket may be 0.35 to 0.45 mm thick; no. 2 is 0.5 mm and leaves a clearance of 0.7 mm, over the 0.65 mm asked for."),
    (0.2, sheets(0.3, 0.5), None, CANNOT_TELL,
     "The gasket may be 0.35 to 0.45 mm thick; one of the table is too thin and the next too thick, and the record does not say which to take."),
    (0.2, sheets(0.35, 0.45), None, CANNOT_TELL,
     "The gasket may be 0.35 to 0.45 mm thick; more than one of the table would do, and the record does not say which to take."),
    (-0.1, sheets(0.4, 0.66, 0.7, 0.74), None, CANNOT_TELL,
     "The gasket may be 0.65 to 0.75 mm thick; more than one of the table would do, and the record does not say which to take."),
    (0.2, sheets(0.2, 0.3), THICKER, OUTSIDE, "The gasket may be 0.35 to 0.45 mm thick; the table has none for it."),
    (0.2, sheets(0.5), THICKER, OUTSIDE, "The gasket may be 0.35 to 0.45 mm thick; the table has none for it."),
    (0.7, sheets(0.5), THICKER, OUTSIDE, "The measurement of 0.7 mm leaves no room for a gasket within a clearance of 0.65 mm."),
    (-0.1, sheets(0.3, 0.5), None, OUTSIDE, "The gasket may be 0.65 to 0.75 mm thick; the table has none for it."),
]


@pytest.mark.parametrize(("measurement", "table", "between", "verdict", "reason"), GOLDEN_CLEARANCE)
def test_golden_sentences_by_clearance(measurement, table, between, verdict, reason):
    choice = by_clearance(mm(0.55), mm(0.65), mm(measurement), table, between)
    assert (choice.result.verdict, choice.result.reason) == (verdict, reason)
    assert (choice.gasket is not None) == (verdict == CHOSEN)


# Refusals and properties


def test_bad_input_is_refused():
    good = readings(0.65, 0.7)
    assert code_of(by_protrusion, [], TABLE, "mean", "engine") == ("too-few", "readings")
    assert code_of(by_protrusion, good, (), "mean", "engine") == ("too-few", "table")
    assert code_of(by_protrusion, good, TABLE, "lowest", "engine") == ("unknown", "decides")
    assert code_of(by_protrusion, good, TABLE, "mean", "cylinder") == ("unknown", "per")
    assert code_of(by_protrusion, good, TABLE, "mean", "head") == ("missing", "head of 1")
    assert code_of(by_protrusion, [*good, Reading("1", mm(0.6))], TABLE, "mean", "engine") == ("too-many", "reading 1")
    assert code_of(by_protrusion, [Reading("1", 0.65)], TABLE, "mean", "engine") == ("wrong-unit", "reading 1")
    assert code_of(by_protrusion, good, [Gasket("A")], "mean", "engine") == ("missing", "gasket A")
    assert code_of(by_protrusion, good, [Gasket("A", mm(0.7), mm(0.6))], "mean", "engine") == ("out-of-order", "gasket A")
    assert code_of(by_clearance, mm(0.65), mm(0.55), mm(0.2), sheets(0.4)) == ("out-of-order", "clearance")
    assert code_of(by_clearance, mm(0.55), mm(0.65), None, sheets(0.4)) == ("missing", "measurement")
    assert code_of(by_clearance, mm(0.55), mm(0.65), mm(0.2), []) == ("too-few", "table")
    assert code_of(by_clearance, mm(0.55), mm(0.65), mm(0.2), [Gasket("A", mm(0.6))]) == ("missing", "thickness of A")
    assert code_of(by_clearance, mm(0.55), mm(0.65), mm(0.2), sheets(0.4, 0.4)) == ("too-many", "thickness of no. 2")
    assert code_of(by_clearance, mm(0.55), mm(0.65), mm(0.2), sheets(0.4), "thinner") == ("unknown", "between")


protrusions = st.lists(st.floats(0.4, 1.1), min_size=1, max_size=8)


@given(protrusions, st.sampled_from(["highest", "mean"]))
def test_a_gasket_is_only_chosen_from_the_class_that_holds_the_deciding_value(values, decides):
    choice, = by_protrusion(readings(*values), TABLE, decides, "engine")
    assert min(values) - 1e-9 <= choice.result.number.value <= max(values) + 1e-9
    holding = [row for row in TABLE if row.low.value <= choice.result.number.value <= row.high.value]
    assert ([choice.gasket] if choice.gasket else []) == holding


@given(st.floats(0.4, 1.1), st.floats(0, 0.3))
def test_more_protrusion_never_gets_a_thinner_gasket(value, more):
    chosen = [by_protrusion(readings(each), TABLE, "highest", "engine")[0].gasket for each in (value, value + more)]
    thick = [gasket.thickness.value for gasket in chosen if gasket]
    assert thick == sorted(thick)


@given(st.floats(-1, 0.5), st.floats(0, 0.3), st.sets(st.integers(1, 40), min_size=1, max_size=6))
def test_a_chosen_gasket_never_leaves_too_little_and_more_measurement_never_a_thicker_one(measurement, more, steps):
    table = sheets(*(step / 20 for step in sorted(steps)))
    choices = [by_clearance(mm(0.55), mm(0.65), mm(each), table, THICKER) for each in (measurement, measurement + more)]
    for choice, at in zip(choices, (measurement, measurement + more), strict=True):
        if choice.gasket:
            assert choice.gasket.thickness.value + at == pytest.approx(choice.result.number.value)
            assert choice.result.number.value >= 0.55 - 2e-9
    thick = [choice.gasket.thickness.value for choice in choices if choice.gasket]
    assert thick == sorted(thick, reverse=True)


@given(protrusions)
def test_the_order_of_the_table_changes_nothing(values):
    one, other = (by_protrusion(readings(*values), table, "highest", "engine")[0] for table in (TABLE, TABLE[::-1]))
    assert one.gasket == other.gasket
