"""Tables of threads, strengths and nut factors: printed values with their sources, worked-out ones told apart."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from generator.audit.values import strengths, thread_size, thread_sizes
from generator.calculations.result import InputError
from generator.calculations.threads import METRIC, UNIFIED, Size, geometry, loads, strength_of
from generator.calculations.wording import say_number
from generator.pages.figures import CiteView, cite_view
from generator.pages.page import Page, render
from generator.quantities import Quantity, shown
from generator.record.facts import Cite, Fact
from generator.record.library import Library
from generator.record.standards import StrengthRow, Table, ThreadSize

THREADS, STRENGTH = "reference/threads.html", "reference/strength.html"
# Columns of the thread table: key of the record, heading.
COLUMNS = (
    ("pitch_diameter", "Pitch diameter"), ("minor_diameter", "Minor diameter"), ("stress_area", "Stress area"), ("tapping_drill", "Tapping drill"),
)
_UNITS = {METRIC: ("mm", "mm", "mm2", "mm"), UNIFIED: ("in", "in", "in2", "in")}
# Decimals of a worked-out value, as many as the standards print.
_DECIMALS = {
    METRIC: {"pitch_diameter": 3, "minor_diameter": 3, "stress_area": 1, "tapping_drill": 2},
    UNIFIED: {"pitch_diameter": 4, "minor_diameter": 4, "stress_area": 4, "tapping_drill": 3},
}
LOAD_UNIT = {METRIC: "kN", UNIFIED: "lbf"}
STRESS_UNIT = {METRIC: "MPa", UNIFIED: "psi"}


@dataclass(frozen=True, slots=True)
class Value:
    """One printed or worked-out number. mark: letter of its source in the list below the table, empty if it was worked out. note: what it is for."""

    text: str
    mark: str = ""
    note: str = ""


@dataclass
class Marks:
    """Letters for the sources of one table, in the order in which they first stand."""

    library: Library
    found: dict[Cite, str] = field(default_factory=dict)

    def of(self, cite: Cite | None) -> str:
        """The letter of a cite; empty for none."""
        if cite is None:
            return ""
        return self.found.setdefault(cite, _letter(len(self.found)))

    def listed(self) -> list[tuple[str, CiteView]]:
        """Letter and source, for the list below the table."""
        return [(mark, view) for cite, mark in self.found.items() if (view := cite_view(cite, self.library))]


def _letter(index: int) -> str:
    return chr(ord("a") + index) if index < 26 else _letter(index // 26 - 1) + _letter(index % 26)


def row_anchor(name: str) -> str:
    """The id of a row of a table: its name in lower case, digits and hyphens."""
    return "row-" + re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


def table_rows(library: Library) -> Iterator[tuple[str, Fact]]:
    """Every printed value of every table with the place of its row, from the site's folder."""
    pages: tuple[tuple[Mapping[str, Table[Any]], str], ...] = (
        (library.threads, THREADS), (library.strengths, STRENGTH), (library.friction, STRENGTH),
    )
    for tables, path in pages:
        for table in tables.values():
            for fact in table.facts:
                if fact.kind == "figure":
                    yield f"{path}#{row_anchor(str(fact.at[1]))}", fact


# Threads


@dataclass(frozen=True, slots=True)
class ThreadRow:
    """A thread: cells in the order of the columns, each with one value or several sources side by side."""

    anchor: str
    name: str
    series: str
    cells: list[list[Value]]


def threads_page(library: Library) -> Page:
    """A table a system; what no source prints is worked out from diameter and pitch, and looks it."""
    tables = []
    for table in library.threads.values():
        marks = Marks(library)
        rows = [_thread_row(row, marks) for row in table.rows]
        headings = [(heading, unit) for (_, heading), unit in zip(COLUMNS, _UNITS[table.system], strict=True)]
        tables.append((table, headings, rows, marks.listed()))
    return render("reference/threads.html", THREADS, "Threads", tables=tables)


def _thread_row(row: ThreadSize, marks: Marks) -> ThreadRow:
    size = thread_size(row)
    cells = [_cell(getattr(row, key), size, key, marks) for key, _ in COLUMNS]
    cells[1] += [Value(_digits(fact), marks.of(fact.cite), "of the bolt") for fact in row.external_minor_diameter]
    return ThreadRow(row_anchor(row.designation), row.designation, row.series, cells)


def _cell(facts: tuple[Fact, ...], size: Size | None, key: str, marks: Marks) -> list[Value]:
    if facts:
        return [Value(_digits(fact), marks.of(fact.cite)) for fact in facts]
    if size is None:
        return []
    return [Value(shown(getattr(geometry(size.thread), key).value, _DECIMALS[size.thread.system][key]))]


def _digits(fact: Fact) -> str:
    return fact.printed[0].quantity_text if fact.printed else fact.text


# Strength and friction


@dataclass(frozen=True, slots=True)
class StrengthView:
    """A class over a band of diameters: one cell a stress, each with its sources side by side."""

    anchor: str
    name: str
    proof: list[Value]
    yield_strength: list[Value]
    tensile: list[Value]


def strength_page(library: Library) -> Page:
    """Stresses of classes and grades, loads of the threads of the table in each, nut factors."""
    tables = []
    for table in library.strengths.values():
        marks = Marks(library)
        rows = [_strength_view(row, marks) for row in table.rows]
        tables.append((table, STRESS_UNIT[table.system], rows, marks.listed(), LOAD_UNIT[table.system], *_loads(table.system, library)))
    friction = [(each, [_friction(row.name, row.factor, library) for row in each.rows]) for each in library.friction.values()]
    return render("reference/strength.html", STRENGTH, "Strength and friction", tables=tables, friction=friction)


def _strength_view(row: StrengthRow, marks: Marks) -> StrengthView:
    stresses = (row.proof, row.yield_strength, row.tensile)
    proof, yielding, tensile = ([Value(_digits(fact), marks.of(fact.cite)) for fact in facts] for facts in stresses)
    sizes = [_digits(fact) + f" {fact.printed[0].unit.symbol}" for fact in row.diameter if fact.printed and fact.printed[0].unit]
    name = row.name if row.class_name != row.name or not sizes else f"{row.name}, {sizes[0]}"
    return StrengthView(row_anchor(row.name), name, proof, yielding, tensile)


def _loads(system: str, library: Library) -> tuple[list[str], list[tuple[str, str, list[str]]]]:
    """Names of the classes, and for each thread of the system its anchor and its proof load in each, empty where the table has none."""
    names = list(dict.fromkeys(each.name for each in strengths(library) if each.system == system))
    sizes = [size for size in thread_sizes(library) if size.thread.system == system]
    threads = [(size.thread.designation, [_proof(size, name, library) for name in names]) for size in sizes]
    return names, [(row_anchor(thread), thread, cells) for thread, cells in threads]


def _proof(size: Size, name: str, library: Library) -> str:
    try:
        found = loads(size.thread, strength_of(name, size.thread, strengths(library)), size.stress_area)
    except InputError:  # not tabulated for this diameter
        return ""
    unit = LOAD_UNIT[size.thread.system]
    return say_number(Quantity(found.proof.to(unit), unit))


def _friction(name: str, facts: Iterable[Fact], library: Library) -> tuple[str, str, list[tuple[str, CiteView | None]]]:
    return row_anchor(name), name, [(_digits(fact), cite_view(fact.cite, library)) for fact in facts]
