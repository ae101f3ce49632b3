"""A warning stays until the record excepts it with a reason; an exception that excepts nothing is an error."""

import pytest

from generator import audit
from generator.audit import Rule, findings
from generator.record.library import Library
from tests.audit.test_rules import FIXTURES
from tests.conftest import SMALL

LIMIT = "faces.head.flatness.any"
WIDE = SMALL + "        - {printed: [max 0.12 mm], cite: book page 3}\n"


def warns(engine, library):
    """Warn at every printed statement above 0.1 mm or at it."""
    for fact in engine.facts:
        for index, statement in enumerate(fact.printed):
            if statement.unit.symbol == "mm" and statement.high * 10 >= 1:
                yield engine.file.problem((*fact.at, "printed", index), "wide", f"{statement} is wide", "look again", "warning")


@pytest.fixture
def judged(read, schemas, monkeypatch):
    rules = [Rule("wide", "A wide limit.", "x", warns, ("warning",)), Rule("narrow", "A narrow limit.", "x", lambda *_: (), ("error", "note"))]
    monkeypatch.setattr(audit, "RULES", rules)
    monkeypatch.setattr(audit, "LIBRARY_RULES", [])

    def do(*exceptions):
        lines = [f"  - {{rule: {rule}, at: {at}, reason: it is so printed}}\n" for rule, at in exceptions]
        engine, problems = read(WIDE + ("exceptions:\n" if lines else "") + "".join(lines))
        assert problems == []
        return findings(Library(schemas, sources=FIXTURES, engines={engine.id: engine}))

    return do


def test_a_warning_does_not_fail_and_says_how_to_except_it(judged):
    found = judged()
    assert [(problem.level, problem.line) for problem in found.problems] == [("warning", 11), ("warning", 12)]
    assert not found.failed
    assert f"exceptions: {{rule: wide, at: {LIMIT}.1, reason: …}}" in found.problems[1].hint


@pytest.mark.parametrize(("at", "left"), [(LIMIT, 0), (f"{LIMIT}.0", 1), (f"{LIMIT}.0.printed.0", 1)])
def test_an_exception_covers_the_figures_it_names_and_no_other(judged, at, left):
    found = judged(("wide", at))
    assert [problem.level for problem in found.problems] == ["warning"] * left
    assert [(each.problem.rule, each.reason) for each in found.excepted] == [("wide", "it is so printed")] * (2 - left)


@pytest.mark.parametrize(("rule", "at", "message", "hint"), [
    ("wide", "faces.head.flatness", "no warning of the rule wide stands at faces.head.flatness", f"did you mean {LIMIT}."),
    ("wide", "faces.head.flatness.lengthwise", "no warning of the rule wide stands at", "delete the exception"),
    ("wied", LIMIT, "there is no rule 'wied'", "did you mean wide?"),
    ("narrow", LIMIT, "the rule narrow gives errors or notes, never a warning", "mend what it reports"),
])
def test_an_exception_that_matches_nothing_is_an_error_at_its_line(judged, rule, at, message, hint):
    found = judged((rule, at))
    problem = next(each for each in found.problems if each.level == "error")
    assert (problem.rule, problem.line) == ("exception-needed", 14)
    assert message in problem.message
    assert hint in problem.hint
    assert found.failed


def test_a_second_exception_for_the_same_warning_is_an_error(judged):
    problem, = judged(("wide", LIMIT), ("wide", f"{LIMIT}.1")).problems
    assert problem.line == 15
    assert "an exception above already covers" in problem.message


def test_a_corrected_figure_leaves_its_exception_over(read, schemas, judged):
    engine, _ = read(SMALL.replace("0.10 mm, max 0.0039 in", "0.05 mm, max 0.0020 in") + f"exceptions: [{{rule: wide, at: {LIMIT}, reason: wide}}]\n")
    problem, = findings(Library(schemas, sources=FIXTURES, engines={engine.id: engine})).problems
    assert problem.hint == "delete the exception: what it excepted is mended"


def test_a_warning_about_a_figure_that_has_an_error_is_not_told_as_well(judged, monkeypatch):
    def fails(engine, library):
        yield engine.file.problem(("faces", "head", "flatness", "any", 1, "printed"), "narrow", "wrong", "mend it")

    monkeypatch.setattr(audit, "RULES", [*audit.RULES, Rule("narrow", "x", "x", fails)])
    assert [(problem.rule, problem.line) for problem in judged().problems] == [("wide", 11), ("narrow", 12)]
