"""Places of keys and values, held against what the parser says of the same files."""

from pathlib import Path

import pytest
import yaml

from generator.reading import ReadFile, read_file, read_text
from tests.conftest import ROOT

RECORDS = sorted((ROOT / "specs").glob("*/*.yaml"))


def marked(node: yaml.Node, at: tuple = ()) -> dict:
    """Line and column of every value and of every key, by place and whether it is the key's."""
    found = {(at, False): (node.start_mark.line + 1, node.start_mark.column + 1)}
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            found[(*at, key.value), True] = (key.start_mark.line + 1, key.start_mark.column + 1)
            found |= marked(value, (*at, key.value))
    elif isinstance(node, yaml.SequenceNode):
        for index, value in enumerate(node.value):
            found |= marked(value, (*at, index))
    return found


@pytest.mark.parametrize("path", RECORDS, ids=lambda path: path.name)
def test_every_place_of_a_record_is_where_the_parser_has_it(path: Path):
    file, _ = read_file(path, path.name)
    wanted = marked(yaml.compose(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader))
    assert {(at, key): file.place(at, key=key) for at, key in wanted} == wanted


@pytest.mark.parametrize(("text", "line"), [
    ("a: {b: 1, c: [2, 3]}\na: {d: [4, 5], e: 6}\nf: 7", 3),  # the second a is left out
    ("a: [1,5 mm, {b: 2}]\nf: 7", 2),  # two items that were meant as one
    ("a:\n  ? {b: 1, c: 2}\nf: 7", 3),  # a question mark, read as text
    ("[a, b]: {c: [1, 2]}\nf: 7", 2),  # a key that is none
    ("<<: {a: 1, b: [2]}\nf: 7", 2),
])
def test_what_is_left_out_moves_nothing_that_follows(text, line):
    file, problems = read_text(text.encode(), "a.yaml")
    assert problems
    assert file.place(("f",)) == (line, 4)
    assert file.place(("f",), key=True) == (line, 1)


def test_what_is_not_in_the_file_has_no_place():
    file, _ = read_text(b"a:\n  - {b: 1}\n", "a.yaml")
    for at in (("c",), ("a", 1), ("a", "b"), ("a", 0, "b", "c"), (0,)):
        assert file.place(at) is None
    assert file.place((), key=True) is None
    assert file.place(("a", 0), key=True) is None  # an item has no key
    assert ReadFile("a.yaml", {}).place(()) is None


@pytest.mark.parametrize("data", [{"a": [{"b": 1}, {"b": 2}, {"b": 3}]}, {"a": [{"b": 1, "c": 2, "d": 3}]}, {"a": [{"b": 1}], "c": 2, "d": 3}])
def test_in_data_that_was_changed_since_nothing_stands_past_the_end_of_the_file(data):
    file, _ = read_text(b"a:\n  - {b: 1}\n", "a.yaml")
    changed = ReadFile("a.yaml", data, file.marks)
    assert changed.place(("a", 0, "b")) == (2, 9)
    for at in (("a", 2), ("a", 2, "b"), ("a", 0, "d"), ("d",)):
        assert changed.place(at) is None
        assert changed.problem(at, "rule", "message").line in (1, 2)
