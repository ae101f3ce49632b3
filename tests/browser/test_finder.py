"""The finder as its reader meets it: by keys, by touch, without script, with a thousand engines."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from generator.pages.home import Entry, finder_page
from tests.bench.live import FINDER, KEYS
from tests.browser.reader import Reader

FORK_LIFT = "Fork-lift truck, gasoline, TM 10-3930-653-14&P"
CRANE = "Crane, diesel, TM 5-3810-307-24-2-2"
QUENNITH = "Quennith four, in-line, 1.6 litre, gasoline (invented)"


def listed(page: Page, group: str) -> list[str]:
    """Names of the engines shown in a group: real, invented or unsaid."""
    return page.locator(f"#{group}:visible .engine").all_text_contents()


def real_named(page: Page) -> list[str]:
    return [*listed(page, "real"), *(name for name in listed(page, "unsaid") if "(invented)" not in name)]


@pytest.fixture
def phone(browser, site) -> Page:
    return Reader(browser, site, 360, has_touch=True, is_mobile=True).open("index.html")


@pytest.fixture
def page(browser, site) -> Page:
    return Reader(browser, site, 1000).open("index.html")


def test_three_taps_from_home_to_a_known_head_torque(phone):
    phone.locator("li", has_text="Fork-lift truck").get_by_role("link", name="Tightening").tap()  # the first and only one
    phone.wait_for_url("**/engines/fork-lift*.html#tightening")
    torque = phone.locator("section", has=phone.locator("#tightening")).get_by_text("8.0 to 9.5 kgf·m")
    assert torque.evaluate("e => { const box = e.getBoundingClientRect(); return box.top >= 0 && box.bottom <= innerHeight; }")


@pytest.mark.parametrize("typed", [
    "10-3930-653", "tm10 3930", "TM 10-3930-653-14&P", "tm-10-3930-653-14-and-p", "103930653", "fork lift", "forklift", "Fork-Lift",
    "h20pu", "H20PU240", "gasoline 653", "petrol fork", "FORK gas",
])
def test_words_and_numbers_find_the_fork_lift_however_typed(page, typed):
    page.get_by_label("Name, manual number").fill(typed)
    assert listed(page, "real") == [FORK_LIFT]
    assert listed(page, "invented") == []
    assert page.get_by_role("status").inner_text() == "1 engine matches."


@pytest.mark.parametrize("typed", ["orklift", "10-3930-654", "fork crane"])
def test_what_is_not_there_is_not_found(page, typed):
    page.get_by_label("Name, manual number").fill(typed)
    assert page.locator(".engine").count() == 0
    assert page.get_by_role("status").inner_text() == "No engine matches."


def test_an_engine_whose_record_is_silent_stands_apart(page):
    page.get_by_label("Layout").select_option("in-line")
    assert QUENNITH in listed(page, "invented")
    assert CRANE in listed(page, "unsaid")
    assert CRANE not in listed(page, "real")
    assert page.get_by_role("heading", name="The record does not say").is_visible()
    item = page.locator("#unsaid li", has_text="Crane")
    assert item.locator(".silent").inner_text() == "Not in this record: layout."
    assert "stand apart below" in page.get_by_role("status").inner_text()
    page.get_by_label("Layout").select_option("vee")
    assert QUENNITH not in listed(page, "invented")
    assert CRANE in listed(page, "unsaid")
    page.get_by_label("Layout").select_option("any")
    assert CRANE in listed(page, "real")
    assert listed(page, "unsaid") == []
    assert page.locator(".silent").count() == 0


def test_a_record_that_says_otherwise_is_not_shown(page):
    page.get_by_label("Fuel").select_option("gasoline")
    assert FORK_LIFT in listed(page, "real")
    assert CRANE not in real_named(page)
    page.get_by_label("Cylinders").select_option("4")
    silent = page.locator("#unsaid li", has_text="Fork-lift").locator(".silent").inner_text()
    assert silent == "Not in this record: cylinders."
    page.get_by_label("Application").select_option("crane")
    assert real_named(page) == []


def test_the_order_of_the_list_comes_back(page):
    before = page.locator(".engine").all_text_contents()
    for word in ("vee", "in-line", "any"):
        page.get_by_label("Layout").select_option(word)
    assert page.locator(".engine").all_text_contents() == before


def test_no_match_says_what_to_do(page):
    words = page.get_by_label("Name, manual number")
    words.fill("zeppelin")
    advice = page.locator("#none-found")
    assert advice.is_visible()
    assert page.get_by_role("status").inner_text() == "No engine matches."
    advice.get_by_role("link").click()
    assert page.url.endswith("#own")
    assert page.get_by_role("heading", name="Your engine is not here?").is_visible()
    assert words.input_value() == "zeppelin"
    page.get_by_role("button", name="Clear all").click()
    assert not advice.is_visible()
    assert FORK_LIFT in listed(page, "real")


def test_by_keyboard_alone(page):
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.id") == "find-words":
            break
    page.keyboard.type("tm10 3930")
    assert listed(page, "real") == [FORK_LIFT]
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.id") == "find-layout"
    page.keyboard.type("in")
    assert page.get_by_label("Layout").input_value() == "in-line"
    assert listed(page, "unsaid") == [FORK_LIFT]
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.textContent") == FORK_LIFT
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert outline == "solid"
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_url("**/engines/fork-lift*.html#tightening")


def test_by_touch_on_a_phone(phone):
    phone.get_by_label("Name, manual number").tap()
    phone.keyboard.type("3810")
    assert listed(phone, "real") == [CRANE]
    phone.get_by_role("button", name="Clear all").tap()
    assert FORK_LIFT in listed(phone, "real")
    small = "e => { const box = e.getBoundingClientRect(); return box.width > 0 && (box.height < 48 || box.width < 48) ? [e.outerHTML] : []; }"
    targets = phone.locator(".finder input, .finder select, .finder button, .engines a")
    assert [found for target in targets.all() for found in target.evaluate(small)] == []
    assert phone.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    phone.locator("li", has_text="Fork-lift truck").locator(".engine").tap()
    phone.wait_for_url("**/engines/fork-lift*.html")


def test_back_returns_to_what_was_sought(browser, site):
    reader = Reader(browser, site, 360)
    page = reader.open("index.html")
    page.get_by_label("Name, manual number").fill("tm10 3930")
    page.get_by_label("Cylinders").select_option("4")
    page.locator("#unsaid .engine").click()
    page.wait_for_url("**/engines/*.html")
    page.go_back()
    assert page.get_by_label("Name, manual number").input_value() == "tm10 3930"
    assert page.get_by_label("Cylinders").input_value() == "4"
    assert listed(page, "unsaid") == [FORK_LIFT]
    page.reload()
    assert listed(page, "unsaid") == [FORK_LIFT]
    page.get_by_role("button", name="Clear all").click()
    page.wait_for_function("!location.hash")
    page.reload()
    assert FORK_LIFT in listed(page, "real")
    assert reader.complaints == []


def test_words_typed_last_are_kept_even_if_a_result_is_opened_at_once(page):
    page.get_by_label("Name, manual number").type("3810", delay=0)
    page.locator("#real .engine").click()
    page.go_back()
    assert page.get_by_label("Name, manual number").input_value() == "3810"


@pytest.mark.parametrize("hash_", ["layout=diagonal&cylinders=x", "words=%22%3E%3Cscript%3Ealert(1)%3C/script%3E", "=&&=", "layout=%", "what"])
def test_an_address_from_elsewhere_does_no_harm(browser, site, hash_):
    reader = Reader(browser, site, 360)
    page = reader.open("index.html#" + hash_)
    if "words" in hash_:
        assert page.locator("#none-found").is_visible()
    else:
        assert FORK_LIFT in listed(page, "real")
    assert page.get_by_label("Layout").input_value() == ""
    assert reader.complaints == []


def test_without_script_the_whole_list_is_there(browser, site, library):
    page = Reader(browser, site, 360, java_script_enabled=False).open("index.html")
    assert not page.locator("#finder").is_visible()
    assert not page.locator("#unsaid").is_visible()
    assert page.locator(".unscripted").is_visible()
    names = {engine.name for engine in library.engines.values()}
    assert {*listed(page, "real"), *listed(page, "invented")} == names
    page.locator("li", has_text="Fork-lift truck").get_by_role("link", name="Tightening").click()
    assert page.url.endswith("#tightening")


def test_invented_engines_are_marked_wherever_they_stand(page):
    assert page.locator("#invented li").count() == page.locator("#invented li .state", has_text="Invented").count() > 0
    page.get_by_label("Application").select_option("crane")
    page.get_by_label("Application").select_option("any")
    assert page.locator("#real li .state").count() == 0


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 1400])
def test_no_barrier_for_any_reader(browser, site, scheme, width):
    reader = Reader(browser, site, width, scheme)
    for hash_ in ("", "#layout=vee", "#words=zeppelin"):
        # From another page, or only the hash would change.
        reader.open("sources.html")
        page = reader.open("index.html" + hash_)
        found = Axe().run(page, context=".firedeck", options={"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]})
        assert found.violations_count == 0, found.generate_report()
    assert reader.asked_elsewhere == []


def thousand() -> list[Entry]:
    layouts, fuels, uses = ("in-line", "vee", "opposed", ""), ("diesel", "gasoline", "gas"), ("pump", "saw bench", "generator set", "winch", "loader")
    found = []
    for number in range(1000):
        said = {"layout": layouts[number % 4], "fuel": fuels[number % 3], "cylinders": str(number % 8 + 1), "application": uses[number % 5]}
        found.append(Entry(
            name=f"{uses[number % 5].capitalize()}, {fuels[number % 3]}, XM {number % 11}-{3000 + number}-{number % 70}-14",
            path=f"engines/e{number}.html", procedure=f"procedure/e{number}.html", invented=number % 9 == 0,
            facts=(*(word for word in said.values() if word), "liquid cooled", "push rod", f"Q{number}"),
            says={key: word for key, word in said.items() if word},
        ))
    return found


@pytest.fixture(scope="module")
def large(tmp_path_factory, site, library) -> Path:
    """The built home page with a thousand made-up engines in its list."""
    folder = tmp_path_factory.mktemp("large")
    shutil.copytree(site / "assets", folder / "assets")
    text = (site / "index.html").read_text(encoding="utf-8")
    start, end = text.index("<h1>Find your engine"), text.index('<footer class="closing">')
    (folder / "index.html").write_text(text[:start] + finder_page(thousand(), library).body + text[end:], encoding="utf-8")
    return folder


def test_a_thousand_engines_answer(browser, large):
    assert (large / "index.html").stat().st_size < 1_000_000
    page = Reader(browser, large, 360).open("index.html")
    for key, value in KEYS:
        page.evaluate(FINDER, [key, value])
    assert page.get_by_role("status").inner_text() == "178 engines and 22 invented engines match."
