"""Threads and strength: designation to diameters, stress area, drill and loads; a bolt against its hole.

Both systems share one profile (60 degrees, H = P sqrt(3)/2). Tables of the standards are passed
in by the caller; nothing here reads a file.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

from generator.calculations.result import InputError, Limit, Result, measured
from generator.calculations.wording import compare, say_quantity
from generator.quantities import Quantity

METRIC, UNIFIED = "metric", "unified"
CLEAR, BOTTOMS, JAMS = "clear", "bottoms", "jams before it clamps"

_UNIT = {METRIC: "mm", UNIFIED: "in"}
_AREA = {METRIC: "mm2", UNIFIED: "in2"}
_STRESS = {METRIC: "MPa", UNIFIED: "psi"}
_FORCE = {METRIC: "N", UNIFIED: "lbf"}  # area times stress in the units above
_PITCH_DIAMETER, _MINOR_DIAMETER, _ROOT_DIAMETER = 0.649519, 1.082532, 1.226869  # times P, off d
_UNIFIED_AREA = 0.9743
# A whole number of inches is never cut finer; 10-32 is a numbered size, not ten inches.
_FINEST_OF_WHOLE_INCHES = 20

# At most four digits, and six behind the point: no thread has more, and every number stays a number.
_WHOLE = r"\d{1,4}"
_DECIMAL = rf"{_WHOLE}(?:\.\d{{1,6}})?"
_M = re.compile(rf"M\s*(?P<d>{_DECIMAL})(?:\s*[xX×]\s*(?P<p>{_DECIMAL}))?(?:\s*-\s*\d[A-Za-z](?:/?\d[A-Za-z])?)?")
_INCH = re.compile(
    rf"(?:(?P<whole>{_WHOLE})[ -])?(?P<top>{_WHOLE})/(?P<bottom>{_WHOLE})-(?P<n>{_DECIMAL})(?P<tail>.*)"
    rf"|(?P<plain>{_DECIMAL})-(?P<m>{_DECIMAL})(?P<end>.*)"
)
_LONGEST_NAMED = 40  # of what is no thread, a message quotes no more
_INCH_TAIL = re.compile(r"(?:\s*UN[A-Z]{0,3})?(?:\s*-\s*[123][AB])?", re.I)


@dataclass(frozen=True, slots=True)
class Thread:
    """designation: in canonical spelling, M10x1.25 or 1/2-13. diameter: nominal. pitch: in mm or in."""

    designation: str
    system: str
    diameter: Quantity
    pitch: Quantity


@dataclass(frozen=True, slots=True)
class Size:
    """One row of a thread table. series: "coarse" or "fine". Values that the table lacks are None."""

    thread: Thread
    series: str
    pitch_diameter: Quantity | None = None
    minor_diameter: Quantity | None = None
    stress_area: Quantity | None = None
    tapping_drill: Quantity | None = None
    basis: str = ""


@dataclass(frozen=True, slots=True)
class Geometry:
    """pitch_diameter d2; minor_diameter D1 of the internal thread; root_diameter d3 of the bolt (metric only);
    stress_area As; tapping_drill d - P, before rounding to a drill that is sold."""

    pitch_diameter: Quantity
    minor_diameter: Quantity
    root_diameter: Quantity | None
    stress_area: Quantity
    tapping_drill: Quantity


@dataclass(frozen=True, slots=True)
class Strength:
    """One row of a strength table: minima. diameter: the nominal diameters it is for, None for all in the table."""

    name: str
    system: str
    proof: Quantity
    yield_strength: Quantity
    tensile: Quantity
    diameter: Limit | None = None
    basis: str = ""


@dataclass(frozen=True, slots=True)
class Loads:
    """proof: load a bolt must bear without lasting stretch. tensile: minimum at which it may break."""

    name: str
    proof: Quantity
    tensile: Quantity
    basis: str = ""


def parse_thread(designation: str, sizes: Sequence[Size] = ()) -> Thread:
    """Read "M10x1.25", "M10" (coarse, by the table), "1/2-13", "7/16-20 UNF".

    sizes: the thread table, needed for a metric designation without pitch. A tolerance class
    behind it is read over. Raises InputError: unknown (no thread of these two systems, a number of
    more than four digits, or no coarse pitch in the table), ambiguous (a numbered size such as 10-32), out-of-range (a
    pitch over half the diameter, or zero).
    """
    text = designation.strip()
    if match := _M.fullmatch(text):
        return _metric(match["d"], match["p"] or _coarse(float(match["d"]), sizes, text))
    if match := _INCH.fullmatch(text):
        return _unified(match)
    named = text if len(text) <= _LONGEST_NAMED else f"{text[:_LONGEST_NAMED]}…"
    raise InputError("unknown", "thread", f"{named} is no metric or unified thread; write it like M10x1.25 or 7/16-20")


def size_of(thread: Thread, sizes: Sequence[Size]) -> Size | None:
    """The row of the table with this thread's diameter and pitch; None if it is not in the table."""
    return next((size for size in sizes if _same_thread(size.thread, thread)), None)


