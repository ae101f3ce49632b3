"""Slips in orders, stages, threads, classes and cites, and blocks pasted from another engine."""

from __future__ import annotations

import copy
import re
from collections.abc import Callable, Iterator
from random import Random
from typing import Any

from generator.reading import At, dotted
from generator.record.engine import Engine
from generator.record.fasteners import FastenerSet
from generator.record.library import Library
from tests.faults import shape
from tests.faults.fault import Fault, get, setter

_PITCHES = ("0.75", "1", "1.25", "1.5", "1.75", "2", "2.5")
_PER_INCH = ("11", "12", "13", "14", "16", "18", "20", "24", "28")
_CLASSES = {"metric": ("8.8", "10.9", "12.9"), "inch": ("Grade 5", "Grade 8")}
_MISSPELT = {
    "8.8": ("8.9", "88"), "10.9": ("10.8", "9.10"), "12.9": ("12.8", "19.2"), "Grade 5": ("Grade 6", "Grade S"), "Grade 8": ("Grade 9", "Grade B"),
}
_NOT_BOLTS = ("plug", "nut", "cap nut")


def _orders(engine: Engine) -> Iterator[tuple[FastenerSet, At, tuple[str, ...]]]:
    for each in engine.sets.values():
        for name, order in each.orders.items():
            yield each, (*each.at, "tightening", "orders", name), order
        if each.loosening:
            yield each, (*each.at, "loosening", "order"), each.loosening


def bolt_dropped(engine: Engine, chance: Random) -> Iterator[Fault]:
    for each, at, order in _orders(engine):
        for index, place in enumerate(order):
            new = [*order[:index], *order[index + 1:]]
            yield Fault("bolt dropped from an order", engine.id, at, setter(at, new), bool(each.spots), f"{place} left out of {at[-1]}", (place,))


def bolt_doubled(engine: Engine, chance: Random) -> Iterator[Fault]:
    for each, at, order in _orders(engine):
        for index, place in enumerate(order):
            where = chance.randrange(len(order) + 1)
            new = [*order[:where], place, *order[where:]]
            yield Fault("bolt doubled in an order", engine.id, at, setter(at, new), bool(each.spots), f"{place} twice in {at[-1]}", (place,))
            other = order[chance.randrange(len(order))]
            if other != place:
                typed = [*order[:index], other, *order[index + 1:]]
                says = f"{other} typed for {place} in {at[-1]}"
                yield Fault("bolt doubled in an order", engine.id, at, setter(at, typed), bool(each.spots), says, (place, other))


def stage_lost(engine: Engine, chance: Random) -> Iterator[Fault]:
    for each in engine.sets.values():
        at = (*each.at, "tightening", "stages")
        for index, stage in enumerate(each.stages if len(each.stages) > 1 else ()):
            new = [block for place, block in enumerate(get(engine.file.data, at)) if place != index]
            seen = shape.stage_loss_shows(engine, each, index)
            names = ("the total angle", "no stage", "stage", stage.order or "stage")
            yield Fault("stage lost", engine.id, at, setter(at, new), seen, f"{stage.do}, stage {index + 1} of {each.key}, left out", names)


def stages_swapped(engine: Engine, chance: Random) -> Iterator[Fault]:
    for each in engine.sets.values():
        at = (*each.at, "tightening", "stages")
        blocks = get(engine.file.data, at) if each.stages else []
        for index in range(len(blocks) - 1):
            if blocks[index] != blocks[index + 1]:
                new = [*blocks[:index], blocks[index + 1], blocks[index], *blocks[index + 2:]]
                says = f"stages {index + 1} and {index + 2} of {each.key} exchanged"
                yield Fault("stages out of order", engine.id, at, setter(at, new), shape.swap_shows(each, index), says, ("stage",))


def pitch_wrong(engine: Engine, chance: Random) -> Iterator[Fault]:
    for each in engine.sets.values():
        for name, group in each.groups.items():
            text = str(group.get("thread", {}).get("as", ""))
            match = re.fullmatch(r"(M\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)|(\d+/\d+)-(\d+)", text)
            if not match:
                continue
            size, pitch = (match[1], match[2]) if match[1] else (match[3], match[4])
            joint, wrong = ("x", _PITCHES) if match[1] else ("-", _PER_INCH)
            for other in wrong:
                if float(other) != float(pitch):
                    bolt = group.get("kind") != "plug"
                    seen = bolt and size in shape.PITCHES and other not in shape.PITCHES[size]
                    at = (*each.at, "groups", name, "thread", "as")
                    yield Fault("pitch wrong", engine.id, at[:-1], setter(at, f"{size}{joint}{other}"), seen, f"{text} becomes {size}{joint}{other}")


