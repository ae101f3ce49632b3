"""The calculations in the browser say what Python says: numbers to 1e-12, every text, verdict and error code."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from generator.calculations.result import CODES
from tests.browser.generated_calls import MAKERS, generated
from tests.browser.published_calls import CALLS
from tests.browser.twin import ANSWER, Call, difference, twin_page
from tests.calculations.test_golden import IN_BROWSER

LEAST_GENERATED = 5000


@pytest.fixture(scope="module")
def twin(browser, tmp_path_factory):
    page = twin_page(browser, tmp_path_factory.mktemp("twin"))
    yield page
    page.close()


@cache
def answered(name: str) -> list[tuple[Call, Any]]:
    """The generated calls of one maker with what Python answers."""
    return [(call, call.answer()) for call in generated(name)]


def compare(twin, answers, title, capsys):
    """Ask the page all calls at once; fail at the first that it answers otherwise, with the input and both answers."""
    found = twin.evaluate(ANSWER, [[call.name, call.plain] for call, _ in answers])
    for (call, ours), theirs in zip(answers, found, strict=True):
        parted = difference(ours, theirs)
        assert not parted, f"{call.name}\n  input {call.plain}\n  Python {ours}\n  browser {theirs}\n  at {parted}"
    with capsys.disabled():
        print(f"\nparity, {title}: {len(answers)} of {len(answers)} agree", end="")


@pytest.mark.parametrize("name", CALLS)
def test_every_published_case_is_answered_alike(twin, capsys, name):
    answers = [(call, call.answer()) for call in CALLS[name]()]
    assert answers
    compare(twin, answers, f"{name}, published", capsys)


@pytest.mark.parametrize("name", MAKERS)
def test_generated_inputs_are_answered_alike(twin, capsys, name):
    compare(twin, answered(name), name, capsys)


def test_enough_inputs_are_generated_and_every_kind_of_bad_one_is_among_them():
    answers = [answer for name in MAKERS for _, answer in answered(name)]
    assert len(answers) >= LEAST_GENERATED
    assert {answer["code"] for answer in answers if isinstance(answer, dict) and "code" in answer} == set(CODES)
    assert sum(isinstance(answer, list) for answer in answers) > len(answers) / 2


def test_the_generated_answers_have_every_verdict_that_has_golden_sentences_and_no_other():
    answers = [answer for name in MAKERS for call, answer in answered(name) if call.name.startswith("calculations.")]
    assert verdicts_in(answers) == IN_BROWSER


def verdicts_in(answer: Any) -> set[str]:
    if isinstance(answer, list):
        return set().union(*map(verdicts_in, answer))
    if not isinstance(answer, dict):
        return set()
    own = {answer["verdict"]} if "verdict" in answer else set()
    return own.union(*map(verdicts_in, answer.values()))


@pytest.mark.parametrize(("one", "other"), [
    ({"value": 1.0}, {"value": 1.0 + 1e-11}), ({"verdict": "over"}, {"verdict": "within"}), ([1], [1, 2]), ({"a": 1}, {"b": 1}), (None, 0), (True, 1),
    ([{"reason": "0.05 mm"}], [{"reason": "0.050 mm"}]),
])
def test_the_comparison_finds_a_difference(one, other):
    assert difference(one, other)
    assert not difference(one, one)
