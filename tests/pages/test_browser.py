"""What the scripts are told by the code."""

import json

from generator.calculations import cut
from generator.calculations.wording import DECIMALS
from generator.pages.browser import BENCH, GASKET, RECORD, STATEMENTS, TABLES, UNASKED, tables
from generator.quantities import UNITS
from tests.conftest import ROOT


def test_every_script_of_the_twin_is_loaded_once_and_is_there():
    listed = [TABLES, *BENCH, GASKET, *UNASKED, *STATEMENTS, *RECORD]
    assets = ROOT / "docs/assets"
    there = [path.relative_to(assets).as_posix() for room in ("quantities", "calculations", "record") for path in (assets / room).glob("*.js")]
    assert sorted(listed) == sorted([*tables(), *there])


def test_the_table_is_one_object_of_exact_factors():
    text = tables()[TABLES]
    table = json.loads(text[text.index("= {") + 2:].rstrip().removesuffix(";"))
    assert [row[0] for row in table["units"]] == list(UNITS)
    assert ["in", "length", "US", "127/5000"] in table["units"]
    assert table["decimals"] == DECIMALS
    assert table["next"]["cut"] == cut.NEXT
