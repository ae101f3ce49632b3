"""Records as stages and pulls: nothing guessed, every doubt kept."""

import pytest

from generator.audit import RULES
from generator.audit.pulls import loosened, planned, pulls
from generator.calculations.tightening import ALL, CHOOSE, DOUBTFUL, SET
from generator.quantities import Quantity
from generator.record.library import Library
from tests.conftest import SMALL

SET_OF_FOUR = """\
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
      orders: {all: [A2, B1, A1, B2]}
      stages:
        - {do: torque, order: all, figure: [{printed: [35 N.m]}]}
        - {do: torque, order: all, groups: [long], figure: [{printed: [39.2 to 44.1 N.m]}]}
        - {do: angle, order: all, figure: [{printed: [90 +-5 deg]}]}
"""
STAGE = "- {do: torque, order: all, figure: [{printed: [35 N.m]}]}"


@pytest.fixture
def engine(read):
    def do(old="", new=""):
        assert old in SET_OF_FOUR
        found, problems = read(SMALL + SET_OF_FOUR.replace(old, new, 1))
        assert [problem for problem in problems if problem.level == "error"] == []
        return found

    return do


def of(engine, stage):
    return [(pull.place, pull.state, pull.target) for pull in pulls(engine, engine.sets["head"]) if pull.stage == stage]


def test_stages_become_pulls_with_bounds_and_targets(engine):
    found = engine()
    torque = Quantity(35.0, "N.m")
    assert of(found, 0) == [(place, SET, torque) for place in ("A2", "B1", "A1", "B2")]
    assert of(found, 1) == [(place, CHOOSE, None) for place in ("A1", "B2")]
    assert of(found, 2)[0] == ("A2", SET, Quantity(90.0, "deg"))


@pytest.mark.parametrize(("figure", "low", "high"), [
    ("{printed: [35 N.m], doubt: {kind: scan, says: a digit may be lost}}", 35, 35),
    ("{printed: [35 N.m], status: contested}", 35, 35),
    ("{printed: [35 N.m, 62 lbf.ft]}", 35, 35),
    ("{printed: [120 N.m, 90 lbf.ft]}", 120, 120),
    ('{printed: [unreadable "3 N.m", 26 lbf.ft]}', None, None),
    ("{printed: [35 N.m]}, {printed: [40 N.m], cite: book page 9}", None, None),
])
def test_a_doubtful_figure_and_sources_that_differ_give_no_target(engine, figure, low, high):
    found = engine(STAGE, f"- {{do: torque, order: all, figure: [{figure}]}}")
    stage = planned(found, found.sets["head"])[0]
    assert stage.doubtful
    assert [bound and bound.value for bound in (stage.low, stage.high)] == [low, high]
    assert {(state, target) for _, state, target in of(found, 0)} == {(DOUBTFUL, None)}


def test_a_figure_that_a_bulletin_replaces_is_left_out(engine):
    figure = "{printed: [30 N.m], superseded_by: book page 4}, {printed: [35 N.m], cite: book page 4}"
    assert of(engine(STAGE, f"- {{do: torque, order: all, figure: [{figure}]}}"), 0)[0] == ("A2", SET, Quantity(35.0, "N.m"))


def test_a_stage_of_rounds_is_counted_out_and_keeps_the_doubt_of_the_stage(engine):
    rounds = "- {do: steps, order: all, from: 5 N.m, by: 5 N.m, to: 11 to 12 N.m}"
    found = engine(STAGE, rounds)
    assert [(pull.round, pull.low.value, pull.state) for pull in pulls(found, found.sets["head"]) if (pull.stage, pull.place) == (0, "A2")] == [
        (1, 5, SET), (2, 10, SET), (3, 11, CHOOSE),
    ]
    doubted = engine(STAGE, rounds.replace("N.m}", "N.m, doubt: {kind: scan, says: x}}"))
    assert {state for _, state, _ in of(doubted, 0)} == {DOUBTFUL}


def test_an_order_that_is_only_for_some_groups_covers_those(engine):
    found = engine("orders: {all: [A2, B1, A1, B2]}", "orders: {all: [A2, B1, A1, B2], few: [B1, A2]}")
    change = engine(
        "      orders: {all: [A2, B1, A1, B2]}\n      stages:\n        " + STAGE,
        "      orders: {all: [A2, B1, A1, B2], few: [B1, A2]}\n      stages:\n        - {do: torque, order: few, figure: [{printed: [9 N.m]}]}",
    )
    assert planned(found, found.sets["head"])[0].covers == ()
    assert planned(change, change.sets["head"])[0].covers == ("short",)
    assert [place for place, _, _ in of(change, 0)] == ["B1", "A2"]


@pytest.mark.parametrize(("by", "low", "text"), [("90 deg", Quantity(90.0, "deg"), ""), ("a quarter turn", None, "a quarter turn")])
def test_how_far_a_loosening_goes_is_a_number_only_where_one_is_printed(engine, by, low, text):
    found = engine(STAGE, f"- {{do: loosen, order: all, by: {by}}}")
    stage = planned(found, found.sets["head"])[0]
    assert (stage.low, stage.text) == (low, text)


def test_one_torque_without_stages_is_one_stage_and_no_order_is_guessed(library):
    unit = library.engines["auxiliary-power-unit-tm-9-6115-670-14-and-p"]
    pull, = pulls(unit, unit.sets["head"])
    assert (pull.place, pull.order_known, pull.state, pull.low, pull.high) == (ALL, False, CHOOSE, Quantity(39.2, "N.m"), Quantity(44.1, "N.m"))
    assert loosened(unit, unit.sets["head"]).order == ()


def test_a_real_crane_goes_to_its_long_bolts_by_name_where_no_place_is_known(library):
    crane = library.engines["crane-diesel-tm-5-3810-307-24-2-2"]
    found = pulls(crane, crane.sets["head"])
    assert [(pull.action, pull.place, pull.covers) for pull in found][2:4] == [("torque", ALL, ("long",)), ("recheck", ALL, ("long",))]
    assert [pull.state for pull in found] == [SET, SET, DOUBTFUL, DOUBTFUL, SET]


def test_what_cannot_be_expanded_is_an_error_of_the_record(engine, schemas):
    rule = next(rule for rule in RULES if rule.name == "pulls-expand")
    library = Library(schemas)
    assert list(rule.check(engine(), library)) == []
    for new, phrase in (
        ("- {do: steps, order: all, from: 50 N.m, by: 5 N.m, to: 30 N.m}", "stage 1 from: a value not above the last one, 30 N.m"),
        ("- {do: steps, order: all, from: five, by: 5 N.m, to: 30 N.m}", "'five' is not a printed statement"),
        ("- {do: recheck, order: all, figure: [{printed: [0 N.m]}]}", "stage 1 low: it must be more than zero"),
    ):
        found, = rule.check(engine(STAGE, new), library)
        assert phrase in found.message
        assert found.line == 22


def test_every_set_of_every_record_can_be_expanded(library):
    for engine in library.engines.values():
        for each in engine.sets.values():
            assert all(pull.order_known or pull.place == ALL for pull in pulls(engine, each))
