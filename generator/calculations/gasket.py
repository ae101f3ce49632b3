"""Which gasket: by protrusion class, by clearance less measurement, or by another measurement.

The caller says which reading decides, because the engine's record says it. Nothing is chosen
outside the table. Plain arithmetic; the browser's twin gives the same words and codes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.calculations.result import InputError, Result, measured
from generator.calculations.wording import compare, say_beside, say_quantity, say_range, total
from generator.quantities import Quantity

CHOSEN, OUTSIDE, CANNOT_TELL = "chosen", "not in the table", "cannot tell"
HIGHEST, MEAN = "highest", "mean"
BY_ENGINE, BY_HEAD = "engine", "head"
THICKER = "thicker"
NEXT = {
    OUTSIDE: "Measure again; if it stands, find out why before any gasket is chosen.",
    CANNOT_TELL: "Look up in the manual which of them it is.",
}
_BETWEEN = "It lies between two classes: look up in the manual which of them it is."


@dataclass(frozen=True, slots=True)
class Gasket:
    """One gasket of the engine's table. mark: how it is told (holes, notches, number). low, high: bounds of
    the class it is for, both included, None for none. thickness: where the table gives it."""

    mark: str
    low: Quantity | None = None
    high: Quantity | None = None
    thickness: Quantity | None = None
    basis: str = ""


@dataclass(frozen=True, slots=True)
class Reading:
    """One measured value, the place it was taken at (a cylinder) and the head that covers it."""

    place: str
    value: Quantity
    head: str = ""


@dataclass(frozen=True, slots=True)
class GasketChoice:
    """head: for which head, empty for the whole engine. gasket: None unless one was chosen."""

    head: str
    gasket: Gasket | None
    result: Result


def by_protrusion(readings: Sequence[Reading], table: Sequence[Gasket], decides: str, per: str) -> tuple[GasketChoice, ...]:
    """The gasket for each head, or for the engine, by protrusion class.

    decides: "highest" or "mean" of the readings, as the record says. per: "engine" (one choice
    from all readings) or "head" (one a head, in the order in which heads first stand). A value is
    in a class from its low to its high bound, both included. Verdicts "chosen"; "not in the
    table" (below, above or between the classes); "cannot tell" (in two classes). number: the
    deciding value, in the unit of the first reading. Protrusion may be below zero (piston below
    the deck). Raises InputError: too-few (no readings, no table), too-many (a place twice),
    missing, wrong-unit, unknown words, a class with its bounds exchanged (out-of-order).
    """
    if per not in (BY_ENGINE, BY_HEAD):
        raise InputError("unknown", "per", "engine or head")
    if decides not in (HIGHEST, MEAN):
        raise InputError("unknown", "decides", "highest or mean")
    _check_readings(readings, per)
    heads = list(dict.fromkeys(reading.head for reading in readings)) if per == BY_HEAD else [""]
    return tuple(_for_head(head, [each for each in readings if per == BY_ENGINE or each.head == head], table, decides) for head in heads)


def by_measurement(value: Quantity, table: Sequence[Gasket], what: str) -> GasketChoice:
    """The gasket by one other measurement, for example of crushed wire or of water-hole erosion.

    what: name of the measurement, for the sentence. Bounds, verdicts and errors as in
    `by_protrusion`.
    """
    measured(value, "mm", what, negative=True)
    return _look_up("", value, table, f"{what[:1].upper()}{what[1:]} of")


def by_clearance(
    clearance_low: Quantity, clearance_high: Quantity, measurement: Quantity, table: Sequence[Gasket], between: str | None = None
) -> GasketChoice:
    """The gasket whose thickness is the required clearance less the measurement.

    Thickness wanted = clearance - measurement, a band from low to high; measurement: from the top
    of the barrel down to the crown at top dead centre, below zero if the crown stands out. One
    gasket in the band is chosen. between: "thicker" if the record says so (TM 10-4320-310-14
    p. 5-22): of two in the band, or of the two next to a band without any, the thicker; without that
    rule "cannot tell". Only above or only below the band: "not in the table". number: the
    clearance that the chosen gasket gives. Raises InputError: missing, wrong-unit, bounds exchanged
    (out-of-order), a gasket without thickness (missing), two of one thickness (too-many).
    """
    unit = measurement.unit if isinstance(measurement, Quantity) else "mm"
    down = measured(measurement, "mm", "measurement", negative=True)
    low, high = measured(clearance_low, "mm", "clearance low", zero=False), measured(clearance_high, "mm", "clearance high", zero=False)
    if compare(low, high) > 0:
        raise InputError("out-of-order", "clearance", "the lower bound first")
    if between not in (None, THICKER):
        raise InputError("unknown", "between", "thicker, or nothing if the record does not say")
    rising = _by_thickness(table)
    wanted = say_range(_in(low - down, unit), _in(high - down, unit))
    if compare(high, down) <= 0:
        reason = f"The measurement of {say_quantity(measurement)} leaves no room for a gasket within a clearance of {say_quantity(clearance_high)}."
        return GasketChoice("", None, Result(OUTSIDE, reason, NEXT[OUTSIDE]))
    found, why_not = _pick(rising, low - down, high - down, between)
    if found is None:
        return _no_thickness(why_not, wanted)
    return _fitted(found, wanted, _in(_thickness(found) + down, unit), high)


# By class


def _check_readings(readings: Sequence[Reading], per: str) -> None:
    if not readings:
        raise InputError("too-few", "readings", "at least one reading")
    for position, reading in enumerate(readings):
        measured(reading.value, "mm", f"reading {reading.place}", negative=True)
        if reading.place in [each.place for each in readings[:position]]:
            raise InputError("too-many", f"reading {reading.place}", "one reading a place")
        if per == BY_HEAD and not reading.head:
            raise InputError("missing", f"head of {reading.place}", "the head that covers this place")


def _for_head(head: str, readings: list[Reading], table: Sequence[Gasket], decides: str) -> GasketChoice:
    unit = readings[0].value.unit
    values = [reading.value.to("mm") for reading in readings]
    on = f" on head {head}" if head else ""
    if decides == MEAN:
        deciding = total(values) / len(values)
        words = f"The mean of {len(values)} protrusion{'' if len(values) == 1 else 's'}{on}"
    else:
        deciding = max(values)
        words = f"The highest protrusion, at {readings[values.index(deciding)].place}{on},"
    return _look_up(head, _in(deciding, unit), table, f"{words} is")


def _look_up(head: str, value: Quantity, table: Sequence[Gasket], what: str) -> GasketChoice:
    if not table:
        raise InputError("too-few", "table", "at least one gasket")
    for row in table:
        _check_class(row)
    words = f"{what} {say_beside(value, table[0].low or table[0].high or value)}"  # in the unit of the table too
    matching = [row for row in table if _holds(row, value.to("mm"))]
    if len(matching) == 1:
        row = matching[0]
        reason = f"{words}: gasket {row.mark}, for {_class_said(row)}."
        return GasketChoice(head, row, Result(CHOSEN, reason, f"Fit gasket {row.mark}.", value, row.basis))
    if matching:
        marks = " and ".join(row.mark for row in matching)
        reason = f"{words}: the table has {marks} for it."
        return GasketChoice(head, None, Result(CANNOT_TELL, reason, NEXT[CANNOT_TELL], value, matching[0].basis))
    reason = f"{words}: no gasket of the table is for it."
    at = value.to("mm")
    between = any(row.high and row.high.to("mm") < at for row in table) and any(row.low and row.low.to("mm") > at for row in table)
    return GasketChoice(head, None, Result(OUTSIDE, reason, _BETWEEN if between else NEXT[OUTSIDE], value, table[0].basis))


def _check_class(row: Gasket) -> None:
    if row.low is None and row.high is None:
        raise InputError("missing", f"gasket {row.mark}", "bounds of its class")
    low, high = (None if bound is None else measured(bound, "mm", f"gasket {row.mark}", negative=True) for bound in (row.low, row.high))
    if low is not None and high is not None and low > high:
        raise InputError("out-of-order", f"gasket {row.mark}", "the lower bound first")


def _holds(row: Gasket, millimetres: float) -> bool:
    above = row.low is None or compare(millimetres, row.low.to("mm")) >= 0
    return above and (row.high is None or compare(millimetres, row.high.to("mm")) <= 0)


def _class_said(row: Gasket) -> str:
    if row.low and row.high:
        return say_range(row.low, row.high)
    return f"up to {say_quantity(row.high)}" if row.high else f"{say_quantity(row.low)} and more" if row.low else ""


# By thickness


def _by_thickness(table: Sequence[Gasket]) -> list[Gasket]:
    if not table:
        raise InputError("too-few", "table", "at least one gasket")
    for row in table:
        measured(row.thickness, "mm", f"thickness of {row.mark}", zero=False)
    rising = sorted(table, key=_thickness)
    for thinner, thicker in pairwise(rising):
        if compare(_thickness(thicker), _thickness(thinner)) == 0:
            raise InputError("too-many", f"thickness of {thicker.mark}", f"another thickness than {thinner.mark}")
    return rising


def _pick(rising: list[Gasket], low: float, high: float, between: str | None) -> tuple[Gasket | None, str]:
    """The gasket for a band of thickness, or None and why not."""
    inside = [row for row in rising if compare(_thickness(row), low) >= 0 and compare(_thickness(row), high) <= 0]
    if len(inside) == 1:
        return inside[0], ""
    thinner = [row for row in rising if _thickness(row) < low]
    thicker = [row for row in rising if _thickness(row) > high]
    if not inside and not (thinner and thicker):
        return None, _NONE
    if between is None:
        return None, _SEVERAL if inside else _TWO_NEAR
    return (inside[-1] if inside else thicker[0]), ""


def _fitted(found: Gasket, wanted: str, clearance: Quantity, high: float) -> GasketChoice:
    thick = say_quantity(_in(_thickness(found), clearance.unit))
    reason = f"The gasket may be {wanted} thick; {found.mark} is {thick} and leaves a clearance of {say_quantity(clearance)}"
    step = f"Fit gasket {found.mark}."
    if compare(clearance.to("mm"), high) > 0:
        reason += f", over the {say_quantity(_in(high, clearance.unit))} asked for"
        step = f"Fit gasket {found.mark}, the thicker of the two that come near: too little clearance does more harm than too much."
    return GasketChoice("", found, Result(CHOSEN, f"{reason}.", step, clearance, found.basis))


_NONE = "the table has none for it"
_SEVERAL = "more than one of the table would do, and the record does not say which to take"
_TWO_NEAR = "one of the table is too thin and the next too thick, and the record does not say which to take"


def _no_thickness(why_not: str, wanted: str) -> GasketChoice:
    verdict = OUTSIDE if why_not == _NONE else CANNOT_TELL
    return GasketChoice("", None, Result(verdict, f"The gasket may be {wanted} thick; {why_not}.", NEXT[verdict]))


def _thickness(row: Gasket) -> float:
    return 0.0 if row.thickness is None else row.thickness.to("mm")


def _in(millimetres: float, unit: str) -> Quantity:
    return Quantity(millimetres, "mm").converted(unit)
