"""The bolt-order diagram: every bolt numbered by its turn, readable on a phone, nothing touching."""

import re
import xml.etree.ElementTree as ET
from itertools import combinations
from math import hypot

import pytest

from generator.pages.diagram import NUMBER, RADIUS, order_diagrams
from tests.conftest import SMALL
from tests.record.test_engine import SET

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def drawing(library):
    engine = library.engines["quennith-four"]
    return engine.sets["head"], ET.fromstring(order_diagrams(engine, engine.sets["head"])[0])


def numbers(drawing):
    return {text.text: (float(text.get("x")), float(text.get("y"))) for text in drawing.iter(f"{SVG}text") if text.get("class") == "turn"}


def test_every_bolt_has_its_turn(drawing):
    _, svg = drawing
    assert sorted(map(int, numbers(svg))) == list(range(1, 11))


def test_places_are_seen_from_the_wrench_side(drawing):
    head, svg = drawing
    found = numbers(svg)
    for (one, a), (other, b) in combinations(enumerate(head.orders["all"], start=1), 2):
        left, right = head.spots[a], head.spots[b]
        assert (left.x < right.x) == (found[str(one)][0] < found[str(other)][0])
        assert (left.y < right.y) == (found[str(one)][1] > found[str(other)][1])


def test_numbers_are_large_and_apart(drawing):
    _, svg = drawing
    assert NUMBER >= 24
    assert all(hypot(a[0] - b[0], a[1] - b[1]) >= 2 * RADIUS for a, b in combinations(numbers(svg).values(), 2))


def test_front_and_exhaust_side_are_named_and_the_order_stands_in_words(drawing):
    _, svg = drawing
    words = [text.text for text in svg.iter(f"{SVG}text") if text.get("class") == "edge"]
    assert words == ["front", "exhaust side"]
    assert "1 is A3, 2 is B3" in svg.find(f"{SVG}title").text


def test_groups_are_told_apart_by_shape(read):
    engine, _ = read(SMALL + SET)
    svg = ET.fromstring(order_diagrams(engine, engine.sets["head"])[0])
    bolts = [bolt[0].tag.removeprefix(SVG) for bolt in svg.iter(f"{SVG}g")]
    assert bolts == ["circle", "circle", "rect"]


def test_close_bolts_make_the_drawing_wider_instead_of_touching(read):
    engine, _ = read(SMALL + SET.replace("[50, 0]", "[5, 0]"))
    svg = ET.fromstring(order_diagrams(engine, engine.sets["head"])[0])
    found = numbers(svg)
    assert hypot(found["1"][0] - found["2"][0], found["1"][1] - found["2"][1]) >= 2 * RADIUS
    assert re.search(r"min-width:(\d+)px", svg.get("style"))


def test_without_places_nothing_is_drawn(read):
    without = SET[: SET.index("    places")] + SET[SET.index("    tightening") :]
    engine, _ = read(SMALL + without.replace("{all: [A1, A2, B1]}", "{in_figure: Fig. 1}"))
    assert order_diagrams(engine, engine.sets["head"]) == []
