"""Records as the plain values that the calculations take: quantities, limits, tables of the standards.

`basis` of what comes out is the cite as it stands in the file, so that whoever shows a result can lead to its source.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from generator.calculations.result import InputError, Limit
from generator.calculations.threads import Size, Strength, parse_thread
from generator.quantities import Quantity, Statement
from generator.record.facts import Fact
from generator.record.library import Library
from generator.record.practice import PracticeLimit
from generator.record.standards import StrengthRow, ThreadSize


def only(facts: tuple[Fact, ...]) -> Statement | None:
    """The leading statement where exactly one readable figure stands; None where none does or where sources stand side by side."""
    printed = facts[0].printed[:1] if len(facts) == 1 else ()
    return next((statement for statement in printed if statement.unit), None)


def bounds(statement: Statement) -> tuple[Quantity | None, Quantity | None]:
    """What a statement allows: its lowest and highest value, each None where nothing bounds it there."""
    return quantity(statement.low, statement), quantity(statement.high, statement)


def value(facts: tuple[Fact, ...]) -> Quantity | None:
    """The one number that stands there; None for anything else."""
    statement = only(facts)
    return quantity(statement.numbers[0].value, statement) if statement and len(statement.numbers) == 1 else None


def limit(label: str, facts: tuple[Fact, ...]) -> Limit | None:
    """The one statement that stands there as a limit; None for anything else."""
    statement = only(facts)
    if statement is None:
        return None
    low, high = bounds(statement)
    return Limit(label, low, high, strict=statement.form in ("under", "over"), basis=basis(facts))


def practice_limit(given: PracticeLimit) -> Limit | None:
    """A number of practice as a limit that is not the engine's own, so that no calculation ever says "within" by it; None if it bounds nothing."""
    found = limit(given.label, given.facts)
    return replace(found, own=False) if found else None


def basis(facts: tuple[Fact, ...]) -> str:
    """The cite of the first of these facts, as its file has it; empty if there is none."""
    cite = facts[0].cite if facts else None
    return f"{cite.source} {cite.place}" if cite else ""


def every_nut_factor(library: Library) -> tuple[float, float] | None:
    """Lowest and highest nut factor of all conditions: for a treatment that is not known, or that no source prints."""
    found = [factor for _, factor, _ in _factors(library)]
    return (min(found), max(found)) if found else None


def thread_sizes(library: Library) -> tuple[Size, ...]:
    """Every row of the thread tables whose designation can be read; worked out once a library, every record asks for it."""
    found: tuple[Size, ...] = library.once("thread sizes", _thread_sizes)
    return found


def _thread_sizes(library: Library) -> tuple[Size, ...]:
    found = (thread_size(row) for table in library.threads.values() for row in table.rows)
    return tuple(size for size in found if size)


def thread_size(row: ThreadSize) -> Size | None:
    """A row of a thread table; None if its designation is no thread, which the audit refuses."""
    try:
        thread = parse_thread(row.designation)
    except InputError:
        return None
    return Size(
        thread, row.series, value(row.pitch_diameter), value(row.minor_diameter), value(row.stress_area), value(row.tapping_drill),
        basis(row.stress_area),
    )


def strengths(library: Library) -> tuple[Strength, ...]:
    """Every row of the strength tables that gives all its stresses; worked out once a library."""
    found: tuple[Strength, ...] = library.once("strengths", _strengths)
    return found


def _strengths(library: Library) -> tuple[Strength, ...]:
    found = (_strength(row, table.system) for table in library.strengths.values() for row in table.rows)
    return tuple(strength for strength in found if strength)


def _strength(row: StrengthRow, system: str) -> Strength | None:
    proof, yielding, tensile = value(row.proof), value(row.yield_strength), value(row.tensile)
    if proof is None or yielding is None or tensile is None:
        return None
    return Strength(row.class_name, system, proof, yielding, tensile, limit("diameter", row.diameter), basis(row.proof))


def nut_factors(library: Library, treatment: str) -> tuple[float, float] | None:
    """Lowest and highest nut factor that the sources print for a treatment of the thread; None where none does."""
    found = [factor for treatments, factor, _ in _factors(library) if treatment in treatments]
    return (min(found), max(found)) if found else None


def nut_factor_cites(library: Library, treatment: str) -> tuple[str, ...]:
    """Where the lowest and the highest of these nut factors stand, as the file has it."""
    found = [(factor, cite) for treatments, factor, cite in _factors(library) if treatment in treatments]
    return tuple(dict.fromkeys((min(found)[1], max(found)[1]))) if found else ()


def _factors(library: Library) -> list[tuple[tuple[str, ...], float, str]]:
    """Every nut factor of the tables with the treatments it is for and its cite; worked out once a library."""
    found: list[tuple[tuple[str, ...], float, str]] = library.once("nut factors", _all_factors)
    return found


def _all_factors(library: Library) -> list[tuple[tuple[str, ...], float, str]]:
    rows = [row for table in library.friction.values() for row in table.rows]
    return [(row.treatments, each.value, basis(row.factor)) for row in rows if (each := value(row.factor))]


def quantity(number: Fraction | None, statement: Statement) -> Quantity | None:
    """A number of a statement in its unit; None for none."""
    return None if number is None or statement.unit is None else Quantity(float(number), statement.unit.symbol)
