"""Every example file through the same check as the command: the good ones are clean, each bad one gives its one problem."""

from html import unescape

import pytest

from generator.audit import FINDING_RULES, RULES, findings
from generator.pages import engine_text
from generator.pages.engine import engine_page
from generator.reading.messages import _WRITERS
from generator.record.library import load
from tests.examples import BAD, GOOD, Expected, checked, library_folder

BEGINNERS = [path for path in BAD if path.parent.name == "beginners"]


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return library_folder(tmp_path_factory.mktemp("library"))


def name(path):
    return f"{path.parent.name}/{path.stem}"


@pytest.mark.parametrize("path", GOOD, ids=name)
def test_good(path, folder):
    assert checked(path, folder) == []


@pytest.mark.parametrize("path", BAD, ids=name)
def test_bad(path, folder):
    expected = Expected.of(path)
    # Notes inform, and are no fault: one may stand beside the fault.
    problems = [problem for problem in checked(path, folder) if problem.level != "note" or problem.rule == expected.rule]
    assert [(problem.rule, problem.line) for problem in problems] == [(expected.rule, expected.line)], problems
    assert expected.says in problems[0].message
    assert expected.mend in problems[0].hint
    assert expected.says and expected.mend


def test_what_the_examples_cover():
    rules = {Expected.of(path).rule for path in BAD}
    assert {f"schema-{keyword}" for keyword in _WRITERS} <= rules
    of_one_file = {rule.name for rule in (*RULES, *FINDING_RULES)} - {"same-as-another"}
    assert of_one_file <= rules


def test_twenty_five_beginners(folder):
    """Shown with: python -m pytest tests/test_examples.py -s -k beginners"""
    for path in BEGINNERS:
        for problem in checked(path, folder):
            print(f"\n{path.stem}, line {problem.line}: {problem.message}\n    {problem.hint}")
    assert len(BEGINNERS) == 25


@pytest.mark.parametrize("path", [path for path in GOOD if path.parent.name == "engines"], ids=name)
def test_a_good_record_is_shown(path, folder):
    library = load(folder, [path])
    engine = library.engines[path.stem]
    assert engine.name in unescape(engine_page(engine, library, None).body)
    assert engine.name in engine_text(engine, library, None, findings(library))
