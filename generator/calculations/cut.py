"""A cut off head or deck: whether it is allowed, what it does to ratio and valve timing, what else to check.

Plain arithmetic; the browser's twin gives the same numbers, words and codes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import cos, pi, sin

from generator.calculations.result import InputError, Limit, Result, measured
from generator.calculations.wording import compare, say_number, say_quantity
from generator.quantities import Quantity

ALLOWED, CANNOT_TELL, NOT_ALLOWED = "allowed", "cannot tell", "not allowed"
VERDICTS = (ALLOWED, CANNOT_TELL, NOT_ALLOWED)  # rising
COMPUTED, NOT_COMPUTED = "computed", "not computed"

HEAD, DECK = "head", "deck"
NEXT = {
    ALLOWED: "Tell the machine shop how much may come off, and check what else a cut changes.",
    CANNOT_TELL: "Look up the engine's own limit.",
    NOT_ALLOWED: "Do not cut; find another part or ask the machine shop.",
}
_LOOK_UP = "Look it up in the manual before anything is cut."
_FACES = {HEAD: ("head", "block"), DECK: ("block", "head")}
_FEWEST_TEETH, _MOST_TEETH = 6, 1000  # far more than any camshaft has: beyond it is a slip of the keyboard


@dataclass(frozen=True, slots=True)
class Planned:
    """A cut that is planned, what is known of the part, and the limits the record gives.

    cut: stock to come off now. before: what came off this face before, None if not known.
    other_face: all that came off the other part (block or head). height, recession: measured now,
    the smallest reading. per_cut, total, together: most that may come off in one cut, in all, and
    off head and block together. height_limit, recession_limit: least that must be left; a cut off
    the deck leaves the recession as it is. face: "head" or "deck".
    """

    cut: Quantity
    before: Quantity | None = None
    other_face: Quantity | None = None
    height: Quantity | None = None
    recession: Quantity | None = None
    per_cut: Limit | None = None
    total: Limit | None = None
    together: Limit | None = None
    height_limit: Limit | None = None
    recession_limit: Limit | None = None
    face: str = HEAD


@dataclass(frozen=True, slots=True)
class Removal:
    """overall: the gravest of the checks. checks: one for each limit the record gives, in fixed order.
    left: what could still come off after this cut, below zero if it is too much; None while a check is open."""

    overall: Result
    checks: tuple[Result, ...]
    left: Quantity | None


@dataclass(frozen=True, slots=True)
class Areas:
    """chamber: of the chamber at the head face, zero for a flat face with the bowl in the piston.
    gasket: of the gasket bore. cylinder: of the cylinder bore."""

    chamber: Quantity | None
    gasket: Quantity | None
    cylinder: Quantity | None


@dataclass(frozen=True, slots=True)
class RatioChange:
    """Compression ratio before and after, and the clearance volume after, in the unit it was given in."""

    before: Quantity
    after: Quantity
    clearance: Quantity
    reason: str


@dataclass(frozen=True, slots=True)
class Restoring:
    """How much thicker a gasket restores the ratio, and how much thicker one restores the timing; not the same.
    for_timing: None where it is not computed."""

    for_ratio: Quantity
    for_timing: Quantity | None
    reason: str


@dataclass(frozen=True, slots=True)
class Retard:
    """verdict: "computed" or "not computed". cam, crank: degrees late, below zero for early; None if not computed."""

    verdict: str
    cam: Quantity | None
    crank: Quantity | None
    reason: str
    next_step: str


@dataclass(frozen=True, slots=True)
class Consequence:
    """One thing to check after a cut. heading: empty if the engine has it, "If the engine has …:" if that is not known."""

    key: str
    heading: str
    text: str
    basis: str


# Stock removal


def stock_removal(planned: Planned) -> Removal:
    """Check a planned cut against every limit that the record gives.

    Off in all = before + cut; height and recession left = reading - cut. Verdicts "allowed",
    "not allowed", "cannot tell" (a reading is missing, the record gives no number, or the limit
    is a rule of practice and not this engine's). Lengths in any unit; sentences in the unit of the
    cut. Raises InputError: cut missing, bare, zero or below; readings below zero; unknown face.
    """
    if planned.face not in _FACES:
        raise InputError("unknown", "face", "head or deck")
    measured(planned.cut, "mm", "cut", zero=False)
    found = (_most_in_one(planned), _most_in_all(planned), _most_together(planned), _least_height(planned), _least_recession(planned))
    checks = tuple(each for each in found if each is not None)
    if not checks:
        reason = "This record gives no limit for stock removal."
        return Removal(Result(CANNOT_TELL, reason, _LOOK_UP), (), None)
    overall = max(checks, key=lambda each: (VERDICTS.index(each.verdict), -_left(each)))
    is_open = any(each.verdict == CANNOT_TELL for each in checks)
    return Removal(overall, checks, None if is_open else min(checks, key=_left).number)


def _left(check: Result) -> float:
    return 0.0 if check.number is None else check.number.to("mm")


def _most_in_one(planned: Planned) -> Result | None:
    if planned.per_cut is None:
        return None
    return _most(planned, planned.per_cut, planned.cut.to("mm"), f"This cut takes {say_quantity(planned.cut)}", "in one cut")


def _most_in_all(planned: Planned) -> Result | None:
    if planned.total is None:
        return None
    if planned.before is None:
        return _in_part(planned, planned.total, planned.cut.to("mm"), "in all", _FACES[planned.face][0])
    before = measured(planned.before, "mm", "cut before")
    taken = before + planned.cut.to("mm")
    words = f"{_length(before, planned)} before and {say_quantity(planned.cut)} now make {_length(taken, planned)}"
    return _most(planned, planned.total, taken, words, "in all")


def _most_together(planned: Planned) -> Result | None:
    if planned.together is None:
        return None
    this, other = _FACES[planned.face]
    before = 0.0 if planned.before is None else measured(planned.before, "mm", "cut before")
    off = 0.0 if planned.other_face is None else measured(planned.other_face, "mm", "other face")
    taken = before + planned.cut.to("mm")
    if planned.before is None or planned.other_face is None:
        return _in_part(planned, planned.together, taken + off, "head and block together", this if planned.before is None else other)
    words = f"{_length(taken, planned)} off the {this} and {_length(off, planned)} off the {other} make {_length(taken + off, planned)}"
    return _most(planned, planned.together, taken + off, words, "head and block together")


def _in_part(planned: Planned, limit: Limit, known: float, where: str, part: str) -> Result:
    """A sum of which a part is missing: what is known may still be too much."""
    if limit.high is not None and _beyond(known, measured(limit.high, "mm", limit.label), limit.strict):
        return _most(planned, limit, known, f"{_length(known, planned)} is known to come off with this cut, which is too much", where)
    reason = f"What may come off {where} cannot be checked: what came off the {part} before is not known."
    return Result(CANNOT_TELL, reason, "Measure the height and compare it with the new one, or find out who cut it.", None, limit.basis)


def _most(planned: Planned, limit: Limit, taken: float, words: str, where: str) -> Result:
    if limit.high is None:
        return _no_number(limit, f"how much may come off {where}")
    bound = "less than" if limit.strict else "at most"
    allowed = measured(limit.high, "mm", limit.label)
    reason = f"{words}; {bound} {_length(allowed, planned)} may come off {where}."
    return _judged(_beyond(taken, allowed, limit.strict), reason, _quantity(allowed - taken, planned), limit)


def _least_height(planned: Planned) -> Result | None:
    part = _FACES[planned.face][0]
    words = f"The {part} is {{now}} high and {{after}} after the cut"
    return _least(planned, planned.height_limit, planned.height, f"{part} height", words)


def _least_recession(planned: Planned) -> Result | None:
    words = "The valves stand {now} deep and {after} after the cut"
    limit = planned.recession_limit if planned.face == HEAD else None
    return _least(planned, limit, planned.recession, "valve recession", words)


def _least(planned: Planned, limit: Limit | None, reading: Quantity | None, name: str, words: str) -> Result | None:
    if limit is None:
        return None
    if limit.low is None:
        return _no_number(limit, f"the least {name}")
    least = measured(limit.low, "mm", limit.label, negative=True)
    if reading is None:
        reason = f"The {name} is not measured, so the limit of {_length(least, planned)} cannot be checked."
        return Result(CANNOT_TELL, reason, f"Measure the {name}.", None, limit.basis)
    now = measured(reading, "mm", name, negative=True)
    after = now - planned.cut.to("mm")
    bound = "more than" if limit.strict else "at least"
    says = words.replace("{now}", _length(now, planned)).replace("{after}", _length(after, planned))
    reason = f"{says}; {bound} {_length(least, planned)} must be left."
    return _judged(_beyond(-after, -least, limit.strict), reason, _quantity(after - least, planned), limit)


def _judged(beyond: bool, reason: str, left: Quantity, limit: Limit) -> Result:
    if not limit.own:
        return Result(CANNOT_TELL, f"{reason} This is not this engine's limit.", NEXT[CANNOT_TELL], left, limit.basis)
    if beyond:
        return Result(NOT_ALLOWED, reason, NEXT[NOT_ALLOWED], left, limit.basis)
    return Result(ALLOWED, reason, NEXT[ALLOWED], left, limit.basis)


def _no_number(limit: Limit, what: str) -> Result:
    return Result(CANNOT_TELL, f"The record gives no number for {what}.", _LOOK_UP, None, limit.basis)


def _beyond(value: float, bound: float, strict: bool) -> bool:
    order = compare(value, bound)
    return order > 0 or (strict and order == 0)


def _quantity(millimetres: float, planned: Planned) -> Quantity:
    return Quantity(millimetres, "mm").converted(planned.cut.unit)


def _length(millimetres: float, planned: Planned) -> str:
    return say_quantity(_quantity(millimetres, planned))


# Compression ratio


def circle_area(diameter: Quantity) -> Quantity:
    """A = pi/4 d d. cm2, or in2 for a diameter in inches. For a round gasket bore or cylinder bore."""
    inches = isinstance(diameter, Quantity) and diameter.unit == "in"
    across = measured(diameter, "in" if inches else "mm", "bore", zero=False)
    return Quantity(pi / 4 * across * across, "in2") if inches else Quantity(pi / 4 * across * across / 100, "cm2")


def swept_volume(bore: Quantity, stroke: Quantity) -> Quantity:
    """Vs = pi/4 bore bore stroke, one cylinder. cm3, or in3 for a bore in inches."""
    area = circle_area(bore)
    if area.unit == "in2":
        return Quantity(area.value * measured(stroke, "in", "stroke", zero=False), "in3")
    return Quantity(area.value * measured(stroke, "mm", "stroke", zero=False) / 10, "cm3")


def compression_ratio(swept: Quantity, clearance: Quantity) -> Quantity:
    """(Vs + Vc)/Vc (DOE-HDBK-1018/1-93 ME-01 p. 18). Vs of one cylinder, Vc with the piston at top dead centre."""
    vs, vc = measured(swept, "cm3", "swept volume", zero=False), measured(clearance, "cm3", "clearance volume", zero=False)
    return Quantity((vs + vc) / vc, "ratio")


def clearance_volume(swept: Quantity, ratio: Quantity) -> Quantity:
    """Vc = Vs/(CR - 1), in the unit of Vs. Raises InputError (out-of-range) for a ratio of 1 or less."""
    measured(swept, "cm3", "swept volume", zero=False)
    times = measured(ratio, "ratio", "ratio")
    if times <= 1:
        raise InputError("out-of-range", "ratio", "more than 1")
    return Quantity(swept.value / (times - 1), swept.unit)


def ratio_after(
    swept: Quantity, clearance: Quantity, areas: Areas, head_cut: Quantity, deck_cut: Quantity, gasket_gain: Quantity
) -> RatioChange:
    """Compression ratio after a cut and with another gasket.

    Vc' = Vc - A chamber x head cut - A cylinder x deck cut + A gasket x gain in gasket thickness;
    CR' = (Vs + Vc')/Vc'. Each area is needed, whatever is cut; zero only for the chamber. Cuts are
    zero or more, the gain may be below zero (a thinner gasket). Right while the chamber keeps its
    area over the depth of the cut. Raises InputError: missing, wrong unit, negative; out-of-range
    if no clearance is left.
    """
    chamber, gasket, cylinder = _areas(areas)
    head, deck = measured(head_cut, "mm", "head cut"), measured(deck_cut, "mm", "deck cut")
    gain = measured(gasket_gain, "mm", "gain in gasket thickness", negative=True)
    before = compression_ratio(swept, clearance)
    volume = clearance.to("cm3") - (chamber * head + cylinder * deck - gasket * gain) / 10
    if volume <= 0:
        raise InputError("out-of-range", "clearance volume", "cuts that leave room above the piston")
    after = compression_ratio(swept, Quantity(volume, "cm3"))
    left = Quantity(volume, "cm3").converted(clearance.unit)
    reason = (
        f"The clearance volume goes from {say_quantity(clearance)} to {say_quantity(left)}, "
        f"the compression ratio from {say_number(before)} to {say_number(after)} to 1."
    )
    return RatioChange(before, after, left, reason)


def restoring_gaskets(areas: Areas, head_cut: Quantity, deck_cut: Quantity, drive: str | None) -> Restoring:
    """The gain in gasket thickness that restores the ratio, and the one that restores the timing.

    Ratio: (A chamber x head cut + A cylinder x deck cut)/A gasket. Timing: head cut + deck cut, so
    that the camshaft stands where it stood. drive: as in `cam_retard`; without a straight strand the
    timing is not computed. In the unit of the head cut.
    """
    chamber, gasket, cylinder = _areas(areas)
    head, deck = measured(head_cut, "mm", "head cut"), measured(deck_cut, "mm", "deck cut")
    for_ratio = Quantity((chamber * head + cylinder * deck) / gasket, "mm").converted(head_cut.unit)
    ratio_words = f"A gasket {say_quantity(for_ratio)} thicker restores the compression ratio"
    why = _why_not(drive)
    if why:
        return Restoring(for_ratio, None, f"{ratio_words}. For the valve timing none is computed: {why}.")
    for_timing = Quantity(head + deck, "mm").converted(head_cut.unit)
    if compare(for_ratio.to("mm"), head + deck) == 0:
        return Restoring(for_ratio, for_timing, f"{ratio_words} and the valve timing.")
    reason = f"{ratio_words}; one {say_quantity(for_timing)} thicker restores the valve timing. They are two different gaskets."
    return Restoring(for_ratio, for_timing, reason)


def _areas(areas: Areas) -> tuple[float, float, float]:
    if not isinstance(areas, Areas):
        raise InputError("missing", "areas", "chamber at the face, gasket bore and cylinder bore")
    return (
        measured(areas.chamber, "cm2", "chamber area at the face"),
        measured(areas.gasket, "cm2", "gasket bore area", zero=False),
        measured(areas.cylinder, "cm2", "cylinder bore area", zero=False),
    )


# Valve timing

# Drives by one straight strand are computed; every other says why not.
_STRAIGHT = ("chain", "belt")
NOT_STRAIGHT = {
    "gears": "gears carry no strand, a cut changes how they mesh",
    "push rods": "the camshaft is in the block, a cut does not move it",
    "intermediate sprocket": "the strand does not run straight from crank to camshaft",
    "bent strand": "the strand does not run straight from crank to camshaft",
}
DRIVES = (*_STRAIGHT, *NOT_STRAIGHT)
_UNKNOWN_DRIVE = "how the camshaft is driven is not in this record"


def sprocket_radius(teeth: int, pitch: Quantity, drive: str) -> Quantity:
    """Pitch radius: chain p/(2 sin(180/N)), toothed belt N p/(2 pi). In the unit of the pitch.

    Raises InputError: teeth not a whole number, fewer than 6 (too-few) or more than 1000 (out-of-range), a drive
    that has no sprocket (refused).
    """
    if isinstance(teeth, bool) or not isinstance(teeth, int):
        raise InputError("not-a-number", "teeth", "a whole number")
    if teeth < _FEWEST_TEETH:
        raise InputError("too-few", "teeth", f"{_FEWEST_TEETH} or more")
    if teeth > _MOST_TEETH:
        raise InputError("out-of-range", "teeth", f"{_MOST_TEETH} or fewer")
    if drive not in _STRAIGHT:
        raise InputError("refused", "drive", "a chain or a belt")
    measured(pitch, "mm", "pitch", zero=False)
    radius = pitch.value / (2 * sin(pi / teeth)) if drive == "chain" else teeth * pitch.value / (2 * pi)
    return Quantity(radius, pitch.unit)


def cam_retard(
    drive: str | None,
    head_cut: Quantity,
    deck_cut: Quantity,
    gasket_gain: Quantity,
    strand_angle: Quantity | None,
    cam_radius: Quantity | None,
) -> Retard:
    """How late an overhead camshaft runs after a cut, for one straight strand from crank to cam.

    Cam angle = d cos(a)/R in radians, d = head cut + deck cut - gain in gasket thickness, a the
    angle between the direction of the cut and the strand that reaches and pulls the cam (0 for a
    strand along the cylinder), R the cam sprocket's pitch radius; the crank turns twice that. From
    own derivation, checked by tangent geometry; right to about d/(strand length). d below zero
    runs early. Gears, push rods, intermediate sprockets, a bent strand or an unknown drive: "not
    computed" with the reason. Raises InputError: unknown drive word, missing or wrong input, an
    angle of 90 degrees or more (out-of-range).
    """
    why = _why_not(drive)
    if why:
        step = "Check the timing by the maker's method; no number can be given for it here."
        return Retard(NOT_COMPUTED, None, None, f"Not computed: {why}.", step)
    head, deck = measured(head_cut, "mm", "head cut"), measured(deck_cut, "mm", "deck cut")
    lower = head + deck - measured(gasket_gain, "mm", "gain in gasket thickness", negative=True)
    angle = measured(strand_angle, "deg", "strand angle")
    radius = measured(cam_radius, "mm", "cam sprocket radius", zero=False)
    if angle >= 90:
        raise InputError("out-of-range", "strand angle", "less than 90 deg, between the cut and the strand")
    cam = Quantity(lower * cos(angle * pi / 180) / radius * 180 / pi, "deg")
    return _told(cam, lower, head_cut.unit)


def _told(cam: Quantity, lower: float, unit: str) -> Retard:
    crank = Quantity(2 * cam.value, "deg")
    if compare(lower, 0.0) == 0:
        return Retard(COMPUTED, cam, crank, "The head sits as high as before: the timing stays.", _BY_TURNS)
    where, when = ("lower", "late") if lower > 0 else ("higher", "early")
    sizes = [say_quantity(Quantity(abs(each.value), "deg")) for each in (cam, crank)]
    moved = say_quantity(Quantity(abs(lower), "mm").converted(unit))
    reason = f"The head sits {moved} {where}: the camshaft runs {sizes[0]} {when}, {sizes[1]} at the crank."
    return Retard(COMPUTED, cam, crank, reason, _BY_TURNS)


_BY_TURNS = "Set the timing by the engine's marks, turn the crank twice by hand and check it again."


def _why_not(drive: str | None) -> str:
    """Why a drive is not computed; empty if it is."""
    if drive is None:
        return _UNKNOWN_DRIVE
    if drive not in DRIVES:
        raise InputError("unknown", "drive", "one of: " + ", ".join(DRIVES))
    return NOT_STRAIGHT.get(drive, "")


# Everything else a cut changes

_PRACTICE = "common practice, no source"
_CONSEQUENCES = (
    ("valves in the head",
     "Valve to piston: the valves come nearer by up to the whole cut. Measure the clearance against the engine's own minimum.", _PRACTICE),
    ("valves in the head",
     "Valve seats: the recession becomes smaller by the cut. Have the seats recut until it is back inside the engine's limits.",
     "TM 10-4320-310-14 p. 6-4, para 6-2: the recession must stay at or above its minimum"),
    ("push rods",
     "Push rods and lifters: the rockers come down by the cut. Check lifter preload or valve clearance, and the length of the push rods.",
     _PRACTICE),
    ("vee",
     "Intake: the heads of a vee come down and inward. Check that manifold faces, ports and bolt holes still meet.", _PRACTICE),
    ("dowels",
     "Dowels: their holes become shallower by the cut. Check that no dowel holds the head off the gasket.", _PRACTICE),
    ("parts beyond the face",
     "Protrusions: pistons, liners, injectors, glow plugs or chambers stand out further. Measure each against its own limit.", _PRACTICE),
    ("blind bolt holes",
     "Head bolts: they reach deeper by the cut. Check that none meets the bottom of its hole.", _PRACTICE),
    ("overhead camshaft",
     "Valve timing: a lower head runs the camshaft late. See how late, and check it by the maker's method.", _PRACTICE),
)
FEATURES = ("valves in the head", "push rods", "vee", "dowels", "parts beyond the face", "blind bolt holes", "overhead camshaft")
_HEADINGS = {
    "valves in the head": "If the valves are in the head:",
    "vee": "If the engine is a vee:",
    "overhead camshaft": "If the camshaft is in the head:",
}


def consequences(has: Mapping[str, bool | None]) -> tuple[Consequence, ...]:
    """What else to check after a cut, in fixed order, by what the engine has.

    has: one of FEATURES -> True (shown), False (left out), None or absent (shown under a heading
    that says "If the engine has …"). Raises InputError (unknown) for any other feature.
    """
    for feature in sorted(has):
        if feature not in FEATURES:
            raise InputError("unknown", "feature", f"{feature} is none of: " + ", ".join(FEATURES))
    return tuple(
        Consequence(key, "" if has.get(key) else _HEADINGS.get(key, f"If the engine has {key}:"), text, basis)
        for key, text, basis in _CONSEQUENCES
        if has.get(key) is not False
    )
