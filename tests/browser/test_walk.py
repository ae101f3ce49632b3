"""The walk-through, page by page."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.mechanic import PAUSE, at_the_bench

FOUR = "quennith-four"
PUMP = "petroleum-pump-tm-5-4320-218-15"
WRENCH = {"length": "400", "sideways": "60", "angle": "", "full scale": "100"}


@pytest.fixture
def mechanic(browser, site, tmp_path):
    with at_the_bench(browser, site, tmp_path / "site") as found:
        yield found


def at_the_first_bolt(mechanic, engine=FOUR, kind="tightening", head=""):
    mechanic.open(engine)
    mechanic.sign()
    mechanic.walk(kind, head)
    return mechanic.dialog


def set_model(mechanic, act):
    """Change the model of the page in hand, for what no record has yet."""
    mechanic.page.evaluate(f"() => {{ ({act})(Firedeck.bench.record.fasteners.head); Firedeck.bench.tell('change'); }}")


def test_one_pull_at_a_time_with_bolt_stage_and_both_units(mechanic):
    text = at_the_first_bolt(mechanic).inner_text()
    assert "Stage 1 of 3. Bolt A3, 1 of 10" in text
    assert "35 N·m" in text
    assert "(25.8 lbf·ft)" in text
    assert "quennith-engine-book-q4 page 9" in text
    assert mechanic.dialog.locator(".bolt.now").text_content() == "1"
    assert "Bolt B3, 2 of 10" in mechanic.pull()
    assert "Stage 2 of 3. Bolt A3, 1 of 10" in mechanic.pull(9)
    assert "Turn further by 90°" in mechanic.dialog.inner_text()


@pytest.mark.parametrize("engine", [FOUR, "fork-lift-truck-tm-10-3930-653-14-and-p"])
def test_only_an_invented_engine_is_marked_as_one_and_nothing_stands_for_nothing(mechanic, engine):
    text = at_the_first_bolt(mechanic, engine).inner_text()
    assert ("Invented for demonstration" in text) == (engine == FOUR)
    assert [word for word in ("null", "undefined", "false", "NaN") if word in text] == []


def test_an_adapter_set_in_the_worksheet_reaches_the_wrench_of_the_walk(mechanic):
    mechanic.open(FOUR)
    sheet = mechanic.sheet("wrench")
    for name, label in {"length": "Wrench, from", "sideways": "Adapter, from", "full scale": "Full scale"}.items():
        sheet.get_by_label(label).fill(WRENCH[name])
    mechanic.sign()
    assert "With the adapter of this job set the wrench to 30.4 N·m (22.4 lbf·ft)." in mechanic.walk().inner_text()
    mechanic.pull(10)
    assert "adapter" not in mechanic.dialog.inner_text()  # an angle needs none
    mechanic.tap("Close")
    sheet.get_by_label("Full scale").fill("400")
    mechanic.walk()
    mechanic.tap("Yes, it was")
    for _ in range(11):
        mechanic.tap("Back")
    assert "of the full scale of 400 N.m: below its range, which begins at 20 %. Take a smaller wrench." in mechanic.dialog.inner_text()


def test_a_second_tap_in_haste_is_no_second_pull(mechanic):
    at_the_first_bolt(mechanic)
    mechanic.page.clock.pause_at(mechanic.page.evaluate("Date.now()") + PAUSE)
    mechanic.page.evaluate("() => { for (const _ of [1, 2, 3]) document.querySelector('dialog.walk .done').click(); }")
    assert "Bolt B3, 2 of 10" in mechanic.dialog.inner_text()
    assert len(mechanic.job["walks"]["head, tightening"]["times"]) == 1


def test_back_moves_the_page_and_not_the_bolt(mechanic):
    at_the_first_bolt(mechanic)
    mechanic.pull(2)
    assert "Going back moves this page; it does not move the bolt." in mechanic.tap("Back")
    assert mechanic.job["walks"]["head, tightening"]["done"] == 2
    assert "3 of 10" in mechanic.tap("Forward")
    mechanic.tap("Back")
    assert "2 of 10" in mechanic.tap("It was not pulled")
    assert mechanic.job["walks"]["head, tightening"]["done"] == 1


@pytest.mark.parametrize("sign", [
    "It turns on, and the torque does not rise; in an angle stage: it falls.", "The bolt creaks, or turns in jerks.", "It breaks.",
                                  "The wrench clicks at once, the bolt has not turned.", "It went past its torque or angle."])
def test_a_bolt_that_is_not_right_says_what_it_means_and_where_to_begin_again(mechanic, sign):
    at_the_first_bolt(mechanic)
    mechanic.pull()
    assert "Bolt B3: what is wrong?" in mechanic.tap("Something is wrong with this bolt")
    assert "Begin again: " in mechanic.tap(sign)
    assert f"bolt B3: {sign}" in [each["sign"] for each in mechanic.job["walks"]["head, tightening"]["troubles"]]
    assert "Bolt A3, 1 of 10" in mechanic.tap("Begin again at the first stage")


def test_a_screen_that_was_off_is_an_interruption(mechanic):
    at_the_first_bolt(mechanic)
    mechanic.pull(12)
    mechanic.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert "You were interrupted. Stage 2 of 3. Bolt A4, 3 of 10: was it pulled?" in mechanic.dialog.inner_text()
    assert "Do not turn it further and do not guess" in mechanic.tap("Not sure")


def test_the_first_bolt_is_asked_about_as_well(mechanic):
    at_the_first_bolt(mechanic)
    mechanic.again()
    assert "Bolt A3, 1 of 10: was it pulled?" in mechanic.walk().inner_text()
    assert "Bolt B3, 2 of 10" in mechanic.tap("Yes, it was")


def test_not_sure_of_a_bolt_that_is_loosened_does_no_harm(mechanic):
    text = at_the_first_bolt(mechanic, kind="loosening").inner_text()
    assert "Bolt A1, 1 of 10" in text
    assert "never hot" in text
    mechanic.again()
    mechanic.walk("loosening")
    assert "a bolt that is loosened twice takes no harm" in mechanic.tap("Not sure")


def test_the_screen_stays_awake_where_the_browser_allows_it(mechanic):
    mechanic.page.add_init_script("""Object.defineProperty(navigator, 'wakeLock', { value: {
      request: async (what) => { window.awake = what; return { release: () => { window.awake = 'released'; } }; } } });""")
    at_the_first_bolt(mechanic)
    mechanic.page.wait_for_function("() => window.awake === 'screen'")
    mechanic.tap("Close")
    mechanic.page.wait_for_function("() => window.awake === 'released'")


def test_a_range_asks_once_for_one_target_that_lies_in_it(mechanic):
    dialog = at_the_first_bolt(mechanic, PUMP)
    assert "25 to 32 lbf.ft" in dialog.inner_text()
    assert "a value that keeps to 25 to 32 lbf.ft" in mechanic.target("80 N.m").lower()
    assert "Write one number" in mechanic.target("about 30")
    assert dialog.get_by_label("Target for every bolt").input_value() == "about 30"
    assert "lbf.ft measures torque" not in mechanic.target("40 N.m")
    mechanic.lay_out(9, [f"{row}{column}" for column in range(1, 10) for row in "AB"][:17])
    assert "40 N·m" in dialog.inner_text()
    assert "Chosen by you. Order entered by you." in dialog.inner_text()
    assert "one value for the whole row" in mechanic.tap("Choose another target")
    assert "28.5 lbf·ft (38.6 N·m)" in mechanic.target().replace("\n", " ")
    assert "Choose another target" not in mechanic.pull()


def test_a_count_that_is_not_the_record_s_is_asked_about(mechanic):
    at_the_first_bolt(mechanic, PUMP)
    mechanic.target("30")
    assert "The record counts 17 bolts; 2 are tapped" in mechanic.lay_out(9, ["A1", "B1"])
    assert "Bolt A1, 1 of 2" in mechanic.tap("Use this order")
    assert "The order is not in this record" in mechanic.tap("Enter the order again")


def test_a_contested_angle_is_typed_as_an_angle(mechanic):
    at_the_first_bolt(mechanic, "yarbindel-four")
    mechanic.target()
    mechanic.lay_out(5, [f"{row}{column}" for column in range(1, 6) for row in "AB"])
    mechanic.pull(10)
    mechanic.target("80")
    assert "90 deg" in mechanic.pull(10)  # both readings of the scan are shown, and neither is proposed
    assert mechanic.dialog.get_by_label("Target for every bolt").input_value() == ""
    assert "N.m measures torque; give a value in deg" in mechanic.target("90 N.m")
    assert "Turn further by 90°" in mechanic.target("90")


def test_waiting_counts_from_the_last_pull_and_a_torque_after_it_says_how(mechanic):
    at_the_first_bolt(mechanic, "wrennockle-twin", head="left")
    text = mechanic.pull_to("Stage 3 of 4: wait until the engine has run 5 h and is cold again")
    assert "00:0" in text
    mechanic.page.clock.fast_forward("01:30:00")
    expect(mechanic.dialog.get_by_role("timer")).to_contain_text("1:30:0")
    mechanic.again()
    expect(mechanic.walk("tightening", "left").get_by_role("timer")).to_contain_text("1:30:")
    text = mechanic.tap("Done waiting")
    assert "Tighten again after running, to 38 N·m" in text.replace("\n", " ")
    assert "lbf·ft), cold" in text
    assert "each nut is slackened by an eighth of a turn and pulled up at once" in text


def test_heads_are_walked_one_after_the_other(mechanic):
    at_the_first_bolt(mechanic, "gruvhalt-v8", head="left")
    mechanic.pull(2)
    mechanic.tap("Close")
    assert "2 of 41 pulls done" in mechanic.place("tightening", "left").inner_text()
    assert "Head right: 0 of 41 pulls done" in mechanic.place("tightening", "right").inner_text()
    assert "Stage 1 of 5. Bolt" in mechanic.walk("tightening", "right").inner_text()


def test_rounds_and_the_check_after_them_are_walked(mechanic):
    at_the_first_bolt(mechanic, "pelmadorn-six")
    assert "Stage 1 of 2, round 2. Bolt B7" in mechanic.pull_to("round 2")
    assert "100 N·m" in mechanic.dialog.inner_text()
    assert "Check again at 250 N·m" in mechanic.pull_to("Stage 2 of 2").replace("\n", " ")


def test_a_stage_that_loosens_again_is_walked_with_its_part_of_a_turn(mechanic):
    at_the_first_bolt(mechanic, "ombrisk-v6", head="right")
    text = mechanic.pull_to("Stage 2 of 6")
    assert "Loosen by 180°" in text.replace("\n", " ")
    assert "each by half a turn, so that the new gasket settles" in text


def test_bolt_by_bolt_every_stage_of_one_bolt_comes_before_the_next_bolt(mechanic):
    mechanic.open(FOUR)
    set_model(mechanic, "head => { head.tightening.walk = 'bolt by bolt'; }")
    mechanic.sign()
    mechanic.walk()
    for stage, turn in ((1, "A3, 1"), (2, "A3, 1"), (3, "A3, 1"), (1, "B3, 2")):
        assert mechanic.dialog.locator("h2").inner_text() == f"Stage {stage} of 3. Bolt {turn} of 10"
        mechanic.pull()


def test_going_round_again_after_the_end_is_asked_about_and_told(mechanic):
    at_the_first_bolt(mechanic, "zibbeltane-single")
    mechanic.pull_to("Every pull is done")
    assert "Bolt N1, 1 of 6" in mechanic.tap("Begin again at the first stage")
    assert "begun again at the first stage, after 12 pulls" in mechanic.job["walks"]["head, tightening"]["troubles"][0]["sign"]
