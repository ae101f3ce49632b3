"""A set of fasteners as the stages that the calculation expands into pulls; a set that cannot be expanded is an error of its record."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.audit.fasteners import left_out
from generator.audit.rule import Rule
from generator.audit.values import bounds, quantity
from generator.calculations.result import InputError
from generator.calculations.tightening import STAGE_BY_STAGE, Loosening, Pull, expand, loosening
from generator.calculations.tightening import Stage as Planned
from generator.quantities import AGREE, Quantity, Statement, StatementError, parse
from generator.reading import Problem
from generator.record.engine import Engine
from generator.record.facts import Fact
from generator.record.fasteners import FastenerSet, Stage
from generator.record.library import Library


def planned(engine: Engine, each: FastenerSet) -> tuple[Planned, ...]:
    """The stages of a set as plain values; where the record has only a torque, one stage of it.

    Doubtful: a figure with any doubt, contested, or whose printed units do not plainly agree. Where several figures
    are live, nothing is merged: the stage is doubtful and has no bounds, and the reader picks the source.
    """
    if each.stages:
        return tuple(_stage(each, stage) for stage in each.stages)
    figures = figures_of(engine, each)
    order = next(iter(each.orders), "") if len(each.orders) == 1 else ""
    return tuple(Planned("torque", each.orders.get(order, ()), _covers(each, order, ()), **_figure(facts)) for facts in figures)


def figures_of(engine: Engine, each: FastenerSet) -> list[tuple[Fact, ...]]:
    """The live figures of each stage of `planned`, one a source; none for a stage of rounds, a loosening or a wait."""
    if each.stages:
        return [_live(stage.figures) for stage in each.stages]
    torques = _live(engine.at(".".join((*map(str, each.at), "torque"))))
    return [torques] if torques else []


def _live(facts: tuple[Fact, ...]) -> tuple[Fact, ...]:
    return tuple(fact for fact in facts if not fact.superseded_by)


def pulls(engine: Engine, each: FastenerSet) -> tuple[Pull, ...]:
    """Every pull of a set in the order of the work, no target chosen yet. Raise InputError where the stages cannot be expanded."""
    return expand(planned(engine, each), groups(each), each.walk or STAGE_BY_STAGE)


def loosened(engine: Engine, each: FastenerSet) -> Loosening:
    """How the bolts of a set come out. Raise InputError for an order that leaves out a bolt."""
    return loosening(planned(engine, each), groups(each), each.loosening)


def groups(each: FastenerSet) -> dict[str, str]:
    """Group of each place."""
    return {name: spot.group for name, spot in each.spots.items()}


def _stage(each: FastenerSet, stage: Stage) -> Planned:
    more = _rounds(stage) if stage.do == "steps" else _figure(stage.figures) if stage.figures else _turn(stage)
    more["doubtful"] = more.get("doubtful", False) or stage.doubt is not None
    return Planned(
        stage.do, each.orders.get(stage.order, ()), _covers(each, stage.order, stage.groups),
        until=stage.until, when=stage.when, method=stage.method, **more,
    )


def _covers(each: FastenerSet, order: str, named: tuple[str, ...]) -> tuple[str, ...]:
    """The groups a stage is for: those it names, else those of its order, else all."""
    if named or not each.spots:
        return named
    places = each.orders.get(order, ())
    found = {each.spots[place].group for place in places if place in each.spots}
    everything = {spot.group for spot in each.spots.values()}
    return () if not found or found == everything else tuple(group for group in each.groups if group in found)


def _figure(facts: tuple[Fact, ...]) -> dict[str, Any]:
    """Bounds of the one live figure, and whether it may be trusted."""
    live = _live(facts)
    return values_of(live[0]) if len(live) == 1 else {"doubtful": True}


def values_of(fact: Fact) -> dict[str, Any]:
    """low, high, nominal of a figure's leading unit, as far as it has them, and doubtful."""
    leading = fact.printed[0] if fact.printed else None
    doubtful = fact.doubt is not None or fact.status == "contested" or fact.agreement.verdict != AGREE or leading is None or leading.unit is None
    return {**(_bounds(leading) if leading else {}), "doubtful": doubtful}


def _bounds(statement: Statement) -> dict[str, Quantity | None]:
    if statement.unit is None:
        return {}
    low, high = bounds(statement)
    nominal = quantity(statement.numbers[0].value, statement) if statement.form == "tolerance" else None
    return {"low": low, "high": high, "nominal": nominal}


def _rounds(stage: Stage) -> dict[str, Any]:
    first, by, last = (parse(text) for text in stage.rounds)
    return {**_bounds(last), "first": bounds(first)[0], "by": bounds(by)[0]}


def _turn(stage: Stage) -> dict[str, Any]:
    """How far a loosening goes, where that is a quantity; else its words."""
    if not stage.by:
        return {}
    try:
        statement = parse(stage.by)
    except StatementError:
        return {"text": stage.by}
    return _bounds(statement)


def _expandable(engine: Engine, library: Library) -> Iterator[Problem]:
    for each in engine.sets.values():
        if any(left_out(each)):
            continue  # order-complete says it
        at = (*each.at, "tightening") if each.stages else each.at
        try:
            stages, places = planned(engine, each), groups(each)
            expand(stages, places, each.walk or STAGE_BY_STAGE)
            loosening(stages, places, each.loosening)
        except InputError as error:
            message = f"the stages cannot be walked pull by pull: {error}"
            yield engine.file.problem(at, "pulls-expand", message, "correct the stage or the order that is named")
        except StatementError as error:
            yield engine.file.problem(at, "pulls-expand", f"a stage of rounds cannot be read: {error}", error.hint)


RULES = [
    Rule("pulls-expand", "Stages that cannot be walked pull by pull.", "steps from 50 N.m up to 30 N.m", _expandable),
]