def geometry(thread: Thread) -> Geometry:
    """Diameters, stress area and drill from diameter d and pitch P.

    d2 = d - 0.649519 P, D1 = d - 1.082532 P (ISO 724; ASME B1.1 has the same profile).
    Metric: d3 = d - 1.226869 P, As = pi/4 ((d2 + d3)/2)^2 (ISO 898-1). Unified, n threads an
    inch: As = pi/4 (d - 0.9743/n)^2 (ASME B1.1). Drill: d - P (ISO 2306 practice). mm and mm2,
    or in and in2. Formulas as quoted at second hand.
    """
    d, p, unit = thread.diameter.value, thread.pitch.value, _UNIT[thread.system]
    pitch_diameter = d - _PITCH_DIAMETER * p
    root = d - _ROOT_DIAMETER * p
    across = (pitch_diameter + root) / 2 if thread.system == METRIC else d - _UNIFIED_AREA * p
    return Geometry(
        Quantity(pitch_diameter, unit),
        Quantity(d - _MINOR_DIAMETER * p, unit),
        Quantity(root, unit) if thread.system == METRIC else None,
        Quantity(pi / 4 * across * across, _AREA[thread.system]),
        Quantity(d - p, unit),
    )


def strength_of(name: str, thread: Thread, rows: Sequence[Strength]) -> Strength:
    """The row for a property class or grade at this thread's diameter.

    Raises InputError: unknown (no such class in the tables), refused (a property class is for
    metric threads, a grade for inch threads), out-of-range (the standard does not cover it).
    """
    named = [row for row in rows if row.name == name]
    if not named:
        raise InputError("unknown", "class", "one of: " + (", ".join(sorted({row.name for row in rows})) or "none in the tables"))
    matching = [row for row in named if row.system == thread.system]
    if not matching:
        raise InputError("refused", "class", f"{name} is for {named[0].system} threads, {thread.designation} is {thread.system}")
    for row in matching:
        if _covers(row.diameter, thread.diameter):
            return row
    raise InputError("out-of-range", "class", f"{name} is not tabulated for {thread.designation}")


def loads(thread: Thread, strength: Strength, area: Quantity | None = None) -> Loads:
    """Proof load = As x proof stress, tensile load = As x tensile strength (ISO 898-1, SAE J429).

    area: the standard's rounded stress area, which its own load tables are made from; without
    it the formula's. The proof stress is the standard's own: it is not 0.9 x nominal yield. N for metric, lbf for
    inch threads. Within 0.5 % of the standard's rounded tables. Raises InputError (refused) if
    the row is for the other system.
    """
    if strength.system != thread.system:
        raise InputError("refused", "class", f"{strength.name} is for {strength.system} threads, {thread.designation} is {thread.system}")
    stress, force = _STRESS[thread.system], _FORCE[thread.system]
    section = measured(area or geometry(thread).stress_area, _AREA[thread.system], "stress area", zero=False)
    proof = section * measured(strength.proof, stress, "proof stress", zero=False)
    tensile = section * measured(strength.tensile, stress, "tensile strength", zero=False)
    return Loads(strength.name, Quantity(proof, force), Quantity(tensile, force), strength.basis)


def marking_strengths(marking: str) -> tuple[Quantity, Quantity]:
    """Nominal tensile and nominal yield strength that a marking such as "10.9" stands for, in MPa.

    First number x 100, and first x second x 10 (ISO 898-1, as a course page quotes it). Neither
    gives the proof stress. Raises InputError (unknown) for anything but two numbers and a point.
    """
    match = re.fullmatch(r"(\d{1,2})\.(\d)", marking.strip())
    if not match or int(match[1]) == 0:
        raise InputError("unknown", "marking", "two numbers with a point between, for example 10.9")
    first, second = int(match[1]), int(match[2])
    return Quantity(float(first * 100), "MPa"), Quantity(float(first * second * 10), "MPa")


