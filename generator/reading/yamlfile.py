"""YAML, strictly: data and the line and column of every key and value, from one walk over the parser's events.

Refused, because YAML would silently read something else than what was meant, or
because a record has no use for it: duplicate keys, tags, anchors and aliases,
unquoted words that YAML 1.1 takes for booleans, nulls, dates, octal, sexagesimal
or exponent numbers, other encodings than UTF-8, and anything too large or too deep.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from generator.reading.problem import At, Problem

LARGEST = 1024 * 1024  # bytes
DEEPEST = 24  # levels; the deepest place of a record is at about half of this


class Place(NamedTuple):
    """Line and column, from 1."""

    line: int
    column: int


@dataclass(frozen=True, slots=True)
class ReadFile:
    """One file as read. name: its path from the project's folder, with forward slashes.

    places: where each value starts. key_places: where each mapping key starts.
    """

    name: str
    data: dict[str, Any]
    places: dict[At, Place] = field(repr=False)
    key_places: dict[At, Place] = field(repr=False)

    def problem(self, at: At, rule: str, message: str, hint: str = "", level: str = "error", *, key: bool = False) -> Problem:
        """A Problem at a value, or with `key` at its key; at the nearest parent if the value is not in the file."""
        places = self.key_places if key else self.places
        while at and at not in places:
            at, places = at[:-1], self.places
        place = places.get(at, Place(1, 1))
        return Problem(self.name, place.line, place.column, rule, level, message, hint)


def read_file(path: Path, name: str) -> tuple[ReadFile | None, list[Problem]]:
    """Read one YAML file. Problems come back, all that one pass can find; None if nothing usable was read."""
    try:
        raw = path.read_bytes()
    except OSError as error:
        message = f"the file cannot be read: {error.strerror}"
        return None, [Problem(name, 1, 1, "unreadable-file", "error", message, "look at its name and rights")]
    return read_text(raw, name)


def read_text(raw: bytes, name: str) -> tuple[ReadFile | None, list[Problem]]:
    """Read the bytes of a YAML file as `read_file` does."""
    text, problem = _decode(raw, name)
    if problem or text is None:
        return None, [problem] if problem else []
    builder = _Builder(name)
    try:
        builder.build(text)
    except yaml.MarkedYAMLError as error:
        builder.problems.append(_syntax(error, name))
        return None, builder.problems
    except _TooDeepError:
        return None, builder.problems
    if not isinstance(builder.data, dict):
        found = "nothing" if builder.data is None else "a list" if isinstance(builder.data, list) else "a single value"
        builder.report((), "not-a-mapping", f"the file holds {found}; keys with values were expected", "begin with a line such as 'id: …'")
        return None, builder.problems
    return ReadFile(name, builder.data, builder.places, builder.key_places), builder.problems


def _decode(raw: bytes, name: str) -> tuple[str | None, Problem | None]:
    if len(raw) > LARGEST:
        return None, Problem(name, 1, 1, "too-large", "error", f"the file has {len(raw)} bytes; at most {LARGEST} are read", "split it")
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return None, Problem(name, 1, 1, "encoding", "error", "the file is in UTF-16", "save it as UTF-8")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        column = error.start - (raw.rfind(b"\n", 0, error.start) + 1) + 1
        return None, Problem(name, line, column, "encoding", "error", f"byte 0x{raw[error.start]:02x} is not UTF-8", "save the file as UTF-8")
    if match := _CONTROL.search(text):
        line, column = text.count("\n", 0, match.start()) + 1, match.start() - text.rfind("\n", 0, match.start())
        message = f"a control character, U+{ord(match[0]):04X}"
        return None, Problem(name, line, column, "control-character", "error", message, "delete it; it cannot be seen in most editors")
    return text, None


# Control characters, and marks that turn the direction of the text round.
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\u202a-\u202e\u2066-\u2069\ufffe\uffff]")


def _syntax(error: yaml.MarkedYAMLError, name: str) -> Problem:
    mark = error.problem_mark or error.context_mark
    line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
    said = error.problem or "the text is not YAML"
    general = "look at this line and the one above: indentation, quotes, brackets"
    hint = next((hint for words, hint in _SYNTAX_HINTS.items() if words in said), general)
    return Problem(name, line, column, "yaml-syntax", "error", f"this is not YAML: {said}", hint)


_SYNTAX_HINTS = {
    "cannot start any token": "a tab or a stray character: indent with spaces, and quote text that begins with @, ` or %",
    "mapping values are not allowed": "text that holds ': ' must stand in quotes",
    "did not find expected key": "a key is indented differently from its neighbours, or a quote is missing",
    "unexpected end of stream": "a quote or bracket is not closed",
    "nesting depth": "no record needs so many levels",
}


class _TooDeepError(Exception):
    pass


_TRAPS = [
    (re.compile(r"(?i:y|yes|n|no|on|off)"), "YAML takes the bare word {0} for true or false"),
    (re.compile(r"(?i:null)|~|"), "an empty value says nothing"),
    (re.compile(r"[+-]?\d[\d_]*(:[0-5]?\d)+(\.\d*)?"), "YAML takes {0} for a number to base 60"),
    (re.compile(r"[+-]?0\d+|0x[\da-fA-F]+|0b[01]+|0o[0-7]+"), "YAML may take {0} for an octal, hexadecimal or binary number"),
    (re.compile(r"\d{4}-\d\d?-\d\d?([Tt ].*)?"), "YAML takes {0} for a date"),
    (re.compile(r"[+-]?(\d[\d_]*\.?\d*|\.\d+)[eE][+-]?\d+"), "YAML may take {0} for a number with an exponent"),
    (re.compile(r"[+-]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)"), "{0} is no number that can be measured"),
    (re.compile(r"=|<<"), "{0} has a meaning of its own in YAML"),
    (re.compile(r"[+-]?\d{1,3}(_\d{3})+"), "YAML takes {0} for a number"),
]
_INTEGER = re.compile(r"-?(0|[1-9]\d{0,14})")
_DECIMAL = re.compile(r"-?(0|[1-9]\d{0,14})\.\d{1,15}")


@dataclass
class _Builder:
    """Builds data from events. `stack` holds the open collections, innermost last."""

    name: str
    data: Any = None
    places: dict[At, Place] = field(default_factory=dict)
    key_places: dict[At, Place] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def build(self, text: str) -> None:
        events: Iterator[yaml.Event] = yaml.parse(text, Loader=yaml.CSafeLoader)
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                if self.places:
                    self._at(event, "several-documents", "a second document begins here", "one file, one document: delete the line '---'")
                    return
                first = next(events)
                self.places[()] = _place(first)
                self.data = self._value(first, events, ())

    def report(self, at: At, rule: str, message: str, hint: str) -> None:
        place = self.places.get(at, Place(1, 1))
        self.problems.append(Problem(self.name, place.line, place.column, rule, "error", message, hint))

    def _at(self, event: yaml.Event, rule: str, message: str, hint: str) -> None:
        place = _place(event)
        self.problems.append(Problem(self.name, place.line, place.column, rule, "error", message, hint))

    def _value(self, event: yaml.Event, events: Iterator[yaml.Event], at: At) -> Any:
        self.places[at] = _place(event)
        if len(at) > DEEPEST:
            self._at(event, "too-deep", f"more than {DEEPEST} levels of nesting", "no record needs so many; look for a missing bracket")
            raise _TooDeepError
        if isinstance(event, yaml.AliasEvent):
            self._at(event, "alias", f"an alias, *{event.anchor}", "write the value out; every figure stands with its own source")
            return None
        self._refuse_extras(event)
        if isinstance(event, yaml.MappingStartEvent):
            return self._mapping(events, at)
        if isinstance(event, yaml.SequenceStartEvent):
            return self._sequence(events, at)
        return self._scalar(event) if isinstance(event, yaml.ScalarEvent) else None

    def _refuse_extras(self, event: yaml.Event) -> None:
        anchor, tag = getattr(event, "anchor", None), getattr(event, "tag", None)
        if anchor:
            self._at(event, "anchor", f"an anchor, &{anchor}", "delete it, or quote text that begins with &")
        if tag not in (None, "!"):
            self._at(event, "tag", f"a tag, {tag}", "delete it, or quote text that begins with !")

    def _mapping(self, events: Iterator[yaml.Event], at: At) -> dict[str, Any]:
        result: dict[str, Any] = {}
        for event in events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            key = self._key(event, events, at)
            here = (*at, key)
            if key in result:
                first = self.key_places[here].line
                message = f"the key {key!r} stands here a second time (first in line {first})"
                self._at(event, "duplicate-key", message, "delete or rename one of the two")
                self._value(next(events), events, (*here, "again"))
                continue
            self.key_places[here] = _place(event)
            result[key] = self._value(next(events), events, here)
        return result

    def _key(self, event: yaml.Event, events: Iterator[yaml.Event], at: At) -> str:
        if isinstance(event, yaml.ScalarEvent):
            self._refuse_extras(event)
            return str(event.value)
        self._at(event, "key", "a key that is no plain word", "quote text that begins with { or [")
        self._value(event, events, (*at, "key"))
        return ""

    def _sequence(self, events: Iterator[yaml.Event], at: At) -> list[Any]:
        result: list[Any] = []
        for event in events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            result.append(self._value(event, events, (*at, len(result))))
        return result

    def _scalar(self, event: yaml.ScalarEvent) -> Any:
        text = event.value
        if not event.implicit[0]:  # quoted or block text
            return text
        for pattern, words in _TRAPS:
            if pattern.fullmatch(text):
                hint = f'if it is text, write it in quotes: "{text}"' if text else "give a value, or leave the key out: what is not known is absent"
                self._at(event, "yaml-trap", words.format(text), hint)
                return text
        if text in ("true", "false"):
            return text == "true"
        if _INTEGER.fullmatch(text):
            return int(text)
        return float(text) if _DECIMAL.fullmatch(text) else text


def _place(event: yaml.Event) -> Place:
    mark = event.start_mark
    return Place(mark.line + 1, mark.column + 1) if mark else Place(1, 1)
