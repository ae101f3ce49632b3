"""Schema faults come back in words, at their line, with the mend, and one slip once."""

import json
import re

import pytest
from jsonschema import Draft202012Validator

from generator.reading import Schemas, read_text
from generator.reading.messages import _FORMS, _WRITERS
from tests.conftest import ROOT, SMALL

SMALL_PRINTED = "printed: [max 0.10 mm, max 0.0039 in]"
SMALL_FIGURE = f"- {{{SMALL_PRINTED}, cite: book page 2}}"


@pytest.mark.parametrize(("old", "new", "rule", "line", "phrase", "hint"), [
    ("fuel:", "fule:", "additionalProperties", 6, "the key 'fule' is not known in 'identity'", "did you mean fuel?"),
    ("any:", "lengthways:", "additionalProperties", 10, "'lengthways' is not known in 'flatness'", "did you mean lengthwise?"),
    ("faces:", "face:", "additionalProperties", 7, "'face' is not known in the file", "did you mean faces?"),
    ("  head:\n    flatness:\n", "  flatness:\n", "additionalProperties", 8, "'flatness' is not known", "belongs under faces.head, faces.deck"),
    ("any:\n", "printed: [1 mm]\n      any:\n", "additionalProperties", 10, "'printed' is not known in 'flatness'", "one of the keys of"),
    ("name: Small", "title: Small", "additionalProperties", 2, "'title' is not known in the file, and 'name', which must be there", "mean name?"),
    ("printed:", "print:", "additionalProperties", 11, "'print' is not known in item 1 of 'any', and 'printed'", "did you mean printed?"),
    ("gasoline", "petrol", "enum", 6, "'petrol' is not one of the words for 'fuel'", "allowed: gasoline, diesel, gas"),
    ("gasoline", "Gasolin", "enum", 6, "'Gasolin' is not one of the words for 'fuel'", "did you mean gasoline? (allowed: gasoline, diesel, gas)"),
    ("name: Small engine\n", "", "required", 1, "the file has no key 'name'", "add 'name: …': The equipment"),
    ("says: gasoline", "when: hot", "required", 6, "'fuel' has no key 'says'", "add 'says: …'"),
    ("sources: [book]", "sources: book", "type", 3, "'book' stands at 'sources', where a list was expected", "write it as a list: [book]"),
    ("sources: [book]", "sources: {a: book}", "type", 3, "a block of keys stands at 'sources'", "begin each item with '- '"),
    ("name: Small engine", "name: 12.50", "type", 2, "'12.50' stands at 'name', where text was expected", 'so that no digit is lost: "12.50"'),
    ("name: Small engine", "name: [Small]", "type", 2, "a list stands at 'name', where text was expected", "write one text"),
    ("{says: gasoline}", "gasoline", "type", 6, "where a statement was expected", "write fuel: {says: gasoline, cite: <source id> <place>}"),
    ("fuel: {says: gasoline}", "designation: 4.108", "type", 6, "where a designation was expected", 'write designation: {as: "4.108", cite:'),
    (SMALL_FIGURE, "max 0.10 mm", "type", 11, "where a list of figures was expected", "write any: [{printed: [max 0.10 mm], cite:"),
    (SMALL_FIGURE, "- max 0.10 mm", "type", 11, "where a figure was expected", "write {printed: [max 0.10 mm], cite:"),
    (SMALL_FIGURE, SMALL_FIGURE[2:], "type", 11, "where a list of figures was expected", "put '- ' before it"),
    (SMALL_PRINTED, "printed: max 0.10 mm", "type", 11, "stands at 'printed', where a list was expected", "write it as a list: [max 0.10 mm]"),
    (SMALL_PRINTED, "printed: max 0.10 mm / max 0.0039 in", "type", 11, "where a list was expected", "[max 0.10 mm, max 0.0039 in]"),
    ("sources: [book]", "sources: b1 b2", "type", 3, "where a list was expected", "write it as a list: [b1, b2]"),
    ("cite: book page 1", "cite: 12", "type", 5, "'12' stands at 'cite', where text was expected", "the source id, a space, then the place"),
    (SMALL_PRINTED, "printed: [0.10]", "type", 11, "'0.10' stands at", "write the unit that is printed behind it: 0.10 and a unit"),
    ("  head:\n    flatness:\n      any:\n        - ", "  head:\n    - any:\n        - ", "type", 9, "a list stands at 'head'", "leave the dashes"),
    ("id: small", "id: Small_Engine & Co", "pattern", 1, "'Small_Engine & Co' is no id", "write small-engine-and-co"),
    ("cite: book page 1", "cite: book", "pattern", 5, "the cite 'book' names no place", "book page 12"),
    ("cite: book page 1", "cite: TM-5 page 1", "pattern", 5, "begins with 'TM-5', which is no source id", "tm-5 page 1"),
    ("cite: book page 1", "cite: 'book  page 1'", "pattern", 5, "has not the form", "write book page 1"),
    ("sources: [book]", "sources: [book, book]", "uniqueItems", 3, "'book' stands twice", "delete one"),
    (SMALL_PRINTED, "printed: []", "minItems", 11, "the list at 'printed' is empty", "what is not known is absent"),
    (SMALL_PRINTED, "printed: [1 mm, 2 mm, 3 mm, 4 mm, 5 mm]", "maxItems", 11, "has 5 items; at most 4 were expected", "shorten it"),
    ("name: Small engine", "name: ''", "minLength", 2, "the text at 'name' is empty", "what is not known is absent"),
    ("name: Small engine", "name: " + "x" * 130, "maxLength", 2, "'name' has 130 characters; at most 120", "shorten it"),
    ("      any:\n        " + SMALL_FIGURE, "      {}", "minProperties", 10, "the block at 'flatness' is empty", "what is not known is absent"),
    ("fuel: {says: gasoline}", "cylinders: {says: 0}", "minimum", 6, "'cylinders' is 0; at least 1 was expected", "correct"),
    ("fuel: {says: gasoline}", "cylinders: {says: 96}", "maximum", 6, "'cylinders' is 96; at most 24 was expected", "correct"),
    ("fuel: {says: gasoline}", "cylinders: {says: '4'}", "type", 6, "where a whole number was expected", "without quotes or unit: 4"),
    ("faces:", "other: [{label: x, descriptive: false, figure: [{printed: [1 mm], cite: book page 1}]}]\nfaces:", "const", 7,
     "'false' stands at 'descriptive', where only true may stand", "leave the key out"),
    ("faces:", "geometry: {cite: book page 1, heads: {head: {bores: {a b: {at: [1, 2], diameter: 3}}}}}\nfaces:", "pattern", 7,
     "'a b' is no short name", "write a_b"),
    ("faces:", "geometry: {cite: book page 1, heads: {head: {dowels: [[1, 2, 3]]}}}\nfaces:", "maxItems", 7,
     "item 1 of 'dowels' has 3 items; at most 2", "two numbers, x and y, in mm"),
    ("faces:", "geometry: {cite: book page 1, heads: {head: {dowels: [[1, 2 mm]]}}}\nfaces:", "type", 7,
     "'2 mm' stands at", "write the number alone, without quotes or unit: 2"),
    ("faces:", "geometry: {cite: book page 1, heads: {head: {round: {at: [0, 0], diameter: 0}}}}\nfaces:", "exclusiveMinimum", 7,
     "'diameter' is 0; more than 0 was expected", "correct"),
])
def test_messages(schemas, old, new, rule, line, phrase, hint):
    assert old in SMALL
    file, problems = read_text(SMALL.replace(old, new, 1).encode(), "small.yaml")
    assert problems == []
    problem, = schemas.check(file, "engine")
    assert (problem.rule, problem.line) == (f"schema-{rule}", line)
    assert phrase in problem.message
    assert hint in problem.hint


