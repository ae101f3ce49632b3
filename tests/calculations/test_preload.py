"""Preload from torque and angle, against printed examples and tables, and beside the strength of the bolt."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.calculations.preload import (
    BELOW,
    BREAKS,
    FAR_BELOW,
    MAY_PASS,
    PASSES,
    VERDICTS,
    Preload,
    against_strength,
    angle_against_strength,
    angle_stretch,
    implied_nut_factor,
    nut_factor,
    preload,
    preload_stress,
    torque_for,
)
from generator.calculations.result import InputError
from generator.calculations.threads import loads, size_of, strength_of
from generator.quantities import Quantity
from tests.calculations.tables import METRIC_SIZES, UNIFIED_SIZES, strengths, thread
from tests.published import published


def nm(number):
    return Quantity(number, "N.m")


def kn(number):
    return Quantity(number, "kN")


def strength(designation, name):
    size = thread(designation)
    row = size_of(size, [*METRIC_SIZES, *UNIFIED_SIZES])
    return loads(size, strength_of(name, size, strengths()), row and row.stress_area)


def name_of(case):
    return " ".join(str(case[key]) for key in ("id", "thread", "class", "condition") if key in case)


# Published examples


@pytest.mark.parametrize("case", published("preload", "torques"), ids=name_of)
def test_published_torques(case):
    torque = torque_for(Quantity(case["preload"], "lbf"), thread(case["thread"]), case["k"])
    assert torque.unit == "lbf.ft"
    assert torque.to(case["unit"]) == pytest.approx(case["value"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("preload", "shares_of_proof"), ids=name_of)
def test_published_torques_from_the_class_of_the_bolt(case):
    size = thread(case["thread"])
    load = Quantity(case["share"] * loads(size, strength_of(case["class"], size, strengths())).proof.value, "lbf")
    if case["preload"]:
        assert load.value == pytest.approx(case["preload"], rel=case["tolerance_share"])
    assert torque_for(load, size, case["k"]).value == pytest.approx(case["value"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("preload", "friction"), ids=name_of)
def test_the_full_formula_gives_the_printed_torque(case):
    size = thread(case["thread"])
    k = nut_factor(size, case["friction"], case["friction"])
    assert k == pytest.approx(case["value"], abs=case["tolerance"])
    torque = torque_for(Quantity(case["preload"], "lbf"), size, k)
    assert torque.to("lbf.in") == pytest.approx(case["torque"], abs=case["torque_tolerance"])


@pytest.mark.parametrize("case", published("preload", "factors"), ids=name_of)
def test_average_friction_is_what_the_common_nut_factor_stands_for(case):
    for designation in case["threads"]:
        assert nut_factor(thread(designation), case["friction"], case["friction"]) == pytest.approx(case["value"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("preload", "nut_factors"), ids=name_of)
def test_every_published_nut_factor_is_one_that_the_calculation_takes(case):
    found = preload(nm(40), nm(40), thread("M8"), case["value"], case["value"])
    assert found.low == found.high
    assert implied_nut_factor(nm(40), found.low, thread("M8")) == pytest.approx(case["value"], rel=1e-12)


def test_two_books_disagree_whether_zinc_clamps_more_or_less_so_a_single_k_is_no_answer():
    factors = {(case["id"], case["condition"]): case["value"] for case in published("preload", "nut_factors")}

    def clamp(*key):
        return preload(nm(40), nm(40), thread("M8"), factors[key], factors[key]).low.value

    assert clamp("K1", "zinc plated") > clamp("K1", "non-plated, black finish")
    assert clamp("K4", "zinc, dry") < clamp("K4", "bare steel")


@pytest.mark.parametrize("case", published("preload", "stresses"), ids=name_of)
def test_published_stresses(case):
    stress = preload_stress(Quantity(case["load"], "lbf"), Quantity(case["area"], "in2"))
    assert stress.unit == "psi"
    assert stress.to(case["unit"]) == pytest.approx(case["value"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("preload", "scatter"), ids=name_of)
def test_a_published_scatter_of_preload_is_the_scatter_of_k(case):
    size, k = thread(case["thread"]), 0.1
    torque = torque_for(Quantity(case["highest"], case["unit"]), size, k)
    found = preload(torque, torque, size, k, k * case["factor"])
    assert found.high.value == pytest.approx(case["highest"])
    assert found.low.value == pytest.approx(case["value"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("preload", "tables"), ids=name_of)
def test_another_standards_table_agrees_with_the_nut_factor_from_friction(case):
    size = thread(case["thread"])
    ours = nut_factor(size, case["friction"], case["friction"])
    theirs = implied_nut_factor(nm(case["torque"]), kn(case["preload"]), size)
    assert ours == pytest.approx(theirs, rel=case["tolerance_share"])


@pytest.mark.parametrize("case", published("preload", "implied_factors"), ids=name_of)
def test_published_implied_factors(case):
    rows = [row for row in published("preload", "tables") if row["id"] == case["table"]]
    found = [implied_nut_factor(nm(row["torque"]), kn(row["preload"]), thread(row["thread"])) for row in rows]
    assert [min(found), max(found)] == pytest.approx([case["low"], case["high"]], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("preload", "worked_example"), ids=name_of)
def test_the_worked_example_of_the_auxiliary_power_unit(case):
    found = preload(*(Quantity(each, case["torque_unit"]) for each in case["torque"]), thread(case["thread"]), *case["k"])
    assert [found.low.value, found.high.value] == pytest.approx(case["value"], abs=case["tolerance"])
    for name, proof in case["proof"].items():
        assert strength(case["thread"], name).proof.to("kN") == pytest.approx(proof, abs=case["proof_tolerance"])
    assert found.low.unit == found.high.unit == case["unit"]
    verdicts = {name: against_strength(found, strength(case["thread"], name)).verdict for name in case["proof"]}
    assert verdicts == {"8.8": PASSES, "10.9": MAY_PASS, "12.9": MAY_PASS}


# Golden sentences


GOLDEN = [
    ((39.2, 44.1), "M8x1.25", "8.8", PASSES, "A clamp load of 27.2 to 36.8 kN is past the proof load of 8.8 (21.2 kN)."),
    ((39.2, 44.1), "M8x1.25", "10.9", MAY_PASS, "A clamp load of 27.2 to 36.8 kN reaches past the proof load of 10.9 (30.4 kN)."),
    ((39.2, 44.1), "M8x1.25", "12.9", MAY_PASS, "A clamp load of 27.2 to 36.8 kN reaches past the proof load of 12.9 (35.5 kN)."),
    ((20, 25), "M8x1.25", "10.9", BELOW, "A clamp load of 13.9 to 20.8 kN is below the proof load of 10.9 (30.4 kN)."),
    ((40, 40), "M10", "8.8", BELOW, "A clamp load of 22.2 to 26.7 kN is below the proof load of 8.8 (33.6 kN)."),
    ((90, 90), "M12", "12.9", BELOW, "A clamp load of 41.7 to 50 kN is below the proof load of 12.9 (81.8 kN)."),
    ((2, 2), "M8x1.25", "8.8", FAR_BELOW, "A clamp load of 1.4 to 1.7 kN is under a tenth of the proof load of 8.8 (21.2 kN)."),
    ((4, 5), "M12", "10.9", FAR_BELOW, "A clamp load of 1.9 to 2.8 kN is under a tenth of the proof load of 10.9 (70 kN)."),
    ((60, 70), "M8x1.25", "8.8", BREAKS, "A clamp load of 41.7 to 58.3 kN is past the tensile load of 8.8 (29.3 kN)."),
    ((200, 200), "M10", "12.9", BREAKS, "A clamp load of 111.1 to 133.3 kN is past the tensile load of 12.9 (70.8 kN)."),
    ((150, 150), "M12", "8.8", BREAKS, "A clamp load of 69.4 to 83.3 kN is past the tensile load of 8.8 (67.4 kN)."),
    ((75, 75), "M10", "8.8", PASSES, "A clamp load of 41.7 to 50 kN is past the proof load of 8.8 (33.6 kN)."),
    ((160, 160), "M12", "10.9", PASSES, "A clamp load of 74.1 to 88.9 kN is past the proof load of 10.9 (70 kN)."),
    ((60, 60), "M10", "8.8", MAY_PASS, "A clamp load of 33.3 to 40 kN reaches past the proof load of 8.8 (33.6 kN)."),
    ((0.5, 0.5), "M6", "8.8", FAR_BELOW, "A clamp load of 0.5 to 0.6 kN is under a tenth of the proof load of 8.8 (11.7 kN)."),
    ((90, 90), "M10", "8.8", BREAKS, "A clamp load of 50 to 60 kN is past the tensile load of 8.8 (46.4 kN)."),
]


@pytest.mark.parametrize(("torque", "designation", "name", "verdict", "reason"), GOLDEN)
def test_golden_sentences_of_a_torque(torque, designation, name, verdict, reason):
    found = against_strength(preload(*map(nm, torque), thread(designation), 0.15, 0.18), strength(designation, name))
    assert (found.verdict, found.reason) == (verdict, reason)


def test_a_low_torque_before_an_angle_only_seats_the_bolt():
    low = preload(nm(2), nm(2), thread("M8"), 0.15, 0.18)
    assert against_strength(low, strength("M8", "8.8")).next_step == "Check torque, unit and thread: this would hardly clamp."
    seated = against_strength(low, strength("M8", "8.8"), angle_follows=True)
    assert seated.next_step == "The torque only seats the bolt: see what the angle adds."
    more = against_strength(preload(nm(20), nm(20), thread("M8"), 0.15, 0.18), strength("M8", "10.9"), angle_follows=True)
    assert (more.verdict, more.next_step) == (BELOW, seated.next_step)


# Angle


def test_a_full_turn_stretches_by_the_pitch_and_the_gain_is_that_of_the_whole_section():
    found = angle_stretch(Quantity(360, "deg"), thread("M10"), Quantity(150, "mm"), Quantity(200_000, "MPa"))
    assert found.stretch.value == pytest.approx(1.5)
    assert found.strain == pytest.approx(0.01)
    assert found.gain.to("N") == pytest.approx(200_000 * 0.01 * 78.539816339)


def test_the_gain_is_an_upper_bound_of_springs_in_series():
    """A bolt whose thread and joint give way, as springs in series, always gains less."""
    angle, grip, modulus = Quantity(90, "deg"), 100.0, 205_000.0
    bound = angle_stretch(angle, thread("M10"), Quantity(grip, "mm"), Quantity(modulus, "MPa"))
    shank, threaded = 80 / (modulus * 78.54), 20 / (modulus * 58.0)
    for joint in (0.0, 1e-6, 1e-5):
        gain = bound.stretch.value / (shank + threaded + joint)
        assert gain < bound.gain.to("N")


GOLDEN_ANGLES = [
    (20, 10, "12.9", BELOW, "The angle stretches the bolt by 0.0417 mm at most, to no more than 20 kN; "
                            "the proof load of 12.9 is 56.3 kN, so the bolt stays elastic."),
    (30, 90, "10.9", MAY_PASS, "The angle stretches the bolt by 0.375 mm at most, to no more than 80.4 kN; "
                               "the proof load of 10.9 is 48.1 kN, so the bolt may stay longer than it was."),
    (30, 180, "12.9", MAY_PASS, "The angle stretches the bolt by 0.75 mm at most, to no more than 140.8 kN; "
                                "the proof load of 12.9 is 56.3 kN, so the bolt may stay longer than it was."),
    (10, 15, "8.8", BELOW,
     "The angle stretches the bolt by 0.0625 mm at most, to no more than 16.7 kN; the proof load of 8.8 is 33.6 kN, so the bolt stays elastic."),
    (25, 20, "10.9", BELOW,
     "The angle stretches the bolt by 0.0833 mm at most, to no more than 30.1 kN; the proof load of 10.9 is 48.1 kN, so the bolt stays elastic."),
    (20, 60, "8.8", MAY_PASS,
     "The angle stretches the bolt by 0.25 mm at most, to no more than 53.6 kN; the proof load of 8.8 is 33.6 kN, so the "
     "bolt may stay longer than it was."),
]


@pytest.mark.parametrize(("torque", "angle", "name", "verdict", "reason"), GOLDEN_ANGLES)
def test_golden_sentences_of_an_angle(torque, angle, name, verdict, reason):
    size = thread("M10")
    before = preload(nm(torque), nm(torque), size, 0.15, 0.18)
    stretched = angle_stretch(Quantity(angle, "deg"), size, Quantity(100, "mm"), Quantity(205_000, "MPa"))
    found = angle_against_strength(before, stretched, strength("M10", name))
    assert (found.verdict, found.reason) == (verdict, reason)


# Refusals and properties


@pytest.mark.parametrize(("args", "code", "field"), [
    ((44.1, nm(45), 0.15, 0.18), "wrong-unit", "torque low"), ((nm(44), nm(39), 0.15, 0.18), "out-of-order", "torque"),
    ((nm(39), nm(44), 0.18, 0.15), "out-of-order", "K"), ((nm(39), nm(44), 0.0, 0.18), "out-of-range", "K low"),
    ((nm(39), nm(44), 0.15, 1.8), "out-of-range", "K high"), ((nm(39), nm(44), float("nan"), 0.18), "out-of-range", "K low"),
    ((nm(39), nm(44), "0.15", 0.18), "not-a-number", "K low"), ((nm(0), nm(44), 0.15, 0.18), "zero", "torque low"),
    ((None, nm(44), 0.15, 0.18), "missing", "torque low"), ((kn(3), nm(44), 0.15, 0.18), "wrong-unit", "torque low"),
])
def test_bad_input_is_refused(args, code, field):
    low, high, *factors = args
    with pytest.raises(InputError) as caught:
        preload(low, high, thread("M8"), *factors)
    assert (caught.value.code, caught.value.field) == (code, field)


def test_the_modulus_is_never_assumed():
    with pytest.raises(InputError) as caught:
        angle_stretch(Quantity(90, "deg"), thread("M10"), Quantity(100, "mm"), None)
    assert (caught.value.code, caught.value.field) == ("missing", "modulus")


def test_loads_that_contradict_each_other_are_refused():
    with pytest.raises(InputError) as caught:
        against_strength(Preload(kn(30), kn(20)), strength("M8", "8.8"))
    assert caught.value.code == "out-of-order"


factors = st.floats(0.05, 0.5)
designations = st.sampled_from(["M6", "M8x1", "M10", "M12x1.25", "M16x1.5", "7/16-20", "1/2-13", "3/4-16"])


@given(st.floats(1, 500), designations, factors)
def test_there_and_back(torque, designation, k):
    size = thread(designation)
    load = preload(nm(torque), nm(torque), size, k, k)
    assert torque_for(load.low, size, k).to("N.m") == pytest.approx(torque, rel=1e-12)
    assert implied_nut_factor(nm(torque), load.high, size) == pytest.approx(k, rel=1e-12)


@given(st.floats(1, 300), st.floats(0, 300), st.sampled_from(["8.8", "10.9", "12.9"]), factors, factors)
def test_more_torque_never_gives_a_milder_verdict(torque, more, name, one, other):
    k = sorted((one, other))
    found = [against_strength(preload(nm(each), nm(each), thread("M8"), *k), strength("M8", name)) for each in (torque, torque + more)]
    assert VERDICTS.index(found[0].verdict) <= VERDICTS.index(found[1].verdict)


@given(designations, st.floats(0, 0.4), st.floats(0, 0.4), st.floats(0.001, 0.2))
def test_more_friction_always_needs_more_torque(designation, thread_friction, collar_friction, more):
    size = thread(designation)
    base = nut_factor(size, thread_friction, collar_friction)
    assert nut_factor(size, thread_friction + more, collar_friction) > base
    assert nut_factor(size, thread_friction, collar_friction + more) > base


@given(st.floats(1, 300), st.floats(1, 300), st.floats(20, 300))
def test_a_wider_angle_or_a_shorter_grip_stretches_harder(angle, more, grip):
    size, modulus = thread("M10"), Quantity(205_000, "MPa")
    base = angle_stretch(Quantity(angle, "deg"), size, Quantity(grip, "mm"), modulus)
    assert angle_stretch(Quantity(angle + more, "deg"), size, Quantity(grip, "mm"), modulus).gain.value > base.gain.value
    assert angle_stretch(Quantity(angle, "deg"), size, Quantity(grip + more, "mm"), modulus).strain < base.strain
