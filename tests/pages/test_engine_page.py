"""The engine page in words: printed as printed, doubts and gaps named, nothing guessed."""

import re
from html import unescape

import pytest

from generator.pages.engine import engine_page, gaps
from generator.pages.model import engine_model
from generator.pages.wording import statement_words
from generator.quantities import parse
from tests.conftest import SMALL


def text_of(page):
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", page.body)))


def page_of(library, engine_id):
    return text_of(engine_page(library.engines[engine_id], library, None))


FORK_LIFT = "fork-lift-truck-tm-10-3930-653-14-and-p"


@pytest.mark.parametrize(("printed", "words"), [
    ("54 +-7 N.m", "54 ± 7 N·m"), ("7 +4 -2 lbf.ft", "7 +4 −2 lbf·ft"), ("17 ratio", "17:1"), ("90 deg", "90°"), ("-430 mmHg", "−430 mmHg"),
    ("9 qt(US)", "9 US qt"), ('unreadable "005 in."', 'unreadable "005 in."'), ("max 0.8 um", "max 0.8 µm"),
])
def test_statements_in_words(printed, words):
    assert statement_words(parse(printed)) == words


def test_every_printed_figure_of_every_record_is_on_its_page_with_its_place(library):
    for engine in library.engines.values():
        text = page_of(library, engine.id)
        for fact in engine.facts:
            for statement in fact.printed:
                assert statement_words(statement) in text
            assert library.sources[fact.cite.source].number in text
            assert fact.cite.place in text


def test_what_the_bench_lacks_is_named(library):
    text = page_of(library, FORK_LIFT)
    assert "Not in this record: the tightening order of the head bolts" in text
    assert "8.0 to 9.5 kgf·m / 59 to 69 lbf·ft" in text
    assert "para 4-1-1" in text
    assert "trust neither until you have checked it in the manual" in text


def test_an_order_in_a_figure_is_pointed_to_and_not_drawn(library):
    page = engine_page(library.engines["refrigeration-unit-tm-5-4110-217-14"], library, None)
    assert "In a figure of the manual: Fig. 5-15, not transcribed" in text_of(page)
    assert "<svg" not in page.body


def test_an_invented_engine_says_so_and_lacks_nothing(library):
    text = page_of(library, "quennith-four")
    assert text.count("Invented for demonstration. Not for work on any engine.") == 2
    assert "Not in this record:" not in text
    assert "Everything that the bench asks for first is here." in text


def test_a_wait_says_until_what_and_a_loosening_how_far(library):
    assert "Wait until the engine has run for 20 min and is at operating temperature" in page_of(library, "gruvhalt-v8")
    assert "Only head bolts: loosen by 180°, each by half a turn" in page_of(library, "ombrisk-v6")


def test_other_sets_with_an_order_have_theirs_too(library):
    body = engine_page(library.engines["ombrisk-v6"], library, None).body
    section = body[body.index('id="orders"') : body.index('id="all"')]
    assert 'id="order-cam-caps"' in section
    assert section.count("<svg") == 4  # tightening and loosening of two heads
    assert 'id="order-head"' not in body


def test_each_drawing_has_its_words(library):
    for engine in library.engines.values():
        body = engine_page(engine, library, None).body
        assert body.count('class="diagram"') == body.count("<summary>In words</summary>")


def test_what_cannot_be_known_of_an_engine_is_no_gap(library, read):
    text = SMALL.replace("  fuel: {says: gasoline}\n", "  cylinders: {says: 1}\n") + "gasket: {cite: book page 3, form: {says: none}}\n"
    engine, problems = read(text)
    assert problems == []
    assert not {"how far the cylinders may differ", "which side of the gasket faces up", "the thickness of the gasket"} & set(gaps(engine))
    engine, _ = read(SMALL)
    assert {"how far the cylinders may differ", "which side of the gasket faces up", "the thickness of the gasket"} <= set(gaps(engine))


def test_contested_and_replaced_figures_are_named(library):
    text = page_of(library, "yarbindel-four")
    doubtful = text[text.index("Doubtful figures") : text.index("Flatness", text.index("Doubtful figures") + 400)]
    assert "90° (contested)" in doubtful
    assert "replaced by Yarbindel letter 2 (invented), item 1" in text


def test_anchors_are_unique(library):
    for engine in library.engines.values():
        ids = re.findall(r'\bid="([^"]+)"', engine_page(engine, library, None).body)
        assert len(ids) == len(set(ids))


def test_text_of_a_record_is_data_and_never_markup(library, read):
    engine, problems = read(SMALL.replace("name: Small engine", "name: '<script>alert(1)</script> {{ 7 * 7 }}'"))
    assert problems == []
    body = engine_page(engine, library, None).body
    assert "<script>" not in body
    assert "&lt;script&gt;" in body
    assert "{{ 7 * 7 }}" in unescape(body)


def test_the_model_holds_values_in_base_units_and_the_printed_text(library):
    model = engine_model(library.engines["quennith-four"], library, None)
    fact = next(each for each in model["facts"] if each["at"] == "faces.head.flatness.lengthwise.0")
    printed = fact["printed"][0]
    assert printed == {
        "text": "max 0.05 mm", "form": "max", "unit": "mm", "dimension": "length", "base_unit": "m", "low": None, "high": 5e-05, "strict": False,
        "in_unit": [None, 0.05],
    }
    head = model["fasteners"]["head"]
    assert [stage["places"] for stage in head["stages"]] == [head["orders"]["all"]] * 3
    assert model["invented"] is True
