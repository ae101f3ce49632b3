"""A Problem: what is wrong in a file, where, and how to mend it. Checks yield these and never print."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from typing import TypeAlias

# An error fails the check. A warning does not, but stays on the engine's page until
# the record gives an exception with its reason. A note informs.
LEVELS = ("error", "warning", "note")

# Where a value stands in a file: the keys and list positions that lead to it.
At: TypeAlias = tuple[str | int, ...]


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """file: path from the project's folder. line, column: from 1.

    rule: the name of the rule that found it. message: what was found and what was
    expected. hint: how to mend it, may be empty.
    """

    file: str
    line: int
    column: int
    rule: str
    level: str
    message: str
    hint: str = ""


def nearest(word: str, names: list[str]) -> str:
    """ "did you mean …?" with the closest of the names, or the names themselves if none is close."""
    if near := get_close_matches(word, names, n=1, cutoff=0.6):
        return f"did you mean {near[0]}?"
    return "known here: " + ", ".join(sorted(names)) if names else ""
