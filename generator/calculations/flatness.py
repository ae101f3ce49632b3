"""Flatness of a face by straightedge and feeler blades.

A blade that goes under the straightedge proves a gap of at least its thickness; one that does not go
proves a smaller gap. The verdict on a line follows the blades and nothing else: the limit blade or more
goes = over; the limit blade or a thinner one does not go = within; between the two it is open.
How the reading may be used:

- a stack of blades holds oil, dust and air, so it is thicker than its sum: it proves "goes", never "does not go"
- a gap felt over a short span is part of the gap over the whole line: it can prove a limit on the whole line
  exceeded, never kept; a gap over the whole line can prove a limit on any short span kept, never exceeded
- a line without a limit of its own is held against the stricter one: for a diagonal, which lies between the two
  directions, that decides where the source limits both; a limit of another direction alone is shown and decides
  nothing, because nobody knows that the limit which is missing is not narrower
- a straightedge that rocks stands on a convex face: the gap at its end depends on how it is held, so no
  blade decides

Lines along, across and between bores: TM 10-3930-653-14&P p. 4-28, TM 9-4940-549-14&P p. 12-14; diagonals
and diameters: common practice, no source. That the limit blade itself counts as over: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.calculations.limits import NO_LIMIT, NO_NUMBER, OVER, PRACTICE, WITHIN
from generator.calculations.result import InputError, Limit, Result, measured
from generator.calculations.wording import bounds_text, compare, listing, say, say_beside, say_quantity, total
from generator.quantities import Quantity

LENGTHWISE, CROSSWISE, DIAGONAL, DIAMETER, ANY = "lengthwise", "crosswise", "diagonal", "diameter", "any"
DIRECTIONS = (LENGTHWISE, CROSSWISE, DIAGONAL, DIAMETER, ANY)
CANNOT_TELL, TOO_CLOSE, ROCKS, NOT_MEASURED = "cannot tell yet", "too close for these tools", "another method", "not measured"
NO_OWN = "no limit of its own"

# What weighs most first, for a line under several limits and for a face of many lines.
WEIGHT = (OVER, ROCKS, TOO_CLOSE, CANNOT_TELL, NOT_MEASURED, NO_NUMBER, NO_LIMIT, NO_OWN, PRACTICE, WITHIN)
# By these the blades have spoken, or cannot.
_WORST = (OVER, ROCKS, TOO_CLOSE, CANNOT_TELL)

NEXT = {
    OVER: "Do not fit it like this: decide between resurfacing, a machine shop and another part.",
    WITHIN: "Write the blades down and go on to the next line.",
    TOO_CLOSE: "Have it measured with a surface plate and a dial gauge, or by a machine shop.",
    ROCKS: "Use another method: a surface plate and a dial gauge, or a machine shop.",
    NO_NUMBER: "Judge the face by what the source says, and write the blades down.",
    NO_LIMIT: "Write the blades down and look the limit up in the manual of this engine.",
    PRACTICE: "Write the blades down and look up this engine's own limit before deciding.",
    NOT_MEASURED: "Measure the lines that are left.",
    NO_OWN: "Write the blades down and look in the manual for a limit on this line.",
}
ALL_WITHIN_NEXT = "Write the blades down and go on."


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a face. id: its key. name: in words. direction: one of DIRECTIONS but any.

    length: of the line, where the geometry of the head is known.
    """

    id: str
    name: str
    direction: str
    length: Quantity | None = None


@dataclass(frozen=True, slots=True)
class FaceLimit:
    """A flatness limit as found: only `limit.high` bounds it. direction: one of DIRECTIONS.

    span: None over the whole line; 100 mm for "any 100 mm".
    """

    limit: Limit
    direction: str = ANY
    span: Quantity | None = None


