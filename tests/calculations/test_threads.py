"""Thread designations, their geometry, their strength, and a bolt in its hole."""

from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.calculations.result import InputError
from generator.calculations.threads import (
    BOTTOMS,
    CLEAR,
    JAMS,
    bolt_in_hole,
    geometry,
    loads,
    marking_strengths,
    parse_thread,
    size_of,
    strength_of,
)
from generator.quantities import Quantity
from tests.calculations.tables import METRIC_SIZES, UNIFIED_SIZES, strengths, thread
from tests.published import published


def mm(number):
    return Quantity(number, "mm")


def names(case):
    return f"{case['id']} {case.get('thread', case.get('marking'))}"


def load_name(case):
    return f"{case['id']} {case['thread']} {case['class']} {case['load']}"


# Designations


@pytest.mark.parametrize(("text", "designation", "diameter", "pitch"), [
    ("M10x1.25", "M10x1.25", 10, 1.25), ("M10", "M10x1.5", 10, 1.5), ("M 8 x 1.250", "M8x1.25", 8, 1.25),
    ("M12×1.75-6H", "M12x1.75", 12, 1.75),
    ("M6x1.0", "M6x1", 6, 1), ("M20x1.5", "M20x1.5", 20, 1.5), ("1/2-13", "1/2-13", 0.5, 1 / 13), ("7/16-20", "7/16-20", 0.4375, 0.05),
    ("7/16-20 UNF-2B", "7/16-20", 0.4375, 0.05), ("1-8", "1-8", 1, 0.125), ("1 1/2-6", "1 1/2-6", 1.5, 1 / 6),
    ("1-1/2-6", "1 1/2-6", 1.5, 1 / 6),
])
def test_designations(text, designation, diameter, pitch):
    found = thread(text)
    assert (found.designation, found.diameter.value) == (designation, diameter)
    assert found.pitch.value == pytest.approx(pitch, rel=1e-15)


@pytest.mark.parametrize(("text", "code"), [
    ("M11", "unknown"), ("PT 1/8", "unknown"), ("", "unknown"), ("M10x0", "out-of-range"), ("M1.25x10", "out-of-range"),
    ("10-32", "ambiguous"),
    *((text.format("9" * digits), "unknown") for digits in (5, 180, 5000)
      for text in ("M{}", "M{}x1", "M10x{}", "M10x1.{}000000", "{}-8", "1/{}-8", "{}/2-13", "{} 1/2-6", "1/2-{}", "1-{}")),
    ("1/0-20", "not-a-number"), ("1/2-0", "out-of-range"), ("1/2-13 BSW", "unknown"), ("1/2", "unknown"),
])
def test_what_is_no_thread_is_refused(text, code):
    with pytest.raises(InputError) as caught:
        thread(text)
    assert (caught.value.code, caught.value.field) == (code, "thread")
    assert len(caught.value.expected) < 150


def test_a_thread_is_found_in_its_table_however_it_is_written():
    assert size_of(parse_thread("M8 x 1.250"), METRIC_SIZES).thread.designation == "M8x1.25"
    assert size_of(parse_thread("7/16-20 UNF"), UNIFIED_SIZES).thread.designation == "7/16-20"
    assert size_of(parse_thread("M8x1.1"), METRIC_SIZES) is None


# Geometry against the standards and against its own profile


