"""Worked examples of what is measured: flatness, limits, compression, cuts, gaskets. Each calls its calculation."""

from __future__ import annotations

from generator.audit.worked import Inputs, Line, Worker, said
from generator.calculations.compression import (
    MINIMUM,
    OF_HIGHEST,
    SPREAD,
    AltitudeRow,
    Cylinder,
    Rule,
    altitude_minimum,
    judge_compression,
    leak_down,
)
from generator.calculations.cut import (
    Areas,
    Planned,
    cam_retard,
    circle_area,
    clearance_volume,
    compression_ratio,
    consequences,
    ratio_after,
    restoring_gaskets,
    sprocket_radius,
    stock_removal,
    swept_volume,
)
from generator.calculations.flatness import LENGTHWISE, FaceLimit, LineReading, judge_face, lines_of
from generator.calculations.flatness import Line as FaceLine
from generator.calculations.gasket import BY_ENGINE, HIGHEST, Gasket, Reading, by_clearance, by_protrusion
from generator.calculations.limits import Reading as OneReading
from generator.calculations.limits import judge, judge_several
from generator.calculations.wording import listing, say_number, say_quantity
from generator.quantities import Quantity


def _flatness_lines(inputs: Inputs) -> list[Line]:
    bores = [str(number) for number in range(1, int(inputs.number("cylinders")) + 1)]
    lines = lines_of(bores)
    return [Line("Lines", str(len(lines))), Line("They run", listing([line.name for line in lines]))]


def _flatness_verdict(inputs: Inputs) -> list[Line]:
    goes, stops = inputs.quantity("goes"), inputs.quantity("stops")
    line = FaceLine("edge", "along one edge", LENGTHWISE)
    face = judge_face([line], [LineReading(line.id, (goes,), (stops,))], [FaceLimit(inputs.limit("limit"), LENGTHWISE)], [goes, stops])
    return said(face.lines[0].deciding.result)


def _reading(inputs: Inputs) -> list[Line]:
    return said(judge(inputs.quantity("reading"), inputs.limit("limit")))


def _readings(inputs: Inputs) -> list[Line]:
    readings = [OneReading(label, quantity) for label, quantity in inputs.quantities("reading")]
    found = judge_several(readings, inputs.limit("limit"), inputs.limit("spread"))
    return [*(Line("", each.reason) for each in found.each), *said(found.spread or found.result)]


def _compression(inputs: Inputs) -> list[Line]:
    cylinders = [Cylinder(label, quantity) for label, quantity in inputs.quantities("reading")]
    rules = [Rule(SPREAD, inputs.limit("spread")), Rule(OF_HIGHEST, inputs.limit("practice", own=False))]
    found = judge_compression([[one.name for one in cylinders]], "compression", cylinders, rules)
    return [*said(found.result), *(Line("Beside it", each.result.reason) for each in found.practice)]


def _altitude(inputs: Inputs) -> list[Line]:
    rows = zip(inputs.quantities("row_altitude"), inputs.quantities("row_minimum"), strict=True)
    found = altitude_minimum(MINIMUM, [AltitudeRow(height, least) for (_, height), (_, least) in rows], inputs.quantity("altitude"))
    return [Line("Least pressure there", say_quantity(found.low))] if found.low else []


def _leak_down(inputs: Inputs) -> list[Line]:
    return said(leak_down(inputs.quantity("applied"), inputs.quantity("held"), inputs.limit("limit")))


def _stock_removal(inputs: Inputs) -> list[Line]:
    planned = Planned(
        cut=inputs.quantity("cut"), before=inputs.quantity("before"), recession=inputs.quantity("recession"),
        total=inputs.limit("total"), recession_limit=inputs.limit("least"),
    )
    found = stock_removal(planned)
    left = [Line("Could still come off", say_quantity(found.left))] if found.left else []
    return [Line("Verdict", found.overall.verdict), *(Line("", check.reason) for check in found.checks), *left]


