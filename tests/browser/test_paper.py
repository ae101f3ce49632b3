"""What comes out of the printer: sheets and machine-shop requests, on both papers, whole, legible and with nothing cut."""

from __future__ import annotations

import json
import re
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from generator.pages.sheet import head_pages

PAPERS = ("A4", "Letter")
LEAST = 8.0  # pt

# Everything that stands in the part of a page that may overflow, with how far it goes beyond it.
BEYOND = """() => [...document.querySelectorAll('.page')].map(page => {
  const part = page.querySelector('.columns, .two, .one'), edge = part.getBoundingClientRect();
  const boxes = [...part.querySelectorAll('*')].map(each => each.getBoundingClientRect());
  // A table or a drawing must stay in its own column, or it lies over its neighbour.
  const right = each => each.getBoundingClientRect().right;
  const aside = [...part.querySelectorAll('table, svg')].map(each => right(each) - right(each.parentElement));
  const far = (side) => Math.max(...boxes.map(box => box[side])) - edge[side];
  return [far('right'), far('bottom'), Math.max(0, ...aside)];
})"""


@pytest.fixture(scope="module")
def paper(browser):
    page = browser.new_context().new_page()
    yield page
    page.close()


def printed(page, file, paper):
    page.goto(file.as_uri())
    return PdfReader(BytesIO(page.pdf(format=paper)))


def sizes(reader):
    """Sizes of all text on all pages, in points."""
    found = []
    for page in reader.pages:
        page.extract_text(visitor_text=lambda text, _, matrix, font, size: found.append(abs(size * matrix[3])) if text.strip() else None)
    return found


@pytest.mark.parametrize("form", PAPERS)
def test_a_sheet_has_a_page_and_one_more_for_each_head(paper, site, library, form):
    for engine in library.engines.values():
        reader = printed(paper, site / f"sheets/{engine.id}.html", form)
        heads = len(head_pages(engine))
        assert len(reader.pages) == 1 + heads, engine.id
        for number, page in enumerate(reader.pages, start=1):
            text = " ".join(page.extract_text().split())
            for words in (engine.id, f"revision {engine.revision}", f"page {number} of {1 + heads}", "local rules come first"):
                assert words in text, (engine.id, number)
            assert ("Invented for demonstration" in text) == engine.invented


@pytest.mark.parametrize("form", PAPERS)
def test_a_request_is_one_page(paper, site, library, form):
    for engine in library.engines.values():
        reader = printed(paper, site / f"requests/{engine.id}.html", form)
        assert len(reader.pages) == 1, engine.id
        text = " ".join(reader.pages[0].extract_text().split())
        assert "Back from the shop" in text and "local rules come first" in text


@pytest.mark.parametrize("folder", ["sheets", "requests"])
def test_nothing_is_cut_off(paper, site, library, folder):
    paper.emulate_media(media="print")
    for engine in library.engines.values():
        paper.goto((site / folder / f"{engine.id}.html").as_uri())
        for number, beyond in enumerate(paper.evaluate(BEYOND), start=1):
            assert max(beyond) <= 1, (engine.id, number, beyond)
    paper.emulate_media(media="null")


def test_nothing_is_smaller_than_eight_points(paper, site, library):
    for folder in ("sheets", "requests"):
        found = sizes(printed(paper, site / folder / "quennith-four.html", "A4"))
        assert len(found) > 100
        assert min(found) >= LEAST - 0.05


def test_the_sheet_asks_for_what_the_record_lacks(site):
    text = (site / "sheets/fork-lift-truck-tm-10-3930-653-14-and-p.html").read_text(encoding="utf-8")
    assert "Not in this record: look up, write in" in text
    assert re.search(r"The least height of the head<span class=\"line\">", text)


def test_a_page_of_its_own_loads_nothing(browser, site):
    asked = []
    page = browser.new_context().new_page()
    page.on("request", lambda request: asked.append(request.url))
    page.goto((site / "sheets/quennith-four.html").as_uri())
    assert len(asked) == 1
    assert page.locator("svg.qr").count() == 2
    page.close()


def test_the_bench_asks_and_the_sheet_answers(paper, site):
    asked = json.loads((Path(__file__).parent / "sheet_questions.json").read_text(encoding="utf-8"))
    assert sum(map(len, asked.values())) >= 30
    for engine, questions in asked.items():
        reader = printed(paper, site / f"sheets/{engine}.html", "A4")
        text = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
        assert [question for question, answer in questions if answer not in text] == []
