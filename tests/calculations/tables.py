"""The thread and strength tables, read plainly: the calculations themselves read no files."""

from functools import cache
from pathlib import Path

import yaml

from generator.calculations.result import Limit
from generator.calculations.threads import Size, Strength, parse_thread
from generator.quantities import Quantity, parse

SPECS = Path(__file__).parents[2] / "specs"


def table(path):
    return yaml.safe_load((SPECS / path).read_text(encoding="utf-8"))


def value(cell):
    if cell is None:
        return None
    statement = parse(cell["printed"][0])
    return Quantity(float(statement.numbers[0].value), statement.unit.symbol)


def limit(cell):
    if cell is None:
        return None
    statement = parse(cell["printed"][0])
    bounds = [None if bound is None else Quantity(float(bound), statement.unit.symbol) for bound in (statement.low, statement.high)]
    return Limit("diameter", *bounds, strict=statement.form == "over")


@cache
def sizes(name):
    keys = ("pitch_diameter", "minor_diameter", "stress_area", "tapping_drill")
    return tuple(Size(parse_thread(row["thread"]), row["series"], *(value(row.get(key)) for key in keys)) for row in table(name)["sizes"])


@cache
def strengths():
    rows = [(file["system"], row) for file in map(table, ("strength/classes.yaml", "strength/grades.yaml")) for row in file["rows"]]
    return tuple(
        Strength(row["class"], system, value(row["proof"]), value(row["yield"]), value(row["tensile"]), limit(row.get("diameter")))
        for system, row in rows
    )


METRIC_SIZES, UNIFIED_SIZES = sizes("threads/metric.yaml"), sizes("threads/unified.yaml")


def thread(designation):
    return parse_thread(designation, METRIC_SIZES)
