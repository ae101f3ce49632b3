"""Errata: every doubt of a real engine in its list, worked out from both sides, and none of an invented one."""

import re
from html import unescape

import pytest

from generator.pages import all_pages
from generator.pages.errata import _with_its_point, errata, errata_page
from generator.pages.wording import said
from generator.quantities import DISAGREE, parse

PUMP = "pump-tm-10-4320-310-14"
FORK_LIFT = "fork-lift-truck-tm-10-3930-653-14-and-p"


@pytest.fixture(scope="module")
def page(library):
    return errata_page(library)


def text_of(html):
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html))).replace("\u00a0", " ")


def part(page, kind):
    """Text of one of the two lists."""
    return text_of(re.search(rf'<section aria-labelledby="{kind}">(.*?)</section>', page.body, re.S)[1])


def doubts(library, kind):
    facts = [(engine, fact.doubt) for engine in library.engines.values() for fact in engine.facts if fact.doubt]
    stages = [(engine, stage.doubt) for engine in library.engines.values() for each in engine.sets.values() for stage in each.stages if stage.doubt]
    return [(engine, doubt) for engine, doubt in [*facts, *stages] if doubt.kind == kind]


@pytest.mark.parametrize("kind", ["manual", "scan"])
def test_every_doubt_of_a_real_engine_stands_in_its_list_and_no_other(library, page, kind):
    real = [(engine, doubt) for engine, doubt in doubts(library, kind) if not engine.invented]
    listed, other = part(page, kind), part(page, {"manual": "scan", "scan": "manual"}[kind])
    assert real
    assert listed.count("As printed") == len(real)
    for engine, doubt in real:
        assert said(doubt.says[1:]).replace("\u00a0", " ") in listed
        assert said(doubt.says[1:]).replace("\u00a0", " ") not in other
        assert engine.name in listed


def test_an_invented_records_doubts_do_not_stand_there(library, page):
    invented = [doubt for kind in ("manual", "scan") for engine, doubt in doubts(library, kind) if engine.invented]
    assert invented
    assert not any(said(doubt.says) in page.body or doubt.says in text_of(page.body) for doubt in invented)
    assert "invented" not in text_of(page.body)


def test_a_doubt_that_is_rounding_is_no_erratum(library, page):
    assert any(not engine.invented for engine, _ in doubts(library, "rounding"))
    assert "88.5" not in text_of(page.body)


def test_each_unit_is_worked_out_from_the_other_and_the_slip_named(page):
    listed = part(page, "manual")
    assert "As printed min 0.2716 in / min 6.95 mm no valve named TM 10-4320-310-14, p. 6-3" in listed
    assert "If min 0.2716 in is right the other would be min 6.899 mm" in listed
    assert "If min 6.95 mm is right the other would be min 0.2736 in" in listed
    assert "Likely slip One digit: 6.95 may be 6.90 mm, or 0.2716 may be 0.2736 in" in listed


def test_units_that_agree_have_nothing_to_work_out(library):
    found = {each.label: each for each in errata(library.engines[FORK_LIFT], "manual", library)}
    removal = next(each for label, each in found.items() if "tock removal" in label)
    assert (removal.if_right, removal.slip) == ((), "")


def test_what_cannot_be_read_is_worked_out_from_what_can(library, page):
    unreadable = [
        each for engine in library.engines.values() for each in errata(engine, "scan", library)
        if any(statement.form == "unreadable" for statement in each.printed)
    ]
    assert unreadable
    assert all(bool(each.if_right) == any(statement.unit for statement in each.printed) for each in unreadable)
    assert 'As printed unreadable "005 in." / 0.15 mm' in part(page, "scan")
    listed = part(page, "scan")
    assert "If 0.15 mm is right the other would be 0.0059 in" in listed
    assert "If it reads 0.005 in the other would be 0.13 mm" in listed
    assert "Likely slip One digit: 0.15 may be 0.13 mm, or 0.005 may be 0.006 in" in listed


def test_characters_without_a_point_to_give_back_stay_unread():
    unread = [parse(f'unreadable "{characters}"') for characters in ("5 in.", "0 in", "x05", "0o5 in", "00", "13--42")]
    assert [_with_its_point(statement) for statement in unread] == [None] * len(unread)


def test_what_may_be_a_lost_character_stands_in_the_second_list_alone(page):
    assert "character in the scan is possible" in part(page, "scan")
    assert not re.search(r"character .*?possible", part(page, "manual"))


def test_a_doubt_about_the_rounds_of_a_stage_leads_to_the_stage(library):
    found, = errata(library.engines["refrigeration-unit-tm-5-4110-217-14"], "scan", library)
    assert (found.label, found.text) == ("Fasteners, Head, stage 1", "from 5 lbf.ft, by 5 lbf.ft, up to 29 to 31 lbf.ft")
    assert found.href.startswith("engines/refrigeration-unit-tm-5-4110-217-14.html#fasteners-head-tightening-stages-0")


def test_every_link_leads_to_its_figure(library, page):
    made = {each.path: set(re.findall(r'\bid="([^"]+)"', each.body)) for each in all_pages(library, {})}
    links = re.findall(r'href="([^"#]+#[^"]+)"', page.body)
    assert len(links) >= 10
    for href in links:
        path, _, place = href.partition("#")
        assert place in made[path], href


def test_all_units_that_disagree_in_real_engines_are_here(library, page):
    text = text_of(page.body)
    for engine in library.engines.values():
        for fact in engine.facts if not engine.invented else ():
            if fact.agreement.verdict == DISAGREE:
                assert said(fact.doubt.says[1:]).replace("\u00a0", " ") in text, fact.at
