"""The frame round every page: small screens, the link past it, light and dark, and what a first visit costs."""

from __future__ import annotations

import gzip
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.browser.reader import Reader

ENGINE = "engines/quennith-four.html"
LABELS = ["Find your engine", "Procedure", "Reference", "Sources", "Reading a figure", "Adding an engine"]


def test_every_tab_is_in_sight_and_large_enough_on_a_phone(browser, site):
    page = Reader(browser, site, 360, has_touch=True, is_mobile=True).open(ENGINE)
    tabs = page.locator(".md-tabs__link")
    assert [text.strip() for text in tabs.all_inner_texts()] == LABELS
    boxes = [target.bounding_box() for target in [*tabs.all(), page.locator(".md-header .home"), page.locator(".md-header .scheme")]]
    for box in boxes:
        assert box["height"] >= 48 and box["width"] >= 48
        assert box["x"] >= 0 and box["x"] + box["width"] <= 360
    for label in ("Procedure", "Find your engine"):
        page.locator(".md-tabs").get_by_role("link", name=label).tap()
        expect(page.get_by_role("heading", level=1)).to_have_text(label)
    assert page.locator(".md-tabs__item--active").inner_text().strip() == "Find your engine"


def test_the_first_key_leads_past_the_frame(browser, site):
    page = Reader(browser, site, 360).open(ENGINE)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent.trim()") == "Skip to content"
    expect(page.locator(".md-skip")).to_be_in_viewport()
    assert page.locator(".md-skip").evaluate("e => getComputedStyle(e).opacity") != "0"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "content"
    page.keyboard.press("Tab")
    assert page.evaluate("!!document.activeElement.closest('.firedeck') && document.activeElement.id !== 'content'")


@pytest.mark.parametrize(("device", "other", "label"), [("dark", "light", "Light"), ("light", "dark", "Dark")])
def test_light_or_dark_as_the_device_says_until_the_reader_chooses(browser, site, device, other, label):
    names = {"dark": "slate", "light": "default"}
    reader = Reader(browser, site, 360, device)
    page = reader.open(ENGINE)
    scheme = "document.body.dataset.mdColorScheme"
    assert page.evaluate(scheme) == names[device]
    for each in (other, device):
        page.emulate_media(color_scheme=each)
        expect(page.locator("body")).to_have_attribute("data-md-color-scheme", names[each])
    page.get_by_role("button", name=label).click()
    assert page.evaluate(scheme) == names[other]
    assert reader.open("sources.html").evaluate(scheme) == names[other]
    assert page.evaluate("matchMedia('(prefers-color-scheme: dark)').matches") == (device == "dark")
    assert reader.complaints == []


def test_without_script_the_frame_still_works(browser, site):
    page = Reader(browser, site, 360, "dark", java_script_enabled=False).open(ENGINE)
    assert not page.locator(".scheme").is_visible()
    page.locator(".md-tabs").get_by_role("link", name="Sources").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Sources")


def test_without_a_store_the_choice_lasts_as_long_as_the_page(browser, site):
    reader = Reader(browser, site, 360)
    reader.page.add_init_script("Object.defineProperty(window, 'localStorage', { get() { throw new Error('closed'); } })")
    page = reader.open(ENGINE)
    page.get_by_role("button", name="Dark").click()
    assert page.evaluate("document.body.dataset.mdColorScheme") == "slate"
    assert reader.complaints == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_barrier_in_the_whole_page(browser, site, scheme):
    page = Reader(browser, site, 360, scheme).open(ENGINE)
    found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"]})
    assert found.violations_count == 0, found.generate_report()


def test_a_first_visit_is_light(browser, site, capsys):
    largest = max((site / "engines").glob("*.html"), key=lambda path: path.stat().st_size)
    reader = Reader(browser, site, 360)
    reader.open(f"engines/{largest.name}").wait_for_load_state("networkidle")
    assert reader.asked_elsewhere == []
    loaded = {Path(url.removeprefix("file://")) for url in reader.asked if url.startswith("file:")}
    raw = {path.relative_to(site).as_posix(): path.stat().st_size for path in sorted(loaded)}
    sent = sum(len(gzip.compress(path.read_bytes())) for path in loaded)
    with capsys.disabled():
        listed = ", ".join(f"{name} {size}" for name, size in raw.items())
        print(f"\nfirst visit to the largest engine page, bytes: {listed}; together {sum(raw.values())}, compressed {sent}")
    beside = sum(raw.values()) - raw[f"engines/{largest.name}"]
    assert raw["assets/firedeck.css"] <= beside < 200_000
    assert sent < 100_000
