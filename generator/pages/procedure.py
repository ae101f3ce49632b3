"""The procedure: the eleven phases for one engine, or for any."""

from __future__ import annotations

from dataclasses import dataclass

from generator.pages.figures import CiteView, FactView, cite_view, fact_view
from generator.pages.page import Page, render
from generator.record.engine import Engine
from generator.record.facts import Cite
from generator.record.library import Library
from generator.record.procedure import NO, UNKNOWN, Caution, HoldPoint, Step, applies


@dataclass(frozen=True, slots=True)
class CautionView:
    """A caution with its condition in words where the record does not say whether it applies."""

    caution: Caution
    condition: str
    cites: list[CiteView]


@dataclass(frozen=True, slots=True)
class StepView:
    """A step for the page. condition: "If the engine is cooled by liquid:" where the record does not say."""

    id: str
    text: str
    condition: str
    cautions: list[CautionView]
    figures: list[FactView]
    missing: bool
    hold: HoldPoint | None
    cites: list[CiteView]


@dataclass(frozen=True, slots=True)
class PhaseView:
    """A phase with the steps that are for this engine."""

    id: str
    number: int
    name: str
    purpose: str
    steps: list[StepView]


def procedure_path(engine: Engine | None) -> str:
    """Page of the procedure for an engine, or for any, from the site's folder."""
    return f"procedure/{engine.id}.html" if engine else "procedure.html"


def procedure_page(engine: Engine | None, library: Library) -> Page:
    """The job. Without an engine every condition is open, so every step stands under its own."""
    phases = [
        PhaseView(phase.id, phase.number, phase.name, phase.purpose, [_step(step, engine, library) for step in phase.steps if _shown(step, engine)])
        for phase in library.phases
    ]
    title = f"Procedure: {engine.name}" if engine else "Procedure"
    return render("procedure.html", procedure_path(engine), title, engine=engine, phases=phases)


def _shown(step: Step, engine: Engine | None) -> bool:
    return applies(step.when, engine) != NO


def _step(step: Step, engine: Engine | None, library: Library) -> StepView:
    facts = [fact for place in step.figures for fact in engine.below(place)] if engine else []
    return StepView(
        id=step.id,
        text=step.text,
        condition=condition_words(step.when) if applies(step.when, engine) == UNKNOWN else "",
        cautions=[_caution(library.cautions[name], engine, library) for name in step.cautions if applies(library.cautions[name].when, engine) != NO],
        figures=[fact_view(fact, library) for fact in facts],
        missing=bool(step.figures and engine and not facts),
        hold=step.hold,
        cites=_cites(step.cites, library),
    )


def _caution(caution: Caution, engine: Engine | None, library: Library) -> CautionView:
    condition = condition_words(caution.when) if applies(caution.when, engine) == UNKNOWN else ""
    return CautionView(caution, condition, _cites(caution.cites, library))


def _cites(cites: tuple[Cite, ...], library: Library) -> list[CiteView]:
    return [view for cite in cites if (view := cite_view(cite, library))]


_CONDITIONS = {
    "cooling": "the engine is cooled by {}",
    "ignition": "the engine has {} ignition",
    "fuel": "the engine burns {}",
    "head_material": "the head is {}",
    "block_material": "the block is {}",
    "valve_train": "the valve train is: {}",
    "cam_drive": "the camshaft is driven by {}",
    "cycle": "the engine is a {}",
    "layout": "the layout is {}",
}


def condition_words(when: tuple[tuple[str, str], ...]) -> str:
    """ "If the head is aluminium:" for a condition that the record leaves open."""
    said = [_CONDITIONS.get(key, key.replace("_", " ") + " is {}").format(value) for key, value in when]
    return f"If {' and '.join(said)}:" if said else ""
