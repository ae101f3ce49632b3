"""Tightening: stages, orders and groups expanded into pulls. A pull is one bolt in one stage.

Nothing is guessed: a stage without a known order is one pull for "all", a range asks for
one value for the whole row, and a doubtful figure gives no target.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from generator.calculations.result import InputError, Limit, measured
from generator.calculations.wording import bounds_text, compare, say_quantity, say_range
from generator.quantities import Quantity

ALL = "all"  # the place of a pull whose order is not known, or that is no pull at a bolt
STAGE_BY_STAGE, BOLT_BY_BOLT = "stage by stage", "bolt by bolt"
WALKS = (STAGE_BY_STAGE, BOLT_BY_BOLT)

SET = "set"
CHOOSE = "choose one value from the range"
DOUBTFUL = "doubtful: look it up in the manual"
NOT_GIVEN = "not in this record: look it up in the manual"
NOTHING = "nothing to set"
STATES = (SET, CHOOSE, DOUBTFUL, NOT_GIVEN, NOTHING)

# What a stage may do, and the units its figure may have.
ACTIONS: dict[str, tuple[str, ...]] = {
    "torque": ("N.m",), "angle": ("deg",), "loosen": ("deg", "N.m"), "recheck": ("N.m", "deg"),
    "steps": ("N.m",), "wait": (), "retorque": ("N.m", "deg"),
}
# Only these can be done at one bolt while the others have not had them.
ONE_BOLT_AT_A_TIME = ("torque", "angle", "loosen")
MOST_ROUNDS = 50


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of the tightening as the caller found it.

    do: a key of ACTIONS. order: place ids in order; empty if it is not known. covers: the
    groups this stage is for; empty for every group. low, high: bounds of the figure, equal
    for a single value; for steps the bounds of the last round. nominal: the value printed
    with a tolerance, where one is printed. first, by: a step rule's first value and its
    step. doubtful: the figure is doubtful, contested, or its printed units disagree.
    text, until, when, method: the record's words, passed through.
    """

    do: str
    order: tuple[str, ...] = ()
    covers: tuple[str, ...] = ()
    low: Quantity | None = None
    high: Quantity | None = None
    nominal: Quantity | None = None
    first: Quantity | None = None
    by: Quantity | None = None
    doubtful: bool = False
    text: str = ""
    until: str = ""
    when: str = ""
    method: str = ""


@dataclass(frozen=True, slots=True)
class Pull:
    """One bolt in one stage.

    stage: index of the stage, from 0. place: the bolt's place, or ALL. position: place in
    the order of this stage, from 1; 0 for ALL. low, high: bounds of the figure. target: the
    value to set, None until there is one. state: one of STATES. round: of a step rule, from 1.
    order_known: False where the record has no order; nothing is guessed. covers: as in Stage.
    """

    stage: int
    action: str
    place: str
    position: int
    low: Quantity | None
    high: Quantity | None
    target: Quantity | None
    state: str
    round: int = 1
    order_known: bool = True
    covers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Choice:
    """A target for a row. proposed: the middle of the range. target: None until the reader has chosen."""

    state: str
    proposed: Quantity
    target: Quantity | None
    reason: str
    next_step: str


@dataclass(frozen=True, slots=True)
class Loosening:
    """How the bolts come out. order: place ids, empty if not known. basis: where the order comes from."""

    order: tuple[str, ...]
    basis: str
    text: str


@dataclass(frozen=True, slots=True)
class _Aim:
    """What one round of a stage is to reach."""

    low: Quantity | None
    high: Quantity | None
    target: Quantity | None
    state: str


