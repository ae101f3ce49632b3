"""Rules of practice on pages: all of them with their sources on one, and beside a gap on an engine's, never as its limit."""

import re
from html import unescape

import pytest

from generator.pages.engine import engine_page
from generator.pages.pocket import pocket
from generator.pages.reference.practice import practice_page
from generator.pages.sources import source_pages
from generator.pages.wording import statement_words
from generator.record.library import Library
from tests.conftest import SMALL

MARK = "Rule of practice, not this engine's limit."


def text_of(body):
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", "", body)))


def test_every_rule_stands_on_the_page_with_every_source_and_every_number(library):
    body = practice_page(library).body
    text = text_of(body)
    assert "None of it is a limit of your engine." in text
    for rule in (rule for each in library.practice for rule in each.rules):
        assert f'<h3 id="{rule.id}">' in body
        assert re.sub(r"\s+", " ", rule.says) in text
        assert rule.stated_for in text
        for cite in (*rule.cites, *(fact.cite for limit in rule.limits for fact in limit.facts)):
            assert f'href="../sources/{cite.source}.html"' in body
        for fact in (fact for limit in rule.limits for fact in limit.facts):
            assert all(statement_words(each) in text for each in fact.printed)


def test_each_rule_is_on_the_page_of_its_sources(library):
    pages = {page.path: page.body for page in source_pages(library)}
    for rule in (rule for each in library.practice for rule in each.rules):
        for cite in rule.cites:
            assert f'href="../reference/practice.html#{rule.id}"' in pages[f"sources/{cite.source}.html"]


def section(engine, library, anchor):
    return text_of(re.search(rf'<h2 id="{anchor}">.*?</section>', engine_page(engine, library, None).body, re.S)[0])


IDENTITY = "fuel: {says: gasoline}\n  layout: {says: in-line}\n  cylinders: {says: 4}\n  head_per: {says: engine}"


@pytest.fixture(scope="module")
def bare(read, library, schemas):
    """A four in line whose record gives no flatness and no compression."""
    engine, _ = read(SMALL[: SMALL.index("faces:")].replace("fuel: {says: gasoline}", IDENTITY))
    return engine, Library(schemas, sources=library.sources, engines={engine.id: engine}, practice=library.practice)


def test_beside_a_gap_the_rule_for_this_engine_is_shown_and_marked(bare):
    text = section(*bare, "flatness")
    assert text.index("Not in this record: the flatness limit of the head face") < text.index(MARK)
    assert "Four cylinders in line: max 0.004 in = max 0.10 mm converted common practice, no source" in text
    assert "nobody looked it up" in text
    assert not re.search(r"three cylinders|vee of|six cylinders", text, re.I)
    assert "Lowest against highest: min 75 % TM 5-4210-230-14&P-1, Addendum 2" in section(*bare, "compression")


def test_where_the_record_answers_nothing_of_the_kind_is_shown(library):
    complete = library.engines["quennith-four"]
    assert MARK not in text_of(engine_page(complete, library, None).body)
    assert MARK not in section(library.engines["fork-lift-truck-tm-10-3930-653-14-and-p"], library, "compression")


def test_where_the_record_does_not_say_the_rule_stands_under_its_condition(library):
    text = section(library.engines["water-pumping-set-tm-10-4320-315-24"], library, "flatness")
    assert "If there is one head for the whole engine and this is an in-line engine: max 0.006 in" in text
    assert "the engine has 4 cylinders" not in text


def test_no_rule_that_is_stated_for_other_engines_is_shown(library):
    for engine in library.engines.values():
        body = engine_page(engine, library, None).body
        assert "#below-the-mean" not in body
        assert "#leak-down-loss" not in body


def test_the_pocket_copy_marks_it_too(library):
    engine = library.engines["water-pumping-set-tm-10-4320-315-24"]
    assert MARK in text_of(pocket(engine, library, None))
