"""Places of the record that the record itself names."""

from __future__ import annotations

from collections.abc import Iterator

from generator.audit.rule import Rule
from generator.reading import Problem, dotted, nearest
from generator.record.engine import Engine
from generator.record.library import Library

_HOLDERS = ("head", "deck")


def _provided_by(engine: Engine, library: Library) -> Iterator[Problem]:
    for face in _HOLDERS:
        at = ("faces", face, "stock_removal", "provided_by")
        name = _text(engine, at)
        if name and not engine.at(name):
            figures = sorted({dotted(fact.key) for fact in engine.facts if fact.kind == "figure"})
            what = "no key of a record" if not _is_key(name, library) else "a key that this record does not give"
            hint = f"name the figure that must still hold after the cut; {nearest(name, figures)}"
            yield engine.file.problem(at, "provided-by-known", f"{name!r} is {what}", hint)


def _text(engine: Engine, at: tuple[str, ...]) -> str:
    data = engine.file.data
    for key in at:
        data = data.get(key) if isinstance(data, dict) else None  # type: ignore[assignment]
    return data if isinstance(data, str) else ""


def _is_key(name: str, library: Library) -> bool:
    shape = library.schemas.shape("engine")
    for key in name.split("."):
        below = shape.children.get(key) or shape.others
        if below is None:
            return False
        shape = below
    return True


RULES = [
    Rule(
        "provided-by-known", "A removal that depends on a figure the record does not give.", "provided_by: valves.recesion.both.limit", _provided_by
    ),
]
