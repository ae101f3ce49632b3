"""Worksheets and hold points from disk without a network."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.mechanic import answers, at_the_bench

FOUR = "quennith-four"
GOES, STOPS = "Thickest blade that goes", "Thinnest blade that does not go"


@pytest.fixture
def mechanic(browser, site, tmp_path):
    with at_the_bench(browser, site, tmp_path / "site") as found:
        yield found


def test_the_walk_does_not_start_before_the_hold_points_are_signed_or_overridden_in_writing(mechanic):
    mechanic.open(FOUR)
    begin = mechanic.place().get_by_role("button")
    expect(begin).to_be_disabled()
    assert "First sign the hold points above" in mechanic.place().inner_text()
    first = mechanic.page.locator("[data-hold]").first
    first.get_by_text("Go on without it").first.click()
    first.get_by_role("button", name="Go on without it").click()
    assert "Give a name and a reason" in first.inner_text()
    first.get_by_label("Seen by").fill("Ada")
    first.get_by_label("Reason, in writing").fill("the cap was cracked, seen before")
    first.get_by_role("button", name="Go on without it").click()
    assert "the cap was cracked, seen before" in first.inner_text()
    mechanic.sign()
    expect(begin).to_be_enabled()


@pytest.mark.parametrize(("typed", "said"), [
    ("1,524", "1524 if the comma parts thousands"), ("plenty", "write one number"), ("9 mm", "mm measures length"),
    ("900 potatoes", "potatoes is not known"), ("NaN", "write one number"), ("1e3", "write one number"), ("<b>900</b>", "write one number"),
])
def test_what_cannot_be_understood_is_refused_beside_the_field_and_kept(mechanic, typed, said):
    sheet = mechanic.open(FOUR).sheet("compression")
    field = sheet.get_by_label("Cylinder 1, dry")
    field.fill(typed)
    assert said in field.locator("xpath=..").inner_text()
    mechanic.again()
    sheet = mechanic.sheet("compression")
    assert sheet.get_by_label("Cylinder 1, dry").input_value() == typed
    assert said in sheet.inner_text()


@pytest.mark.parametrize(("typed", "read"), [
    ("0,05", "0.05 mm"), (".002 in", "0.002 in"), ("2/1000 in", "0.002 in"), ("0.05", "0.05 mm"), ('.002"', "0.002 in"),
])
def test_a_length_is_understood_as_it_is_written_at_the_bench(mechanic, typed, read):
    said = mechanic.open(FOUR).fill(mechanic.sheet("recession"), {"Valve recession, intake and exhaust, one a line": typed})
    assert f"intake and exhaust: {read}" in said


def test_inch_blades_are_in_the_set_and_are_held_against_a_metric_limit(mechanic):
    sheet = mechanic.open(FOUR).sheet("flatness-head")
    mechanic.fill(sheet, {GOES: "0.04 mm"})
    sheet.get_by_text("Blades and tools").click()
    mechanic.fill(sheet, {"Blades in": "in"})
    assert sheet.get_by_label("Blades in the set").input_value().startswith(".0015 .002")
    assert sheet.get_by_label(GOES).input_value() == "0.04 mm"  # what was felt stays
    assert ": over. Worst line, along one edge: 0.002 in (0.0508 mm) goes, against max 0.05 mm" in mechanic.fill(sheet, {GOES: "0.002 in"})


def test_a_diagonal_without_a_limit_of_its_own_says_that_the_stricter_one_stands(mechanic):
    sheet = mechanic.open(FOUR).sheet("flatness-head")
    sheet.get_by_role("button", name="one diagonal").click()
    said = mechanic.fill(sheet, {STOPS: "0.03 mm"})
    assert "0.03 mm does not go, against max 0.03 mm" in said
    assert "; no limit of its own in this record, so the stricter one stands here" in said


def test_a_limit_over_a_short_span_has_readings_of_its_own(mechanic):
    sheet = mechanic.open("ombrisk-v6").sheet("flatness-head", "left")
    assert "Lay the straightedge over 100 mm at a time" in mechanic.fill(sheet, {STOPS: "0.05 mm"})
    said = mechanic.fill(sheet, {"Over any 100 mm: thickest blade that goes": "0.03 mm"})
    assert "over. along one edge: 0.03 mm, the limit blade itself, goes, against max 0.03 mm over any 100 mm" in said


def test_doubt_larger_than_what_the_blades_leave_is_too_close_for_these_tools(mechanic):
    sheet = mechanic.open(FOUR).sheet("flatness-head")
    sheet.get_by_text("Blades and tools").click()
    said = mechanic.fill(sheet, {"Doubt of straightedge and blades together, if you know it": "0.02", GOES: "0.06 mm"})
    assert "too close for these tools" in said


def test_the_deck_under_several_heads_is_one_face_and_every_head_has_its_own(mechanic):
    mechanic.open("pelmadorn-six")
    assert mechanic.sheet("flatness-head", "head-6").locator("svg .line").count() == 6
    assert mechanic.sheet("flatness-deck").get_by_role("button", name="across between bores 5 and 6").count() == 1


def test_a_line_is_picked_by_its_button_and_the_choice_keeps_the_focus(mechanic):
    sheet = mechanic.open(FOUR).sheet("flatness-head")
    assert sheet.locator("svg .line").count() == 9
    sheet.get_by_role("button", name="across between bores 2 and 3").click()
    expect(sheet.locator("h4")).to_have_text("across between bores 2 and 3")
    expect(sheet.get_by_label(GOES)).to_be_focused()
    mechanic.page.keyboard.press("ArrowDown")
    expect(sheet.get_by_label(GOES)).to_be_focused()
    expect(sheet.get_by_role("button", name="across between bores 2 and 3: over")).to_be_visible()


def test_of_several_live_figures_the_reader_picks_one_and_the_job_keeps_it(mechanic):
    mechanic.open("wrennockle-twin")
    sheet = mechanic.sheet("compression")
    given = {"Cylinder 1, dry": "820", "Cylinder 2, dry": "830"}
    assert "choose first" in mechanic.fill(sheet, given)
    pick = sheet.get_by_label("Which figure for compression minimum")
    assert "min 8.5 bar" in pick.inner_text()
    pick.select_option("tests.compression.minimum.1")
    assert "8.2 bar is under the limit (min 8.5 bar)" in answers(sheet)
    mechanic.again()
    sheet = mechanic.sheet("compression")
    assert "min 8.5 bar" in answers(sheet)
    assert "choose first" not in answers(sheet)
    assert "compression, compression minimum: min 8.5 bar" in mechanic.hand_over()


def test_an_engine_of_which_nothing_is_known_is_asked_for_what_it_needs(mechanic):
    sheet = mechanic.open("fork-lift-truck-tm-10-3930-653-14-and-p").sheet("compression")
    assert sheet.get_by_label("Cylinder 1, dry").count() == 0
    mechanic.fill(sheet, {"How many cylinders": "4"})
    assert "Say how it ignites" in mechanic.fill(sheet, {"Cylinder 1, dry": "150 psi"})
    said = mechanic.fill(sheet, {"Ignition": "spark", "Cylinder 2, dry": "150 psi", "Cylinder 3, dry": "100 psi", "Cylinder 4, dry": "100 psi"})
    assert "Nos. 3 and 4 are neighbours and low" in said
    assert "neighbours" not in mechanic.fill(sheet, {"The cylinders stand": "apart"})


def test_at_an_altitude_the_record_s_own_table_takes_the_place_of_the_minimum(mechanic):
    sheet = mechanic.open("pelmadorn-six").sheet("compression")
    given = {f"Cylinder {number}, dry": "2000" for number in range(1, 7)}
    assert "under the limit (min 2400 kPa)" in mechanic.fill(sheet, given)
    said = mechanic.fill(sheet, {"Altitude of the place": "2000"})
    assert "2000 kPa is within the limit (min 1880 kPa)" in said
    assert "2400" not in said


def test_the_table_of_altitudes_answers_in_the_metres_printed_in_it(mechanic):
    sheet = mechanic.open("mixer-tm-5-3895-359-14-and-p").sheet("compression")
    mechanic.fill(sheet, {"How many cylinders": "4"})
    given = {f"Cylinder {number}, dry": text for number, text in enumerate(("530 psi", "528 psi", "510 psi", "525 psi"), start=1)}
    mechanic.fill(sheet, {"Ignition": "compression (diesel)", **given})
    # 152 m is printed beside 500 ft, and is a foot and more below it.
    assert "510 psi is under the limit (min 515 psi) by 5 psi" in mechanic.fill(sheet, {"Altitude of the place": "152"})
    assert "the table covers 500 ft / 152 m to 10000 ft / 3048 m and says nothing outside" in mechanic.fill(sheet, {"Altitude of the place": "151"})


@pytest.mark.parametrize(("engine", "kind", "head", "given", "said"), [
    (FOUR, "cut", "", {"To come off this face now": "0,2", "Came off this face before": "0.2"}, "0.2 mm before and 0.2 mm now make 0.4 mm"),
    (FOUR, "cut", "", {"To come off this face now": "0.1", "Chamber area at the face, 0 for a flat face": "40", "Area of the gasket bore": "50.9",
                       "Area of the cylinder bore": "49", "Clearance volume of one cylinder": "44.4"}, "Compression ratio: computed"),
    (FOUR, "recession", "", {"Valve recession, intake and exhaust, one a line": "0.5\n1.3"}, "1.3 mm is over the limit (max 1.2 mm)"),
    (FOUR, "height", "", {"Head height, one a line": "130.5"}, "130.5 mm is under the limit (min 130.6 mm)"),
    ("pelmadorn-six", "liners", "", {"Liner stand-out, one a line": "0.08; 0.10; 0.13"}, "0.05 mm is over the limit (max 0.03 mm)"),
    ("pelmadorn-six", "bolts", "", {"Length, bolts between heads, one a line": "225.5\n226.4"}, "2: Length, bolts between heads: 226.4 mm is over"),
    ("pelmadorn-six", "gasket", "", {"Readings, in the order of the cylinders, one a line": "0.55\n0.6\n0.6\n0.6\n0.58\n0.57"},
        "gasket two holes, for 0.51 to 0.65 mm"),
    (FOUR, "wrench", "", {"Torque that the bolt must get": "35", "Full scale of the wrench": "200"}, "below its range"),
    (FOUR, "cost", "", {"Price of the extra measure": "120", "What the comeback would cost": "1200"}, "10 %"),
], ids=lambda value: value if isinstance(value, str) and len(value) < 12 else "")
def test_a_worksheet_answers_with_the_limit_its_source_and_the_next_step(mechanic, engine, kind, head, given, said):
    found = mechanic.open(engine).fill(mechanic.sheet(kind, head), given)
    assert said in found


@pytest.mark.parametrize("least", [0.1, 0.7])
def test_a_cut_is_held_against_the_recession_of_either_valve(mechanic, least):
    mechanic.open(FOUR)
    mechanic.page.evaluate("""least => {
      const { facts } = Firedeck.bench.record, fact = facts.find((each) => each.at.startsWith("valves.recession.both.limit"));
      const printed = (low) => [{ text: `min ${low} mm`, unit: "mm", in_unit: [low, null] }];
      facts.push({ ...fact, at: "valves.recession.exhaust.limit", printed: printed(least) });
      Object.assign(fact, { at: "valves.recession.intake.limit", printed: printed(0.2) });
    }""", least)
    found = mechanic.fill(mechanic.sheet("cut"), {"To come off this face now": "0.1", "Valve recession now, the smallest": "0.5"})
    assert f"at least {max(least, 0.2)} mm must be left" in found


def test_one_reading_that_is_not_understood_leaves_the_row_without_a_verdict(mechanic):
    sheet = mechanic.open(FOUR).sheet("recession")
    assert mechanic.fill(sheet, {"Valve recession, intake and exhaust, one a line": "0.5\nnought"}) == ""
    assert "nought: write one number" in sheet.inner_text()


def test_every_worksheet_stands_on_the_page_once_for_each_of_its_faces(mechanic):
    mechanic.open("gruvhalt-v8")
    tools = mechanic.page.locator("firedeck-worksheet, firedeck-walk")
    keys = tools.evaluate_all("all => all.map(each => `${each.dataset.kind}, ${each.dataset.head}`)")
    assert len(keys) == len(set(keys))
    assert {"flatness-head, left", "flatness-deck, right", "compression, ", "loosening, right"} <= set(keys)
