"""Fasteners against the standards: thread, class, marking, and whether a bolt meets the bottom of its hole."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from generator.audit.rule import Rule
from generator.audit.spans import Span, spans
from generator.audit.suspicion import FigureRule, Suspicion
from generator.audit.values import strengths, thread_sizes
from generator.calculations.result import InputError
from generator.calculations.threads import BOTTOMS, METRIC, Thread, bolt_in_hole, parse_thread, size_of, strength_of
from generator.quantities import Quantity
from generator.reading import Problem, nearest
from generator.record.engine import Engine
from generator.record.fasteners import FastenerSet
from generator.record.library import Library

# Plugs have threads of their own, nuts have classes of their own; the tables are of bolts.
_NO_BOLT_THREAD = ("plug",)
_NO_BOLT_CLASS = ("plug", "nut", "cap nut")
# A pitch outside these shares of the diameter is in no series of either system.
_COARSEST, _FINEST = 0.25, 0.03
_LOOKS_LIKE_A_THREAD = re.compile(r"[Mm]?\s*\d")
_MARK = re.compile(r"\d{1,2}\.\d")


def designation(group: dict[str, Any], key: str) -> str:
    """A designation of a group, empty where the record gives none."""
    block = group.get(key)
    return str(block.get("as", "")) if isinstance(block, dict) else ""


def thread_of(group: dict[str, Any], library: Library) -> Thread | None:
    """The thread of a group; None where none is given or it is of no system that the tables know."""
    text = designation(group, "thread")
    try:
        return parse_thread(text, thread_sizes(library)) if text else None
    except InputError:
        return None


def _groups(engine: Engine) -> Iterator[tuple[FastenerSet, str, dict[str, Any]]]:
    for each in engine.sets.values():
        for name, group in each.groups.items():
            yield each, name, group


def _threads(engine: Engine, library: Library) -> Iterator[Problem]:
    for each, name, group in _groups(engine):
        text = designation(group, "thread")
        if text and (found := _strange(text, str(group.get("kind", "")), library)):
            yield engine.file.problem((*each.at, "groups", name, "thread", "as"), "thread-in-standard", *found)


def _strange(text: str, kind: str, library: Library) -> tuple[str, str, str] | None:
    """Message, hint and level for a designation that no table has; None for one that is right or of another system."""
    sizes = thread_sizes(library)
    try:
        thread = parse_thread(text, sizes)
    except InputError:
        wrong = bool(_LOOKS_LIKE_A_THREAD.match(text))
        return (f"{text!r} is no thread", "write it like M10x1.25 or 7/16-20", "error") if wrong else None
    share = thread.pitch.value / thread.diameter.value
    if not _FINEST <= share <= _COARSEST:
        return f"{text} has a pitch that no series has for its diameter", "look at the page again for the pitch", "warning"
    same = [size.thread.designation for size in sizes if _one_diameter(size.thread, thread)]
    if same and size_of(thread, sizes) is None and kind not in _NO_BOLT_THREAD:
        return f"{text} is not in the tables, which have {', '.join(same)}", "look at the page again for the pitch", "warning"
    return None


def _one_diameter(one: Thread, other: Thread) -> bool:
    return one.system == other.system and abs(one.diameter.value - other.diameter.value) < 1e-6


def _classes(engine: Engine, library: Library) -> Iterator[Problem]:
    rows = strengths(library)
    for each, name, group in _groups(engine):
        text = designation(group, "class")
        if not text or not rows or group.get("kind") in _NO_BOLT_CLASS:
            continue
        at = (*each.at, "groups", name, "class", "as")
        names = sorted({row.name for row in rows})
        if text not in names:
            yield engine.file.problem(at, "class-in-standard", f"{text!r} is not in the tables of strength", nearest(text, names), "warning")
        elif (thread := thread_of(group, library)) and (message := _refused(text, thread, library)):
            yield engine.file.problem(at, "class-in-standard", message, "look at the page again for class and thread")


def _refused(text: str, thread: Thread, library: Library) -> str:
    try:
        strength_of(text, thread, strengths(library))
    except InputError as error:
        return error.expected if error.code == "refused" else ""
    return ""


def _markings(engine: Engine, library: Library) -> Iterator[Problem]:
    for each, name, group in _groups(engine):
        given, marking = designation(group, "class"), group.get("marking")
        marks = _MARK.findall(str(marking.get("says", ""))) if isinstance(marking, dict) else []
        if given and marks and given not in marks:
            message = f"the class is {given}, but the marking says {', '.join(marks)}"
            at = (*each.at, "groups", name, "class", "as")
            yield engine.file.problem(at, "marking-agrees", message, "look at the page again: one of the two is wrong", "warning")


def _bottoms(engine: Engine, library: Library) -> Iterator[Suspicion]:
    for each in engine.sets.values():
        for spot in each.spots.values():
            group = each.groups.get(spot.group, {})
            block = (*each.at, "groups", spot.group)
            length, grip = spans(engine, (*block, "length")), spans(engine, (*block, "grip"))
            depth = spans(engine, (*each.at, "places", spot.name, "hole", "depth"))
            if len(length) == len(grip) == len(depth) == 1 and group.get("kind") in (None, "bolt", "screw"):
                yield from _bottom(length[0], grip[0], depth[0])


def _bottom(length: Span, grip: Span, depth: Span) -> Iterator[Suspicion]:
    try:
        found = bolt_in_hole(_metres(length.high), _metres(grip.low), _metres(depth.low))
    except InputError:
        return  # the grip is not below the length: range-order says so
    if found.verdict == BOTTOMS:
        message = f"{length.text} and {grip.text} leave more than the hole takes, {depth.text}: the bolt meets the bottom before it clamps"
        yield Suspicion(depth.fact.at, message, (depth.fact, length.fact, grip.fact))


def _metres(value: float) -> Quantity:
    return Quantity(value * 1000, "mm")


def _shanks(engine: Engine, library: Library) -> Iterator[Suspicion]:
    """A shank or a neck is a little thinner than its thread, and never thicker by more than the rounding of a size."""
    for each, name, group in _groups(engine):
        thread = thread_of(group, library)
        for key in ("shank", "neck_limit") if thread else ():
            for found in spans(engine, (*each.at, "groups", name, key)):
                share = found.middle / thread.diameter.to("m") if thread else 1.0
                if not 0.6 <= share <= 1.02:
                    message = f"{found.text} is {share:.3g} times the diameter of {thread.designation if thread else ''}; 0.6 to 1 times is usual"
                    yield Suspicion(found.fact.at, message, (found.fact,), "warning")


def is_metric(thread: Thread) -> bool:
    """Whether a thread is metric; the other system is inches."""
    return thread.system == METRIC


RULES = [
    Rule(
        "thread-in-standard", "A thread that no standard has, or a pitch of another size.", "M10x1.75", _threads, ("error", "warning"),
    ),
    Rule(
        "class-in-standard", "A class that no standard has, or a grade of inch bolts on a metric thread.", 'class "10.8"', _classes,
        ("error", "warning"),
    ),
    Rule("marking-agrees", "A class that is not the one marked on the head.", 'class "8.8", marking "10.9 and a ring"', _markings, ("warning",)),
]
FIGURE_RULES = [
    FigureRule("bolt-bottoms", "A bolt that meets the bottom of its hole.", "length 118 mm, grip 96 mm, hole 20 mm deep", _bottoms),
    FigureRule("shank-fits-thread", "A shank or neck that does not belong to its thread.", "shank 19.0 mm of M10x1.25", _shanks, ("warning",)),
]
