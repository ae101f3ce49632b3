"""One slip, one message: problems that only repeat an earlier one are left out."""

from __future__ import annotations

from collections.abc import Iterable

from generator.reading import EMPTY, Problem

# A missing key says nothing about the keys that are there.
_SAYS_NOTHING = {"schema-required"}
# Rules about names that other keys give, with the blocks that give them. Where such a
# block is at fault, its names are unknown, and every use of them would be reported.
_GIVEN_IN = {
    "place-known": ("places", "groups"), "group-known": ("groups", "places"), "order-known": ("tightening",), "head-known": ("heads",),
}
_BLOCK_RULES = {"schema-additionalProperties", "schema-type", "schema-required"}


def without_echoes(earlier: Iterable[Problem], later: Iterable[Problem]) -> list[Problem]:
    """The later problems of a file that would stay if the earlier ones were mended."""
    errors = [problem for problem in earlier if problem.level == "error"]
    faulty = {problem.at for problem in errors if problem.rule not in _SAYS_NOTHING}
    return [each for each in later if each.at not in faulty and not any(_hides(error, each) for error in errors)]


def _hides(error: Problem, later: Problem) -> bool:
    if error.rule == EMPTY:
        # The lines that were meant to stand below the key are not indented: they are read as keys beside it.
        return later.rule == "schema-additionalProperties" and later.at[:-1] == error.at[:-1] and later.line > error.line
    given = _GIVEN_IN.get(later.rule)
    if given is None:
        return False
    if later.rule == "head-known":
        return error.at[:1] == ("geometry",)
    same_set = error.at[:2] == later.at[:2]
    return same_set and (error.at[2:3] in [(key,) for key in given] or (len(error.at) <= 3 and error.rule in _BLOCK_RULES))
