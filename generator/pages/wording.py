"""How statements, units and labels read on a page. The record's own spelling stays in the data."""

from __future__ import annotations

import re

from markupsafe import Markup, escape

from generator.quantities import UNITS, Statement

_SYMBOLS = {
    "N.m": "N·m", "lbf.ft": "lbf·ft", "lbf.in": "lbf·in", "kgf.m": "kgf·m", "kgf.cm": "kgf·cm", "kgf/cm2": "kgf/cm²",
    "um": "µm", "uin": "µin", "deg": "°", "degC": "°C", "degF": "°F", "degC difference": "°C", "degF difference": "°F",
    "mm2": "mm²", "cm2": "cm²", "in2": "in²", "mm3": "mm³", "cm3": "cm³", "in3": "in³",
    "qt(US)": "US qt", "gal(US)": "US gal", "pt(US)": "US pt", "floz(US)": "US fl oz", "qt(imp)": "imp qt", "gal(imp)": "imp gal",
}
_CLOSE_UP = {"deg"}
_MINUS = re.compile(r"-(?=[\d.])")


def unit_words(symbol: str) -> str:
    """How a unit reads on a page."""
    return _SYMBOLS.get(symbol, symbol)


def statement_words(statement: Statement) -> str:
    """A statement as it reads on a page: 54 ± 7 N·m, 17:1."""
    if statement.unit is None:
        return str(statement)
    text = _MINUS.sub("−", statement.quantity_text.replace("+-", "± "))
    if statement.unit.symbol == "ratio":  # 17:1, but a factor below one is a plain number
        return text if (statement.high or statement.low or 0) < 1 else f"{text}:1"
    space = "" if statement.unit.symbol in _CLOSE_UP else " "
    return f"{text}{space}{unit_words(statement.unit.symbol)}"


_ANY_UNIT = "|".join(re.escape(symbol) for symbol in sorted(UNITS, key=len, reverse=True))
_IN_A_SENTENCE = re.compile(rf"(?<=\d) ({_ANY_UNIT})(?![\w/(]|\.\w)")


def said(text: str) -> str:
    """A sentence of a calculation as it reads on a page: units in the page's spelling, never parted from their number."""

    def unit(match: re.Match[str]) -> str:
        space = "" if match[1] in _CLOSE_UP else "\u00a0"
        return space + unit_words(match[1])

    return _IN_A_SENTENCE.sub(unit, text)


_SUBSCRIPT = re.compile(r"(?<=[A-Za-z])_(\w+)")


def formula(text: str) -> Markup:
    """A formula or symbol as HTML: what follows _ stands lower, V_c."""
    return Markup(_SUBSCRIPT.sub(r"<sub>\1</sub>", str(escape(text))))


def sentence(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def joined(labels: tuple[str, ...]) -> str:
    """Labels from the section down, as one line."""
    return sentence(", ".join(label for label in labels if label))
