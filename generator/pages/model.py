"""The JSON model of a record: parsed figures, values in base units, places, orders and pulls. The browser reads only this."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

from generator.audit import Findings
from generator.pages.figures import anchor
from generator.pages.pulls import loosening_model, tightening_model
from generator.pages.warnings import warnings_of
from generator.quantities import Statement
from generator.record.engine import Engine, Head
from generator.record.facts import Cite, Compared, Doubt, Fact
from generator.record.fasteners import FastenerSet, Stage
from generator.record.library import Library

SCHEMA_VERSION = 1
# What the base unit of each dimension is called in the model.
BASE_UNITS = {
    "length": "m", "angle": "deg", "torque": "N.m", "pressure": "Pa", "volume": "m3", "area": "m2", "temperature": "K",
    "temperature difference": "K", "force": "N", "mass": "kg", "rotational speed": "rpm", "time": "s", "fraction": "1", "ratio": "1",
}


def model_path(engine: Engine) -> str:
    """The model's file, from the site's folder."""
    return f"api/engines/{engine.id}.json"


def engine_model(engine: Engine, library: Library, changed: date | None, found: Findings | None = None) -> dict[str, Any]:
    """Everything of a record that a page or worksheet may need. found: what the check found, for its warnings."""
    warnings = warnings_of(engine, found)
    return {
        "schema_version": SCHEMA_VERSION,
        "id": engine.id,
        "name": engine.name,
        "invented": engine.invented,
        "revision": engine.revision,
        "changed": changed.isoformat() if changed else None,
        "sources": [{"id": each, "number": library.sources[each].number, "kind": library.sources[each].kind} for each in engine.sources],
        "facts": [_fact(fact) for fact in engine.facts],
        "fasteners": {key: _set(engine, each) for key, each in engine.sets.items()},
        "heads": [_head(head) for head in engine.heads],
        "warnings": [{"rule": each.rule, "at": each.at, "message": each.message} for each in warnings.left],
        "exceptions": [{"rule": each.rule, "at": each.at, "message": each.message, "reason": each.reason} for each in warnings.excepted],
    }


def index_model(library: Library) -> dict[str, Any]:
    """The list of engines with their models' paths."""
    engines = sorted(library.engines.values(), key=lambda engine: engine.id)
    return {
        "schema_version": SCHEMA_VERSION,
        "engines": [
            {"id": each.id, "name": each.name, "invented": each.invented, "revision": each.revision, "model": model_path(each)} for each in engines
        ],
    }


def as_json(model: dict[str, Any]) -> str:
    """One spelling of a model: keys in the order above, no escapes for letters, no room between: it is written a thousand times."""
    return json.dumps(model, ensure_ascii=False, separators=(",", ":")) + "\n"


def _fact(fact: Fact) -> dict[str, Any]:
    found: dict[str, Any] = {
        "at": ".".join(map(str, fact.at)), "anchor": anchor(fact.at), "labels": list(fact.labels), "kind": fact.kind, "status": fact.status,
        "compared": _compared(fact.compared), "cite": _cite(fact.cite), "when": fact.when,
        "called": fact.called, "doubt": _doubt(fact.doubt), "superseded_by": fact.superseded_by,
    }
    if fact.kind != "figure":
        return found | {"text": fact.text}
    return found | {
        "printed": [_statement(each) for each in fact.printed],
        "conversions": [_statement(each) for each in fact.conversions],
        "agreement": {"verdict": fact.agreement.verdict, "says": fact.agreement.says},
    }


def _statement(statement: Statement) -> dict[str, Any]:
    unit = statement.unit
    found: dict[str, Any] = {"text": str(statement), "form": statement.form, "unit": unit.symbol if unit else None}
    if unit is None:
        return found
    ends = {"low": statement.low, "high": statement.high}
    base = {end: None if value is None else float(unit.to_base(value)) for end, value in ends.items()}
    return found | {
        "dimension": unit.dimension, "base_unit": BASE_UNITS[unit.dimension], **base, "strict": statement.form in ("under", "over"),
        "in_unit": [None if value is None else float(value) for value in ends.values()],
    }


def _cite(cite: Cite | None) -> dict[str, str] | None:
    return {"source": cite.source, "place": cite.place} if cite else None


def _doubt(doubt: Doubt | None) -> dict[str, str] | None:
    return {"kind": doubt.kind, "says": doubt.says} if doubt else None


def _compared(compared: Compared | None) -> dict[str, str] | None:
    return {"day": compared.day, "edition": compared.edition} if compared else None


def _set(engine: Engine, each: FastenerSet) -> dict[str, Any]:
    return {
        "per": each.per,
        "groups": {name: {key: block.get(key) for key in ("kind", "count", "label")} for name, block in each.groups.items()},
        "places": {
            spot.name: {"x": spot.x, "y": spot.y, "group": spot.group, "heads": list(spot.heads), "opens": spot.opens}
            for spot in each.spots.values()
        },
        "orders": {name: list(order) for name, order in each.orders.items()},
        "order_in_figure": each.order_in_figure,
        "walk": each.walk,
        "stages": [_stage(each, stage) for stage in each.stages],
        "tightening": tightening_model(engine, each),
        "loosening": loosening_model(engine, each),
    }


def _stage(each: FastenerSet, stage: Stage) -> dict[str, Any]:
    return {
        "do": stage.do, "order": stage.order, "groups": list(stage.groups), "places": each.covered(stage),
        "figures": [_fact(fact) for fact in stage.figures], "rounds": list(stage.rounds),
        "until": stage.until, "when": stage.when, "method": stage.method, "by": stage.by,
        "cite": _cite(stage.cite), "doubt": _doubt(stage.doubt),
    }


def _head(head: Head) -> dict[str, Any]:
    return {
        "name": head.name, "outline": [list(point) for point in head.outline], "dowels": [list(point) for point in head.dowels],
        "round": {"x": head.round.x, "y": head.round.y, "diameter": head.round.diameter} if head.round else None,
        "bores": [{"name": bore.name, "x": bore.x, "y": bore.y, "diameter": bore.diameter} for bore in head.bores],
        "front": head.front, "exhaust": head.exhaust,
    }