def expand(
    stages: Sequence[Stage],
    groups: Mapping[str, str] | None = None,
    walk: str = STAGE_BY_STAGE,
    chosen: Mapping[int, Quantity] | None = None,
) -> tuple[Pull, ...]:
    """Expand stages into pulls, in the order in which they are done.

    groups: place -> group; without it every order is taken whole, and a stage that covers some groups
    must be without an order. walk: "stage by stage", or
    "bolt by bolt", where successive torque, angle and loosen stages are done at one bolt
    before the next; steps, re-checks and waits always go round all bolts. chosen: stage
    index -> the one target the reader chose for that row; a re-check takes the target chosen
    for the latest stage before it with the same bounds. No other stage takes over a target, a
    re-torque least of all: the joint has settled since.

    In each stage each place of the groups covered stands exactly once (once a round for
    steps). Source: design of the record; no formula. Raises InputError: unknown action,
    walk, group, place or stage; a place twice or missing in an order; a figure of the wrong
    unit, below zero, or with its bounds exchanged; a target outside the bounds.
    """
    if walk not in WALKS:
        raise InputError("unknown", "walk", "stage by stage, or bolt by bolt")
    picked = dict(chosen or {})
    for index in sorted(picked):
        if not 0 <= index < len(stages):
            raise InputError("unknown", "chosen", f"there is no stage {index + 1}")
    rows = [_row(index, stage, groups or {}, _wanted(index, stages, picked)) for index, stage in enumerate(stages)]
    if walk == STAGE_BY_STAGE:
        return tuple(pull for row in rows for pull in row)
    return tuple(pull for run in _runs(rows) for pull in _bolt_by_bolt(run))


def choose_target(low: Quantity, high: Quantity, wanted: Quantity | None = None) -> Choice:
    """One target for a whole row of bolts from a printed range.

    proposed = (low + high) / 2, in the unit of `low`: proposed, never silently taken; without
    `wanted` the target stays None unless the range is a single value. low, high, wanted:
    torque or angle. The same value is for every bolt of the row (NAVEDTRA 14008: some at
    minimum and some at maximum put the load on the tight ones). Raises InputError: bounds
    exchanged or of different kinds; `wanted` outside the range.
    """
    unit = low.unit if isinstance(low, Quantity) else "N.m"
    bottom, top = _bounds(low, high, unit, "range")
    middle = Quantity((bottom + top) / 2, unit)
    target = low if compare(bottom, top) == 0 else None
    if wanted is not None:
        target = _inside(wanted, low, high, unit)
    if target is not None:
        return Choice(SET, middle, target, f"{say_quantity(target)} for every bolt of the row.", "Set the wrench once for the whole row.")
    reason = (
        f"Any value from {say_range(low, high)} will do, but it must be the same for every bolt of the row; "
        f"the middle is {say_quantity(middle)}."
    )
    return Choice(CHOOSE, middle, None, reason, "Choose one value now and keep it for the whole row.")


_HOW_TO_LOOSEN = (
    "Only when the engine is cold, never hot. Undo every bolt by part of a turn, go round again until all are loose, "
    "then take them out. The tightening stages are not done backwards."
)


def loosening(stages: Sequence[Stage], groups: Mapping[str, str] | None = None, own: Sequence[str] = ()) -> Loosening:
    """The order in which the bolts are loosened, and how, in words.

    own: the record's own loosening order, which is taken as it is. Without one: the
    tightening order backwards, in part-turns; each bolt stands once however many stages there
    are, because stages are never done backwards. That rule is common practice, no source.
    The tightening order is that of the first stage whose order has every place. Without such
    a stage the order stays unknown. Raises InputError as `expand` does for orders.
    """
    places = groups or {}
    if own:
        _check_order(tuple(own), set(places), places, "loosening order")
        return Loosening(tuple(own), "the record's own loosening order", _HOW_TO_LOOSEN)
    orders = [_order(stage, places, f"stage {index + 1} order") for index, stage in enumerate(stages) if stage.order]
    most = len(places) or max((len(order) for order in orders), default=0)
    whole = next((order for order in orders if len(order) == most), ())
    if whole:
        return Loosening(tuple(reversed(whole)), "common practice, no source", "The tightening order backwards. " + _HOW_TO_LOOSEN)
    return Loosening((), "", "The order is not in this record: look it up in the manual. " + _HOW_TO_LOOSEN)


