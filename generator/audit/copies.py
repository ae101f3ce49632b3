"""Blocks of figures that two engines share digit for digit: pasted from the one into the other and never changed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from hashlib import sha256
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
            figures: list[tuple[At, str]] = []
            _gather(part, (), figures)
            if significant(" ".join(text for _, text in figures)) >= DIGITS:
                yield at, tuple(figures)


def _gather(data: Any, at: At, found: list[tuple[At, str]]) -> None:
    """Add every figure of a block with its place in it."""
    if isinstance(data, dict):
        for key, value in data.items():
            if key == "printed" and isinstance(value, list) and value:
                found.append((at, str(value[0])))
            elif key not in _ASIDE:
                _gather(value, (*at, key), found)
    elif isinstance(data, list):
        for index, item in enumerate(data):
            _gather(item, (*at, index), found)
    elif isinstance(data, int | float):
        found.append((at, str(data)))


def significant(text: str) -> int:
    """Significant digits of statements or plain numbers; zeros in front of the first other digit say only where the point is."""
    return sum(len(number.replace(".", "").lstrip("0")) for number in _NUMBER.findall(text))


# Not the power of a unit: cm3, kgf/cm2.
_NUMBER = re.compile(r"(?<![A-Za-z])\d+(?:\.\d+)?")


def _own(engine: Engine) -> list[tuple[At, bytes]]:
    found: list[tuple[At, bytes]] = engine.once("prints of blocks", _prints, kept=True)
    return found


def _prints(engine: Engine) -> list[tuple[At, bytes]]:
    """The blocks of a record, each with the hash of where it stands and what it holds."""
    return [(at, sha256(repr((at, figures)).encode()).digest()) for at, figures in blocks(engine.file.data)]


def _index(library: Library) -> dict[bytes, list[str]]:
    found: dict[bytes, list[str]] = {}
    for engine in library.engines.values():
        for _, block in _own(engine):
            found.setdefault(block, []).append(engine.id)
    return found


def _same(engine: Engine, library: Library) -> Iterator[Problem]:
    index: dict[bytes, list[str]] = library.once("blocks of figures", _index)
    reported: list[At] = []
    for at, block in _own(engine):
        others = [other for other in index.get(block, ()) if other != engine.id]
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
