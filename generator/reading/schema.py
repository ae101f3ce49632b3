"""What a file may say: the JSON Schemas, their check in words for people, and their shape for whoever walks a record."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, TypeAlias

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError
from referencing import Registry, Resource

from generator.reading.problem import Problem, nearest
from generator.reading.yamlfile import ReadFile

LEAVES = ("figures", "designation", "statement")


class Schemas:
    """The schema files of one folder, read once; validators are compiled once and used again."""

    def __init__(self, folder: Path) -> None:
        self.documents: dict[str, Any] = {
            path.name: json.loads(path.read_text(encoding="utf-8")) for path in sorted(folder.glob("*.schema.json"))
        }
        resources = [(name, Resource.from_contents(document)) for name, document in self.documents.items()]
        self._registry: Registry[Any] = Registry().with_resources(resources)
        self._validators: dict[str, Draft202012Validator] = {}

    def check(self, file: ReadFile, kind: str) -> Iterator[Problem]:
        """Problems of a file against the schema of its kind: engine, source, phase, cautions."""
        if kind not in self._validators:
            self._validators[kind] = Draft202012Validator(self.documents[f"{kind}.schema.json"], registry=self._registry)
        for error in self._validators[kind].iter_errors(file.data):
            yield from _translate(file, error)

    def shape(self, kind: str) -> Shape:
        """The root shape of a kind of file."""
        name = f"{kind}.schema.json"
        return Shape(self, name, self.documents[name])


class Shape:
    """One place of a schema, references resolved: its words, its kind and what stands below it.

    leaf: "figures", "designation", "statement", or "" for anything else.
    """

    def __init__(self, schemas: Schemas, document: str, node: dict[str, Any]) -> None:
        self._schemas = schemas
        self._document = document
        self.leaf = ""
        self.node = dict(node)
        while "$ref" in self.node:
            self._follow(self.node.pop("$ref"))

    def _follow(self, reference: str) -> None:
        name, _, pointer = reference.partition("#/")
        self._document = name or self._document
        target: Any = self._schemas.documents[self._document]
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

    def _below(self, node: dict[str, Any]) -> Shape:
        return Shape(self._schemas, self._document, node)


@dataclass(frozen=True, slots=True)
class _Fault:
    """A validator's error with the types it has in practice. rule: the schema keyword that failed."""

    rule: str
    found: Any
    wanted: Any
    schema: dict[str, Any]
    said: str

    @property
    def where(self) -> str:
        title = self.schema.get("title")
        return f"in '{title}'" if title else "here"


def _translate(file: ReadFile, error: ValidationError) -> Iterator[Problem]:
    at = tuple(error.absolute_path)
    schema = dict(error.schema) if isinstance(error.schema, Mapping) else {}
    fault = _Fault(str(error.validator), error.instance, error.validator_value, schema, error.message)
    for key, message, hint in _WORDS.get(fault.rule, _as_said)(fault):
        yield file.problem((*at, key) if key else at, f"schema-{fault.rule}", message, hint, key=bool(key))


_Words: TypeAlias = Iterator[tuple[str, str, str]]  # key below the place or "", message, hint


def _as_said(fault: _Fault) -> _Words:
    yield "", fault.said, ""


def _unknown_keys(fault: _Fault) -> _Words:
    known = list(fault.schema.get("properties", {}))
    patterns = list(fault.schema.get("patternProperties", {}))
    for key in fault.found:
        if key not in known and not any(re.search(pattern, key) for pattern in patterns):
            yield key, f"the key {key!r} is not known {fault.where}", nearest(key, known)


def _missing_key(fault: _Fault) -> _Words:
    # One error a key; the validator's message begins with the key it is about.
    key = next(key for key in fault.wanted if fault.said.startswith(repr(key)))
    described = fault.schema.get("properties", {}).get(key, {}).get("description", "")
    what = f"'{fault.schema['title']}'" if fault.schema.get("title") else "this block"
    yield "", f"{what} has no key {key!r}, which must be there", f"add it: {described}" if described else f"add '{key}: …'"


def _not_allowed(fault: _Fault) -> _Words:
    words = [str(each) for each in fault.wanted]
    yield "", f"{_shown(fault.found)} is not one of the words allowed {fault.where}", nearest(str(fault.found), words)


_TYPES = {
    "string": "text", "object": "keys with values", "array": "a list",
    "integer": "a whole number", "number": "a number", "boolean": "true or false",
}


def _wrong_type(fault: _Fault) -> _Words:
    wanted = [fault.wanted] if isinstance(fault.wanted, str) else fault.wanted
    number = isinstance(fault.found, int | float) and not isinstance(fault.found, bool)
    hint = ""
    if "string" in wanted and number:
        hint = f'write it in quotes, so that no digit is lost: "{fault.found}"'
    elif "array" in wanted:
        hint = "write it as a list: begin each item with '- ', or put it in [ ]"
    yield "", f"{_shown(fault.found)} stands where {' or '.join(_TYPES.get(each, each) for each in wanted)} was expected", hint


def _wrong_form(fault: _Fault) -> _Words:
    yield "", f"{_shown(fault.found)} has not the form that is expected", fault.schema.get("description", "") or f"it must match {fault.wanted}"


def _too_short(fault: _Fault) -> _Words:
    yield "", f"{_shown(fault.found)} is empty or too short", "fill it in, or leave the key out: what is not known is absent"


def _too_long(fault: _Fault) -> _Words:
    yield "", f"{len(fault.found)} where at most {fault.wanted} were expected", "shorten it"


_RELATIONS = {"minimum": "at least", "maximum": "at most", "exclusiveMinimum": "more than"}


def _wrong_size(fault: _Fault) -> _Words:
    yield "", f"{_shown(fault.found)}; {_RELATIONS[fault.rule]} {fault.wanted} was expected", "correct the number"


def _twice(_: _Fault) -> _Words:
    yield "", "the list holds an item twice", "delete the second"


_WORDS: dict[str, Callable[[_Fault], _Words]] = {
    "additionalProperties": _unknown_keys,
    "required": _missing_key,
    "enum": _not_allowed,
    "const": _wrong_form,
    "type": _wrong_type,
    "pattern": _wrong_form,
    "minLength": _too_short, "minItems": _too_short, "minProperties": _too_short,
    "maxLength": _too_long, "maxItems": _too_long,
    "minimum": _wrong_size, "maximum": _wrong_size, "exclusiveMinimum": _wrong_size,
    "uniqueItems": _twice,
}


def _shown(value: Any) -> str:
    if isinstance(value, dict):
        return "a block of keys"
    if isinstance(value, list):
        return "a list"
    text = str(value)
    return repr(text if len(text) <= 60 else text[:57] + "…")
