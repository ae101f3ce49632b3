"""Records: every figure with its source, statements parsed, names that stand for something."""

import pytest

from tests.conftest import SMALL

SET = """\
fasteners:
  head:
    cite: book page 3
    groups:
      long: {kind: bolt, count: 2}
      short: {kind: bolt, count: 1}
    places:
      A1: {at: [0, 0], group: long}
      A2: {at: [50, 0], group: long}
      B1: {at: [0, 40], group: short}
    tightening:
      orders: {all: [A1, A2, B1]}
      stages:
        - {do: torque, order: all, figure: [{printed: [35 N.m]}]}
        - {do: angle, order: all, groups: [long], figure: [{printed: [90 deg]}]}
"""


def problem_of(read, text, rule):
    _, problems = read(text)
    return next(each for each in problems if each.rule == rule)


@pytest.mark.parametrize(("old", "new", "rule", "line", "phrase"), [
    (", cite: book page 2", "", "cite-missing", 11, "this figure has no source"),
    ("  cite: book page 1\n", "", "cite-missing", 5, "no source"),
    ("max 0.10 mm", "max 0.10", "statement", 11, "no unit"),
    ("max 0.10 mm", "max 0.10 N.m", "unit-kind", 11, "measures torque; a length was expected"),
    ("max 0.10 mm", "max. 0.10mm", "canonical-form", 11, "understood, but written otherwise"),
])
def test_a_figure_that_cannot_stand_is_reported_at_its_line(read, old, new, rule, line, phrase):
    problem = problem_of(read, SMALL.replace(old, new), rule)
    assert problem.line == line
    assert phrase in problem.message
    assert problem.hint


@pytest.mark.parametrize(("old", "new", "rule", "phrase", "hint"), [
    ("group: short", "group: shrot", "group-known", "'shrot', which is not among the groups", "did you mean short?"),
    ("[A1, A2, B1]", "[A1, A2, B2]", "place-known", "names 'B2'", "known here: A1, A2, B1"),
    ("[A1, A2, B1]", "[A1, A2, A1]", "order-once", "names A1 a second time", "once"),
    ("order: all, groups", "order: al, groups", "order-known", "'al', which is not among the orders", "did you mean all?"),
    ("groups: [long]", "groups: [lang]", "group-known", "'lang'", "did you mean long?"),
    ("90 deg", "90 N.m", "unit-kind", "a stage of angle needs a figure of angle", "change the unit"),
    ("    cite: book page 3\n", "", "cite-missing", "no source", "add 'cite"),
])
def test_names_inside_a_set(read, old, new, rule, phrase, hint):
    problem = problem_of(read, SMALL + SET.replace(old, new), rule)
    assert phrase in problem.message
    assert hint in problem.hint


def test_a_stage_covers_the_places_of_its_groups_in_order(read):
    engine, problems = read(SMALL + SET)
    assert problems == []
    head = engine.sets["head"]
    assert [head.covered(stage) for stage in head.stages] == [["A1", "A2", "B1"], ["A1", "A2"]]


def test_a_block_gives_its_members_one_source(read):
    engine, _ = read(SMALL + SET)
    assert str(engine.at("identity.fuel")[0].cite.place) == "page 1"
    assert {fact.cite.place for fact in engine.below("fasteners.head")} == {"page 3"}


def test_facts_are_found_by_place_and_by_pattern(read):
    engine, _ = read(SMALL + SET)
    assert engine.says("identity.fuel") == "gasoline"
    assert engine.says("identity.cooling") == ""
    assert [fact.text for fact in engine.below("fasteners.head.groups.*.count")] == ["2", "1"]


def test_the_revision_is_of_the_content_not_of_its_layout(read):
    one, _ = read(SMALL)
    same, _ = read("# a remark\n" + SMALL.replace("sources: [book]", "sources:\n  - book"))
    other, _ = read(SMALL.replace("0.10 mm", "0.11 mm"))
    assert one.revision == same.revision != other.revision
    assert len(one.revision) == 8


def test_no_conversion_where_the_printed_units_disagree(library):
    engine = library.engines["fork-lift-truck-tm-10-3930-653-14-and-p"]
    torque = engine.at("fasteners.head.torque")[0]
    assert [str(each) for each in torque.printed] == ["8.0 to 9.5 kgf.m", "59 to 69 lbf.ft"]
    assert torque.conversions == ()
