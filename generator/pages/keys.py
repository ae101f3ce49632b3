"""The contributor's reference: every key of a record, made from the schema's own words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

import yaml

from generator.pages.engine import TOPICS
from generator.pages.page import Page, render
from generator.quantities import units_of
from generator.reading import Shape
from generator.record.library import Library
from generator.record.procedure import Phase

# What cannot do without keys, with the places of these, by the section they stand in.
_Users: TypeAlias = dict[str, list[tuple[str, list[list[str]]]]]

ANY = "*"  # stands for a name: one of the keys before it, or one of the writer's own
# Keys every block may have; they are told once, with the figure.
EVERYWHERE = ("cite",)
# What the places, orders and drawings are for; figures are looked up in the topics and steps that show them.
_DRAWN = {"geometry": "bolt-order diagram", "fasteners.*.places": "bolt-order diagram", "fasteners.*.tightening": "tightening, pull by pull"}
_WORDS = {"string": "text", "integer": "a whole number", "number": "a number", "boolean": "true or false", "object": "a block", "array": "a list"}


@dataclass(frozen=True, slots=True)
class Key:
    """One key. path: keys joined by full stops. shape: what may stand there. example: from an invented record, or empty."""

    path: str
    title: str
    description: str
    shape: str
    example: str
    needed: tuple[str, ...]

    @property
    def anchor(self) -> str:
        """The id of its row."""
        return "key-" + self.path.replace(".", "-").replace(ANY, "any").replace("_", "-")


def keys_page(library: Library) -> Page:
    """Figures first, then the record section by section, then the file of a source."""
    engine = library.schemas.shape("engine")
    users = _users(library.phases)
    examples = [each.file.data for each in library.engines.values() if each.invented]
    sections = [(key, list(_keys(shape, (key,), examples, users))) for key, shape in engine.children.items()]
    shapes = [(name, _members(library.schemas.shape("figure", name))) for name in ("figure", "designation", "statement")]
    shapes.append(("source", _members(library.schemas.shape("source"))))
    return render("keys.html", "keys.html", "Every key of a record", sections=sections, shapes=shapes, titles=engine.children)


def _members(shape: Shape) -> list[Key]:
    return [Key(key, each.title, _described(each), shape_words(each), "", ()) for key, each in shape.children.items()]


def _described(shape: Shape) -> str:
    return str(shape.node.get("description", ""))


def _keys(shape: Shape, path: tuple[str, ...], examples: list[Any], users: _Users) -> Iterator[Key]:
    example = _example(path, examples) if shape.leaf or not (shape.children or shape.others) else ""
    yield Key(".".join(path), shape.title, _described(shape), shape_words(shape), example, tuple(_needed(path, users)))
    if not shape.leaf:
        yield from _below(shape, path, examples, users)


def _below(shape: Shape, path: tuple[str, ...], examples: list[Any], users: _Users) -> Iterator[Key]:
    """Keys below: siblings of one shape are named, then told once under the sign for any of them."""
    told: list[Any] = []
    for key, child in shape.children.items():
        if key in EVERYWHERE:
            continue
        members = child.node.get("properties")
        shared = not child.leaf and sum(other.node.get("properties") is members for other in shape.children.values()) > 1 and bool(members)
        if not shared:
            yield from _keys(child, (*path, key), examples, users)
            continue
        yield Key(".".join((*path, key)), child.title, "", f"as {'.'.join((*path, ANY))}", "", ())
        if not any(members is other for other in told):
            told.append(members)
            yield from _keys(child, (*path, ANY), examples, users)
    for below in (shape.others, shape.items):
        if below and not any(below.node.get("properties") is other for other in told) and _is_block(below):
            yield from _keys(below, (*path, ANY), examples, users)


def _is_block(shape: Shape) -> bool:
    return bool(shape.leaf or shape.children or shape.others)


def shape_words(shape: Shape) -> str:
    """What may stand at a key, in words."""
    node = shape.node
    if shape.leaf == "figures":
        units = units_of(str(node.get("dimension"))) if node.get("dimension") else []
        return "figures" + (f" of {node['dimension']}: {', '.join(units)}" if units else ", of any unit")
    if shape.leaf:
        said = shape.children["says"].node if shape.leaf == "statement" else {}
        return ": ".join(each for each in (f"a {shape.leaf}", _allowed(said)) if each)
    if "enum" in node or "const" in node:
        return _allowed(node)
    if shape.others and not shape.children:
        return "a block with names of your own"
    kinds = node.get("type", ["array", "object"])
    words = " or ".join(_WORDS[kind] for kind in ([kinds] if isinstance(kinds, str) else kinds))
    return ", ".join(each for each in (words, _allowed(node)) if each)


def _allowed(node: dict[str, Any]) -> str:
    if "const" in node:
        return str(node["const"]).lower()
    if "enum" in node:
        return "one of " + ", ".join(map(str, node["enum"]))
    return f"{node['minimum']} to {node['maximum']}" if "minimum" in node and "maximum" in node else ""


def _example(path: tuple[str, ...], records: Sequence[Any]) -> str:
    """The first that stands at the path, else at the same key of a sibling: one face has the keys of another."""
    paths = (path, (path[0], ANY, *path[2:])) if len(path) > 2 else (path,)
    for here in paths:
        for record in records:
            if found := _first(record, here):
                key, value = found
                return yaml.safe_dump({key: value}, default_flow_style=None, allow_unicode=True, sort_keys=False, width=60).strip()
    return ""


def _first(data: Any, path: tuple[str, ...], last: str = "") -> tuple[str, Any] | None:
    """The first value at a path with its own key; None if there is none."""
    for index, part in enumerate(path):
        if part == ANY and isinstance(data, dict | list):
            below = data.items() if isinstance(data, dict) else ((last, item) for item in data)
            found = (_first(value, path[index + 1 :], key) for key, value in below)
            return next(filter(None, found), None)
        if not isinstance(data, dict) or part not in data:
            return None
        last, data = part, data[part]
    return last, data


def _users(phases: Iterable[Phase]) -> _Users:
    """Headings of the engine's page and phases of the procedure."""
    uses = [(what, [place]) for place, what in _DRAWN.items()]
    uses += [(f"figures, {topic.heading.lower()}", [*topic.shows, *(place for need in topic.needs for place in need.places)]) for topic in TOPICS]
    for phase in phases:
        places = [place for step in phase.steps for wanted in step.figures for place in wanted.places]
        uses.append((f"procedure, {phase.name.lower()}", places))
    found: _Users = {}
    for what, places in uses:
        for section in dict.fromkeys(place.split(".")[0] for place in places):
            found.setdefault(section, []).append((what, [parts for each in dict.fromkeys(places) if (parts := each.split("."))[0] == section]))
    return found


def _needed(path: tuple[str, ...], users: _Users) -> Iterator[str]:
    """What cannot do without the key."""
    for what, places in users.get(path[0], ()):
        if any(_meet(path, place) for place in places):
            yield what


def _meet(path: Sequence[str], place: Sequence[str]) -> bool:
    """Whether a key stands at a place or below it."""
    return len(path) >= len(place) and all(ANY in (a, b) or a == b for a, b in zip(path, place, strict=False))
