"""The JSON model of the procedure: phases, steps, hold points, signs, causes and cautions, for whoever walks the job in a browser."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from generator.pages.model import SCHEMA_VERSION
from generator.record.facts import Cite
from generator.record.library import Library
from generator.record.procedure import Phase, Step, When

PROCEDURE_MODEL = "api/procedure.json"


def procedure_model(library: Library) -> dict[str, Any]:
    """The whole job for any engine. `when`: facts of an engine's identity, each with the words any of which answers it."""
    return {
        "schema_version": SCHEMA_VERSION,
        "phases": [_phase(phase) for phase in library.phases],
        "cautions": {
            each.id: {"signal": each.signal, "text": each.text, "when": _when(each.when), "cites": _cites(each.cites)}
            for each in library.cautions.values()
        },
        "needs": {each.id: {"kind": each.kind, "name": each.name} for each in library.needs.values()},
    }


def _phase(phase: Phase) -> dict[str, Any]:
    return {
        "id": phase.id, "number": phase.number, "name": phase.name, "purpose": phase.purpose,
        "steps": [_step(step) for step in phase.steps],
        "causes": [asdict(each) | {"when": _when(each.when), "cites": _cites(each.cites)} for each in phase.causes],
        "signs": [asdict(each) | {"cites": _cites(each.cites)} for each in phase.signs],
    }


def _step(step: Step) -> dict[str, Any]:
    return {
        "id": step.id, "do": step.do, "text": step.text, "when": _when(step.when), "cautions": list(step.cautions), "needs": list(step.needs),
        "figures": [{"of": list(wanted.places), "what": wanted.what, "when": _when(wanted.when)} for wanted in step.figures],
        "hold": asdict(step.hold) if step.hold else None,
        "no_pause": asdict(step.no_pause) if step.no_pause else None,
        "cites": _cites(step.cites),
    }


def _when(when: When) -> dict[str, list[str]]:
    return {key: list(words) for key, words in when}


def _cites(cites: tuple[Cite, ...]) -> list[dict[str, str]]:
    return [asdict(cite) for cite in cites]
