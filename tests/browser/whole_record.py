"""A record that holds every key of the schema once, made from the schema: what the form must be able to show."""

from __future__ import annotations

from typing import Any

from generator.reading import Schemas, Shape

CITE = "probe-book page 1"
# Sets of fasteners share one shape: one of the schema's stands for all, and one under a name of its own.
SETS = ("head", "manifolds", "other_1")
_PLAIN = {"string": "x", "integer": 7, "number": 7}


def whole_record(schemas: Schemas) -> dict[str, Any]:
    """Every key filled; what is filled in makes no sense and passes no check."""
    return {key: _value(key, shape) for key, shape in schemas.shape("engine").children.items()}


def _value(key: str, shape: Shape) -> Any:
    node = shape.node
    if key in ("cite", "superseded_by"):
        return CITE
    if key == "fasteners":
        return {name: _block(shape.below(name)) for name in SETS}
    if key == "orders":
        return {"cite": CITE, "in_figure": "Fig. 1", "all": ["A1"]}
    if key == "order" and "else" in node:  # that of loosening: a list, or where it is to be found
        return ["A1"]
    if "enum" in node or "const" in node:
        return node.get("const", node.get("enum", [None])[0])
    if shape.leaf == "figures":
        return [_block(shape.items)]
    if shape.items and (shape.items.children or shape.items.leaf):
        return [_block(shape.items)]
    if node.get("type") == "array":
        return _list(shape)
    if shape.others and not shape.children:
        return {"A1": _value("", shape.others)}
    return _block(shape) if shape.children else _PLAIN["string" if isinstance(node.get("type"), list) else node["type"]]


def _list(shape: Shape) -> Any:
    items = shape.items.node if shape.items else {}
    if items.get("type") == "array":
        return [[0, 0], [7, 7]]
    return [0, 0] if items.get("type") == "number" else ["A1" if items.get("type") == "string" else "1 mm"]


def _block(shape: Shape | None) -> Any:
    return {key: _value(key, child) for key, child in shape.children.items()} if shape else {}


def keys_of(data: Any, shape: Shape | None, at: tuple[str, ...] = ()) -> set[str]:
    """Every key of some data, names of the writer's own as <name>, positions as <item>, joined by full stops."""
    if shape is None:
        return set()
    found: set[str] = set()
    parts = enumerate(data) if isinstance(data, list) else data.items() if isinstance(data, dict) else ()
    for part, value in parts:
        name = "<item>" if isinstance(part, int) else part if part in shape.children else "<name>"
        here = (*at, name)
        if name != "<item>":
            found.add(".".join(here))
        found |= keys_of(value, shape.below(part), here)
    return found
