"""The job as data: phases, steps, hold points, cautions, causes, signs and what is needed; and whether a step is for an engine."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeAlias, TypeVar

from generator.reading import ReadFile
from generator.record.engine import Engine
from generator.record.facts import Cite

YES, NO, UNKNOWN = "yes", "no", "not in this record"
SIGNALS = ("danger", "warning", "caution", "notice")  # of ANSI Z535.6, the gravest first

# Facts of an engine's identity, or of another place with full stops, all of which must hold, each with the words any of which answers it.
When: TypeAlias = tuple[tuple[str, tuple[str, ...]], ...]
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Caution:
    """signal: danger, warning, caution or notice (ANSI Z535.6). text: the hazard in its first sentence, then how to stay out of it."""

    id: str
    signal: str
    text: str
    cites: tuple[Cite, ...]
    when: When = ()


@dataclass(frozen=True, slots=True)
class Wanted:
    """Figures of the record that a step shows.

    places: keys joined by full stops, any of which answers it. what: what the manual in
    hand should give where the record is silent; empty where nothing is missed. when: the
    engines on which it is missed.
    """

    places: tuple[str, ...]
    what: str = ""
    when: When = ()


@dataclass(frozen=True, slots=True)
class Need:
    """Something to have at hand. kind: tool, consumable, one-use part or fluid. figures: places of the record that say more of it."""

    id: str
    kind: str
    name: str
    figures: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HoldPoint:
    """What must be true before the job goes on, who looks, and what follows if it is not."""

    name: str
    true_when: str
    who: str
    if_not: str


@dataclass(frozen=True, slots=True)
class NoPause:
    """From a step on the job is not interrupted. until: id of the step that ends it. why: what a pause would spoil."""

    until: str
    why: str


@dataclass(frozen=True, slots=True)
class Cause:
    """One cause of a table. of: which table. test: what proves or clears it. step: id of the step that holds the test, may be empty."""

    id: str
    of: str
    cause: str
    test: str
    then: str
    step: str
    when: When
    cites: tuple[Cite, ...]


@dataclass(frozen=True, slots=True)
class Sign:
    """What a bolt shows or a hand feels. means: what it says. again: how to begin again. back_to: id of the step to go back to."""

    id: str
    sign: str
    means: str
    again: str
    back_to: str
    cites: tuple[Cite, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """One step.

    do: what to do, in a line. text: how. part: heading of the part of the phase that begins here.
    needs, cautions: ids; the cautions stand before the step. causes: the table of causes it shows.
    signs: whether it shows the phase's signs. tightening: stages or retorque, of the head. worksheets: that stand at it.
    """

    id: str
    do: str
    text: str = ""
    part: str = ""
    when: When = ()
    figures: tuple[Wanted, ...] = ()
    needs: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    cites: tuple[Cite, ...] = ()
    hold: HoldPoint | None = None
    no_pause: NoPause | None = None
    causes: str = ""
    signs: bool = False
    tightening: str = ""
    worksheets: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Phase:
    """One of the eleven phases. file: where it was read, for problems found later."""

    file: ReadFile
    id: str
    number: int
    name: str
    purpose: str
    steps: tuple[Step, ...]
    causes: tuple[Cause, ...] = ()
    signs: tuple[Sign, ...] = ()


@dataclass(frozen=True, slots=True)
class Hazard:
    """A hazard of the job: the caution that names it and the steps that it must stand before."""

    name: str
    caution: str
    before: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Required:
    """What the job may never lose. steps: ids by phase. holds: step id by the hold point's name. retired: step ids never to be used again."""

    file: ReadFile
    steps: dict[str, tuple[str, ...]] = field(default_factory=dict)
    holds: dict[str, str] = field(default_factory=dict)
    hazards: tuple[Hazard, ...] = ()
    retired: tuple[str, ...] = ()


def applies(when: When, engine: Engine | None) -> str:
    """Whether a step is for this engine: YES, NO, or UNKNOWN where the record does not say. No engine: all is unknown."""
    answers = [_answer(key, wanted, engine) for key, wanted in when]
    return NO if NO in answers else UNKNOWN if UNKNOWN in answers else YES


def _answer(key: str, wanted: tuple[str, ...], engine: Engine | None) -> str:
    found = engine.says(key if "." in key else f"identity.{key}") if engine else ""
    if not found:
        return UNKNOWN
    return YES if found in wanted else NO


