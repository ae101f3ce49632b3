"""Bytes to text: UTF-8 or nothing, and no character that an editor does not show."""

from __future__ import annotations

import re
import unicodedata

from generator.reading.problem import Problem

LARGEST = 1024 * 1024  # bytes

# Longest first: the mark of UTF-32 begins with that of UTF-16.
_MARKS = (
    (b"\xff\xfe\x00\x00", "UTF-32"), (b"\x00\x00\xfe\xff", "UTF-32"), (b"\xff\xfe", "UTF-16"), (b"\xfe\xff", "UTF-16"),
)
# Control characters, line breaks that only YAML knows, marks that turn the direction of
# the text round, and signs without width; then spaces that are not the one of the space bar.
_UNSEEN = re.compile(
    r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\xad\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufffe\uffff]"
    r"|[\xa0\u1680\u2000-\u200a\u202f\u205f\u3000]"
)
_SAVE = "save it as UTF-8: in most editors under 'save as', encoding"


def decode(raw: bytes, name: str) -> tuple[str, list[Problem]]:
    """The text of a file without its byte order mark, and what stands against reading it; then the text is empty."""
    if problem := _not_text(raw, name):
        return "", [problem]
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return "", [_not_utf8(raw, name, error.start)]
    if not _UNSEEN.search(text):
        return text, []
    return "", [_unseen(name, number, match) for number, line in enumerate(text.split("\n"), start=1) if (match := _UNSEEN.search(line))]


def unseen(text: str) -> str:
    """The name of the first character in the text that an editor does not show; empty if there is none."""
    match = _UNSEEN.search(text)
    return _called(match[0]) if match else ""


def _not_text(raw: bytes, name: str) -> Problem | None:
    if len(raw) > LARGEST:
        message = f"the file has more than {LARGEST} bytes, which no record needs"
        return Problem(name, 1, 1, "too-large", "error", message, "look whether something else was pasted into it, or split it")
    for mark, encoding in _MARKS:
        if raw.startswith(mark):
            return Problem(name, 1, 1, "encoding", "error", f"the file is in {encoding}; UTF-8 was expected", _SAVE)
    head = raw[:400]
    if head.count(0) * 4 >= len(head) > 0:
        encoding = "UTF-32" if head.count(0) * 2 > len(head) + 1 else "UTF-16"
        return Problem(name, 1, 1, "encoding", "error", f"the file is full of null bytes, as in {encoding}; UTF-8 was expected", _SAVE)
    return None


def _not_utf8(raw: bytes, name: str, at: int) -> Problem:
    line = raw.count(b"\n", 0, at) + 1
    column = len(raw[raw.rfind(b"\n", 0, at) + 1 : at].decode("utf-8", "replace")) + 1
    old = bytes([raw[at]]).decode("cp1252", "replace")
    guess = f" ({old!r} in Latin-1 or Windows-1252)" if old.isprintable() and old != "\ufffd" else ""
    return Problem(name, line, column, "encoding", "error", f"byte 0x{raw[at]:02x}{guess} is not UTF-8, which was expected", _SAVE)


def _unseen(name: str, line: int, match: re.Match[str]) -> Problem:
    called = _called(match[0])
    if unicodedata.category(match[0]) == "Zs":
        message, hint = f"this space is none of the space bar's, but {called}", "type a plain space in its place"
    else:
        message = f"a character that cannot be seen, {called}"
        hint = "delete it; if it does not show, delete its neighbours and type them again"
    return Problem(name, line, match.start() + 1, "hidden-character", "error", message, hint)


def _called(character: str) -> str:
    name = unicodedata.name(character, "null byte" if character == "\0" else "control character")
    return f"U+{ord(character):04X} {name.lower()}"
