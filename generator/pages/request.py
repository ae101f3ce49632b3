"""The machine-shop request: one page that goes with the head, with this engine's limits and room for what is found."""

from __future__ import annotations

from dataclasses import dataclass

from generator.pages.figures import FactView, fact_view
from generator.pages.page import filled
from generator.pages.policy import policy
from generator.pages.sheet import paper_style, qr, short_cite, source_letters
from generator.record.engine import Engine
from generator.record.library import Library


@dataclass(frozen=True, slots=True)
class Ask:
    """Something to measure and report. places: where the record's limit stands.

    fact, words: a fact of the engine's identity and the words with which it is asked; asked too where the record is silent.
    """

    what: str
    places: tuple[str, ...] = ()
    fact: str = ""
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class AskView:
    """A row of the table. condition: where the record does not say whether it applies."""

    what: str
    condition: str
    limits: list[FactView]
    cites: str
    known: bool


# Only then do the ports end in the head.
_VALVES_IN_HEAD = ("push rod", "single overhead camshaft", "double overhead camshaft")
# Asked of every shop whatever the record says (common practice, no source); limits only from the record.
ASKS = (
    Ask("crack test: method, where, result", ("cracks",)),
    Ask("pressure test: pressure, temperature, result"),
    Ask("flatness of the head face, before and after", ("faces.head.flatness",)),
    Ask("straightened before cutting: how much"),
    Ask("camshafts turn free, before and after", (), "valve_train", ("single overhead camshaft", "double overhead camshaft")),
    Ask("hardness, where it was overheated", ("faces.head.hardness",), "head_material", ("aluminium",)),
    Ask("taken off this time, and in all", ("faces.head.stock_removal",)),
    Ask("head height after the cut", ("faces.head.height",)),
    Ask("surface finish after the cut", ("faces.head.finish",)),
    Ask("valve recession after the cut", ("valves.recession",), "valve_train", _VALVES_IN_HEAD),
    Ask("valve seats tested for leaks", (), "valve_train", _VALVES_IN_HEAD),
    Ask("stem in guide", ("valves.stem_clearance",), "valve_train", _VALVES_IN_HEAD),
    Ask("flatness of the manifold faces", ("faces.exhaust_manifold.flatness", "faces.intake_manifold.flatness"), "valve_train", _VALVES_IN_HEAD),
)


def request_path(engine: Engine) -> str:
    """The request's file, from the site's folder."""
    return f"requests/{engine.id}.html"


def request(engine: Engine, library: Library) -> str:
    """The whole file, one page."""
    letters = source_letters(engine)
    asks = [_view(ask, engine, library, letters) for ask in ASKS if _asked(ask, engine)]
    alike = engine.says("identity.layout") in ("vee", "opposed", "") and engine.says("identity.cylinders") != "1"
    return filled(
        "request.html",
        engine=engine, sources=[(letters[each], library.sources[each]) for each in engine.sources if each in library.sources],
        asks=asks, alike=alike, qr=qr(engine), pages=1, style=paper_style(), policy=policy(styles=[paper_style()]),
    )


def _asked(ask: Ask, engine: Engine) -> bool:
    return not ask.fact or engine.says(f"identity.{ask.fact}") in ("", *ask.words)


def _view(ask: Ask, engine: Engine, library: Library, letters: dict[str, str]) -> AskView:
    facts = [fact for place in ask.places for fact in engine.below(place)]
    cites = ", ".join(dict.fromkeys(short_cite(fact.cite, letters) for fact in facts))
    condition = "where it applies: " if ask.fact and not engine.says(f"identity.{ask.fact}") else ""
    return AskView(ask.what, condition, [fact_view(fact, library, 2) for fact in facts], cites, bool(ask.places))
