"""The ordinary pages on paper: no frame, ink on white, nothing stranded, on A4 and Letter."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from playwright.sync_api import Page
from pypdf import PdfReader

from tests.browser.reader import Reader

PAGES = [
    "index.html", "engines/quennith-four.html", "engines/fork-lift-truck-tm-10-3930-653-14-and-p.html", "procedure/quennith-four.html",
    "sources.html", "sources/quennith-engine-book-q4.html", "reading-a-figure.html", "reference/methods.html",
    "reference/threads.html",
]

# Text that is not dark, and grounds that are not white, where something would be printed.
FAINT = """() => {
  const light = (colour) => {
    const [r, g, b, a = 1] = colour.match(/[\\d.]+/g).map(Number);
    return a === 0 ? 1 : (0.2126 * r + 0.7152 * g + 0.0722 * b) / 255;
  };
  const found = [];
  document.querySelectorAll(".firedeck, .firedeck *").forEach((each) => {
    if (!each.checkVisibility() || each.closest("svg")) return;
    const style = getComputedStyle(each);
    const says = Array.from(each.childNodes).some((node) => node.nodeType === 3 && node.data.trim());
    if (says && light(style.color) > 0.2) found.push("text " + style.color + " " + each.outerHTML.slice(0, 80));
    if (light(style.backgroundColor) < 0.95) found.push("ground " + style.backgroundColor + " " + each.outerHTML.slice(0, 80));
  });
  return found.slice(0, 5);
}"""


def lines(page: Page, paper: str) -> list[list[str]]:
    """The printed lines of each sheet of paper."""
    reader = PdfReader(BytesIO(page.pdf(format=paper)))
    return [[" ".join(line.split()) for line in sheet.extract_text().splitlines() if line.strip()] for sheet in reader.pages]


@pytest.fixture(params=["A4", "Letter"])
def paper(request) -> str:
    return request.param


@pytest.fixture
def reader(browser, site) -> Reader:
    return Reader(browser, site, 900)


@pytest.mark.parametrize("path", PAGES)
def test_no_frame_no_stranded_heading_and_a_number_on_every_sheet(reader, paper, path):
    page = reader.open(path)
    headings = {" ".join(text.split()) for text in page.locator(".firedeck :is(h1, h2, h3, h4)").all_inner_texts()}
    sheets = lines(page, paper)
    for number, sheet in enumerate(sheets, start=1):
        words = f"page {number} of {len(sheets)}"
        assert words in sheet, (path, number)
        last = [line for line in sheet if line != words][-1]
        assert last not in headings, (path, number)
        assert not {"Back to top", "Firedeck"} & set(sheet)
    assert "local rules come first" in " ".join(sheets[-1])


@pytest.mark.parametrize("path", PAGES)
def test_a_dark_screen_still_prints_ink_on_white(browser, site, path):
    page = Reader(browser, site, 900, "dark").open(path)
    page.emulate_media(media="print", color_scheme="dark")
    assert page.evaluate(FAINT) == []
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    for frame in (".md-header", ".md-tabs", ".md-footer", ".md-sidebar"):
        assert page.locator(f"{frame}:visible").count() == 0
    page.emulate_media(media="screen", color_scheme="dark")
    assert page.evaluate(FAINT) != []  # the same look at a dark screen finds light text


def test_a_long_table_repeats_its_head_and_keeps_its_rows_whole(reader, paper):
    page = reader.open("reading-a-figure.html")
    page.evaluate("""() => {
      const body = document.querySelector(".firedeck tbody"), row = body.rows[0];
      for (let number = 0; number < 150; number++) {
        const copy = row.cloneNode(true);
        copy.cells[0].textContent = "begins" + number;
        copy.cells[1].innerHTML = "words<br>".repeat(3) + "ends" + number;
        body.append(copy);
      }
    }""")
    sheets = ["\n".join(sheet) for sheet in lines(page, paper)]
    with_rows = [sheet for sheet in sheets if "begins" in sheet]
    assert len(with_rows) > 3
    for sheet in with_rows:
        assert "What it means" in sheet
        assert set(re.findall(r"begins(\d+)", sheet)) == set(re.findall(r"ends(\d+)", sheet))


def test_an_address_outside_is_spelled_out_and_one_inside_is_not(reader, paper):
    page = reader.open("reading-a-figure.html")
    page.evaluate("""() => document.querySelector(".firedeck h1").insertAdjacentHTML("afterend",
      '<p><a href="https://example.org/manual">manual elsewhere</a> <a href="index.html">every engine</a> <a href="#doubts">doubts</a></p>')""")
    text = " ".join(lines(page, paper)[0])
    assert "manual elsewhere (https://example.org/manual) every engine doubts" in text


def test_boxes_to_tick_are_drawn_with_borders(reader):
    page = reader.open("procedure/quennith-four.html")
    page.emulate_media(media="print")
    box = page.locator(".tick input").first
    style = "e => { const s = getComputedStyle(e); return [s.appearance, s.borderTopStyle, s.maskImage, s.backgroundImage]; }"
    assert box.evaluate(style) == ["none", "solid", "none", "none"]
    assert box.evaluate("e => parseFloat(getComputedStyle(e).borderTopWidth)") >= 1
    assert box.evaluate("e => getComputedStyle(e, '::after').content") == "none"
    box.check()
    assert box.evaluate("e => getComputedStyle(e, '::after').content") == '"✓"'


@pytest.mark.parametrize("path", ["procedure/quennith-four.html", "engines/fork-lift-truck-tm-10-3930-653-14-and-p.html"])
def test_every_line_to_write_on_is_printed(reader, path):
    page = reader.open(path)
    page.emulate_media(media="print")
    lines = page.locator(".blank")
    assert lines.count() > 3
    drawn = "e => parseFloat(getComputedStyle(e).borderBottomWidth) >= 1 && e.getBoundingClientRect().width > 40"
    assert all(line.evaluate(drawn) for line in lines.all())


def test_sources_side_by_side_are_told_apart(reader, paper):
    text = " ".join(line for sheet in lines(reader.open("procedure.html"), paper) for line in sheet)
    assert re.search(r"TM 9-2815-256-24, para 3-8; ?common practice, no source", text)


def test_the_list_on_paper_has_every_engine_and_no_finder(reader, library, paper):
    text = " ".join(line for sheet in lines(reader.open("index.html"), paper) for line in sheet)
    for engine in library.engines.values():
        assert engine.name in text
    for absent in ("Clear all", "Layout", "Tightening", "Choosing needs scripts"):
        assert absent not in text
