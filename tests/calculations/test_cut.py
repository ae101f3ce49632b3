"""A cut: its limits, the ratio by summed volumes, the retard by exact tangent geometry, what else to check."""

from math import atan2, cos, degrees, hypot, pi, radians, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from generator.calculations.cut import (
    ALLOWED,
    CANNOT_TELL,
    COMPUTED,
    DRIVES,
    FEATURES,
    NOT_ALLOWED,
    NOT_COMPUTED,
    VERDICTS,
    Areas,
    Planned,
    cam_retard,
    circle_area,
    clearance_volume,
    compression_ratio,
    consequences,
    ratio_after,
    restoring_gaskets,
    sprocket_radius,
    stock_removal,
    swept_volume,
)
from generator.calculations.result import InputError, Limit
from generator.quantities import Quantity
from tests.published import published


def mm(number):
    return None if number is None else Quantity(number, "mm")


def inch(number):
    return Quantity(number, "in")


def cm2(number):
    return Quantity(number, "cm2")


def cm3(number):
    return Quantity(number, "cm3")


def most(number, **more):
    return Limit("stock removal", high=mm(number), basis="book p. 1", **more)


def least(number, **more):
    return Limit("what is left", low=mm(number), basis="book p. 2", **more)


def name_of(case):
    return f"{case['id']} {case.get('cut', '')}"


def code_of(call, *args, **more):
    with pytest.raises(InputError) as caught:
        call(*args, **more)
    return caught.value.code, caught.value.field


AREAS = Areas(cm2(45.0), cm2(60.0), cm2(58.0))
NONE = mm(0.0)


# Stock removal


@pytest.mark.parametrize("case", published("cut", "removals"), ids=name_of)
def test_a_cut_that_is_allowed_only_while_the_recession_holds(case):
    planned = Planned(
        mm(case["cut"]), mm(case["before"]), recession=mm(case["recession"]), total=most(case["total"]),
        recession_limit=least(case["least"]),
    )
    assert stock_removal(planned).overall.verdict == case["value"]


GOLDEN = [
    (Planned(mm(0.1), mm(0.2), total=most(0.5)), ALLOWED, "0.2 mm before and 0.1 mm now make 0.3 mm; at most 0.5 mm may come off in all."),
    (Planned(mm(0.1), mm(0.2), total=most(0.3)), ALLOWED, "0.2 mm before and 0.1 mm now make 0.3 mm; at most 0.3 mm may come off in all."),
    (Planned(mm(0.1), height=mm(90), height_limit=least(89.8)), ALLOWED,
     "The head is 90 mm high and 89.9 mm after the cut; at least 89.8 mm must be left."),
    (Planned(inch(0.004), inch(0), per_cut=Limit("", high=inch(0.008))), ALLOWED,
     "This cut takes 0.004 in; at most 0.008 in may come off in one cut."),
    (Planned(mm(0.1), mm(0.2), total=most(0.3, strict=True)), NOT_ALLOWED,
     "0.2 mm before and 0.1 mm now make 0.3 mm; less than 0.3 mm may come off in all."),
    (Planned(mm(0.4), recession=mm(0.7), recession_limit=least(0.45)), NOT_ALLOWED,
     "The valves stand 0.7 mm deep and 0.3 mm after the cut; at least 0.45 mm must be left."),
    (Planned(mm(0.6), total=most(0.5)), NOT_ALLOWED,
     "0.6 mm is known to come off with this cut, which is too much; at most 0.5 mm may come off in all."),
    (Planned(mm(0.1), mm(0.1), mm(0.2), together=most(0.3), face="deck"), NOT_ALLOWED,
     "0.2 mm off the block and 0.2 mm off the head make 0.4 mm; at most 0.3 mm may come off head and block together."),
    (Planned(mm(0.1), total=most(0.5)), CANNOT_TELL, "What may come off in all cannot be checked: what came off the head before is not known."),
    (Planned(mm(0.1), mm(0.1), together=most(0.5)), CANNOT_TELL,
     "What may come off head and block together cannot be checked: what came off the block before is not known."),
    (Planned(mm(0.1), mm(0.3), together=most(0.3)), NOT_ALLOWED,
     "0.4 mm is known to come off with this cut, which is too much; at most 0.3 mm may come off head and block together."),
    (Planned(mm(0.1), other_face=mm(0.3), together=most(0.3)), NOT_ALLOWED,
     "0.4 mm is known to come off with this cut, which is too much; at most 0.3 mm may come off head and block together."),
    (Planned(mm(0.1), other_face=mm(0.1), together=most(0.3)), CANNOT_TELL,
     "What may come off head and block together cannot be checked: what came off the head before is not known."),
    (Planned(mm(0.6), mm(0), total=most(0.5, own=False)), CANNOT_TELL,
     "0 mm before and 0.6 mm now make 0.6 mm; at most 0.5 mm may come off in all. This is not this engine's limit."),
    (Planned(mm(0.1), height_limit=least(89.8)), CANNOT_TELL,
     "The head height is not measured, so the limit of 89.8 mm cannot be checked."),
    (Planned(mm(0.1), recession_limit=least(0.45)), CANNOT_TELL,
     "The valve recession is not measured, so the limit of 0.45 mm cannot be checked."),
    (Planned(mm(0.1), mm(0), total=Limit("stock removal")), CANNOT_TELL, "The record gives no number for how much may come off in all."),
    (Planned(mm(0.1), mm(0), total=most(0.5, own=False)), CANNOT_TELL,
     "0 mm before and 0.1 mm now make 0.1 mm; at most 0.5 mm may come off in all. This is not this engine's limit."),
    (Planned(mm(0.1)), CANNOT_TELL, "This record gives no limit for stock removal."),
]


