"""YAML is read strictly, and every refusal names line, column and mend."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.reading import read_text
from generator.reading.yamlfile import LARGEST


def problems_of(text):
    return read_text(text if isinstance(text, bytes) else text.encode(), "a.yaml")[1]


@pytest.mark.parametrize(("text", "rule", "line", "column", "phrase"), [
    ("a: 1\na: 2", "duplicate-key", 2, 1, "first in line 1"),
    ("a: {b: 1, b: 2}", "duplicate-key", 1, 11, "second time"),
    ("a: NO", "yaml-trap", 1, 4, "true or false"),
    ("a: [on]", "yaml-trap", 1, 5, "true or false"),
    ("a: 1:30", "yaml-trap", 1, 4, "base 60"),
    ("a: 010", "yaml-trap", 1, 4, "octal"),
    ("a: 0x1F", "yaml-trap", 1, 4, "hexadecimal"),
    ("a: 2026-11-25", "yaml-trap", 1, 4, "date"),
    ("a: 1e3", "yaml-trap", 1, 4, "exponent"),
    ("a: .nan", "yaml-trap", 1, 4, "no number"),
    ("a:\nb: 1", "yaml-trap", 1, 3, "empty value"),
    ("a: ~", "yaml-trap", 1, 4, "empty value"),
    ("a: &x 1", "anchor", 1, 4, "&x"),
    ("a: 1\nb: *a", "alias", 2, 4, "*a"),
    ("a: !!str 1", "tag", 1, 4, "tag"),
    ("a: !thing 1", "tag", 1, 4, "!thing"),
    ("- 1", "not-a-mapping", 1, 1, "a list"),
    ("", "not-a-mapping", 1, 1, "nothing"),
    ("just text", "not-a-mapping", 1, 1, "a single value"),
    ("a: 1\n---\nb: 2", "several-documents", 2, 1, "second document"),
    ("a: b: c", "yaml-syntax", 1, 5, "mapping values"),
    ("a:\n\t- 1", "yaml-syntax", 2, 1, "cannot start any token"),
    ("a: 'open", "yaml-syntax", 1, 9, "unexpected end"),
    ("a: " + "[" * 40 + "]" * 40, "too-deep", 1, 28, "levels"),
    ("[" * 5000, "yaml-syntax", 1, 1001, "depth"),
    (b"a: \xe9", "encoding", 1, 4, "0xe9"),
    (b"a: 1\nb: \xff", "encoding", 2, 4, "0xff"),
    (b"\xff\xfea\x00", "encoding", 1, 1, "UTF-16"),
    (b"a: x\x00y", "control-character", 1, 5, "U+0000"),
    ("a: x\u202ey", "control-character", 1, 5, "U+202E"),
    (b"a: " + b"x" * LARGEST, "too-large", 1, 1, "bytes"),
])
def test_refusals(text, rule, line, column, phrase):
    problem = problems_of(text)[0]
    assert (problem.rule, problem.line, problem.column, problem.level) == (rule, line, column, "error")
    assert phrase in problem.message
    assert problem.hint


def test_every_slip_of_a_file_is_reported_at_once():
    assert [problem.line for problem in problems_of("a: NO\nb: 1:30\nc: 010\na: 1\n")] == [1, 2, 3, 4]


def test_values_and_their_places():
    file, problems = read_text(b'a: 12\nb:\n  - "010"\n  - 1.50\n  - true\n', "a.yaml")
    assert problems == []
    assert file.data == {"a": 12, "b": ["010", 1.5, True]}
    assert file.places[("b", 1)] == (4, 5)
    assert file.key_places[("b",)] == (2, 1)


def test_a_problem_of_something_absent_points_at_its_parent():
    file, _ = read_text(b"a:\n  b: 1\n", "a.yaml")
    assert file.problem(("a", "c", 3), "rule", "message").line == 2


def test_a_byte_order_mark_is_no_fault():
    assert problems_of(b"\xef\xbb\xbfa: 1") == []


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(raw):
    file, problems = read_text(raw, "a.yaml")
    assert file is not None or problems
