"""What the torque of a record does to its bolts: a range, because friction is never known. A check of plausibility, no more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.audit.bolts import designation, is_metric, thread_of
from generator.audit.spans import Span, span, spans
from generator.audit.stages import turns
from generator.audit.suspicion import FigureRule, Suspicion
from generator.audit.values import every_nut_factor, nut_factors, strengths, thread_sizes
from generator.calculations.preload import (
    BREAKS,
    FAR_BELOW,
    MAY_PASS,
    PASSES,
    Preload,
    against_strength,
    angle_against_strength,
    angle_stretch,
    preload,
)
from generator.calculations.result import InputError, measured
from generator.calculations.threads import Loads, Thread, loads, size_of, strength_of
from generator.calculations.wording import say_range
from generator.quantities import Quantity
from generator.record.engine import Engine
from generator.record.fasteners import FastenerSet
from generator.record.library import Library

# What carries a clamp load; a plug seals and is torqued for its seat.
CLAMPING = ("bolt", "stud", "nut", "cap nut", "screw")
# The strongest and the weakest bolts that heads are held by, in each system.
STRONGEST = {True: "12.9", False: "Grade 8"}
WEAKEST = {True: "8.8", False: "Grade 5"}
# Young's modulus of steel, from memory; common practice, no source.
STEEL = Quantity(205_000, "MPa")


@dataclass(frozen=True, slots=True)
class Clamped:
    """The last torque of one group of a set. angles: turned after it. load: of the torque alone. factors: K, lowest and highest.
    given: the class, empty where the record gives none."""

    fasteners: FastenerSet
    group: str
    torque: Span
    angles: tuple[Span, ...]
    thread: Thread
    load: Preload
    factors: tuple[float, float]
    given: str


def clamped(engine: Engine, library: Library) -> tuple[Clamped, ...]:
    """Every group whose thread and last torque the record gives."""
    return tuple(found for _, found in _clamping(engine, library) if found)


def _clamping(engine: Engine, library: Library) -> list[tuple[Span, Clamped | None]]:
    """Every last torque with what it does; None where it is no torque that anybody measures."""
    found: list[tuple[Span, Clamped | None]] = engine.once("clamping", lambda _: list(_clamps(engine, library)))
    return found


def _clamps(engine: Engine, library: Library) -> Iterator[tuple[Span, Clamped | None]]:
    for each, name, torque, angles, thread, factors in _torques(engine, library):
        load = _load(torque, thread, factors)
        given = designation(each.groups[name], "class")
        yield torque, Clamped(each, name, torque, angles, thread, load, factors, given) if load else None


def _torques(engine: Engine, library: Library) -> Iterator[tuple[FastenerSet, str, Span, tuple[Span, ...], Thread, tuple[float, float]]]:
    """Each set and group with its last torque, the angles after it, its thread and the nut factors."""
    for each in engine.sets.values():
        for name, group in each.groups.items():
            thread = thread_of(group, library) if group.get("kind") in CLAMPING else None
            treatment = group.get("treatment")
            treated = str(treatment.get("thread", "")) if isinstance(treatment, dict) else ""
            factors = nut_factors(library, treated) or every_nut_factor(library)
            if thread and factors:
                yield from ((each, name, torque, angles, thread, factors) for torque, angles in _last_torques(engine, each, name))


def _last_torques(engine: Engine, each: FastenerSet, group: str) -> Iterator[tuple[Span, tuple[Span, ...]]]:
    if not each.stages:
        yield from ((torque, ()) for torque in spans(engine, (*each.at, "torque")))
        return
    last: Span | None = None
    angles: list[Span] = []
    for turn in turns(each, group):
        if turn.stage.do in ("torque", "steps") and turn.value:
            last, angles = turn.value, []
        elif turn.stage.do == "angle":
            angles += [found for fact in turn.stage.figures[:1] if (found := span(fact))]
    if last:
        yield last, tuple(angles)


def _load(torque: Span, thread: Thread, factors: tuple[float, float]) -> Preload | None:
    """The clamp load of a torque; None where it is no torque that anybody measures."""
    try:
        found = preload(Quantity(torque.low, "N.m"), Quantity(torque.high, "N.m"), thread, *factors)
        measured(found.high, "N", "preload")
    except InputError:
        return None
    return found


def _strength(name: str, thread: Thread, library: Library) -> Loads | None:
    """The loads of a class at this thread; None where the tables do not give them."""
    size = size_of(thread, thread_sizes(library))
    try:
        return loads(thread, strength_of(name, thread, strengths(library)), size.stress_area if size else None)
    except InputError:
        return None


def _plausible(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for torque, found in _clamping(engine, library):
        if found is None:
            message = f"{torque.text} is no torque that can be set on a wrench"
            yield Suspicion(torque.fact.at, message, (torque.fact,), hint="look at the page again: digits, decimal point or unit")
    for each in clamped(engine, library):
        strongest, weakest = (_strength(names[is_metric(each.thread)], each.thread, library) for names in (STRONGEST, WEAKEST))
        said = _says(each)
        facts = (each.torque.fact,)
        if strongest and against_strength(each.load, strongest).verdict == BREAKS:
            message = f"{said}: past the tensile load of {strongest.name}, so the bolt would break"
            yield Suspicion(each.torque.fact.at, message, facts, hint="look at the page again: unit, decimal point or thread")
        elif weakest and against_strength(each.load, weakest).verdict == FAR_BELOW:
            level, more = ("warning", "an angle follows, but the bolt is not even seated") if each.angles else ("error", "and no angle follows")
            message = f"{said}: under a tenth of the proof load of {weakest.name}, {more}"
            yield Suspicion(each.torque.fact.at, message, facts, level, "look at the page again: unit, decimal point or thread")
        else:
            yield Suspicion(each.torque.fact.at, said, facts, "note", "a check of plausibility; the engine's own torque stands")


def _says(each: Clamped) -> str:
    low, high = each.factors
    load = say_range(each.load.low, each.load.high)
    return f"{each.torque.text} gives {each.thread.designation} a clamp load of {load} (nut factor {low:g} to {high:g})"


def _own_class(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for each in clamped(engine, library):
        own = _strength(each.given, each.thread, library) if each.given else None
        if own and against_strength(each.load, own).verdict in (PASSES, BREAKS):
            message = f"{_says(each)}: past the proof load of its own class, {each.given}, even at the highest friction"
            yield Suspicion(each.torque.fact.at, message, (each.torque.fact,), "warning", "look at the page again: class, torque and thread")


def _past_yield(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for found in clamped(engine, library):
        reuse = found.fasteners.groups[found.group].get("reuse")
        again = isinstance(reuse, dict) and str(reuse.get("says", "")).startswith("allowed")
        grips = spans(engine, (*found.fasteners.at, "groups", found.group, "grip")) if again and found.angles and found.given else []
        if len(grips) == 1:
            yield from _stretched(found, grips[0], library)


def _stretched(found: Clamped, grip: Span, library: Library) -> Iterator[Suspicion]:
    own = _strength(found.given, found.thread, library)
    if own is None:
        return
    turned = Quantity(sum(angle.middle for angle in found.angles), "deg")
    try:
        stretch = angle_stretch(turned, found.thread, Quantity(grip.middle * 1000, "mm"), STEEL)
        result = angle_against_strength(found.load, stretch, own)
    except InputError:  # an angle or a grip that nobody measures
        return
    if result.verdict == MAY_PASS:
        message = f"{result.reason} That is an upper bound, for a rigid joint and steel of 205 000 MPa"
        hint = "look whether the source really has them used again"
        yield Suspicion(found.angles[-1].fact.at, message, (found.torque.fact, grip.fact), "note", hint)


FIGURE_RULES = [
    FigureRule(
        "preload",
        "A torque that breaks the strongest bolt, or hardly clamps the weakest. That a tenth of the proof load is too little is this project's rule.",
        "350 N.m on M10x1.25, typed for 35 N.m", _plausible,
        ("error", "warning", "note"),
    ),
    FigureRule(
        "class-carries-torque", "A torque that overloads bolts of the class that the record gives.", "95 N.m on M10x1.25 of class 8.8", _own_class,
        ("warning",),
    ),
    FigureRule(
        "angle-past-yield", "An angle that may stretch bolts for good which the record has used again.",
        "90 + 90 deg over a grip of 60 mm, reuse allowed", _past_yield, ("note",),
    ),
]
