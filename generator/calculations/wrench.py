"""The torque wrench: a sideways adapter, the range it is good for, drag that is there before the joint closes."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi

from generator.calculations.limits import WITHIN, judge
from generator.calculations.result import InputError, Limit, Result, measured
from generator.calculations.wording import compare, say, say_quantity
from generator.quantities import Quantity

IN_LINE = "A bar in line with the bolt changes nothing: leave 0."
SET_AS_IS, SET_CORRECTED = "set as it stands", "set corrected"
BELOW, ABOVE, USABLE, BEST = "below its range", "above its range", "in its range", "best part of its range"
ADDED, NOT_ADDED = "drag added", "drag not added"

RIGHT_ANGLE, TURNED_BACK = 90.0, 180.0

NEXT = {
    SET_AS_IS: "Set the wrench to the torque wanted.",
    SET_CORRECTED: "Set the wrench to this, hold it by the middle of the grip, and keep the adapter at this angle.",
    BELOW: "Take a smaller wrench.",
    ABOVE: "Take a larger wrench.",
    USABLE: "Go on; a wrench that has this torque in the middle of its range is better.",
    BEST: "Go on.",
    ADDED: "Set the wrench to the sum.",
    NOT_ADDED: "Clean and chase the threads and find out why it drags; add nothing to the torque.",
}


@dataclass(frozen=True, slots=True)
class WrenchRange:
    """How far a wrench can be trusted, in percent of full scale.

    Defaults: nothing is promised below 20 % (TM 1-1500-204-23-9 Table 8-1), best between 30 and 80 % (same,
    para 8-3b). lowest: the lowest torque marked on it, where that is higher. basis: comes back in the result.
    """

    full_scale: Quantity
    lowest: Quantity | None = None
    from_percent: float = 20.0
    best_from: float = 30.0
    best_to: float = 80.0
    basis: str = ""


def adapter_setting(
    torque: Quantity, length: Quantity, sideways: Quantity | None, angle: Quantity | None = None, basis: str = "",
) -> Result:
    """What to set so that the bolt gets `torque` through a sideways adapter.

    Formula: T L / (L + E cos a) (NAVEDTRA 14315 fig. 3-44; TM 9-254 fig. 4-6 for the angle). torque: T.
    length: L, from the square drive to the middle of the grip. sideways: E, from the square drive to the
    bolt; None or 0 where there is none, since a bar in line with the bolt changes nothing. angle: a, 0 where
    the adapter carries the wrench on straight (None), 90 across it, 180 back over the handle.
    number: the setting, in the unit of the torque. Verdicts: set as it stands, set corrected.
    Raise InputError: missing, wrong-unit, negative, zero; out-of-range for an angle outside 0 to 180 degrees
    or an adapter that reaches back to the grip.
    """
    unit = _unit_of(torque)
    wanted = measured(torque, unit, "torque", zero=False)
    arm, effective = _arms(length, sideways, angle)
    setting = Quantity(wanted * arm / effective, unit)
    if compare(arm, effective) == 0:
        in_line = sideways is None or sideways.value == 0
        reason = f"{IN_LINE} Set" if in_line else "An adapter at a right angle changes nothing: set"
        return Result(SET_AS_IS, f"{reason} {say(wanted, unit)}.", NEXT[SET_AS_IS], Quantity(wanted, unit), basis)
    way = "longer" if effective > arm else "shorter"
    lengths = f"{_length(effective, length)} instead of {say_quantity(length)}"
    reason = f"The adapter makes the wrench {way}, {lengths}: set {say_quantity(setting)} for {say(wanted, unit)} at the bolt."
    return Result(SET_CORRECTED, reason, NEXT[SET_CORRECTED], setting, basis)


def torque_delivered(setting: Quantity, length: Quantity, sideways: Quantity | None, angle: Quantity | None = None) -> Quantity:
    """What the bolt gets at a setting: S (L + E cos a) / L, the other way round. Inputs and errors as `adapter_setting`."""
    unit = _unit_of(setting)
    value = measured(setting, unit, "setting", zero=False)
    arm, effective = _arms(length, sideways, angle)
    return Quantity(value * effective / arm, unit)


def wrench_range(setting: Quantity, wrench: WrenchRange) -> Result:
    """Whether a wrench can be trusted at a setting (the corrected one, where an adapter is used).

    Formula: share = setting / full scale. number: the share in percent. Verdicts: below its range (under 20 %
    or under the lowest mark), above its range, in its range, best part of its range (30 to 80 %).
    Raise InputError: missing, wrong-unit, negative, zero.
    """
    unit = _unit_of(wrench.full_scale)
    full = measured(wrench.full_scale, unit, "full scale", zero=False)
    value = measured(setting, unit, "setting", zero=False)
    share = value / full * 100
    verdict = _share_verdict(share, wrench)
    if wrench.lowest is not None and compare(value, measured(wrench.lowest, unit, "lowest mark")) < 0:
        verdict = BELOW
    reason = f"{say_quantity(setting)} is {say(share, '%')} of the full scale of {say(full, unit)}: {verdict}{_bounds(verdict, wrench)}."
    return Result(verdict, reason, NEXT[verdict], Quantity(share, "%"), wrench.basis)


def with_run_down(torque: Quantity, drag: Quantity, prevailing: Limit | None) -> Result:
    """Torque to set where a self-locking fastener drags before the joint closes.

    Formula: torque + drag (FAA AC 43.13-1B para 7-40d), only where the record states a prevailing torque for
    this fastener. prevailing: that statement, None if the record has none; a Limit without bounds if it has
    no number. No drag, or a drag outside its bounds, is not added either. number: what to set, in the unit of the torque.
    Verdicts: drag added, drag not added. Raise InputError: missing, wrong-unit, negative; zero for the torque.
    """
    unit = _unit_of(torque)
    wanted = measured(torque, unit, "torque", zero=False)
    extra = measured(drag, unit, "run-down torque")
    alone = Quantity(wanted, unit)
    if prevailing is None and extra == 0:
        return Result(NOT_ADDED, f"No drag: the torque stays {say(wanted, unit)}.", NEXT[SET_AS_IS], alone)
    if prevailing is None:
        fault = f"{say_quantity(drag)} of drag is a fault: the torque stays {say(wanted, unit)}"
        reason = f"The record states no prevailing torque here, so {fault}."
        return Result(NOT_ADDED, reason, NEXT[NOT_ADDED], alone)
    has_number = prevailing.low is not None or prevailing.high is not None
    judged = judge(drag, prevailing, "run-down torque") if has_number else None
    if judged is not None and judged.verdict != WITHIN:
        reason = f"The drag is not what a good fastener of this kind has, so it is not added: {judged.reason}"
        return Result(NOT_ADDED, reason, NEXT[NOT_ADDED], alone, prevailing.basis)
    total = Quantity(wanted + extra, unit)
    reason = f"{say(wanted, unit)} and {say(extra, unit)} of prevailing torque make {say_quantity(total)}."
    return Result(ADDED, reason, NEXT[ADDED], total, prevailing.basis)


def _unit_of(value: object) -> str:
    """The unit to answer in; N.m where the input is no torque, for `measured` to refuse it."""
    return value.unit if isinstance(value, Quantity) and value.dimension == "torque" else "N.m"


def _arms(length: Quantity, sideways: Quantity | None, angle: Quantity | None) -> tuple[float, float]:
    """Length of the wrench and what the adapter makes of it, in mm."""
    arm = measured(length, "mm", "length", zero=False)
    reach = 0.0 if sideways is None else measured(sideways, "mm", "adapter")
    degrees = 0.0 if angle is None else measured(angle, "deg", "angle")
    if degrees > TURNED_BACK:
        raise InputError("out-of-range", "angle", "give 0 to 180 degrees: 0 straight on, 90 across, 180 back over the handle")
    effective = arm + reach * (0.0 if degrees == RIGHT_ANGLE else cos(degrees * pi / 180))
    if compare(effective, 0.0) <= 0:
        raise InputError("out-of-range", "adapter", "an adapter turned back must be shorter than the wrench")
    return arm, effective


def _length(value: float, length: Quantity) -> str:
    return say_quantity(Quantity(value, "mm").converted(length.unit))


def _share_verdict(share: float, wrench: WrenchRange) -> str:
    if compare(share, 100) > 0:
        return ABOVE
    if compare(share, wrench.from_percent) < 0:
        return BELOW
    return BEST if compare(share, wrench.best_from) >= 0 and compare(share, wrench.best_to) <= 0 else USABLE


def _bounds(verdict: str, wrench: WrenchRange) -> str:
    """The bound that a verdict speaks of."""
    if verdict == BELOW:
        full, lowest = wrench.full_scale, wrench.lowest
        if lowest is not None and compare(lowest.to(full.unit), full.value * wrench.from_percent / 100) > 0:
            return f", which begins at {say_quantity(lowest)}"
        return f", which begins at {say(wrench.from_percent, '%')}"
    return f", {say(wrench.best_from, '%')} to {say(wrench.best_to, '%')}" if verdict == BEST else ""
