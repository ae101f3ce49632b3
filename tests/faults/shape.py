"""What can be seen of a fault: decided from the shape of the record and of the slip, before any check runs.

This is the promise that the check is held to. It knows no rule and asks none: it looks only at
what the record gives (two units, places, bore and stroke and displacement, a list of sources, a
neighbour of the same kind) and at how large the slip is beside the digits that are printed.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from generator.quantities import Statement
from generator.reading import At
from generator.record.engine import Engine
from generator.record.facts import Fact
from generator.record.fasteners import FastenerSet, Stage
from tests.faults.fault import get

# Table: kind of fault, and when it can be seen. Shown beside the results.
CATCHABLE: Mapping[str, str] = {
    "unit exchanged": "two units printed, or inches for millimetres, or psi for kPa, in a size whose magnitude the trade knows",
    "decimal moved": "two units printed, or a range, or a size whose magnitude the trade knows",
    "digits transposed": "two units printed and the change larger than their last digits, or a range that now runs backwards",
    "bounds exchanged": "a range, a limit with one side only, or a limit beside what is new",
    "one printed unit changed": "the change larger than the last digits of the two units",
    "bolt dropped from an order": "places given",
    "bolt doubled in an order": "places given",
    "stage lost": "a printed total angle, or nothing else that tightens this group, or nothing else to turn an angle from",
    "stages out of order": "one group, and two torques that differ, a torque and an angle, a torque and its check, or a loosening; none doubted",
    "pitch wrong": "a pitch that the standard does not have for this diameter",
    "class wrong": "a class that the standard does not have, or a marking printed beside it",
    "cite to the wrong book": "a book that is not in the record's list of sources, or not registered",
    "block pasted from another engine": "with its source; or with figures enough that chance is excluded",
    "displacement or stroke mistyped": "bore, stroke, displacement and cylinders given, or two units, and the volume changed by more than 1.2 %",
    "limit ten times off": "a size whose magnitude the trade knows, or a neighbour of the same kind",
}

# Sizes of which anyone in the trade knows the power of ten. By the end of their key.
KNOWN = re.compile(
    r"identity\.(bore|stroke|ratio)"
    r"|faces\.(head|deck|barrel)\.flatness\.(lengthwise|crosswise|any)"
    r"|faces\.head\.height\.(new|minimum)"
    r"|faces\.head\.finish\.ra"
    r"|faces\.liners\.stand_out"
    r"|gasket\.(thickness|bore)"
    r"|tests\.compression\.(normal|minimum)"
    r"|tests\.(radiator_cap|cooling_system)"
    r"|valves\.clearance\.(intake|exhaust|both)"
    r"|valves\.(seat_angle|face_angle|seat_width)"
    r"|valves\.(stem|guide)\.\w+\.(new|limit)"
    r"|bores\.(bore\.(new|limit)|piston)"
    r"|fasteners\.\w+\.tightening\.(stages\.\d+\.figure|total_angle)"
    r"|fasteners\.(spark_plugs|glow_plugs)\.torque"
)
# Limits that have one side only, by the end of their key.
ONE_SIDED = re.compile(
    r"flatness\.(lengthwise|crosswise|any|local\.limit)$|stock_removal\.(per_cut|total|head_and_block)$|height\.minimum$"
    r"|finish\.(ra|rz|waviness)$|seat_grinding_depth$"
    r"|compression\.(minimum|spread)$|by_altitude\.\d+\.minimum$|leak_down\.maximum$|length_limit$|neck_limit$|bore_wear$|taper$|out_of_round$"
    r"|stem_clearance\.\w+\.limit$|guide\.\w+\.limit$|stem\.\w+\.limit$|bores\.bore\.limit$|piston_to_head$|to_piston\.\w+$"
)
# What counts as a limit for the fault "limit ten times off".
LIMITS = re.compile(
    r"flatness\.(lengthwise|crosswise|any|local\.limit)$|stock_removal\.(per_cut|total|head_and_block)$|height\.minimum$"
    r"|compression\.(minimum|spread)$|\.limit$|maximum$|length_limit$|neck_limit$|bore_wear$|taper$|out_of_round$|spread$|piston_to_head$"
)
# The standard's pitches by nominal diameter: ISO 261 coarse and fine for fasteners up to 16 mm (from memory), and threads an inch.
PITCHES = {
    "M6": ("1",), "M8": ("1.25", "1"), "M10": ("1.5", "1.25", "1"), "M12": ("1.75", "1.5", "1.25"), "M14": ("2", "1.5"), "M16": ("2", "1.5"),
    "1/4": ("20", "28"), "5/16": ("18", "24"), "3/8": ("16", "24"), "7/16": ("14", "20"), "1/2": ("13", "20"), "9/16": ("12", "18"),
    "5/8": ("11", "18"),
}
# Digits from which on two engines do not share a block by chance.
ENOUGH_DIGITS = 20


def dotted_key(fact: Fact) -> str:
    return ".".join(map(str, fact.key))


def units(fact: Fact) -> list[Statement]:
    return [each for each in fact.printed if each.unit]


def two_units(fact: Fact) -> bool:
    return len(units(fact)) > 1


def known(fact: Fact) -> bool:
    """A size whose magnitude the trade knows; stages only where they turn by an angle."""
    name = dotted_key(fact)
    is_angle = all(each.unit and each.unit.dimension == "angle" for each in units(fact))
    return bool(KNOWN.fullmatch(name)) and (".stages." not in name or is_angle)


def visible(fact: Fact, index: int, number: int, changed: Statement) -> bool:
    """Whether a change of one number is larger than the last digits of its own unit and of every other unit printed can hide."""
    own = fact.printed[index]
    if own.unit is None or changed.unit is None:
        return False
    change = abs(float((changed.numbers[number].value - own.numbers[number].value) * own.unit.factor))
    own_step = max(float(each.numbers[number].step * own.unit.factor) for each in (own, changed))
    others = [
        float(each.numbers[number].step * each.unit.factor) for each in units(fact) if each is not own and each.unit and each.form == own.form
    ]
    return any(change > own_step + step for step in others)


def backwards(changed: Statement) -> bool:
    """Whether a range now runs from high to low, which nobody prints."""
    return changed.form == "range" and changed.numbers[0].value > changed.numbers[1].value


def range_of_positives(statement: Statement) -> bool:
    """A range above zero, whose ends a slip of the point puts ten times apart."""
    return statement.form == "range" and statement.numbers[0].value > 0 and statement.unit is not None and not statement.unit.offset


def live_at(engine: Engine, key: At) -> list[Fact]:
    return [fact for fact in engine.by_key.get(key, ()) if units(fact) and not fact.superseded_by]


def partner(engine: Engine, fact: Fact) -> Fact | None:
    """What is new beside a limit, or the least beside the normal; where exactly one of each stands."""
    pairs = {"limit": "new", "minimum": "normal" if fact.key[:2] == ("tests", "compression") else "new"}
    other = pairs.get(str(fact.key[-1]))
    found = live_at(engine, (*fact.key[:-1], other)) if other else []
    return found[0] if len(found) == 1 and len(live_at(engine, fact.key)) == 1 and found[0].doubt is None else None


_SIBLINGS = (("intake", "exhaust", "both"), ("lengthwise", "crosswise", "any"), ("head", "deck"))


def neighbour(engine: Engine, fact: Fact) -> bool:
    """Whether a figure of the same kind stands beside it: the other valve, the other direction, what is new."""
    if partner(engine, fact):
        return True
    for place, part in enumerate(fact.key):
        for group in _SIBLINGS:
            others = (each for each in group if part in group and each != part)
            if any(live_at(engine, (*fact.key[:place], other, *fact.key[place + 1:])) for other in others):
                return True
    return False


def groups_of(each: FastenerSet, stage: Stage) -> set[str]:
    if stage.groups:
        return set(stage.groups)
    named = {each.spots[place].group for place in each.orders.get(stage.order, ()) if place in each.spots}
    return named or set(each.groups) or {""}


def stage_loss_shows(engine: Engine, each: FastenerSet, index: int) -> bool:
    """Whether the stages that are left contradict each other or something else that is printed."""
    lost = each.stages[index]
    rest = [stage for place, stage in enumerate(each.stages) if place != index]
    if lost.order and not any(stage.order == lost.order for stage in rest):
        return bool(rest)
    if lost.do == "angle" and engine.by_key.get((*each.at, "tightening", "total_angle")):
        return True
    return any(_group_needs(each, index, group) for group in groups_of(each, lost) if group in each.groups or not each.groups)


def _group_needs(each: FastenerSet, index: int, group: str) -> bool:
    own = [(place, stage) for place, stage in enumerate(each.stages) if group in groups_of(each, stage)]
    tightening = [place for place, stage in own if stage.do in ("torque", "steps", "angle")]
    if tightening == [index]:
        return len(each.stages) > 1 and bool(group)
    if each.stages[index].do not in ("torque", "steps"):
        return False
    # The run between loosenings that the lost torque stood in: a turn, a check or a loosening that now has nothing before it.
    run, before = _run(own, index)
    follows = [stage.do for place, stage in run if place > index]
    alone = not any(stage.do in ("torque", "steps") for place, stage in run if place != index)
    return alone and (any(do in ("angle", "recheck") for do in follows) or (not before and _loosened_after(own, index)) or before)


def _run(own: list[tuple[int, Stage]], index: int) -> tuple[list[tuple[int, Stage]], bool]:
    """The stages of one group between the loosenings round a place, and whether a loosening begins them."""
    loosenings = [place for place, stage in own if stage.do == "loosen"]
    start = max((place for place in loosenings if place < index), default=-1)
    end = min((place for place in loosenings if place > index), default=10**6)
    return [(place, stage) for place, stage in own if start < place < end], start >= 0


def _loosened_after(own: list[tuple[int, Stage]], index: int) -> bool:
    return any(stage.do == "loosen" and place > index for place, stage in own)


def swap_shows(each: FastenerSet, index: int) -> bool:
    """Whether two stages that changed places cannot stand so."""
    one, other = each.stages[index], each.stages[index + 1]
    doubted = any(each.doubt or any(fact.doubt for fact in each.figures) for each in (one, other))
    if doubted or not groups_of(each, one) & groups_of(each, other):
        return False
    kinds = {one.do, other.do}
    if kinds <= {"torque", "steps"}:
        return _torque(one) != _torque(other)
    if "loosen" in kinds and kinds & {"torque", "steps"}:
        return True
    if kinds == {"angle", "torque"} or kinds == {"angle", "steps"}:
        return True
    return kinds == {"torque", "recheck"}


def _torque(stage: Stage) -> str:
    return stage.rounds[-1] if stage.rounds else str(stage.figures[0].printed[0]) if stage.figures else ""


def volume_change(engine: Engine, fact: Fact, changed: Statement, index: int) -> float:
    """By what share the volume of the cylinders, or the displacement, changes; 0 where bore, stroke, displacement or cylinders are not given once."""
    keys = [("identity", name) for name in ("bore", "stroke", "displacement")]
    if not all(len(live_at(engine, key)) == 1 for key in keys) or not engine.says("identity.cylinders"):
        return 0.0
    old = fact.printed[index].numbers[0].value
    ratio = float(changed.numbers[0].value / old) if old else 1.0
    power = 2 if fact.key == ("identity", "bore") else 1
    return abs(ratio**power - 1)


def digits(data: Any) -> int:
    """Digits of all leading statements and places of a block, without the zeros in front."""
    if isinstance(data, dict):
        skipped = ("cite", "label", "when", "doubt", "status", "compared", "says", "as")
        own = _digits(str(data["printed"][0])) if "printed" in data else 0
        return own + sum(digits(value) for key, value in data.items() if key not in skipped and key != "printed")
    if isinstance(data, list):
        return sum(map(digits, data))
    return _digits(str(data)) if isinstance(data, int | float) and not isinstance(data, bool) else 0


def _digits(text: str) -> int:
    return sum(len(each.replace(".", "").lstrip("0")) for each in re.findall(r"(?<![A-Za-z])\d+(?:\.\d+)?", text))


def carries_its_source(data: Any) -> bool:
    """Whether a block cites for itself, at its top or anywhere in it."""
    if isinstance(data, dict):
        return "cite" in data or any(map(carries_its_source, data.values()))
    return isinstance(data, list) and any(map(carries_its_source, data))


def class_is_marked(engine: Engine, each: FastenerSet, group: str) -> bool:
    """Whether the marking that the record gives holds a property class."""
    marking = get(engine.file.data, (*each.at, "groups", group)).get("marking", {})
    return bool(re.search(r"\d{1,2}\.\d", str(marking.get("says", ""))))
