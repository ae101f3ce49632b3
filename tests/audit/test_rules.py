"""Each rule finds its fault, at its line, and the records that are here are clean."""

import pytest

from generator.audit import LIBRARY_RULES, RULES, audit
from generator.quantities import AGREE, DISAGREE
from generator.reading import read_text
from generator.record.library import Library
from generator.record.procedure import read_phase
from generator.record.source import Source
from tests.conftest import ROOT, SMALL
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
    ("units-agree", "max 0.0039 in", "max 0.039 in", 11, "disagree: 0.10 mm is 0.00393701 in, printed 0.039 in"),
    ("doubt-needed", "cite: book page 2", "cite: book page 2, doubt: {kind: rounding, says: x}", 11, "where the printed units agree"),
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
    assert audit(library) == []


def test_every_rule_says_what_it_catches():
    rules = [*RULES, *LIBRARY_RULES]
    assert len({rule.name for rule in rules}) == len(rules)
    assert all(rule.catches and rule.example for rule in rules)


def test_units_that_disagree_in_the_records_are_those_known_to_be_misprinted_and_no_other(library):
    known = {tuple(case["printed"]): case["verdict"] for case in published("printed_pairs", "pairs")}
    for engine in library.engines.values():
        for fact in engine.facts:
            printed = tuple(map(str, fact.printed))
            if len(printed) > 1:
                assert fact.agreement.verdict == known[printed], printed
            else:
                assert fact.agreement.verdict == AGREE
    assert sum(fact.agreement.verdict == DISAGREE for engine in library.engines.values() for fact in engine.facts) == 2


@pytest.mark.parametrize(("rule", "old", "new", "phrase"), [
    ("step-figure-known", "tests.compression.minimum", "tests.compression.minimun", "which no record can have"),
    ("step-caution-known", "fuel-and-spark", "fuel-and-sparks", "not in cautions.yaml"),
    ("step-cite-resolves", "od1001 lesson 3", "od1002 lesson 3", "'od1002' is not registered"),
    ("condition-known", "ignition: spark", "ignition: sparks", "never 'sparks'"),
    ("condition-known", "ignition: spark", "ignitoin: spark", "no fact of an engine's identity"),
    ("step-once", "id: compression-wet", "id: compression-dry", "also stands in"),
])
def test_the_procedure_refers_only_to_what_there_is(library, rule, old, new, phrase):
    name = "specs/procedure/01-confirm.yaml"
    text = (ROOT / name).read_text(encoding="utf-8")
    assert old in text
    file, problems = read_text(text.replace(old, new, 1).encode(), name)
    assert problems == []
    broken = Library(
        library.schemas, library.sources, {}, [read_phase(file), *library.phases[1:]], library.cautions, library.cautions_file
    )
    assert [phrase in problem.message for problem in audit(broken) if problem.rule == rule] == [True]


def test_a_missing_phase_is_reported(library):
    broken = Library(library.schemas, library.sources, {}, library.phases[:-1], library.cautions, library.cautions_file)
    assert [problem.message for problem in audit(broken)] == ["the job has no phase 11"]