def bolt_in_hole(
    length: Quantity,
    grip: Quantity,
    hole_depth: Quantity,
    thread_depth: Quantity | None = None,
    bolt_thread: Quantity | None = None,
) -> Result:
    """Does the bolt clamp the head before it meets something in its hole?

    length: of the bolt under its head. grip: what is clamped, washer and gasket included.
    hole_depth: of the blind hole below the face. thread_depth: how far down the hole is
    threaded. bolt_thread: threaded length of the bolt. All lengths; geometry:
    reach = length - grip, room = hole_depth - reach. Verdicts "clear", "bottoms" (room is
    nothing or less), "jams before it clamps" (past the end of either thread); number: the
    room, below zero if there is none. Raises InputError: zero or negative lengths, a bolt that
    does not reach its hole, a hole shallower than its own thread (out-of-order).
    """
    unit = length.unit if isinstance(length, Quantity) else "mm"
    reach = measured(length, unit, "bolt length", zero=False) - measured(grip, unit, "grip", zero=False)
    depth = measured(hole_depth, unit, "hole depth", zero=False)
    if reach <= 0:
        raise InputError("out-of-order", "bolt length", f"more than the grip, {say_quantity(grip)}; this bolt does not reach its hole")
    threaded = depth if thread_depth is None else measured(thread_depth, unit, "thread depth", zero=False)
    if compare(threaded, depth) > 0:
        raise InputError("out-of-order", "hole depth", f"at least the depth of its thread, {say_quantity(Quantity(threaded, unit))}")
    own = reach if bolt_thread is None else measured(bolt_thread, unit, "bolt thread", zero=False)
    return _fit(reach, depth, threaded, own, unit)


def _fit(reach: float, depth: float, threaded: float, own: float, unit: str) -> Result:
    room = Quantity(depth - reach, unit)
    goes, hole = f"The bolt reaches {say_quantity(Quantity(reach, unit))} into the hole", say_quantity(Quantity(depth, unit))
    if compare(depth, reach) <= 0:
        step = "Do not fit it: check length, washer, gasket and what lies in the hole; a bolt on the bottom does not clamp the head."
        return Result(BOTTOMS, f"{goes}, which is {hole} deep: it meets the bottom before it clamps.", step, room)
    step = "Do not fit it: get the bolt that belongs here, or have the thread made deeper."
    if compare(threaded, reach) < 0:
        deep = say_quantity(Quantity(threaded, unit))
        return Result(JAMS, f"{goes}, which is threaded only {deep} deep: it jams where the thread ends.", step, room)
    if compare(own, reach) < 0:
        thread = say_quantity(Quantity(own, unit))
        return Result(JAMS, f"{goes}, but only {thread} of the bolt is threaded: its shank jams at the face.", step, room)
    return Result(CLEAR, f"{goes}, which is {hole} deep: {say_quantity(room)} to spare.", "Make sure that the hole is dry and clean.", room)


# Designations


def _metric(diameter: str, pitch: str) -> Thread:
    return _thread(f"M{_plain(diameter)}x{_plain(pitch)}", METRIC, float(diameter), float(pitch))


def _plain(digits: str) -> str:
    text = digits.rstrip("0").rstrip(".") if "." in digits else digits
    return text.lstrip("0") if text.lstrip("0") and not text.lstrip("0").startswith(".") else text


def _coarse(diameter: float, sizes: Sequence[Size], text: str) -> str:
    for size in sizes:
        if size.series == "coarse" and size.thread.system == METRIC and size.thread.diameter.value == diameter:
            return size.thread.designation.partition("x")[2]
    raise InputError("unknown", "thread", f"write the pitch too: the table has no coarse pitch for {text}")


def _unified(match: re.Match[str]) -> Thread:
    if not _INCH_TAIL.fullmatch(match["tail"] or match["end"] or ""):
        raise InputError("unknown", "thread", "diameter and threads an inch, for example 7/16-20")
    per_inch = float(match["n"] or match["m"])
    if match["plain"] and float(match["plain"]) >= 1 and per_inch > _FINEST_OF_WHOLE_INCHES:
        raise InputError("ambiguous", "thread", "the diameter in inches: a numbered size is not in the tables")
    if match["plain"]:
        diameter, name = float(match["plain"]), match["plain"]
    else:
        if int(match["bottom"]) == 0:
            raise InputError("not-a-number", "thread", "a fraction with more than 0 below the line")
        diameter = int(match["whole"] or 0) + int(match["top"]) / int(match["bottom"])
        name = (f"{match['whole']} " if match["whole"] else "") + f"{match['top']}/{match['bottom']}"
    return _thread(f"{name}-{match['n'] or match['m']}", UNIFIED, diameter, 1 / per_inch if per_inch else 0.0)


def _thread(designation: str, system: str, diameter: float, pitch: float) -> Thread:
    if not 0 < pitch <= diameter / 2:
        raise InputError("out-of-range", "thread", f"a pitch above zero and at most half the diameter; {designation} is no thread")
    return Thread(designation, system, Quantity(diameter, _UNIT[system]), Quantity(pitch, _UNIT[system]))


def _same_thread(one: Thread, other: Thread) -> bool:
    return one.system == other.system and _near(one.diameter, other.diameter) and _near(one.pitch, other.pitch)


def _near(one: Quantity, other: Quantity) -> bool:
    return compare(one.value, other.to(one.unit)) == 0


def _covers(limit: Limit | None, diameter: Quantity) -> bool:
    if limit is None:
        return True
    low = limit.low.to(diameter.unit) if limit.low else 0.0
    above = diameter.value > low if limit.strict else diameter.value >= low
    return above and (limit.high is None or diameter.value <= limit.high.to(diameter.unit))
