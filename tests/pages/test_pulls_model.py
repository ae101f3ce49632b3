"""Pulls in the JSON model: enough to walk pull by pull, and enough to expand again with the same result."""

import json

import pytest

from generator.calculations.tightening import ALL, CHOOSE, DOUBTFUL, SET, Stage, expand
from generator.pages.model import as_json, engine_model
from generator.pages.pulls import _pull, loosening_model, tightening_model
from generator.quantities import Quantity
from tests.conftest import SMALL

HEAD = """\
fasteners:
  head:
    cite: book page 3
    groups: {long: {kind: bolt, count: 2}, short: {kind: bolt, count: 2}}
    places:
      A1: {at: [0, 0], group: long}
      A2: {at: [50, 0], group: short}
      B1: {at: [0, 50], group: short}
      B2: {at: [50, 50], group: long}
    tightening:
      walk: bolt by bolt
      orders: {all: [A2, B1, A1, B2]}
      stages:
        - {do: steps, order: all, from: 5 N.m, by: 5 N.m, to: 11 to 12 N.m}
        - {do: torque, order: all, figure: [{printed: [30 N.m]}]}
        - {do: torque, order: all, groups: [long], figure: [{printed: [39.2 to 44.1 N.m]}]}
        - {do: angle, order: all, figure: [{printed: [90 +-5 deg]}]}
        - do: recheck
          order: all
          figure: [{printed: [40 N.m], doubt: {kind: scan, says: a digit may be lost}}, {printed: [43 N.m], cite: book page 9}]
        - {do: wait, until: cold}
        - {do: retorque, order: all, when: hot, method: one bolt at a time, figure: [{printed: [45 N.m]}]}
    loosening: {order: [B2, A1, B1, A2]}
"""


def quantity(found):
    return None if found is None else Quantity(found["value"], found["unit"])


def again(model):
    """Expand what stands in the JSON, as the browser does."""
    stages = [
        Stage(
            each["do"], tuple(each["order"]), tuple(each["covers"]), *(quantity(each[key]) for key in ("low", "high", "nominal", "first", "by")),
            each["doubtful"], each["text"], each["until"], each["when"], each["method"],
        )
        for each in model["stages"]
    ]
    return [_pull(pull) for pull in expand(stages, model["groups"], model["walk"])]


@pytest.fixture
def head(read):
    engine, problems = read(SMALL + HEAD)
    assert [problem for problem in problems if problem.level == "error"] == []
    return engine


@pytest.fixture
def model(head):
    return tightening_model(head, head.sets["head"])


def of(model, stage):
    return [pull for pull in model["pulls"] if pull["stage"] == stage]


def test_the_inputs_in_the_model_expand_to_its_pulls_in_every_record(library):
    for engine in library.engines.values():
        for key, each in json.loads(as_json(engine_model(engine, library, None)))["fasteners"].items():
            assert again(each["tightening"]) == each["tightening"]["pulls"], f"{engine.id} {key}"


def test_a_head_with_everything_expands_again_to_the_same(model):
    assert again(json.loads(json.dumps(model))) == model["pulls"]


def test_rounds_go_round_all_bolts_then_each_bolt_is_finished_then_all_again(model):
    assert [(pull["round"], pull["place"]) for pull in of(model, 0)][:5] == [(1, "A2"), (1, "B1"), (1, "A1"), (1, "B2"), (2, "A2")]
    walked = [(pull["stage"], pull["place"]) for pull in model["pulls"] if pull["stage"] in (1, 2, 3)]
    assert walked == [(1, "A2"), (3, "A2"), (1, "B1"), (3, "B1"), (1, "A1"), (2, "A1"), (3, "A1"), (1, "B2"), (2, "B2"), (3, "B2")]
    assert [pull["stage"] for pull in model["pulls"]][-9:] == [4, 4, 4, 4, 5, 6, 6, 6, 6]


