"""What the bench needs beside a page: the model as a script, and which tool stands at which step."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from datetime import date
from typing import Any

from generator.pages.model import engine_model
from generator.pages.scripts import bundle_path
from generator.pages.short import SCRIPT, short
from generator.quantities import AGREE
from generator.record.engine import Engine
from generator.record.library import Library
from generator.record.procedure import Sign

# What the bench never reads, or works out itself: of a fact and of a statement.
_UNREAD = ("anchor", "labels", "conversions", "called", "compared")
_DERIVED = ("form", "dimension", "base_unit", "low", "high")
# What most facts say; they are written without it, and without the cite of the fact before them, and filled in when the script is loaded.
_USUAL = {"kind": "figure", "status": "transcribed", "when": "", "doubt": None, "superseded_by": "", "agreement": {"verdict": AGREE, "says": ""}}
_MISSING = object()
_FILL = "Firedeck.model.facts.reduce((cite, fact) => Object.assign(fact, {...%s, cite, ...fact}).cite, null);"
_WALKED = ("head",)  # sets of fasteners that the bench walks; no worksheet reads another
WALKS = ("loosening", "tightening")
# What decides whether a tool stands on the page for each head apart: how the bolts are walked, nothing but the heads, or the layout of the deck.
APART_BY = dict.fromkeys(WALKS, "walk") | dict.fromkeys(("flatness-head", "height", "cut"), "head") | {"flatness-deck": "deck"}
# Tools that work only with a table of the record, each with a bundle of its own name: where the table stands.
_LOOKED_UP = {"gasket": "gasket.choice"}
# Sets whose places hold for each head apart; others are walked as one.
_APART = ("head", "bank", "cylinder")
# Layouts in which every head stands on a deck or a barrel of its own.
_OWN_DECK = ("vee", "opposed", "single")


def works(tool: str, engine: Engine) -> bool:
    """Whether the record has what the tool looks things up in."""
    return tool not in _LOOKED_UP or bool(engine.below(_LOOKED_UP[tool]))


def bundles_of(engine: Engine | None) -> list[str]:
    """What a page of the procedure carries, wherever it stands."""
    return ["tables", "bench", *(tool for tool in _LOOKED_UP if engine and works(tool, engine))]


def scripts_of(engine: Engine | None) -> list[str]:
    """Scripts of a page of the procedure, from the site's folder."""
    return [*([model_script_path(engine)] if engine else []), *map(bundle_path, [*bundles_of(engine), "kept"])]


def model_script_path(engine: Engine) -> str:
    """The model as a classic script: a page opened from disk may load a script, but not fetch data."""
    return f"api/engines/{engine.id}.js"


def model_script(engine: Engine, library: Library, changed: date | None) -> str:
    """The model and the signs of trouble, as globals. What the bench never reads, or works out itself, is left to the JSON file."""
    model = engine_model(engine, library, changed)
    model["fasteners"] = {key: each for key, each in model["fasteners"].items() if key in _WALKED}
    model["facts"] = _sparse([_read(fact) for fact in model["facts"] if not _of_other_set(fact["at"])])
    for each in model["fasteners"].values():
        del each["stages"], each["tightening"]["pulls"], each["loosening"]["pulls"]
    room = "window.Firedeck = window.Firedeck || {};"
    text = "\n".join([room, f"Firedeck.model = {_text(model)};", _FILL % _text(_USUAL), f"Firedeck.signs = {_text(signs(library))};"])
    return short(SCRIPT, text).replace("</", "<\\/").replace("<!", "<\\!")  # it also stands inline in the pocket copy


def _text(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def _of_other_set(at: str) -> bool:
    block, _, rest = at.partition(".")
    return block == "fasteners" and rest.partition(".")[0] not in _WALKED


def _read(fact: Mapping[str, Any]) -> dict[str, Any]:
    """A fact as the bench reads it."""
    found = {key: value for key, value in fact.items() if key not in _UNREAD}
    if "printed" in fact:
        found["printed"] = [{key: value for key, value in each.items() if key not in _DERIVED and value is not False} for each in fact["printed"]]
    return found


def _sparse(facts: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    """Facts without what is usual, and without a cite that is that of the fact before."""
    before: Sequence[Mapping[str, Any]] = [{"cite": None}, *facts]
    return [
        {key: value for key, value in fact.items() if value != (earlier["cite"] if key == "cite" else _USUAL.get(key, _MISSING))}
        for earlier, fact in zip(before, facts, strict=False)
    ]


def signs(library: Library) -> list[dict[str, str]]:
    """The signs of trouble as the walk-through reads them."""
    return [_sign(sign) for phase in library.phases for sign in phase.signs]


def _sign(sign: Sign) -> dict[str, str]:
    return {key: str(value) for key, value in asdict(sign).items() if key in ("id", "sign", "means", "again")}


def heads_of(engine: Engine | None) -> dict[str, list[str]]:
    """Names of the heads for which each tool stands on the page apart; one without a name where it stands there once."""
    names = [head.name for head in engine.heads] if engine and len(engine.heads) > 1 else [""]
    head = engine.sets.get("head") if engine else None
    walked = names if head is not None and head.per in _APART else [""]
    decks = names if engine and engine.says("identity.layout") in _OWN_DECK else [""]
    apart = {"walk": walked, "head": names, "deck": decks}
    return defaultdict(lambda: [""], {tool: apart[by] for tool, by in APART_BY.items()})
