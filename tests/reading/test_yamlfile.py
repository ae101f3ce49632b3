"""YAML is read strictly, and every refusal names line, column and mend."""

from time import process_time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.reading import read_file, read_text


def problems_of(text):
    return read_text(text if isinstance(text, bytes) else text.encode(), "a.yaml")[1]


@pytest.mark.parametrize(("text", "rule", "line", "column", "phrase"), [
    ("a: 1\na: 2", "duplicate-key", 2, 1, "first in line 1"),
    ("a: {b: 1, b: 2}", "duplicate-key", 1, 11, "second time"),
    ("a: NO", "yaml-trap", 1, 4, "true or false"),
    ("a: [on]", "yaml-trap", 1, 5, "true or false"),
    ("a: True", "yaml-trap", 1, 4, "true or false"),
    ("a: 1:30", "yaml-trap", 1, 4, "base 60"),
    ("a: 010", "yaml-trap", 1, 4, "octal"),
    ("a: 0x1F", "yaml-trap", 1, 4, "hexadecimal"),
    ("a: 2026-11-25", "yaml-trap", 1, 4, "date"),
    ("a: 1e3", "yaml-trap", 1, 4, "exponent"),
    ("a: .nan", "yaml-trap", 1, 4, "no number"),
    ("a: 1_000", "yaml-trap", 1, 4, "for a number"),
    ("a: 1_0", "yaml-trap", 1, 4, "for a number"),
    ("a: 1_0.5_0", "yaml-trap", 1, 4, "for a number"),
    ("a: " + "9" * 16, "yaml-trap", 1, 4, "a number of 16 digits"),
    ("a: -" + "9" * 400, "yaml-trap", 1, 4, "a number of 400 digits"),
    ("a: 0." + "1" * 16, "yaml-trap", 1, 4, "a number of 17 digits"),
    ("a:\n  <<: {b: 1}", "merge-key", 2, 3, "a merge key, <<"),
    ("a: &b {c: 1}\nd: {<<: *b}", "anchor", 1, 4, "&b"),
    ("%YAML 1.1\n---\na: b", "directive", 1, 1, "a directive"),
    ("# note\n%TAG ! tag:x,2000:\n---\na: b", "directive", 2, 1, "a directive"),
    ("%YAML 1.1\na: b", "yaml-syntax", 1, 1, "a directive"),
    ("%OTHER\n---\na: b", "yaml-syntax", 1, 1, "a directive"),
    ("a: b\n%YAML 1.1\n", "yaml-syntax", 2, 1, "a directive"),
    ("a:\nb: 1", "empty-value", 1, 3, "nothing stands after the colon"),
    ("a: ~", "yaml-trap", 1, 4, "empty value"),
    ("a: bolt #3", "yaml-trap", 1, 4, "'#3' is taken for a comment"),
    ("a: #3", "empty-value", 1, 3, "'#3' is taken for a comment"),
    ("a: “b”", "yaml-trap", 1, 4, "curly quote"),
    ("a: 1,\nb: 2", "yaml-trap", 1, 4, "the comma at the end"),
    ("a: b]", "yaml-trap", 1, 4, "the bracket ] at the end"),
    ("a:\n  -1\n  -2", "yaml-trap", 2, 3, "'-2' is read as more of the text above"),
    ("a: b\n  c:d", "yaml-trap", 1, 4, "'c:d' is read as more of the text above"),
    ("a: [0,05 mm]", "yaml-trap", 1, 5, "the comma in 0,05 mm"),
    ("a: [?]", "yaml-trap", 1, 5, "a question mark begins a key"),
    ("a:\n  ? b\n  : c", "yaml-trap", 2, 3, "a question mark begins a key"),
    ("a:\n  -b", "yaml-trap", 2, 3, "a space is missing after the dash"),
    ("a: {b:c}", "missing-space", 1, 5, "after the colon of 'b'"),
    ("a: &x 1", "anchor", 1, 4, "&x"),
    ("a: 1\nb: *a", "alias", 2, 4, "*a"),
    ("a: !!str 1", "tag", 1, 4, "tag"),
    ("a: !thing 1", "tag", 1, 4, "!thing"),
    ("[a]: 1", "key", 1, 1, "a block stands where a key was expected"),
    ("- 1", "not-a-mapping", 1, 1, "a list"),
    ("", "not-a-mapping", 1, 1, "nothing"),
    ("# only a comment\n", "not-a-mapping", 1, 1, "nothing"),
    ("just text", "not-a-mapping", 1, 1, "only text: 'just text'"),
    ("a:b\n", "not-a-mapping", 1, 1, "a space is missing after the colon of 'a'"),
    ("a = 1\nb = 2", "not-a-mapping", 1, 1, "'a' is followed by '='"),
    ("a: 1\n---\nb: 2", "several-documents", 2, 1, "second document"),
    ("a: " + "[" * 40 + "]" * 40, "too-deep", 1, 28, "levels"),
    pytest.param("[" * 5000, "too-deep", 1, 1001, "too deep", id="too deep for the parser"),
    pytest.param("a:\n" + "- b\n" * 301, "too-many", 302, 3, "more than 300 items in one list", id="too many items"),
    pytest.param("a:\n" + "".join(f"  b{number}: c\n" for number in range(301)), "too-many", 302, 3, "300 keys in one block", id="too many keys"),
    pytest.param("a:\n" + f"- [{'b, ' * 299}b]\n" * 20, "too-many", 18, 544, "more than 5000 keys and values in one file", id="too many values"),
    ('a: "x\\u202ey"', "hidden-character", 1, 4, "U+202E"),
    ('"a\\0": 1', "hidden-character", 1, 1, "U+0000"),
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
    assert file.place(("b", 1)) == (4, 5)
    assert file.place(("b",), key=True) == (2, 1)


def test_a_problem_of_something_absent_points_at_its_parent():
    file, _ = read_text(b"a:\n  b: 1\n", "a.yaml")
    assert file.problem(("a", "c", 3), "rule", "message").line == 2


@pytest.mark.parametrize(("text", "data"), [
    ("a: {b:c, d: 1}", {"a": {"b": "c", "d": 1}}),
    ("a: [39,2 to 44,1 N.m, 0.002 in]", {"a": ["39,2 to 44,1 N.m", "0.002 in"]}),
    ("a: NO", {"a": "NO"}),
    ("a: 1\na: 2", {"a": 1}),
])
def test_the_walk_goes_on_with_what_was_meant_so_that_nothing_is_reported_twice(text, data):
    file, problems = read_text(text.encode(), "a.yaml")
    assert file.data == data
    assert len(problems) == 1


@pytest.mark.parametrize(("text", "hint"), [
    ("a: [1,250 kPa]", "write 1250 kPa if the comma parts thousands, 1.250 kPa if it is the decimal point"),
    ("a: [0,05 mm]", "write 0.05 mm with a full stop as the decimal point"),
    ("a: bolt #3", 'write all of it in quotes: "bolt #3"; if it is a comment, put a space after the #'),
    ("a: 1_0", 'write 10 for the number; if it is text, write it in quotes: "1_0"'),
    ("a: 1_000", "write 1000 for the number"),
    ("a: 10:1", 'if it is text, write it in quotes: "10:1"'),
])
def test_hints_give_the_line_to_write(text, hint):
    assert hint in problems_of(text)[0].hint


@pytest.mark.parametrize("text", ["a: [-43.5, 0]", "a: [1,2]", "a: b # note", "a: b\n  goes on\n  - 5 and more", "a: 10-9",
                                  "a: [12, 5 mm]", "a: http://b", "a: {b: http://c}", "a: (b) [c]", "a:\t1", "a: -5",
                                  "a: " + "9" * 15, "a: 0." + "1" * 15, "a: _1", "a: M1_0", '"<<": b', "a: b%"])
def test_what_is_no_trap(text):
    assert problems_of(text) == []


def test_numbers_keep_their_spelling_for_messages():
    file, _ = read_text(b"a: [10.90, true, b]", "a.yaml")
    assert file.spelt == {("a", 0): "10.90", ("a", 1): "true"}


def test_line_endings_do_not_move_lines():
    for ending in ("\n", "\r\n", "\r"):
        assert [(each.line, each.column) for each in problems_of(ending.join(["a: 1", "b:", "  c: NO", ""]))] == [(3, 6)]


def test_problems_know_their_place_in_the_data():
    problem, = problems_of("a:\n  - b: NO")
    assert problem.at == ("a", 0, "b")


def test_a_file_that_is_not_there_is_told(tmp_path):
    assert read_file(tmp_path / "none.yaml", "none.yaml")[1][0].rule == "unreadable-file"


@pytest.mark.parametrize("text", [
    "a: [" + "1," * 100_000 + "]", "a: " + "0" * 900_000, "a: x\n" + "  -y\n" * 100_000, "\t" * 1_000_000, "a:x\n" * 200_000,
], ids=["long list", "long number", "many lines", "tabs", "no spaces"])
def test_hostile_text_is_cheap_and_messages_stay_short(text):
    start = process_time()
    problems = problems_of(text)
    assert process_time() - start < 10
    assert all(len(problem.message) + len(problem.hint) < 400 for problem in problems)


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(raw):
    file, problems = read_text(raw, "a.yaml")
    assert file is not None or problems
