"""Pulls in the JSON model: what the walk-through goes through, and the inputs that its twin in the browser expands."""

from __future__ import annotations

from typing import Any

from generator.audit.pulls import figures_of, groups, loosened, planned, pulls, values_of
from generator.calculations.tightening import STAGE_BY_STAGE, Pull, Stage
from generator.quantities import Quantity
from generator.record.engine import Engine
from generator.record.facts import Fact
from generator.record.fasteners import FastenerSet


def tightening_model(engine: Engine, each: FastenerSet) -> dict[str, Any]:
    """Inputs and result of `calculations.tightening.expand` for a set, no target chosen yet.

    implied: the record has one torque and no stages. stages: one for each that the pulls name by index, with the
    figures that the reader may pick from; a stage of which one is picked takes that figure's values.
    """
    stages = list(zip(planned(engine, each), figures_of(engine, each), strict=True))
    return {
        "walk": each.walk or STAGE_BY_STAGE,
        "implied": bool(stages) and not each.stages,
        "groups": groups(each),
        "stages": [_stage(stage, facts) for stage, facts in stages],
        "pulls": [_pull(pull) for pull in pulls(engine, each)],
    }


def loosening_model(engine: Engine, each: FastenerSet) -> dict[str, Any]:
    """How the bolts come out: order, where it comes from, how, and one part-turn a bolt; round and round until all are loose."""
    found = loosened(engine, each)
    return {
        "order": list(found.order), "own": bool(each.loosening), "in_figure": each.loosening_in_figure,
        "basis": found.basis, "text": found.text,
        "pulls": [{"place": place, "position": position} for position, place in enumerate(found.order, start=1)],
    }


def _stage(stage: Stage, facts: tuple[Fact, ...]) -> dict[str, Any]:
    return {
        "do": stage.do, "order": list(stage.order), "covers": list(stage.covers),
        **{key: _quantity(getattr(stage, key)) for key in ("low", "high", "nominal", "first", "by")},
        "doubtful": stage.doubtful, "text": stage.text, "until": stage.until, "when": stage.when, "method": stage.method,
        "figures": [_figure(fact) for fact in facts],
    }


def _figure(fact: Fact) -> dict[str, Any]:
    values = values_of(fact)
    bounds = {key: _quantity(values.get(key)) for key in ("low", "high", "nominal")}
    return {"at": ".".join(map(str, fact.at)), **bounds, "doubtful": values["doubtful"]}


def _pull(pull: Pull) -> dict[str, Any]:
    return {
        "stage": pull.stage, "action": pull.action, "place": pull.place, "position": pull.position, "round": pull.round,
        "low": _quantity(pull.low), "high": _quantity(pull.high), "target": _quantity(pull.target), "state": pull.state,
        "order_known": pull.order_known, "covers": list(pull.covers),
    }


def _quantity(quantity: Quantity | None) -> dict[str, Any] | None:
    return {"value": quantity.value, "unit": quantity.unit} if quantity else None
