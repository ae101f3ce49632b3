"""Lines of a face, and the verdict by straightedge and blades."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.calculations.entry import read_entry
from generator.calculations.flatness import (
    ALL_WITHIN_NEXT,
    ANY,
    CANNOT_TELL,
    CROSSWISE,
    DIAGONAL,
    DIAMETER,
    LENGTHWISE,
    NEXT,
    NO_LIMIT,
    NO_NUMBER,
    NO_OWN,
    NOT_MEASURED,
    OVER,
    PRACTICE,
    ROCKS,
    TOO_CLOSE,
    WEIGHT,
    WITHIN,
    FaceLimit,
    Judged,
    Line,
    LineReading,
    judge_face,
    judge_line,
    lines_of,
    lines_of_round,
)
from generator.calculations.result import InputError, Limit
from generator.quantities import Quantity
from tests.published import published


def mm(value: float) -> Quantity:
    return Quantity(value, "mm")


def inch(value: float) -> Quantity:
    return Quantity(value, "in")


EDGE = Line("edge-a", "Along one edge", LENGTHWISE)
ACROSS = Line("end-a", "Across one end", CROSSWISE)
CORNER = Line("diagonal-a", "One diagonal", DIAGONAL)
MAX = FaceLimit(Limit("Head face", high=mm(0.05), basis="book A, p. 1"))
STRICT = FaceLimit(Limit("Head face", high=mm(0.05), strict=True))
ANY_100 = FaceLimit(Limit("Head face", high=mm(0.03)), span=mm(100))
IN_HAND = [mm(size) for size in (0.03, 0.04, 0.06, 0.1)]


def felt(goes=(), stops=(), **more) -> LineReading:
    return LineReading("edge-a", tuple(map(mm, goes)), tuple(map(mm, stops)), **more)


def on_edge(reading: LineReading, *limits: FaceLimit, blades=()) -> Judged:
    return judge_line(EDGE, [reading], limits or [MAX], blades).deciding


GOLDEN = [
    (felt([0.06]), [MAX], OVER, "Along one edge: 0.06 mm goes, against max 0.05 mm: settled by at least 0.01 mm."),
    (felt([0.06], [0.07]), [MAX], OVER,
     "Along one edge: 0.06 mm goes, against max 0.05 mm: settled by at least 0.01 mm and less than 0.02 mm."),
    (felt([0.05]), [MAX], OVER, "Along one edge: 0.05 mm, the limit blade itself, goes, against max 0.05 mm: by how much is not known."),
    (felt([0.03, 0.04]), [MAX], OVER,
     "Along one edge: a stack of 0.03 mm and 0.04 mm (0.07 mm) goes, against max 0.05 mm: settled by at least 0.02 mm."),
    (felt((), [0.04]), [MAX], WITHIN, "Along one edge: 0.04 mm does not go, against max 0.05 mm: settled by at least 0.01 mm."),
    (felt([0.03], [0.05]), [MAX], WITHIN, "Along one edge: 0.05 mm does not go, against max 0.05 mm: settled by less than 0.02 mm."),
    (felt((), [0.05]), [STRICT], WITHIN, "Along one edge: 0.05 mm does not go, against under 0.05 mm: by how much is not known."),
    (felt([0.04], [0.06]), [MAX], CANNOT_TELL, "Along one edge: 0.04 mm goes, 0.06 mm does not go, and the limit is max 0.05 mm."),
    (felt([0.04]), [STRICT], CANNOT_TELL, "Along one edge: 0.04 mm goes, and the limit is under 0.05 mm."),
    (felt((), [0.02, 0.02]), [MAX], CANNOT_TELL,
     "Along one edge: a stack of 0.02 mm and 0.02 mm does not go, and the limit is max 0.05 mm, "
     "and a stack that does not go proves nothing."),
    (felt([0.03], [0.05], doubt=mm(0.004)), [MAX], TOO_CLOSE,
     "Along one edge: 0.05 mm does not go, against max 0.05 mm: settled by less than 0.02 mm, "
     "but the tools' doubt 0.004 mm is larger than what the blades leave."),
    (felt([0.06], doubt=Quantity(20, "um")), [MAX], TOO_CLOSE,
     "Along one edge: 0.06 mm goes, against max 0.05 mm: settled by at least 0.01 mm, "
     "but the tools' doubt 20 um is larger than what the blades leave."),
    (felt((), [0.045], doubt=mm(0.006)), [MAX], TOO_CLOSE,
     "Along one edge: 0.045 mm does not go, against max 0.05 mm: settled by at least 0.005 mm, "
     "but the tools' doubt 0.006 mm is larger than what the blades leave."),
    (felt((), [0.04], doubt=mm(0.01)), [MAX], WITHIN,
     "Along one edge: 0.04 mm does not go, against max 0.05 mm: settled by at least 0.01 mm, tools' doubt 0.01 mm."),
    (felt([0.06]), [FaceLimit(Limit("Head face"))], NO_NUMBER,
     "Along one edge: 0.06 mm goes, and the source gives no number to hold it against."),
    (felt((), [0.04], span=mm(100)), [FaceLimit(Limit("Head face"))], NO_NUMBER,
     "Along one edge: 0.04 mm does not go over 100 mm, and the source gives no number to hold it against."),
    (felt([0.03, 0.04], [0.1]), [FaceLimit(Limit("Head face"), span=mm(100))], NO_NUMBER,
     "Along one edge: a stack of 0.03 mm and 0.04 mm goes, 0.1 mm does not go, and the source gives no number to hold it against."),
    (felt((), [0.02]), [], NO_LIMIT, "Along one edge: 0.02 mm does not go, and this record has no limit for it."),
    (felt([0.1], span=mm(150)), [], NO_LIMIT, "Along one edge: 0.1 mm goes over 150 mm, and this record has no limit for it."),
    (felt([0.06], [0.07]), [], NO_LIMIT, "Along one edge: 0.06 mm goes, 0.07 mm does not go, and this record has no limit for it."),
    (felt((), [0.01]), [FaceLimit(Limit("x", high=mm(0.05), own=False))], PRACTICE,
     "Along one edge: 0.01 mm does not go, against max 0.05 mm; a rule of practice and not this engine's limit."),
    (felt([0.5]), [FaceLimit(Limit("x", high=mm(0.05), own=False))], PRACTICE,
     "Along one edge: 0.5 mm goes, against max 0.05 mm; a rule of practice and not this engine's limit."),
    (felt([0.04]), [FaceLimit(Limit("x", high=mm(0.05), own=False))], PRACTICE,
     "Along one edge: 0.04 mm goes, and the limit is max 0.05 mm; a rule of practice and not this engine's limit."),
    (felt([0.5], rocks=True), [MAX], ROCKS, "Along one edge: the straightedge rocks, so the face is convex and no blade decides."),
    (felt(rocks=True), [], ROCKS, "Along one edge: the straightedge rocks, so the face is convex and no blade decides."),
    (felt([0.04]), [ANY_100], CANNOT_TELL,
     "Along one edge: 0.04 mm goes, and the limit is max 0.03 mm over any 100 mm, so a gap over a longer span decides nothing yet."),
    (felt((), [0.03]), [ANY_100], WITHIN,
     "Along one edge: 0.03 mm does not go, against max 0.03 mm over any 100 mm: by how much is not known."),
    (felt((), [0.04], span=mm(100)), [MAX], CANNOT_TELL,
     "Along one edge: 0.04 mm does not go over 100 mm, and the limit is max 0.05 mm, so a gap over a shorter span decides nothing yet."),
]


@pytest.mark.parametrize(("reading", "limits", "verdict", "reason"), GOLDEN)
def test_golden_sentences(reading, limits, verdict, reason):
    result = judge_line(EDGE, [reading], limits).deciding.result
    assert (result.verdict, result.reason) == (verdict, reason)
    if verdict != CANNOT_TELL:
        assert result.next_step == NEXT[verdict]


ALONG, CROSS = FaceLimit(Limit("l", high=mm(0.127)), LENGTHWISE), FaceLimit(Limit("c", high=mm(0.1016)), CROSSWISE)
ROUND = Line("diameter-2", "Diameter 2 of 4", DIAMETER)
GOLDEN_LINES = [
    (ACROSS, [{"goes": (mm(0.2),)}, {"rocks": True}], [CROSS], ROCKS,
     "Across one end: the straightedge rocks, so the face is convex and no blade decides."),
    (ROUND, [{"rocks": True}], [MAX], ROCKS, "Diameter 2 of 4: the straightedge rocks, so the face is convex and no blade decides."),
    (EDGE, [], [MAX], NOT_MEASURED, "Along one edge: not measured."),
    (CORNER, [], [], NOT_MEASURED, "One diagonal: not measured."),
    (ROUND, [], [ALONG], NOT_MEASURED, "Diameter 2 of 4: not measured."),
    (CORNER, [{"stops": (mm(0.1),)}], [ALONG], NO_OWN,
     "One diagonal: 0.1 mm does not go, against max 0.127 mm; that is said of another direction, and this line has no limit "
     "of its own in this record."),
    (ACROSS, [{"goes": (mm(0.5),)}], [ALONG], NO_OWN,
     "Across one end: 0.5 mm goes, against max 0.127 mm; that is said of another direction, and this line has no limit of "
     "its own in this record."),
    (ROUND, [{"goes": (mm(0.1),), "stops": (mm(0.15),)}], [CROSS], NO_OWN,
     "Diameter 2 of 4: 0.1 mm goes, 0.15 mm does not go, and the limit is max 0.1016 mm; that is said of another direction, "
     "and this line has no limit of its own in this record."),
    (CORNER, [{"goes": (mm(0.2),)}], [FaceLimit(Limit("any deformation"), CROSSWISE)], NO_OWN,
     "One diagonal: 0.2 mm goes, and the source gives no number to hold it against; that is said of another direction, and "
     "this line has no limit of its own in this record."),
]


@pytest.mark.parametrize(("line", "readings", "limits", "verdict", "reason"), GOLDEN_LINES)
def test_golden_sentences_of_other_lines(line, readings, limits, verdict, reason):
    result = judge_line(line, [LineReading(line.id, **each) for each in readings], limits).deciding.result
    assert (result.verdict, result.reason, result.next_step) == (verdict, reason, NEXT[verdict])


def test_a_blade_in_inches_is_said_in_both_units():
    reading = LineReading("edge-a", goes=(inch(0.0025),))
    assert on_edge(reading).result.reason.startswith("Along one edge: 0.0025 in (0.0635 mm) goes, against max 0.05 mm")
    assert on_edge(reading).result.number == Quantity(inch(0.0025).to("mm"), "mm")


def test_the_basis_of_the_limit_comes_back():
    assert on_edge(felt([0.06])).result.basis == "book A, p. 1"


def test_the_doubt_stands_beside_the_verdict_by_blades():
    judged = on_edge(felt([0.03], [0.05], doubt=mm(0.004)))
    assert (judged.result.verdict, judged.by_blades) == (TOO_CLOSE, WITHIN)
    assert judged.at_least == mm(0.0) and judged.at_most is not None and judged.at_most.value == pytest.approx(0.02)


# -- the blade to try next --

@pytest.mark.parametrize(("reading", "blades", "step"), [
    (felt([0.02]), [], "Try the 0.05 mm blade: if it goes, the line is over; if not, within."),
    (felt([0.02]), [mm(0.03), mm(0.05)], "Try the 0.05 mm blade: if it goes, the line is over; if not, within."),
    (felt([0.02]), IN_HAND, "Try the 0.04 mm blade: if it does not go, the line is within."),
    (felt([0.04]), IN_HAND, "Try the 0.06 mm blade: if it goes, the line is over."),
    (felt((), [0.06]), IN_HAND, "Try the 0.04 mm blade: if it does not go, the line is within."),
    (felt([0.04], [0.06]), IN_HAND, "No single blade in hand settles it: get a 0.05 mm blade, or have it measured."),
    (felt([0.02]), [inch(0.0015)], "Try the 0.0015 in (0.0381 mm) blade: if it does not go, the line is within."),
])
def test_what_to_try_next(reading, blades, step):
    assert on_edge(reading, blades=blades).result.next_step == step


def test_an_untried_span_is_tried_before_another_blade():
    assert on_edge(felt([0.04]), ANY_100).result.next_step == (
        "Lay the straightedge over 100 mm at a time, all along the line, and feel again.")
    assert on_edge(felt((), [0.05]), ANY_100).result.next_step.startswith("Lay the straightedge over 100 mm")
    assert on_edge(felt((), [0.04], span=mm(100))).result.next_step == "Lay a straightedge over the whole line and feel again."


# -- spans --

def test_a_short_span_can_prove_over_for_the_whole_line():
    assert on_edge(felt([0.06], span=mm(100))).result.verdict == OVER


def test_a_100_mm_limit_is_decided_by_100_mm():
    assert on_edge(felt([0.03], span=mm(100)), ANY_100).result.verdict == OVER
    assert on_edge(felt((), [0.03], span=mm(100)), ANY_100).result.verdict == WITHIN
    assert on_edge(felt([0.03], span=mm(150)), ANY_100).result.verdict == CANNOT_TELL
    assert on_edge(felt((), [0.03], span=mm(60)), ANY_100).result.verdict == CANNOT_TELL


def test_a_line_known_to_be_shorter_than_the_span_decides_both_ways():
    short = replace(EDGE, length=mm(90))
    assert judge_line(short, [felt([0.04])], [ANY_100]).deciding.result.verdict == OVER
    assert judge_line(short, [felt((), [0.04], span=mm(90))], [MAX]).deciding.result.verdict == WITHIN


def test_two_readings_over_two_spans_answer_two_limits():
    readings = [felt([0.04], [0.05]), felt((), [0.03], span=mm(100))]
    found = judge_line(EDGE, readings, [MAX, ANY_100])
    assert [one.result.verdict for one in found.each] == [WITHIN, WITHIN]
    assert judge_line(EDGE, readings[:1], [MAX, ANY_100]).deciding.result.verdict == CANNOT_TELL


def test_readings_that_contradict_each_other_are_refused():
    with pytest.raises(InputError) as caught:  # a gap over a part cannot be wider than over the whole
        judge_line(EDGE, [felt((), [0.03]), felt([0.04], span=mm(100))], [MAX])
    assert caught.value.code == "out-of-order"


# -- stacks --

@pytest.mark.parametrize("case", published("flatness", "stacks"), ids=lambda case: case["id"])
def test_why_a_stack_never_proves_does_not_go(case):
    assert min(case["measured"]) > case["worst_case"] > case["nominal"]
    blades = (Quantity(0.010, case["unit"]),) * case["blades"]
    limit = FaceLimit(Limit("x", high=inch(case["nominal"])))
    stops, goes = LineReading("edge-a", stops=blades), LineReading("edge-a", goes=blades)
    assert judge_line(EDGE, [stops], [limit]).deciding.result.verdict == CANNOT_TELL
    assert judge_line(EDGE, [goes], [limit]).deciding.result.verdict == OVER


# -- which limit --

def test_each_direction_has_its_own_limit():
    assert judge_line(EDGE, [felt([0.11])], [ALONG, CROSS]).deciding.result.verdict == CANNOT_TELL
    across = judge_line(ACROSS, [LineReading("end-a", goes=(mm(0.11),))], [ALONG, CROSS])
    assert across.deciding.result.verdict == OVER and not across.deciding.borrowed


def test_a_line_without_its_own_limit_takes_the_stricter_and_says_so():
    found = judge_line(CORNER, [LineReading("diagonal-a", stops=(mm(0.1),))], [ALONG, CROSS]).deciding
    assert found.borrowed and found.result.verdict == WITHIN
    assert found.result.reason == (
        "One diagonal: 0.1 mm does not go, against max 0.1016 mm: settled by at least 0.0016 mm; "
        "no limit of its own in this record, so the stricter one stands here.")
    over = judge_line(CORNER, [LineReading("diagonal-a", goes=(mm(0.11),))], [ALONG, CROSS]).deciding
    assert over.result.verdict == OVER and over.result.reason.endswith("so the stricter one stands here.")


@pytest.mark.parametrize("blades", [{"stops": (mm(0.01),)}, {"goes": (mm(0.5),)}, {"goes": (mm(0.1),), "stops": (mm(0.15),)}])
@pytest.mark.parametrize("line", [ACROSS, CORNER])
def test_a_limit_of_another_direction_alone_is_shown_and_decides_nothing(line, blades):
    found = judge_line(line, [LineReading(line.id, **blades)], [ALONG]).deciding
    assert (found.result.verdict, found.by_blades, found.borrowed) == (NO_OWN, "", True)
    assert found.result.reason.endswith("; that is said of another direction, and this line has no limit of its own in this record.")
    assert found.result.next_step == NEXT[NO_OWN]


def test_a_missing_direction_keeps_the_face_from_within_until_it_is_looked_up():
    face = judge_face(FACE, all_stop(0.04), [ALONG])
    assert face.result.verdict == NO_OWN and face.result.reason.startswith("Not decided, one diagonal: 0.04 mm does not go")
    assert judge_face(FACE, all_stop(0.04), [ALONG, CROSS]).result.verdict == WITHIN


def test_a_line_with_a_limit_of_its_own_borrows_none_of_another_span():
    local = FaceLimit(Limit("l", high=mm(0.03)), LENGTHWISE, mm(100))
    assert len(judge_line(ACROSS, [LineReading("end-a", stops=(mm(0.05),))], [CROSS, local]).each) == 1
    corner = judge_line(CORNER, [LineReading("diagonal-a", stops=(mm(0.05),))], [ALONG, CROSS, local])
    assert [one.result.verdict for one in corner.each] == [WITHIN, NO_OWN] and corner.deciding.result.verdict == WITHIN


def test_a_limit_without_number_is_stricter_than_any_number():
    found = judge_line(CORNER, [LineReading("diagonal-a", stops=(mm(0.1),))], [ALONG, FaceLimit(Limit("any deformation"), CROSSWISE)])
    assert found.deciding.result.verdict == NO_NUMBER
    alone = judge_line(CORNER, [LineReading("diagonal-a", stops=(mm(0.1),))], [FaceLimit(Limit("any deformation"), CROSSWISE)])
    assert alone.deciding.result.verdict == NO_OWN


def test_practice_stands_beside_the_engines_own_limit_and_never_decides():
    rule = FaceLimit(Limit("rule", high=mm(0.01), own=False))
    found = judge_line(EDGE, [felt((), [0.04])], [rule, MAX])
    assert found.deciding.result.verdict == WITHIN
    assert [one.result.verdict for one in found.each] == [WITHIN, PRACTICE]
    assert found.each[1].by_blades == ""


# -- lines and faces --

def test_the_lines_of_a_head():
    lines = lines_of(["1", "2", "3", "4"])
    assert [line.id for line in lines] == [
        "edge-a", "edge-b", "diagonal-a", "diagonal-b", "end-a", "between-1-2", "between-2-3", "between-3-4", "end-b"]
    assert [line.direction for line in lines].count(CROSSWISE) == 5
    assert [line.name for line in lines_of(["1"])][-2:] == ["across the end at bore 1", "across the other end at bore 1"]
    assert len(lines_of(["1"])) == 6
    assert {line.direction for line in lines_of_round()} == {DIAMETER} and len(lines_of_round(3)) == 3


@pytest.mark.parametrize(("make", "code"), [
    (lambda: lines_of([]), "too-few"), (lambda: lines_of(["1", "1"]), "too-many"), (lambda: lines_of_round(1), "too-few"),
    (lambda: judge_face([], [], []), "too-few"), (lambda: judge_face([EDGE], [LineReading("edge-z", rocks=True)], []), "unknown"),
    (lambda: judge_line(ACROSS, [felt([0.1])], []), "unknown"),
])
def test_faces_that_cannot_be_judged(make, code):
    with pytest.raises(InputError) as caught:
        make()
    assert caught.value.code == code


FACE = lines_of(["1", "2", "3", "4"])


def all_stop(size: float) -> list[LineReading]:
    return [LineReading(line.id, stops=(mm(size),)) for line in FACE]


def test_a_face_names_its_worst_line():
    readings = all_stop(0.04)
    good = judge_face(FACE, readings, [MAX])
    assert good.result.verdict == WITHIN and good.result.next_step == ALL_WITHIN_NEXT
    assert good.result.reason.startswith("All 9 lines are within; the nearest to its limit, along one edge: 0.04 mm does not go")
    readings[5] = LineReading("between-1-2", goes=(mm(0.06),))
    readings[6] = LineReading("between-2-3", goes=(mm(0.09),))
    bad = judge_face(FACE, readings, [MAX])
    assert (bad.result.verdict, bad.worst) == (OVER, "between-2-3")
    assert bad.result.reason.startswith("Worst line, across between bores 2 and 3: 0.09 mm goes")


def test_a_face_is_within_only_when_every_line_is():
    part = judge_face(FACE, all_stop(0.04)[:-2], [MAX])
    assert part.result.verdict == NOT_MEASURED
    assert part.result.reason == "7 of 9 lines are measured; not yet: across between bores 3 and 4 and across the end at bore 4."
    assert part.missing == ("across between bores 3 and 4", "across the end at bore 4")
    over = judge_face(FACE, [LineReading("edge-a", goes=(mm(0.1),))], [MAX])
    assert over.result.verdict == OVER and over.result.reason.endswith("and across the end at bore 4.")


# -- bad input --

@pytest.mark.parametrize(("reading", "code"), [
    (felt(), "missing"), (felt([0.05], [0.04]), "out-of-order"), (felt([0.05], [0.05]), "out-of-order"), (felt([-0.05]), "negative"),
    (felt([0.0]), "zero"), (felt([1e-300]), "out-of-range"), (felt([0.1], span=mm(0)), "zero"), (felt([0.1], doubt=mm(-1)), "negative"),
    (felt([0.03, 0.03], [0.05]), "out-of-order"),
    (LineReading("edge-a", goes=(0.05,)), "wrong-unit"), (LineReading("edge-a", stops=(Quantity(1, "psi"),)), "wrong-unit"),
])
def test_readings_that_cannot_be_used(reading, code):
    with pytest.raises(InputError) as caught:
        on_edge(reading)
    assert caught.value.code == code


@pytest.mark.parametrize(("limit", "code"), [
    (FaceLimit(Limit("x", low=mm(0.1))), "out-of-range"), (FaceLimit(Limit("x", high=mm(0.0))), "zero"),
    (FaceLimit(Limit("x", high=Quantity(1, "psi"))), "wrong-unit"), (FaceLimit(Limit("x", high=mm(1)), "sideways"), "unknown"),
    (FaceLimit(Limit("x", high=mm(1)), ANY, mm(0)), "zero"),
])
def test_limits_that_cannot_be_used(limit, code):
    with pytest.raises(InputError) as caught:
        on_edge(felt([0.1]), limit)
    assert caught.value.code == code


@pytest.mark.parametrize(("blade", "code"), [(0.05, "wrong-unit"), (Quantity(1, "psi"), "wrong-unit"), (mm(0), "zero")])
def test_blades_in_hand_that_cannot_be_used(blade, code):
    with pytest.raises(InputError) as caught:
        on_edge(felt([0.01]), blades=[blade])
    assert (caught.value.code, caught.value.field) == (code, "blades in hand")


def test_every_verdict_has_a_weight_and_all_but_the_open_one_a_fixed_next_step():
    assert set(WEIGHT) == set(NEXT) | {CANNOT_TELL}


# -- published --

def quantity(text: str) -> Quantity:
    return read_entry(text, "mm", "published")


def from_case(case: dict[str, str], line: str, **more) -> LineReading:
    goes, stops = ((quantity(case[key]),) if key in case else () for key in ("goes", "stops"))
    return LineReading(line, goes, stops, quantity(case["span"]) if "span" in case else None, **more)


@pytest.mark.parametrize("case", published("flatness", "blades"), ids=lambda case: case["id"])
def test_published_limits_by_blades(case):
    bounds = Limit("face", high=quantity(case["limit"]), strict=case.get("strict", False), own=case.get("own", True))
    limit = FaceLimit(bounds, span=quantity(case["over"]) if "over" in case else None)
    result = on_edge(from_case(case, "edge-a"), limit).result
    assert result.verdict == case["verdict"] and case.get("says", "") in result.reason


@pytest.mark.parametrize("case", published("flatness", "faces"), ids=lambda case: case["id"])
def test_published_faces(case):
    limits = [FaceLimit(Limit("face", high=quantity(case[way])), way) for way in (LENGTHWISE, CROSSWISE)]
    assert judge_face(FACE, [from_case(case, line.id) for line in FACE], limits).result.verdict == case["verdict"]


@pytest.mark.parametrize("case", published("flatness", "printed_pairs"), ids=lambda case: case["inch"])
def test_a_limit_decides_the_same_in_both_printed_units(case):
    for printed in (case["inch"], case["metric"]):
        for blade in (case["inch"], case["metric"]):
            limit = FaceLimit(Limit("face", high=quantity(printed)))
            assert on_edge(LineReading("edge-a", goes=(quantity(blade),)), limit).result.verdict == OVER
            assert on_edge(LineReading("edge-a", stops=(quantity(blade),)), limit).result.verdict == WITHIN


@pytest.mark.parametrize("case", published("flatness", "doubts"), ids=lambda case: case["id"])
def test_published_doubts(case):
    limit = FaceLimit(Limit("face", high=quantity(case["limit"])))
    assert on_edge(from_case(case, "edge-a", doubt=quantity(case["doubt"])), limit).result.verdict == case["verdict"]


# -- properties --

sizes = st.integers(1, 60).map(lambda n: n / 200)


@given(sizes, sizes, sizes, st.booleans())
def test_a_thicker_blade_that_goes_never_turns_over_into_anything_else(goes, more, bound, strict):
    limit = FaceLimit(Limit("x", high=mm(bound), strict=strict))
    if on_edge(felt([goes]), limit).result.verdict == OVER:
        assert on_edge(felt([goes + more]), limit).result.verdict == OVER
        assert on_edge(felt([goes, more]), limit).result.verdict == OVER


@given(sizes, sizes, sizes)
def test_a_thinner_blade_that_does_not_go_never_turns_within_into_anything_else(thin, more, bound):
    limit = FaceLimit(Limit("x", high=mm(bound)))
    if on_edge(felt((), [thin + more]), limit).result.verdict == WITHIN:
        assert on_edge(felt((), [thin]), limit).result.verdict == WITHIN


@given(sizes, st.floats(0.001, 0.999), sizes)
def test_blades_never_contradict_the_true_gap(gap, share, bound):
    """A blade thinner than the gap goes, a thicker one does not: whatever pair was tried, the verdict is true or open."""
    reading = felt([gap * share], [gap * (1 + share)])
    verdict = on_edge(reading, FaceLimit(Limit("x", high=mm(bound)))).result.verdict
    if gap != bound:
        assert verdict in ({OVER, CANNOT_TELL} if gap > bound else {WITHIN, CANNOT_TELL})


@given(st.lists(sizes, min_size=2, max_size=4), sizes)
def test_no_stack_that_does_not_go_is_ever_within(blades, bound):
    assert on_edge(felt((), blades), FaceLimit(Limit("x", high=mm(bound)))).result.verdict == CANNOT_TELL


@given(sizes, sizes, st.lists(sizes, max_size=6))
def test_the_blade_to_try_is_in_hand_and_may_decide(goes, bound, blades):
    judged = on_edge(felt([goes]), FaceLimit(Limit("x", high=mm(bound))), blades=[mm(size) for size in blades])
    if judged.result.verdict == CANNOT_TELL and blades and judged.result.next_step.startswith("Try"):
        named = float(judged.result.next_step.split()[2])
        assert any(named == pytest.approx(size) for size in blades) and named > goes


@given(sizes, sizes, st.sampled_from(["goes", "stops"]))
def test_the_verdict_is_the_same_in_inches(size, bound, side):
    limit = FaceLimit(Limit("x", high=mm(bound)))
    there = LineReading("edge-a", **{side: (inch(mm(size).to("in")),)})
    assert on_edge(there, limit).result.verdict == on_edge(felt(**{side: [size]}), limit).result.verdict
