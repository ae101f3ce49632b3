"""The model of the procedure holds what its files hold, and every name in it leads somewhere."""

import json

from generator.pages.model import as_json
from generator.pages.procedure_model import procedure_model


def model_of(library):
    return json.loads(as_json(procedure_model(library)))


def test_every_step_with_its_conditions_and_hold_points(library):
    model = model_of(library)
    steps = {step["id"]: step for phase in model["phases"] for step in phase["steps"]}
    assert list(steps) == [step.id for phase in library.phases for step in phase.steps]
    assert steps["compression-wet"]["when"] == {"ignition": ["spark"]}
    assert steps["drive-to-marks"]["when"] == {"valve_train": ["single overhead camshaft", "double overhead camshaft"]}
    assert {step["hold"]["name"]: step["id"] for step in steps.values() if step["hold"]} == library.required.holds


def test_every_name_leads_somewhere(library):
    model = model_of(library)
    steps = {step["id"]: step for phase in model["phases"] for step in phase["steps"]}
    for step in steps.values():
        assert set(step["cautions"]) <= set(model["cautions"])
        assert set(step["needs"]) <= set(model["needs"])
        assert step["cites"] and all(cite["source"] in library.sources for cite in step["cites"])
    for phase in model["phases"]:
        for sign in phase["signs"]:
            assert sign["back_to"] in steps and sign["sign"] and sign["means"] and sign["again"]
        for cause in phase["causes"]:
            assert not cause["step"] or cause["step"] in steps


def test_the_signs_that_a_walk_through_must_know_are_there(library):
    signs = {sign["id"] for phase in model_of(library)["phases"] for sign in phase["signs"]}
    assert {"creaks", "turns-without-rising", "breaks", "clicks-at-once", "overshot"} <= signs
