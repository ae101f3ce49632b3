"""The canonical form of a record: keys in the order of the schema, statements as the printer writes them, every comment kept.

Lines are moved, never written anew: how a block is laid out stays as its writer chose. A comment goes with the key it
stands directly above, or behind. Where it is not plain which key a comment belongs to and that key has to move,
nothing is changed and the writer is asked.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, TypeAlias

import yaml

from generator.quantities import StatementError, parse
from generator.reading import Shape, comments_of, end_of, is_flow, node_tree, read_text, start_of
from generator.record.facts import STATED

_PLAIN = re.compile(r"[A-Za-z0-9+.-][A-Za-z0-9 +./()%-]*")
Pair: TypeAlias = tuple[yaml.ScalarNode, yaml.Node]


class Unordered(Exception):
    """The file cannot be put in order without losing or misplacing something. line: from 1. hint: how to mend it."""

    def __init__(self, line: int, message: str, hint: str) -> None:
        super().__init__(message)
        self.line = line
        self.hint = hint


def canonical(text: str, shape: Shape) -> str:
    """The canonical text of a file that `read_text` accepts; raise Unordered where a comment's place is not plain."""
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").rstrip() + "\n"
    result = _Layout(text).whole(shape)
    # Nothing may be lost, whatever the layout was: what is written is read once more before it is believed.
    kept = sorted(comments_of(text)) == sorted(comments_of(result))
    if not kept or _data(result) != _stated(_data(text)) or _Layout(result).whole(shape) != result:
        raise Unordered(1, "the way this file is laid out cannot be put in order line by line", "write each key on a line of its own")
    return result


def _data(text: str) -> Any:
    file, problems = read_text(text.encode(), "")
    return file.data if file and not problems else None


def _stated(data: Any, key: str = "") -> Any:
    """The same data with every statement in its canonical form."""
    if isinstance(data, dict):
        return {name: _stated(value, name) for name, value in data.items()}
    if isinstance(data, list):
        return [_stated(value, key) for value in data]
    return _statement(data) if isinstance(data, str) and key in STATED else data


def _statement(text: str) -> str:
    try:
        return str(parse(text))
    except StatementError:
        return text


@dataclass(frozen=True, slots=True)
class _Entry:
    """A key with its value. rank: its place in the order. text: from its first comment or the key on, without the first indent."""

    rank: int
    name: str
    text: str