@pytest.mark.parametrize("case", published("threads", "metric"), ids=names)
def test_published_metric_diameters(case):
    found = geometry(thread(case["thread"]))
    assert found.pitch_diameter.value == pytest.approx(case["pitch_diameter"], abs=case["tolerance"])
    assert found.minor_diameter.value == pytest.approx(case["minor_diameter"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("threads", "stress_area"), ids=names)
def test_published_stress_areas(case):
    assert geometry(thread(case["thread"])).stress_area.value == pytest.approx(case["value"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("threads", "drills"), ids=names)
def test_published_drills_are_near_diameter_less_pitch(case):
    drill = geometry(thread(case["thread"])).tapping_drill
    assert drill.unit == case["unit"] and drill.value == pytest.approx(case["value"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("threads", "drill_bands"), ids=names)
def test_drills_lie_in_the_band_of_the_minor_diameter(case):
    found = geometry(thread(case["thread"]))
    assert found.minor_diameter.value == pytest.approx(case["low"], abs=case["tolerance"])
    printed = size_of(thread(case["thread"]), METRIC_SIZES).tapping_drill
    assert printed.value == case["drill"]
    assert all(case["low"] <= drill <= case["high"] for drill in (printed.value, found.tapping_drill.value))


@pytest.mark.parametrize("case", published("threads", "unified"), ids=names)
def test_published_unified_threads(case):
    found = geometry(thread(case["thread"]))
    assert found.stress_area.to(case["area_unit"]) == pytest.approx(case["area"], abs=case["area_tolerance"])
    assert found.pitch_diameter.value == pytest.approx(case["pitch_diameter"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("threads", "unified_minor"), ids=names)
def test_published_unified_minor_diameters(case):
    assert geometry(thread(case["thread"])).minor_diameter.value == pytest.approx(case["value"], abs=case["tolerance"])


@given(st.floats(3, 60), st.floats(0.05, 0.25))
def test_diameters_follow_from_a_triangle_of_sixty_degrees(d, share):
    p = d * share
    found = geometry(parse_thread(f"M{d:.6f}x{p:.6f}"))
    height = p * sqrt(3) / 2  # the pitch line is 3/8 H below the crest, the internal minor 5/8 H, the bolt's root 17/24 H
    assert found.pitch_diameter.value == pytest.approx(d - 2 * 3 / 8 * height, abs=2e-5)
    assert found.minor_diameter.value == pytest.approx(d - 2 * 5 / 8 * height, abs=2e-5)
    assert found.root_diameter.value == pytest.approx(d - 2 * 17 / 24 * height, abs=3e-5)
    assert pi / 4 * found.root_diameter.value**2 < found.stress_area.value < pi / 4 * found.pitch_diameter.value**2


def test_the_two_systems_take_nearly_the_same_stress_area_for_one_thread():
    metric, inch = geometry(parse_thread("M12.7x1.27")), geometry(parse_thread("1/2-20"))
    assert metric.stress_area.value == pytest.approx(inch.stress_area.to("mm2"), rel=1e-2)


# The tables themselves


@pytest.mark.parametrize("size", [*METRIC_SIZES, *UNIFIED_SIZES], ids=lambda size: size.thread.designation)
def test_every_row_of_the_tables_agrees_with_the_formulas(size):
    found = geometry(size.thread)
    rough = {"pitch_diameter": 2.5e-4, "minor_diameter": 2.5e-4, "stress_area": 4e-3, "tapping_drill": 0.02}
    printed = {key: getattr(size, key) for key in rough if getattr(size, key)}
    assert printed
    for key, quantity in printed.items():
        assert quantity.value == pytest.approx(getattr(found, key).value, rel=rough[key]), key


# Strength


@pytest.mark.parametrize("case", published("threads", "strengths"), ids=names)
def test_published_strengths(case):
    row = strength_of(case["class"], thread(case["thread"]), strengths())
    assert (row.tensile, row.yield_strength, row.proof) == tuple(Quantity(case[key], case["unit"]) for key in ("tensile", "yield", "proof"))


@pytest.mark.parametrize("case", published("threads", "loads"), ids=load_name)
def test_published_loads(case):
    size = thread(case["thread"])
    row = size_of(size, [*METRIC_SIZES, *UNIFIED_SIZES])
    found = getattr(loads(size, strength_of(case["class"], size, strengths()), row and row.stress_area), case["load"])
    assert found.to(case["unit"]) == pytest.approx(case["value"], rel=case["tolerance_share"])


@pytest.mark.parametrize("case", published("threads", "markings"), ids=names)
def test_published_markings(case):
    assert marking_strengths(case["marking"]) == (Quantity(case["tensile"], "MPa"), Quantity(case["yield"], "MPa"))


@pytest.mark.parametrize("case", published("threads", "shortcut"), ids=names)
def test_the_proof_stress_is_not_nine_tenths_of_the_nominal_yield(case):
    assert 0.9 * marking_strengths(case["marking"])[1].value == pytest.approx(case["value"], abs=case["tolerance"])
    size = thread("M10")
    proof = loads(size, strength_of(case["marking"], size, strengths())).proof.value / geometry(size).stress_area.value
    assert proof == pytest.approx(case["proof"], rel=1e-12)
    assert abs(proof - case["value"]) > 1.5


@pytest.mark.parametrize(("name", "designation", "code"), [
    ("9.8", "M8", "unknown"), ("10.9", "1/2-13", "refused"), ("Grade 8", "M8", "refused"), ("Grade 5", "1 1/4-7", "out-of-range"),
])
def test_strengths_outside_the_tables_are_refused(name, designation, code):
    with pytest.raises(InputError) as caught:
        strength_of(name, thread(designation), strengths())
    assert caught.value.code == code


def test_loads_refuse_the_other_system_and_markings_refuse_words():
    with pytest.raises(InputError, match="is for unified threads"):
        loads(thread("M8"), strength_of("Grade 5", thread("1/2-13"), strengths()))
    for marking in ("Grade 8", "0.8", "8", "8.88"):
        with pytest.raises(InputError, match=r"10\.9"):
            marking_strengths(marking)


# A bolt in its hole


GOLDEN = [
    ((110, 80, 35), {}, CLEAR, "The bolt reaches 30 mm into the hole, which is 35 mm deep: 5 mm to spare."),
    ((110, 80.5, 30), {"thread_depth": 29.5}, CLEAR, "The bolt reaches 29.5 mm into the hole, which is 30 mm deep: 0.5 mm to spare."),
    ((100, 80, 35), {"thread_depth": 30, "bolt_thread": 25}, CLEAR,
     "The bolt reaches 20 mm into the hole, which is 35 mm deep: 15 mm to spare."),
    ((110, 80, 28), {}, BOTTOMS, "The bolt reaches 30 mm into the hole, which is 28 mm deep: it meets the bottom before it clamps."),
    ((110, 80, 30), {}, BOTTOMS, "The bolt reaches 30 mm into the hole, which is 30 mm deep: it meets the bottom before it clamps."),
    ((110, 77, 32), {"bolt_thread": 20}, BOTTOMS,
     "The bolt reaches 33 mm into the hole, which is 32 mm deep: it meets the bottom before it clamps."),
    ((110, 80, 35), {"thread_depth": 26}, JAMS,
     "The bolt reaches 30 mm into the hole, which is threaded only 26 mm deep: it jams where the thread ends."),
    ((110, 80, 35), {"bolt_thread": 24}, JAMS,
     "The bolt reaches 30 mm into the hole, but only 24 mm of the bolt is threaded: its shank jams at the face."),
    ((95, 63.5, 40), {"thread_depth": 31, "bolt_thread": 30}, JAMS,
     "The bolt reaches 31.5 mm into the hole, which is threaded only 31 mm deep: it jams where the thread ends."),
]


@pytest.mark.parametrize(("lengths", "more", "verdict", "reason"), GOLDEN)
def test_golden_sentences_of_a_bolt_in_its_hole(lengths, more, verdict, reason):
    found = bolt_in_hole(*map(mm, lengths), **{key: mm(number) for key, number in more.items()})
    assert (found.verdict, found.reason) == (verdict, reason)
    assert found.number.value == pytest.approx(lengths[2] - lengths[0] + lengths[1])


@pytest.mark.parametrize(("lengths", "thread_depth", "code", "field"), [
    ((110, 80, 20), 25, "out-of-order", "hole depth"), ((80, 80, 20), None, "out-of-order", "bolt length"),
    ((110, 80, 0), None, "zero", "hole depth"), ((110, -1, 20), None, "negative", "grip"),
])
def test_lengths_that_cannot_be(lengths, thread_depth, code, field):
    with pytest.raises(InputError) as caught:
        bolt_in_hole(*map(mm, lengths), thread_depth and mm(thread_depth))
    assert (caught.value.code, caught.value.field) == (code, field)


def test_bare_numbers_and_other_units_are_refused():
    for wrong, code in ((110.0, "wrong-unit"), (None, "missing"), (Quantity(35, "N.m"), "wrong-unit")):
        with pytest.raises(InputError) as caught:
            bolt_in_hole(wrong, mm(80), mm(35))
        assert caught.value.code == code


@given(st.floats(90, 140), st.floats(0, 30), st.floats(10, 60))
def test_a_longer_bolt_never_becomes_clear(length, more, depth):
    order = [CLEAR, BOTTOMS]
    shorter, longer = (bolt_in_hole(mm(each), mm(80), mm(depth)).verdict for each in (length, length + more))
    assert order.index(shorter) <= order.index(longer)