def _volumes(inputs: Inputs) -> tuple[Quantity, Quantity]:
    swept = swept_volume(inputs.quantity("bore"), inputs.quantity("stroke"))
    return swept, clearance_volume(swept, inputs.quantity("ratio"))


def _ratio(inputs: Inputs) -> list[Line]:
    swept, clearance = _volumes(inputs)
    back = compression_ratio(swept, clearance)
    return [
        Line("Swept volume", say_quantity(swept)), Line("Clearance volume", say_quantity(clearance)),
        Line("Ratio of the two, as a check", f"{say_number(back)} to 1"),
    ]


def _areas(inputs: Inputs) -> Areas:
    return Areas(inputs.quantity("chamber"), circle_area(inputs.quantity("gasket_bore")), circle_area(inputs.quantity("bore")))


def _ratio_after(inputs: Inputs) -> list[Line]:
    cut, nothing = inputs.quantity("head_cut"), Quantity(0.0, "mm")
    swept, clearance = _volumes(inputs)
    found = ratio_after(swept, clearance, _areas(inputs), cut, nothing, nothing)
    return [Line("Ratio after the cut", f"{say_number(found.after)} to 1"), Line("", found.reason)]


def _restoring(inputs: Inputs) -> list[Line]:
    return [Line("", restoring_gaskets(_areas(inputs), inputs.quantity("head_cut"), Quantity(0.0, "mm"), inputs.text("drive")).reason)]


def _retard(inputs: Inputs) -> list[Line]:
    nothing = Quantity(0.0, "mm")
    radius = sprocket_radius(int(inputs.number("teeth")), inputs.quantity("pitch"), inputs.text("drive"))
    found = cam_retard(inputs.text("drive"), inputs.quantity("head_cut"), nothing, nothing, inputs.quantity("angle"), radius)
    return [Line("Radius of the sprocket", say_quantity(radius)), Line("", found.reason), Line("", found.next_step)]


def _consequences(inputs: Inputs) -> list[Line]:
    has = {label: facts[0].text == "present" for label, facts in inputs.each("has")}
    return [Line(each.heading.rstrip(":"), f"{each.text} ({each.basis})") for each in consequences(has)]


def _by_class(inputs: Inputs) -> list[Line]:
    readings = [Reading(label, quantity) for label, quantity in inputs.quantities("reading")]
    table = [Gasket(label, *_class(inputs, label)) for label, _ in inputs.each("gasket")]
    (found,) = by_protrusion(readings, table, HIGHEST, BY_ENGINE)
    return said(found.result)


def _class(inputs: Inputs, label: str) -> tuple[Quantity | None, Quantity | None]:
    facts = next(facts for each, facts in inputs.each("gasket") if each == label)
    statement = facts[0].printed[0]
    unit = str(statement.unit.symbol) if statement.unit else ""
    low, high = (None if bound is None else Quantity(float(bound), unit) for bound in (statement.low, statement.high))
    return low, high


def _by_clearance(inputs: Inputs) -> list[Line]:
    table = [Gasket(label, thickness=quantity) for label, quantity in inputs.quantities("gasket")]
    return said(by_clearance(*inputs.range("clearance"), inputs.quantity("measurement"), table, inputs.text("between")).result)


WORKED: dict[str, Worker] = {
    "flatness-lines": _flatness_lines, "flatness-verdict": _flatness_verdict,
    "reading-against-limit": _reading, "readings-with-spread": _readings,
    "compression-rules": _compression, "compression-by-altitude": _altitude, "leak-down": _leak_down,
    "stock-removal": _stock_removal, "compression-ratio": _ratio, "ratio-after-cut": _ratio_after,
    "restoring-gaskets": _restoring, "cam-retard": _retard, "after-a-cut": _consequences,
    "gasket-by-class": _by_class, "gasket-by-clearance": _by_clearance,
}
