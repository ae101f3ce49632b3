"""The pocket copy: alone in an otherwise empty folder, as a phone keeps it."""

from __future__ import annotations

import re
import shutil
from html import unescape
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from generator.pages.model import engine_model
from generator.pages.wording import statement_words
from tests.gate import read_page

LARGEST = 350_000  # bytes of a whole copy
SCRIPTS = 90 * 1024  # bytes of code that every engine carries; beside it stand its model and the tables, which are no code
WITH_A_TABLE = 6_000  # bytes more where the record has a table of gaskets


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
    page.wait_for_function("() => !Firedeck.bench.unsafe")
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


def scripts_in(text):
    return re.findall(r"<script>(.*?)</script>", text, re.DOTALL)


def text_of(markup):
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", markup)).split())


def test_every_copy_is_small(site, library):
    copies = {engine: (site / f"pocket/{engine}.html").read_bytes() for engine in library.engines}
    assert {engine: len(copy) for engine, copy in copies.items() if len(copy) > LARGEST} == {}
    code = {engine: [len(script.encode()) for script in scripts_in(copy.decode())[2:]] for engine, copy in copies.items()}
    assert max(bench for bench, *_ in code.values()) <= SCRIPTS
    tables = {name: bool(each.below("gasket.choice")) for name, each in library.engines.items()}
    assert {name: len(sizes) > 1 for name, sizes in code.items()} == tables
    assert max(sum(tools) for _, *tools in code.values()) <= WITH_A_TABLE


def test_every_copy_leads_nowhere_else_and_is_without_a_guess(site, library):
    for engine in library.engines:
        text = (site / f"pocket/{engine}.html").read_text(encoding="utf-8")
        read = read_page(f"pocket/{engine}.html", text)
        assert read.faults == []
        assert {each.url for each in read.references} <= {f"#{name}" for name in read.ids}, engine
        assert "src=" not in text and "url(" not in text


def test_every_figure_stands_under_its_source_and_place(site, library):
    for engine in library.engines.values():
        text = (site / f"pocket/{engine.id}.html").read_text(encoding="utf-8")
        runs = [tuple(map(text_of, found)) for found in re.findall(r"<div class=run><a[^>]*>(.*?)</a><ul>(.*?)</ul></div>", text, re.DOTALL)]
        staged = {fact.at for each in engine.sets.values() for stage in each.stages for fact in stage.figures}
        for fact in engine.facts:
            place = f"{library.sources[fact.cite.source].number}, {fact.cite.place}"
            words = " / ".join(statement_words(each) for each in fact.printed) or " ".join(fact.text.split())
            assert fact.at in staged or any(place == cite and words in figures for cite, figures in runs), (engine.id, fact.at)


def test_the_bench_gets_what_the_record_says(browser, site, library):
    page = browser.new_context().new_page()
    for engine in library.engines.values():
        page.goto((site / f"pocket/{engine.id}.html").as_uri())
        found = {fact["at"]: fact for fact in page.evaluate("Firedeck.model.facts")}
        facts = [fact for fact in engine_model(engine, library, None)["facts"] if not re.match(r"fasteners\.(?!head\.)", fact["at"])]
        assert list(found) == [fact["at"] for fact in facts]
        for fact in facts:
            own = found[fact["at"]]
            for key in {"kind", "status", "cite", "when", "doubt", "superseded_by", "text", "agreement"} & set(fact):
                assert own[key] == fact[key], (engine.id, fact["at"], key)
            for mine, theirs in zip(own.get("printed", []), fact.get("printed", []), strict=True):
                assert mine == {key: theirs[key] for key in mine} and mine.get("strict", False) == theirs.get("strict", False)
    page.close()


def test_an_invented_engine_says_so_first(alone):
    text = alone.read_text(encoding="utf-8")
    assert text.index("Invented for demonstration. Not for work on any engine.") < text.index("<nav")