@dataclass(frozen=True, slots=True)
class LineReading:
    """What was felt on one line, the worst place counting.

    line: id of the line. goes: the thickest blade that goes, or the blades of the stack; stops: the thinnest
    that does not, likewise; empty: none. span: the length of straightedge it was felt over, None for the
    whole line. rocks: whether the straightedge rocks. doubt: of blades and straightedge together, if known.
    """

    line: str
    goes: tuple[Quantity, ...] = ()
    stops: tuple[Quantity, ...] = ()
    span: Quantity | None = None
    rocks: bool = False
    doubt: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Judged:
    """One line against one limit.

    result: verdict, reason, next step, basis. by_blades: over, within or cannot tell yet, whatever the doubt;
    empty where the blades give no verdict. at_least, at_most: by how much it is settled, each None if not
    known. borrowed: the limit is another line's. share: proven gap over limit (1 = at the limit), else 0.
    """

    result: Result
    by_blades: str = ""
    at_least: Quantity | None = None
    at_most: Quantity | None = None
    borrowed: bool = False
    share: float = 0.0


@dataclass(frozen=True, slots=True)
class LineJudged:
    """each: one Judged a limit that bears on the line, own limits before rules of practice. deciding: the weightiest."""

    line: Line
    each: tuple[Judged, ...]
    deciding: Judged


@dataclass(frozen=True, slots=True)
class FaceJudged:
    """lines: in the order of the face. worst: id of the line that decides. missing: names of lines without a reading."""

    lines: tuple[LineJudged, ...]
    result: Result
    worst: str
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Proof:
    """What the readings of a line prove for one limit, in its unit; None where nothing is proven."""

    goes: float | None = None
    goes_by: LineReading | None = None
    stops: float | None = None
    stops_by: LineReading | None = None
    too_long: float | None = None  # goes over a longer span than the limit's
    too_short: float | None = None  # does not go, over a shorter span than the limit's
    stack_stops: bool = False
    right_span: bool = True  # a reading was taken over the span that the limit speaks of


def lines_of(bores: Sequence[str]) -> tuple[Line, ...]:
    """The lines of a head or deck face over a row of bores, named in order.

    Two edges, two diagonals, one across at each end, one across between each pair of neighbours: 6 + (n - 1).
    Raise InputError too-few without a bore, too-many for a name that comes twice.
    """
    if not bores:
        raise InputError("too-few", "bores", "name at least one bore")
    if len(set(bores)) < len(bores):
        raise InputError("too-many", "bores", "name every bore once")
    first, last = bores[0], bores[-1]
    fixed = [
        Line("edge-a", "along one edge", LENGTHWISE), Line("edge-b", "along the other edge", LENGTHWISE),
        Line("diagonal-a", "one diagonal", DIAGONAL), Line("diagonal-b", "the other diagonal", DIAGONAL),
        Line("end-a", f"across the end at bore {first}", CROSSWISE),
    ]
    between = [Line(f"between-{one}-{other}", f"across between bores {one} and {other}", CROSSWISE) for one, other in pairwise(bores)]
    ending = f"across the end at bore {last}" if last != first else f"across the other end at bore {last}"
    return (*fixed, *between, Line("end-b", ending, CROSSWISE))


def lines_of_round(diameters: int = 4) -> tuple[Line, ...]:
    """The lines of a round face: diameters at equal angles, two at least (common practice, no source)."""
    if diameters < 2:
        raise InputError("too-few", "diameters", "take at least two diameters")
    return tuple(Line(f"diameter-{n}", f"diameter {n} of {diameters}", DIAMETER) for n in range(1, diameters + 1))


def judge_line(line: Line, readings: Sequence[LineReading], limits: Sequence[FaceLimit], blades: Sequence[Quantity] = ()) -> LineJudged:
    """Judge one line by its readings (whole line, any 100 mm, …) against every limit that bears on it.

    blades: those in hand, for the next one to try; empty: not said. A limit bears on a line by direction, each
    span for itself; a line without any of its own is held against the strictest of each span, and the reason
    says so. Verdicts: over, within, cannot tell yet, too close for these tools (the stated doubt is larger than
    what the blades leave), no number, no limit, no limit of its own (another direction's is shown), practice
    only, another method, not measured. number: the limiting gap proven, in the limit's unit. Raise InputError:
    wrong-unit, negative, zero, missing (a reading without blades), out-of-order (a blade that goes is not
    thinner than one that does not), unknown (a line or direction), out-of-range (a limit without an upper bound).
    """
    for reading in readings:
        _check(line, reading)
    for face_limit in limits:
        _check_limit(face_limit)
    for blade in blades:
        measured(blade, "mm", "blades in hand", zero=False)
    if not readings:
        return _alone(line, Judged(Result(NOT_MEASURED, f"{line.name}: not measured.", NEXT[NOT_MEASURED])))
    if any(reading.rocks for reading in readings):
        reason = f"{line.name}: the straightedge rocks, so the face is convex and no blade decides."
        return _alone(line, Judged(Result(ROCKS, reason, NEXT[ROCKS])))
    bearing = _bearing(line, limits)
    if not bearing:
        reason = f"{line.name}: {_felt(readings)}, and this record has no limit for it."
        return _alone(line, Judged(Result(NO_LIMIT, reason, NEXT[NO_LIMIT])))
    each = tuple(_against(line, readings, limit, borrowed, blades) for limit, borrowed in bearing)
    deciding = [judged for judged in each if judged.result.verdict not in (PRACTICE, NO_OWN)]
    return LineJudged(line, each, min(deciding or each, key=_order))


