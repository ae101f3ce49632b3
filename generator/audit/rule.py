"""What a rule of the audit is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from generator.reading import Problem
from generator.record.engine import Engine
from generator.record.library import Library

Levels: TypeAlias = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReadingRule:
    """A named rule that files are read by. catches, example, levels: as in Rule."""

    name: str
    catches: str
    example: str
    levels: Levels = ("error",)


@dataclass(frozen=True, slots=True)
class Rule:
    """A named rule over one engine. catches: what it is for. example: a slip it finds, in words. levels: those its problems may have.

    across: it looks at other engines too, so that a change to one may change what it finds in another.
    """

    name: str
    catches: str
    example: str
    check: Callable[[Engine, Library], Iterable[Problem]]
    levels: Levels = ("error",)
    across: bool = False


@dataclass(frozen=True, slots=True)
class LibraryRule:
    """A named rule over everything that is known together.

    folders: what it judges, from the project's folder; it waits until every file there has its shape.
    """

    name: str
    catches: str
    example: str
    check: Callable[[Library], Iterable[Problem]]
    levels: Levels = ("error",)
    folders: tuple[str, ...] = ("specs/procedure/",)


@dataclass(frozen=True, slots=True)
class FindingRule:
    """A named rule over what the other rules found in one engine. Its check gets the levels of every rule by name."""

    name: str
    catches: str
    example: str
    check: Callable[[Engine, list[Problem], Mapping[str, Levels]], Iterable[Problem]]
    levels: Levels = ("error",)
