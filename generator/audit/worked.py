"""The inputs of a worked example as plain values, from its own figures or from the record it names."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite, nan
from typing import TypeAlias

from generator.audit.values import basis, bounds, limit, value
from generator.calculations.result import Limit, Result
from generator.quantities import Quantity
from generator.record.engine import Engine
from generator.record.facts import Fact
from generator.record.library import Library
from generator.record.method import Given, Method


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a result: what it is, empty for a whole sentence, the text, and the cites of the table or limit it rests on."""

    label: str
    text: str
    cites: tuple[str, ...] = ()


def said(result: Result) -> list[Line]:
    """Verdict, reason and next step of a result, with the cite of the limit that decided."""
    return [Line("Verdict", result.verdict, (result.basis,) if result.basis else ()), Line("", result.reason), Line("", result.next_step)]


class ExampleError(ValueError):
    """An input that the example lacks or cannot use; the message says which."""


Worker: TypeAlias = Callable[["Inputs"], list[Line]]


def facts_of(given: Given, library: Library) -> tuple[Fact, ...]:
    """What an input stands for: its own facts, or those of the record it names; empty where that record says nothing there."""
    if given.facts:
        return given.facts
    engine = library.engines.get(given.engine)
    if engine is None:
        return ()
    place = tuple(int(part) if part.isdigit() else part for part in given.place.split("."))
    return tuple(fact for fact in engine.facts if fact.at[: len(place)] == place)


@dataclass(frozen=True, slots=True)
class Inputs:
    """The inputs of one example by key. Every lookup raises ExampleError for an input that is not there or has another form."""

    method: Method
    library: Library

    def each(self, key: str) -> list[tuple[str, tuple[Fact, ...]]]:
        """Label and facts of every input of this key, one at least."""
        found = [(given.label, facts_of(given, self.library)) for given in self.method.given if given.key == key]
        if not found or not all(facts for _, facts in found):
            raise ExampleError(f"the example needs an input with the key {key!r}")
        return found

    def facts(self, key: str) -> tuple[Fact, ...]:
        """Facts of the first input of this key, one at least."""
        return self.each(key)[0][1]

    def text(self, key: str) -> str:
        """A word, a designation or a number as it is written."""
        text = self.facts(key)[0].text
        if not text:
            raise ExampleError(f"{key!r} must be a word, not a figure")
        return text

    def number(self, key: str) -> float:
        """A plain number: a count, a price."""
        try:
            found = float(self.text(key))
        except ValueError:
            found = nan
        if not isfinite(found):
            raise ExampleError(f"{key!r} must be a number")
        return found

    def quantity(self, key: str) -> Quantity:
        """One value in its leading unit."""
        return self._value(key, self.facts(key))

    def quantities(self, key: str) -> list[tuple[str, Quantity]]:
        """Label and value of every input of this key."""
        return [(label, self._value(key, facts)) for label, facts in self.each(key)]

    def range(self, key: str) -> tuple[Quantity, Quantity]:
        """Lowest and highest of a printed range; twice the same for one value."""
        facts = self.facts(key)
        low, high = bounds(facts[0].printed[0]) if facts[0].printed else (None, None)
        if low is None or high is None:
            raise ExampleError(f"{key!r} must be a range or one value")
        return low, high

    def limit(self, key: str, own: bool = True) -> Limit:
        """A limit with the input's own words; own: as in Limit."""
        label, facts = self.each(key)[0]
        found = limit(label, facts)
        if found is None:
            raise ExampleError(f"{key!r} must be one limit")
        return Limit(label, found.low, found.high, found.strict, basis(facts), own)

    def engine(self, key: str) -> Engine:
        """The record that an input names."""
        found = next((self.library.engines.get(given.engine) for given in self.method.given if given.key == key), None)
        if found is None:
            raise ExampleError(f"{key!r} must name a record")
        return found

    def _value(self, key: str, facts: tuple[Fact, ...]) -> Quantity:
        found = value(facts)
        if found is None:
            raise ExampleError(f"{key!r} must be one value")
        return found
