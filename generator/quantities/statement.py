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

from generator.quantities.numbers import NUMBER, Number, read_number
from generator.quantities.units import Unit, UnitError, unit_named

BOUNDS = ("max", "min", "under", "over")
FORMS = ("exact", "range", "tolerance", *BOUNDS, "unreadable")
# A manual's longest statement is far shorter; the limit keeps hostile text cheap.
LONGEST = 200


class StatementError(ValueError):
    """A text that is no statement. `hint` says how to write it."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


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

_REPLACED = {"\u2212": "-", "\u00b1": "+-", "+/-": "+-", "\u00a0": " ", "\u202f": " "}
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
    ("bound", re.compile(rf"(?P<bound>{_BOUND})\s*(?P<a>{NUMBER})\s*{_UNIT}", re.I)),
    # "2-7/8 in" is a mixed fraction, not a range
    ("range", re.compile(rf"(?!\d+-\d+/\d+\s*[^\d\s-])(?P<a>{NUMBER})\s*{_TO}\s*(?P<b>{NUMBER})\s*{_UNIT}")),
    ("same", re.compile(rf"(?P<a>{NUMBER})\s*\+-\s*(?P<b>{_PLAIN})\s*{_UNIT}")),
    ("apart", re.compile(rf"(?P<a>{NUMBER})\s*\+\s*(?P<b>{_PLAIN})\s*-\s*(?P<c>{_PLAIN})\s*{_UNIT}")),
    ("trailing", re.compile(rf"(?P<a>{NUMBER})\s*(?P<unit>[^\d\s/.].*?)\s+(?P<bound>max\.?|min\.?|maximum|minimum)", re.I)),
    ("exact", re.compile(rf"(?P<a>{NUMBER})\s*{_UNIT}")),
]
_UNREADABLE = re.compile(r'unreadable "([^"\x00-\x1f]+)"')
_HOW = 'write for example: 35 N.m · 39.2 to 44.1 N.m · max 0.10 mm · unreadable "005 in."'


def parse(text: str) -> Statement:
    """Read a printed statement; raise StatementError saying how to write it."""
    if len(text) > LONGEST:
        raise StatementError(f"a statement of {len(text)} characters", f"keep to one statement, at most {LONGEST} characters")
    if match := _UNREADABLE.fullmatch(text.strip()):
        return Statement("unreadable", (), None, match[1])
    tidy = text
    for old, new in _REPLACED.items():
        tidy = tidy.replace(old, new)
    _refuse_commas(tidy)
    for name, pattern in _PATTERNS:
        if match := pattern.fullmatch(tidy.strip()):
            return _build(name, match, text)
    raise StatementError(f"{text!r} is not a printed statement", _HOW)


def _refuse_commas(text: str) -> None:
    match = re.search(r"\d,\d+", text)
    if match:
        joined, point = text.replace(",", ""), text.replace(",", ".")
        raise StatementError(f"a comma in {text!r}", f"write {joined!r} if it parts thousands, {point!r} if it is the decimal point")


def _build(name: str, match: re.Match[str], text: str) -> Statement:
    groups = match.groupdict()
    unit = _unit(groups["unit"], text)
    try:
        numbers = [read_number(groups[key]) for key in "abc" if groups.get(key)]
    except ValueError as error:
        raise StatementError(f"{text!r}: {error}", _HOW) from None
    if name in ("bound", "trailing"):
        return Statement(_SPELT_BOUNDS[groups["bound"].lower()], (numbers[0],), unit)
    if name == "same":
        return Statement("tolerance", (numbers[0], numbers[1], numbers[1]), unit)
    if name == "range" and numbers[0].value > numbers[1].value:
        raise StatementError(f"{text!r} runs from high to low", "write the lower bound first")
    return Statement({"apart": "tolerance"}.get(name, name), tuple(numbers), unit)


def _unit(name: str, text: str) -> Unit:
    if not name.strip():
        raise StatementError(f"{text!r} has no unit", "write the unit that is printed, for example 35 N.m")
    try:
        return unit_named(name.strip())
    except UnitError as error:
        if "(" in name and "(US)" not in name and "(imp)" not in name:
            raise StatementError(f"{text!r} holds two statements", "write each unit's statement as its own item of the list") from None
        raise StatementError(f"{text!r}: {error}", error.hint) from None
