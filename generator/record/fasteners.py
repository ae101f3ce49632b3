"""Sets of fasteners: groups, places, orders and stages, typed for diagrams and pulls."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from generator.reading import At, Problem, ReadFile, nearest
from generator.record.facts import Cite, Doubt, Fact, own_cite

# What the figure of a stage must measure.
STAGE_DIMENSIONS = {"torque": "torque", "recheck": "torque", "retorque": "torque", "angle": "angle"}


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one fastener stands, in mm, seen from the wrench's side.

    heads: the drawn heads it holds, empty for every one. opens: what its hole opens
    into. depth: figures of the hole's usable depth.
    """

    name: str
    x: float
    y: float
    group: str
    heads: tuple[str, ...] = ()
    opens: str = ""
    depth: tuple[Fact, ...] = ()


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage. figures: its torque or angle, one a source. rounds: (from, by, to) of a stage of steps, as printed."""

    at: At
    do: str
    order: str
    groups: tuple[str, ...]
    figures: tuple[Fact, ...]
    rounds: tuple[str, ...]
    until: str
    when: str
    method: str
    by: str
    cite: Cite | None
    doubt: Doubt | None


@dataclass(frozen=True)
class FastenerSet:
    """One set as its record gives it; empty where the record is silent.

    key: head, cam_caps, … orders: place names by the name of the order.
    order_in_figure: where the order is to be found if it is not transcribed.
    """

    key: str
    at: At
    per: str = ""
    groups: dict[str, dict[str, Any]] = field(default_factory=dict)
    spots: dict[str, Spot] = field(default_factory=dict)
    orders: dict[str, tuple[str, ...]] = field(default_factory=dict)
    order_in_figure: str = ""
    order_cite: Cite | None = None
    stages: tuple[Stage, ...] = ()
    walk: str = ""
    loosening: tuple[str, ...] = ()
    loosening_in_figure: str = ""

    def covered(self, stage: Stage) -> list[str]:
        """Places that a stage turns, in its order; empty where the record gives no order."""
        wanted = set(stage.groups or self.groups)
        return [name for name in self.orders.get(stage.order, ()) if name in self.spots and self.spots[name].group in wanted]


def read_sets(data: Any, facts: list[Fact]) -> dict[str, FastenerSet]:
    """Typed sets of the 'fasteners' block. What has not the shape of the schema is left out; the schema's check reports it."""
    if not isinstance(data, dict):
        return {}
    return {key: _set(key, block, facts) for key, block in data.items() if isinstance(block, dict)}


def _set(key: str, block: dict[str, Any], facts: list[Fact]) -> FastenerSet:
    at: At = ("fasteners", key)
    tightening = _mapping(block, "tightening")
    orders = _mapping(tightening, "orders")
    loosening = _mapping(block, "loosening").get("order")
    cite = own_cite(tightening) or own_cite(block)
    of_orders = own_cite(orders) or cite
    return FastenerSet(
        key=key,
        at=at,
        per=str(block.get("per", "")),
        groups={name: group for name, group in _mapping(block, "groups").items() if isinstance(group, dict)},
        spots=dict(_spots(_mapping(block, "places"), (*at, "places"), facts)),
        orders={name: tuple(map(str, places)) for name, places in orders.items() if isinstance(places, list)},
        order_in_figure=str(orders.get("in_figure", "")),
        order_cite=Cite.read(of_orders) if of_orders else None,
        stages=tuple(_stages(tightening, (*at, "tightening", "stages"), facts, cite)),
        walk=str(tightening.get("walk", "")),
        loosening=tuple(map(str, loosening)) if isinstance(loosening, list) else (),
        loosening_in_figure=str(loosening.get("in_figure", "")) if isinstance(loosening, dict) else "",
    )


def _mapping(block: dict[str, Any], key: str) -> dict[str, Any]:
    value = block.get(key)
    return value if isinstance(value, dict) else {}


def _spots(places: dict[str, Any], at: At, facts: list[Fact]) -> Iterator[tuple[str, Spot]]:
    for name, place in places.items():
        match place:
            case {"at": [int() | float() as x, int() | float() as y], "group": str(group)}:
                hole, heads = _mapping(place, "hole"), place.get("heads")
                depth = tuple(fact for fact in facts if fact.key == (*at, name, "hole", "depth")) if "depth" in hole else ()
                held = tuple(map(str, heads)) if isinstance(heads, list) else ()
                yield name, Spot(name, float(x), float(y), group, held, str(hole.get("opens", "")), depth)


