"""Text that is no YAML: the line of the slip itself, in words, with the mend."""

import pytest

from generator.reading import read_text


@pytest.mark.parametrize(("text", "line", "column", "message", "hint"), [
    ("a:\n\tb: 1", 2, 1, "a tab indents this line", "two spaces for each level"),
    ("a:\n  b: 1\n \tc: 2", 3, 2, "a tab indents this line", "two spaces"),
    ("a: 1\nb:2\nc: 3", 2, 2, "a space is missing after the colon of 'b'", "write b: 2"),
    ("a:\n  b:x\n\n  # note\n  c: y", 2, 4, "a space is missing after the colon of 'b'", "write b: x"),
    ("a: b: c", 1, 5, "the text after 'a' holds a colon", 'write a: "b: c"'),
    ("a: 'b': c", 1, 7, "the text after 'a' holds a colon", "write a: "),
    ("a: {b: c: d, e: f}", 1, 9, "the text after 'b' holds a colon", 'write b: "c: d"'),
    ("a: {b: x c: d}", 1, 11, "the text after 'b' holds a colon", 'put a comma before \'c\' if it is a key; if not, write b: "x c: d"'),
    ("a: {b: c #3}\nd: 1", 1, 10, "a comment begins at '#3}' and swallows", "in quotes"),
    ("a: 1\n  b: 2", 2, 3, "indented by 2 spaces, deeper than the line above", "indent it by 0 spaces, like the key of line 1"),
    ("a:\n  - b: 1\n     c: 2", 3, 6, "deeper than the line above", "indent it by 4 spaces"),
    ("a: some text\ngoes on\nb: 1", 2, 1, "'goes on' stands here", "'key: value'"),
    ("a text\nb: 1", 1, 1, "'a text' stands here", "'key: value'"),
    ('a: "open\nb: 2\nc: 3', 1, 4, "the quote that opens here is never closed", "the same quote at the end"),
    ('a: "open\nb: "x"\nc: 3', 1, 4, "the quote that opens here is not closed on its line", "the same quote at the end"),
    ('a: "2 7/8" in', 1, 12, "text stands after the closing quote: 'in'", "whole text in single quotes"),
    ("a: 'don't'", 1, 9, "text stands after the closing quote", "whole text in double quotes"),
    ("a: {b} c", 1, 8, "text stands after the closing bracket: 'c'", "whole text in quotes"),
    ("a: {b: [1] c: 2}", 1, 12, "a comma is missing before 'c'", "with commas"),
    ("a:\n  - b: [1], c: 2", 2, 11, "a comma follows the value", "each key on a line of its own"),
    ("a: [1, 2\nb: 3", 1, 4, "the bracket [ that opens here is not closed", "put ] at its end"),
    ("a: 1\nb: [", 2, 4, "the bracket [ that opens here is not closed", "put ] at its end"),
    ("a: {b: [1}", 1, 10, "a comma or ] was expected here, and '}' stands here", "its own kind"),
    ("a: [1]]\nb: 2", 1, 7, "the bracket ] closes nothing", "delete it"),
    ("a: {b: 1,, c: 2}", 1, 10, "a value was expected here", "delete the comma"),
    ("a: - b", 1, 4, "a list cannot begin on the line of its key", "on the next line"),
    ("a:\n  b: 1\n  - c", 3, 3, "a list item stands where a key was expected", "indent it"),
    ("a:\n  - b\n  c: 1", 3, 3, "a key stands where a list item was expected", "to end the list"),
    ("a:\n    b: 1\n  c: 2", 3, 3, "neither the indentation of line 2 (4)", "two more for each level"),
    ("  a: 1\nb: 2", 2, 1, "neither the indentation of line 1 (2)", "two more for each level"),
    ("a: > 0.1 mm\nb: 1", 1, 4, "text cannot begin with '>'", 'put it in quotes: "> 0.1 mm"'),
    ("a: [> 0.1 mm, b]", 1, 5, "text cannot begin with '>'", 'put it in quotes: "> 0.1 mm"'),
    ("a: @b", 1, 4, "text cannot begin with '@'", 'put it in quotes: "@b"'),
    (": b", 1, 1, "nothing stands before the colon", "write the key"),
    ('a: "C:\\q"', 1, 7, "a backslash in double quotes", "single quotes"),
    ("%", 1, 1, "a directive", "delete this line"),
    ("a: &", 1, 5, "cannot be read as YAML", "this line and the one above"),
])
def test_slips(text, line, column, message, hint):
    problem, = read_text(text.encode(), "a.yaml")[1]
    assert (problem.rule, problem.line, problem.column) == ("yaml-syntax", line, column)
    assert message in problem.message
    assert hint in problem.hint


def test_what_was_found_above_the_slip_is_told_too():
    assert [problem.line for problem in read_text(b"a: NO\nb: {c} d", "a.yaml")[1]] == [1, 2]
