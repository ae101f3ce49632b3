"""Every published case that the twin covers, as calls of both."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.calculations import compression, cut, flatness, gasket, tightening, wrench
from generator.calculations.entry import read_entry
from generator.calculations.result import Limit
from generator.quantities import Quantity
from tests.browser.generated_calls import agreed, call, converted, parsed
from tests.browser.twin import Call
from tests.published import published


def quantity(text: str | None, unit: str = "mm") -> Quantity | None:
    return None if text is None else read_entry(text, unit, "published")


def mm(value: float | None) -> Quantity | None:
    return None if value is None else Quantity(value, "mm")


def flatness_calls() -> Iterator[Call]:
    face = flatness.lines_of(["1", "2", "3", "4"])
    for case in [*published("flatness", "blades"), *published("flatness", "doubts")]:
        limit = Limit("face", high=quantity(case["limit"]), strict=case.get("strict", False), own=case.get("own", True))
        over = quantity(case.get("over"))
        yield call(flatness.judge_line, face[0], [_felt(case, "edge-a")], [flatness.FaceLimit(limit, span=over)], [])
    for case in published("flatness", "faces"):
        limits = [flatness.FaceLimit(Limit("face", high=quantity(case[way])), way) for way in ("lengthwise", "crosswise")]
        yield call(flatness.judge_face, face, [_felt(case, line.id) for line in face], limits, [])
    for case in published("flatness", "printed_pairs"):
        for blade in (case["inch"], case["metric"]):
            limit = flatness.FaceLimit(Limit("face", high=quantity(case["inch"])))
            yield call(flatness.judge_line, face[0], [_felt({"goes": blade}, "edge-a")], [limit], [])
    for case in published("flatness", "stacks"):
        blades = (Quantity(0.010, case["unit"]),) * case["blades"]
        limit = flatness.FaceLimit(Limit("face", high=Quantity(case["nominal"], case["unit"])))
        for way in ("goes", "stops"):
            yield call(flatness.judge_line, face[0], [flatness.LineReading("edge-a", **{way: blades})], [limit], [])


def _felt(case: dict[str, str], line: str) -> flatness.LineReading:
    goes, stops = ((quantity(case[key]),) if key in case else () for key in ("goes", "stops"))
    return flatness.LineReading(line, goes, stops, quantity(case.get("span")), doubt=quantity(case.get("doubt")))


def compression_calls() -> Iterator[Call]:
    for case in published("compression", "rules"):
        limit = Limit("rule", quantity(case.get("low"), _of(case)), quantity(case.get("high"), _of(case)), case.get("strict", False))
        yield _test(case["readings"], [compression.Rule(case["kind"], limit)], case["ignition"])
    least = compression.Rule("minimum", Limit("Minimum", low=Quantity(85, "psi")))
    part = compression.Rule("of highest", Limit("Part", low=Quantity(75, "%")))
    for case in published("compression", "three_quarters"):
        for lowest in (case["line"], case["line"] - 0.1):
            yield _test([case["highest"], lowest, case["highest"]], [part])
    for case in published("compression", "patterns"):
        yield _test(case["readings"], [least], wet=case["wet"])
    table = published("compression", "altitude_table")
    rows = [
        compression.AltitudeRow(quantity(row["altitude"], "m"), quantity(row["minimum"], "psi"), (quantity(row["metres"], "m"),)) for row in table
    ]
    heights = [row[key] for row in table for key in ("altitude", "metres")]
    for height in [*heights, *(case["altitude"] for case in published("compression", "between_rows"))]:
        yield call(compression.altitude_minimum, "Minimum", rows, quantity(height, "m"), "Table 1")
    for case in published("compression", "leak_down"):
        limit = Limit("Loss", high=Quantity(25, "%"))
        yield call(compression.leak_down, quantity(case["applied"], "psi"), quantity(case["held"], "psi"), limit)


def _of(case: dict[str, Any]) -> str:
    return "%" if case["kind"] in ("of highest", "below mean") else "psi"


def _test(readings: list[float], rules: list[compression.Rule], ignition: str = "spark", wet: dict[str, float] | None = None) -> Call:
    oiled = {name: Quantity(value, "psi") for name, value in (wet or {}).items()}
    cylinders = [compression.Cylinder(str(n), Quantity(value, "psi"), oiled.get(str(n))) for n, value in enumerate(readings, 1)]
    return call(compression.judge_compression, [[each.name for each in cylinders]], ignition, cylinders, rules, None, "")


def cut_calls() -> Iterator[Call]:
    for case in published("cut", "removals"):
        planned = cut.Planned(
            mm(case["cut"]), mm(case["before"]), recession=mm(case["recession"]), total=Limit("removal", high=mm(case["total"])),
            recession_limit=Limit("recession", low=mm(case["least"])),
        )
        yield call(cut.stock_removal, planned)
    for case in published("cut", "ratios"):
        yield call(cut.compression_ratio, Quantity(case["swept"], case["unit"]), Quantity(case["clearance"], case["unit"]))
    for case in published("cut", "swept"):
        yield call(cut.swept_volume, Quantity(case["bore"], case["length"]), Quantity(case["stroke"], case["length"]))
    for case in published("cut", "clearances"):
        yield call(cut.clearance_volume, Quantity(case["swept"], case["unit"]), Quantity(case["ratio"], "ratio"))
    for case in published("cut", "cuts"):
        swept = cut.swept_volume(mm(case["bore"]), mm(case["stroke"]))
        areas = cut.Areas(*(Quantity(area, "cm2") for area in (case["chamber"], 60.0, 58.0)))
        clearance = cut.clearance_volume(swept, Quantity(case["ratio"], "ratio"))
        yield call(cut.ratio_after, swept, clearance, areas, mm(case["cut"]), mm(0), mm(0))
        yield call(cut.restoring_gaskets, areas, mm(case["cut"]), mm(0), "chain")
    for case in published("cut", "retards"):
        for teeth in case["teeth"]:
            yield call(cut.sprocket_radius, teeth, mm(case["pitch"]), "chain")
        for lean in (0, case["lean"]):
            yield call(cut.cam_retard, "chain", mm(case["cut"]), mm(0), mm(0), Quantity(lean, "deg"), mm(case["cam_radius"]))


def gasket_calls() -> Iterator[Call]:
    for case in published("gasket", "clearances"):
        low, high, measurement = (Quantity(case[key], case["unit"]) for key in ("low", "high", "measurement"))
        sheets = [gasket.Gasket(f"no. {n}", thickness=Quantity(each, case["unit"])) for n, each in enumerate(case["thicknesses"], 1)]
        yield call(gasket.by_clearance, low, high, measurement, sheets, "thicker")


def wrench_calls() -> Iterator[Call]:
    for case in published("wrench", "settings"):
        lengths = quantity(case["length"]), quantity(case["adapter"]), Quantity(case["angle"], "deg")
        yield call(wrench.adapter_setting, quantity(case["torque"], "N.m"), *lengths, "")
    for case in published("wrench", "delivered"):
        lengths = quantity(case["length"]), quantity(case["adapter"]), Quantity(case["angle"], "deg")
        yield call(wrench.torque_delivered, quantity(case["setting"], "N.m"), *lengths)
    for case in published("wrench", "ranges"):
        yield call(wrench.wrench_range, quantity(case["setting"], "N.m"), wrench.WrenchRange(quantity(case["full_scale"], "N.m")))
    for case in published("wrench", "run_down"):
        yield call(wrench.with_run_down, quantity(case["torque"], "N.m"), quantity(case["drag"], "N.m"), Limit("Prevailing torque"))


def tightening_calls() -> Iterator[Call]:
    for case in published("tightening", "step_rules"):
        first, by, low, high = (Quantity(case[key], case["unit"]) for key in ("from", "by", "low", "high"))
        stage = tightening.Stage("steps", ("A", "B"), first=first, by=by, low=low, high=high)
        yield call(tightening.expand, [stage], {}, "stage by stage", {})


def quantity_calls() -> Iterator[Call]:
    for case in published("conversions", "factors"):
        yield converted(f"1 {case['one']}", case["unit"], False)
    for case in published("conversions", "temperatures"):
        yield converted(case["printed"], case["unit"], False)
    for case in [*published("conversions", "dual_values"), *published("printed_pairs", "pairs")]:
        yield agreed(case["printed"])
        yield from map(parsed, case["printed"])


CALLS = {
    "flatness": flatness_calls, "compression": compression_calls, "cut": cut_calls, "gasket": gasket_calls, "wrench": wrench_calls,
    "tightening": tightening_calls, "quantities": quantity_calls,
}
