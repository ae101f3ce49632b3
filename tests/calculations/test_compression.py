"""The record's rules give verdicts, rules of practice and patterns stand beside them."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.calculations import limits
from generator.calculations.compression import (
    ALL_LOW,
    ALREADY_WET_NEXT,
    BELOW_MEAN,
    DIESEL,
    DIESEL_NEXT,
    DOES_NOT_APPLY,
    HIGH_NEXT,
    LEAK_NEXT,
    MINIMUM,
    NEIGHBOURS_LOW,
    NEXT,
    NOT_COMPUTED,
    OF_HIGHEST,
    OIL_DOES_NOTHING,
    OIL_HELPS_A_LITTLE,
    OIL_LIFTS,
    ONE_LOW,
    PATTERN_NEXT,
    SPARK,
    SPREAD,
    WEIGHT,
    WET_NEXT,
    AltitudeRow,
    Cylinder,
    Rule,
    altitude_minimum,
    judge_compression,
    leak_down,
)
from generator.calculations.entry import read_entry
from generator.calculations.limits import NO_LIMIT, NO_NUMBER, OVER, PRACTICE, UNDER, WITHIN
from generator.calculations.result import InputError, Limit
from generator.quantities import Quantity
from tests.published import published


def psi(value: float) -> Quantity:
    return Quantity(value, "psi")


def percent(value: float) -> Quantity:
    return Quantity(value, "%")


FOUR = [["1", "2", "3", "4"]]
LEAST = Rule(MINIMUM, Limit("Minimum", low=psi(85), basis="course, LE 2"))
APART = Rule(SPREAD, Limit("Between cylinders", high=psi(25), basis="course, LE 2"))
PART = Rule(OF_HIGHEST, Limit("Lowest against highest", low=percent(75)))
MEAN = Rule(BELOW_MEAN, Limit("Below the mean", high=percent(20), strict=True))
NORMAL = Rule(MINIMUM, Limit("Normal", psi(120), psi(150)))
PRACTICE_75 = Rule(OF_HIGHEST, Limit("75 % of the highest", low=percent(75), basis="manual C, step 7", own=False))


def read(*values: float, wet: dict[str, float] | None = None) -> list[Cylinder]:
    found = {name: psi(value) for name, value in (wet or {}).items()}
    return [Cylinder(str(n), psi(value), found.get(str(n))) for n, value in enumerate(values, 1)]


def one(rule: Rule, *values: float, rows=None, ignition=SPARK, **more):
    return judge_compression(rows or FOUR, ignition, read(*values, **more), [rule])


GOLDEN = [
    (LEAST, (110, 108, 111, 109), WITHIN, (), "Minimum, No. 2 at 108 psi: 108 psi is within the limit (min 85 psi) by 23 psi."),
    (LEAST, (110, 84, 80, 109), UNDER, ("2", "3"),
     "Minimum, Nos. 2 and 3, the lowest at 80 psi: 80 psi is under the limit (min 85 psi) by 5 psi."),
    (LEAST, (110, 85, 90, 109), WITHIN, (), "Minimum, No. 2 at 85 psi: 85 psi is exactly on the bound, which is allowed (min 85 psi)."),
    (APART, (445, 440, 405, 435), OVER, ("3",), "Between cylinders, No. 3 at 405 psi: 40 psi is over the limit (max 25 psi) by 15 psi."),
    (APART, (445, 440, 425, 435), WITHIN, (), "Between cylinders, No. 3 at 425 psi: 20 psi is within the limit (max 25 psi) by 5 psi."),
    (PART, (100, 74, 90, 90), UNDER, ("2",), "Lowest against highest, No. 2 at 74 psi: 74 % is under the limit (min 75 %) by 1 %."),
    (PART, (100, 75, 90, 90), WITHIN, (),
     "Lowest against highest, No. 2 at 75 psi: 75 % is exactly on the bound, which is allowed (min 75 %)."),
    (MEAN, (110, 110, 70, 110), OVER, ("3",), "Below the mean, No. 3 at 70 psi: 30 % is over the limit (under 20 %) by 10 %."),
    (MEAN, (110, 110, 90, 90), WITHIN, (), "Below the mean, No. 3 at 90 psi: 10 % is within the limit (under 20 %) by 10 %."),
    (PRACTICE_75, (100, 90, 90, 90), PRACTICE, (),
     "75 % of the highest, No. 2 at 90 psi: 90 % against min 75 %, a rule of practice and not this engine's limit."),
    (PRACTICE_75, (100, 60, 90, 90), PRACTICE, ("2",),
     "75 % of the highest, No. 2 at 60 psi: 60 % against min 75 %, a rule of practice and not this engine's limit."),
    (Rule(SPREAD, Limit("Between cylinders")), (100, 60, 90, 90), NO_NUMBER, (), "Between cylinders: the source gives no number."),
    (Rule(SPREAD, Limit("Rule", own=False)), (100, 60, 90, 90), PRACTICE, (), "Rule: the source gives no number."),
    (LEAST, (110, 108, 111, 0), UNDER, ("4",), "Minimum, No. 4 at 0 psi: 0 psi is under the limit (min 85 psi) by 85 psi."),
    (NORMAL, (130, 160, 155, 130), OVER, ("2", "3"),
     "Normal, Nos. 2 and 3, the highest at 160 psi: 160 psi is over the limit (120 to 150 psi) by 10 psi."),
    (Rule(MINIMUM, Limit("Lowest compression")), (60, 62, 61, 63), NO_NUMBER, (), "Lowest compression: the source gives no number."),
    (Rule(BELOW_MEAN, Limit("Even compression", basis="book, p. 4")), (110, 90), NO_NUMBER, (), "Even compression: the source gives no number."),
    (APART, (100, 60), NOT_COMPUTED, (), "Between cylinders: it compares all cylinders, and 2 of 4 are read."),
    (PART, (110, 108, 111), NOT_COMPUTED, (), "Lowest against highest: it compares all cylinders, and 3 of 4 are read."),
    (MEAN, (110,), NOT_COMPUTED, (), "Below the mean: it compares all cylinders, and 1 of 4 is read."),
    (PART, (0, 0, 0, 0), DOES_NOT_APPLY, (), "Lowest against highest: no cylinder shows any compression."),
    (MEAN, (0, 0, 0, 0), DOES_NOT_APPLY, (), "Below the mean: no cylinder shows any compression."),
]


@pytest.mark.parametrize(("rule", "values", "verdict", "failing", "reason"), GOLDEN)
def test_golden_sentences_of_the_rules(rule, values, verdict, failing, reason):
    found = one(rule, *values)
    judged = (found.rules or found.practice)[0]
    assert (judged.result.verdict, judged.cylinders, judged.result.reason) == (verdict, failing, reason)
    assert judged.result.basis == rule.limit.basis
    if verdict in NEXT:
        assert judged.result.next_step == NEXT[verdict]


def test_the_records_rules_decide_and_the_weightiest_is_the_result():
    found = judge_compression(FOUR, SPARK, read(110, 84, 110, 109), [APART, LEAST, PRACTICE_75])
    assert [each.kind for each in found.rules] == [SPREAD, MINIMUM] and found.result == found.rules[1].result
    assert [each.kind for each in found.practice] == [OF_HIGHEST]


GOLDEN_ALONE = [
    (FOUR, (110, 60, 110, 109), [PRACTICE_75], NO_LIMIT, "110 psi, 60 psi, 110 psi and 109 psi were read, and this record has no rule for them."),
    (FOUR, (110, 60), [], NO_LIMIT, "110 psi and 60 psi were read, and this record has no rule for them."),
    ([["1"]], (62.5,), [], NO_LIMIT, "62.5 psi was read, and this record has no rule for them."),
    ([["1"]], (62.5,), [APART], DOES_NOT_APPLY, "Between cylinders: one cylinder has nothing to be compared with."),
    ([["1"]], (62.5,), [PART], DOES_NOT_APPLY, "Lowest against highest: one cylinder has nothing to be compared with."),
]


@pytest.mark.parametrize(("rows", "values", "rules", "verdict", "reason"), GOLDEN_ALONE)
def test_golden_sentences_of_a_whole_test(rows, values, rules, verdict, reason):
    found = judge_compression(rows, SPARK, read(*values), rules).result
    assert (found.verdict, found.reason, found.next_step) == (verdict, reason, NEXT[verdict])


def test_practice_alone_is_no_verdict():
    found = judge_compression(FOUR, SPARK, read(110, 60, 110, 109), [PRACTICE_75])
    assert found.result.verdict == NO_LIMIT
    assert [each.kind for each in found.patterns] == [ONE_LOW]


def test_a_rule_of_practice_finds_nothing_low_where_the_record_has_a_rule_that_is_kept():
    wide = Rule(SPREAD, Limit("Between cylinders", high=psi(60)))
    assert judge_compression(FOUR, SPARK, read(110, 60, 110, 109), [wide, PRACTICE_75]).patterns == ()


def test_what_to_do_about_a_low_cylinder():
    assert one(APART, 110, 60, 110, 109).result.next_step == WET_NEXT.format("No. 2")
    assert one(APART, 110, 60, 60, 109).result.next_step == WET_NEXT.format("Nos. 2 and 3")
    assert one(APART, 110, 60, 110, 109, wet={"2": 100}).result.next_step == ALREADY_WET_NEXT.format("No. 2")
    assert one(APART, 445, 440, 405, 435, ignition=DIESEL).result.next_step == DIESEL_NEXT.format("No. 3")


def test_one_cylinder_has_no_75_percent_rule():
    found = judge_compression([["1"]], SPARK, read(60), [LEAST, PRACTICE_75, APART, MEAN])
    assert [each.result.verdict for each in found.rules] == [UNDER, DOES_NOT_APPLY, DOES_NOT_APPLY]
    assert found.practice[0].result.verdict == DOES_NOT_APPLY
    assert found.practice[0].result.reason == "75 % of the highest: one cylinder has nothing to be compared with."
    assert [each.kind for each in found.patterns] == [ONE_LOW]
    assert judge_compression([["1"]], SPARK, read(100), [LEAST, APART]).result.verdict == WITHIN


def test_of_two_cylinders_neighbours_say_nothing():
    both = judge_compression([["1", "2"]], SPARK, read(60, 62), [LEAST])
    assert [each.kind for each in both.patterns] == [ALL_LOW]
    single = judge_compression([["1", "2"]], SPARK, read(60, 100), [LEAST])
    assert [each.kind for each in single.patterns] == [ONE_LOW]
    partly = judge_compression([["1", "2"]], SPARK, read(60), [LEAST])
    assert [each.kind for each in partly.patterns] == [ONE_LOW]


def test_a_wet_test_on_a_diesel_is_refused():
    with pytest.raises(InputError) as caught:
        one(LEAST, 400, 300, 400, 400, ignition=DIESEL, wet={"2": 380})
    assert (caught.value.code, caught.value.field) == ("refused", "No. 2 wet")


@pytest.mark.parametrize(("rows", "values", "cylinders"), [
    (FOUR, (110, 60, 62, 109), [("2", "3")]),
    (FOUR, (60, 110, 62, 109), []),
    ([["1", "2", "3"], ["4", "5", "6"]], (110, 110, 60, 60, 110, 110), []),  # 3 ends one bank, 4 begins the other
    ([["1", "2", "3"], ["4", "5", "6"]], (110, 60, 60, 110, 61, 62), [("2", "3"), ("5", "6")]),
    ([["1", "3", "5"], ["2", "4", "6"]], (60, 110, 60, 110, 110, 110), [("1", "3")]),  # numbered from bank to bank
    ([["1"], ["2"], ["3"]], (110, 60, 60), []),  # a head each
    ([["1", "2", "3", "4", "5"]], (110, 60, 61, 62, 110), [("2", "3", "4")]),
])
def test_neighbours_by_layout_and_bank(rows, values, cylinders):
    found = [each for each in one(LEAST, *values, rows=rows).patterns if each.kind == NEIGHBOURS_LOW]
    assert [each.cylinders for each in found] == cylinders


GOLDEN_PATTERNS = [
    ((110, 60, 62, 109), {}, NEIGHBOURS_LOW,
     "Nos. 2 and 3 are neighbours and low, 60 psi and 62 psi: the head gasket may leak between them."),
    ((110, 60, 62, 64), {}, NEIGHBOURS_LOW,
     "Nos. 2, 3 and 4 are neighbours and low, 60 psi, 62 psi and 64 psi: the head gasket may leak between them."),
    ((84.5, 0, 110, 109), {}, NEIGHBOURS_LOW, "Nos. 1 and 2 are neighbours and low, 84.5 psi and 0 psi: the head gasket may leak between them."),
    ((60, 61, 62, 63), {}, ALL_LOW, "All 4 cylinders are low, the highest at 63 psi: look for one cause common to them."),
    ((60, 61, 84.5, 63), {"1": 100, "2": 60}, ALL_LOW, "All 4 cylinders are low, the highest at 84.5 psi: look for one cause common to them."),
    ((0, 0, 0, 0), {}, ALL_LOW, "All 4 cylinders are low, the highest at 0 psi: look for one cause common to them."),
    ((110, 60, 110, 109), {}, ONE_LOW, "No. 2 is low, 60 psi."),
    ((110, 108, 109, 0), {}, ONE_LOW, "No. 4 is low, 0 psi."),
    ((84.5,), {}, ONE_LOW, "No. 1 is low, 84.5 psi."),
    ((110, 60, 110, 109), {"2": 85}, OIL_LIFTS, "No. 2: oil lifts it, 60 psi dry and 85 psi wet."),
    ((110, 108, 109, 0), {"4": 92.5}, OIL_LIFTS, "No. 4: oil lifts it, 0 psi dry and 92.5 psi wet."),
    ((110, 60, 110, 109), {"2": 100}, OIL_LIFTS, "No. 2: oil lifts it, 60 psi dry and 100 psi wet."),
    ((110, 60, 110, 109), {"2": 60}, OIL_DOES_NOTHING, "No. 2: oil does not lift it, 60 psi dry and 60 psi wet."),
    ((110, 60, 110, 109), {"2": 65}, OIL_DOES_NOTHING, "No. 2: oil does not lift it, 60 psi dry and 65 psi wet."),
    ((110, 60, 110, 109), {"2": 55}, OIL_DOES_NOTHING, "No. 2: oil does not lift it, 60 psi dry and 55 psi wet."),
    ((110, 60, 110, 109), {"2": 70}, OIL_HELPS_A_LITTLE, "No. 2: oil lifts it part of the way, 60 psi dry and 70 psi wet."),
    ((110, 60, 110, 109), {"2": 84}, OIL_HELPS_A_LITTLE, "No. 2: oil lifts it part of the way, 60 psi dry and 84 psi wet."),
    ((0, 108, 109, 110), {"1": 40}, OIL_HELPS_A_LITTLE, "No. 1: oil lifts it part of the way, 0 psi dry and 40 psi wet."),
]


@pytest.mark.parametrize(("values", "wet", "kind", "reason"), GOLDEN_PATTERNS)
def test_golden_sentences_of_the_patterns(values, wet, kind, reason):
    found = judge_compression(FOUR, SPARK, read(*values, wet=wet), [LEAST], psi(5), "manual C").patterns
    assert [(each.kind, each.reason, each.basis) for each in found] == [(kind, reason, "manual C")]
    assert found[0].next_step == PATTERN_NEXT.get(kind, WET_NEXT.format(f"No. {found[0].cylinders[0]}"))


def test_without_a_division_any_rise_is_a_rise():
    assert one(LEAST, 110, 60, 110, 109, wet={"2": 61}).patterns[0].kind == OIL_HELPS_A_LITTLE


def test_neighbours_that_were_tested_wet_say_that_too():
    kinds = [each.kind for each in one(LEAST, 110, 60, 60, 109, wet={"2": 60, "3": 60}).patterns]
    assert kinds == [NEIGHBOURS_LOW, OIL_DOES_NOTHING, OIL_DOES_NOTHING]


def test_a_low_cylinder_of_a_diesel_gets_no_oil():
    pattern = one(APART, 445, 440, 405, 435, ignition=DIESEL).patterns[0]
    assert (pattern.kind, pattern.next_step) == (ONE_LOW, DIESEL_NEXT.format("No. 3"))


def test_above_a_normal_range_is_over_but_not_low():
    normal = NORMAL
    found = one(normal, 130, 160, 130, 130)
    assert (found.result.verdict, found.rules[0].cylinders, found.patterns) == (OVER, ("2",), ())
    assert found.result.next_step == HIGH_NEXT.format("No. 2")  # no oil into a cylinder that is not low
    both = one(normal, 155, 160, 130, 130).result
    assert both.reason == "Normal, Nos. 1 and 2, the highest at 160 psi: 160 psi is over the limit (120 to 150 psi) by 10 psi."
    mixed = one(normal, 110, 160, 130, 130)
    assert (mixed.result.verdict, mixed.rules[0].cylinders) == (UNDER, ("1", "2"))
    assert mixed.result.reason.startswith("Normal, No. 1 at 110 psi: 110 psi is under the limit")
    assert mixed.result.next_step == WET_NEXT.format("No. 1")
    usual = Rule(MINIMUM, replace(normal.limit, own=False))
    assert one(usual, 130, 160, 130, 130).practice[0].result.next_step == NEXT[PRACTICE]


def test_while_cylinders_are_unread_two_low_ones_are_not_called_neighbours():
    assert [each.kind for each in judge_compression(FOUR, SPARK, read(60, 62), [LEAST]).patterns] == [ONE_LOW, ONE_LOW]
    assert [each.kind for each in judge_compression(FOUR, SPARK, read(60, 62, 110, 109), [LEAST]).patterns] == [NEIGHBOURS_LOW]


LOSS = Limit("Loss", high=percent(25), basis="circular, step (i)")
USUAL_LOSS = Limit("Loss", high=percent(20), own=False)
NO_LOSS_SAID = Limit("Loss")
GOLDEN_LEAKS = [
    (psi(80), psi(70), LOSS, WITHIN, "Loss, 70 psi held of 80 psi: 12.5 % is within the limit (max 25 %) by 12.5 %."),
    (psi(80), psi(60), LOSS, WITHIN, "Loss, 60 psi held of 80 psi: 25 % is exactly on the bound, which is allowed (max 25 %)."),
    (Quantity(550, "kPa"), Quantity(550, "kPa"), LOSS, WITHIN, "Loss, 550 kPa held of 550 kPa: 0 % is within the limit (max 25 %) by 25 %."),
    (psi(80), psi(50), LOSS, OVER, "Loss, 50 psi held of 80 psi: 37.5 % is over the limit (max 25 %) by 12.5 %."),
    (psi(80), psi(0), LOSS, OVER, "Loss, 0 psi held of 80 psi: 100 % is over the limit (max 25 %) by 75 %."),
    (psi(80), Quantity(400, "kPa"), replace(LOSS, strict=True), OVER,
     "Loss, 58 psi held of 80 psi: 27.5 % is over the limit (under 25 %) by 2.5 %."),
    (psi(80), psi(70), None, NO_LIMIT, "70 psi held of 80 psi is a loss of 12.5 %, and this record has no limit for it."),
    (psi(80), psi(0), None, NO_LIMIT, "0 psi held of 80 psi is a loss of 100 %, and this record has no limit for it."),
    (Quantity(5.5, "bar"), Quantity(5.5, "bar"), None, NO_LIMIT, "5.5 bar held of 5.5 bar is a loss of 0 %, and this record has no limit for it."),
    (psi(80), psi(70), NO_LOSS_SAID, NO_NUMBER,
     "Loss, 70 psi held of 80 psi: 12.5 % was measured, and the source gives no number to hold it against."),
    (psi(80), psi(20), NO_LOSS_SAID, NO_NUMBER,
     "Loss, 20 psi held of 80 psi: 75 % was measured, and the source gives no number to hold it against."),
    (Quantity(600, "kPa"), psi(60), NO_LOSS_SAID, NO_NUMBER,
     "Loss, 413.7 kPa held of 600 kPa: 31.1 % was measured, and the source gives no number to hold it against."),
    (psi(80), psi(70), USUAL_LOSS, PRACTICE,
     "Loss, 70 psi held of 80 psi: 12.5 % against max 20 %, a rule of practice and not this engine's limit."),
    (psi(80), psi(20), USUAL_LOSS, PRACTICE, "Loss, 20 psi held of 80 psi: 75 % against max 20 %, a rule of practice and not this engine's limit."),
    (psi(80), psi(60), replace(USUAL_LOSS, high=None), PRACTICE,
     "Loss, 60 psi held of 80 psi: 25 % was measured, and the source gives no number to hold it against."),
]


@pytest.mark.parametrize(("applied", "held", "limit", "verdict", "reason"), GOLDEN_LEAKS)
def test_golden_sentences_of_a_leak(applied, held, limit, verdict, reason):
    found = leak_down(applied, held, limit)
    assert (found.verdict, found.reason, found.basis) == (verdict, reason, limit.basis if limit else "")
    assert found.next_step == LEAK_NEXT.get(verdict, limits.NEXT[verdict])


def test_a_rule_in_another_unit_answers_in_its_own():
    bar = Rule(SPREAD, Limit("Between cylinders", high=Quantity(1.0, "bar")))
    result = one(bar, 110, 90, 110, 109).result
    assert result.number is not None and result.number.unit == "bar"
    assert result.number.value == pytest.approx(1.378951, abs=1e-6) and result.verdict == OVER


@pytest.mark.parametrize(("call", "code"), [
    (lambda: one(LEAST, 1, 2, 3, 4, 5), "too-many"), (lambda: one(LEAST), "too-few"),
    (lambda: judge_compression([[]], SPARK, read(1), []), "too-few"),
    (lambda: judge_compression(FOUR, SPARK, [Cylinder("9", psi(100))], []), "unknown"),
    (lambda: judge_compression(FOUR, SPARK, [Cylinder("1", psi(100))] * 2, []), "too-many"),
    (lambda: judge_compression([["1", "1"]], SPARK, read(100), []), "too-many"),
    (lambda: judge_compression(FOUR, "steam", read(100), []), "unknown"),
    (lambda: one(Rule("best", Limit("x", low=psi(1))), 100), "unknown"),
    (lambda: judge_compression(FOUR, SPARK, [Cylinder("1", 100)], []), "wrong-unit"),
    (lambda: judge_compression(FOUR, SPARK, [Cylinder("1", None)], []), "missing"),
    (lambda: judge_compression(FOUR, SPARK, [Cylinder("1", Quantity(1, "mm"))], []), "wrong-unit"),
    (lambda: one(LEAST, -5), "negative"), (lambda: one(LEAST, 50, wet={"1": -5}), "negative"),
    (lambda: one(Rule(OF_HIGHEST, Limit("x", low=psi(1))), 1, 2, 3, 4), "wrong-unit"),
    (lambda: one(Rule(MINIMUM, Limit("x", low=percent(1))), 1, 2, 3, 4), "wrong-unit"),
    *((lambda kind=kind, low=low: one(Rule(kind, Limit("x", low=low)), 1, 2, 3, 4), "wrong-unit")
      for kind in (MINIMUM, SPREAD, OF_HIGHEST, BELOW_MEAN) for low in (85, 0)),
    (lambda: leak_down(psi(80), psi(70), Limit("x", high=25)), "wrong-unit"),
    (lambda: judge_compression(FOUR, SPARK, read(100), [LEAST], psi(-1)), "negative"),
    (lambda: leak_down(psi(80), psi(81), None), "out-of-order"), (lambda: leak_down(psi(0), psi(0), None), "zero"),
    (lambda: leak_down(80, psi(0), None), "wrong-unit"), (lambda: leak_down(psi(80), psi(-1), None), "negative"),
])
def test_bad_input(call, code):
    with pytest.raises(InputError) as caught:
        call()
    assert caught.value.code == code


def test_every_verdict_without_a_cylinder_to_examine_has_a_next_step():
    assert set(WEIGHT) == set(NEXT) | {OVER, UNDER}


# -- published --

def typed(text: str) -> Quantity:
    return read_entry(text, "psi", "published") if "ft" not in text and not text.endswith(" m") else read_entry(text, "m", "published")


def bound(case, side: str) -> Quantity | None:
    return None if side not in case else percent(float(case[side].split()[0])) if "%" in case[side] else typed(case[side])


@pytest.mark.parametrize("case", published("compression", "rules"), ids=lambda case: case["id"])
def test_published_rules(case):
    limit = Limit("rule", bound(case, "low"), bound(case, "high"), case.get("strict", False))
    rows = [[str(n) for n in range(1, len(case["readings"]) + 1)]]
    judged = one(Rule(case["kind"], limit), *case["readings"], rows=rows, ignition=case["ignition"]).rules[0]
    assert list(judged.cylinders) == case["failing"] and (judged.result.verdict == WITHIN) == (not case["failing"])
    assert judged.result.number is not None
    assert judged.result.number.value == pytest.approx(case["number"], abs=case["tolerance"])


def test_the_choice_of_rule_changes_the_verdict():
    found = judge_compression(FOUR, DIESEL, read(445, 440, 405, 435), [APART, PART, MEAN])
    assert [each.result.verdict for each in found.rules] == [OVER, WITHIN, WITHIN] and found.result.verdict == OVER


@pytest.mark.parametrize("case", published("compression", "three_quarters"), ids=lambda case: str(case["highest"]))
def test_published_three_quarters(case):
    highest, line = case["highest"], case["line"]
    assert one(PART, highest, line, highest, highest).rules[0].cylinders == ()
    assert one(PART, highest, line - 0.1, highest, highest).rules[0].cylinders == ("2",)


@pytest.mark.parametrize("case", published("compression", "patterns"), ids=lambda case: case["id"])
def test_published_patterns(case):
    found = one(LEAST, *case["readings"], wet=case["wet"]).patterns
    assert [each.kind for each in found] == case["kinds"]
    assert [list(each.cylinders) for each in found] == case["cylinders"]


TABLE = [AltitudeRow(typed(row["altitude"]), typed(row["minimum"]), (typed(row["metres"]),)) for row in published("compression", "altitude_table")]


@pytest.mark.parametrize("case", published("compression", "altitude_table"), ids=lambda case: case["altitude"])
def test_the_rows_of_the_altitude_table_come_back_as_printed(case):
    printed = typed(case["minimum"])
    assert altitude_minimum("Minimum", TABLE, typed(case["altitude"]), "Table 1") == Limit("Minimum", low=printed, basis="Table 1")
    assert printed.to("kPa") == pytest.approx(case["kilopascals"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("compression", "altitude_table"), ids=lambda case: case["metres"])
def test_the_rows_can_be_asked_for_in_metres(case):
    assert altitude_minimum("Minimum", TABLE, typed(case["metres"])).low == typed(case["minimum"])


def test_a_table_ends_where_its_first_and_last_row_end_in_any_unit():
    # 152 m, printed beside 500 ft, is 498.7 ft; 153 m is 502 ft
    between = altitude_minimum("Minimum", TABLE, Quantity(499, "ft")).low
    assert between == typed("515 psi")
    for outside in (Quantity(151.9, "m"), Quantity(498, "ft"), Quantity(3048.1, "m")):
        with pytest.raises(InputError, match="500 ft / 152 m to 10000 ft / 3048 m"):
            altitude_minimum("Minimum", TABLE, outside)
    with pytest.raises(InputError, match="500 ft to 10000 ft"):
        altitude_minimum("Minimum", [replace(row, also=()) for row in TABLE], typed("152 m"))
    high = [TABLE[0], AltitudeRow(Quantity(1000, "m"), psi(450), (Quantity(3281, "ft"),))]  # 1000.05 m
    assert altitude_minimum("Minimum", high, Quantity(3281, "ft")).low == psi(450)


@pytest.mark.parametrize("case", published("compression", "between_rows"), ids=lambda case: case["id"])
def test_linear_between_the_rows(case):
    low = altitude_minimum("Minimum", TABLE, typed(case["altitude"])).low
    assert low is not None and low.value == pytest.approx(case["minimum"], abs=case["tolerance"])


@pytest.mark.parametrize(("rows", "altitude", "code"), [
    (TABLE, Quantity(498, "ft"), "out-of-range"), (TABLE, Quantity(10001, "ft"), "out-of-range"),
    (TABLE, Quantity(-10, "ft"), "out-of-range"),
    (TABLE[:1], Quantity(500, "ft"), "too-few"), (TABLE[::-1], Quantity(600, "ft"), "out-of-order"), (TABLE, 600, "wrong-unit"),
    (TABLE, None, "missing"), (TABLE, psi(5), "wrong-unit"), ([TABLE[0], TABLE[0]], Quantity(500, "ft"), "out-of-order"),
    ([replace(TABLE[0], minimum=515), TABLE[1]], Quantity(600, "ft"), "wrong-unit"),
    ([replace(TABLE[0], also=(152,)), TABLE[1]], Quantity(600, "ft"), "wrong-unit"),
])
def test_nothing_outside_the_table(rows, altitude, code):
    with pytest.raises(InputError) as caught:
        altitude_minimum("Minimum", rows, altitude)
    assert caught.value.code == code


@pytest.mark.parametrize("case", published("compression", "leak_down"), ids=lambda case: case["id"])
def test_published_leak_down(case):
    result = leak_down(typed(case["applied"]), typed(case["held"]), Limit("Loss", high=percent(25)))
    assert result.number is not None and result.number.value == pytest.approx(case["loss"], abs=case["tolerance"])
    assert (result.verdict == OVER) == case["suspect"]


# -- properties --

pressures = st.lists(st.integers(0, 250), min_size=4, max_size=4)
RULES = st.sampled_from([LEAST, APART, PART, MEAN])


@given(pressures, RULES, st.floats(0, 50))
def test_a_lower_lowest_never_turns_failing_into_within(values, rule, less):
    lowest = values.index(min(values))
    lower = [max(value - less, 0.0) if n == lowest else value for n, value in enumerate(values)]
    if one(rule, *values).result.verdict in (UNDER, OVER):
        assert one(rule, *lower).result.verdict in (UNDER, OVER)


@given(pressures, RULES, st.permutations(range(4)))
def test_the_order_of_the_readings_does_not_matter(values, rule, order):
    cylinders = read(*values)
    there = judge_compression(FOUR, SPARK, [cylinders[n] for n in order], [rule])
    assert there.patterns == judge_compression(FOUR, SPARK, cylinders, [rule]).patterns
    assert there.rules[0].cylinders == one(rule, *values).rules[0].cylinders


@given(pressures)
def test_practice_is_never_within(values):
    assert one(PRACTICE_75, *values).practice[0].result.verdict in (PRACTICE, DOES_NOT_APPLY)


@given(pressures, RULES)
def test_the_failing_cylinders_and_the_verdict_agree(values, rule):
    judged = one(rule, *values).rules[0]
    assert (judged.result.verdict in (UNDER, OVER)) == bool(judged.cylinders)


@given(st.floats(500, 9999), st.floats(0, 1))
def test_the_minimum_falls_as_the_altitude_rises(height, share):
    higher = height + (10000 - height) * share
    first, second = (altitude_minimum("m", TABLE, Quantity(feet, "ft")).low for feet in (height, higher))
    assert first is not None and second is not None and 380 <= second.value <= first.value + 1e-9 <= 515 + 1e-6
