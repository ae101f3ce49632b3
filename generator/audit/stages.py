"""The stages of a tightening must be one that can be done: rising, in turn, and every fastener reached."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.audit.spans import Span, span, text_span
from generator.audit.suspicion import FigureRule, Suspicion
from generator.quantities import shown
from generator.record.engine import Engine
from generator.record.facts import Fact
from generator.record.fasteners import FastenerSet, Stage
from generator.record.library import Library

_TIGHTENS = ("torque", "steps")
_ORDER = "look at the page again for the order of the stages, and for one that is missing"


@dataclass(frozen=True, slots=True)
class Turn:
    """A stage as one group meets it. number: of the stage, from 1. value: its torque. before: the torque of this run so far,
    None at its start. turned: an angle has been turned since. loosened: a loosening began this run."""

    number: int
    stage: Stage
    value: Span | None
    before: Span | None
    before_number: int
    turned: bool
    loosened: bool


def reached(each: FastenerSet, stage: Stage) -> set[str]:
    """The groups a stage is for: those it names, else those of its order, else all; one group without a name where the set has none."""
    if stage.groups:
        return set(stage.groups)
    found = {each.spots[place].group for place in each.orders.get(stage.order, ()) if place in each.spots}
    return found or set(each.groups) or {""}


def turns(each: FastenerSet, group: str) -> Iterator[Turn]:
    """The stages of one group in turn, each with what came before it since the last loosening."""
    before, before_number, turned, loosened = None, 0, False, False
    for number, stage in enumerate(each.stages, start=1):
        if group not in reached(each, stage):
            continue
        value = _torque(stage)
        yield Turn(number, stage, value, before, before_number, turned, loosened)
        if stage.do in _TIGHTENS and value:
            before, before_number, turned = value, number, False
        elif stage.do == "angle":
            turned = True
        elif stage.do == "loosen":
            before, before_number, turned, loosened = None, 0, False, True


def _torque(stage: Stage) -> Span | None:
    """The torque of a stage; of rounds the last."""
    if stage.do == "angle":
        return None
    if stage.rounds:
        return text_span(stage.rounds[-1], Fact((*stage.at, "to"), (), "figure", stage.cite, doubt=stage.doubt))
    return next((found for fact in stage.figures if (found := span(fact)) and found.statement.unit and _is_torque(found)), None)


def _is_torque(found: Span) -> bool:
    return found.statement.unit is not None and found.statement.unit.dimension == "torque"


def _all_turns(engine: Engine) -> Iterator[tuple[FastenerSet, str, list[Turn]]]:
    for each in engine.sets.values():
        if each.stages:
            for group in sorted(set(each.groups) or {""}):
                yield each, group, list(turns(each, group))


def _once(found: Iterator[Suspicion]) -> Iterator[Suspicion]:
    """Groups that share their stages would report the same twice."""
    yield from dict.fromkeys(found)


def _facts(*spans: Span | None) -> tuple[Fact, ...]:
    return tuple(each.fact for each in spans if each)


def _rising(engine: Engine, library: Library) -> Iterator[Suspicion]:
    return _once(_not_rising(engine))


def _not_rising(engine: Engine) -> Iterator[Suspicion]:
    for _, _, found in _all_turns(engine):
        for turn in found:
            if turn.stage.do in _TIGHTENS and turn.value and turn.before and turn.value.middle <= turn.before.middle:
                reached_before = f"{turn.before.statement} of stage {turn.before_number}"
                message = f"stage {turn.number} tightens to {turn.value.statement}, which is not above {reached_before}"
                hint = f"{_ORDER}; a check at the same torque is 'do: recheck', a loosening between them a stage of its own"
                yield Suspicion(_place(turn), message, _facts(turn.value, turn.before), hint=hint, doubts=(turn.stage.doubt,))


def _place(turn: Turn) -> tuple[str | int, ...]:
    return turn.value.fact.at if turn.value and turn.stage.figures else turn.stage.at


def _in_turn(engine: Engine, library: Library) -> Iterator[Suspicion]:
    return _once(_out_of_turn(engine))


def _out_of_turn(engine: Engine) -> Iterator[Suspicion]:
    for each, group, found in _all_turns(engine):
        for turn in found:
            if message := _wrong_turn(turn):
                level = "warning" if turn.stage.do == "torque" else "error"
                yield Suspicion(turn.stage.at, f"stage {turn.number} {message}", _facts(turn.value), level, _ORDER, (turn.stage.doubt,))
        if found and found[-1].stage.do == "wait":
            yield Suspicion(found[-1].stage.at, f"stage {found[-1].number} waits, and nothing follows it", (), hint=_ORDER)
        last = max((turn.number for turn in found if turn.stage.do == "loosen"), default=0)
        if last and not any(turn.stage.do in (*_TIGHTENS, "retorque") for turn in found if turn.number > last):
            who = f"{group!r}" if group else "the set"
            message = f"stage {last} loosens {who}, and no stage after it tightens it to a torque"
            yield Suspicion((*each.at, "tightening", "stages", last - 1), message, (), hint=_ORDER)


def _wrong_turn(turn: Turn) -> str:
    """Why a stage cannot stand where it stands; empty if it can."""
    do, started = turn.stage.do, turn.before is not None
    if do == "angle" and not started:
        return "turns by an angle, and no torque comes before it from which to turn"
    if do == "loosen" and not started and not turn.loosened:
        return "loosens what no stage before it tightens"
    if do == "recheck" and not started:
        return "checks again, and no torque comes before it"
    if do == "torque" and turn.turned:
        return "tightens to a torque after an angle was turned: the torque that is reached by then is not known"
    if do == "wait" and turn.number == 1:
        return "waits before anything is tightened"
    return ""


def _rechecks(engine: Engine, library: Library) -> Iterator[Suspicion]:
    return _once(_other_rechecks(engine))


def _other_rechecks(engine: Engine) -> Iterator[Suspicion]:
    for _, _, found in _all_turns(engine):
        for turn in found:
            value, before = turn.value, turn.before
            if turn.stage.do != "recheck" or turn.turned or value is None or before is None:
                continue
            if abs(value.middle - before.middle) > value.digit + before.digit:
                message = f"stage {turn.number} checks again at {value.statement}, where stage {turn.before_number} tightened to {before.statement}"
                yield Suspicion(value.fact.at, message, _facts(value, before), doubts=(turn.stage.doubt,))


def _total(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for each in engine.sets.values():
        for fact in engine.by_key.get((*each.at, "tightening", "total_angle"), ()):
            total, sums = span(fact), _angle_sums(each)
            if total and sums and not any(abs(total.middle - value) <= total.digit + digit for value, digit in sums):
                found = " or ".join(dict.fromkeys(f"{shown(value, 1).removesuffix('.0')} deg" for value, _ in sums))
                message = f"the total angle is {total.statement}, but the angles of the stages add up to {found}"
                facts = (fact, *(figure for stage in each.stages if stage.do == "angle" for figure in stage.figures))
                yield Suspicion((*fact.at, "printed"), message, facts)


def _angle_sums(each: FastenerSet) -> list[tuple[float, float]]:
    """Sum of the angles after the last loosening, with half of the last digits, for each group that is turned."""
    found = []
    for group in sorted(set(each.groups) or {""}):
        run: list[Span] = []
        for turn in turns(each, group):
            run = [] if turn.stage.do == "loosen" else run
            run += [value for fact in turn.stage.figures[:1] if turn.stage.do == "angle" and (value := span(fact))]
        if run:
            found.append((sum(value.middle for value in run), sum(value.digit for value in run)))
    return found or [(0.0, 0.0)]


def _untouched(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for each, group, found in _all_turns(engine):
        if group and not any(turn.stage.do in ("torque", "steps", "angle") for turn in found):
            message = f"no stage tightens the group {group!r}"
            yield Suspicion((*each.at, "groups", group), message, (), hint=f"{_ORDER}; a stage names its groups, or the order that reaches them")


def _unused(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for each in engine.sets.values():
        used = {stage.order for stage in each.stages}
        for name in each.orders if each.stages else ():
            if name not in used:
                yield Suspicion((*each.at, "tightening", "orders", name), f"no stage uses the order {name!r}", (), hint=_ORDER)


FIGURE_RULES = [
    FigureRule("stages-rise", "Stages that do not rise between loosenings.", "60 N.m, then 40 N.m", _rising),
    FigureRule(
        "stages-in-turn", "A stage that cannot follow the one before it.", "90 deg before the torque from which to turn", _in_turn,
        ("error", "warning"),
    ),
    FigureRule("recheck-agrees", "A check at another torque than was tightened to.", "torque 90 N.m, recheck 80 N.m", _rechecks),
    FigureRule("total-angle-adds-up", "A total angle that the stages do not give.", "45 + 45 deg beside a total of 135 deg", _total),
    FigureRule("group-tightened", "Fasteners that no stage tightens.", "the stage of the short ones is lost", _untouched),
    FigureRule("order-used", "An order that no stage uses.", "the stage of the timing-case bolts is lost", _unused),
]
