"""Blocks of figures that two engines share digit for digit: pasted from the one into the other and never changed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, TypeAlias

from generator.audit.rule import Rule
from generator.reading import At, Problem, dotted
from generator.record.engine import Engine
from generator.record.library import Library

# Engines of one trade share round figures, so a digit of theirs says less than it could: perhaps a factor of
# two or three. Twenty of them in one block leave less than one chance in a million for two engines to agree.
DIGITS = 20
# What says nothing of the engine's sizes.
_ASIDE = {"cite", "label", "when", "doubt", "status", "compared", "says", "as", "exceptions", "sources", "identity", "id", "name"}

Figures: TypeAlias = tuple[tuple[At, str], ...]


def blocks(data: dict[str, Any]) -> Iterator[tuple[At, Figures]]:
    """Sections of a record and the blocks in them, each with its figures as printed, that have digits enough."""
    for section, block in data.items():
        if section in _ASIDE:
            continue
        below = [((section, key), part) for key, part in block.items()] if isinstance(block, dict) else []
        for at, part in [((section,), block), *below]:
            figures = tuple(_figures(part, ()))
            if sum(significant(text) for _, text in figures) >= DIGITS:
                yield at, figures


def _figures(data: Any, at: At) -> Iterator[tuple[At, str]]:
    if isinstance(data, dict):
        for key, value in data.items():
            if key == "printed" and isinstance(value, list) and value:
                yield at, str(value[0])
            elif key not in _ASIDE:
                yield from _figures(value, (*at, key))
    elif isinstance(data, list):
        for index, item in enumerate(data):
            yield from _figures(item, (*at, index))
    elif isinstance(data, int | float):
        yield at, str(data)


def significant(text: str) -> int:
    """Significant digits of a statement or a plain number; zeros in front of the first other digit say only where the point is."""
    return sum(len(number.replace(".", "").lstrip("0")) for number in _NUMBER.findall(text))


# Not the power of a unit: cm3, kgf/cm2.
_NUMBER = re.compile(r"(?<![A-Za-z])\d+(?:\.\d+)?")


def _own(engine: Engine) -> list[tuple[At, Figures]]:
    found: list[tuple[At, Figures]] = engine.once("blocks", lambda _: list(blocks(engine.file.data)))
    return found


def _index(library: Library) -> dict[tuple[At, Figures], list[str]]:
    found: dict[tuple[At, Figures], list[str]] = {}
    for engine in library.engines.values():
        for block in _own(engine):
            found.setdefault(block, []).append(engine.id)
    return found


def _same(engine: Engine, library: Library) -> Iterator[Problem]:
    index: dict[tuple[At, Figures], list[str]] = library.once("blocks of figures", _index)
    reported: list[At] = []
    for at, figures in _own(engine):
        others = [other for other in index.get((at, figures), ()) if other != engine.id]
        if others and not any(at[: len(part)] == part for part in reported):
            reported.append(at)
            message = f"every figure of {dotted(at)} is the same as in {others[0]}" + (f" and {len(others) - 1} more" if len(others) > 1 else "")
            hint = "hold it against the manual again: it may have been pasted and not changed"
            yield engine.file.problem(at, "same-as-another", message, hint, "warning", key=True)


RULES = [
    Rule(
        "same-as-another", "A block of figures pasted from another engine.", "the valves of the van's engine in the record of the crane", _same,
        ("warning",), across=True,
    ),
]
