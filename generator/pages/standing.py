"""How far a record was held against the printed page, in words."""

from __future__ import annotations

from dataclasses import dataclass

from generator.record.engine import Engine

HOW_READ = "How it was read stands under Sources."
COMPARE = "If you have the manual in hand, compare before you trust a figure."


@dataclass(frozen=True, slots=True)
class Standing:
    """short: one sentence, for the sheet too. more: what it means for the reader of the page."""

    short: str
    more: str


def standing(engine: Engine) -> Standing:
    """Counted over everything that has a status: figures, designations and statements."""
    told = [fact for fact in engine.facts if fact.kind != "word"]
    days = sorted(fact.compared.day for fact in told if fact.compared)
    contested = sum(fact.status == "contested" for fact in told)
    differ = f" Contested: {contested}, where two readers differ." if contested else ""
    if not days:
        more = f"Nobody has yet held this record against the printed page.{differ} {HOW_READ} {COMPARE}"
        return Standing("Transcribed, not compared: hold each figure against the manual before you trust it.", more)
    if len(days) < len(told):
        short = f"Compared: {len(days)} of {len(told)} figures and statements, last on {days[-1]}; hold the others against the manual."
        more = f"A second person held those marked compared against the printed page; nobody the others.{differ} {HOW_READ} {COMPARE}"
        return Standing(short, more)
    return Standing(f"Compared: a second person held everything here against the printed page, last on {days[-1]}.", HOW_READ)