def open_part(when: When, engine: Engine | None) -> When:
    """The conditions that the record leaves open."""
    return tuple((key, wanted) for key, wanted in when if _answer(key, wanted, engine) == UNKNOWN)


def read_cautions(file: ReadFile) -> dict[str, Caution]:
    """Cautions by id from cautions.yaml."""
    return {name: _caution(name, block) for name, block in _mapping(file.data.get("cautions")).items() if isinstance(block, dict)}


def _caution(name: str, block: Mapping[str, Any]) -> Caution:
    return Caution(name, str(block.get("signal", "")), str(block.get("text", "")), _cites(block), read_when(block))


def read_needs(file: ReadFile) -> dict[str, Need]:
    """Needs by id from needs.yaml."""
    found = {name: block for name, block in _mapping(file.data.get("needs")).items() if isinstance(block, dict)}
    return {name: Need(name, str(block.get("kind", "")), str(block.get("name", "")), _texts(block.get("figures"))) for name, block in found.items()}


def read_required(file: ReadFile) -> Required:
    """What the job may never lose, from required.yaml."""
    return Required(
        file=file,
        steps={phase: _texts(ids) for phase, ids in _mapping(file.data.get("steps")).items()},
        holds={name: str(step) for name, step in _mapping(file.data.get("holds")).items()},
        hazards=_listed(file.data.get("hazards"), lambda each: Hazard(str(each.get("hazard")), str(each.get("caution")), _texts(each.get("before")))),
        retired=_texts(file.data.get("retired")),
    )


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
        steps=_listed(data.get("steps"), _step),
        causes=_listed(data.get("causes"), _cause),
        signs=_listed(data.get("signs"), _sign),
    )


def _step(block: Mapping[str, Any]) -> Step:
    return Step(
        **{key: str(block.get(key, "")) for key in ("id", "do", "text", "part", "causes", "tightening")},
        when=read_when(block),
        figures=tuple(_wanted(block.get("figures"))),
        needs=_texts(block.get("needs")),
        cautions=_texts(block.get("cautions")),
        cites=_cites(block),
        hold=_hold(block.get("hold")),
        no_pause=_no_pause(block.get("no_pause")),
        signs=block.get("signs") is True,
        worksheets=_texts(block.get("worksheets")),
    )


def _cause(block: Mapping[str, Any]) -> Cause:
    words = {key: str(block.get(key, "")) for key in ("id", "of", "cause", "test", "then", "step")}
    return Cause(**words, when=read_when(block), cites=_cites(block))


def _sign(block: Mapping[str, Any]) -> Sign:
    return Sign(**{key: str(block.get(key, "")) for key in ("id", "sign", "means", "again", "back_to")}, cites=_cites(block))


def _wanted(data: Any) -> Iterator[Wanted]:
    for each in data if isinstance(data, list) else []:
        match each:
            case str(place):
                yield Wanted((place,))
            case {"of": list(places), "what": str(what)}:
                yield Wanted(_texts(places), what, read_when(each))


def _cites(block: Mapping[str, Any]) -> tuple[Cite, ...]:
    return tuple(Cite.read(each) for each in [*_texts([block.get("cite")]), *_texts(block.get("cites"))])


def read_when(block: Mapping[str, Any]) -> When:
    """Conditions of a block, empty for none; what has not the schema's shape is left out."""
    return tuple((key, tuple(map(str, value if isinstance(value, list) else [value]))) for key, value in _mapping(block.get("when")).items())


def _hold(data: Any) -> HoldPoint | None:
    if not isinstance(data, dict):
        return None
    return HoldPoint(**{key: str(data.get(key, "")) for key in ("name", "true_when", "who", "if_not")})


def _no_pause(data: Any) -> NoPause | None:
    return NoPause(str(data.get("until", "")), str(data.get("why", ""))) if isinstance(data, dict) else None


def _listed(data: Any, read: Callable[[Mapping[str, Any]], T]) -> tuple[T, ...]:
    return tuple(read(each) for each in data if isinstance(each, dict)) if isinstance(data, list) else ()


def _texts(data: Any) -> tuple[str, ...]:
    return tuple(each for each in data if isinstance(each, str)) if isinstance(data, list) else ()


def _mapping(value: Any) -> dict[str, Any]:
    return value if isinstance(value, dict) else {}
