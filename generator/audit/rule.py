"""What a rule of the audit is."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from generator.reading import Problem
from generator.record.engine import Engine
from generator.record.library import Library


@dataclass(frozen=True, slots=True)
class Rule:
    """A named rule over one engine. catches: what it is for. example: a slip it finds, in words."""

    name: str
    catches: str
    example: str
    check: Callable[[Engine, Library], Iterable[Problem]]


@dataclass(frozen=True, slots=True)
class LibraryRule:
    """A named rule over everything that is known together."""

    name: str
    catches: str
    example: str
    check: Callable[[Library], Iterable[Problem]]