@pytest.mark.parametrize(("planned", "verdict", "reason"), GOLDEN)
def test_golden_sentences_of_a_cut(planned, verdict, reason):
    found = stock_removal(planned).overall
    assert (found.verdict, found.reason) == (verdict, reason)
    assert found.next_step


def test_the_gravest_check_leads_and_the_least_that_is_left_is_told():
    planned = Planned(
        mm(0.2), mm(0.1), height=mm(90), recession=mm(0.8), per_cut=most(0.25), total=most(0.5), height_limit=least(89.7),
        recession_limit=least(0.45),
    )
    found = stock_removal(planned)
    assert [check.verdict for check in found.checks] == [ALLOWED] * 4
    assert found.left.value == pytest.approx(0.05)
    assert found.overall.reason.startswith("This cut takes 0.2 mm")
    assert found.overall.basis == "book p. 1"
    worse = stock_removal(Planned(mm(0.2), None, recession=mm(0.5), total=most(0.5), recession_limit=least(0.45)))
    assert [check.verdict for check in worse.checks] == [CANNOT_TELL, NOT_ALLOWED]
    assert (worse.overall.verdict, worse.overall.basis, worse.left) == (NOT_ALLOWED, "book p. 2", None)


def test_a_cut_off_the_deck_leaves_the_valves_where_they_are():
    planned = Planned(mm(0.1), mm(0), recession=mm(0.5), total=most(0.5), recession_limit=least(0.45), face="deck")
    assert [check.basis for check in stock_removal(planned).checks] == ["book p. 1"]


def test_a_rule_of_practice_leaves_nothing_to_come_off():
    found = stock_removal(Planned(mm(0.1), mm(0), per_cut=most(0.2), total=most(0.5, own=False)))
    assert (found.overall.verdict, found.left) == (CANNOT_TELL, None)


def test_inch_and_millimetre_may_meet():
    found = stock_removal(Planned(inch(0.01), mm(0.2), total=most(0.5)))
    assert found.overall.reason == "0.00787 in before and 0.01 in now make 0.01787 in; at most 0.01969 in may come off in all."
    assert found.left.to("mm") == pytest.approx(0.5 - 0.2 - 0.254)


