"""Which drawings a set needs, what the angles of a stage amount to, and where each place stands, in words."""

import pytest

from generator.pages.views import courses, head_words, views, where_words
from generator.record.fasteners import Spot
from tests.conftest import SMALL
from tests.record.test_engine import SET

HEADS = """\
geometry:
  cite: book page 4
  heads:
    left: {front: left, exhaust: bottom, bores: {"1": {at: [25, 20], diameter: 30}}}
    right: {front: left, exhaust: top, bores: {"2": {at: [25, 20], diameter: 30}}}
"""


def drawn(read, text, key="head"):
    """(heads, places) of each view."""
    engine, _ = read(SMALL + text)
    return [(tuple(head.name for head in view.heads), tuple(spot.name for spot in view.spots)) for view in views(engine, engine.sets[key])]


def held(text, **heads):
    for name, words in heads.items():
        text = text.replace(f"{name}: {{", f"{name}: {{heads: [{words}], ")
    return text


ALL = ("A1", "A2", "B1")


def test_places_that_hold_for_each_head_make_a_drawing_a_head(read):
    assert drawn(read, SET.replace("  head:\n", "  head:\n    per: head\n") + HEADS) == [(("left",), ALL), (("right",), ALL)]


def test_heads_that_share_a_bolt_are_drawn_together(read):
    text = held(SET, A1="left", A2="left, right", B1="right") + HEADS
    assert drawn(read, text) == [(("left", "right"), ALL)]


def test_places_that_name_their_head_are_drawn_on_it_alone(read):
    text = held(SET, A1="left", A2="left", B1="right") + HEADS
    assert drawn(read, text) == [(("left",), ("A1", "A2")), (("right",), ("B1",))]


def test_a_set_that_is_not_on_the_head_is_drawn_without_it(read):
    assert drawn(read, SET.replace("  head:\n", "  intake_manifold:\n    per: engine\n") + HEADS, "intake_manifold") == [((), ALL)]
    assert drawn(read, SET.replace("  head:\n", "  rocker_brackets:\n    per: cylinder\n") + HEADS, "rocker_brackets") == [((), ALL)]


def test_without_places_there_is_no_view(read):
    assert drawn(read, SET[: SET.index("    places")] + SET[SET.index("    tightening") :] + HEADS) == []


def test_angles_of_a_group_stage_by_stage(read):
    more = SET + "        - {do: angle, order: all, groups: [long], figure: [{printed: [60 deg]}]}\n"
    engine, _ = read(SMALL + more)
    (course,) = courses(engine.sets["head"])
    assert course.angles == {"long": (90.0, 60.0)}
    assert course.turns == {"A1": 1, "A2": 2, "B1": 3}
    assert course.title == "Tightening order, stages 1 to 3"


@pytest.mark.parametrize("figure", [
    "[{printed: [90 deg]}, {printed: [60 deg]}]",
    "[{printed: [80 to 90 deg]}]",
    '[{printed: [90 deg], doubt: {kind: scan, says: "read as 9 deg"}}]',
    "[{printed: [90 deg], status: contested}]",
])
def test_an_angle_that_is_not_settled_is_not_swept(read, figure):
    engine, _ = read(SMALL + SET.replace("[{printed: [90 deg]}]", figure))
    assert [course.angles for course in courses(engine.sets["head"])] == [{}]


def test_a_replaced_angle_gives_way_to_the_one_that_replaces_it(read):
    figure = "[{printed: [90 deg], superseded_by: book page 9}, {printed: [60 deg]}]"
    engine, _ = read(SMALL + SET.replace("[{printed: [90 deg]}]", figure))
    assert [course.angles for course in courses(engine.sets["head"])] == [{"long": (60.0,)}]


def test_each_order_and_the_loosening_order_have_a_course(library):
    found = [(course.key, course.title) for course in courses(library.engines["ombrisk-v6"].sets["head"])]
    assert found == [
        ("main", "Tightening order main, stages 1 to 5"), ("case", "Tightening order case, stage 6"), ("loosening", "Loosening order"),
    ]


def test_where_a_place_stands():
    spots = [Spot(name, x, y, "all") for name, x, y in (("a", 0, 50), ("b", 90, 50), ("c", 0, 0), ("d", 40, 5), ("e", 90, -50))]
    assert where_words(spots) == {
        "a": "top row, 1 of 2 from the left", "b": "top row, 2 of 2 from the left", "c": "row 2 from the top, 1 of 2 from the left",
        "d": "row 2 from the top, 2 of 2 from the left", "e": "bottom row",
    }
    assert where_words([Spot("a", 0, 0, "all"), Spot("b", 9, 0, "all")]) == {"a": "1 of 2 from the left", "b": "2 of 2 from the left"}


def test_heads_have_names_for_people(library):
    assert [head_words(head) for head in library.engines["pelmadorn-six"].heads[:2]] == ["head 1", "head 2"]
    assert [head_words(head) for head in library.engines["ombrisk-v6"].heads] == ["head left", "head right"]