def judge_face(
    lines: Sequence[Line], readings: Sequence[LineReading], limits: Sequence[FaceLimit], blades: Sequence[Quantity] = (),
) -> FaceJudged:
    """Judge every line of a face; the face is within only when all its lines are.

    The weightiest verdict decides; of equals, the line nearest to or farthest past its limit. Errors as `judge_line`.
    """
    ids = [line.id for line in lines]
    if not ids:
        raise InputError("too-few", "lines", "name at least one line")
    for reading in readings:
        if reading.line not in ids:
            raise InputError("unknown", "line", f"{reading.line} is no line of this face")
    judged = tuple(judge_line(line, [reading for reading in readings if reading.line == line.id], limits, blades) for line in lines)
    worst = min(judged, key=lambda one: _order(one.deciding))
    missing = tuple(one.line.name for one in judged if one.deciding.result.verdict == NOT_MEASURED)
    return FaceJudged(judged, _face_result(judged, worst, missing), worst.line.id, missing)


def _face_result(judged: Sequence[LineJudged], worst: LineJudged, missing: Sequence[str]) -> Result:
    found = worst.deciding.result
    total, left = len(judged), len(missing)
    if found.verdict == NOT_MEASURED:
        reason = f"{total - left} of {total} lines are measured; not yet: {listing(tuple(missing))}."
        return Result(NOT_MEASURED, reason, NEXT[NOT_MEASURED])
    if found.verdict == WITHIN:
        reason = f"All {total} lines are within; the nearest to its limit, {found.reason}"
        return Result(WITHIN, reason, ALL_WITHIN_NEXT, found.number, found.basis)
    heading = "Worst line," if found.verdict in _WORST else "Not decided,"
    ending = f" Not measured yet: {listing(tuple(missing))}." if missing else ""
    return Result(found.verdict, f"{heading} {found.reason}{ending}", found.next_step, found.number, found.basis)


def _order(judged: Judged) -> tuple[int, float]:
    return WEIGHT.index(judged.result.verdict), -judged.share


def _alone(line: Line, judged: Judged) -> LineJudged:
    return LineJudged(line, (judged,), judged)


# -- which limits bear on a line --

# How a limit bears on a line.
_OWN, _BETWEEN, _OTHER = "its own", "between two directions", "of another direction"
_ENDINGS = {
    _OWN: "",
    _BETWEEN: "; no limit of its own in this record, so the stricter one stands here",
    _OTHER: "; that is said of another direction, and this line has no limit of its own in this record",
}


def _bearing(line: Line, limits: Sequence[FaceLimit]) -> list[tuple[FaceLimit, str]]:
    """Each limit that bears on the line and how: the engine's before rules of practice."""
    engine, practice = [one for one in limits if one.limit.own], [one for one in limits if not one.limit.own]
    return [*_of_one_kind(line, engine), *_of_one_kind(line, practice)]


def _of_one_kind(line: Line, limits: Sequence[FaceLimit]) -> list[tuple[FaceLimit, str]]:
    own = [(one, _OWN) for one in limits if one.direction in (ANY, line.direction)]
    return own or [_borrowed(line, [one for one in limits if _same_span(one.span, span)]) for span in _spans(limits)]


def _borrowed(line: Line, limits: Sequence[FaceLimit]) -> tuple[FaceLimit, str]:
    both = {LENGTHWISE, CROSSWISE} <= {one.direction for one in limits}
    return _strictest(limits), _BETWEEN if both and line.direction == DIAGONAL else _OTHER


