"""Section against record: in each real record a reader finds every printed statement of its section, and nothing else."""

from __future__ import annotations

import re
from dataclasses import replace
from fnmatch import fnmatchcase

import pytest

from generator.reading import At
from generator.record.engine import Engine, read_engine
from generator.record.facts import Cite, Doubt, Fact
from generator.record.fasteners import Stage
from tests.conftest import ROOT
from tests.faults.fault import doubted, without_doubt
from tests.published import published

SECTIONS = published("real_engines", "sections")
EACH = pytest.mark.parametrize("section", SECTIONS, ids=lambda section: f"{section['number']} {section['record']}")


def words_of(fact: Fact) -> str:
    """What a reader sees of a fact beside its printed figures: labels, the source's own word, the text, the condition."""
    return " | ".join((*fact.labels, fact.called, fact.text, fact.when)).lower()


def key_of(fact: Fact) -> str:
    """The place in the record; the position in a list of cautions, decisions or cracks does not count."""
    keys = fact.key if fact.at[0] not in ("cautions", "decisions", "cracks") else fact.key[:1]
    return ".".join(map(str, keys))


def doubt_is(doubt: Doubt | None, said: list[str]) -> bool:
    """Whether a doubt is there where one is expected, of its kind and with its characters, and none elsewhere."""
    if doubt is None or not said:
        return doubt is None and not said
    return doubt.kind == said[0] and all(text in doubt.says for text in said[1:])


def is_said(fact: Fact, said: dict, source: str) -> bool:
    """Whether a fact of the record is this statement of the section."""
    return (
        fnmatchcase(key_of(fact), said["key"])
        and [str(statement) for statement in fact.printed] == said.get("printed", [])
        and all(word.lower() in words_of(fact) for word in said.get("words", []))
        and fact.cite == Cite(source, said["place"])
        and doubt_is(fact.doubt, said.get("doubt", []))
        and fact.status == "transcribed"
    )


def numbers(text: str) -> set[str]:
    return set(re.findall(r"\d+(?:\.\d+)?", text))


def matched(engine: Engine, section: dict) -> tuple[list[str], list[str]]:
    """Statements that the record lacks, and facts that the section does not have."""
    left, missing = list(engine.facts), []
    for said in sorted(section["statements"], key=lambda each: -len("".join(each.get("words", [])))):
        found = next((fact for fact in left if is_said(fact, said, section["source"])), None)
        if found is None:
            missing.append(str(said))
        else:
            left.remove(found)
            own = " ".join((found.called, found.text, found.when))
            missing += [f"{said['key']}: not in the section: {each}" for each in numbers(own) - numbers(" ".join(said.get("words", [])))]
    return missing, [
        f"{line_of(engine, fact.at)}: {key_of(fact)}: {words_of(fact)} {[str(each) for each in fact.printed]} {fact.cite} {fact.doubt}"
        for fact in left
    ]


def line_of(engine: Engine, at: At) -> str:
    """File and line of a figure: of what is printed, where something is."""
    place = engine.file.place((*at, "printed")) or engine.file.place(at)
    return f"{engine.file.name}:{place.line}"


def stage_doubts(engine: Engine, section: dict) -> list[str]:
    """Stages of the head whose doubt is not the one that the section has there, each with its line."""
    head = engine.sets.get("head")
    stages = head.stages if head else ()
    wanted = {number - 1: said for number, *said in section.get("stage_doubts", [])}
    return [
        f"{line_of(engine, ('fasteners', 'head', 'tightening', 'stages', index))}: {stage.doubt}"
        for index, stage in enumerate(stages) if not doubt_is(stage.doubt, wanted.get(index, []))
    ]


@EACH
def test_every_statement_of_the_section_is_in_the_record_and_nothing_else(library, section):
    engine = library.engines[section["record"]]
    assert matched(engine, section) == ([], [])
    assert (engine.name, engine.sources, engine.invented) == (section["name"], (section["source"],), False)
    assert (engine.heads, [spot for each in engine.sets.values() for spot in each.spots]) == ((), [])


