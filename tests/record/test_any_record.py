"""Whatever stands in a record, the check ends with problems and never with a traceback."""

from copy import deepcopy
from dataclasses import replace

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.audit import findings
from generator.reading import read_text
from generator.record.engine import read_engine
from tests.conftest import ROOT

RECORD = yaml.safe_load((ROOT / "specs/demo/quennith-four.yaml").read_text(encoding="utf-8"))
JUNK = st.one_of(
    st.none(), st.booleans(), st.integers(-3, 10**6), st.floats(allow_nan=False, allow_infinity=False), st.text(max_size=12),
    st.sampled_from(["", "A1", "max 0.1 mm", "0 N.m", "-5 mm", "1/0 in", "all", "torque", "head", "M10x1.25"]),
    st.lists(st.one_of(st.integers(-3, 3), st.text(max_size=4)), max_size=3),
    st.dictionaries(st.sampled_from(["printed", "says", "as", "cite", "at", "group", "x"]), st.text(max_size=4), max_size=2),
)


def places(data, at=()):
    """Every place of the data, parents before children."""
    yield at
    pairs = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, below in pairs:
        yield from places(below, (*at, key))


PLACES = [at for at in places(RECORD) if at]


def changed(at, junk, drop):
    record = deepcopy(RECORD)
    block = record
    for part in at[:-1]:
        block = block[part]
    if drop:
        del block[at[-1]]
    else:
        block[at[-1]] = junk
    return record


@pytest.fixture(scope="module")
def check(library):
    def do(record):
        text = yaml.safe_dump(record, allow_unicode=True, sort_keys=False)
        file, problems = read_text(text.encode(), "specs/demo/quennith-four.yaml")
        if file is None:
            return problems
        problems = [*problems, *library.schemas.check(file, "engine")]
        engine, found = read_engine(file, library.schemas.shape("engine"), invented=True)
        return findings(replace(library, engines={engine.id: engine}, problems=[*problems, *found])).problems

    return do


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(st.sampled_from(PLACES), JUNK, st.booleans())
def test_one_change_anywhere(check, at, junk, drop):
    for problem in check(changed(at, junk, drop)):
        assert problem.line >= 1 and problem.message


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(st.dictionaries(st.sampled_from(sorted(RECORD)), JUNK, max_size=5))
def test_junk_at_the_top(check, record):
    assert check(RECORD | record) is not None
