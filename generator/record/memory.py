"""Memory: while a library is read and judged, and from one reading to the next."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from generator.reading import Problem, ReadFile, Schemas, read_bytes, read_text


@contextmanager
def uncollected() -> Iterator[None]:
    """No search for garbage meanwhile: nearly all that is made here stays, and looking through it again and again takes a third of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


@dataclass
class Known:
    """What was made of each file, so that a file with the same bytes is not read, built and judged again. Empty at first.

    Whoever serves a thousand records keeps one: a change to one record then costs the work of one.
    """

    _read: dict[str, tuple[bytes, str, ReadFile | None, list[Problem], list[Problem]]] = field(default_factory=dict)
    _made: dict[str, tuple[tuple[Any, ...], Any]] = field(default_factory=dict)
    _schemas: Schemas | None = None

    def schemas(self, folder: Path) -> Schemas:
        """The schemas of a folder; what was known is forgotten where one of them has changed."""
        schemas = Schemas(folder)
        if self._schemas is None or self._schemas.documents != schemas.documents:
            self._schemas = schemas
            self._read.clear()
            self._made.clear()
        return self._schemas

    def read(self, path: Path, name: str, kind: str) -> tuple[ReadFile | None, list[Problem], list[Problem]]:
        """The file, the problems of reading it, and those of its schema."""
        raw, unread = read_bytes(path, name)
        if raw is None or self._schemas is None:
            return None, unread, []
        before = self._read.get(name)
        if before is None or before[:2] != (raw, kind):
            file, problems = read_text(raw, name)
            misfits = list(self._schemas.check(file, kind)) if file else []
            before = self._read[name] = (raw, kind, file, problems, misfits)
        return before[2:]

    def once(self, name: str, given: tuple[Any, ...], make: Callable[[], Any]) -> Any:
        """What `make` makes of the things given, made again where one of them is another than at the last call under this name."""
        before = self._made.get(name)
        if before is None or not (len(before[0]) == len(given) and all(one is other for one, other in zip(before[0], given, strict=True))):
            before = self._made[name] = (given, make())
        return before[1]
