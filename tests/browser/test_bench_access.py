"""The bench for everybody: keyboard alone, large letters, a screen reader, gloves, few or no colours."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.browser.mechanic import at_the_bench

FOUR = "quennith-four"
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"], "preload": False}
ENGINES = [FOUR, "pelmadorn-six", "zibbeltane-single", "fork-lift-truck-tm-10-3930-653-14-and-p", "yarbindel-four", "gruvhalt-v8"]
LOW = """([root, least]) => [...document.querySelectorAll(root)].filter((each) => each.checkVisibility() && each.getClientRects().length)
  .filter((each) => { const { height, width } = each.getBoundingClientRect(); return Math.min(height, width) < least; })
  .map((each) => each.outerHTML.slice(0, 90))"""


@pytest.fixture
def mechanic(browser, site, tmp_path):
    with at_the_bench(browser, site, tmp_path / "site") as found:
        yield found


def open_everything(mechanic):
    """Every worksheet and every fold, with some readings in them."""
    mechanic.page.evaluate("() => document.querySelectorAll('.firedeck details').forEach((each) => { each.open = true; })")
    if mechanic.page.get_by_label("Cylinder 1, dry").count():
        mechanic.page.get_by_label("Cylinder 1, dry").first.fill("plenty")
    mechanic.page.get_by_label("Thickest blade that goes", exact=True).first.select_option("0.2 mm")


def barriers(page, within=".firedeck"):
    page.evaluate("scrollTo(0, 0)")  # nothing half under the row at the top
    found = Axe().run(page, context=within, options=RULES)
    return found.generate_report() if found.violations_count else ""


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("engine", [FOUR, "pelmadorn-six", "fork-lift-truck-tm-10-3930-653-14-and-p", "zibbeltane-single"])
def test_no_barrier_with_every_worksheet_open_and_in_the_walk_through(browser, site, tmp_path, engine, scheme):
    with at_the_bench(browser, site, tmp_path / "site", scheme=scheme) as mechanic:
        mechanic.open(engine)
        open_everything(mechanic)
        assert barriers(mechanic.page) == ""
        mechanic.sign()
        mechanic.walk()
        assert barriers(mechanic.page, "dialog") == ""
        if mechanic.dialog.get_by_label("Target for every bolt").count():
            mechanic.target("60 lbf.ft")
            mechanic.tap("Enter the order")
        else:
            mechanic.pull()
        assert barriers(mechanic.page, "dialog") == ""


def test_no_barrier_on_any_other_page_of_the_walk_through(mechanic):
    mechanic.open("wrennockle-twin")
    mechanic.sign()
    mechanic.walk("tightening", "left")
    tapped = ["Done", "Back", "Forward", "Something is wrong with this bolt", "It breaks.", "Back to this bolt"]
    pages = [*(lambda name=name: mechanic.tap(name) for name in tapped),
             lambda: mechanic.pull_to("Stage 3"), lambda: mechanic.tap("Done waiting"), lambda: mechanic.pull_to("Every pull is done")]
    for turn in pages:
        turn()
        assert barriers(mechanic.page, "dialog") == ""


def test_targets_are_48_px_on_the_page_and_64_px_in_the_walk_through(mechanic):
    mechanic.open(FOUR)
    open_everything(mechanic)
    controls = ("button", "input:not([hidden])", "select", "textarea", "summary")
    kinds = ", ".join(f":is(.job, .hold, firedeck-worksheet, firedeck-walk) {each}" for each in controls)
    assert mechanic.page.evaluate(LOW, [kinds, 47.5]) == []
    mechanic.sign()
    mechanic.walk()
    for turn in (lambda: None, mechanic.pull, lambda: mechanic.tap("Back"), lambda: mechanic.tap("Something is wrong with this bolt")):
        turn()
        assert mechanic.page.evaluate(LOW, ["dialog.walk :is(button, input, select)", 63.5]) == []


def test_targets_of_the_layout_and_the_target_are_64_px(mechanic):
    mechanic.open("yarbindel-four")
    mechanic.sign()
    mechanic.walk()
    assert mechanic.page.evaluate(LOW, ["dialog.walk :is(button, input, select)", 63.5]) == []
    mechanic.target()
    mechanic.tap("Enter the order")
    assert mechanic.page.evaluate(LOW, ["dialog.walk :is(button, input, select)", 63.5]) == []


@pytest.mark.parametrize("engine", ENGINES)
def test_at_twice_the_size_nothing_moves_sideways(browser, site, tmp_path, engine):
    """A window of 640 px at 200 % is 320 px wide to the page."""
    with at_the_bench(browser, site, tmp_path / "site", width=320, device_scale_factor=2) as mechanic:
        mechanic.open(engine)
        open_everything(mechanic)
        assert mechanic.page.evaluate("document.documentElement.scrollWidth") <= 320
        mechanic.sign()
        mechanic.walk("tightening", "left" if engine == "gruvhalt-v8" else "")
        assert mechanic.dialog.evaluate("each => each.scrollWidth - each.clientWidth") <= 0
        if mechanic.dialog.get_by_label("Target for every bolt").count():
            mechanic.target("44 N.m" if engine == "yarbindel-four" else "60 lbf.ft")
            mechanic.tap("Enter the order")
        else:
            mechanic.pull()
            mechanic.tap("Back")
        assert mechanic.dialog.evaluate("each => each.scrollWidth - each.clientWidth") <= 0


def test_the_walk_through_goes_by_keyboard_alone(mechanic):
    mechanic.open(FOUR)
    mechanic.sign()
    page, press = mechanic.page, mechanic.page.keyboard.press

    def next_page(key, times=1):
        for _ in range(times):
            page.clock.fast_forward(800)
            press(key)

    mechanic.place().get_by_role("button").focus()
    press("Enter")
    expect(mechanic.dialog.get_by_role("button", name="Done")).to_be_focused()
    next_page("Enter", 2)
    expect(mechanic.dialog.locator("h2")).to_contain_text("3 of 10")
    expect(mechanic.dialog.get_by_role("button", name="Done")).to_be_focused()
    seen = set()
    for _ in range(8):  # the focus stays in the walk-through
        press("Tab")
        assert page.evaluate("document.activeElement === document.body || Boolean(document.activeElement.closest('dialog'))")
        seen.add(page.evaluate("document.activeElement.textContent"))
    assert {"Close", "Back", "Something is wrong with this bolt", "Done"} <= seen
    mechanic.dialog.get_by_role("button", name="Something is wrong with this bolt").focus()
    next_page("Enter")
    expect(mechanic.dialog.get_by_role("button", name="Nothing is wrong")).to_be_focused()
    next_page("Enter")
    page.clock.fast_forward(800)
    press("Escape")
    expect(mechanic.dialog).to_have_count(0)
    expect(mechanic.place().get_by_role("button")).to_be_focused()


def test_a_key_that_repeats_is_no_second_pull(mechanic):
    mechanic.open(FOUR)
    mechanic.sign()
    mechanic.walk()
    mechanic.page.clock.pause_at(mechanic.page.evaluate("Date.now()") + 800)
    for _ in range(4):
        mechanic.page.keyboard.down("Enter")
    mechanic.page.keyboard.up("Enter")
    assert mechanic.job["walks"]["head, tightening"]["done"] == 1


def test_a_screen_reader_hears_bolt_and_torque_with_the_button(mechanic):
    mechanic.open(FOUR)
    mechanic.sign()
    mechanic.walk()
    expect(mechanic.dialog).to_have_accessible_name("Tightening, pull by pull")
    done = mechanic.dialog.get_by_role("button", name="Done")
    expect(done).to_have_accessible_description("Stage 1 of 3. Bolt A3, 1 of 10 Tighten to 35 N·m (25.8 lbf·ft)")
    assert mechanic.dialog.locator("svg").get_attribute("aria-hidden") == "true"  # the words say the same


def test_a_worksheet_is_filled_in_by_keyboard(mechanic):
    mechanic.open(FOUR)
    sheet = mechanic.page.locator("firedeck-worksheet[data-kind=compression]")
    sheet.locator("summary").first.focus()
    mechanic.page.keyboard.press("Enter")
    mechanic.page.keyboard.press("Tab")
    for pressure in ("1250", "1240", "900", "905"):
        mechanic.page.keyboard.type(pressure)
        mechanic.page.keyboard.press("Tab")
        mechanic.page.keyboard.press("Tab")
    assert "Nos. 3 and 4 are neighbours and low" in sheet.locator("output").inner_text()


def test_nothing_moves_by_itself_for_those_who_asked_for_stillness(browser, site, tmp_path):
    with at_the_bench(browser, site, tmp_path / "site", reduced_motion="reduce") as mechanic:
        mechanic.open(FOUR)
        mechanic.sign()
        mechanic.walk()
        mechanic.pull()
        smooth = "[...document.querySelectorAll('.firedeck *')].filter((each) => getComputedStyle(each).scrollBehavior === 'smooth').length"
        assert mechanic.page.evaluate(smooth) == 0
        moving = "document.getAnimations().length"
        assert mechanic.page.evaluate(moving) == 0


def test_with_forced_colours_the_bolt_in_hand_still_stands_out(browser, site, tmp_path):
    with at_the_bench(browser, site, tmp_path / "site", forced_colors="active") as mechanic:
        mechanic.open(FOUR)
        mechanic.sign()
        mechanic.walk()
        mechanic.pull()
        fills = "all => new Set(all.map((each) => getComputedStyle(each).fill)).size"
        assert mechanic.dialog.locator(".bolt circle").evaluate_all(fills) == 3  # done, in hand, still to come
        assert barriers(mechanic.page, "dialog") == ""
