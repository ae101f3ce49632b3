"""Whether a step is for an engine has three answers, and a gap in a record never drops a step."""

import pytest

from generator.record.procedure import NO, UNKNOWN, YES, applies, open_part
from tests.conftest import SMALL


@pytest.mark.parametrize(("when", "answer"), [
    ((), YES),
    ((("fuel", ("gasoline",)),), YES),
    ((("fuel", ("diesel",)),), NO),
    ((("fuel", ("diesel", "gasoline")),), YES),
    ((("fuel", ("diesel", "gas")),), NO),
    ((("cooling", ("liquid",)),), UNKNOWN),
    ((("cooling", ("liquid", "air")),), UNKNOWN),
    ((("fuel", ("gasoline",)), ("cooling", ("liquid",))), UNKNOWN),
    ((("fuel", ("diesel",)), ("cooling", ("liquid",))), NO),
])
def test_answers(read, when, answer):
    assert applies(when, read(SMALL)[0]) == answer


def test_only_what_the_record_leaves_open_is_asked(read):
    when = (("fuel", ("gasoline",)), ("cooling", ("liquid",)))
    assert open_part(when, read(SMALL)[0]) == (("cooling", ("liquid",)),)
    assert open_part(when, None) == when


def test_a_fact_from_elsewhere_is_named_by_its_whole_key(read):
    engine, _ = read(SMALL + "gasket: {cite: book page 9, form: {says: none}}\n")
    assert applies((("gasket.form", ("none",)),), engine) == YES
    assert applies((("gasket.form", ("ring", "per head")),), engine) == NO
    assert applies((("gasket.form", ("none",)),), read(SMALL)[0]) == UNKNOWN


def test_without_an_engine_every_condition_is_open():
    assert applies((("fuel", ("diesel",)),), None) == UNKNOWN
    assert applies((), None) == YES