@pytest.mark.parametrize(("planned", "code", "field"), [
    (Planned(None), "missing", "cut"), (Planned(0.1), "wrong-unit", "cut"), (Planned(mm(0)), "zero", "cut"),
    (Planned(mm(-0.1)), "negative", "cut"), (Planned(mm(0.1), mm(-0.1), total=most(1)), "negative", "cut before"),
    (Planned(mm(0.1), face="lid"), "unknown", "face"),
    (Planned(mm(0.1), total=Limit("total", high=Quantity(5, "h"))), "wrong-unit", "total"),
    (Planned(mm(0.1), height=Quantity(9, "N.m"), height_limit=least(1)), "wrong-unit", "head height"),
])
def test_bad_plans_are_refused(planned, code, field):
    assert code_of(stock_removal, planned) == (code, field)


@given(st.floats(0.01, 1), st.floats(0, 1), st.floats(0, 1), st.floats(0.01, 2), st.booleans())
def test_a_deeper_cut_never_gets_a_milder_verdict(cut, more, before, total, strict):
    def verdict(depth):
        planned = Planned(
            mm(depth), mm(before), recession=mm(1.0), total=most(total, strict=strict), recession_limit=least(0.45, strict=strict)
        )
        return VERDICTS.index(stock_removal(planned).overall.verdict)
    assert verdict(cut) <= verdict(cut + more)


# Ratio


