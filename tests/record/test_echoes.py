"""A problem that only repeats an earlier one is left out; any other stays."""

import pytest

from generator.reading import Problem
from generator.record.echoes import without_echoes


def problem(rule, *at, line=1, level="error"):
    return Problem("a.yaml", line, 1, rule, level, "message", "hint", at)


@pytest.mark.parametrize(("earlier", "later", "stays"), [
    (problem("yaml-trap", "a", "says"), problem("schema-enum", "a", "says"), False),
    (problem("yaml-trap", "a", "says"), problem("schema-enum", "b", "says"), True),
    (problem("canonical-form", "a", level="note"), problem("schema-enum", "a"), True),
    (problem("schema-required", "a"), problem("cite-missing", "a"), True),
    (problem("schema-type", "a"), problem("id-once", "a"), False),
    (problem("empty-value", "faces", "head"), problem("schema-additionalProperties", "faces", "flatness", line=2), False),
    (problem("empty-value", "faces", "head", line=3), problem("schema-additionalProperties", "faces", "flatness", line=2), True),
    (problem("schema-type", "fasteners", "head", "places", "A1", "at"), problem("place-known", "fasteners", "head", "tightening"), False),
    (problem("schema-type", "fasteners", "caps", "places", "A1", "at"), problem("place-known", "fasteners", "head", "tightening"), True),
    (problem("schema-additionalProperties", "fasteners", "head", "plases"), problem("place-known", "fasteners", "head", "tightening"), False),
    (problem("schema-enum", "fasteners", "head", "per"), problem("place-known", "fasteners", "head", "tightening"), True),
    (problem("schema-required", "geometry", "heads", "left"), problem("head-known", "fasteners", "head", "places", "A1"), False),
])
def test_what_stays(earlier, later, stays):
    assert without_echoes([earlier], [later]) == ([later] if stays else [])