def _spans(limits: Sequence[FaceLimit]) -> list[Quantity | None]:
    spans: list[Quantity | None] = []
    for one in limits:
        if not any(_same_span(one.span, span) for span in spans):
            spans.append(one.span)
    return spans


def _same_span(one: Quantity | None, other: Quantity | None) -> bool:
    if one is None or other is None:
        return one is other
    return compare(one.to("mm"), other.to("mm")) == 0


def _strictest(limits: Sequence[FaceLimit]) -> FaceLimit:
    """The lowest upper bound; of equals the strict one; a limit without number is stricter than any number."""
    return min(limits, key=lambda one: (one.limit.high.to("mm") if one.limit.high else 0.0, not one.limit.strict))


# -- one line against one limit --

def _against(
    line: Line, readings: Sequence[LineReading], face_limit: FaceLimit, how: str, blades: Sequence[Quantity],
) -> Judged:
    limit = face_limit.limit
    high = limit.high
    ending, borrowed = _ENDINGS[how], how != _OWN
    if high is None:
        verdict = _undecided(limit, how) or NO_NUMBER
        reason = f"{line.name}: {_felt(readings)}, and the source gives no number to hold it against{ending}."
        return Judged(Result(verdict, reason, NEXT[verdict], None, limit.basis), borrowed=borrowed)
    proof = _proof(line, readings, face_limit, high.unit)
    by_blades = _by_blades(proof, high.value)
    at_least, at_most = _settled(proof, by_blades, high)
    number = proof.stops if by_blades == WITHIN else proof.goes
    proven = None if number is None else Quantity(number, high.unit)
    clause = f"{line.name}: {_clause(readings, proof, by_blades, face_limit, high)}"
    if undecided := _undecided(limit, how):
        practice = "" if limit.own else "; a rule of practice and not this engine's limit"
        return Judged(Result(undecided, f"{clause}{practice}{ending}.", NEXT[undecided], proven, limit.basis), borrowed=borrowed)
    verdict, doubt_text = _with_doubt(proof, by_blades, at_least, high)
    reason = f"{clause}{_settled_text(at_least, at_most)}{doubt_text}{ending}."
    next_step = NEXT[verdict] if verdict != CANNOT_TELL else _next(proof, face_limit, high, blades)
    result = Result(verdict, reason, next_step, proven, limit.basis)
    return Judged(result, by_blades, at_least, at_most, borrowed, (number or 0.0) / high.value)


def _undecided(limit: Limit, how: str) -> str:
    """The verdict where a limit is shown and decides nothing; empty where it decides."""
    return PRACTICE if not limit.own else NO_OWN if how == _OTHER else ""


def _by_blades(proof: _Proof, bound: float) -> str:
    if proof.goes is not None and compare(proof.goes, bound) >= 0:
        return OVER
    if proof.stops is not None and compare(proof.stops, bound) <= 0:
        return WITHIN
    return CANNOT_TELL


def _settled(proof: _Proof, by_blades: str, high: Quantity) -> tuple[Quantity | None, Quantity | None]:
    """By how much a verdict is settled: from the blade that decides, and from the one on the other side of the gap."""
    decides, other = (proof.goes, proof.stops) if by_blades == OVER else (proof.stops, proof.goes)
    if by_blades == CANNOT_TELL or decides is None:
        return None, None
    least = Quantity(_distance(decides, high.value), high.unit)
    return least, None if other is None else Quantity(_distance(other, high.value), high.unit)


def _distance(one: float, other: float) -> float:
    return 0.0 if compare(one, other) == 0 else abs(one - other)


def _with_doubt(proof: _Proof, by_blades: str, at_least: Quantity | None, high: Quantity) -> tuple[str, str]:
    by = proof.goes_by if by_blades == OVER else proof.stops_by
    if at_least is None or by is None or by.doubt is None:
        return by_blades, ""
    doubt = by.doubt.to(high.unit)
    text = f"tools' doubt {say_quantity(by.doubt)}"
    if compare(doubt, at_least.value) <= 0:
        return by_blades, f", {text}"
    return TOO_CLOSE, f", but the {text} is larger than what the blades leave"


# -- what the readings prove --

