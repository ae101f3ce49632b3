"""A printed statement: what a manual says of one quantity, exactly as printed.

    35 N.m               one value
    39.2 to 44.1 N.m     a range
    54 +-7 N.m           a tolerance, the same both ways
    7 +4 -2 lbf.ft       a tolerance, up and down
    max 0.10 mm          a bound that may be reached (min likewise)
    under 0.1 mm         a bound that may not be reached (over likewise)
    unreadable "005 in." characters that nobody should turn into a number

The parser also takes the usual variants (Nm, ft-lb, +/-, a dash for "to", "<");
the printer knows only the forms above, so parse then print gives the canonical text.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from generator.quantities.numbers import NUMBER, Number, read_number, tidied
from generator.quantities.units import Unit, UnitError, unit_named

BOUNDS = ("max", "min", "under", "over")
FORMS = ("exact", "range", "tolerance", *BOUNDS, "unreadable")
# A manual's longest statement is far shorter; the limit keeps hostile text cheap.
LONGEST = 200
# Nothing in this work is larger or smaller, in any unit; what is would be a slip, and beyond floating point.
LEAST, MOST = Fraction(1, 10**12), Fraction(10**12)


class StatementError(ValueError):
    """A text that is no statement. hint: how to write it. unit: what stands in the place of a unit, "" for nothing; None if that is not the fault."""

    def __init__(self, message: str, hint: str, unit: str | None = None) -> None:
        super().__init__(message)
        self.hint = hint
        self.unit = unit


@dataclass(frozen=True, slots=True)
class Statement:
    """One statement. form: one of FORMS.

    numbers: one for exact and the bounds; low and high for a range; value, plus
    and minus (both positive) for a tolerance; none for unreadable.
    unit: None only for unreadable, whose characters stand in `characters`.
    """

    form: str
    numbers: tuple[Number, ...]
    unit: Unit | None
    characters: str = ""

    @property
    def low(self) -> Fraction | None:
        """Lowest value stated, in the unit; None if nothing bounds it below."""
        if self.form == "tolerance":
            return self.numbers[0].value - self.numbers[2].value
        return None if self.form in ("max", "under", "unreadable") else self.numbers[0].value

    @property
    def high(self) -> Fraction | None:
        """Highest value stated, in the unit; None if nothing bounds it above."""
        if self.form == "tolerance":
            return self.numbers[0].value + self.numbers[1].value
        return None if self.form in ("min", "over", "unreadable") else self.numbers[-1].value

    @property
    def quantity_text(self) -> str:
        """The canonical text without the unit."""
        if self.form == "unreadable":
            return f'unreadable "{self.characters}"'
        return _PRINTERS[self.form](self.form, [number.text for number in self.numbers])

    def __str__(self) -> str:
        return f"{self.quantity_text} {self.unit.symbol}" if self.unit else self.quantity_text


def _print_bound(form: str, texts: list[str]) -> str:
    return f"{form} {texts[0]}"


def _print_tolerance(form: str, texts: list[str]) -> str:
    value, plus, minus = texts
    return f"{value} +-{plus}" if plus == minus else f"{value} +{plus} -{minus}"


_PRINTERS: dict[str, Callable[[str, list[str]], str]] = {
    "exact": lambda _, texts: texts[0],
    "range": lambda _, texts: " to ".join(texts),
    "tolerance": _print_tolerance,
    **dict.fromkeys(BOUNDS, _print_bound),
}

_SPELT_BOUNDS = {
    "max": "max", "max.": "max", "maximum": "max", "not over": "max", "<=": "max", "\u2264": "max", "up to": "max",
    "min": "min", "min.": "min", "minimum": "min", "at least": "min", ">=": "min", "\u2265": "min",
    "under": "under", "less than": "under", "below": "under", "<": "under",
    "over": "over", "more than": "over", "above": "over", ">": "over",
}
_BOUND = "|".join(re.escape(word) for word in sorted(_SPELT_BOUNDS, key=len, reverse=True))
_PLAIN = r"(?:\d+[ -]\d+/\d+|\d+/\d+|\d+\.\d+|\.\d+|\d+)"
_TO = r"(?:to\b|\.\.\.|[\u2013\u2014-](?=[\s\d.]))"
_UNIT = r"(?P<unit>[^\d\s/.].*|)"
_PATTERNS = [
    ("bound", re.compile(rf"(?P<bound>{_BOUND})\s*(?P<a>{NUMBER})\s*{_UNIT}", re.I | re.ASCII)),
    # "2-7/8 in" is a mixed fraction, not a range
    ("range", re.compile(rf"(?!\d+-\d+/\d+\s*[^\d\s-])(?P<a>{NUMBER})\s*{_TO}\s*(?P<b>{NUMBER})\s*{_UNIT}", re.ASCII)),
    ("same", re.compile(rf"(?P<a>{NUMBER})\s*\+-\s*(?P<b>{_PLAIN})\s*{_UNIT}", re.ASCII)),
    ("apart", re.compile(rf"(?P<a>{NUMBER})\s*\+\s*(?P<b>{_PLAIN})\s*-\s*(?P<c>{_PLAIN})\s*{_UNIT}", re.ASCII)),
    ("trailing", re.compile(rf"(?P<a>{NUMBER})\s*(?P<unit>[^\d\s/.].*?)\s+(?P<bound>max\.?|min\.?|maximum|minimum)", re.I | re.ASCII)),
    ("exact", re.compile(rf"(?P<a>{NUMBER})\s*{_UNIT}", re.ASCII)),
]
_UNREADABLE = re.compile(r'unreadable "([^"\x00-\x1f]+)"')
_HOW = 'write for example: 35 N.m · 39.2 to 44.1 N.m · max 0.10 mm · unreadable "005 in."'


@lru_cache(maxsize=16384)  # every page and rule reads the same few texts again
def parse(text: str) -> Statement:
    """Read a printed statement; raise StatementError saying how to write it."""
    if len(text) > LONGEST:
        raise StatementError(f"a statement of {len(text)} characters", f"keep to one statement, at most {LONGEST} characters")
    if match := _UNREADABLE.fullmatch(text.strip()):
        return Statement("unreadable", (), None, match[1])
    tidy = tidied(text).replace("\u00b1", "+-").replace("+/-", "+-")
    _refuse_commas(tidy)
    for name, pattern in _PATTERNS:
        if match := pattern.fullmatch(tidy):
            return _build(name, match, text)
    raise StatementError(f"{text!r} is not a printed statement", _HOW)


def _refuse_commas(text: str) -> None:
    if not re.search(r"\d,\d", text, re.ASCII):
        return
    joined, point = text.replace(",", ""), text.replace(",", ".")
    hint = f"write {point!r}: the decimal point is a full stop"
    if re.search(r"(?<!\d)[1-9]\d{0,2},\d{3}(?!\d)", text, re.ASCII):
        hint = f"write {joined!r} if it parts thousands, {point!r} if it is the decimal point"
    raise StatementError(f"a comma in {text!r}", hint)


def _build(name: str, match: re.Match[str], text: str) -> Statement:
    groups = match.groupdict()
    unit = _unit(groups["unit"], text)
    try:
        numbers = [read_number(groups[key]) for key in "abc" if groups.get(key)]
    except ValueError as error:
        raise StatementError(f"{text!r}: {error}", _HOW) from None
    if any(number.value and not LEAST <= abs(number.value) <= MOST for number in numbers):
        raise StatementError("a number above 1000000000000 or below 0.000000000001", "look at the digits: nothing here is so large or so small")
    if name in ("bound", "trailing"):
        return Statement(_SPELT_BOUNDS[groups["bound"].lower()], (numbers[0],), unit)
    if name == "same":
        return Statement("tolerance", (numbers[0], numbers[1], numbers[1]), unit)
    if name == "range" and numbers[0].value > numbers[1].value:
        raise StatementError(f"{text!r} runs from high to low", "write the lower bound first")
    return Statement({"apart": "tolerance"}.get(name, name), tuple(numbers), unit)


def _unit(name: str, text: str) -> Unit:
    name = name.strip()
    if not name:
        raise StatementError(f"{text!r} has no unit", "write the unit that is printed, for example 35 N.m", name)
    try:
        return unit_named(name)
    except UnitError as error:
        if _ANOTHER.search(name):
            raise StatementError(f"{text!r} holds two statements", "write each unit's statement as its own item of the list") from None
        if more := _more(name):
            raise StatementError(f"{text!r} says more than number and unit: {more!r}", _where(more, text)) from None
        raise StatementError(f"{text!r}: {error}", error.hint, name) from None


# A second number, parted from the first unit by a sign or a word.
_ANOTHER = re.compile(r"[(,;/|=] *[\d.]|\b(?:or|and) +\d", re.ASCII)
_BOUND_WORDS = {"or less": "max", "or under": "max", "or more": "min", "or over": "min"}


def _more(name: str) -> str:
    """What follows a unit that is known; empty if no unit begins the text, or if another unit follows: foot, then pound, is neither."""
    words = name.split()
    for count in range(len(words) - 1, 0, -1):
        if _is_unit(" ".join(words[:count])):
            return "" if _is_unit(words[count]) else " ".join(words[count:])
    return ""


def _is_unit(text: str) -> bool:
    try:
        unit_named(text)
    except UnitError:
        return False
    return True


def _where(more: str, text: str) -> str:
    plain = text.strip().removesuffix(more).strip()
    if bound := _BOUND_WORDS.get(more):
        return f"write {bound} {plain}"
    return f"write {plain!r} here, and the rest under 'when' or 'label'"
