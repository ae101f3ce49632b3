"""Errata: every figure of a real engine that is doubtful, in two lists. What the manual prints so, and what may be the scan."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from generator.pages.engine import engine_path
from generator.pages.figures import CiteView, anchor, cite_view
from generator.pages.page import Page, render
from generator.pages.wording import joined
from generator.quantities import Statement, StatementError, conversions, each_if_right, likely_slip, parse
from generator.record.engine import Engine
from generator.record.facts import Doubt, Fact
from generator.record.fasteners import Stage
from generator.record.library import Library

ERRATA = "errata.html"
LISTS = (
    (
        "manual", "The manual prints so",
        "Two printed units do not agree, or a figure cannot stand beside the others. A second manual prints the same, or every character was "
        "read without doubt.",
    ),
    (
        "scan", "May be the scan",
        "The text was read by machine: a character may be lost, or the place of a value in its table. The manual itself may be right.",
    ),
)


@dataclass(frozen=True, slots=True)
class Erratum:
    """One doubtful figure. printed: its units, or `text` what stands there. if_right: each unit that is read, and what the other would be.

    read_as: what characters that cannot be read would be with the decimal point that they lost, which `if_right` and slip then take them for.
    slip: the likely slip in words, empty if none explains it. href: the figure, from the site's folder.
    """

    engine: str
    label: str
    printed: tuple[Statement, ...]
    text: str
    when: str
    says: str
    if_right: tuple[tuple[Statement, tuple[Statement, ...]], ...]
    read_as: tuple[Statement, ...]
    slip: str
    cite: CiteView | None
    href: str


def errata_page(library: Library) -> Page:
    """Both lists, engine by engine. An invented record's doubts are made up too, and are not here."""
    real = [engine for engine in library.engines.values() if not engine.invented]
    lists = [(kind, heading, about, [each for engine in real for each in errata(engine, kind, library)]) for kind, heading, about in LISTS]
    return render("errata.html", ERRATA, "Errata", lists=lists)


def errata(engine: Engine, kind: str, library: Library) -> Iterator[Erratum]:
    """The doubts of one kind in a record, in its own order: of figures and statements, then of stages."""
    for fact in engine.facts:
        if fact.doubt and fact.doubt.kind == kind:
            yield _of_fact(engine, fact, fact.doubt, library)
    for each in engine.sets.values():
        for number, stage in enumerate(each.stages, start=1):
            if stage.doubt and stage.doubt.kind == kind:
                facts = [fact for fact in engine.facts if fact.at[: len(stage.at)] == stage.at]
                yield Erratum(
                    engine.name, f"{joined(facts[0].labels[:2])}, stage {number}", (), _rounds(stage), stage.when, stage.doubt.says,
                    (), (), "", cite_view(stage.cite, library), f"{engine_path(engine)}#{anchor(facts[-1].at)}",
                )


def _rounds(stage: Stage) -> str:
    """The rounds of a stage of steps in words; empty for any other stage."""
    return ", ".join(f"{word} {text}" for word, text in zip(("from", "by", "up to"), stage.rounds, strict=False))


def _of_fact(engine: Engine, fact: Fact, doubt: Doubt, library: Library) -> Erratum:
    read_as = tuple(filter(None, map(_with_its_point, fact.printed)))
    printed = tuple(_with_its_point(statement) or statement for statement in fact.printed)
    return Erratum(
        engine.name, joined(fact.labels), fact.printed, fact.text, fact.when, doubt.says, tuple(_if_right(printed)), read_as, likely_slip(printed),
        cite_view(fact.cite, library), f"{engine_path(engine)}#{anchor(fact.at)}",
    )


def _with_its_point(statement: Statement) -> Statement | None:
    """Characters that begin with noughts have lost a decimal point: "005 in." was 0.005 in. None for anything else."""
    if not re.match(r"0\d", statement.characters):
        return None
    try:
        return parse(f".{statement.characters}")
    except StatementError:
        return None


def _if_right(printed: tuple[Statement, ...]) -> Iterator[tuple[Statement, tuple[Statement, ...]]]:
    """Units that disagree: each as it stands, and the other worked out from it. Where one cannot be read: what the other gives."""
    for one, other in each_if_right(printed):
        yield one, (other,)
    if any(statement.form == "unreadable" for statement in printed):
        for statement in printed:
            found = tuple(conversions([statement], descriptive=True)) if statement.unit else ()
            if found:
                yield statement, found
