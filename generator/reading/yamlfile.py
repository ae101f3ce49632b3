"""YAML, strictly: data and the line and column of every key and value, from one walk over the parser's events.

Refused, because YAML would silently read something else than what was meant, or
because a record has no use for it: duplicate keys, tags, anchors and aliases,
unquoted words that YAML 1.1 takes for booleans, nulls, dates, octal, sexagesimal
or exponent numbers, text that a comma, a # or a missing space cuts or joins, other
encodings than UTF-8, and anything too large, too long or too deep. Where it is plain what was
meant, the walk goes on with that, so that one slip gives one message.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from sys import intern
from typing import Any, NoReturn

import yaml

from generator.reading import plain
from generator.reading.decoding import LARGEST, decode, unseen
from generator.reading.marks import Marks, Place
from generator.reading.problem import At, Problem
from generator.reading.syntax import DELETE_DIRECTIVE, DIRECTIVE, no_mapping, syntax_problem

EMPTY = "empty-value"  # the rule of a key without a value
REST = 200  # characters after a value in which a comment is looked for; a line may be as long as the file
MOST = 500  # problems of one file; more of them are one slip told again and again
DEEPEST = 24  # levels; the deepest place of a record is at about half of this
# Many times what any record has: rules that hold everything against everything else stay quick on whatever was pasted into a file.
MOST_ITEMS = 300  # of one list or block
MOST_MARKS = 5000  # keys and values of a file


@dataclass(frozen=True, slots=True)
class ReadFile:
    """One file as read. name: its path from the project's folder, with forward slashes.

    marks: where each key and value starts. spelt: how a value that became a number or true or false is written in the file.
    """

    name: str
    data: dict[str, Any]
    marks: Marks = field(repr=False, default_factory=Marks)
    spelt: dict[At, str] = field(repr=False, default_factory=dict)

    def place(self, at: At, *, key: bool = False) -> Place | None:
        """Where a value starts, or with `key` its key; None for what is not in the file."""
        return self.marks.find(self.data, at, key=key)

    def problem(self, at: At, rule: str, message: str, hint: str = "", level: str = "error", *, key: bool = False) -> Problem:
        """A Problem at a value, or with `key` at its key; at the nearest parent if the value is not in the file."""
        place, found = self.place(at, key=key), at
        while found and place is None:
            found = found[:-1]
            place = self.place(found)
        place = place or Place(1, 1)
        return Problem(self.name, place.line, place.column, rule, level, message, hint, at)


def read_file(path: Path, name: str) -> tuple[ReadFile | None, list[Problem]]:
    """Read one YAML file. Problems come back, all that one pass can find; None if nothing usable was read."""
    raw, problems = read_bytes(path, name)
    return (None, problems) if raw is None else read_text(raw, name)


def read_bytes(path: Path, name: str) -> tuple[bytes | None, list[Problem]]:
    """The bytes of a file, one more than the largest that is read; None and a problem if it cannot be read."""
    try:
        if path.exists() and not path.is_file():  # a pipe would be waited for
            raise OSError(0, "it is a folder or a device, not a file")
        with path.open("rb") as file:
            return file.read(LARGEST + 1), []
    except OSError as error:
        message = f"the file cannot be read: {error.strerror}"
        return None, [Problem(name, 1, 1, "unreadable-file", "error", message, "look at its name and rights")]


def read_text(raw: bytes, name: str) -> tuple[ReadFile | None, list[Problem]]:
    """Read the bytes of a YAML file as `read_file` does."""
    text, problems = decode(raw, name)
    if problems:
        return None, problems
    builder = _Builder(name, text)
    try:
        builder.build()
    except yaml.MarkedYAMLError as error:
        slip = syntax_problem(error, text, name)
        # What was read of a line that is no YAML says nothing about it.
        return None, [*(problem for problem in builder.problems if problem.line != slip.line), slip]
    except _EnoughError:
        return None, builder.problems
    if not isinstance(builder.data, dict):
        place = builder.marks.find(builder.data, ()) or Place(1, 1)
        builder.report((), "not-a-mapping", *_not_a_mapping(builder.data, text), place)
        return None, [problem for problem in builder.problems if problem.at or problem.rule == "not-a-mapping"]
    return ReadFile(name, builder.data, builder.marks, builder.spelt), builder.problems


def _not_a_mapping(data: Any, text: str) -> tuple[str, str]:
    if data is None or data == "":
        return "the file holds nothing; keys with values were expected", "begin with a line such as 'id: …'"
    if isinstance(data, list):
        return "the file holds a list; keys with values were expected", "begin with a line such as 'id: …', without a dash before it"
    return no_mapping(text)


class _EnoughError(Exception):
    """Reading on would help nobody."""


@dataclass
class _Builder:
    """Builds data from events, and gathers places and problems on the way."""

    name: str
    text: str
    data: Any = None
    marks: Marks = field(default_factory=Marks)
    spelt: dict[At, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def build(self) -> None:
        events: Iterator[yaml.Event] = iter(yaml.CSafeLoader(self.text).get_event, None)
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                if len(self.marks):
                    self._at(event, (), "several-documents", "a second document begins here", "one file, one document: delete the line '---'")
                    return
                if event.version or event.tags:
                    self._at(event, (), "directive", DIRECTIVE, DELETE_DIRECTIVE)
                first = next(events)
                self.data = self._value(first, events, ())

    def report(self, at: At, rule: str, message: str, hint: str, place: Place) -> None:
        self.problems.append(Problem(self.name, place.line, place.column, rule, "error", message, hint, at))

    def _at(self, event: yaml.Event, at: At, rule: str, message: str, hint: str) -> None:
        self.report(at, rule, message, hint, _place(event))
        if len(self.problems) > MOST:
            raise _EnoughError

    def _value(self, event: yaml.Event, events: Iterator[yaml.Event], at: At) -> Any:
        self._mark(event)
        if len(at) > DEEPEST:
            self._at(event, at, "too-deep", f"more than {DEEPEST} levels of nesting", "no record needs so many; look for a missing bracket")
            raise _EnoughError
        if len(self.marks) > MOST_MARKS:
            self._too_many(event, at, f"more than {MOST_MARKS} keys and values in one file")
        if isinstance(event, yaml.AliasEvent):
            hint = f'write the value out; if it is text that begins with *, write it in quotes: "*{event.anchor}"'
            self._at(event, at, "alias", f"an alias, *{event.anchor}, which stands for a value elsewhere", hint)
            return None
        self._refuse_extras(event, at)
        if isinstance(event, yaml.MappingStartEvent):
            if self.text[_start(event) : _start(event) + 1] == "?":
                return self._question(event, events, at)
            return self._mapping(events, at)
        if isinstance(event, yaml.SequenceStartEvent):
            return self._sequence(events, at)
        return self._scalar(event, at) if isinstance(event, yaml.ScalarEvent) else None

    def _mark(self, event: yaml.Event) -> int:
        """Mark where a key or value starts; the number of the mark comes back."""
        mark = event.start_mark
        return self.marks.add(mark.line + 1, mark.column + 1) if mark else self.marks.add(1, 1)

    def _past(self, event: yaml.Event, events: Iterator[yaml.Event], at: At) -> None:
        """Read a value that is no part of the data."""
        kept = len(self.marks)
        self._value(event, events, at)
        self.marks.cut(kept)

    def _too_many(self, event: yaml.Event, at: At, message: str) -> NoReturn:
        self._at(event, at, "too-many", message, "no record needs so many; look whether something else was pasted into it, or one line many times")
        raise _EnoughError

    def _question(self, event: yaml.Event, events: Iterator[yaml.Event], at: At) -> str:
        """A question mark begins a key of its own kind in YAML; whoever writes it means that something is not known."""
        hint = "leave out what is not known; put text that begins with ? in quotes"
        self._at(event, at, "yaml-trap", "a question mark begins a key in YAML", hint)
        told = len(self.problems)
        self._mapping(events, at)
        del self.problems[told:]
        return "?"

    def _refuse_extras(self, event: yaml.Event, at: At) -> None:
        anchor, tag = getattr(event, "anchor", None), getattr(event, "tag", None)
        if anchor:
            message = f"an anchor, &{anchor}, which a record has no use for"
            self._at(event, at, "anchor", message, f'delete it; if it is text that begins with &, write it in quotes: "&{anchor} …"')
        if tag not in (None, "!"):
            message = f"a tag, {tag}, which a record has no use for"
            self._at(event, at, "tag", message, "delete it; if it is text that begins with !, write it in quotes")

    def _mapping(self, events: Iterator[yaml.Event], at: At) -> dict[str, Any]:
        block = len(self.marks) - 1
        result: dict[str, Any] = {}
        for event in events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            if len(result) == MOST_ITEMS:
                self._too_many(event, at, f"more than {MOST_ITEMS} keys in one block")
            key, value = self._key(event, events, at), next(events)
            if key is None:
                # What it is read as is not what was meant: nothing more is said about it.
                told = len(self.problems)
                self._past(value, events, (*at, "key"))
                del self.problems[told:]
                continue
            if ":" in key and (joined := plain.joined_key(key, value)):
                key, value = joined
                self._space_missing(event, (*at, key))
            if key in result:
                self._again(event, (*at, key), self.marks.member(block, result, key))
                self._past(value, events, (*at, key, "again"))
                continue
            mark = self._mark(event)
            result[intern(key)] = self._value(value, events, (*at, key))
            self.marks.close(mark)
        self.marks.close(block)
        return result

    def _space_missing(self, event: yaml.Event, at: At) -> None:
        self._at(event, at, "missing-space", *plain.space_missing(self.text[_start(event) :][:REST].split("\n", 1)[0]))

    def _again(self, event: yaml.Event, at: At, first: int) -> None:
        message = f"the key {at[-1]!r} stands here a second time (first in line {self.marks.place(first).line})"
        hint = "delete or rename one of the two; several figures of one key stand side by side in its list"
        self._at(event, (*at, "again"), "duplicate-key", message, hint)

    def _key(self, event: yaml.Event, events: Iterator[yaml.Event], at: At) -> str | None:
        """The key; None for one that cannot be used, which is reported."""
        if not isinstance(event, yaml.ScalarEvent):
            hint = "write a plain word before the colon; quote text that begins with { or ["
            self._at(event, (*at, ""), "key", "a block stands where a key was expected", hint)
            self._past(event, events, (*at, "key"))
            return None
        self._refuse_extras(event, at)
        if event.value.isascii() and event.value.isidentifier():
            return str(event.value)  # as nearly all keys are: there is nothing more to ask
        if hidden := unseen(event.value):
            self._at(event, at, "hidden-character", f"the key holds {hidden}", "type the key again")
        elif event.implicit[0] and event.value == "<<":
            self._at(event, (*at, "<<"), "merge-key", "a merge key, <<, which would copy another block to this place", "write out what it would copy")
            return None
        elif event.implicit[0] and plain.cut_key(event.value):
            self._space_missing(event, at)
            return None
        return str(event.value)

    def _sequence(self, events: Iterator[yaml.Event], at: At) -> list[Any]:
        block = len(self.marks) - 1
        result: list[Any] = []
        last: yaml.ScalarEvent | None = None
        parted: dict[int, list[str]] = {}
        for event in events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            if len(result) == MOST_ITEMS:
                self._too_many(event, at, f"more than {MOST_ITEMS} items in one list")
            word = event if isinstance(event, yaml.ScalarEvent) and event.implicit[0] else None
            if last and word and plain.parted_number(last.value, word.value, self.text[_end(last) : _start(word)]):
                parted.setdefault(len(result) - 1, [last.value]).append(word.value)
            else:
                result.append(self._value(event, events, (*at, len(result))))
            last = word
        self.marks.close(block)
        for index, parts in parted.items():
            result[index] = ",".join(parts)
            place = self.marks.place(self.marks.member(block, result, index))
            self.report((*at, index), "yaml-trap", *plain.parted_words(result[index]), place)
        return result

    def _scalar(self, event: yaml.ScalarEvent, at: At) -> Any:
        if not event.implicit[0]:  # quoted or block text
            if hidden := unseen(event.value):
                self._at(event, at, "hidden-character", f"the text holds {hidden}, written with a backslash", "delete it")
            return event.value
        start, end = _start(event), _end(event)
        written = self.text[start:end]
        rest = self.text[end : end + REST].split("\n", 1)[0] if self.text[end : end + 1].isspace() else ""
        if trap := plain.trap(event.value, written, rest):
            self._at(event, at, "yaml-trap" if event.value else EMPTY, *trap)
            return event.value
        value = plain.value(event.value)
        if not isinstance(value, str):
            self.spelt[at] = event.value
        return value


def _start(event: yaml.Event) -> int:
    return event.start_mark.index if event.start_mark else 0


def _end(event: yaml.Event) -> int:
    return event.end_mark.index if event.end_mark else 0


def _place(event: yaml.Event) -> Place:
    mark = event.start_mark
    return Place(mark.line + 1, mark.column + 1) if mark else Place(1, 1)