def _proof(line: Line, readings: Sequence[LineReading], face_limit: FaceLimit, unit: str) -> _Proof:
    goes = [(total(blade.to(unit) for blade in one.goes), one) for one in readings if one.goes]
    stops = [(one.stops[0].to(unit), one) for one in readings if len(one.stops) == 1]
    over = [pair for pair in goes if _fits_inside(line, pair[1], face_limit)]
    kept = [pair for pair in stops if _covers(line, pair[1], face_limit)]
    most, goes_by = max(over, key=lambda pair: pair[0], default=(None, None))
    least, stops_by = min(kept, key=lambda pair: pair[0], default=(None, None))
    if most is not None and least is not None and compare(most, least) >= 0:
        raise _wrong_order(line, say(most, unit), say(least, unit))
    return _Proof(
        most, goes_by, least, stops_by,
        too_long=max((size for size, one in goes if not _fits_inside(line, one, face_limit)), default=None),
        too_short=min((size for size, one in stops if not _covers(line, one, face_limit)), default=None),
        stack_stops=any(len(one.stops) > 1 for one in readings),
        right_span=any(_fits_inside(line, one, face_limit) and _covers(line, one, face_limit) for one in readings),
    )


def _length_felt(line: Line, reading: LineReading) -> float | None:
    """In mm; None for a whole line of unknown length."""
    felt = reading.span or line.length
    return None if felt is None else felt.to("mm")


def _is_whole(line: Line, reading: LineReading) -> bool:
    if reading.span is None:
        return True
    return line.length is not None and compare(reading.span.to("mm"), line.length.to("mm")) >= 0


def _fits_inside(line: Line, reading: LineReading, face_limit: FaceLimit) -> bool:
    """Whether the gap felt is part of what the limit speaks of, so that a blade that goes counts against it."""
    if face_limit.span is None:
        return True
    felt = _length_felt(line, reading)
    return felt is not None and compare(felt, face_limit.span.to("mm")) <= 0


def _covers(line: Line, reading: LineReading, face_limit: FaceLimit) -> bool:
    """Whether the gap felt holds all that the limit speaks of, so that a blade that does not go counts for it."""
    if _is_whole(line, reading):
        return True
    felt = _length_felt(line, reading)
    return face_limit.span is not None and felt is not None and compare(felt, face_limit.span.to("mm")) >= 0


# -- words --

def _felt(readings: Sequence[LineReading]) -> str:
    """What was felt, without judging: `0.04 mm goes, 0.05 mm does not go over 100 mm`."""
    parts = []
    for one in readings:
        span = f" over {say_quantity(one.span)}" if one.span else ""
        parts += [f"{_blade_text(one.goes)} goes{span}"] if one.goes else []
        parts += [f"{_blade_text(one.stops)} does not go{span}"] if one.stops else []
    return ", ".join(parts)


def _blade_text(blades: Sequence[Quantity]) -> str:
    texts = [say_quantity(blade) for blade in blades]
    return texts[0] if len(texts) == 1 else f"a stack of {listing(texts)}"


def _proven_text(blades: Sequence[Quantity], total: float, high: Quantity) -> str:
    """The blade as it is marked and, where that is not in the limit's unit or not one blade, the sum in it."""
    if len(blades) == 1:
        return say_beside(blades[0], high)
    return f"{_blade_text(blades)} ({say(total, high.unit)})"


def _clause(readings: Sequence[LineReading], proof: _Proof, by_blades: str, face_limit: FaceLimit, high: Quantity) -> str:
    bounds = bounds_text(face_limit.limit) + (f" over any {say_quantity(face_limit.span)}" if face_limit.span else "")
    if by_blades == OVER and proof.goes is not None and proof.goes_by:
        text = _proven_text(proof.goes_by.goes, proof.goes, high)
        itself = ", the limit blade itself," if compare(proof.goes, high.value) == 0 else ""
        return f"{text}{itself} goes, against {bounds}"
    if by_blades == WITHIN and proof.stops is not None and proof.stops_by:
        return f"{_proven_text(proof.stops_by.stops, proof.stops, high)} does not go, against {bounds}"
    return f"{_felt(readings)}, and the limit is {bounds}{_hindrance(proof, high)}"


