"""The built site as its reader meets it: opened from disk in Chromium, no other host reachable."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.reader import Reader

FORK_LIFT = "fork-lift-truck-tm-10-3930-653-14-and-p"
REFRIGERATION = "refrigeration-unit-tm-5-4110-217-14"
PAGES = [
    "index.html", "procedure.html", "sources.html", "reading-a-figure.html", "keys.html", f"engines/{FORK_LIFT}.html", "engines/quennith-four.html",
    "engines/pelmadorn-six.html",
    "procedure/quennith-four.html", f"sources/{FORK_LIFT.removeprefix('fork-lift-truck-')}.html",
    "reference.html", "reference/methods.html", "reference/threads.html", "reference/strength.html", "reference/units.html", "reference/wrench.html",
    "reference/rules.html", "reference/practice.html", "errata.html",
]


@pytest.mark.parametrize("width", [360, 820, 1400])
def test_every_page_works_from_disk_asks_no_host_and_fits(browser, site, width):
    reader = Reader(browser, site, width)
    for path in PAGES:
        page = reader.open(path)
        assert page.locator("h1").count() == 1, path
        assert "maker's manual for the exact engine" in page.locator(".closing").inner_text()
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, f"{path} is wider than {width}"
    assert reader.asked_elsewhere == []
    assert reader.complaints == []


def test_from_home_to_the_head_torque_of_a_known_engine(browser, site):
    page = Reader(browser, site, 360).open("index.html")
    page.locator("li", has_text="Fork-lift truck").get_by_role("link", name="Tightening").click()
    torque = page.locator("section", has=page.locator("#tightening")).inner_text()
    assert "8.0 to 9.5 kgf·m / 59 to 69 lbf·ft" in torque
    assert "TM 10-3930-653-14&P, para 4-1-1" in torque
    assert "The printed units disagree, so nothing is converted" in torque
    assert "converted" not in torque.replace("nothing is converted", "")
    assert "Not in this record: the tightening order of the head bolts" in torque


def test_the_figure_that_holds_the_order_is_named(browser, site):
    page = Reader(browser, site, 360).open(f"engines/{REFRIGERATION}.html")
    text = page.locator("section", has=page.locator("#tightening")).inner_text()
    assert "In a figure of the manual: Fig. 5-15, not transcribed (TM 5-4110-217-14, para 5-15)" in text
    assert page.locator("svg.diagram").count() == 0


def test_the_invented_engine_shows_diagram_stages_and_what_it_is(browser, site):
    page = Reader(browser, site, 360).open("engines/quennith-four.html")
    assert page.locator(".invented").first.inner_text() == "Invented for demonstration. Not for work on any engine."
    assert page.locator(".stages li").all_inner_texts()[0].startswith("Every one: tighten to 35 N·m")
    height = page.locator("svg .turn").first.evaluate("e => parseFloat(getComputedStyle(e).fontSize) * e.getScreenCTM().a")
    assert height >= 24


def test_a_drawing_wider_than_a_phone_keeps_its_numbers_and_moves_sideways(browser, site):
    page = Reader(browser, site, 360).open("engines/pelmadorn-six.html")
    height = page.locator("svg .turn").first.evaluate("e => parseFloat(getComputedStyle(e).fontSize) * e.getScreenCTM().a")
    assert height >= 24
    assert page.locator(".sideways").first.is_visible()
    last = page.locator(".drawing").first
    assert last.evaluate("e => { e.scrollLeft = 9999; return e.scrollLeft; }") > 100
    page.get_by_text("In words").first.click()
    assert page.get_by_text("B7, bottom row, 7 of 13 from the left, bolts between heads").first.is_visible()


def test_numbers_and_their_units_stay_on_one_line(browser, site):
    page = Reader(browser, site, 360).open(f"engines/{FORK_LIFT}.html")
    broken = "Array.from(document.querySelectorAll('.qty')).filter(e => e.getClientRects().length > 1).map(e => e.textContent)"
    assert page.evaluate(broken) == []


def test_what_is_tapped_is_large_enough(browser, site):
    page = Reader(browser, site, 360).open("procedure/quennith-four.html")
    low = "Array.from(document.querySelectorAll('.tick, .button')).filter(e => e.getBoundingClientRect().height < 48).length"
    assert page.evaluate(low) == 0


# Pages without the site's frame, and those that nobody browses to.
ALONE = ["sheets/pelmadorn-six.html", "requests/pelmadorn-six.html", "pocket/quennith-four.html"]
HANDWRITTEN = ["adding-an-engine.html", "templates/figure-is-wrong.html", "templates/new-record.html"]
RULES = ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 1400])
def test_no_barrier_for_any_reader(browser, site, scheme, width):
    reader = Reader(browser, site, width, scheme)
    for path in PAGES + ALONE + HANDWRITTEN:
        page = reader.open(path)
        # Only what is ours: the frame round it belongs to the theme.
        context = None if path in ALONE else ".firedeck"
        found = Axe().run(page, context=context, options={"runOnly": RULES})
        assert found.violations_count == 0, f"{path}: {found.generate_report()}"


ANY_SORT = [
    f"engines/{FORK_LIFT}.html", "engines/ombrisk-v6.html", "procedure/pelmadorn-six.html", "index.html", "errata.html", "reference/threads.html",
    "reference/methods.html", "reference/practice.html", "sources/iso-898-1.html", "keys.html", "pocket/quennith-four.html",
]
# A break before the number has no width.
LINES = "[...e.getClientRects()].filter(box => box.width > 0).length"
BROKEN = f"Array.from(document.querySelectorAll('.qty')).filter(e => {LINES} > 1).map(e => e.textContent)"


def test_at_twice_the_size_nothing_needs_sideways_scrolling_and_no_number_parts_from_its_unit(browser, site):
    page_of = Reader(browser, site, 320)
    for path in ANY_SORT:
        page = page_of.open(path)
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, path
        assert page.evaluate(BROKEN) == [], path


def test_in_forced_colours_the_drawing_and_the_boxes_can_be_seen(browser, site):
    page = Reader(browser, site, 360, forced_colors="active").open("procedure/quennith-four.html")
    assert page.evaluate("matchMedia('(forced-colors: active)').matches")
    box = page.locator("input[data-tick]").first
    assert box.evaluate("e => getComputedStyle(e).borderStyle + getComputedStyle(e).appearance") != "nonenone"
    page = Reader(browser, site, 360, forced_colors="active").open("engines/quennith-four.html")
    ink = page.locator("svg .turn").first.evaluate("e => getComputedStyle(e).fill")
    ground = page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert ink not in (ground, "none")


def test_who_asks_for_less_motion_gets_none(browser, site):
    moving = """() => Array.from(document.querySelectorAll(".firedeck, .firedeck *")).filter((e) => {
      const style = getComputedStyle(e);
      return parseFloat(style.transitionDuration) > 0.01 || (style.animationName !== "none" && parseFloat(style.animationDuration) > 0.01);
    }).map((e) => e.outerHTML.slice(0, 80))"""
    for path in ("index.html", "procedure/quennith-four.html", "engines/quennith-four.html"):
        assert Reader(browser, site, 360, reduced_motion="reduce").open(path).evaluate(moving) == [], path


def test_a_printed_engine_page_has_no_frame(browser, site):
    page = Reader(browser, site, 820).open("engines/quennith-four.html")
    page.emulate_media(media="print")
    assert not page.locator(".md-header").is_visible()
    assert page.locator("svg.diagram").first.is_visible()
