"""What the check warns of in a record, and what the record excepts with a reason."""

from __future__ import annotations

import re
from dataclasses import dataclass

from generator.audit import Findings
from generator.audit.exceptions import fact_of
from generator.pages.figures import anchor
from generator.pages.wording import joined, said, sentence
from generator.reading import At, Problem, dotted
from generator.record.engine import Engine


@dataclass(frozen=True, slots=True)
class WarningView:
    """One warning. anchor: of the row it is about; empty if it is about no single one. reason: why the record excepts it, or empty."""

    anchor: str
    label: str
    message: str
    rule: str
    at: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Warnings:
    """left: nobody has looked into these. excepted: the record gives a reason why they stand."""

    left: tuple[WarningView, ...] = ()
    excepted: tuple[WarningView, ...] = ()


def warnings_of(engine: Engine, found: Findings | None) -> Warnings:
    """The warnings of one engine; none where nothing was checked."""
    left = found.warnings.get(engine.file.name, []) if found else []
    excepted = found.reasons.get(engine.file.name, []) if found else []
    if not left and not excepted:
        return Warnings()
    rows = {fact.at: joined(fact.labels) for fact in engine.facts}
    return Warnings(tuple(_view(rows, each) for each in left), tuple(_view(rows, each.problem, each.reason) for each in excepted))


def _view(rows: dict[At, str], problem: Problem, reason: str = "") -> WarningView:
    at = fact_of(problem.at)
    near = next((row for row in (problem.at, at) if row in rows), None)
    label = rows[near] if near else sentence(" ".join(str(part).replace("_", " ") for part in at if isinstance(part, str)))
    return WarningView(anchor(near) if near else "", label, _after(label, _worded(rows, problem.message)), problem.rule, dotted(at), reason)


def _after(label: str, message: str) -> str:
    """A message that stands behind the label it begins with: “Bore” (79 mm) is … becomes 79 mm is …"""
    return re.sub(rf"^“{re.escape(label)}” \(([^()]*)\)", r"\1", message)


_KEYS = re.compile(r"[a-z][a-z_]*(?:\.\w+)+")


def _worded(rows: dict[At, str], message: str) -> str:
    """The message with labels in place of the record's keys, and units as a page spells them."""
    labels = {dotted(at if isinstance(at[-1], str) else at[:-1]): f"“{label}”" for at, label in rows.items()}
    return said(_KEYS.sub(lambda match: labels.get(match[0], match[0]), message))
