"""Records: every figure with its source, statements parsed, names that stand for something."""

import pytest

from generator.record.facts import Compared
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
    ("max 0.10 mm", "max 0.10 N.m", "unit-kind", 11, "measures torque; length was expected"),
    ("max 0.10 mm", "max. 0.10mm", "canonical-form", 11, "understood, but written otherwise"),
])
def test_a_figure_that_cannot_stand_is_reported_at_its_line(read, old, new, rule, line, phrase):
    problem = problem_of(read, SMALL.replace(old, new), rule)
    assert problem.line == line
    assert phrase in problem.message
    assert problem.hint


@pytest.mark.parametrize(("printed", "hint"), [
    ("35", "write the unit that is printed; units for length: mm, um"),
    ("35 milimetre", "did you mean mm? (units for length: mm, um"),
    ("35 nm", "did you mean m? (units for length"),
    ("35 qt", "write qt(US) or qt(imp)"),
    ("35 N.m", "move the figure to its own key; units for length: mm, um, m, in, uin, ft"),
    ("1 thou", "one thou is 0.001 in"),
    ("2⅞ in", "write the fraction with a stroke: 2 7/8 in"),
])
def test_units_that_belong_to_the_key_are_named(read, printed, hint):
    _, problems = read(SMALL.replace("max 0.10 mm, max 0.0039 in", f"'{printed}'"))
    assert [hint in problem.hint for problem in problems] == [True]


@pytest.mark.parametrize(("old", "new", "lines"), [
    ("    cite: book page 3\n", "", [(13, "none of the 6 facts in 'head' has a source")]),
    ("  cite: book page 1\n", "", [(5, "what stands here has no source")]),
    (", cite: book page 2", "", [(11, "this figure has no source")]),
    ("cite: book page 3", "cites: book page 3", []),
    ("cite: book page 2", "source: book page 2", []),
])
def test_a_missing_source_is_told_once(read, old, new, lines):
    text = SMALL + SET
    assert old in text
    _, problems = read(text.replace(old, new))
    assert [(each.line, each.message) for each in problems if each.rule == "cite-missing"] == lines


def test_an_order_has_a_source_too(read):
    text = SET.replace("    cite: book page 3\n", "").replace("kind: bolt, count", "cite: book page 3, kind: bolt, count")
    assert "the order has no source" in [each.message for each in read(SMALL + text)[1]]


def test_places_without_groups_are_told_once(read):
    text = SET[: SET.index("    groups")] + SET[SET.index("    places") :]
    found = [(each.rule, each.message) for each in read(SMALL + text)[1] if "place" in each.message]
    assert found == [("group-known", "the places name groups, but 'head' has no groups")]


def test_an_order_without_places_is_told_once(read):
    without = SET[: SET.index("    places")] + SET[SET.index("    tightening") :]
    _, problems = read(SMALL + without)
    assert [(each.rule, each.message) for each in problems] == [("place-known", "the order names places, but 'head' has no places")]


@pytest.mark.parametrize(("old", "new", "rule", "phrase", "hint"), [
    ("group: short", "group: shrot", "group-known", "'shrot', which is not among the groups", "did you mean short?"),
    ("[A1, A2, B1]", "[A1, A2, B2]", "place-known", "names 'B2'", "known here: A1, A2, B1"),
    ("[A1, A2, B1]", "[A1, A2, A1]", "order-once", "names A1 a second time", "once"),
    ("order: all, groups", "order: al, groups", "order-known", "'al', which is not among the orders", "did you mean all?"),
    ("groups: [long]", "groups: [lang]", "group-known", "'lang'", "did you mean long?"),
    ("90 deg", "90 N.m", "unit-kind", "a stage of angle needs a figure of angle", "change the unit"),
    ("    cite: book page 3\n", "", "cite-missing", "facts in 'head' has a source", "add 'cite"),
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


def test_a_place_says_which_heads_it_holds_and_how_deep_its_hole_is(read):
    place = "B1: {at: [0, 40], group: short, heads: [left], hole: {opens: coolant, depth: [{printed: [32 mm]}]}}"
    drawn = "geometry: {cite: book page 4, heads: {left: {round: {at: [0, 0], diameter: 90}}}}\n"
    text = SMALL + SET.replace("B1: {at: [0, 40], group: short}", place)
    engine, problems = read(text + drawn)
    assert problems == []
    spot = engine.sets["head"].spots["B1"]
    assert (spot.heads, spot.opens, [str(fact.printed[0]) for fact in spot.depth]) == (("left",), "coolant", ["32 mm"])
    assert engine.heads[0].round.diameter == 90
    assert "is no head of the geometry" in problem_of(read, text + drawn.replace("left:", "right:"), "head-known").message


def test_compared_says_when_and_with_which_edition(read):
    compared = "status: compared, compared: {day: \"2026-03-14\", edition: March 1961}, cite: book page 2"
    engine, problems = read(SMALL.replace("cite: book page 2", compared))
    assert problems == []
    fact = engine.at("faces.head.flatness.any")[0]
    assert (fact.status, fact.compared) == ("compared", Compared("2026-03-14", "March 1961"))
    assert engine.at("identity.fuel")[0].compared is None
    assert "'compared'" in problem_of(read, SMALL.replace("cite: book page 2", "status: compared, cite: book page 2"), "schema-required").message


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


def test_what_is_worked_out_of_a_record_is_forgotten_unless_it_is_kept(read):
    engine, _ = read(SMALL)
    made = []
    for _ in range(2):
        engine.once("rule", lambda _: made.append("rule"))
        engine.once("index", lambda _: made.append("index"), kept=True)
        engine.forget()
    assert made == ["rule", "index", "rule"]
