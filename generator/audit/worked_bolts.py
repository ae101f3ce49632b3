"""Worked examples of what is tightened: pulls, wrench, threads, preload, and the price of it. Each calls its calculation."""

from __future__ import annotations

from collections.abc import Iterator

from generator.audit.pulls import pulls
from generator.audit.values import nut_factor_cites, nut_factors, strengths, thread_sizes
from generator.audit.worked import ExampleError, Inputs, Line, Worker, said
from generator.calculations.cost import break_even
from generator.calculations.preload import (
    Preload,
    against_strength,
    angle_against_strength,
    angle_stretch,
    nut_factor,
    preload,
    torque_for,
)
from generator.calculations.result import InputError
from generator.calculations.threads import (
    Loads,
    Thread,
    bolt_in_hole,
    geometry,
    loads,
    marking_strengths,
    parse_thread,
    size_of,
    strength_of,
)
from generator.calculations.tightening import Stage, choose_target, loosening
from generator.calculations.wording import number_text, say_quantity, say_range
from generator.calculations.wrench import WrenchRange, adapter_setting, torque_delivered, with_run_down, wrench_range
from generator.quantities import Quantity

_FACTOR_DECIMALS = 4


# Tightening and wrench


def _pulls(inputs: Inputs) -> list[Line]:
    engine = inputs.engine("stages")
    found = pulls(engine, engine.sets["head"])
    rounds = [f"round {pull.round}: {_torque(pull.low, pull.high)}" for pull in found]
    order = "known" if found[-1].order_known else "not in this record"
    return [Line("Rounds", "; ".join(rounds)), Line("Target", found[-1].state), Line("Order", order)]


def _torque(low: Quantity | None, high: Quantity | None) -> str:
    if low is None or high is None:
        return "not given"
    return say_quantity(low) if low == high else say_range(low, high)


def _one_target(inputs: Inputs) -> list[Line]:
    found = choose_target(*inputs.range("torque"))
    return [Line("Proposed", say_quantity(found.proposed)), Line("", found.reason), Line("", found.next_step)]


def _loosening(inputs: Inputs) -> list[Line]:
    found = loosening([Stage("torque", tuple(inputs.text("order").split()))])
    return [Line("Loosening order", " ".join(found.order)), Line("", found.text)]


def _adapter(inputs: Inputs) -> list[Line]:
    length, sideways = inputs.quantity("length"), inputs.quantity("sideways")
    found = adapter_setting(inputs.quantity("torque"), length, sideways)
    back = torque_delivered(found.number, length, sideways) if found.number else None
    return [*said(found), *([Line("At the bolt with this setting, as a check", say_quantity(back))] if back else [])]


def _range(inputs: Inputs) -> list[Line]:
    return said(wrench_range(inputs.quantity("setting"), WrenchRange(inputs.quantity("full_scale"))))


def _run_down(inputs: Inputs) -> list[Line]:
    return said(with_run_down(inputs.quantity("torque"), inputs.quantity("drag"), inputs.limit("prevailing")))


# Threads and strength


def _thread(inputs: Inputs) -> Thread:
    return parse_thread(inputs.text("thread"), thread_sizes(inputs.library))


def _geometry(inputs: Inputs) -> list[Line]:
    thread = _thread(inputs)
    found, size = geometry(thread), size_of(thread, thread_sizes(inputs.library))
    names = {"pitch_diameter": "Pitch diameter", "minor_diameter": "Minor diameter", "stress_area": "Stress area", "tapping_drill": "Tapping drill"}
    lines = []
    for key, name in names.items():
        printed = getattr(size, key) if size else None
        beside = f"; in the table {say_quantity(printed)}" if printed else "; not in the table"
        lines.append(Line(name, say_quantity(getattr(found, key)) + beside))
    return lines


def _marking(inputs: Inputs) -> list[Line]:
    tensile, yielding = marking_strengths(inputs.text("marking"))
    return [Line("Nominal tensile strength", say_quantity(tensile)), Line("Nominal yield strength", say_quantity(yielding))]


def _loads(inputs: Inputs) -> list[Line]:
    found = _loads_of(inputs, _thread(inputs), inputs.text("class"))
    return [Line("Proof load", _shown(found.proof), (found.basis,)), Line("Tensile load", _shown(found.tensile), (found.basis,))]