def test_a_range_asks_and_a_tolerance_has_its_printed_value(model):
    assert {(pull["state"], pull["target"]) for pull in of(model, 2)} == {(CHOOSE, None)}
    assert of(model, 2)[0]["low"] == {"value": 39.2, "unit": "N.m"}
    assert of(model, 3)[0] == {
        "stage": 3, "action": "angle", "place": "A2", "position": 1, "round": 1, "low": {"value": 85.0, "unit": "deg"},
        "high": {"value": 95.0, "unit": "deg"}, "target": {"value": 90.0, "unit": "deg"}, "state": SET, "order_known": True, "covers": [],
    }


def test_sources_that_differ_stand_side_by_side_to_pick_from_and_give_no_target(model):
    assert {(pull["state"], pull["target"], pull["low"]) for pull in of(model, 4)} == {(DOUBTFUL, None, None)}
    assert model["stages"][4]["figures"] == [
        {"at": "fasteners.head.tightening.stages.4.figure.0", "low": {"value": 40.0, "unit": "N.m"}, "high": {"value": 40.0, "unit": "N.m"},
         "nominal": None, "doubtful": True},
        {"at": "fasteners.head.tightening.stages.4.figure.1", "low": {"value": 43.0, "unit": "N.m"}, "high": {"value": 43.0, "unit": "N.m"},
         "nominal": None, "doubtful": False},
    ]


def test_what_the_record_says_of_a_stage_goes_with_it(model):
    wait, hot = model["stages"][5], model["stages"][6]
    assert (wait["until"], hot["when"], hot["method"]) == ("cold", "hot", "one bolt at a time")
    (pull,) = of(model, 5)
    assert (pull["place"], pull["action"], pull["target"]) == (ALL, "wait", None)


def test_the_records_own_loosening_order_is_walked_in_part_turns(head):
    found = loosening_model(head, head.sets["head"])
    assert (found["own"], found["order"]) == (True, ["B2", "A1", "B1", "A2"])
    assert [(pull["place"], pull["position"]) for pull in found["pulls"]] == [("B2", 1), ("A1", 2), ("B1", 3), ("A2", 4)]
    assert "never hot" in found["text"]


def test_without_one_it_is_the_tightening_order_backwards_and_says_that_this_is_practice(read):
    engine, _ = read(SMALL + HEAD.replace("    loosening: {order: [B2, A1, B1, A2]}\n", ""))
    found = loosening_model(engine, engine.sets["head"])
    assert (found["own"], found["order"], found["basis"]) == (False, ["B2", "A1", "B1", "A2"], "common practice, no source")


# Records


def test_the_invented_four_has_ten_bolts_in_three_stages(library):
    found = engine_model(library.engines["quennith-four"], library, None)["fasteners"]["head"]
    pulls = found["tightening"]["pulls"]
    assert [pull["place"] for pull in pulls] == found["orders"]["all"] * 3
    assert [pulls[index]["target"] for index in (0, 10, 20)] == [{"value": 35.0, "unit": "N.m"}, *[{"value": 90.0, "unit": "deg"}] * 2]
    assert found["loosening"]["own"] is True


@pytest.mark.parametrize(("engine", "implied", "states"), [
    ("auxiliary-power-unit-tm-9-6115-670-14-and-p", True, [CHOOSE]),
    ("fork-lift-truck-tm-10-3930-653-14-and-p", True, [DOUBTFUL]),
    ("crane-diesel-tm-5-3810-307-24-2-2", False, [SET, SET, DOUBTFUL, DOUBTFUL, SET]),
    ("refrigeration-unit-tm-5-4110-217-14", False, [DOUBTFUL] * 6),
])
def test_real_engines_have_no_order_and_every_doubt_keeps_its_target_away(library, engine, implied, states):
    found = engine_model(library.engines[engine], library, None)["fasteners"]["head"]
    model = found["tightening"]
    assert (model["implied"], [pull["state"] for pull in model["pulls"]]) == (implied, states)
    assert all((pull["target"] is not None) == (pull["state"] == SET) for pull in model["pulls"])
    assert {pull["order_known"] for pull in model["pulls"]} == {False}
    assert found["loosening"]["order"] == found["loosening"]["pulls"] == []


def test_a_set_without_a_torque_has_nothing_to_walk(library):
    engine = library.engines["pump-tm-10-4320-310-14"]
    model = tightening_model(engine, engine.sets["head"])
    assert (model["implied"], model["stages"], model["pulls"]) == (False, [], [])
