"""What a file may say: the JSON Schemas and their check, one problem for each slip."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError
from referencing import Registry, Resource

from generator.reading.messages import Fault, missing_key, words
from generator.reading.problem import At, Problem, near_name
from generator.reading.quick import Test, compiled
from generator.reading.shape import Shape
from generator.reading.yamlfile import ReadFile

_UNKNOWN = "schema-additionalProperties"


class SchemaError(Exception):
    """A schema that cannot be read; the message gives file, line and column."""


def _document(path: Path) -> Any:
    try:
        return json.loads(path.read_text(encoding="utf-8"))
    except json.JSONDecodeError as error:
        raise SchemaError(f"{path.parent.name}/{path.name}:{error.lineno}:{error.colno}: this is no JSON: {error.msg}") from None


class _Documents(dict[str, Any]):
    """Schemas by the name of their file."""

    def __missing__(self, name: str) -> Any:
        raise SchemaError(f"schema/{name} is not there: take it from the last commit again")


@dataclass(frozen=True, slots=True)
class _Told:
    """A problem, and the key that it misses if it misses one."""

    problem: Problem
    missing: str


class Schemas:
    """The schema files of one folder, read once; validators are compiled once and used again."""

    def __init__(self, folder: Path) -> None:
        self.documents = _Documents((path.name, _document(path)) for path in sorted(folder.glob("*.schema.json")))
        resources = [(name, Resource.from_contents(document)) for name, document in self.documents.items()]
        self._registry: Registry[Any] = Registry().with_resources(resources)
        self._validators: dict[str, Draft202012Validator] = {}
        self._shapes: dict[tuple[str, str], Shape] = {}
        self._quick: dict[str, Test | None] = {}
        self._blocks: dict[str, dict[str, list[str]]] = {}

    def check(self, file: ReadFile, kind: str) -> Iterator[Problem]:
        """Problems of a file against the schema of its kind: engine, source, phase, cautions, threads, …"""
        name = f"{kind}.schema.json"
        if kind not in self._validators:
            self._validators[kind] = Draft202012Validator(self.documents[name], registry=self._registry)
            self._quick[kind] = compiled(self.documents, name)
        quick = self._quick[kind]
        if quick and quick(file.data):
            return
        errors = list(self._validators[kind].iter_errors(file.data))
        if errors:
            found = [told for error in errors for told in self._translate(file, kind, error)]
            yield from _first_of_lists(_paired(found))

    def shape(self, kind: str, definition: str = "") -> Shape:
        """The root shape of a kind of file, or of one of its definitions."""
        if (kind, definition) not in self._shapes:
            name = f"{kind}.schema.json"
            document = self.documents[name]
            self._shapes[kind, definition] = Shape(self.documents, name, document["$defs"][definition] if definition else document)
        return self._shapes[kind, definition]

    def _translate(self, file: ReadFile, kind: str, error: ValidationError) -> Iterator[_Told]:
        at = tuple(error.absolute_path)
        fault = Fault(
            at=at, rule=str(error.validator), found=error.instance, wanted=error.validator_value,
            schema=dict(error.schema) if isinstance(error.schema, Mapping) else {}, said=error.message,
            shape=self._shape_at(kind, at), leaf=self._leaf_at(kind, at), spelt=file.spelt.get(at, ""), elsewhere=self._elsewhere(kind),
        )
        of_a_name = "propertyNames" in error.absolute_schema_path  # then the fault is in a key, not below it
        for key, message, hint in words(fault):
            key = str(error.instance) if of_a_name else key
            problem = file.problem((*at, key) if key else at, f"schema-{fault.rule}", message, hint, key=bool(key))
            yield _Told(problem, missing_key(fault.wanted, fault.said) if fault.rule == "required" else "")

    def _shape_at(self, kind: str, at: At) -> Shape | None:
        shape: Shape | None = self.shape(kind)
        for part in at:
            shape = shape.below(part) if shape else None
        return shape

    def _leaf_at(self, kind: str, at: At) -> str:
        """What kind of fact belongs at the place; "figure" is one item of a list of figures."""
        shape = self._shape_at(kind, at)
        above = self._shape_at(kind, at[:-1]) if at else None
        return "figure" if above and above.leaf == "figures" and isinstance(at[-1], int) else shape.leaf if shape else ""

    def _elsewhere(self, kind: str) -> dict[str, list[str]]:
        """The blocks that hold a key, for each key of the schema."""
        if kind not in self._blocks:
            blocks = self._blocks.setdefault(kind, {})
            for key, block in self.shape(kind).blocks():
                if block:
                    blocks.setdefault(key, []).append(block)
        return self._blocks[kind]


def _paired(found: list[_Told]) -> list[Problem]:
    """A key that is missing and one that is unknown in the same block are one slip: a key of the wrong name."""
    missing = [told for told in found if told.missing]
    problems = []
    for told in found:
        problem = told.problem
        if problem.rule == _UNKNOWN:
            here = {each.missing: each for each in missing if each.problem.at == problem.at[:-1]}
            key = near_name(str(problem.at[-1]), list(here)) or (next(iter(here)) if len(here) == 1 else "")
            if key:
                missing.remove(here[key])
                message = f"{problem.message}, and {key!r}, which must be there, is missing"
                problem = replace(problem, message=message, hint=f"did you mean {key}?")
        if not told.missing:
            problems.append(problem)
    return problems + [told.problem for told in missing]


def _first_of_lists(problems: Iterable[Problem]) -> Iterator[Problem]:
    """Items of one list that have the same fault are one slip, told at the first."""
    told = set()
    for problem in problems:
        item = (problem.rule, problem.at[:-1], problem.message.split(", where ")[-1])
        if problem.rule == "schema-type" and problem.at and isinstance(problem.at[-1], int):
            if item in told:
                continue
            told.add(item)
        yield problem
