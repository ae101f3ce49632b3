"""What the job may never lose: steps, hold points, and the caution before every step that can hurt."""

from __future__ import annotations

from collections.abc import Iterator

from generator.audit.procedure import placed_steps
from generator.audit.rule import LibraryRule
from generator.reading import At, Problem, nearest
from generator.record.library import Library
from generator.record.procedure import Phase, Required, Step

_LIST = "required.yaml"


def _there(library: Library) -> dict[str, tuple[Phase, At, Step]]:
    return {step.id: (phase, at, step) for phase, at, step in placed_steps(library)}


def _list_is_there(library: Library) -> Iterator[Problem]:
    if library.required is None:
        message = f"{_LIST} is missing: nothing says which steps the job may never lose"
        yield Problem("specs/procedure", 1, 1, "step-required", "error", message, "bring the file back")


def _steps(library: Library) -> Iterator[Problem]:
    yield from _list_is_there(library)
    if (required := library.required) is None:
        return
    there = _there(library)
    for phase_id, ids in required.steps.items():
        for index, name in enumerate(ids):
            at: At = ("steps", phase_id, index)
            if name not in there:
                message = f"the step {name!r} must be there and stands in no phase"
                yield required.file.problem(at, "step-required", message, nearest(name, list(there)))
            elif there[name][0].id != phase_id:
                message = f"the step {name!r} stands in the phase {there[name][0].id!r}, not in {phase_id!r}"
                yield required.file.problem(at, "step-required", message, "move the step, or its line here")


def _retired(library: Library) -> Iterator[Problem]:
    for phase, at, step in placed_steps(library):
        if library.required and step.id in library.required.retired:
            message = f"the step id {step.id!r} was used once for something else"
            yield phase.file.problem((*at, "id"), "step-retired", message, "ids are for ever: choose another")


def _holds(library: Library) -> Iterator[Problem]:
    if (required := library.required) is None:
        return
    there = _there(library)
    for name, step_id in required.holds.items():
        step = there[step_id][2] if step_id in there else None
        if step is None:
            message = f"the hold point {name!r} has no step: {step_id!r} is not there"
            yield required.file.problem(("holds", name), "hold-has-step", message, nearest(step_id, list(there)))
        elif step.hold is None or step.hold.name != name:
            message = f"the step {step_id!r} does not hold for {name!r}"
            yield required.file.problem(("holds", name), "hold-has-step", message, "write its 'hold' with this name")
    yield from _holds_of_steps(library, required)


def _holds_of_steps(library: Library, required: Required) -> Iterator[Problem]:
    for phase, at, step in placed_steps(library):
        if step.hold and required.holds.get(step.hold.name) != step.id:
            message = f"the hold point {step.hold.name!r} is not in {_LIST}"
            hint = "hold points are few and named: " + ", ".join(required.holds)
            yield phase.file.problem((*at, "hold", "name"), "hold-has-step", message, hint)
        if step.hold and step.when:
            message = f"the hold point {step.hold.name!r} stands in a step that some engines do not have"
            yield phase.file.problem((*at, "when"), "hold-has-step", message, "move it to a step without 'when'", key=True)


def _hazards(library: Library) -> Iterator[Problem]:
    if (required := library.required) is None:
        return
    there = _there(library)
    for index, hazard in enumerate(required.hazards):
        at: At = ("hazards", index)
        if hazard.caution not in library.cautions:
            message = f"the caution {hazard.caution!r} is not in cautions.yaml"
            yield required.file.problem((*at, "caution"), "hazard-before-step", message, nearest(hazard.caution, list(library.cautions)))
        for number, name in enumerate(hazard.before):
            if name not in there:
                message = f"{name!r} is no step of the job"
                yield required.file.problem((*at, "before", number), "hazard-before-step", message, nearest(name, list(there)))
            elif hazard.caution not in there[name][2].cautions:
                phase, place, _ = there[name]
                message = f"the caution {hazard.caution!r} ({hazard.name}) does not stand before the step {name!r}"
                yield phase.file.problem(place, "hazard-before-step", message, f"add it to the step's cautions, or mend {_LIST}")


RULES = [
    LibraryRule("step-required", "A step that the job may never lose and that is gone.", "a step deleted with its phase's other changes", _steps),
    LibraryRule("step-retired", "A step with an id that was used once for something else.", "id: camshafts-turn-free", _retired),
    LibraryRule("hold-has-step", "A hold point without a step, or one too many.", "the step of a hold point renamed", _holds),
    LibraryRule("hazard-before-step", "A step that can hurt without its caution before it.", "a caution dropped from a step", _hazards),
]
