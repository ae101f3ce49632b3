"""The calculations in Python and their twin in a page: one call, both answers."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, fields, is_dataclass
from fractions import Fraction
from math import isfinite, isnan
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page

from generator.calculations.result import InputError
from generator.pages.browser import BENCH, GASKET, STATEMENTS, TABLES, UNASKED, tables
from generator.quantities import Statement, StatementError, UnitError
from tests.conftest import ROOT

SCRIPTS = [TABLES, *BENCH, GASKET, *UNASKED, *STATEMENTS]

# Answers a list of calls [name, arguments] with [result], {code, field, expected} or {refused}: the words for a text that is no
# statement, true for one that is no unit.
ANSWER = """calls => {
  const Q = Firedeck.quantities;
  const fraction = value => value && value.join("/").replace(/[/]1$/, "");
  const ends = each => ({ low: fraction(Q.lowest(each)), high: fraction(Q.highest(each)) });
  const summary = each => ({ text: Q.printed(each), form: each.form, unit: each.unit, ...ends(each) });
  const own = {
    "quantities.parse": text => summary(Q.parse(text)),
    "quantities.convert": (text, symbol, descriptive) => summary(Q.convert(Q.parse(text), symbol, descriptive)),
    "quantities.conversions": (texts, descriptive) => Q.conversions(texts.map(Q.parse), descriptive).map(summary),
    "quantities.agreement": texts => Q.agreement(texts.map(Q.parse)),
    "quantities.likely_slip": texts => Q.likelySlip(texts.map(Q.parse)),
    "quantities.unit_named": text => Q.unitNamed(text).symbol,
    "quantities.unit": symbol => { const { dimension, system, size, zero } = Q.UNITS[symbol]; return { dimension, system, size, zero }; },
  };
  const camel = name => name.replace(/_([a-z])/g, (_, letter) => letter.toUpperCase());
  const find = name => own[name] || name.split(".").reduce((room, part) => room[camel(part)], Firedeck);
  const revived = value => value && value.$number ? Number(value.$number)
    : Array.isArray(value) ? value.map(revived)
    : value && typeof value === "object" ? Object.fromEntries(Object.entries(value).map(([key, each]) => [key, revived(each)])) : value;
  return calls.map(([name, given]) => {
    try {
      return [find(name)(...revived(given))];
    } catch (error) {
      if (error.code) return { code: error.code, field: error.field, expected: error.expected };
      if ("unit" in error) return { refused: [error.message, error.hint, error.unit] };
      return error.hint ? { refused: true } : { crash: String(error.stack) };
    }
  });
}"""


@dataclass(frozen=True)
class Call:
    """One call of both. name: where the twin has it, in Python's spelling. options: keyword-only arguments, an object in JavaScript."""

    function: Callable[..., Any]
    name: str
    given: Sequence[Any]
    options: dict[str, Any] = field(default_factory=dict)

    @property
    def plain(self) -> list[Any]:
        """The arguments as JSON."""
        return [plain(each) for each in self.given] + ([plain(self.options)] if self.options else [])

    def answer(self) -> Any:
        """What Python says, as JSON."""
        try:
            return [plain(self.function(*self.given, **self.options))]
        except InputError as error:
            return {"code": error.code, "field": error.field, "expected": error.expected}
        except StatementError as error:
            return {"refused": [str(error), error.hint, error.unit]}
        except UnitError:  # the twin says less of why
            return {"refused": True}


def plain(value: Any) -> Any:
    """A Python value as the page gets it."""
    if isinstance(value, Statement):
        symbol = value.unit.symbol if value.unit else None
        return {"text": str(value), "form": value.form, "unit": symbol, "low": plain(value.low), "high": plain(value.high)}
    if is_dataclass(value):
        return {each.name: plain(getattr(value, each.name)) for each in fields(value)}
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, dict):
        return {str(key): plain(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [plain(each) for each in value]
    if isinstance(value, float) and not isfinite(value):
        return {"$number": "NaN" if isnan(value) else "Infinity" if value > 0 else "-Infinity"}
    return value


def twin_page(browser: Browser, folder: Path) -> Page:
    """A page from disk that loads every script of the twin and nothing else."""
    made = {name: folder / Path(name).name for name in tables()}
    for name, path in made.items():
        path.write_text(tables()[name], encoding="utf-8")
    paths = [made.get(name, ROOT / "docs/assets" / name) for name in SCRIPTS]
    tags = "".join(f'<script src="{path.as_uri()}"></script>\n' for path in paths)
    (folder / "twin.html").write_text(f'<!doctype html>\n<meta charset="utf-8">\n<title>Twin</title>\n{tags}', encoding="utf-8")
    page = browser.new_page()
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.goto((folder / "twin.html").as_uri())
    assert complaints == []
    return page


def difference(one: Any, other: Any, at: str = "") -> str:
    """Where two answers part, in words; empty if they are the same. Numbers: apart by no more than 1e-12 of the larger."""
    if isinstance(one, dict) and isinstance(other, dict):
        if set(one) != set(other):
            return f"{at}: {sorted(one)} and {sorted(other)}"
        return next(filter(None, (difference(one[key], other[key], f"{at}.{key}") for key in one)), "")
    if isinstance(one, list) and isinstance(other, list):
        if len(one) != len(other):
            return f"{at}: {len(one)} and {len(other)} of them"
        return next(filter(None, (difference(a, b, f"{at}[{n}]") for n, (a, b) in enumerate(zip(one, other, strict=True)))), "")
    return "" if _same(one, other) else f"{at}: {one!r} and {other!r}"


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, bool) or isinstance(other, bool):
        return one is other
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) <= 1e-12 * max(abs(one), abs(other))
    return bool(one == other)
