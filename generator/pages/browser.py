"""The scripts of the calculations, and what the code tells them so that it is written once: units, their spellings, decimals, next steps."""

from __future__ import annotations

import json
from collections.abc import Iterable

from generator.calculations import compression, cost, cut, flatness, gasket, limits, wrench
from generator.calculations.wording import DECIMALS
from generator.pages.record_table import record_table
from generator.quantities import UNITS, Unit
from generator.quantities.conversion import COUNTERPARTS
from generator.quantities.units import AMBIGUOUS, SPELLINGS

# Scripts by their path in assets/, in the order in which a page must load them: each uses those before it.
TABLES, COUNTERPART_TABLE = "quantities/tables.js", "quantities/counterpart-table.js"
BENCH = (
    *(f"quantities/{name}.js" for name in ("numbers", "units", "quantity")),
    *(f"calculations/{name}.js" for name in (
        "result", "wording", "entry", "limits", "flatness", "compression", "cut", "wrench", "cost", "tightening")),
)
# What only a page with a table of gaskets asks.
GASKET = "calculations/gasket.js"
# The rest of the twin of these, which no page asks yet: it is held to Python like all of it, and carried by nobody.
UNASKED = tuple(f"calculations/{name}.js" for name in ("provisos", "leak-down", "drag", "clearance"))
# What only a page needs on which figures are written down as printed.
STATEMENTS = (COUNTERPART_TABLE, *(f"quantities/{name}.js" for name in ("words", "statement", "conversion", "agreement", "slips")))
RECORD_TABLE = "record/table.js"
# What reads a record that is being typed, and makes its file and its model.
RECORD = (
    RECORD_TABLE,
    *(f"record/{name}.js" for name in (
        "shape", "names", "field", "tidy", "yaml", "sha256", "facts", "fasteners", "model", "lacks", "messages", "schema",
        "rules", "faults")),
)
# The next step of each verdict, by module.
_NEXT = {each.__name__.rpartition(".")[2]: each.NEXT for each in (cost, cut, flatness, gasket, limits, wrench)} | {
    "compression": compression.NEXT | compression.PATTERN_NEXT,
}


def tables() -> dict[str, str]:
    """The scripts that are made, by path: what units.js, wording.js and conversion.js read. Factors are exact fractions, as text."""
    parts = {
        "units": _rows(map(_unit, UNITS.values())), "spellings": _text(SPELLINGS), "ambiguous": _text(AMBIGUOUS), "decimals": _text(DECIMALS),
        "next": _text(_NEXT), "drives": _text(cut.NOT_STRAIGHT),
    }
    shared = ",\n".join(f'"{name}": {text}' for name, text in parts.items())
    return {
        TABLES: _script("tables", f"{{\n{shared}\n}}"),
        COUNTERPART_TABLE: _script("counterparts", _text(COUNTERPARTS)),
        RECORD_TABLE: _script("recordTables", _text(record_table())),
    }


def _script(name: str, text: str) -> str:
    return f"// Made by generator/pages/browser.py.\n(window.Firedeck = window.Firedeck || {{}}).{name} = {text};\n"


def _unit(unit: Unit) -> list[str]:
    row = [unit.symbol, unit.dimension, unit.system, str(unit.factor)]
    return [*row, str(unit.offset)] if unit.offset else row


def _rows(rows: Iterable[list[str]]) -> str:
    return "[\n" + ",\n".join(map(_text, rows)) + "\n]"


def _text(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))
