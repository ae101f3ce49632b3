"""How far a figure was checked: on the page, on the sheet and in the model."""

import re
from dataclasses import replace
from html import unescape

import pytest

from generator.pages.engine import engine_page
from generator.pages.model import engine_model
from generator.pages.sheet import sheet
from generator.pages.standing import standing
from generator.record.facts import Compared

FORK_LIFT = "fork-lift-truck-tm-10-3930-653-14-and-p"
SEEN = Compared("2026-03-14", "March 1961")


def words(html):
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


def with_status(engine, wanted, **status):
    """The record with the status of the facts at these places changed."""
    return replace(engine, facts=tuple(replace(fact, **status) if wanted(fact) else fact for fact in engine.facts))


@pytest.fixture
def partly(library):
    return with_status(library.engines[FORK_LIFT], lambda fact: fact.at[:2] == ("faces", "head"), status="compared", compared=SEEN)


def test_nothing_compared_is_said_first(library):
    engine = library.engines[FORK_LIFT]
    assert standing(engine).short.startswith("Transcribed, not compared")
    assert "Nobody has yet held this record against the printed page." in words(engine_page(engine, library, None).body)


def test_a_compared_figure_shows_day_and_edition_on_its_page(library, partly):
    body = words(engine_page(partly, library, None).body)
    told = [fact for fact in partly.facts if fact.kind != "word"]
    assert f"Compared: 3 of {len(told)} figures and statements, last on 2026-03-14" in body
    assert "compared 2026-03-14, edition March 1961" in body
    assert "Nobody has yet held this record" not in body


def test_the_sheet_shows_the_day_and_no_longer_says_that_nothing_was_compared(library, partly):
    paper = words(sheet(partly, library))
    assert "under 0.1 mm / under 0.004 in" in paper
    assert re.search(r"under 0\.1 mm / under 0\.004 in .{0,40}compared 2026-03-14", paper)
    assert "Transcribed, not compared" not in paper


def test_the_model_holds_day_and_edition(library, partly):
    facts = {fact["at"]: fact for fact in engine_model(partly, library, None)["facts"]}
    seen = facts["faces.head.flatness.lengthwise.0"]
    assert (seen["status"], seen["compared"]) == ("compared", {"day": "2026-03-14", "edition": "March 1961"})
    assert (facts["identity.fuel"]["status"], facts["identity.fuel"]["compared"]) == ("transcribed", None)


def test_everything_compared_is_said_in_one_sentence(library):
    whole = with_status(library.engines[FORK_LIFT], lambda fact: True, status="compared", compared=SEEN)
    assert standing(whole).short == "Compared: a second person held everything here against the printed page, last on 2026-03-14."


def test_a_contested_figure_is_a_doubt_on_page_and_sheet(library):
    engine = with_status(library.engines[FORK_LIFT], lambda fact: fact.at[:3] == ("faces", "head", "flatness"), status="contested")
    body = words(engine_page(engine, library, None).body)
    assert "Contested: 2, where two readers differ." in body
    assert "Two readers differ: trust neither until you have checked it in the manual." in body
    assert "contested" in words(sheet(engine, library))