def test_the_small_record_is_clean(read):
    assert read(SMALL)[1] == []


def test_items_of_one_list_with_one_fault_are_told_once(schemas):
    file, _ = read_text(SMALL.replace(SMALL_PRINTED, "printed: [1, 2, 3]").encode(), "small.yaml")
    assert len(list(schemas.check(file, "engine"))) == 1


def test_slips_in_several_blocks_are_all_told(schemas):
    text = SMALL.replace("fuel:", "fule:").replace("any:", "ani:").replace("name:", "title:")
    file, _ = read_text(text.encode(), "small.yaml")
    assert sorted(problem.line for problem in schemas.check(file, "engine")) == [2, 6, 10]


def keywords(node):
    if isinstance(node, dict):
        for key, below in node.items():
            yield key, below
            yield from keywords(below)
    elif isinstance(node, list):
        for below in node:
            yield from keywords(below)


# Keywords that can fail a value; the others only lead to these or describe.
FAILING = set(Draft202012Validator.VALIDATORS) - {
    "$ref", "$dynamicRef", "allOf", "anyOf", "if", "not", "items", "properties", "patternProperties", "propertyNames", "prefixItems",
}


def test_every_keyword_and_pattern_of_the_schemas_has_words():
    documents = [json.loads(path.read_text()) for path in (ROOT / "schema").glob("*.json")]
    found = [pair for document in documents for pair in keywords(document)]
    assert {key for key, _ in found} & FAILING - {"contains", "format"} == set(_WRITERS)
    nodes = [node for node in [*documents, *(value for _, value in found)] if isinstance(node, dict) and isinstance(node.get("pattern"), str)]
    assert all(node["pattern"] in _FORMS or node.get("description") for node in nodes)
    assert all(re.compile(pattern) for pattern in _FORMS)


def test_every_key_of_every_schema_is_described(schemas):
    def walk(node, path):
        for key, below in node.get("properties", {}).items():
            if isinstance(below, dict) and "$ref" not in below and below.keys() - {"enum", "type", "minimum", "maximum"}:
                assert below.get("description") or below.get("title"), f"{path}.{key}"
                walk(below, f"{path}.{key}")

    for name, document in schemas.documents.items():
        walk(document, name)
        for key, definition in document.get("$defs", {}).items():
            walk(definition, f"{name}#{key}")


def test_shapes_know_where_a_key_stands():
    blocks = list(Schemas(ROOT / "schema").shape("engine").blocks())
    assert ("flatness", "faces.head") in blocks
    assert ("thread", "fasteners.head.groups.<name>") in blocks
    assert "printed" not in {key for key, _ in blocks}
