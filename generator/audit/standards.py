"""The tables of the standards: every value cites a registered book, every designation is a thread, every size fits its thread."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.audit.rule import LibraryRule
from generator.audit.values import thread_size, value
from generator.calculations.result import InputError
from generator.calculations.threads import geometry, parse_thread
from generator.reading import Problem
from generator.record.library import Library
from generator.record.standards import Table, ThreadSize

# How far a printed value may stand from the formula, as a share: rounding of the printed digits; drills are rounded to those sold.
NEAR = {"pitch_diameter": 2.5e-4, "minor_diameter": 2.5e-4, "stress_area": 4e-3, "tapping_drill": 0.02}


def _resolves(library: Library) -> Iterator[Problem]:
    tables: list[Table[Any]] = [*library.threads.values(), *library.strengths.values(), *library.friction.values()]
    for table in tables:
        yield from _cites(table, library)


def _cites(table: Table[Any], library: Library) -> Iterator[Problem]:
    for fact in table.facts:
        book = library.sources.get(fact.cite.source) if fact.cite else None
        if fact.cite and not library.registers(fact.cite.source):
            message = f"the source {fact.cite.source!r} is not registered in specs/sources"
            yield table.file.problem((*fact.at, "cite"), "table-cite-resolves", message, library.how_to_register(fact.cite.source))
        elif book and book.invented:
            message = f"a table of a standard cites an invented book, {book.number}"
            yield table.file.problem((*fact.at, "cite"), "table-cite-resolves", message, "cite the standard, or the text that quotes it")


def _readable(library: Library) -> Iterator[Problem]:
    for table in library.threads.values():
        for row in table.rows:
            try:
                system = parse_thread(row.designation).system
            except InputError as error:
                yield table.file.problem(row.at, "table-thread-known", f"{row.designation!r} is no thread: {error.expected}", _HOW, key=True)
                continue
            if system != table.system:
                message = f"{row.designation} is a {system} thread in a table of {table.system} ones"
                yield table.file.problem(row.at, "table-thread-known", message, "move it to the other table", key=True)


_HOW = "write diameter and pitch, M10x1.25, or diameter and threads an inch, 7/16-20"


def _fits(library: Library) -> Iterator[Problem]:
    for table in library.threads.values():
        for row in table.rows:
            yield from _row_fits(table, row)


def _row_fits(table: Table[ThreadSize], row: ThreadSize) -> Iterator[Problem]:
    size = thread_size(row)
    expected = geometry(size.thread) if size else None
    for key, share in NEAR.items() if expected else ():
        wanted = getattr(expected, key)
        for fact in getattr(row, key):
            found = value((fact,))
            if found and found.dimension == wanted.dimension and abs(found.to(wanted.unit) - wanted.value) > share * wanted.value:
                message = f"{fact.printed[0]} where the thread's own geometry gives {wanted.value:.4g} {wanted.unit}"
                hint = "look at the source again: a digit, or the row of another thread"
                yield table.file.problem((*fact.at, "printed", 0), "table-fits-thread", message, hint)


_TABLES = ("specs/threads/", "specs/strength/", "specs/friction/")

RULES = [
    LibraryRule(
        "table-cite-resolves", "A value of a table whose source is not registered, or is invented.", "cite: iso-898 table 3", _resolves,
        folders=_TABLES,
    ),
    LibraryRule(
        "table-thread-known", "A row of a thread table that is no thread, or one of the other system.", "M1.25x10", _readable,
        folders=_TABLES,
    ),
    LibraryRule(
        "table-fits-thread", "A diameter, area or drill that cannot belong to its thread.", "61.2 mm2 in the row of M10x1.5", _fits,
        folders=_TABLES,
    ),
]
