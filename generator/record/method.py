"""The methods of the calculations as data: formula, symbols, sources, range of validity, inputs of a worked example."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from generator.reading import At, Problem, ReadFile, Shape
from generator.record.facts import Cite, Fact, Walk


@dataclass(frozen=True, slots=True)
class Given:
    """One input of a worked example. key: by which the calculation takes it. facts: its own; engine, place: where a record says it."""

    at: At
    key: str
    label: str
    facts: tuple[Fact, ...] = ()
    engine: str = ""
    place: str = ""


@dataclass(frozen=True, slots=True)
class Method:
    """One formula or rule. functions: of the module. symbols: each with what it means. note: what of it has no source. text: of the example."""

    at: At
    id: str
    label: str
    functions: tuple[str, ...]
    gives: str
    formula: tuple[str, ...]
    symbols: tuple[tuple[str, str], ...]
    cites: tuple[Cite, ...]
    note: str
    valid: str
    text: str
    given: tuple[Given, ...]


@dataclass(frozen=True)
class Calculation:
    """One module of generator/calculations. id: its name. facts: figures and statements of all its examples."""

    file: ReadFile
    id: str
    number: int
    name: str
    about: str
    methods: tuple[Method, ...]
    facts: tuple[Fact, ...]


def read_calculation(file: ReadFile, shape: Shape) -> tuple[Calculation, list[Problem]]:
    """The methods of a file in specs/methods. They are usable only if no problem is an error."""
    walk = Walk(file, [], [])
    walk.block(file.data, shape, (), (), None)
    facts = tuple(fact for fact in walk.facts if fact.at[-1] == "statement" or fact.kind == "figure")
    number = file.data.get("number")
    found = Calculation(
        file=file,
        id=str(file.data.get("id", "")),
        number=number if isinstance(number, int) else 0,
        name=str(file.data.get("name", "")),
        about=str(file.data.get("about", "")),
        methods=tuple(_methods(file.data.get("methods"), facts)),
        facts=facts,
    )
    return found, [*walk.problems, *_uncited(found)]


def _uncited(found: Calculation) -> Iterator[Problem]:
    for fact in found.facts:
        if fact.cite is None:
            yield found.file.problem(fact.at, "cite-missing", "this input has no source", "add 'cite: <source id> <place>' to it")


def _methods(data: Any, facts: tuple[Fact, ...]) -> Iterator[Method]:
    for index, block in enumerate(data if isinstance(data, list) else []):
        if isinstance(block, dict):
            yield _method(block, ("methods", index), facts)


def _method(block: dict[str, Any], at: At, facts: tuple[Fact, ...]) -> Method:
    example = block.get("example")
    example = example if isinstance(example, dict) else {}
    symbols = [each for each in _list(block.get("symbols")) if isinstance(each, dict)]
    return Method(
        at=at,
        id=str(block.get("id", "")),
        label=str(block.get("label", "")),
        functions=_texts(block.get("functions")),
        gives=str(block.get("gives", "")),
        formula=_texts(block.get("formula")),
        symbols=tuple((str(each.get("symbol", "")), str(each.get("means", ""))) for each in symbols),
        cites=tuple(Cite.read(each) for each in _texts(block.get("cites"))),
        note=str(block.get("note", "")),
        valid=str(block.get("valid", "")),
        text=str(example.get("text", "")),
        given=tuple(_given(example.get("given"), (*at, "example", "given"), facts)),
    )


def _given(data: Any, at: At, facts: tuple[Fact, ...]) -> Iterator[Given]:
    for index, block in enumerate(_list(data)):
        if isinstance(block, dict):
            here = (*at, index)
            record = block.get("record")
            record = record if isinstance(record, dict) else {}
            own = tuple(fact for fact in facts if fact.at[: len(here)] == here)
            label, engine, place = str(block.get("label", "")), str(record.get("engine", "")), str(record.get("at", ""))
            yield Given(here, str(block.get("key", "")), label, own, engine, place)


def _list(data: Any) -> list[Any]:
    return data if isinstance(data, list) else []


def _texts(data: Any) -> tuple[str, ...]:
    return tuple(each for each in _list(data) if isinstance(each, str))