# Orders


def _row(index: int, stage: Stage, groups: Mapping[str, str], wanted: Quantity | None) -> list[Pull]:
    name = f"stage {index + 1}"
    if stage.do not in ACTIONS:
        raise InputError("unknown", f"{name} do", "one of: " + ", ".join(ACTIONS))
    order = _order(stage, groups, f"{name} order")
    places = list(enumerate(order, start=1)) if order else [(0, ALL)]
    known = bool(order) or stage.do == "wait"
    return [
        Pull(index, stage.do, place, position, aim.low, aim.high, aim.target, aim.state, turn, known, stage.covers)
        for turn, aim in enumerate(_aims(stage, wanted, name), start=1)
        for position, place in places
    ]


def _order(stage: Stage, groups: Mapping[str, str], where: str) -> tuple[str, ...]:
    """The stage's order with only the places it covers, each exactly once; empty if not known or for a wait."""
    known = set(groups.values())
    for group in stage.covers:
        if group not in known and (groups or stage.order):  # with neither places nor order the names are all there is
            raise InputError("unknown", where, f"there is no group {group}; there are: {', '.join(sorted(known)) or 'none'}")
    if stage.do == "wait" or not stage.order:
        return ()
    covered = {place for place, group in groups.items() if not stage.covers or group in stage.covers}
    _check_order(stage.order, covered, groups, where)
    return tuple(place for place in stage.order if not groups or place in covered)


def _check_order(order: tuple[str, ...], needed: set[str], groups: Mapping[str, str], where: str) -> None:
    for position, place in enumerate(order):
        if place in order[:position]:
            raise InputError("too-many", where, f"{place} stands twice; each bolt stands once")
        if place == ALL:
            raise InputError("refused", where, 'a bolt cannot be named "all"')
        if groups and place not in groups:
            raise InputError("unknown", where, f"there is no place {place}")
    missing = sorted(needed - set(order))
    if missing:
        raise InputError("too-few", where, f"{', '.join(missing)} missing; each bolt stands once")


# Figures


def _wanted(index: int, stages: Sequence[Stage], chosen: Mapping[int, Quantity]) -> Quantity | None:
    if index in chosen or stages[index].do != "recheck":
        return chosen.get(index)
    bounds = (stages[index].low, stages[index].high)
    before = [each for each in range(index) if each in chosen and (stages[each].low, stages[each].high) == bounds != (None, None)]
    return chosen[before[-1]] if before else None


def _aims(stage: Stage, wanted: Quantity | None, name: str) -> list[_Aim]:
    """What each round of the stage is to reach: one round, more for a step rule."""
    _check_figure(stage, wanted, name)
    state, target = _state(stage, wanted)
    last = _Aim(stage.low, stage.high, target, state)
    if stage.do != "steps":
        return [last]
    rises = _rises(stage, stage.low or target, name)
    first_rounds = [_Aim(value, value, None, DOUBTFUL) if stage.doubtful else _Aim(value, value, value, SET) for value in rises]
    return [*first_rounds, last]


def _state(stage: Stage, wanted: Quantity | None) -> tuple[str, Quantity | None]:
    if stage.do == "wait":
        return NOTHING, None
    if stage.low is not None and stage.high is not None and not stage.doubtful:
        choice = choose_target(stage.low, stage.high, wanted)
        return (SET, stage.nominal) if stage.nominal and wanted is None else (choice.state, choice.target)
    if wanted is not None:  # the reader has looked it up; one printed bound still holds
        return SET, wanted if stage.doubtful else _inside(wanted, stage.low, stage.high, wanted.unit)
    if stage.doubtful:
        return DOUBTFUL, None
    nothing = stage.do == "loosen" and stage.low is None and stage.high is None
    return (NOTHING if nothing else NOT_GIVEN), None