class _Layout:
    """The text of a file beside its node tree. Every method gives the canonical text of one stretch of it."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.root = node_tree(text)

    def whole(self, shape: Shape) -> str:
        """The whole file."""
        start = start_of(self.root) if is_flow(self.root) else 0
        done = self._inline(self.root, shape, "") if is_flow(self.root) else self._block(self.root, shape, "", 0)
        return self.text[:start] + done + self.text[self._after(self.root) :]

    def _after(self, node: yaml.Node) -> int:
        """Position after a node; after the rest of its line for a block or for what ends one."""
        end = end_of(node)
        if is_flow(self.root) or self.text[end - 1] == "\n":
            return end
        return self._next_line(end)

    def _next_line(self, index: int) -> int:
        return self.text.index("\n", index) + 1

    def _line(self, index: int) -> int:
        return self.text.count("\n", 0, index) + 1

    def _column(self, index: int) -> int:
        return index - self.text.rfind("\n", 0, index) - 1

    def _block(self, node: yaml.Node, shape: Shape | None, name: str, start: int) -> str:
        """A block from `start` to the end of its last line. start: its first character, or the start of a line before it."""
        if isinstance(node, yaml.MappingNode):
            return self._mapping(node, shape, start)
        done, position = "", start
        for item in node.value:
            done += self.text[position : start_of(item)] + self._member(item, shape.items if shape else None, name)
            position = self._after(item)
        return done

    def _member(self, node: yaml.Node, shape: Shape | None, name: str) -> str:
        """A member from its first character to the end of its last line."""
        if isinstance(node, yaml.CollectionNode) and not is_flow(node):
            return self._block(node, shape, name, start_of(node))
        return self._inline(node, shape, name) + self.text[end_of(node) : self._after(node)]

    def _mapping(self, node: yaml.MappingNode, shape: Shape | None, start: int) -> str:
        column = self._column(start_of(node))
        gaps: list[str] = []
        entries: list[_Entry] = []
        position = start
        for key, value in node.value:
            first = max(position, start_of(key) - column)
            tail, gap, lead = _parted(self.text[position:first].splitlines(keepends=True), column)
            if entries:
                entries[-1] = _Entry(entries[-1].rank, entries[-1].name, entries[-1].text + tail)
            gaps.append(gap if entries else tail + gap)
            own = lead.removeprefix(" " * column) + " " * column if lead else ""
            entries.append(_Entry(_rank(key, shape), key.value, own + self._entry(key, value, shape)))
            position = self._after(value)
        ordered = sorted(entries, key=lambda entry: entry.rank)
        if ordered != entries:
            self._refuse_loose(node, gaps, moved=ordered[-1] is not entries[-1], column=column)
        indents = ["" if start == start_of(node) else " " * column, *[" " * column] * (len(gaps) - 1)]
        return "".join(gap + indent + entry.text for gap, indent, entry in zip(gaps, indents, ordered, strict=True))

    def _entry(self, key: yaml.ScalarNode, value: yaml.Node, shape: Shape | None) -> str:
        below = shape.below(key.value) if shape else None
        if isinstance(value, yaml.CollectionNode) and not is_flow(value):
            start = self._next_line(end_of(key))
            return self.text[start_of(key) : start] + self._block(value, below, key.value, start)
        return self.text[start_of(key) : start_of(value)] + self._member(value, below, key.value)

    def _refuse_loose(self, node: yaml.MappingNode, gaps: list[str], moved: bool, column: int) -> None:
        """Refuse comments of which nobody can say which key they go with, in a block whose keys have to move."""
        key = next((node.value[index][0] for index, gap in enumerate(gaps) if index and "#" in gap), None)
        after = self.text[self._after(node) :].split("\n", 1)[0]
        if moved and after.lstrip().startswith("#") and len(after) - len(after.lstrip()) >= column:
            line = self._line(self._after(node))
        elif key:
            line = self._line(start_of(key))
        else:
            return
        message = "the keys of this block are not in order, and it is not plain which of them a comment beside this line belongs to"
        raise Unordered(line, message, "put the comment directly above its key, as deep as the key, or on the key's line; then try again")

    def _inline(self, node: yaml.Node, shape: Shape | None, name: str) -> str:
        """What stands in brackets, or one text, without what follows it on its line."""
        if isinstance(node, yaml.ScalarNode):
            return self._scalar(node, name)
        if not node.value:
            return self.text[start_of(node) : end_of(node)]
        parts = list(self._flow_pairs(node, shape) if isinstance(node, yaml.MappingNode) else self._flow_items(node, shape, name))
        ordered = sorted(parts, key=lambda part: part[0])
        starts = [start_of(each[0] if isinstance(each, tuple) else each) for each in node.value]
        ends = [end_of(each[1] if isinstance(each, tuple) else each) for each in node.value]
        between = [self.text[end:start] for end, start in zip(ends, starts[1:], strict=False)]
        if ordered != parts and any("#" in each for each in between):
            message = "keys in brackets are not in order, and a comment stands between them"
            raise Unordered(self._line(starts[0]), message, "write each key on a line of its own, without brackets, with the comment above it")
        inside = "".join(part + mark for (_, part), mark in zip(ordered, [*between, ""], strict=True))
        return self.text[start_of(node) : starts[0]] + inside + self.text[ends[-1] : end_of(node)]

    def _flow_pairs(self, node: yaml.MappingNode, shape: Shape | None) -> Iterator[tuple[int, str]]:
        for key, value in node.value:
            below = shape.below(key.value) if shape else None
            yield _rank(key, shape), self.text[start_of(key) : start_of(value)] + self._inline(value, below, key.value)

    def _flow_items(self, node: yaml.Node, shape: Shape | None, name: str) -> Iterator[tuple[int, str]]:
        for item in node.value:
            yield 0, self._inline(item, shape.items if shape else None, name)

    def _scalar(self, node: yaml.ScalarNode, name: str) -> str:
        written = self.text[start_of(node) : end_of(node)]
        stated = _statement(node.value) if name in STATED else node.value
        if stated == node.value or node.style in ("|", ">"):
            return written
        return stated if _PLAIN.fullmatch(stated) else "'" + stated.replace("'", "''") + "'"


def _rank(key: yaml.ScalarNode, shape: Shape | None) -> int:
    """Place of a key among those of the schema; the writer's own names come after them, in their own order."""
    known = list(shape.children) if shape else []
    return known.index(key.value) if key.value in known else len(known)


def _parted(lines: list[str], column: int) -> tuple[str, str, str]:
    """The lines before a key: comments of the key above, what belongs to neither, comments of the key itself."""
    first = 0
    while first < len(lines) and _comment_column(lines[first]) > column:
        first += 1
    last = len(lines)
    while last > first and _comment_column(lines[last - 1]) == column:
        last -= 1
    return "".join(lines[:first]), "".join(lines[first:last]), "".join(lines[last:])


def _comment_column(line: str) -> int:
    """Where the comment of a line that holds nothing else begins; -1 for any other line."""
    bare = line.lstrip(" ")
    return len(line) - len(bare) if bare.startswith("#") else -1
