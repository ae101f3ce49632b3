"""A fixed selection of planted faults is caught, the harness is not blind, and no acknowledged doubt can go unnoticed."""

from __future__ import annotations

import pytest

from generator.audit import RULES
from generator.quantities import AGREE, DISAGREE, ROUNDING
from generator.reading import Problem, dotted
from tests.faults import __main__ as command
from tests.faults import run as harness
from tests.faults.blocks import stage_lost, stages_swapped
from tests.faults.fault import Fault, doubted, setter, without_doubt
from tests.faults.run import OF_ALL, OF_CATCHABLE, caught_by, check, every_problem, faults_of, run, shares
from tests.faults.shape import CATCHABLE, stage_loss_shows, swap_shows

FEW = 2  # faults of a kind in a record; `make faults` plants many more


@pytest.fixture(scope="module")
def rows(library):
    return run(library, FEW)


def test_the_selection_meets_the_targets(rows):
    of_catchable, of_all = shares(rows)
    assert of_catchable >= OF_CATCHABLE, [f"{each.engine}: {each.says}" for row in rows.values() for each in row.uncaught if each.catchable]
    assert of_all >= OF_ALL


def test_every_kind_is_planted_and_some_of_each_can_be_seen(rows):
    assert set(rows) == set(CATCHABLE)
    for kind, row in rows.items():
        assert row.planted >= FEW, kind
        assert 0 < row.catchable <= row.planted, kind


def test_some_faults_cannot_be_seen_and_the_table_says_so(rows):
    """A table that called everything catchable, or only what is caught, would promise nothing."""
    assert sum(row.planted for row in rows.values()) > sum(row.catchable for row in rows.values())
    assert sum(row.caught - row.caught_catchable for row in rows.values()) > 0


def test_the_same_faults_come_at_every_run(library):
    for engine in library.engines.values():
        one, other = ([(each.kind, each.at, each.says) for each in faults_of(engine, library, FEW)] for _ in range(2))
        assert one == other


def test_each_fault_changes_its_record_and_leaves_the_library_as_it_is(library):
    for engine in library.engines.values():
        revision = engine.revision
        for fault in faults_of(engine, library, FEW):
            assert fault.planted(engine.file.data) != engine.file.data, fault.says
        assert check(engine, engine.file.data, library) == []
        assert engine.revision == revision


def test_without_rules_the_harness_fails(library, monkeypatch, capsys):
    monkeypatch.setattr(harness, "RULES", [])
    monkeypatch.setattr(harness, "MOST", FEW)
    monkeypatch.setattr(command, "load", lambda _: library)
    monkeypatch.setattr(command, "run", lambda found, most: run(found, FEW))
    assert command.main([]) == 1
    assert "target 95%" in capsys.readouterr().out


def problem(at, message="something", level="error"):
    return Problem("x.yaml", 1, 1, "rule", level, message, "", at)


FAULT = Fault("unit exchanged", "x", ("a", "b", 0), setter(("a",), 1), True, "", ("a.b",))


@pytest.mark.parametrize(("found", "caught"), [
    (problem(("a", "b", 0)), True),
    (problem(("a", "b", 0, "printed", 1)), True),
    (problem(("a", "c"), "a.c does not fit a.b, 3 mm"), True),
    (problem(("a", "b")), False),
    (problem(("a", "c")), False),
])
def test_caught_is_at_under_or_by_name(found, caught):
    assert bool(caught_by(FAULT, [found], set())) == caught
    assert caught_by(FAULT, [found], {(found.rule, found.at)}) == set()


def test_notes_do_not_count(library):
    engine = library.engines["water-pumping-set-tm-10-4320-315-24"]
    rules = {each.rule for rule in RULES for each in rule.check(engine, library)}
    assert "displacement-agrees" in rules
    assert check(engine, engine.file.data, library) == []


def test_what_a_lost_or_swapped_stage_shows_is_decided_by_its_shape(library):
    head = library.engines["quennith-four"].sets["head"]
    assert [stage.do for stage in head.stages] == ["torque", "angle", "angle"]
    assert [stage_loss_shows(library.engines["quennith-four"], head, index) for index in range(3)] == [True, True, True]
    assert swap_shows(head, 0)
    crane = library.engines["crane-diesel-tm-5-3810-307-24-2-2"]
    # Without the first torque its check has nothing before it; without a later one the rest could stand so.
    assert [each.catchable for each in stage_lost(crane, None)] == [True, False, False, False, False]
    # The third stage carries a doubt already: what it says is acknowledged.
    assert [swap_shows(crane.sets["head"], index) for index in range(4)] == [True, False, False, False]
    assert len(list(stages_swapped(library.engines["quennith-four"], None))) == 1  # the two angles are the same


def real_doubts(library):
    return [(engine, at) for engine in library.engines.values() if not engine.invented for at in doubted(engine.file.data)]


# Doubts that are a reader's word: which label a value stands beside, what a lost character may have been. No unit shows them.
READINGS = {
    "fork-lift-truck-tm-10-3930-653-14-and-p: valves.clearance.both.0",
    "petroleum-pump-tm-5-4320-218-15: identity.firing_order",
    "refrigeration-unit-tm-5-4110-217-14: fasteners.head.tightening.stages.0",
    "diesel-tm-9-2330-398-24: fasteners.rocker_arms.prevailing_torque.0",
}


def test_removing_any_one_acknowledged_doubt_is_told_at_the_line_of_its_figure(library):
    silent = set()
    for engine, at in real_doubts(library):
        facts = [fact for fact in engine.facts if fact.at == at]
        found = [each for each in every_problem(engine, without_doubt(engine, at), library) if each.at[: len(at)] == at]
        line = engine.file.place((*at, "printed") if facts and facts[0].printed else at).line
        levels = {each.level for each in found if each.line == line}
        verdict = facts[0].agreement.verdict if facts else AGREE
        if verdict == ROUNDING:
            assert "note" in levels, (engine.id, at)
        elif verdict == DISAGREE:
            assert "error" in levels, (engine.id, at)
        elif not levels & {"error", "warning"}:
            silent.add(f"{engine.id}: {dotted(at)}")
    assert len(real_doubts(library)) > 10
    assert silent == READINGS
