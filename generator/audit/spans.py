"""Figures as plain numbers in the base unit of their dimension, found by patterns of keys."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from generator.quantities import UNITS, Statement, parse
from generator.quantities.statement import StatementError
from generator.reading import At, dotted
from generator.record.engine import Engine
from generator.record.facts import Fact

# Keys whose members have names of the writer's own; in a pattern they are *.
_NAMERS = ("fasteners", "groups", "places", "banks", "by_head")


@dataclass(frozen=True, slots=True)
class Span:
    """What a figure leads with. low, high: equal for one number, be it a bound or not. digit: half of its last digit."""

    fact: Fact
    statement: Statement
    low: float
    high: float
    digit: float

    @property
    def middle(self) -> float:
        """Half-way between both ends, in the base unit."""
        return (self.low + self.high) / 2

    @property
    def text(self) -> str:
        """The key with what is printed there and its condition, as a message names a figure."""
        when = f", {self.fact.when}" if self.fact.when else ""
        return f"{place(self.fact.key)} ({self.statement}{when})"


def place(key: At) -> str:
    """A key as a message names it; stages are counted from 1, as people do."""
    if len(key) > 4 and key[3] == "stages" and isinstance(key[4], int):
        return f"{dotted(key[:2])}, stage {key[4] + 1}"
    return dotted(key)


def statement_span(statement: Statement, fact: Fact) -> Span | None:
    """The span of a statement; None for characters that nobody should turn into a number."""
    if statement.unit is None:
        return None
    factor, offset = _FLOATS[statement.unit.symbol]
    ends = [(float(end) + offset) * factor for end in (statement.low, statement.high) if end is not None]
    return Span(fact, statement, min(ends), max(ends), max(float(number.step) for number in statement.numbers) * factor / 2)


# Fractions are exact and slow; a rule looks at shares of a percent.
_FLOATS = {symbol: (float(unit.factor), float(unit.offset)) for symbol, unit in UNITS.items()}


def span(fact: Fact) -> Span | None:
    """The span of a live figure by its first readable unit; None for one that is superseded or cannot be read."""
    statement = None if fact.superseded_by else next((each for each in fact.printed if each.unit), None)
    return statement_span(statement, fact) if statement else None


def spans(engine: Engine, key: At) -> list[Span]:
    """The live figures that stand side by side at a place."""
    found: dict[At, list[Span]] = engine.once("spans", _all_spans)
    return found.get(key, [])


def _all_spans(engine: Engine) -> dict[At, list[Span]]:
    return {key: [each for fact in facts if (each := span(fact))] for key, facts in engine.by_key.items()}


def spans_at(engine: Engine, place: str) -> list[Span]:
    """The same for a place written with full stops."""
    return spans(engine, tuple(place.split(".")))


def text_span(text: str, fact: Fact) -> Span | None:
    """The span of a statement that stands as plain text; None if it is none."""
    try:
        return statement_span(parse(text), fact)
    except StatementError:
        return None


def comparable(ones: list[Span], others: list[Span]) -> Iterator[tuple[Span, Span]]:
    """Pairs that speak of one case: where several stand side by side, those of one source and one condition."""
    single = len(ones) == len(others) == 1
    for one in ones:
        for other in others:
            if single or (_source(one) == _source(other) and one.fact.when == other.fact.when):
                yield one, other


def _source(each: Span) -> str:
    return each.fact.cite.source if each.fact.cite else ""


@lru_cache(maxsize=65536)
def pattern(key: At) -> str:
    """The key with * for positions in lists and for names of the writer's own."""
    return ".".join("*" if isinstance(part, int) or _is_own(key, index) else str(part) for index, part in enumerate(key))


def _is_own(key: At, index: int) -> bool:
    return index > 0 and key[index - 1] in _NAMERS


def filled(template: str, key: At) -> At:
    """The pattern of a neighbour made a key, with the names and positions of this key in the place of its *."""
    own = iter([part for index, part in enumerate(key) if isinstance(part, int) or _is_own(key, index)])
    return tuple(next(own) if part == "*" else part for part in template.split("."))
