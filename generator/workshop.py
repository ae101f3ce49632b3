"""Records in, site out: all of it at first, and after that only what a change can have changed."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from itertools import chain
from pathlib import Path

from generator.audit import Findings, findings
from generator.pages import Only, all_files, engine_pages, forget_scripts, standing_pages
from generator.reading import FORMATS, Problem, SchemaError, commit_dates
from generator.record.engine import Engine
from generator.record.library import SPECS, Library, load
from generator.record.memory import Known
from generator.site import Frame, SiteError

# What shapes every page and is no record, from the project's folder.
FRAME = ("docs", "mkdocs.yml", "generator/pages/templates", "generator/frame")


@dataclass(frozen=True)
class _Seen:
    """What the pages of one engine were made of beside the rest of the library."""

    engine: Engine
    changed: date | None
    warnings: list[Problem]
    excepted: list[str]

    def still_holds(self, other: _Seen) -> bool:
        """Whether pages made of the other would be the same."""
        return self.engine is other.engine and (self.changed, self.warnings, self.excepted) == (other.changed, other.warnings, other.excepted)


@dataclass
class Workshop:
    """Makes the site of a project, again and again. guarded: as for `Frame`."""

    root: Path
    guarded: bool
    _known: Known = field(default_factory=Known)
    _frame: Frame | None = None
    _outside: dict[Path, tuple[int, int]] = field(default_factory=dict)
    _rest: object = None
    _seen: dict[str, _Seen] = field(default_factory=dict)

    def make(self, folder: Path) -> bool:
        """Check, then build into `folder`, the same at every call; False if that failed, and why is printed.

        The folder is not touched before the check holds.
        """
        try:
            library = load(self.root, known=self._known)
        except SchemaError as error:
            print(error, file=sys.stderr)
            return False
        found = findings(library, self._known)
        if found.serious:
            print(FORMATS["text"](found.serious), file=sys.stderr)
        if found.failed:
            return False
        try:
            self._put(folder, library, found)
        except SiteError as error:
            self._frame = None
            print(f"The pages could not be framed: {error}", file=sys.stderr)
            return False
        return True

    def _put(self, folder: Path, library: Library, found: Findings) -> None:
        changed = commit_dates(self.root, SPECS)
        seen = {key: _seen(engine, changed, found) for key, engine in library.engines.items()}
        only = self._only(seen, library)
        standing = list(standing_pages(library))
        if self._frame is None or only is None:
            only = None
            forget_scripts()
            self._frame = Frame(self.root, folder, standing, guarded=self.guarded)
        self._frame.put(chain(standing, engine_pages(library, changed, found, only)), all_files(library, changed, found, only))
        self._seen = seen

    def _only(self, seen: dict[str, _Seen], library: Library) -> Only | None:
        """What of the engines has changed since the last call; None where anything else has, or an engine is gone, so that all must be made anew."""
        outside, rest = dict(_stamps(self.root)), self._known.once("rest", tuple(library.rest), object)
        same = outside == self._outside and rest is self._rest and seen.keys() >= self._seen.keys()
        before, self._outside, self._rest = self._seen, outside, rest
        if not same:
            return None
        engines = [key for key, each in seen.items() if key not in before or not each.still_holds(before[key])]
        cited = [source for key in engines for each in (seen, before) if key in each for source in each[key].engine.sources]
        return Only(frozenset(engines), frozenset(cited))


def _seen(engine: Engine, changed: dict[str, date], found: Findings) -> _Seen:
    name = engine.file.name
    return _Seen(engine, changed.get(name), found.warnings.get(name, []), [each.reason for each in found.reasons.get(name, [])])


def _stamps(root: Path) -> Iterator[tuple[Path, tuple[int, int]]]:
    """Every file that shapes the pages and is no record, with when it was changed and its size."""
    for name in FRAME:
        for path in (root / name, *(root / name).rglob("*")):
            if path.is_file():
                stat = path.stat()
                yield path, (stat.st_mtime_ns, stat.st_size)
