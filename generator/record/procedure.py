"""The job as data: phases, steps, hold points and cautions, and whether a step is for an engine."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.reading import ReadFile
from generator.record.engine import Engine
from generator.record.facts import Cite

YES, NO, UNKNOWN = "yes", "no", "not in this record"


@dataclass(frozen=True, slots=True)
class Caution:
    """signal: danger, warning, caution or notice (ANSI Z535.6). when: facts of the engine it depends on."""

    id: str
    signal: str
    text: str
    cites: tuple[Cite, ...]
    when: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class HoldPoint:
    """What must be true before the job goes on, who looks, and what follows if it is not."""

    name: str
    true_when: str
    if_not: str


@dataclass(frozen=True, slots=True)
class Step:
    """One step. figures: places of the record, written with full stops. cautions: ids, they stand before the step."""

    id: str
    text: str
    when: tuple[tuple[str, str], ...]
    figures: tuple[str, ...]
    cautions: tuple[str, ...]
    cites: tuple[Cite, ...]
    hold: HoldPoint | None


@dataclass(frozen=True, slots=True)
class Phase:
    """One of the eleven phases. file: where it was read, for problems found later."""

    file: ReadFile
    id: str
    number: int
    name: str
    purpose: str
    steps: tuple[Step, ...]


def applies(when: tuple[tuple[str, str], ...], engine: Engine | None) -> str:
    """Whether a step is for this engine: YES, NO, or UNKNOWN where the record does not say. No engine: all is unknown."""
    answers = [_answer(key, wanted, engine) for key, wanted in when]
    return NO if NO in answers else UNKNOWN if UNKNOWN in answers else YES


def _answer(key: str, wanted: str, engine: Engine | None) -> str:
    found = engine.says(f"identity.{key}") if engine else ""
    if not found:
        return UNKNOWN
    return YES if found == wanted else NO


def read_cautions(file: ReadFile) -> dict[str, Caution]:
    """Cautions by id from cautions.yaml."""
    return {name: _caution(name, block) for name, block in _mapping(file.data.get("cautions")).items() if isinstance(block, dict)}


def _caution(name: str, block: Mapping[str, Any]) -> Caution:
    return Caution(name, str(block.get("signal", "")), str(block.get("text", "")), _cites(block), _when(block))


def read_phase(file: ReadFile) -> Phase:
    """A phase from its file; what has not the schema's shape is left out, the schema's check reports it."""
    data = file.data
    number = data.get("number")
    return Phase(
        file=file,
        id=str(data.get("id", "")),
        number=number if isinstance(number, int) else 0,
        name=str(data.get("name", "")),
        purpose=str(data.get("purpose", "")),
        steps=tuple(_steps(data.get("steps"))),
    )


def _steps(data: Any) -> Iterator[Step]:
    for step in data if isinstance(data, list) else []:
        if isinstance(step, dict):
            yield Step(
                id=str(step.get("id", "")),
                text=str(step.get("text", "")),
                when=_when(step),
                figures=_texts(step.get("figures")),
                cautions=_texts(step.get("cautions")),
                cites=_cites(step),
                hold=_hold(step.get("hold")),
            )


def _cites(block: Mapping[str, Any]) -> tuple[Cite, ...]:
    return tuple(Cite.read(each) for each in [*_texts([block.get("cite")]), *_texts(block.get("cites"))])


def _when(block: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    return tuple((key, str(value)) for key, value in _mapping(block.get("when")).items())


def _texts(data: Any) -> tuple[str, ...]:
    return tuple(each for each in data if isinstance(each, str)) if isinstance(data, list) else ()


def _hold(data: Any) -> HoldPoint | None:
    if not isinstance(data, dict):
        return None
    return HoldPoint(str(data.get("name", "")), str(data.get("true_when", "")), str(data.get("if_not", "")))


def _mapping(value: Any) -> dict[str, Any]:
    return value if isinstance(value, dict) else {}
