"""Orders and counts must fit the places."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from generator.audit.rule import Rule
from generator.reading import Problem
from generator.record.engine import Engine
from generator.record.fasteners import FastenerSet
from generator.record.library import Library


def _complete(engine: Engine, library: Library) -> Iterator[Problem]:
    for each in engine.sets.values():
        for name, missing in left_out(each):
            at = (*each.at, "tightening", "orders", name)
            message = f"the order {name!r} leaves out {', '.join(missing)}, which its stages tighten"
            yield engine.file.problem(at, "order-complete", message, "add the place, or give the stage its groups")


def left_out(each: FastenerSet) -> Iterator[tuple[str, list[str]]]:
    """Orders with the places they leave out: each stage must reach every place of its groups, by all orders taken together."""
    for name, order in each.orders.items():
        groups = {group for stage in each.stages if stage.order == name for group in stage.groups or each.groups}
        missing = [spot.name for spot in each.spots.values() if spot.group in groups and spot.name not in order]
        if missing and not _elsewhere(each, name, missing):
            yield name, missing


def _elsewhere(each: FastenerSet, name: str, missing: list[str]) -> bool:
    """Whether stages without groups of their own leave these places to another order."""
    others = {place for other, order in each.orders.items() if other != name for place in order}
    explicit = any(stage.groups for stage in each.stages if stage.order == name)
    return not explicit and set(missing) <= others


def _counts(engine: Engine, library: Library) -> Iterator[Problem]:
    for each in engine.sets.values():
        found = Counter(spot.group for spot in each.spots.values())
        for name, group in each.groups.items():
            count = group.get("count")
            if each.spots and isinstance(count, int) and count != found[name]:
                message = f"group {name!r} has {count} fasteners, but {found[name]} places"
                yield engine.file.problem((*each.at, "groups", name, "count"), "count-matches-places", message, "correct the number or the places")


RULES = [
    Rule("order-complete", "An order that forgets a bolt.", "ten places, nine names in the order", _complete),
    Rule("count-matches-places", "A number of bolts that is not the number of places.", "count: 10 with nine places", _counts),
]
