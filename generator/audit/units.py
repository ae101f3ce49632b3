"""Units printed side by side must say the same, or the record must say that they do not."""

from __future__ import annotations

from collections.abc import Iterator

from generator.audit.rule import Rule
from generator.quantities import AGREE, DISAGREE, ROUNDING
from generator.reading import Problem
from generator.record.engine import Engine
from generator.record.facts import Fact
from generator.record.library import Library

# The kinds of doubt that acknowledge each verdict.
ACKNOWLEDGED = {DISAGREE: ("manual", "scan"), ROUNDING: ("rounding", "manual", "scan")}


def _agree(engine: Engine, library: Library) -> Iterator[Problem]:
    for fact in engine.facts:
        verdict = fact.agreement.verdict
        if verdict == AGREE or (fact.doubt and fact.doubt.kind in ACKNOWLEDGED[verdict]):
            continue
        yield _disagreement(engine, fact, verdict)


def _disagreement(engine: Engine, fact: Fact, verdict: str) -> Problem:
    hint = "look at the page again; if it is printed so, add 'doubt: {kind: …, says: …}'"
    message = f"the printed units {verdict}: {fact.agreement.says}"
    return engine.file.problem((*fact.at, "printed"), "units-agree", message, hint, "error" if verdict == DISAGREE else "note")


def _needless(engine: Engine, library: Library) -> Iterator[Problem]:
    for fact in engine.facts:
        if fact.doubt and fact.doubt.kind == "rounding" and fact.agreement.verdict != ROUNDING:
            message = f"a doubt of kind rounding, where the printed units {fact.agreement.verdict}"
            hint = "delete the doubt" if fact.agreement.verdict == AGREE else "its kind is manual or scan"
            yield engine.file.problem((*fact.at, "doubt"), "doubt-needed", message, hint)


RULES = [
    Rule("units-agree", "Two printed units that do not convert into each other.", "8.0 kgf.m beside 59 lbf.ft: 8.0 kgf.m is 57.9 lbf.ft", _agree),
    Rule("doubt-needed", "A doubt about rounding where nothing was rounded.", "the doubt stayed after the figure was corrected", _needless),
]
