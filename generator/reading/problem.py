"""A Problem: what is wrong in a file, where, and how to mend it. Checks yield these and never print."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import TypeAlias

# An error fails the check. A warning does not, but stays on the engine's page until
# the record gives an exception with its reason. A note informs.
LEVELS = ("error", "warning", "note")

# How many names a hint lists at most.
LISTED = 40

# Where a value stands in a file: the keys and list positions that lead to it.
At: TypeAlias = tuple[str | int, ...]


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """file: path from the project's folder. line, column: from 1.

    rule: the name of the rule that found it. message: what was found and what was
    expected. hint: how to mend it, may be empty. at: the place in the data that it is about.
    """

    file: str
    line: int
    column: int
    rule: str
    level: str
    message: str
    hint: str = ""
    at: At = field(default=(), compare=False)


def dotted(at: At) -> str:
    """The place as people write it: keys and list positions joined by full stops."""
    return ".".join(map(str, at))


def nearest(word: str, names: list[str]) -> str:
    """ "did you mean …?" with the closest of the names, or the names themselves if none is close."""
    if near := near_name(word, names):
        return f"did you mean {near}?"
    shown, more = sorted(names)[:LISTED], len(names) - LISTED
    return "known here: " + ", ".join(shown) + (f" and {more} more" if more > 0 else "") if names else ""


def near_name(word: str, names: list[str], alike: float = 0.6) -> str:
    """The name spelt most alike, else the shortest that holds the word or is held in it; empty if there is none."""
    plain = {_plain(name): name for name in names}
    wanted = _plain(word)
    if found := get_close_matches(wanted, plain, n=1, cutoff=alike):
        return plain[found[0]]
    holding = [name for name in plain if len(wanted) >= 3 and wanted in name] or [name for name in plain if len(name) >= 4 and name in wanted]
    return plain[min(holding, key=len)] if holding else ""


def _plain(word: str) -> str:
    return re.sub(r"[-_ .]", "", word.casefold())
