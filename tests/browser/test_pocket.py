"""The pocket copy: alone in an otherwise empty folder, as a phone keeps it."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

# The aim is 350 KB with 90 KB of scripts; these bounds keep it from growing until that is reached.
LARGEST = 700 * 1024
SCRIPTS = 160 * 1024


@pytest.fixture
def alone(site, tmp_path):
    """One pocket copy in a folder of its own."""
    return Path(shutil.copy(site / "pocket/quennith-four.html", tmp_path))


def test_it_asks_for_nothing_and_holds_figures_drawing_and_procedure(browser, alone, library):
    asked, complaints = [], []
    page = browser.new_context(viewport={"width": 360, "height": 760}).new_page()
    page.on("request", lambda request: asked.append(request.url))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("console", lambda message: complaints.append(message.text) if message.type == "error" else None)
    page.goto(f"file://{alone}")
    assert (len(asked), complaints) == (1, [])
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    assert page.locator("svg.diagram").count() >= 1
    assert page.locator("section.phase").count() == len(library.phases)
    assert page.locator("h1").count() == 1
    page.locator("input[data-tick]").first.check()
    page.reload()
    expect(page.locator("input[data-tick]").first).to_be_checked()
    page.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_is_accessible(browser, alone, scheme):
    page = browser.new_context(viewport={"width": 360, "height": 760}, color_scheme=scheme).new_page()
    page.goto(f"file://{alone}")
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
    page.close()


def test_every_copy_is_small_and_leads_nowhere_else(site):
    copies = list((site / "pocket").glob("*.html"))
    assert copies
    for copy in copies:
        text = copy.read_text(encoding="utf-8")
        assert len(text.encode()) <= LARGEST, copy.name
        assert len(re.findall(r"<script>(.*?)</script>", text, re.DOTALL)[-1].encode()) <= SCRIPTS
        ids = set(re.findall(r'\bid="([^"]+)"', text))
        assert all(link.startswith("#") and link[1:] in ids for link in re.findall(r'href="([^"]*)"', text)), copy.name
        assert "src=" not in text and "url(" not in text


def test_an_invented_engine_says_so_first(alone):
    text = alone.read_text(encoding="utf-8")
    assert text.index("Invented for demonstration. Not for work on any engine.") < text.index("<nav")
