"""What a record says of having been compared: a day that exists, and a status that goes with it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from generator.audit.rule import Rule
from generator.reading import Problem
from generator.record.engine import Engine
from generator.record.library import Library


def _compared(engine: Engine, _: Library) -> Iterator[Problem]:
    for fact in engine.facts:
        if fact.compared and fact.status != "compared":
            message = f"it says when it was compared, but its status is {fact.status}"
            yield engine.file.problem((*fact.at, "compared"), "compared-status", message, "add status: compared, or delete 'compared'")
        if fact.compared and not _is_day(fact.compared.day):
            message = f"{fact.compared.day!r} is no day of the calendar"
            hint = 'write year, month and day, in quotes: "2026-03-14"'
            yield engine.file.problem((*fact.at, "compared", "day"), "compared-status", message, hint)


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


RULES = [
    Rule(
        "compared-status", "A comparison with the page that was on no day, or that the status does not show.", 'compared: {day: "2026-02-30", …}',
        _compared,
    ),
]
