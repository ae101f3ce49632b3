"""What comes out of the printer: sheets and machine-shop requests, on both papers, whole, legible and with nothing cut."""

from __future__ import annotations

import json
import re
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from generator.pages.head_page import head_pages

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
  const foot = page.querySelector('footer').getBoundingClientRect().bottom - page.getBoundingClientRect().bottom;
  return [far('right'), far('bottom'), foot, Math.max(0, ...aside)];
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


QUESTIONS = json.loads((Path(__file__).parent / "sheet_questions.json").read_text(encoding="utf-8"))


def words_of(reader):
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def test_the_bench_asks_and_the_sheet_answers(paper, site):
    assert sum(map(len, QUESTIONS.values())) >= 30
    for engine, questions in QUESTIONS.items():
        text = words_of(printed(paper, site / f"sheets/{engine}.html", "A4"))
        assert [question for question, answer in questions if answer not in text] == []


def test_no_question_is_answered_by_every_sheet(paper, site, library):
    texts = {engine: words_of(printed(paper, site / f"sheets/{engine}.html", "A4")) for engine in library.engines}
    for engine, questions in QUESTIONS.items():
        others = [text for other, text in texts.items() if other != engine]
        assert [question for question, answer in questions if all(answer in text for text in others)] == []


# How high the digits stand on each drawing of an order, in mm: 5.1 or more in the fonts of a bare machine, 4.8 in one with low digits.
DIGITS = """() => [...document.querySelectorAll('.page .turns')].map(turns => {
  const svg = turns.ownerSVGElement, unit = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width / 96 * 25.4;
  const pen = document.createElement('canvas').getContext('2d');
  pen.font = `700 100px ${getComputedStyle(turns).fontFamily}`;
  return pen.measureText('1').actualBoundingBoxAscent / 100 * Number(turns.getAttribute('font-size')) * unit;
})"""


def test_digits_of_the_orders_are_five_millimetres_high(paper, site, library):
    paper.emulate_media(media="print")
    drawn = 0
    for engine in library.engines.values():
        paper.goto((site / f"sheets/{engine.id}.html").as_uri())
        heights = paper.evaluate(DIGITS)
        drawn += len(heights)
        assert all(height >= 4.8 for height in heights), (engine.id, heights)
    paper.emulate_media(media="null")
    assert drawn >= 12


def test_the_way_out_stands_on_paper(paper, site, library):
    for engine in library.engines.values():
        head = engine.sets.get("head")
        if head is None or not head.loosening:
            continue
        text = words_of(printed(paper, site / f"sheets/{engine.id}.html", "A4"))
        assert "Only when the engine is cold, never hot." in text
        turns = {place: turn for turn, place in enumerate(head.loosening, start=1)}
        assert all(re.search(rf"\b{place}(?: \(also [^)]*\))? {turn}\b", text) for place, turn in turns.items()), engine.id


def test_a_doubtful_torque_never_stands_over_its_column_alone(site):
    text = (site / "sheets/yarbindel-four.html").read_text(encoding="utf-8")
    heads = re.findall(r'<th scope="col" class="stage">(.*?)</th>', text)
    assert any("in doubt, see above" in head for head in heads)
    assert not any("80 N·m" in head for head in heads)
