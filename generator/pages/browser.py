"""The scripts of the calculations, and what the code tells them so that it is written once: units, their spellings, decimals."""

from __future__ import annotations

import json
from collections.abc import Iterable

from generator.calculations.wording import DECIMALS
from generator.pages.record_table import record_table
from generator.quantities import UNITS, Unit
from generator.quantities.conversion import COUNTERPARTS
from generator.quantities.units import AMBIGUOUS, SPELLINGS

# Scripts by their path in assets/, in the order in which a page must load them: each uses those before it.
UNIT_TABLE, COUNTERPART_TABLE = "quantities/unit-table.js", "quantities/counterpart-table.js"
BENCH = (
    UNIT_TABLE,
    *(f"quantities/{name}.js" for name in ("numbers", "units", "quantity")),
    *(f"calculations/{name}.js" for name in (
        "result", "wording", "entry", "limits", "flatness", "compression", "cut", "gasket", "wrench", "cost", "tightening")),
)
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


def tables() -> dict[str, str]:
    """The scripts that are made, by path: what units.js, wording.js and conversion.js read. Factors are exact fractions, as text."""
    parts = {
        "units": _rows(map(_unit, UNITS.values())), "spellings": _text(SPELLINGS), "ambiguous": _text(AMBIGUOUS), "decimals": _text(DECIMALS),
    }
    units = ",\n".join(f'"{name}": {text}' for name, text in parts.items())
    return {
        UNIT_TABLE: _script("unitTable", f"{{\n{units}\n}}"),
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
