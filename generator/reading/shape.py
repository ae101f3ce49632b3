"""The schema as whoever walks a record sees it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Any

LEAVES = ("figures", "designation", "statement")


class Shape:
    """One place of a schema, references resolved: its words, its kind and what stands below it.

    leaf: "figures", "designation", "statement", or "" for anything else.
    """

    def __init__(self, documents: Mapping[str, Any], document: str, node: dict[str, Any]) -> None:
        self._documents = documents
        self._document = document
        self.leaf = ""
        self.node = dict(node)
        while "$ref" in self.node:
            self._follow(self.node.pop("$ref"))

    def _follow(self, reference: str) -> None:
        name, _, pointer = reference.partition("#/")
        self._document = name or self._document
        target: Any = self._documents[self._document]
        for part in pointer.split("/"):
            target = target[part]
        last = pointer.rsplit("/", 1)[-1]
        self.leaf = self.leaf or (last if last in LEAVES else "")
        merged = {**target, **self.node}
        if "properties" in target and "properties" in self.node:
            merged["properties"] = {**target["properties"], **self.node["properties"]}
        self.node = merged

    @property
    def title(self) -> str:
        """The label for people."""
        return str(self.node.get("title", ""))

    @cached_property
    def children(self) -> dict[str, Shape]:
        """The keys the schema names, in its order."""
        return {key: self._below(node) for key, node in self.node.get("properties", {}).items() if isinstance(node, dict)}

    @cached_property
    def others(self) -> Shape | None:
        """The shape of keys that the writer of a record names; None if there are none."""
        patterns = list(self.node.get("patternProperties", {}).values())
        extra = self.node.get("additionalProperties")
        node = patterns[0] if patterns else extra
        return self._below(node) if isinstance(node, dict) else None

    @cached_property
    def items(self) -> Shape | None:
        """The shape of the items of a list."""
        node = self.node.get("items")
        return self._below(node) if isinstance(node, dict) else None

    def below(self, part: str | int) -> Shape | None:
        """The shape at a key or list position; None if the schema has nothing there."""
        return self.items if isinstance(part, int) else self.children.get(part) or self.others

    def blocks(self, at: str = "") -> Iterator[tuple[str, str]]:
        """Every key of the tree with the place of the block it stands in, keys joined by full stops; not the keys inside facts."""
        if self.leaf:
            return
        for key, child in self.children.items():
            yield key, at
            yield from child.blocks(f"{at}.{key}".lstrip("."))
        for name, below in (("<name>", self.others), ("<item>", self.items)):
            if below:
                yield from below.blocks(f"{at}.{name}".lstrip("."))

    def _below(self, node: dict[str, Any]) -> Shape:
        return Shape(self._documents, self._document, node)
