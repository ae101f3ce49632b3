"""Schema faults come back in words, at their line, with the mend."""

import pytest

from tests.conftest import SMALL


@pytest.mark.parametrize(("old", "new", "rule", "line", "phrase", "hint"), [
    ("fuel:", "fule:", "schema-additionalProperties", 6, "'fule' is not known in 'Engine'", "did you mean fuel?"),
    ("gasoline", "petrol", "schema-enum", 6, "'petrol' is not one of the words allowed", "gasoline"),
    ("name: Small engine\n", "", "schema-required", 1, "has no key 'name'", "add it"),
    ("sources: [book]", "sources: book", "schema-type", 3, "stands where a list was expected", "begin each item"),
    ("name: Small engine", "name: 12", "schema-type", 2, "stands where text was expected", 'in quotes, so that no digit is lost: "12"'),
    ("id: small", "id: Small_Engine", "schema-pattern", 1, "has not the form", "Lower case, digits, single hyphens"),
    ("cite: book page 1", "cite: book", "schema-pattern", 5, "has not the form", "Source id, a space, then the place"),
    ("sources: [book]", "sources: [book, book]", "schema-uniqueItems", 3, "twice", "delete"),
    ("printed: [max 0.10 mm, max 0.0039 in]", "printed: []", "schema-minItems", 11, "empty", "absent"),
    ("any:", "lengthways:", "schema-additionalProperties", 10, "'lengthways' is not known", "did you mean lengthwise?"),
])
def test_messages(read, old, new, rule, line, phrase, hint):
    assert old in SMALL
    _, problems = read(SMALL.replace(old, new))
    problem = next(each for each in problems if each.rule == rule)
    assert problem.line == line
    assert phrase in problem.message
    assert hint in problem.hint


def test_the_small_record_is_clean(read):
    assert read(SMALL)[1] == []


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