def _hindrance(proof: _Proof, high: Quantity) -> str:
    """Why a blade that seems to decide does not."""
    if proof.too_long is not None and compare(proof.too_long, high.value) >= 0:
        return ", so a gap over a longer span decides nothing yet"
    if proof.too_short is not None and compare(proof.too_short, high.value) <= 0:
        return ", so a gap over a shorter span decides nothing yet"
    return ", and a stack that does not go proves nothing" if proof.stack_stops else ""


def _settled_text(at_least: Quantity | None, at_most: Quantity | None) -> str:
    if at_least is None:
        return ""
    least = f"at least {say_quantity(at_least)}" if at_least.value > 0 else ""
    most = f"less than {say_quantity(at_most)}" if at_most is not None else ""
    both = " and ".join(part for part in (least, most) if part)
    return f": settled by {both}" if both else ": by how much is not known"


def _next(proof: _Proof, face_limit: FaceLimit, high: Quantity, blades: Sequence[Quantity]) -> str:
    if not proof.right_span:
        span = face_limit.span
        if span is None:
            return "Lay a straightedge over the whole line and feel again."
        return f"Lay the straightedge over {say_quantity(span)} at a time, all along the line, and feel again."
    return _try(proof, high, blades)


def _try(proof: _Proof, high: Quantity, blades: Sequence[Quantity]) -> str:
    """The blade that settles most: the limit blade, else the one in hand nearest to it that can decide."""
    open_ones = [blade for blade in blades or (high,) if _is_open(proof, blade.to(high.unit))]
    if not open_ones:
        return f"No single blade in hand settles it: get a {say_quantity(high)} blade, or have it measured."
    best = open_ones[0]
    for blade in open_ones[1:]:
        best = blade if _decides_better(blade.to(high.unit), best.to(high.unit), high.value) else best
    side = compare(best.to(high.unit), high.value)
    outcome = ("if it does not go, the line is within", "if it goes, the line is over; if not, within", "if it goes, the line is over")
    return f"Try the {say_beside(best, high)} blade: {outcome[side + 1]}."


def _decides_better(size: float, other: float, bound: float) -> bool:
    """Nearer to the limit; of two as near, the thinner."""
    order = compare(_distance(size, bound), _distance(other, bound))
    return order < 0 or (order == 0 and size < other)


def _is_open(proof: _Proof, size: float) -> bool:
    above = proof.goes is None or compare(size, proof.goes) > 0
    return above and (proof.stops is None or compare(size, proof.stops) < 0)


# -- bad input --

def _check(line: Line, reading: LineReading) -> None:
    field = line.name
    if reading.line != line.id:
        raise InputError("unknown", "line", f"{reading.line} is not {line.id}")
    for blade in (*reading.goes, *reading.stops):
        measured(blade, "mm", f"{field}: blade", zero=False)
    for value, name in ((reading.span, "span"), (line.length, "length")):
        if value is not None:
            measured(value, "mm", f"{field}: {name}", zero=False)
    if reading.doubt is not None:
        measured(reading.doubt, "mm", f"{field}: doubt")
    if not reading.rocks and not reading.goes and not reading.stops:
        raise InputError("missing", f"{field}: blade", "give the thickest blade that goes, or the thinnest that does not")
    _check_order(line, reading)


def _check_order(line: Line, reading: LineReading) -> None:
    if not reading.goes or len(reading.stops) != 1:
        return
    goes = total(blade.to("mm") for blade in reading.goes)
    if compare(goes, reading.stops[0].to("mm")) >= 0:
        raise _wrong_order(line, _blade_text(reading.goes), _blade_text(reading.stops))


def _wrong_order(line: Line, goes: str, stops: str) -> InputError:
    expected = f"the blade that goes ({goes}) must be thinner than the one that does not ({stops})"
    return InputError("out-of-order", f"{line.name}: blade", expected)


def _check_limit(face_limit: FaceLimit) -> None:
    limit = face_limit.limit
    if face_limit.direction not in DIRECTIONS:
        raise InputError("unknown", limit.label, f"the direction is one of {', '.join(DIRECTIONS)}")
    if limit.low is not None:
        raise InputError("out-of-range", limit.label, "a flatness limit has an upper bound only")
    if limit.high is not None:
        measured(limit.high, "mm", limit.label, zero=False)
    if face_limit.span is not None:
        measured(face_limit.span, "mm", f"{limit.label}: span", zero=False)
