"""What a page shows of a fact: its words, its source, its doubt."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from generator.pages.wording import joined, sentence
from generator.quantities import DISAGREE, Statement
from generator.reading import At
from generator.record.engine import Engine
from generator.record.facts import Cite, Doubt, Fact
from generator.record.library import Library
from generator.record.source import Source


@dataclass(frozen=True, slots=True)
class CiteView:
    """number: the source's short name. place: in it; empty for the trade's practice. href: its page, from the site's folder."""

    number: str
    place: str
    href: str


@dataclass(frozen=True, slots=True)
class FactView:
    """One row of a page. anchor: unique on the engine's page. state: how far it was checked, in words; empty for transcribed."""

    anchor: str
    label: str
    called: str
    printed: tuple[Statement, ...]
    text: str
    conversions: tuple[Statement, ...]
    when: str
    warning: str
    status: str
    state: str
    compared_on: str
    superseded_by: str
    cite: CiteView | None


def source_path(source: Source) -> str:
    """Page of a source, from the site's folder."""
    return f"sources/{source.id}.html"


def cite_view(cite: Cite | None, library: Library) -> CiteView | None:
    """A cite for people; None for one that does not resolve, which the audit refuses before a page is made."""
    source = library.sources.get(cite.source) if cite else None
    if cite is None or source is None:
        return None
    return CiteView(source.number, "" if source.is_practice else cite.place, source_path(source))


def anchor(at: At) -> str:
    """The id of a fact's row on its engine's page."""
    return "-".join(str(part).replace("_", "-") for part in at)


_DOUBTS = {
    "manual": "Doubtful as the manual prints it",
    "scan": "The scan leaves a doubt",
    "rounding": "The printed units agree only if one is rounded",
}


def doubt_words(doubt: Doubt | None) -> str:
    """A doubt in words; empty if there is none."""
    return f"{_DOUBTS[doubt.kind]}: {doubt.says}." if doubt else ""


def warning(fact: Fact) -> str:
    """The doubt about a fact in words, and what it means for the reader; empty if there is none."""
    said = doubt_words(fact.doubt)
    if fact.agreement.verdict == DISAGREE:
        said += " The printed units disagree, so nothing is converted: trust neither until you have checked it in the manual."
    elif any(statement.form == "unreadable" for statement in fact.printed):
        said += " Part of it cannot be read, so nothing is converted: trust none of it until you have checked it in the manual."
    if fact.status == "contested":
        said += " Two readers differ: trust neither until you have checked it in the manual."
    return said.strip()


def _state(fact: Fact) -> str:
    if fact.compared:
        return f"compared {fact.compared.day}, edition {fact.compared.edition}"
    return "" if fact.status == "transcribed" else fact.status


def fact_view(fact: Fact, library: Library, skip: int = 1) -> FactView:
    """A row. skip: how many labels the heading above it already says."""
    return FactView(
        anchor=anchor(fact.at),
        label=joined(fact.labels[skip:]) or sentence(fact.labels[-1]),
        called=fact.called,
        printed=fact.printed,
        text=fact.text,
        conversions=fact.conversions,
        when=fact.when,
        warning=warning(fact),
        status=fact.status,
        state=_state(fact),
        compared_on=fact.compared.day if fact.compared else "",
        superseded_by=_replacement(fact, library),
        cite=cite_view(fact.cite, library),
    )


def _replacement(fact: Fact, library: Library) -> str:
    """What replaces a figure, for people: the source's short name and the place."""
    view = cite_view(Cite.read(fact.superseded_by), library) if fact.superseded_by else None
    return f"{view.number}, {view.place}" if view else fact.superseded_by


Section = tuple[str, str, list[FactView]]  # of a record: anchor, heading, rows


def sections(engine: Engine, library: Library) -> list[Section]:
    """All facts by section of the record."""
    found = []
    for key, facts in groupby(engine.facts, key=lambda fact: str(fact.at[0])):
        rows = [fact_view(fact, library) for fact in facts]
        heading = library.schemas.shape("engine").children[key].title
        found.append((f"section-{key}", heading, rows))
    return found
