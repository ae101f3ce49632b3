"""Slips in a figure: its unit, its point, its digits, its bounds."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise
from random import Random

from generator.quantities import UNITS, Statement
from generator.record.engine import Engine
from generator.record.facts import Fact
from tests.faults import shape
from tests.faults.fault import Fault, figures, place_names, respelt, setter

# The unit that is typed for another: what stands in the next column, or what the typist works in.
EXCHANGED = {
    "N.m": "lbf.ft", "lbf.ft": "N.m", "lbf.in": "lbf.ft", "kgf.m": "N.m", "kgf.cm": "kgf.m", "mm": "in", "in": "mm", "um": "uin", "uin": "um",
    "ft": "m", "m": "ft", "kPa": "psi", "psi": "kPa", "bar": "psi", "kgf/cm2": "kPa", "MPa": "psi", "mmHg": "inHg", "inHg": "mmHg",
    "L": "qt(US)", "qt(US)": "qt(imp)", "qt(imp)": "qt(US)", "gal(US)": "gal(imp)", "cm3": "in3", "in3": "cm3", "degC": "degF", "degF": "degC",
    "kg": "lb", "lb": "kg", "N": "kgf", "kgf": "N", "mm2": "in2", "cm2": "in2",
}
_MISREAD = {"0": "6", "1": "7", "2": "7", "3": "8", "4": "9", "5": "6", "6": "5", "7": "1", "8": "3", "9": "4"}
_OTHER_BOUND = {"max": "min", "min": "max", "under": "over", "over": "under"}


def _fault(kind: str, engine: Engine, fact: Fact, index: int, changed: Statement, catchable: bool) -> Fault:
    at = (*fact.at, "printed", index)
    says = f"{'.'.join(map(str, fact.key))}: {fact.printed[index]} becomes {changed}"
    return Fault(kind, engine.id, fact.at, setter(at, str(changed)), catchable, says, place_names(fact))


def unit_exchanged(engine: Engine, chance: Random) -> Iterator[Fault]:
    for fact in figures(engine):
        for index, statement in enumerate(fact.printed):
            other = EXCHANGED.get(statement.unit.symbol) if statement.unit else None
            if other:
                large = statement.unit is not None and statement.unit.dimension in ("length", "pressure")
                seen = shape.two_units(fact) or (large and shape.known(fact))
                yield _fault("unit exchanged", engine, fact, index, replace(statement, unit=UNITS[other]), seen)


def _numbers(engine: Engine) -> Iterator[tuple[Fact, int, Statement, int]]:
    """Every number of every figure: the figure, which unit, its statement, which number."""
    for fact in figures(engine):
        for index, statement in enumerate(fact.printed):
            for number, each in enumerate(statement.numbers):
                same_both_ways = statement.form == "tolerance" and number == 2 and statement.numbers[1] == statement.numbers[2]
                if "/" not in each.text and each.value and not same_both_ways:
                    yield fact, index, statement, number


def _moved(text: str, up: bool) -> str:
    """The same digits with the point one place further."""
    sign, text = ("-", text[1:]) if text.startswith("-") else ("", text)
    whole, _, decimals = text.partition(".")
    if up:
        whole, decimals = (whole + decimals[:1], decimals[1:]) if decimals else (whole + "0", "")
    else:
        whole, decimals = whole[:-1] or "0", whole[-1] + decimals
    return sign + (whole.lstrip("0") or "0") + (f".{decimals}" if decimals else "")


def decimal_moved(engine: Engine, chance: Random) -> Iterator[Fault]:
    for fact, index, statement, number in _numbers(engine):
        for up in (True, False):
            changed = respelt(statement, number, _moved(statement.numbers[number].text, up))
            if changed.numbers[number].value != statement.numbers[number].value:
                # A tolerance ten times too wide or too narrow is a tolerance that another engine may have.
                value = not (statement.form == "tolerance" and number)
                alone = value and (shape.range_of_positives(statement) or shape.known(fact))
                seen = (shape.two_units(fact) and shape.visible(fact, index, number, changed)) or alone
                yield _fault("decimal moved", engine, fact, index, changed, seen)


def _swapped(text: str) -> Iterator[str]:
    places = [index for index, sign in enumerate(text) if sign.isdigit()]
    for left, right in pairwise(places):
        signs = list(text)
        signs[left], signs[right] = signs[right], signs[left]
        new = "".join(signs)
        if new != text and not (new.startswith("0") and not new.startswith("0.")):
            yield new


def digits_transposed(engine: Engine, chance: Random) -> Iterator[Fault]:
    for fact, index, statement, number in _numbers(engine):
        for text in _swapped(statement.numbers[number].text):
            changed = respelt(statement, number, text)
            seen = shape.backwards(changed) or (shape.two_units(fact) and shape.visible(fact, index, number, changed))
            yield _fault("digits transposed", engine, fact, index, changed, seen)


def one_unit_changed(engine: Engine, chance: Random) -> Iterator[Fault]:
    for fact, index, statement, number in _numbers(engine):
        if not shape.two_units(fact):
            continue
        text = statement.numbers[number].text
        for place, sign in enumerate(text):
            if sign.isdigit():
                changed = respelt(statement, number, text[:place] + _MISREAD[sign] + text[place + 1:])
                yield _fault("one printed unit changed", engine, fact, index, changed, shape.visible(fact, index, number, changed))


def bounds_exchanged(engine: Engine, chance: Random) -> Iterator[Fault]:
    for fact in figures(engine):
        forms = {statement.form for statement in fact.printed if statement.unit}
        if forms == {"range"}:
            index = chance.randrange(len(fact.printed))
            statement = fact.printed[index]
            if statement.numbers[0].value != statement.numbers[1].value:
                changed = replace(statement, numbers=statement.numbers[::-1])
                yield _fault("bounds exchanged", engine, fact, index, changed, True)
        elif forms <= set(_OTHER_BOUND):
            new = [replace(each, form=_OTHER_BOUND[each.form]) if each.unit else each for each in fact.printed]
            seen = bool(shape.ONE_SIDED.search(shape.dotted_key(fact)))
            yield _all_units("bounds exchanged", engine, fact, new, seen)
        other = shape.partner(engine, fact)
        if other and [each.numbers for each in other.printed] != [each.numbers for each in fact.printed]:
            yield _traded(engine, fact, other)


def _traded(engine: Engine, fact: Fact, other: Fact) -> Fault:
    """The limit typed where what is new belongs, and the other way round."""
    mine = setter((*fact.at, "printed"), [str(each) for each in other.printed])
    theirs = setter((*other.at, "printed"), [str(each) for each in fact.printed])

    def change(data: object) -> None:
        mine(data)
        theirs(data)

    says = f"{'.'.join(map(str, fact.key))} and {other.key[-1]} exchanged"
    return Fault("bounds exchanged", engine.id, fact.at[:-2], change, True, says, (*place_names(fact), *place_names(other)))


def _all_units(kind: str, engine: Engine, fact: Fact, new: list[Statement], seen: bool) -> Fault:
    says = f"{'.'.join(map(str, fact.key))}: {' / '.join(map(str, fact.printed))} becomes {' / '.join(map(str, new))}"
    return Fault(kind, engine.id, fact.at, setter((*fact.at, "printed"), [str(each) for each in new]), seen, says, place_names(fact))


def limit_ten_times_off(engine: Engine, chance: Random) -> Iterator[Fault]:
    for fact in figures(engine):
        if not shape.LIMITS.search(shape.dotted_key(fact)) or any("/" in number.text for each in fact.printed for number in each.numbers):
            continue
        for up in (True, False):
            new = [_ten_times(each, up) for each in fact.printed]
            yield _all_units("limit ten times off", engine, fact, new, shape.known(fact) or shape.neighbour(engine, fact))


def _ten_times(statement: Statement, up: bool) -> Statement:
    for number in range(len(statement.numbers)):
        statement = respelt(statement, number, _moved(statement.numbers[number].text, up))
    return statement


def size_mistyped(engine: Engine, chance: Random) -> Iterator[Fault]:
    for name in ("bore", "stroke", "displacement"):
        for fact in shape.live_at(engine, ("identity", name)):
            statement = fact.printed[0]
            if fact.doubt or statement.form != "exact" or "/" in statement.numbers[0].text:
                continue
            text = statement.numbers[0].text
            spellings = [*_swapped(text), *_one_digit(text)]
            for spelt in dict.fromkeys(spellings):
                changed = respelt(statement, 0, spelt)
                two = shape.two_units(fact) and shape.visible(fact, 0, 0, changed)
                seen = two or shape.volume_change(engine, fact, changed, 0) > 0.012
                yield _fault("displacement or stroke mistyped", engine, fact, 0, changed, seen)


def _one_digit(text: str) -> Iterator[str]:
    for place, sign in enumerate(text):
        if sign.isdigit():
            yield text[:place] + _MISREAD[sign] + text[place + 1:]


KINDS: tuple[Callable[[Engine, Random], Iterator[Fault]], ...] = (
    unit_exchanged, decimal_moved, digits_transposed, bounds_exchanged, one_unit_changed, size_mistyped, limit_ten_times_off,
)
