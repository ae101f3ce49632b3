"""Pulls: each bolt of a group once a stage, nothing guessed, nothing taken silently."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.calculations.result import InputError
from generator.calculations.tightening import (
    ALL,
    BOLT_BY_BOLT,
    CHOOSE,
    DOUBTFUL,
    NOT_GIVEN,
    NOTHING,
    SET,
    Stage,
    choose_target,
    expand,
    loosening,
)
from generator.quantities import Quantity
from tests.published import published

GROUPS = {"A1": "long", "A2": "short", "A3": "long", "B1": "short", "B2": "long", "B3": "short"}
ORDER = ("A2", "B2", "A1", "B3", "A3", "B1")


def nm(value):
    return Quantity(value, "N.m")


def torque(low, high=None, **more):
    return Stage("torque", more.pop("order", ORDER), low=nm(low), high=nm(high or low), **more)


def places(pulls, stage=None):
    return [pull.place for pull in pulls if stage in (None, pull.stage)]


def code_of(call, *args, **more):
    with pytest.raises(InputError) as caught:
        call(*args, **more)
    return caught.value.code


# Expansion


def test_a_crane_head_all_then_the_long_ones_then_an_angle_for_all():
    stages = [
        torque(90), Stage("recheck", ORDER, low=nm(90), high=nm(90)), torque(120, covers=("long",)),
        Stage("recheck", ORDER, covers=("long",), low=nm(120), high=nm(120)),
        Stage("angle", ORDER, low=Quantity(90, "deg"), high=Quantity(90, "deg")),
    ]
    pulls = expand(stages, GROUPS)
    assert [len(places(pulls, stage)) for stage in range(5)] == [6, 6, 3, 3, 6]
    assert places(pulls, 2) == ["B2", "A1", "A3"]
    assert [pull.position for pull in pulls if pull.stage == 2] == [1, 2, 3]
    assert {pull.state for pull in pulls} == {SET}
    assert pulls[-1].target == Quantity(90, "deg")


def test_the_two_cylinder_step_rule_rises_by_five_to_its_range():
    lbf_ft = [Quantity(value, "lbf.ft") for value in (5, 5, 29, 31)]
    stage = Stage("steps", ORDER, first=lbf_ft[0], by=lbf_ft[1], low=lbf_ft[2], high=lbf_ft[3])
    pulls = expand([stage], GROUPS)
    rounds = {pull.round: (pull.low.value, pull.high.value, pull.state) for pull in pulls}
    assert rounds == {1: (5, 5, SET), 2: (10, 10, SET), 3: (15, 15, SET), 4: (20, 20, SET), 5: (25, 25, SET), 6: (29, 31, CHOOSE)}
    assert all(places([pull for pull in pulls if pull.round == each]) == list(ORDER) for each in rounds)
    settled = expand([stage], GROUPS, chosen={0: Quantity(30, "lbf.ft")})
    assert {pull.target.value for pull in settled if pull.round == 6} == {30}


def test_a_step_that_lands_on_the_last_value_gives_one_last_round():
    stage = Stage("steps", ORDER, first=nm(0.1), by=nm(0.1), low=nm(0.3), high=nm(0.3))
    assert max(pull.round for pull in expand([stage])) == 3


def test_a_range_asks_once_for_the_whole_row_and_the_recheck_follows_it():
    stages = [torque(39.2, 44.1), Stage("recheck", ORDER, low=nm(39.2), high=nm(44.1)), torque(50, 55)]
    assert {(pull.state, pull.target) for pull in expand(stages)} == {(CHOOSE, None)}
    chosen = expand(stages, chosen={0: nm(42)})
    assert {pull.target for pull in chosen if pull.stage < 2} == {nm(42)}
    assert {pull.target for pull in chosen if pull.stage == 2} == {None}


def test_only_a_recheck_takes_over_a_target_and_never_a_retorque():
    after = [Stage("retorque", ORDER, low=nm(39.2), high=nm(44.1)), torque(39.2, 44.1), Stage("recheck", ORDER, low=nm(39.2), high=nm(44.1))]
    targets = {pull.stage: (pull.state, pull.target) for pull in expand([torque(39.2, 44.1), *after], chosen={0: nm(42)})}
    assert targets == {0: (SET, nm(42)), 1: (CHOOSE, None), 2: (CHOOSE, None), 3: (SET, nm(42))}
    own = expand([torque(39.2, 44.1), *after], chosen={0: nm(42), 1: nm(40), 2: nm(43)})
    assert {pull.stage: pull.target for pull in own} == {0: nm(42), 1: nm(40), 2: nm(43), 3: nm(43)}
    other = expand([torque(39.2, 44.1), Stage("recheck", ORDER, low=nm(39.2), high=nm(45))], chosen={0: nm(42)})
    assert {pull.target for pull in other if pull.stage == 1} == {None}


def test_one_printed_bound_holds_for_a_target_that_was_looked_up():
    stage = Stage("torque", ORDER, high=nm(40))
    assert {pull.target for pull in expand([stage], chosen={0: nm(40)})} == {nm(40)}
    with pytest.raises(InputError, match=r"max 40 N\.m"):
        expand([stage], chosen={0: nm(41)})
    assert {pull.target for pull in expand([replace(stage, doubtful=True)], chosen={0: nm(41)})} == {nm(41)}


def test_a_printed_nominal_is_the_target_and_not_the_middle_of_its_tolerance():
    stage = Stage("torque", ORDER, low=Quantity(5, "lbf.ft"), high=Quantity(11, "lbf.ft"), nominal=Quantity(7, "lbf.ft"))
    assert {pull.target.value for pull in expand([stage])} == {7}


def test_a_doubtful_torque_gives_no_target_until_the_reader_has_chosen():
    stage = torque(78, doubtful=True)
    assert {(pull.state, pull.target) for pull in expand([stage])} == {(DOUBTFUL, None)}
    assert {(pull.state, pull.target) for pull in expand([stage], chosen={0: nm(85)})} == {(SET, nm(85))}


def test_the_rounds_of_a_doubtful_step_rule_have_no_target_either():
    stage = Stage("steps", ORDER, first=nm(5), by=nm(5), low=nm(12), high=nm(12), doubtful=True)
    assert [(pull.round, pull.target) for pull in expand([stage]) if pull.position == 1] == [(1, None), (2, None), (3, None)]
    chosen = expand([stage], chosen={0: nm(20)})
    assert [pull.target for pull in chosen if pull.position == 1] == [None, None, nm(20)]


def deg(value):
    return Quantity(value, "deg")


STATES_OF_STAGES = [
    (Stage("torque", ORDER), NOT_GIVEN),
    (Stage("torque", ORDER, high=nm(40)), NOT_GIVEN),
    (Stage("angle", ORDER, low=deg(60)), NOT_GIVEN),
    (Stage("loosen", ORDER), NOTHING),
    (Stage("loosen", covers=("long",)), NOTHING),
    (Stage("wait", until="cold"), NOTHING),
    (Stage("loosen", ORDER, low=deg(90), high=deg(90)), SET),
    (Stage("angle", ORDER, low=deg(75), high=deg(75)), SET),
    (Stage("torque", ORDER, low=nm(5), high=nm(11), nominal=nm(7)), SET),
    (torque(39.2, 44.1), CHOOSE),
    (Stage("angle", ORDER, low=deg(85), high=deg(95)), CHOOSE),
    (Stage("recheck", low=nm(59), high=nm(69)), CHOOSE),
    (torque(78, doubtful=True), DOUBTFUL),
    (torque(59, 69, doubtful=True), DOUBTFUL),
    (Stage("angle", ORDER, low=deg(900), high=deg(900), doubtful=True), DOUBTFUL),
]


@pytest.mark.parametrize(("stage", "state"), STATES_OF_STAGES)
def test_states_of_stages(stage, state):
    assert {pull.state for pull in expand([stage])} == {state}


def test_a_stage_without_an_order_is_one_pull_for_all_and_says_the_order_is_unknown():
    pull, = expand([Stage("torque", low=nm(90), high=nm(90), covers=("long",))], GROUPS)
    assert (pull.place, pull.position, pull.order_known, pull.covers) == (ALL, 0, False, ("long",))
    pull, = expand([Stage("torque", low=nm(90), high=nm(90), covers=("long",))])
    assert (pull.place, pull.covers) == (ALL, ("long",))
    wait, = expand([Stage("wait", until="cold")], GROUPS)
    assert (wait.place, wait.order_known) == (ALL, True)


def test_bolt_by_bolt_finishes_each_bolt_and_goes_round_all_for_a_recheck():
    stages = [
        Stage("loosen", ORDER), torque(60), Stage("angle", ORDER, covers=("long",), low=Quantity(90, "deg"), high=Quantity(90, "deg")),
        Stage("recheck", ORDER, low=nm(60), high=nm(60)),
    ]
    pulls = expand(stages, GROUPS, BOLT_BY_BOLT)
    done = [(pull.place, pull.stage) for pull in pulls]
    assert done[:5] == [("A2", 0), ("A2", 1), ("B2", 0), ("B2", 1), ("B2", 2)]
    assert [stage for _, stage in done[-6:]] == [3] * 6
    assert sorted(pulls, key=lambda pull: (pull.stage, pull.position)) == list(expand(stages, GROUPS))


def test_bolt_by_bolt_takes_groups_that_share_no_bolt_one_after_the_other():
    pulls = expand([torque(60, covers=("long",)), torque(30, covers=("short",))], GROUPS, BOLT_BY_BOLT)
    assert places(pulls) == ["B2", "A1", "A3", "A2", "B3", "B1"]


# Choosing


GOLDEN_TARGETS = [
    ((nm(39.2), nm(44.1)), CHOOSE,
     "Any value from 39.2 to 44.1 N.m will do, but it must be the same for every bolt of the row; the middle is 41.65 N.m."),
    ((Quantity(29, "lbf.ft"), Quantity(31, "lbf.ft")), CHOOSE,
     "Any value from 29 to 31 lbf.ft will do, but it must be the same for every bolt of the row; the middle is 30 lbf.ft."),
    ((deg(85), deg(95)), CHOOSE, "Any value from 85 to 95 deg will do, but it must be the same for every bolt of the row; the middle is 90 deg."),
    ((nm(39.2), nm(44.1), nm(44.1)), SET, "44.1 N.m for every bolt of the row."),
    ((nm(39.2), nm(44.1), Quantity(30, "lbf.ft")), SET, "30 lbf.ft for every bolt of the row."),
    ((deg(90), deg(90)), SET, "90 deg for every bolt of the row."),
]


@pytest.mark.parametrize(("arguments", "state", "reason"), GOLDEN_TARGETS)
def test_golden_sentences_of_a_target(arguments, state, reason):
    choice = choose_target(*arguments)
    assert (choice.state, choice.reason, choice.target is None) == (state, reason, state == CHOOSE)


def test_the_middle_of_a_range_is_proposed_and_not_taken():
    choice = choose_target(nm(39.2), nm(44.1))
    assert (choice.state, choice.target) == (CHOOSE, None)
    assert choice.proposed.value == pytest.approx(41.65)


def test_a_chosen_target_stands_and_one_outside_is_refused():
    assert choose_target(nm(39.2), nm(44.1), Quantity(30, "lbf.ft")).target == Quantity(30, "lbf.ft")
    assert choose_target(nm(35), nm(35)).state == SET
    for wanted in (nm(39.1), nm(44.2), Quantity(33, "lbf.ft")):
        with pytest.raises(InputError, match=r"39.2 to 44.1 N\.m"):
            choose_target(nm(39.2), nm(44.1), wanted)


def test_a_refusal_names_the_bounds_as_printed_and_not_rounded_into_the_range():
    with pytest.raises(InputError, match=r"2\.94 to 3\.92 N\.m"):
        choose_target(nm(2.94), nm(3.92), nm(2.9))


# Loosening


BACKWARDS, OWN, UNKNOWN = "common practice, no source", "the record's own loosening order", ""
HOW = (
    "Only when the engine is cold, never hot. Undo every bolt by part of a turn, go round again until all are loose, "
    "then take them out. The tightening stages are not done backwards."
)
WORDS_OF_LOOSENING = {
    BACKWARDS: f"The tightening order backwards. {HOW}", OWN: HOW,
    UNKNOWN: f"The order is not in this record: look it up in the manual. {HOW}",
}
CIRCLE, ACROSS = ("A1", "A2", "A3", "B3", "B2", "B1"), ("A1", "B3", "A3", "B1", "A2", "B2")
LOOSENED = [
    ([torque(30, covers=("long",)), torque(30), torque(60), Stage("angle", ORDER)], (), ORDER[::-1], BACKWARDS),
    ([torque(30, order=CIRCLE), torque(60, order=ORDER)], (), CIRCLE[::-1], BACKWARDS),
    ([Stage("torque", low=nm(9), high=nm(9)), Stage("steps", ACROSS, first=nm(5), by=nm(5), low=nm(30), high=nm(30))], (), ACROSS[::-1], BACKWARDS),
    ([torque(30)], ACROSS, ACROSS, OWN),
    ([], CIRCLE, CIRCLE, OWN),
    ([torque(30), Stage("angle", ORDER)], ORDER, ORDER, OWN),
    ([], (), (), UNKNOWN),
    ([torque(30, covers=("long",))], (), (), UNKNOWN),
    ([Stage("torque", low=nm(9), high=nm(9))], (), (), UNKNOWN),
]


@pytest.mark.parametrize(("stages", "own", "order", "basis"), LOOSENED)
def test_loosening_is_the_records_order_else_the_tightening_order_backwards_once_and_never_stages_backwards(stages, own, order, basis):
    found = loosening(stages, GROUPS, own)
    assert (found.order, found.basis, found.text) == (order, basis, WORDS_OF_LOOSENING[basis])


# Refusals


@pytest.mark.parametrize(("stage", "code", "field"), [
    (torque(30, order=(*ORDER, "A1")), "too-many", "stage 1 order"),
    (torque(30, order=ORDER[:-1]), "too-few", "stage 1 order"),
    (torque(30, order=(*ORDER, "C9")), "unknown", "stage 1 order"),
    (torque(30, covers=("middle",)), "unknown", "stage 1 order"),
    (Stage("hammer", ORDER), "unknown", "stage 1 do"),
    (torque(44, 39), "out-of-order", "stage 1"),
    (Stage("torque", ORDER, low=Quantity(90, "deg"), high=Quantity(90, "deg")), "wrong-unit", "stage 1 low"),
    (Stage("torque", ORDER, low=35.0, high=35.0), "wrong-unit", "stage 1 low"),
    (Stage("torque", ORDER, low=nm(-1), high=nm(5)), "negative", "stage 1 low"),
    (Stage("torque", ORDER, low=nm(5), high=nm(11), nominal=nm(12)), "out-of-range", "stage 1 nominal"),
    (Stage("wait", low=nm(5), high=nm(5)), "refused", "stage 1 low"),
    (Stage("steps", ORDER, first=nm(5), low=nm(30), high=nm(30)), "missing", "stage 1 by"),
    (Stage("steps", ORDER, first=nm(5), by=nm(0), low=nm(30), high=nm(30)), "zero", "stage 1 by"),
    (Stage("steps", ORDER, first=nm(5), by=nm(0.1), low=nm(30), high=nm(30)), "out-of-range", "stage 1 by"),
    (Stage("steps", ORDER, first=nm(50), by=nm(5), low=nm(30), high=nm(30)), "out-of-order", "stage 1 from"),
])
def test_bad_stages_are_refused_by_code_and_field(stage, code, field):
    with pytest.raises(InputError) as caught:
        expand([stage], GROUPS)
    assert (caught.value.code, caught.value.field) == (code, field)


def test_bad_calls_are_refused():
    assert code_of(expand, [torque(30)], walk="at random") == "unknown"
    assert code_of(expand, [torque(30)], chosen={1: nm(30)}) == "unknown"
    assert code_of(expand, [torque(30, covers=("long",))]) == "unknown"
    assert code_of(expand, [torque(30, 35)], chosen={0: nm(36)}) == "out-of-range"
    assert code_of(expand, [torque(30, order=("A1", ALL))]) == "refused"
    assert code_of(expand, [torque(30), torque(60, order=tuple(reversed(ORDER)))], walk=BOLT_BY_BOLT) == "out-of-order"
    assert code_of(loosening, [], GROUPS, ("A1", "A1")) == "too-many"
    assert code_of(choose_target, None, nm(5)) == "missing"


# Properties and published rows

torques = st.floats(1, 300).map(nm)


@st.composite
def heads(draw):
    order = draw(st.permutations([f"B{number}" for number in range(1, draw(st.integers(2, 17)) + 1)]))
    groups = {place: draw(st.sampled_from(["long", "short"])) for place in sorted(order)}
    names = sorted(set(groups.values()))
    stages = [
        Stage(draw(st.sampled_from(["torque", "loosen", "recheck", "steps"])), tuple(order), low=value, high=value, first=nm(0.5),
              by=Quantity(value.value / draw(st.integers(1, 8)), "N.m"), covers=tuple(draw(st.sets(st.sampled_from(names)))))
        for value in draw(st.lists(torques, min_size=1, max_size=5))
    ]
    return stages, groups


@given(heads(), st.sampled_from(["stage by stage", "bolt by bolt"]))
def test_every_bolt_of_the_groups_covered_stands_once_in_each_round_of_a_stage(head, walk):
    stages, groups = head
    seen = Counter((pull.stage, pull.round, pull.place) for pull in expand(stages, groups, walk))
    assert set(seen.values()) == {1}
    for index, stage in enumerate(stages):
        covered = {place for place, group in groups.items() if not stage.covers or group in stage.covers}
        for turn in {turn for at, turn, _ in seen if at == index}:
            assert {place for at, each, place in seen if (at, each) == (index, turn)} == covered


@given(torques, torques, st.floats(0, 1))
def test_the_proposed_target_lies_in_the_range_and_every_value_in_it_is_taken(one, other, share):
    low, high = sorted((one, other), key=lambda each: each.value)
    choice = choose_target(low, high)
    assert low.value <= choice.proposed.value <= high.value
    wanted = nm(low.value + share * (high.value - low.value))
    assert choose_target(low, high, wanted).target == wanted


@pytest.mark.parametrize("case", published("tightening", "step_rules"), ids=lambda case: case["id"])
def test_published_step_rules(case):
    first, by, low, high = (Quantity(case[key], case["unit"]) for key in ("from", "by", "low", "high"))
    pulls = expand([Stage("steps", ("A", "B"), first=first, by=by, low=low, high=high)])
    assert [pull.low.value for pull in pulls if pull.place == "A"] == pytest.approx(case["value"], abs=case["tolerance"])
