"""The likely slip behind two printed units that disagree: the one change that makes them agree.

Each kind of slip is tried in turn, the commonest first; the first kind that makes the
whole pair agree is named, on whichever side it may have happened. What is named is a
guess for whoever looks at the page again, never a correction.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, pairwise

from generator.quantities.agreement import AGREE, DISAGREE, agreement
from generator.quantities.conversion import convert
from generator.quantities.numbers import Number, read_number
from generator.quantities.statement import Statement
from generator.quantities.units import UNITS, Unit

# A pair that parts by less than this was converted with a rounded factor, or twice.
_ROUNDED_CONVERSION = Fraction(1, 1000)
_GALLONS = {"gal(US)", "gal(imp)", "qt(US)", "qt(imp)", "pt(US)", "floz(US)"}


def likely_slip(printed: Sequence[Statement]) -> str:
    """The likely slip of a figure whose units disagree, in words; empty if they agree or no single slip explains it."""
    for one, other in _disagreeing(printed):
        found = ((kind, list(find(one, other))) for kind, find in _SLIPS.items())
        return next((f"{kind}: {', or '.join(words)}" for kind, words in found if words), "")
    return ""


def each_if_right(printed: Sequence[Statement]) -> list[tuple[Statement, Statement]]:
    """Of the first two units that disagree: each as it stands, and what the other would have to be if it is right."""
    for one, other in _disagreeing(printed):
        if one.unit and other.unit:
            return [(one, _carried(one, other.unit)), (other, _carried(other, one.unit))]
    return []


def _disagreeing(printed: Sequence[Statement]) -> Iterator[tuple[Statement, Statement]]:
    """Pairs of one kind and one form that disagree; of others no change of digits or units could make one statement."""
    for one, other in combinations([statement for statement in printed if statement.unit], 2):
        alike = one.form == other.form and one.unit and other.unit and one.unit.dimension == other.unit.dimension
        if alike and agreement((one, other)).verdict == DISAGREE:
            yield one, other


def _carried(statement: Statement, unit: Unit) -> Statement:
    """The statement in another unit, to the nearest: what should have been printed, not a limit to work to."""
    return convert(statement, unit, descriptive=True)


def _agree(one: Statement, other: Statement) -> bool:
    return agreement((one, other)).verdict == AGREE


def _ten_times(one: Statement, other: Statement) -> Iterator[str]:
    for power, how in _POWERS:
        if _agree(one, replace(other, numbers=tuple(_scaled(number, power) for number in other.numbers))):
            yield f"one of the two is {how} times off"


_POWERS = ((1, "ten"), (-1, "ten"), (2, "a hundred"), (-2, "a hundred"), (3, "a thousand"), (-3, "a thousand"))


def _scaled(number: Number, power: int) -> Number:
    factor = Fraction(10) ** power
    return replace(number, value=number.value * factor, step=number.step * factor, rounded_step=number.rounded_step * factor)


def _exchanged(one: Statement, other: Statement) -> Iterator[str]:
    if one.unit and other.unit and _agree(replace(one, unit=other.unit), replace(other, unit=one.unit)):
        yield f"{one.quantity_text} may be {other.unit.symbol} and {other.quantity_text} may be {one.unit.symbol}"


def _another_gallon(one: Statement, other: Statement) -> Iterator[str]:
    if one.unit and other.unit and (one.unit.symbol in _GALLONS or other.unit.symbol in _GALLONS):
        yield from _another_unit(one, other)


def _another_unit(one: Statement, other: Statement) -> Iterator[str]:
    for statement, keep in ((other, one), (one, other)):
        for unit in UNITS.values():
            taken = statement.unit is None or keep.unit is None or unit.symbol in (statement.unit.symbol, keep.unit.symbol)
            if not taken and statement.unit and unit.dimension == statement.unit.dimension and _agree(keep, replace(statement, unit=unit)):
                yield f"{statement.quantity_text} may be {unit.symbol} and not {statement.unit.symbol}"


def _transposed(one: Statement, other: Statement) -> Iterator[str]:
    return _respelt(one, other, _swaps)


def _lost(one: Statement, other: Statement) -> Iterator[str]:
    return _respelt(one, other, _longer)


def _misread(one: Statement, other: Statement) -> Iterator[str]:
    return _respelt(one, other, _one_digit)


def _respelt(one: Statement, other: Statement, spellings: Callable[[str], Iterator[str]]) -> Iterator[str]:
    """On each side the spelling that makes the pair agree and comes nearest to the other unit."""
    for statement, keep in ((other, one), (one, other)):
        found = [
            (_apart(keep, respelt), f"{number.text} may be {text} {statement.unit.symbol if statement.unit else ''}")
            for index, number in enumerate(statement.numbers) if "/" not in number.text
            for text in spellings(number.text)
            if _agree(keep, respelt := _with(statement, index, text))
        ]
        if found:
            yield min(found)[1]


def _with(statement: Statement, index: int, text: str) -> Statement:
    return replace(statement, numbers=(*statement.numbers[:index], read_number(text), *statement.numbers[index + 1:]))


def _apart(one: Statement, other: Statement) -> Fraction:
    """How far two statements of one form part, in the base unit."""
    if one.unit is None or other.unit is None:
        return Fraction(0)
    pairs = zip(one.numbers, other.numbers, strict=True)
    return sum((abs(one.unit.to_base(a.value) - other.unit.to_base(b.value)) for a, b in pairs), Fraction(0))


def _swaps(text: str) -> Iterator[str]:
    """Two neighbouring digits exchanged, be there a point between them or not."""
    places = [index for index, sign in enumerate(text) if sign.isdigit()]
    for left, right in pairwise(places):
        if text[left] != text[right]:
            signs = list(text)
            signs[left], signs[right] = signs[right], signs[left]
            yield "".join(signs)


def _longer(text: str) -> Iterator[str]:
    """A digit more before the point: a lost decimal only coarsens a number, a lost whole digit makes it another."""
    whole = text.partition(".")[0]
    start = 1 if text[:1] in "+-" else 0
    for place in range(start, len(whole) + 1):
        yield from (text[:place] + digit + text[place:] for digit in "0123456789")


def _one_digit(text: str) -> Iterator[str]:
    for place, sign in enumerate(text):
        if sign.isdigit():
            yield from (text[:place] + digit + text[place + 1:] for digit in "0123456789" if digit != sign)


def _rounded(one: Statement, other: Statement) -> Iterator[str]:
    """Both carry so nearly the same value that one was converted with a rounded factor."""
    if one.unit is None or other.unit is None:
        return
    pairs = [(one.unit.to_base(a.value), other.unit.to_base(b.value)) for a, b in zip(one.numbers, other.numbers, strict=True)]
    if all(abs(a - b) <= _ROUNDED_CONVERSION * abs(a) for a, b in pairs):
        yield "the two are nearly the same"


_SLIPS: dict[str, Callable[[Statement, Statement], Iterator[str]]] = {
    "the decimal point": _ten_times,
    "the units exchanged": _exchanged,
    "another gallon": _another_gallon,
    "another unit": _another_unit,
    "digits transposed": _transposed,
    "a digit lost": _lost,
    "converted with a rounded factor": _rounded,
    "one digit": _misread,
}
