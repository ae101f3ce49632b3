"""UTF-8 or nothing, and nothing that cannot be seen."""

import pytest

from generator.reading.decoding import LARGEST, decode

ID = "id: maß\n"


def one(raw):
    text, problems = decode(raw, "a.yaml")
    assert text == ""
    return problems[0]


@pytest.mark.parametrize(("raw", "phrase"), [
    (ID.encode("utf-16"), "in UTF-16"),
    (b"\xfe\xff" + ID.encode("utf-16-be"), "in UTF-16"),
    (ID.encode("utf-32"), "in UTF-32"),
    (b"\x00\x00\xfe\xff" + ID.encode("utf-32-be"), "in UTF-32"),
    (ID.encode("utf-16-le"), "null bytes, as in UTF-16"),
    (ID.encode("utf-16-be"), "null bytes, as in UTF-16"),
    (ID.encode("utf-32-le"), "null bytes, as in UTF-32"),
    (ID.encode("utf-32-be"), "null bytes, as in UTF-32"),
    (ID.encode("latin-1"), "byte 0xdf ('ß' in Latin-1 or Windows-1252) is not UTF-8"),
    (ID.encode("cp850"), "byte 0xe1"),
    (b"a: \x81", "byte 0x81 is not UTF-8"),
])
def test_other_encodings(raw, phrase):
    problem = one(raw)
    assert (problem.rule, problem.line) == ("encoding", 1)
    assert phrase in problem.message
    assert "save it as UTF-8" in problem.hint


def test_the_column_counts_characters():
    assert (one(b"a: 1\nb: \xc3\xa9\xff").line, one(b"a: 1\nb: \xc3\xa9\xff").column) == (2, 5)


@pytest.mark.parametrize(("character", "phrase"), [
    ("\0", "cannot be seen, U+0000 null byte"),
    ("\x1b", "U+001B control character"),
    ("\x85", "U+0085"),
    ("\u2028", "U+2028 line separator"),
    ("\u200b", "U+200B zero width space"),
    ("\ufeff", "U+FEFF zero width no-break space"),
    ("\u202e", "U+202E right-to-left override"),
    ("\u00ad", "U+00AD soft hyphen"),
    ("\u00a0", "none of the space bar's, but U+00A0 no-break space"),
    ("\u2009", "none of the space bar's, but U+2009 thin space"),
])
def test_hidden_characters(character, phrase):
    problem = one(f"id: enough text before it\nb: x{character}y{character}\n".encode())
    assert (problem.rule, problem.line, problem.column) == ("hidden-character", 2, 5)
    assert phrase in problem.message


def test_hidden_characters_are_told_once_a_line():
    assert [problem.line for problem in decode("a\u00a0\u00a0\nb\nc\u00a0".encode(), "a.yaml")[1]] == [1, 3]


def test_too_large():
    assert one(b"x" * (LARGEST + 1)).rule == "too-large"
    assert decode(b"x" * LARGEST, "a.yaml")[1] == []


def test_text_as_it_is():
    assert decode("\ufeffa: µ ± ° – “x”\r\n\tb".encode(), "a.yaml") == ("a: µ ± ° – “x”\r\n\tb", [])
