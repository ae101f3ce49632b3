"""The fast yes or no says what the validator says, of files that are right and of thousands that are broken."""

from __future__ import annotations

import copy
import random
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

from generator.reading import Schemas, read_file
from generator.reading.quick import compiled
from tests.conftest import ROOT

DOCUMENTS = Schemas(ROOT / "schema").documents
REGISTRY = Registry().with_resources([(name, Resource.from_contents(each)) for name, each in DOCUMENTS.items()])
KINDS = {"engines": "engine", "demo": "engine", "sources": "source", "threads": "threads", "strength": "strength", "friction": "friction"}
STRANGE = [None, True, False, 0, 1, 1.0, -3, 2.5, "", "x", "10.9", [], ["x", "x"], [1, 2], [0, 0], {}, {"says": "x"}, {"as": "x", "strange": 1}]


def records() -> Iterator[tuple[str, Any]]:
    for folder, kind in KINDS.items():
        for path in sorted((ROOT / "specs" / folder).glob("*.yaml"))[:12]:
            file, _ = read_file(path, path.name)
            assert file
            yield f"{kind}.schema.json", file.data


def places(data: Any) -> Iterator[tuple[Any, Any]]:
    """Every container with each of its keys or positions."""
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in items:
        yield data, key
        yield from places(value)


def broken(data: Any, chance: random.Random) -> Any:
    """A copy with one place taken away, replaced, renamed or added to."""
    found = copy.deepcopy(data)
    container, key = chance.choice(list(places(found)))
    how = chance.choice(["delete", "replace", "replace", "add"])
    if how == "delete":
        del container[key]
    elif how == "replace":
        container[key] = copy.deepcopy(chance.choice(STRANGE))
    elif isinstance(container, dict):
        container[chance.choice(["strange", "other_thing", "cite", "printed", "says", "status"])] = copy.deepcopy(chance.choice(STRANGE))
    else:
        container.append(copy.deepcopy(chance.choice([*STRANGE, container[0]])))
    return found


@pytest.mark.parametrize("name", sorted(DOCUMENTS))
def test_every_schema_can_be_compiled(name):
    assert compiled(DOCUMENTS, name) is not None


def test_a_keyword_that_is_not_known_leaves_all_to_the_validator():
    assert compiled({"x": {"type": "object", "properties": {"a": {"multipleOf": 2}}}}, "x") is None


def test_it_says_what_the_validator_says():
    chance = random.Random(5)
    validators = {name: Draft202012Validator(each, registry=REGISTRY) for name, each in DOCUMENTS.items()}
    quick = {name: compiled(DOCUMENTS, name) for name in DOCUMENTS}
    answers = []
    for name, data in records():
        assert quick[name](data)
        for _ in range(40):
            other = broken(data, chance)
            answers.append(quick[name](other))
            assert answers[-1] == validators[name].is_valid(other), other
    assert answers.count(True) > 50
    assert answers.count(False) > 500


@pytest.mark.parametrize(("schema", "right", "wrong"), [
    ({"enum": [1, "a"]}, [1, 1.0, "a"], [True, "b", None]),
    ({"const": True}, [True], [1, "true"]),
    ({"type": ["string", "integer"]}, ["a", 3, 3.0], [2.5, True, None]),
    ({"if": {"required": ["a"]}, "then": {"required": ["b"]}, "else": {"maxProperties": 1}},
     [{"a": 1, "b": 2}, {"c": 1}], [{"a": 1}, {"c": 1, "d": 2}]),
    ({"not": {"required": ["a"]}}, [{}, {"b": 1}], [{"a": 1}, 3]),
    ({"anyOf": [{"type": "string"}, {"minimum": 3}]}, ["x", 3], [2]),
    ({"dependentRequired": {"a": ["b"]}}, [{}, {"a": 1, "b": 1}], [{"a": 1}]),
    ({"exclusiveMinimum": 0}, [0.1, "x"], [0]),
    ({"uniqueItems": True}, [[1, 2], "aa"], [[1, 1]]),
    ({"patternProperties": {"^x": {"type": "string"}}, "additionalProperties": False}, [{"xa": "b"}], [{"xa": 1}, {"y": "b"}]),
])
def test_each_keyword(schema, right, wrong):
    quick, validator = compiled({"x": schema}, "x"), Draft202012Validator(schema)
    assert quick
    assert [quick(data) for data in [*right, *wrong]] == [True] * len(right) + [False] * len(wrong)
    assert [validator.is_valid(data) for data in [*right, *wrong]] == [True] * len(right) + [False] * len(wrong)


def test_a_number_without_end_is_no_whole_number():
    whole = compiled({"a": {"type": "integer"}}, "a")
    assert whole
    assert [whole(each) for each in (float("inf"), float("nan"), 10**400, 4.0, 4.5)] == [False, False, True, True, False]
