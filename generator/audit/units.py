"""Units printed side by side must say the same, or the record must say that they do not."""

from __future__ import annotations

from collections.abc import Iterator

from generator.audit.rule import Rule
from generator.quantities import AGREE, DISAGREE, ROUNDING, likely_slip
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
    slip = likely_slip(fact.printed) if verdict == DISAGREE else ""
    message = f"the printed units {verdict}: {fact.agreement.says}" + (f"; likely {slip}" if slip else "")
    kind = "kind: manual" if verdict == DISAGREE else "kind: rounding"
    if fact.doubt and verdict == DISAGREE:
        hint = f"look at the page again; the doubt is of kind {fact.doubt.kind}, and this is more than rounding: its kind is manual or scan"
        return engine.file.problem((*fact.at, "printed"), "units-agree", message, hint)
    hint = f"look at the page again; if it is printed so, add 'doubt: {{{kind}, says: …}}', or kind: scan if a character may be lost"
    return engine.file.problem((*fact.at, "printed"), "units-agree", message, hint, "error" if verdict == DISAGREE else "note")


def _undoubted(engine: Engine, library: Library) -> Iterator[Problem]:
    for fact in engine.facts:
        index = next((index for index, statement in enumerate(fact.printed) if statement.form == "unreadable"), None)
        if index is not None and fact.doubt is None:
            message = f"{fact.printed[index]}, and nothing says what is doubtful about it"
            hint = "add 'doubt: {kind: scan, says: …}' with what may be lost; the page then warns of the whole figure"
            yield engine.file.problem((*fact.at, "printed", index), "unreadable-doubted", message, hint)


RULES = [
    Rule(
        "units-agree", "Two printed units that do not convert into each other.", "8.0 kgf.m beside 59 lbf.ft: 8.0 kgf.m is 57.9 lbf.ft", _agree,
        ("error", "note"),
    ),
    Rule("unreadable-doubted", "Characters that nobody can read, without a doubt.", 'unreadable "005 in.", and no doubt', _undoubted),
]