def _loads_of(inputs: Inputs, thread: Thread, name: str) -> Loads:
    size = size_of(thread, thread_sizes(inputs.library))
    return loads(thread, strength_of(name, thread, strengths(inputs.library)), size.stress_area if size else None)


def _shown(load: Quantity) -> str:
    return say_quantity(Quantity(load.to("kN"), "kN")) if load.unit == "N" else say_quantity(load)


def _in_hole(inputs: Inputs) -> list[Line]:
    return said(bolt_in_hole(inputs.quantity("length"), inputs.quantity("grip"), inputs.quantity("depth")))


# Preload


def _clamp(inputs: Inputs, thread: Thread) -> tuple[tuple[float, float], Preload]:
    treatment = inputs.text("treatment")
    factors = nut_factors(inputs.library, treatment)
    if factors is None:
        raise ExampleError(f"no source prints a nut factor for {treatment!r}")
    return factors, preload(*inputs.range("torque"), thread, *factors)


def _preload(inputs: Inputs) -> list[Line]:
    thread = _thread(inputs)
    (low, high), found = _clamp(inputs, thread)
    factors = f"{number_text(low, _FACTOR_DECIMALS)} to {number_text(high, _FACTOR_DECIMALS)}"
    lines = [
        Line("Nut factor for this treatment", factors, nut_factor_cites(inputs.library, inputs.text("treatment"))),
        Line("Clamp load of one bolt", say_range(found.low, found.high)),
        _area(inputs, thread),
    ]
    for strength in _every_class(inputs, thread):
        lines.append(Line(f"Proof load of {strength.name}", _shown(strength.proof), (strength.basis,)))
        lines.append(Line("", against_strength(found, strength).reason))
    return lines


def _area(inputs: Inputs, thread: Thread) -> Line:
    size = size_of(thread, thread_sizes(inputs.library))
    if size and size.stress_area:
        return Line("Stress area", say_quantity(size.stress_area), (size.basis,))
    return Line("Stress area, worked out", say_quantity(geometry(thread).stress_area))


def _every_class(inputs: Inputs, thread: Thread) -> Iterator[Loads]:
    """The loads of this thread in every class or grade whose table covers it."""
    names = dict.fromkeys(strength.name for strength in strengths(inputs.library) if strength.system == thread.system)
    for name in names:
        try:
            yield _loads_of(inputs, thread, name)
        except InputError:  # not tabulated for this diameter
            continue


def _nut_factor(inputs: Inputs) -> list[Line]:
    thread = _thread(inputs)
    factor = nut_factor(thread, inputs.quantity("thread_friction").value, inputs.quantity("collar_friction").value)
    torque = torque_for(inputs.quantity("preload"), thread, factor)
    return [
        Line("Nut factor", number_text(factor, _FACTOR_DECIMALS)),
        Line("Torque for this preload", say_quantity(Quantity(torque.to("lbf.in"), "lbf.in"))),
    ]


def _angle(inputs: Inputs) -> list[Line]:
    thread = _thread(inputs)
    _, before = _clamp(inputs, thread)
    found = angle_stretch(inputs.quantity("angle"), thread, inputs.quantity("grip"), inputs.quantity("modulus"))
    judged = angle_against_strength(before, found, _loads_of(inputs, thread, inputs.text("class")))
    return [
        Line("Clamp load from the torque", say_range(before.low, before.high)),
        Line("Stretch, at most", say_quantity(found.stretch)), Line("Added by the angle, at most", say_quantity(found.gain)), *said(judged),
    ]


def _cost(inputs: Inputs) -> list[Line]:
    return said(break_even(inputs.number("extra"), inputs.number("comeback")))


WORKED: dict[str, Worker] = {
    "pulls": _pulls, "one-target": _one_target, "loosening": _loosening,
    "sideways-adapter": _adapter, "wrench-range": _range, "run-down": _run_down,
    "thread-geometry": _geometry, "marking": _marking, "loads": _loads, "bolt-in-hole": _in_hole,
    "preload": _preload, "nut-factor": _nut_factor, "angle": _angle, "break-even": _cost,
}
