"""A doubt where there is none hides the next misprint: it must rest on something that the record shows."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from generator.audit.rule import Rule
from generator.audit.suspicion import FigureRule
from generator.quantities import AGREE
from generator.reading import Problem
from generator.record.engine import Engine
from generator.record.facts import Fact
from generator.record.library import Library

_DELETE = "delete the doubt"
# A doubt of kind scan that speaks of the units, not of characters: "the units disagree", "8.0 kgf.m is 57.9 lbf.ft".
_OF_THE_UNITS = re.compile(
    r"\b(?:units?|values?|figures?)\b[^;.]*\b(?:disagree|differ|do not agree|does not agree)\b"
    r"|\d[\d.]* (?P<one>\S+) (?:is|are|would be) \d[\d.]* (?P<other>\S+?)(?=[,;:.]?(?:\s|$))"
)
_SECOND = "delete the doubt; if a second manual proves a misprint, put its figure beside this one"


def needed(rules: Sequence[FigureRule]) -> Rule:
    """The rule that a doubt must have a cause. rules: those whose findings a doubt acknowledges.

    A doubt of kind scan about what the units cannot show (whose label a value stands
    beside, a lost character in a figure of one unit) is taken as it is.
    """

    def check(engine: Engine, library: Library) -> Iterator[Problem]:
        doubted = [fact for fact in engine.facts if fact.doubt]
        suspect = _suspects(engine, library, rules) if any(_unexplained(engine, fact) for fact in doubted) else set()
        for fact in doubted:
            message, hint = _needless(engine, fact, suspect)
            if message:
                yield engine.file.problem((*fact.at, "doubt"), "doubt-needed", message, hint)

    return Rule("doubt-needed", "A doubt that nothing in the record bears out.", "the doubt stayed after the figure was corrected", check)


def _suspects(engine: Engine, library: Library, rules: Sequence[FigureRule]) -> set[tuple[str | int, ...]]:
    return {fact.at for rule in rules for each in rule.find(engine, library) if each.level != "note" for fact in each.facts}


def _unexplained(engine: Engine, fact: Fact) -> bool:
    """A doubt of kind manual about units that agree, with no second figure beside it."""
    agrees = fact.agreement.verdict == AGREE and sum(statement.unit is not None for statement in fact.printed) > 1
    return bool(fact.doubt) and fact.doubt is not None and fact.doubt.kind == "manual" and agrees and len(engine.by_key[fact.key]) == 1


def _left_over(fact: Fact) -> bool:
    """A doubt of kind scan that says the units disagree, where they agree by now."""
    several = sum(statement.unit is not None for statement in fact.printed) > 1
    if fact.doubt is None or fact.doubt.kind != "scan" or fact.agreement.verdict != AGREE or not several:
        return False
    match = _OF_THE_UNITS.search(fact.doubt.says)
    named = {match["one"], match["other"]} if match and match["one"] else set()
    return match is not None and named <= {statement.unit.symbol for statement in fact.printed if statement.unit}


def _needless(engine: Engine, fact: Fact, suspect: set[tuple[str | int, ...]]) -> tuple[str, str]:
    """Message and hint for a doubt without a cause; both empty for one that has its cause."""
    verdict = fact.agreement.verdict
    if fact.doubt and fact.doubt.kind == "rounding" and verdict == AGREE:
        return "a doubt of kind rounding, where the printed units agree", _DELETE
    if _left_over(fact):
        return "a doubt about the printed units, which agree", _DELETE
    if _unexplained(engine, fact) and fact.at not in suspect:
        return "a doubt of kind manual, where the printed units agree and no rule finds anything", _SECOND
    return "", ""