@pytest.mark.parametrize("case", published("cut", "ratios"), ids=name_of)
def test_published_ratios(case):
    found = compression_ratio(Quantity(case["swept"], case["unit"]), Quantity(case["clearance"], case["unit"]))
    assert found.value == pytest.approx(case["value"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("cut", "swept"), ids=name_of)
def test_published_swept_volumes(case):
    bore, stroke = (Quantity(case[key], case["length"]) for key in ("bore", "stroke"))
    found = swept_volume(bore, stroke)
    assert found.unit == case["unit"]
    assert case["cylinders"] * found.value == pytest.approx(case["value"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("cut", "clearances"), ids=name_of)
def test_published_clearances(case):
    found = clearance_volume(Quantity(case["swept"], case["unit"]), Quantity(case["ratio"], "ratio"))
    assert found.value == pytest.approx(case["value"], abs=case["tolerance"])


@pytest.mark.parametrize("case", published("cut", "cuts"), ids=name_of)
def test_published_ratios_after_a_cut(case):
    swept = swept_volume(mm(case["bore"]), mm(case["stroke"]))
    clearance = clearance_volume(swept, Quantity(case["ratio"], "ratio"))
    areas = Areas(cm2(case["chamber"]), AREAS.gasket, AREAS.cylinder)
    found = ratio_after(swept, clearance, areas, mm(case["cut"]), NONE, NONE)
    assert clearance.value - found.clearance.value == pytest.approx(case["volume"])
    assert found.before.value == pytest.approx(case["ratio"])
    assert found.after.value == pytest.approx(case["value"], abs=case["tolerance"])


def test_golden_sentences_of_the_ratio():
    swept, clearance = cm3(499.56), cm3(58.77)
    says = [
        ratio_after(swept, clearance, AREAS, mm(0.25), NONE, NONE).reason,
        ratio_after(swept, clearance, AREAS, NONE, NONE, mm(0.3)).reason,
        ratio_after(swept, clearance, Areas(cm2(0.0), cm2(60), cm2(58)), mm(0.25), NONE, NONE).reason,
    ]
    assert says == [
        "The clearance volume goes from 58.77 cm3 to 57.65 cm3, the compression ratio from 9.5 to 9.67 to 1.",
        "The clearance volume goes from 58.77 cm3 to 60.57 cm3, the compression ratio from 9.5 to 9.25 to 1.",
        "The clearance volume goes from 58.77 cm3 to 58.77 cm3, the compression ratio from 9.5 to 9.5 to 1.",
    ]


def test_a_flat_head_face_with_the_bowl_in_the_piston_changes_no_ratio():
    flat = Areas(cm2(0.0), AREAS.gasket, AREAS.cylinder)
    found = ratio_after(cm3(500), cm3(30), flat, mm(0.5), NONE, NONE)
    assert found.after == found.before
    assert ratio_after(cm3(500), cm3(30), flat, NONE, mm(0.1), NONE).after.value > found.before.value


def by_chords(radius):
    """Area of a circle in mm2, summed up from its chords: no pi in it."""
    return quad(lambda x: 2 * sqrt(max(radius * radius - x * x, 0)), -radius, radius, epsrel=1e-11)[0]


@given(st.floats(10, 150))
def test_the_area_of_a_bore_is_that_of_its_chords(diameter):
    assert circle_area(mm(diameter)).value == pytest.approx(by_chords(diameter / 2) / 100, rel=1e-8)
    assert circle_area(inch(diameter / 25.4)).to("mm2") == pytest.approx(by_chords(diameter / 2), rel=1e-8)


@given(st.floats(20, 60), st.floats(30, 50), st.floats(1, 4), st.floats(0, 1), st.floats(0, 1), st.floats(-0.5, 0.5))
def test_the_ratio_is_that_of_the_volumes_summed_slice_by_slice(bowl, bore, deck, head_cut, deck_cut, gain):
    """A bowl with straight walls at the face, a gasket and a piston below deck, each volume that of its chords."""
    gasket, thick = bore + 1, 1.5

    def volume(radius, height):
        return by_chords(radius) * height / 1000  # cm3

    def clearance(bowl_depth, gasket_thickness, piston_depth):
        return volume(bowl / 2, bowl_depth) + volume(gasket, gasket_thickness) + volume(bore, piston_depth)

    swept = volume(bore, 90.0)
    before, after = clearance(15, thick, deck), clearance(15 - head_cut, thick + gain, deck - deck_cut)
    areas = Areas(circle_area(mm(bowl)), circle_area(mm(2 * gasket)), circle_area(mm(2 * bore)))
    found = ratio_after(cm3(swept), cm3(before), areas, mm(head_cut), mm(deck_cut), mm(gain))
    assert found.before.value == pytest.approx((swept + before) / before, rel=1e-8)
    assert found.after.value == pytest.approx((swept + after) / after, rel=1e-8)


@given(st.floats(1, 2000), st.floats(1.5, 30))
def test_ratio_and_clearance_agree_there_and_back(swept, ratio):
    clearance = clearance_volume(cm3(swept), Quantity(ratio, "ratio"))
    assert compression_ratio(cm3(swept), clearance).value == pytest.approx(ratio, rel=1e-12)


@pytest.mark.parametrize(("missing", "field"), [
    ("chamber", "chamber area at the face"), ("gasket", "gasket bore area"), ("cylinder", "cylinder bore area"),
])
def test_each_area_is_needed_and_never_assumed(missing, field):
    given_areas = {"chamber": cm2(45), "gasket": cm2(60), "cylinder": cm2(58)} | {missing: None}
    assert code_of(ratio_after, cm3(500), cm3(60), Areas(**given_areas), mm(0.1), NONE, NONE) == ("missing", field)
    assert code_of(restoring_gaskets, Areas(**given_areas), mm(0.1), NONE, "chain") == ("missing", field)


def test_other_input_of_the_ratio_is_refused():
    assert code_of(ratio_after, cm3(500), cm3(1), AREAS, mm(1.0), NONE, NONE) == ("out-of-range", "clearance volume")
    assert code_of(ratio_after, cm3(500), cm3(60), AREAS, None, NONE, NONE) == ("missing", "head cut")
    assert code_of(ratio_after, cm3(500), cm3(60), None, NONE, NONE, NONE) == ("missing", "areas")
    assert code_of(ratio_after, cm3(500), cm3(60), Areas(cm2(45), cm2(0), cm2(58)), NONE, NONE, NONE) == ("zero", "gasket bore area")
    assert code_of(clearance_volume, cm3(500), Quantity(1.0, "ratio")) == ("out-of-range", "ratio")
    assert code_of(clearance_volume, mm(500), Quantity(9.0, "ratio")) == ("wrong-unit", "swept volume")
    assert code_of(compression_ratio, cm3(500), cm3(0)) == ("zero", "clearance volume")
    assert code_of(circle_area, 86.0) == ("wrong-unit", "bore")


# Gaskets that restore


def test_the_gasket_for_the_ratio_is_not_the_gasket_for_the_timing():
    found = restoring_gaskets(AREAS, mm(0.2), mm(0.1), "chain")
    assert (found.for_ratio.value, found.for_timing.value) == pytest.approx(((45 * 0.2 + 58 * 0.1) / 60, 0.3))
    assert found.reason == (
        "A gasket 0.2467 mm thicker restores the compression ratio; one 0.3 mm thicker restores the valve timing. "
        "They are two different gaskets."
    )
    one = restoring_gaskets(Areas(cm2(60), cm2(60), cm2(60)), mm(0.2), NONE, "belt")
    assert one.reason == "A gasket 0.2 mm thicker restores the compression ratio and the valve timing."
    none = restoring_gaskets(AREAS, mm(0.2), NONE, "push rods")
    assert none.for_timing is None
    assert none.reason == (
        "A gasket 0.15 mm thicker restores the compression ratio. For the valve timing none is computed: "
        "the camshaft is in the block, a cut does not move it."
    )


@given(st.floats(0, 1), st.floats(0, 1), st.floats(1, 80), st.floats(40, 80), st.floats(40, 80), st.floats(0, 60))
def test_each_gasket_restores_what_it_says(head, deck, chamber, gasket, cylinder, angle):
    areas = Areas(cm2(chamber), cm2(gasket), cm2(cylinder))
    found = restoring_gaskets(areas, mm(head), mm(deck), "chain")
    ratio = ratio_after(cm3(500), cm3(60), areas, mm(head), mm(deck), found.for_ratio)
    assert ratio.after.value == pytest.approx(ratio.before.value, rel=1e-12)
    timing = cam_retard("chain", mm(head), mm(deck), found.for_timing, Quantity(angle, "deg"), mm(55))
    assert timing.cam.value == pytest.approx(0, abs=1e-12)


# Retard, against exact geometry


def tangent(crank, cam, r, radius):
    """Length of the outer tangent on the right-hand side, and the direction of its normal, by construction."""
    dx, dy = cam[0] - crank[0], cam[1] - crank[1]
    centres = hypot(dx, dy)
    lean = atan2(radius - r, centres)  # approximate start of the search only
    towards = atan2(dy, dx)

    def gap(normal):  # both circles touch a line with this normal when the centres differ by radius - r along it
        return (dx * cos(normal) + dy * sin(normal)) - (r - radius)

    normal = brentq(gap, towards - pi / 2 - abs(lean) - 0.2, towards - pi / 2 + abs(lean) + 0.2, xtol=1e-15)
    a = (crank[0] + r * cos(normal), crank[1] + r * sin(normal))
    b = (cam[0] + radius * cos(normal), cam[1] + radius * sin(normal))
    return hypot(b[0] - a[0], b[1] - a[1]), normal


def exact_retard(r, radius, cam, down, depth):
    """Cam degrees late when its centre moves by `depth` along `down`, crank held and pulling strand taut.

    The shafts turn clockwise, so the right-hand strand pulls. From a tooth fixed on the crank at angle t to a mark on
    the cam at angle m, with the tangent points at angle n: r (n - t) + strand + R (m - n) is constant. m growing is late.
    """
    before, n0 = tangent((0, 0), cam, r, radius)
    after, n1 = tangent((0, 0), (cam[0] + depth * down[0], cam[1] + depth * down[1]), r, radius)
    return degrees((before - after + (radius - r) * (n1 - n0)) / radius), n0


@pytest.mark.parametrize("case", published("cut", "retards"), ids=name_of)
def test_published_retards(case):
    radius, crank = (sprocket_radius(teeth, mm(case["pitch"]), "chain") for teeth in case["teeth"])
    assert (radius.value, crank.value) == pytest.approx((case["cam_radius"], case["crank_radius"]), abs=5e-4)
    lean = degrees(atan2(radius.value - crank.value, (case["centres"] ** 2 - (radius.value - crank.value) ** 2) ** 0.5))
    assert lean == pytest.approx(case["lean"], abs=5e-4)
    found = cam_retard("chain", mm(case["cut"]), NONE, NONE, Quantity(lean, "deg"), radius)
    assert found.cam.value == pytest.approx(case["value"], abs=case["tolerance"])
    assert found.crank.value == pytest.approx(case["crank"], abs=0.0006)
    simple = cam_retard("chain", mm(case["cut"]), NONE, NONE, Quantity(0, "deg"), radius)
    assert simple.cam.value == pytest.approx(case["simple"], abs=case["tolerance"])
    exact, _ = exact_retard(crank.value, radius.value, (0, case["centres"]), (0, -1), case["cut"])
    assert exact == pytest.approx(case["value"], abs=case["tolerance"])


@given(st.floats(20, 40), st.floats(1.2, 2.2), st.floats(250, 600), st.floats(-50, 50), st.floats(0.02, 0.5))
def test_retard_agrees_with_exact_geometry_for_any_direction_of_the_cut(r, times, centres, tilt, depth):
    radius = r * times
    down = (sin(radians(tilt)), -cos(radians(tilt)))
    exact, normal = exact_retard(r, radius, (0, centres), down, depth)
    strand = (-sin(normal), cos(normal))  # from crank to cam, square to the normal
    angle = degrees(atan2(abs(strand[0] * down[1] - strand[1] * down[0]), -(strand[0] * down[0] + strand[1] * down[1])))
    found = cam_retard("belt", mm(depth), NONE, NONE, Quantity(angle, "deg"), mm(radius))
    assert found.cam.value == pytest.approx(exact, rel=3 * depth / centres + 1e-6, abs=2e-6)


GOLDEN_RETARD = [
    ((0.254, 0, 0), COMPUTED, "The head sits 0.254 mm lower: the camshaft runs 0.27 deg late, 0.53 deg at the crank."),
    ((0.1, 0.2, 0.1), COMPUTED, "The head sits 0.2 mm lower: the camshaft runs 0.21 deg late, 0.42 deg at the crank."),
    ((0, 0, 0.3), COMPUTED, "The head sits 0.3 mm higher: the camshaft runs 0.31 deg early, 0.63 deg at the crank."),
    ((0.1, 0.2, 0.3), COMPUTED, "The head sits as high as before: the timing stays."),
]


@pytest.mark.parametrize(("cuts", "verdict", "reason"), GOLDEN_RETARD)
def test_golden_sentences_of_the_retard(cuts, verdict, reason):
    found = cam_retard("chain", *map(mm, cuts), Quantity(5.205, "deg"), mm(54.644))
    assert (found.verdict, found.reason) == (verdict, reason)


GOLDEN_DRIVES = [
    ("gears", NOT_COMPUTED, "Not computed: gears carry no strand, a cut changes how they mesh."),
    ("push rods", NOT_COMPUTED, "Not computed: the camshaft is in the block, a cut does not move it."),
    ("intermediate sprocket", NOT_COMPUTED, "Not computed: the strand does not run straight from crank to camshaft."),
    ("bent strand", NOT_COMPUTED, "Not computed: the strand does not run straight from crank to camshaft."),
    (None, NOT_COMPUTED, "Not computed: how the camshaft is driven is not in this record."),
]


@pytest.mark.parametrize(("drive", "verdict", "reason"), GOLDEN_DRIVES)
def test_drives_without_a_straight_strand_have_no_computed_retard(drive, verdict, reason):
    found = cam_retard(drive, mm(0.2), NONE, NONE, Quantity(5, "deg"), mm(55))
    assert (found.verdict, found.cam, found.crank, found.reason) == (verdict, None, None, reason)


def test_every_drive_word_is_computed_or_says_why_not():
    verdicts = {drive: cam_retard(drive, mm(0.2), NONE, NONE, Quantity(5, "deg"), mm(55)).verdict for drive in DRIVES}
    assert [drive for drive, verdict in verdicts.items() if verdict == COMPUTED] == ["chain", "belt"]


def test_input_of_the_retard_is_refused():
    good = [mm(0.2), NONE, NONE, Quantity(5, "deg"), mm(55)]
    assert code_of(cam_retard, "rope", *good) == ("unknown", "drive")
    assert code_of(cam_retard, "chain", *good[:3], None, mm(55)) == ("missing", "strand angle")
    assert code_of(cam_retard, "chain", *good[:3], Quantity(90, "deg"), mm(55)) == ("out-of-range", "strand angle")
    assert code_of(cam_retard, "chain", *good[:4], None) == ("missing", "cam sprocket radius")
    assert code_of(cam_retard, "chain", *good[:4], mm(0)) == ("zero", "cam sprocket radius")
    assert code_of(cam_retard, "chain", mm(-0.2), *good[1:]) == ("negative", "head cut")
    assert code_of(sprocket_radius, 36.5, mm(9.525), "chain") == ("not-a-number", "teeth")
    for drive in ("chain", "belt"):
        assert code_of(sprocket_radius, 0, mm(9.525), drive) == code_of(sprocket_radius, 5, mm(9.525), drive) == ("too-few", "teeth")
        assert code_of(sprocket_radius, 1001, mm(9.525), drive) == code_of(sprocket_radius, 10**400, mm(9.525), drive) == ("out-of-range", "teeth")
    assert code_of(sprocket_radius, 36, mm(9.525), "gears") == ("refused", "drive")


def test_the_fewest_and_the_most_teeth():
    # six links round a sprocket are a regular hexagon, whose side is its radius; of many the belt's and the chain's line are one
    assert sprocket_radius(6, mm(9.525), "chain").value == pytest.approx(9.525)
    assert sprocket_radius(1000, mm(9.525), "chain").value == pytest.approx(sprocket_radius(1000, mm(9.525), "belt").value, rel=2e-6)


def test_a_belts_pitch_line_goes_round_teeth_times_pitch():
    assert 2 * pi * sprocket_radius(40, mm(9.525), "belt").value == pytest.approx(40 * 9.525)


@given(st.floats(0, 1), st.floats(0.001, 1), st.floats(0, 89), st.floats(20, 90))
def test_a_deeper_cut_runs_later(cut, more, angle, radius):
    late = [cam_retard("belt", mm(each), NONE, NONE, Quantity(angle, "deg"), mm(radius)).cam.value for each in (cut, cut + more)]
    assert late[0] < late[1]


# What else to check


def test_consequences_are_shown_by_what_the_engine_has():
    everything = consequences(dict.fromkeys(FEATURES, True))
    assert len(everything) == 8 and {each.heading for each in everything} == {""}
    starts = ["Valve to piston", "Valve seats", "Push rods and lifters", "Intake", "Dowels", "Protrusions", "Head bolts", "Valve timing"]
    assert [each.text.split(":")[0] for each in everything] == starts
    assert consequences(dict.fromkeys(FEATURES, False)) == ()
    side_valve = consequences({"valves in the head": False, "push rods": False, "overhead camshaft": False, "vee": True})
    assert [each.key for each in side_valve] == ["vee", "dowels", "parts beyond the face", "blind bolt holes"]


def test_what_is_not_in_the_record_costs_no_warning():
    unknown = consequences({})
    assert len(unknown) == 8
    assert {each.heading for each in unknown} == {
        "If the valves are in the head:", "If the engine has push rods:", "If the engine is a vee:", "If the engine has dowels:",
        "If the engine has parts beyond the face:", "If the engine has blind bolt holes:", "If the camshaft is in the head:",
    }
    assert all(each.basis for each in unknown)


def test_the_list_does_not_depend_on_the_callers_order_and_refuses_other_features():
    assert consequences(dict.fromkeys(FEATURES, True)) == consequences(dict.fromkeys(reversed(FEATURES), True))
    assert code_of(consequences, {"wings": True}) == ("unknown", "feature")
