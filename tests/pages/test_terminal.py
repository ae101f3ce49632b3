"""An engine in a terminal: eighty columns, nothing lost, nothing twice, printed and converted told apart."""

import re
from dataclasses import replace

import pytest

from generator.audit import findings
from generator.pages.terminal import INVENTED, WIDTH, engine_text
from generator.pages.wording import statement_words
from tests.conftest import SMALL
from tests.record.test_engine import SET

FORK_LIFT = "fork-lift-truck-tm-10-3930-653-14-and-p"


def flat(text):
    """The text on one line, as it would be without the width."""
    return re.sub(r"\s+", " ", text)


@pytest.fixture(scope="module")
def texts(library):
    return {engine.id: engine_text(engine, library) for engine in library.engines.values()}


def test_no_line_is_wider_than_the_terminal(texts):
    for name, text in texts.items():
        assert [line for line in text.splitlines() if len(line) > WIDTH or line != line.rstrip()] == [], name


def test_everything_of_every_record_is_there_with_its_source(library, texts):
    for engine in library.engines.values():
        text = flat(texts[engine.id])
        for fact in engine.facts:
            said = " / ".join(map(statement_words, fact.printed)) or fact.text
            assert flat(said) in text
            assert library.sources[fact.cite.source].number in text
            assert fact.cite.place in text or library.sources[fact.cite.source].is_practice
            if fact.doubt:
                assert flat(fact.doubt.says) in text


def test_no_figure_stands_twice(library, texts):
    engine = library.engines["quennith-four"]
    said = [" / ".join(map(statement_words, fact.printed)) for fact in engine.facts if fact.printed and not fact.doubt]
    for words in said:
        if said.count(words) == 1:
            rows = re.findall(rf": {re.escape(words)}(?: \(=|$)|(?:tighten to|further by) {re.escape(words)}", texts[engine.id], re.M)
            assert len(rows) <= 1, words


def test_printed_stands_first_and_the_conversion_is_told_apart(texts):
    text = texts["quennith-four"]
    assert "  Head face, Flatness, lengthwise: max 0.05 mm (= max 0.0019 in converted)\n      Quennith engine book Q4 (invented), page 8\n" in text
    assert "  1. Every one: tighten to 35 N·m (= 25.8 lbf·ft converted)\n" in text


def test_no_line_parts_a_number_from_its_unit(library, texts):
    for engine in library.engines.values():
        lines = [line.strip() for line in texts[engine.id].splitlines()]
        for fact in engine.facts:
            for statement in fact.printed:
                words = statement_words(statement)
                assert any(words in line for line in lines), words


def test_orders_in_words_and_places_seen_from_the_wrench(texts):
    text = texts["quennith-four"]
    assert "Tightening order, stages 1 to 3. Seen square on from the wrench's side" in flat(text)
    assert "     1 A3, bottom row, 3 of 5 from the left\n" in text
    assert "Loosening order." in text


def test_doubts_and_gaps_in_words(texts):
    text = flat(texts[FORK_LIFT])
    assert "Doubt. The scan leaves a doubt: low end: 8.0 kgf.m is 57.9 lbf.ft, not 59" in text
    assert "The printed units disagree, so nothing is converted" in text
    assert "Not in this record: the tightening order of the head bolts. Look it up in the manual for this engine." in text
    pointed = flat(texts["refrigeration-unit-tm-5-4110-217-14"])
    assert "The order is in a figure of the manual: Fig. 5-15, not transcribed." in pointed
    assert "Not in this record: the tightening order" not in pointed


def test_an_invented_engine_says_so_at_the_top_and_at_the_end(library, texts):
    for engine in library.engines.values():
        lines = texts[engine.id].splitlines()
        assert (lines[1] == INVENTED) == (lines[-1] == INVENTED) == engine.invented


def test_every_text_defers_to_the_makers_manual(texts):
    assert all("The maker's manual for the exact engine and local rules come first." in flat(text) for text in texts.values())


def test_stages_of_rounds(read, library):
    steps = "{do: steps, order: all, from: 5 N.m, by: 5 N.m, to: 20 N.m}"
    text = SMALL + SET.replace("{do: torque, order: all, figure: [{printed: [35 N.m]}]}", steps)
    engine, problems = read(text)
    assert [each for each in problems if each.level == "error"] == []
    said = engine_text(engine, library)
    assert "Every one: tighten by rounds up to 20 N·m: 5 N·m first, then 5 N·m more each round" in flat(said)


def test_warnings_at_the_top_and_excepted_ones_with_their_reason(read, library):
    wide = SMALL.replace("[max 0.10 mm, max 0.0039 in]", "[max 0.3 mm]").replace("any:", "crosswise:")
    wide += "      lengthwise:\n        - {printed: [max 0.03 mm], cite: book page 2}\n"
    book = replace(next(iter(library.sources.values())), id="book", number="Book", kind="handbook")
    for text, heading in ((wide, "The check warns"), (wide + EXCEPTION, "Warnings that were looked into")):
        engine, _ = read(text)
        beside = replace(library, engines={engine.id: engine}, sources=library.sources | {"book": book})
        said = engine_text(engine, beside, found=findings(beside))
        assert [each for each in ("The check warns", "Warnings that were looked into") if each in said] == [heading]
    assert "Why it stands: printed so" in flat(said)


EXCEPTION = "exceptions:\n  - {rule: limit-out-of-family, at: faces.head.flatness.crosswise, reason: printed so}\n"