def stage_words(stage: Stage) -> str:
    return " ".join(each for each in (stage.do, *stage.groups, ", ".join(stage.rounds), stage.until, stage.when, stage.method) if each)


@EACH
def test_the_stages_and_the_order_of_the_section_are_in_the_record_and_no_others(library, section):
    sets = library.engines[section["record"]].sets
    head = sets["head"].stages if "head" in sets else ()
    assert [stage_words(stage) for stage in head] == section.get("stages", [])
    assert stage_doubts(library.engines[section["record"]], section) == []
    told = sets["head"].order_in_figure if "head" in sets else ""
    assert bool(told) == ("order" in section)
    assert all(words in told for words in section.get("order", []))
    for key, each in sets.items():
        assert (each.orders, each.loosening, each.loosening_in_figure, each.walk) == ({}, (), "", "")
        assert key == "head" or (each.stages, each.order_in_figure) == ((), "")


@EACH
def test_each_source_says_how_it_was_read(library, section):
    source = library.sources[section["source"]]
    assert source.read == "machine-read text of single pages, read twice, independently; never the page image or a figure"
    assert source.kind == ("training course" if section["source"] == "od1001" else "government manual")
    assert source.edition == section.get("edition", "")


def test_every_real_record_has_a_section(library):
    assert {engine.id for engine in library.engines.values() if not engine.invented} == {section["record"] for section in SECTIONS}
    assert [section["number"] for section in SECTIONS] == list(range(1, 12))


def test_every_pair_of_units_that_the_sections_print_is_published_with_its_verdict_and_no_other():
    printed = [tuple(said.get("printed", [])) for section in SECTIONS for said in section["statements"]]
    pairs = {tuple(case["printed"]) for case in published("printed_pairs", "pairs")}
    read_as = {('unreadable "005 in."', "0.15 mm"): ("0.005 in", "0.15 mm")}
    assert {read_as.get(each, each) for each in printed if len(each) > 1} == pairs


@EACH
def test_removing_any_doubt_is_told_at_the_line_of_its_figure(library, section):
    engine = library.engines[section["record"]]
    for at in doubted(engine.file.data):
        changed, _ = read_engine(replace(engine.file, data=without_doubt(engine, at)), library.schemas.shape("engine"), engine.invented)
        told = [*matched(changed, section)[1], *stage_doubts(changed, section)]
        assert [each for each in told if each.startswith(f"{line_of(engine, at)}: ")], at


def text_of(library, record: str) -> str:
    return (ROOT / library.engines[record].file.name).read_text(encoding="utf-8")


# One slip each: what is written, and what the slip makes of it.
SLIPS = {
    "a digit": ("max 0.0762 mm", "max 0.0726 mm"),
    "the order of the units": ("[25 to 40 lbf.ft, 34 to 54 N.m]", "[34 to 54 N.m, 25 to 40 lbf.ft]"),
    "a unit lost": ("[max 4.490 in, max 114.046 mm]", "[max 4.490 in]"),
    "the wrong key": ("  taper:", "  bore_wear:"),
    "the wrong page": ("p. 6-45, para 6-7\n    flatness", "p. 6-36, para 6-7\n    flatness"),
    "a doubt lost": ('        doubt: {kind: scan, says: "1.063 in is 27.000 mm, not 27.015; a lost character in the scan is possible"}\n', ""),
    "another kind of doubt": ("kind: scan", "kind: manual"),
    "a condition lost": (", when: at B", ""),
    "a number in words": ("says: replace the block", "says: replace the block or bore it by 0.5 mm"),
    "something more": ("  fuel: {says: diesel}", "  fuel: {says: diesel}\n  head_material: {says: iron}"),
    "a statement lost": ("its limit, transverse or longitudinal\n    says: replace\n", "its limit\n    says: weld\n"),
}


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_is_found(library, read, slip):
    section = next(each for each in SECTIONS if each["number"] == 4)
    text = text_of(library, section["record"]).replace(*SLIPS[slip], 1)
    engine, _ = read(text)
    assert matched(engine, section) != ([], [])