def _stages(tightening: dict[str, Any], at: At, facts: list[Fact], cite: str | None) -> Iterator[Stage]:
    stages = tightening.get("stages")
    for index, stage in enumerate(stages if isinstance(stages, list) else []):
        if isinstance(stage, dict):
            yield _stage(stage, (*at, index), facts, cite)


def _stage(stage: dict[str, Any], at: At, facts: list[Fact], cite: str | None) -> Stage:
    own, doubt, groups = own_cite(stage) or cite, stage.get("doubt"), stage.get("groups")
    return Stage(
        at=at,
        do=str(stage.get("do", "")),
        order=str(stage.get("order", "")),
        groups=tuple(map(str, groups)) if isinstance(groups, list) else (),
        figures=tuple(fact for fact in facts if fact.key == (*at, "figure")),
        rounds=tuple(str(stage[key]) for key in ("from", "by", "to") if key in stage) if stage.get("do") == "steps" else (),
        until=str(stage.get("until", "")),
        when=str(stage.get("when", "")),
        method=str(stage.get("method", "")),
        by=str(stage.get("by", "")),
        cite=Cite.read(own) if own else None,
        doubt=Doubt(str(doubt.get("kind", "")), str(doubt.get("says", ""))) if isinstance(doubt, dict) else None,
    )


def problems_of(file: ReadFile, sets: dict[str, FastenerSet]) -> Iterator[Problem]:
    """Names inside the sets that stand for nothing, and stages whose figure measures the wrong thing."""
    for each in sets.values():
        yield from _unknown_groups(file, each)
        yield from _unknown_places(file, each)
        for stage in each.stages:
            yield from _stage_problems(file, each, stage)


def _unknown_groups(file: ReadFile, each: FastenerSet) -> Iterator[Problem]:
    if each.spots and not each.groups:
        message = f"the places name groups, but '{each.key}' has no groups"
        hint = "add 'groups' with a name and a kind for each: all: {kind: bolt}"
        yield file.problem((*each.at, "places"), "group-known", message, hint, key=True)
        return
    for name, spot in each.spots.items():
        if spot.group not in each.groups:
            message = f"place {name} is in group {spot.group!r}, which is not among the groups"
            yield file.problem((*each.at, "places", name, "group"), "group-known", message, nearest(spot.group, list(each.groups)))


def _unknown_places(file: ReadFile, each: FastenerSet) -> Iterator[Problem]:
    lists: dict[At, tuple[str, ...]] = {("tightening", "orders", name): order for name, order in each.orders.items()}
    lists[("loosening", "order")] = each.loosening
    for path, order in lists.items():
        if order and not each.spots:
            message = f"the order names places, but '{each.key}' has no places"
            hint = "add 'places' with where each one stands; or write {in_figure: …} if the order is not transcribed"
            yield file.problem((*each.at, *path), "place-known", message, hint, key=True)
            continue
        for index, name in enumerate(order):
            at = (*each.at, *path, index)
            if name not in each.spots:
                yield file.problem(at, "place-known", f"the order names {name!r}, which is not among the places", nearest(name, list(each.spots)))
            elif name in order[:index]:
                yield file.problem(at, "order-once", f"the order names {name} a second time", "name each place once")


def _stage_problems(file: ReadFile, each: FastenerSet, stage: Stage) -> Iterator[Problem]:
    if stage.order and stage.order not in each.orders:
        message = f"the stage uses the order {stage.order!r}, which is not among the orders"
        yield file.problem((*stage.at, "order"), "order-known", message, nearest(stage.order, list(each.orders)))
    for index, group in enumerate(stage.groups):
        if group not in each.groups:
            message = f"the stage is for group {group!r}, which is not among the groups"
            yield file.problem((*stage.at, "groups", index), "group-known", message, nearest(group, list(each.groups)))
    wanted = STAGE_DIMENSIONS.get(stage.do)
    for fact in stage.figures:
        for index, statement in enumerate(fact.printed):
            if wanted and statement.unit and statement.unit.dimension != wanted:
                message = f"{statement} measures {statement.unit.dimension}; a stage of {stage.do} needs a figure of {wanted}"
                yield file.problem((*fact.at, "printed", index), "unit-kind", message, "change the unit or what the stage does")
