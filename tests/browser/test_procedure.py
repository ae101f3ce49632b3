"""The procedure as a phone and a printer show it."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.browser.reader import Reader

FORK_LIFT = "procedure/fork-lift-truck-tm-10-3930-653-14-and-p.html"
QUENNITH = "procedure/quennith-four.html"
LEFT = "cells => cells.map(cell => Math.round(cell.getBoundingClientRect().left))"


def test_a_table_of_causes_becomes_cards_on_a_phone(browser, site):
    page = Reader(browser, site, 360).open(FORK_LIFT)
    row = page.locator("tr", has=page.get_by_label("Thermostat stuck shut"))
    cells = row.locator("th, td")
    assert len(set(cells.evaluate_all(LEFT))) == 1
    assert cells.nth(1).evaluate("cell => getComputedStyle(cell, '::before').content") == '"Test: "'
    assert page.locator("thead").first.evaluate("head => head.getBoundingClientRect().width") <= 1
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0


def test_a_table_of_causes_has_columns_where_there_is_room(browser, site):
    page = Reader(browser, site, 1100).open(FORK_LIFT)
    cells = page.locator("tr", has=page.get_by_label("Thermostat stuck shut")).locator("th, td")
    assert len(set(cells.evaluate_all(LEFT))) == 3
    assert page.get_by_role("columnheader", name="Test that proves or clears it").first.is_visible()


def test_a_cause_is_ticked_by_itself_and_stays_ticked(browser, site):
    reader = Reader(browser, site, 360)
    page = reader.open(QUENNITH)
    page.get_by_label("Thermostat stuck shut").check()
    page = reader.open(QUENNITH)
    expect(page.get_by_label("Thermostat stuck shut")).to_be_checked()
    assert page.locator("input:checked").count() == 1


def test_a_box_ticked_before_the_jobs_are_read_is_kept_with_them(browser, site):
    reader = Reader(browser, site, 360)
    reader.open(QUENNITH).get_by_label("Thermostat stuck shut").check()
    tick = "document.querySelector('[data-tick=complaint]').click()"
    reader.page.add_init_script(f"document.addEventListener('DOMContentLoaded', () => setTimeout(() => {tick}));")
    expect(reader.open(QUENNITH).locator("[data-tick=complaint]")).to_be_checked()
    expect(reader.page.get_by_label("Thermostat stuck shut")).to_be_checked()
    assert reader.page.evaluate("Firedeck.bench.jobs().then((jobs) => jobs.length)") == 1
    assert reader.complaints == []


def test_a_sign_leads_back_to_where_the_work_begins_again(browser, site):
    page = Reader(browser, site, 360).open(QUENNITH)
    page.locator("#sign-breaks a", has_text="Go back to").click()
    assert page.url.endswith("#step-blow-out-holes")
    assert page.locator("#step-blow-out-holes").bounding_box()["y"] >= 0


@pytest.mark.parametrize("path", [FORK_LIFT, "procedure/pelmadorn-six.html", "procedure/zibbeltane-single.html"])
def test_no_barrier_for_any_reader(browser, site, path):
    page = Reader(browser, site, 360, "dark").open(path)
    found = Axe().run(page, context=".firedeck", options={"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]})
    assert found.violations_count == 0, found.generate_report()


def test_on_paper_no_box_looks_ticked_and_nothing_to_tap_is_left(browser, site):
    page = Reader(browser, site, 820).open(QUENNITH)
    page.emulate_media(media="print")
    assert not page.locator(".phases").is_visible()
    assert page.locator(".hold").first.is_visible()
    assert page.locator(".tick input").first.evaluate("box => getComputedStyle(box, '::after').content") == "none"
    assert page.locator(".button:visible").count() == 0