def class_wrong(engine: Engine, chance: Random) -> Iterator[Fault]:
    for each in engine.sets.values():
        for name, group in each.groups.items():
            text = str(group.get("class", {}).get("as", ""))
            bolt = group.get("kind") not in _NOT_BOLTS
            at = (*each.at, "groups", name, "class", "as")
            for wrong in _MISSPELT.get(text, ()):
                yield Fault("class wrong", engine.id, at[:-1], setter(at, wrong), bolt, f"class {text} becomes {wrong}")
            own = next((names for names in _CLASSES.values() if text in names), ())
            for other in own:
                if other != text:
                    seen = shape.class_is_marked(engine, each, name)
                    yield Fault("class wrong", engine.id, at[:-1], setter(at, other), seen, f"class {text} becomes {other}")


def _cites(data: Any, at: At = ()) -> Iterator[tuple[At, str]]:
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in items:
        if key == "cite" and isinstance(value, str):
            yield (*at, key), value
        else:
            yield from _cites(value, (*at, key))


def cite_wrong(engine: Engine, library: Library, chance: Random) -> Iterator[Fault]:
    kinds = [each.id for each in library.sources.values() if each.invented == engine.invented and not each.is_practice]
    for at, cite in _cites(engine.file.data):
        source, _, place = cite.partition(" ")
        for other in chance.sample(sorted(set(kinds) - {source}), min(2, len(set(kinds) - {source}))):
            seen = other not in engine.sources
            says = f"{source} becomes {other}"
            yield Fault("cite to the wrong book", engine.id, at[:-1], setter(at, f"{other} {place}"), seen, says, (other, source))
        typed = _transposed(source)
        if typed and typed not in library.sources:
            says = f"{source} becomes {typed}"
            yield Fault("cite to the wrong book", engine.id, at[:-1], setter(at, f"{typed} {place}"), True, says, (typed, source))


def _transposed(source: str) -> str:
    for index in range(len(source) - 1, 0, -1):
        one, other = source[index - 1], source[index]
        if one.isalnum() and other.isalnum() and one != other:
            return source[: index - 1] + other + one + source[index + 1:]
    return ""


def _blocks(data: dict[str, Any]) -> Iterator[At]:
    for section, block in data.items():
        if section in ("id", "name", "sources", "identity", "exceptions"):
            continue
        yield (section,)
        if isinstance(block, dict):
            yield from ((section, key) for key, part in block.items() if isinstance(part, dict) and "says" not in part)


def block_pasted(engine: Engine, library: Library, chance: Random) -> Iterator[Fault]:
    others = [each for each in library.engines.values() if each.id != engine.id]
    for at in _blocks(engine.file.data):
        found = [each for each in others if _has(each.file.data, at) and get(each.file.data, at) != get(engine.file.data, at)]
        for other in chance.sample(found, min(2, len(found))):
            block = get(other.file.data, at)
            says = f"{dotted(at)} of {other.id}"
            foreign = not set(engine.sources) & set(other.sources)
            yield _pasted(engine, at, block, foreign and shape.carries_its_source(block), f"{says}, with its source")
            enough = shape.digits(block) >= shape.ENOUGH_DIGITS
            yield _pasted(engine, at, _with_source(block, engine), enough, f"{says}, its source changed")


def _pasted(engine: Engine, at: At, block: Any, seen: bool, says: str) -> Fault:
    return Fault("block pasted from another engine", engine.id, at, setter(at, block), seen, says, (dotted(at),))


def _has(data: Any, at: At) -> bool:
    try:
        get(data, at)
    except (KeyError, IndexError, TypeError):
        return False
    return True


def _with_source(block: Any, engine: Engine) -> Any:
    """The block with every cite turned into one of the record's own, so that only its figures tell."""
    own = next(cite for _, cite in _cites(engine.file.data))
    found = copy.deepcopy(block)
    for at, _ in list(_cites(found)):
        setter(at, own)(found)
    if isinstance(found, dict) and "cite" not in found:
        found = {"cite": own, **found}
    return found


KINDS: tuple[Callable[[Engine, Random], Iterator[Fault]], ...] = (
    bolt_dropped, bolt_doubled, stage_lost, stages_swapped, pitch_wrong, class_wrong,
)
LIBRARY_KINDS: tuple[Callable[[Engine, Library, Random], Iterator[Fault]], ...] = (cite_wrong, block_pasted)
