"""Where every key and value of a file starts, in little room: a thousand files are held at once, and only a Problem asks for a place."""

from __future__ import annotations

from array import array
from typing import Any, NamedTuple

from generator.reading.problem import At


class Place(NamedTuple):
    """Line and column, from 1."""

    line: int
    column: int


class Marks:
    """The places of one file in its own order: each key before its value, each block before what stands in it.

    What a mark belongs to is found by walking the data beside the marks: block by block, with one step over each
    neighbour, however much stands in it.
    """

    __slots__ = ("_after", "_columns", "_lines")

    def __init__(self) -> None:
        self._lines = array("I")
        self._columns = array("I")
        self._after = array("I")  # of each mark: the first that belongs to neither it nor what stands in it

    def __len__(self) -> int:
        return len(self._lines)

    def add(self, line: int, column: int) -> int:
        """Mark what comes next in the file, line and column from 1; the number of the mark comes back."""
        self._lines.append(line)
        self._columns.append(column)
        count = len(self._lines)
        self._after.append(count)
        return count - 1

    def close(self, mark: int) -> None:
        """All that was marked since belongs to this mark: what stands in a block, or the value of a key."""
        self._after[mark] = len(self._lines)

    def cut(self, count: int) -> None:
        """Keep only so many marks: what was read since is no part of the data."""
        for column in (self._lines, self._columns, self._after):
            del column[count:]

    def place(self, mark: int) -> Place:
        """Line and column of a mark."""
        return Place(self._lines[mark], self._columns[mark])

    def find(self, data: Any, at: At, *, key: bool = False) -> Place | None:
        """Where the value at a place of the file's data starts, or with `key` its key; None if it has no such one."""
        found: int | None = 0 if self._lines and not key else None
        block = 0
        for part in at:
            try:
                entry = self.member(block, data, part)
            except KeyError:
                return None
            named = isinstance(data, dict)
            block, data = entry + named, data[part]  # the value of a key is marked behind it
            found = block if not key else entry if named else None
        return None if found is None or found >= len(self) else self.place(found)

    def member(self, block: int, data: Any, part: str | int) -> int:
        """The mark of a key or item of the block that has this mark and holds this data; raise KeyError if it has none."""
        mark = block + 1
        for each in data if isinstance(data, dict) else range(len(data)) if isinstance(data, list) else ():
            if mark >= len(self):  # more than was in the file: the data was changed since
                break
            if each == part:
                return mark
            mark = self._after[mark]
        raise KeyError(part)