def _rises(stage: Stage, top: Quantity | None, name: str) -> list[Quantity]:
    """Values of the rounds before the last one of a step rule: first, first + by, … while below the last."""
    if top is None:
        return []
    unit = top.unit
    start = measured(stage.first, unit, f"{name} from", zero=False)
    step = measured(stage.by, unit, f"{name} by", zero=False)
    end = top.value
    if compare(start, end) > 0:
        raise InputError("out-of-order", f"{name} from", f"a value not above the last one, {say_quantity(top)}")
    if (end - start) / step > MOST_ROUNDS:
        raise InputError("out-of-range", f"{name} by", f"a step that needs at most {MOST_ROUNDS} rounds")
    rises = [start + step * count for count in range(MOST_ROUNDS + 1)]
    return [Quantity(value, unit) for value in rises if compare(value, end) < 0]


def _check_figure(stage: Stage, wanted: Quantity | None, name: str) -> None:
    units = ACTIONS[stage.do]
    given = [(stage.low, "low"), (stage.high, "high"), (stage.nominal, "nominal"), (wanted, "target")]
    for value, which in given:
        if value is not None:
            measured(value, _unit(value, units, f"{name} {which}"), f"{name} {which}", zero=False)
    if stage.low is not None and stage.high is not None:
        _bounds(stage.low, stage.high, stage.low.unit, name)
        if stage.nominal is not None:
            _inside(stage.nominal, stage.low, stage.high, stage.low.unit, f"{name} nominal")


def _unit(value: Quantity, units: tuple[str, ...], where: str) -> str:
    if not units:
        raise InputError("refused", where, "a wait has no figure")
    kinds = {Quantity(0.0, unit).dimension: unit for unit in units}
    return kinds.get(value.dimension, units[0]) if isinstance(value, Quantity) else units[0]


def _bounds(low: Quantity, high: Quantity, unit: str, where: str) -> tuple[float, float]:
    bottom = measured(low, unit, f"{where} low", zero=False)
    top = measured(high, unit, f"{where} high", zero=False)
    if compare(bottom, top) > 0:
        raise InputError("out-of-order", where, "the lower bound first")
    return bottom, top


def _inside(wanted: Quantity, low: Quantity | None, high: Quantity | None, unit: str, where: str = "target") -> Quantity:
    value = measured(wanted, unit, where, zero=False)
    if (low and compare(value, low.to(unit)) < 0) or (high and compare(value, high.to(unit)) > 0):
        raise InputError("out-of-range", where, f"a value that keeps to {bounds_text(Limit('', low, high))}")
    return wanted


# Walking bolt by bolt


def _runs(rows: list[list[Pull]]) -> list[list[list[Pull]]]:
    """Rows in runs: those that one bolt can have after another together, every other row alone."""
    keyed = enumerate(rows)
    runs = groupby(keyed, key=lambda item: -1 if _one_at_a_time(item[1]) else item[0])
    return [[row for _, row in run] for _, run in runs]


def _one_at_a_time(row: list[Pull]) -> bool:
    return row[0].action in ONE_BOLT_AT_A_TIME and row[0].place != ALL


def _bolt_by_bolt(run: list[list[Pull]]) -> list[Pull]:
    if not _one_at_a_time(run[0]):
        return run[0]
    line: list[str] = []  # the bolts of the run in one order, which the order of every row must follow
    for row in sorted(run, key=len, reverse=True):
        line += [pull.place for pull in row if pull.place not in line]
    for row in run:
        rank = [line.index(pull.place) for pull in row]
        if rank != sorted(rank):
            raise InputError("out-of-order", f"stage {row[0].stage + 1} order", "bolt by bolt needs one order for all stages of the walk")
    return [pull for place in line for row in run for pull in row if pull.place == place]
