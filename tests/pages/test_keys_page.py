"""The contributor's reference shows every key of the schema, in the schema's own words."""

import json
from collections.abc import Iterator
from typing import Any

import pytest

from generator.pages.keys import keys_page, shape_words
from tests.conftest import ROOT

LEAVES = ("figures", "designation", "statement")


@pytest.fixture(scope="module")
def body(library) -> str:
    return keys_page(library).body


def names(node: dict[str, Any], document: dict[str, Any]) -> Iterator[str]:
    """Every key that a schema names, found in the raw JSON: a walk of its own, so that it can disagree with the page's."""
    reference = str(node.get("$ref", ""))
    if reference.rsplit("/", 1)[-1] in LEAVES or reference.endswith("/cite"):
        return
    if reference.startswith("#/$defs/"):
        yield from names(document["$defs"][reference.removeprefix("#/$defs/")], document)
    for key, child in node.get("properties", {}).items():
        if key != "cite":
            yield key
            yield from names(child, document)
    for word in ("items", "additionalProperties", "then", "else"):
        if isinstance(node.get(word), dict):
            yield from names(node[word], document)


def test_every_key_of_the_engine_schema_is_there(body):
    document = json.loads((ROOT / "schema/engine.schema.json").read_text(encoding="utf-8"))
    wanted = set(names(document, document))
    shown = {key for key in wanted if f".{key}</code>" in body or f"<code>{key}</code>" in body}
    assert len(wanted) > 200
    assert wanted - shown == set()


@pytest.mark.parametrize(("kind", "definition"), [("figure", "figure"), ("figure", "designation"), ("figure", "statement"), ("source", "")])
def test_every_key_of_the_shared_shapes_is_there(body, schemas, kind, definition):
    for key in schemas.shape(kind, definition).children:
        assert f"<dt><code>{key}</code></dt>" in body


def test_a_key_tells_its_units_words_example_and_who_needs_it(body):
    row = body.split('id="key-faces-head-flatness-lengthwise"')[1].split('class="key"')[0]
    for words in ("Along the row of cylinders.", "Figures of length: mm, um", "Needed by: figures, flatness", "printed: [max 0.006 in, max 0.15 mm]"):
        assert words in row
    assert "one of in-line, vee, opposed, single" in body
    assert body.count('id="key-fasteners-any-groups-any-kind"') == 1


def test_shapes_in_words(schemas):
    identity = schemas.shape("engine").children["identity"].children
    assert shape_words(identity["cylinders"]) == "a statement: 1 to 24"
    assert shape_words(identity["designation"]) == "a designation"


def test_every_key_that_holds_something_has_an_example(body):
    """Blocks are told by their keys; nothing is left to an exception, which no invented record needs."""
    for row in body.split('class="key"')[1:]:
        path = row.split("<code>")[1].split("</code>")[0]
        holds = any(words in row for words in ("Figures of", "Figures, of any unit", "A statement", "A designation"))
        if holds and "." in path and not path.startswith("exceptions."):
            assert "<pre" in row, path
