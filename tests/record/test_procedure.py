"""Whether a step is for an engine has three answers, and a gap in a record never drops a step."""

import pytest

from generator.record.procedure import NO, UNKNOWN, YES, applies
from tests.conftest import SMALL


@pytest.mark.parametrize(("when", "answer"), [
    ((), YES),
    ((("fuel", "gasoline"),), YES),
    ((("fuel", "diesel"),), NO),
    ((("cooling", "liquid"),), UNKNOWN),
    ((("fuel", "gasoline"), ("cooling", "liquid")), UNKNOWN),
    ((("fuel", "diesel"), ("cooling", "liquid")), NO),
])
def test_answers(read, when, answer):
    assert applies(when, read(SMALL)[0]) == answer


def test_without_an_engine_every_condition_is_open():
    assert applies((("fuel", "diesel"),), None) == UNKNOWN
    assert applies((), None) == YES
