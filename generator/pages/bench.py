"""What the bench needs beside a page: the model as a script, and which tool stands at which step."""

from __future__ import annotations

import json
from dataclasses import asdict
from datetime import date

from generator.pages.model import engine_model
from generator.pages.scripts import bundle_path
from generator.record.engine import Engine
from generator.record.library import Library
from generator.record.procedure import Sign

_UNREAD = ("anchor", "labels", "conversions", "called")
WALKS = ("loosening", "tightening")
# Those that are filled in for each head apart.
BY_HEAD = ("loosening", "tightening", "flatness-head", "flatness-deck", "height")
# Sets whose places hold for each head apart; others are walked as one.
_APART = ("head", "bank", "cylinder")


def scripts_of(engine: Engine | None) -> list[str]:
    """Scripts of a page of the procedure, from the site's folder."""
    return [*([model_script_path(engine)] if engine else []), bundle_path("bench")]


def model_script_path(engine: Engine) -> str:
    """The model as a classic script: a page opened from disk may load a script, but not fetch data."""
    return f"api/engines/{engine.id}.js"


def model_script(engine: Engine, library: Library, changed: date | None) -> str:
    """The model and the signs of trouble, as globals. What the bench never reads, or works out itself, is left to the JSON file."""
    model = engine_model(engine, library, changed)
    model["facts"] = [{key: value for key, value in fact.items() if key not in _UNREAD} for fact in model["facts"]]
    for each in model["fasteners"].values():
        del each["stages"], each["tightening"]["pulls"], each["loosening"]["pulls"]
    data = json.dumps(model, ensure_ascii=False, separators=(",", ":"))
    told = json.dumps(signs(library), ensure_ascii=False, separators=(",", ":"))
    text = f"window.Firedeck = window.Firedeck || {{}};\nFiredeck.model = {data};\nFiredeck.signs = {told};\n"
    return text.replace("</", "<\\/").replace("<!", "<\\!")  # it also stands inline in the pocket copy


def signs(library: Library) -> list[dict[str, str]]:
    """The signs of trouble as the walk-through reads them."""
    return [_sign(sign) for phase in library.phases for sign in phase.signs]


def _sign(sign: Sign) -> dict[str, str]:
    return {key: str(value) for key, value in asdict(sign).items() if key in ("id", "sign", "means", "again")}


def walked_heads(engine: Engine | None) -> list[str]:
    """Names of the heads whose bolts are walked one after the other; one without a name where they are walked as one."""
    head = engine.sets.get("head") if engine else None
    apart = engine is not None and head is not None and head.per in _APART and len(engine.heads) > 1
    return [each.name for each in engine.heads] if apart and engine else [""]
