"""Each rule finds its fault, at its line, and the records that are here are clean."""

import pytest

from generator.audit import LIBRARY_RULES, RULES, audit
from generator.quantities import AGREE, DISAGREE
from generator.record.library import Library
from generator.record.source import Source
from tests.conftest import SMALL
from tests.published import published
from tests.record.test_engine import SET

BOOK = Source("book", "Book", "government manual", "", "")
FIXTURES = {"book": BOOK, "other": BOOK, "made-up": Source("made-up", "Made up", "invented", "", "")}


def found(read, schemas, text, rule):
    engine, problems = read(text)
    assert [each for each in problems if each.level == "error"] == []
    library = Library(schemas, sources=FIXTURES, engines={engine.id: engine})
    return [problem for each in RULES if each.name == rule for problem in each.check(engine, library)]


@pytest.mark.parametrize(("rule", "old", "new", "line", "phrase"), [
    ("cite-resolves", "cite: book page 2", "cite: bokk page 2", 11, "'bokk' is not registered"),
    ("source-unlisted", "cite: book page 2", "cite: other page 2", 11, "not among the record's sources"),
    ("source-unused", "sources: [book]", "sources: [book, other]", 3, "nothing cites it"),
    ("real-cites-invented", "cite: book page 2", "cite: made-up page 2", 11, "a real engine cites an invented book"),
    ("units-agree", "max 0.0039 in", "max 0.039 in", 11, "printed 0.039 in; likely the decimal point: one of the two is ten times off"),
    ("doubt-needed", "cite: book page 2", "cite: book page 2, doubt: {kind: rounding, says: x}", 11, "where the printed units agree"),
    ("compared-status", "cite: book page 2", 'cite: book page 2, compared: {day: "2026-03-14", edition: first}', 11, "status is transcribed"),
    (
        "compared-status", "cite: book page 2", 'cite: book page 2, status: compared, compared: {day: "2026-02-30", edition: first}', 11,
        "'2026-02-30' is no day",
    ),
    ("order-complete", "[A1, A2, B1]", "[A1, A2]", None, "leaves out B1"),
    ("count-matches-places", "count: 2", "count: 3", None, "has 3 fasteners, but 2 places"),
])
def test_each_rule_finds_its_fault(read, schemas, rule, old, new, line, phrase):
    text = SMALL + SET
    assert found(read, schemas, text, rule) == []
    problems = found(read, schemas, text.replace(old, new), rule)
    assert len(problems) == 1
    assert phrase in problems[0].message
    assert problems[0].hint or rule == "cite-resolves"
    assert line is None or problems[0].line == line


def test_a_doubt_acknowledges_units_that_disagree(read, schemas):
    text = SMALL.replace("max 0.0039 in]", "max 0.039 in], doubt: {kind: manual, says: printed so}")
    assert found(read, schemas, text, "units-agree") == []


def test_the_records_are_clean(library):
    assert library.problems == []
    assert [problem for problem in audit(library) if problem.level != "note"] == []


def test_every_rule_says_what_it_catches():
    rules = [*RULES, *LIBRARY_RULES]
    assert len({rule.name for rule in rules}) == len(rules)
    assert all(rule.catches and rule.example for rule in rules)


def test_an_unreadable_figure_needs_a_doubt(read, schemas):
    text = SMALL.replace("max 0.10 mm, max", "'unreadable \"010 mm\"', max")
    problems = found(read, schemas, text, "unreadable-doubted")
    assert [(problem.line, problem.level) for problem in problems] == [(11, "error")]
    assert 'unreadable "010 mm"' in problems[0].message
    assert found(read, schemas, text.replace("in], cite", "in], doubt: {kind: scan, says: x}, cite"), "unreadable-doubted") == []


def test_units_that_disagree_in_the_records_are_those_known_to_be_misprinted_and_no_other(library):
    known = {tuple(case["printed"]): case["verdict"] for case in published("printed_pairs", "pairs")}
    found = [fact for engine in library.engines.values() if not engine.invented for fact in engine.facts]
    for fact in found:
        readable = tuple(str(statement) for statement in fact.printed if statement.unit)
        assert fact.agreement.verdict == (known[readable] if len(readable) > 1 else AGREE), readable
    disagreeing = [fact for fact in found if fact.agreement.verdict == DISAGREE]
    assert [str(fact.printed[0]) for fact in disagreeing] == [
        "8.0 to 9.5 kgf.m", "11.0 kgf/cm2", "min 0.2716 in", "max 0.2780 in", "2.8740 to 2.8774 in", "max 1.063 in",
    ]
