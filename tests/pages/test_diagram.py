"""The bolt-order diagram: every bolt numbered by its turn, readable on a phone and on paper, nothing touching or hidden."""

import re
import xml.etree.ElementTree as ET
from itertools import combinations
from math import atan2, degrees, hypot

import pytest

from generator.pages.diagram import PHONE, diagrams, paper
from generator.pages.drawing import RADIUS, swept
from tests.conftest import SMALL
from tests.record.test_engine import SET

SVG = "{http://www.w3.org/2000/svg}"
# What each invented engine's head must come out as: (course, heads) of every drawing.
EXPECTED = {
    "quennith-four": [("all", ("head",)), ("loosening", ("head",))],
    "ombrisk-v6": [(course, (head,)) for course in ("main", "case", "loosening") for head in ("left", "right")],
    "gruvhalt-v8": [(course, (head,)) for course in ("all", "loosening") for head in ("left", "right")],
    "pelmadorn-six": [(course, tuple(f"head-{n}" for n in range(1, 7))) for course in ("all", "loosening")],
    "wrennockle-twin": [(course, (head,)) for course in ("all", "loosening") for head in ("left", "right")],
    "zibbeltane-single": [("all", ("head",)), ("loosening", ("head",))],
    "yarbindel-four": [],
}


def every(library, medium=PHONE):
    """(engine, set, diagram, svg) of every drawing of every record."""
    for engine in library.engines.values():
        for each in engine.sets.values():
            for diagram in diagrams(engine, each, medium):
                yield engine, each, diagram, ET.fromstring(diagram.svg)


def drawn(engine, key="head", medium=PHONE):
    return [(diagram, ET.fromstring(diagram.svg)) for diagram in diagrams(engine, engine.sets[key], medium)]


def numbers(svg):
    return {int(text.text): (float(text.get("x")), float(text.get("y"))) for text in svg.iter(f"{SVG}text") if text.get("class") == "turn"}


def part(svg, name):
    """The group in which marks of one kind stand; an empty one where there are none."""
    return next((each for each in svg.iter(f"{SVG}g") if each.get("class") == name), ET.Element("g"))


def shape_of(svg, number):
    """The mark under a number: numbered ones stand last, in the order of their numbers' texts."""
    texts = list(part(svg, "turns"))
    index = [text.text for text in texts].index(str(number))
    return part(svg, "bolts")[index - len(texts)]


@pytest.mark.parametrize("engine", EXPECTED)
def test_each_shape_of_engine_gets_its_drawings(library, engine):
    assert [(diagram.course, diagram.heads) for diagram, _ in drawn(library.engines[engine])] == EXPECTED[engine]


def test_every_bolt_of_an_order_has_its_turn_and_no_other(library):
    for _, each, diagram, svg in every(library):
        order = each.loosening if diagram.course == "loosening" else each.orders[diagram.course]
        heads = {name: set(each.spots[name].heads or diagram.heads) for name in order}
        held = [turn for turn, name in enumerate(order, start=1) if not diagram.heads or heads[name] & set(diagram.heads)]
        assert sorted(numbers(svg)) == held == [turn.number for turn in diagram.turns], diagram.key
        assert [turn.name for turn in diagram.turns] == [order[number - 1] for number in held]


def test_places_are_seen_from_the_wrench_side(library):
    for _, each, diagram, svg in every(library):
        found = numbers(svg)
        for one, other in combinations(diagram.turns, 2):
            (x1, y1), (x2, y2) = found[one.number], found[other.number]
            left, right = each.spots[one.name], each.spots[other.name]
            assert (left.x < right.x) == (x1 < x2) and (left.y < right.y) == (y1 > y2), diagram.key


@pytest.mark.parametrize(("medium", "least"), [(PHONE, 24.0), (paper(), 5.0), (paper(92.0), 5.0)], ids=["phone", "paper", "column"])
def test_numbers_are_large_and_no_two_marks_touch(library, medium, least):
    for _, _, diagram, svg in every(library, medium):
        unit = diagram.width / float(svg.get("viewBox").split()[2])
        assert float(part(svg, "turns").get("font-size")) * unit >= least - 1e-3, diagram.key
        assert all(hypot(a[0] - b[0], a[1] - b[1]) >= 2 * RADIUS for a, b in combinations(numbers(svg).values(), 2)), diagram.key


def test_every_invented_drawing_fits_across_a4_and_letter(library):
    for engine, _, diagram, svg in every(library, paper()):
        assert diagram.width <= 186.0, (engine.id, diagram.key)
        assert (svg.get("width"), svg.get("height")) == (f"{diagram.width}mm", f"{diagram.height}mm")


def test_paper_takes_smaller_numbers_before_it_grows_too_wide(library):
    engine = library.engines["ombrisk-v6"]
    wide, narrow = (diagrams(engine, engine.sets["cam_caps"], paper(room))[0] for room in (186.0, 118.0))
    heights = [diagram.width / float(ET.fromstring(diagram.svg).get("viewBox").split()[2]) * 24 for diagram in (wide, narrow)]
    assert heights == [pytest.approx(7.3, abs=0.01), pytest.approx(5.0, abs=0.01)]
    assert narrow.width <= 118.0


def test_everything_lies_inside_the_drawing(library):
    for _, _, diagram, svg in every(library):
        width, height = map(float, svg.get("viewBox").split()[2:])
        for x, y in numbers(svg).values():
            assert RADIUS <= x <= width - RADIUS and RADIUS <= y <= height - RADIUS, diagram.key
        for text in svg.iter(f"{SVG}text"):
            assert 0 <= float(text.get("x")) <= width and 0 <= float(text.get("y")) <= height, diagram.key


def test_front_and_exhaust_side_stand_at_their_edges(library):
    for diagram, svg in drawn(library.engines["gruvhalt-v8"]):
        edges = {text.text: (float(text.get("x")), float(text.get("y"))) for text in svg.iter(f"{SVG}text") if text.get("class") == "edge"}
        xs, ys = zip(*numbers(svg).values(), strict=True)
        assert (edges["front"][0] < min(xs)) == (diagram.heads == ("left",))
        assert (edges["front"][0] > max(xs)) == (diagram.heads == ("right",))
        assert edges["exhaust side"][1] > max(ys)


def test_what_a_phone_shows_first_names_front_and_exhaust_side(library):
    for engine, _, diagram, svg in every(library):
        for text in svg.iter(f"{SVG}text"):
            if text.get("class") == "edge" and text.text == "exhaust side":
                assert float(text.get("x")) <= PHONE.room / 2, (engine.id, diagram.key)


def test_outlines_bores_and_dowels(library):
    _, svg = drawn(library.engines["pelmadorn-six"])[0]
    outlines = [each for each in svg.iter(f"{SVG}polygon") if each.get("class") == "outline"]
    bores = [each for each in svg.iter(f"{SVG}circle") if each.get("class") == "bore"]
    assert (len(outlines), len(bores)) == (6, 6)
    assert part(svg, "bores").get("stroke-dasharray") and part(svg, "bores").get("fill") == "none"
    _, svg = drawn(library.engines["wrennockle-twin"])[0]
    face, bore = (next(each for each in svg.iter(f"{SVG}circle") if each.get("class") == name) for name in ("outline", "bore"))
    assert float(face.get("r")) / float(bore.get("r")) == pytest.approx(136 / 78, rel=0.01)


def test_a_dowel_is_never_hidden_by_a_bolt(library):
    for _, _, diagram, svg in every(library):
        dowels = [(float(each.get("cx")), float(each.get("cy"))) for each in svg.iter(f"{SVG}circle") if each.get("class") == "dowel"]
        assert all(hypot(x - a, y - b) > RADIUS for x, y in dowels for a, b in numbers(svg).values()), diagram.key


def test_groups_are_told_apart_by_shape_and_named(library):
    engine = library.engines["gruvhalt-v8"]
    diagram, svg = drawn(engine)[0]
    shapes = {}
    for turn in diagram.turns:
        mark = shape_of(svg, turn.number)
        shapes.setdefault(engine.sets["head"].spots[turn.name].group, set()).add((mark.tag, len((mark.get("points") or "").split())))
    assert all(len(found) == 1 for found in shapes.values())
    assert len(set.union(*shapes.values())) == 3
    legend = " ".join(text.text for text in svg.iter(f"{SVG}text") if text.get("class") == "legend")
    assert all(f"{name} bolts, 1/2-13" in legend for name in ("long", "medium", "short"))
    assert {turn.group for turn in diagram.turns} == {"long bolts", "medium bolts", "short bolts"}


def test_only_black_white_and_grey(library):
    for _, _, diagram, _ in every(library):
        assert set(re.findall(r"#[0-9a-f]+", diagram.svg)) - {"#diagram"} <= {"#000", "#fff", "#555", "#8a8a8a"}


def test_orders_that_stand_apart_are_drawn_apart(library):
    found = {diagram.key: svg for diagram, svg in drawn(library.engines["ombrisk-v6"])}
    main, case = found["head-main-left"], found["head-case-left"]
    assert (sorted(numbers(main)), sorted(numbers(case))) == ([1, 2, 3, 4, 5, 6, 7, 8], [1, 2])
    for svg in (main, case):
        assert len(part(svg, "bolts")) == 10
        assert any(text.text == "without a number: not in this order" for text in svg.iter(f"{SVG}text"))


def test_angle_stages_are_swept_and_torque_is_not(library):
    found = {diagram.key: svg for diagram, svg in drawn(library.engines["ombrisk-v6"])}
    sweeps = {key: len([each for each in svg.iter(f"{SVG}path") if each.get("class") == "sweep"]) for key, svg in found.items()}
    assert sweeps["head-main-left"] == 16  # eight bolts, two stages
    assert sweeps["head-case-left"] == sweeps["head-loosening-left"] == 0
    assert "turned further by 90° and 90°" in " ".join(text.text for text in found["head-main-left"].iter(f"{SVG}text"))


def turned(path):
    """Degrees, clockwise, from the top to the end of a sweep round (0, 0)."""
    x, y = map(float, path.rsplit(" ", 1)[1].split(","))
    return degrees(atan2(x, -y)) % 360


@pytest.mark.parametrize(("angles", "ends"), [
    ((90,), [90]), ((90, 90), [90, 180]), ((60, 60, 60), [60, 120, 180]), ((300,), [300]), ((360,), [345]), ((200, 200), [200, 345]),
])
def test_a_sweep_ends_at_its_angle(angles, ends):
    paths, arrow = swept(0, 0, 100, angles)
    assert [turned(path) for path in paths] == [pytest.approx(end, abs=0.1) for end in ends]
    assert arrow
    assert [path.split()[2] for path in paths] == [str(int(b - a > 180)) for a, b in zip([0, *ends], ends, strict=False)]


def test_a_left_hand_thread_is_swept_the_other_way():
    (path,), _ = swept(0, 0, 100, (90,), -1)
    assert turned(path) == pytest.approx(270, abs=0.1)
    assert path.split()[3] == "0"
    assert swept(0, 0, 100, ()) == ((), "")


def test_the_same_in_words(library):
    diagram, svg = drawn(library.engines["ombrisk-v6"])[2]
    assert diagram.text == (
        "Tightening order case, stage 6, head left. Seen square on from the wrench's side, front at the left, exhaust side at the bottom. "
        "1: C1, bottom row, 1 of 5 from the left, timing-case bolts; 2: C2, top row, 1 of 5 from the left, timing-case bolts."
    )
    assert svg.find(f"{SVG}title").text == diagram.title
    assert svg.get("role") == "img" and "ightening order" in (svg.find(f"{SVG}title").text or "")


def test_keys_are_unique_and_fit_for_ids(library):
    for engine in library.engines.values():
        keys = [diagram.key for each in engine.sets.values() for diagram in diagrams(engine, each)]
        assert len(keys) == len(set(keys))
        assert all(re.fullmatch(r"[A-Za-z0-9-]+", key) for key in keys)


def test_close_bolts_make_the_drawing_wider_instead_of_touching(read):
    engine, _ = read(SMALL + SET.replace("[50, 0]", "[5, 0]"))
    ((diagram, svg),) = drawn(engine)
    found = numbers(svg)
    assert hypot(found[1][0] - found[2][0], found[1][1] - found[2][1]) >= 2 * RADIUS
    assert svg.get("style") == f"min-width:{diagram.width}px"


def test_a_drawing_needs_no_style_sheet(library):
    for _, _, _, svg in every(library):
        assert svg.get("font-size") and svg.get("text-anchor") and svg.get("dominant-baseline")
        for name, needed in (("bores", "fill stroke stroke-dasharray"), ("bolts", "fill stroke"), ("sweeps", "fill stroke"), ("turns", "font-size")):
            assert all(part(svg, name).get(each) for each in needed.split()) or not len(part(svg, name)), name


def test_without_places_or_order_nothing_is_drawn(read):
    without = SET[: SET.index("    places")] + SET[SET.index("    tightening") :]
    engine, _ = read(SMALL + without.replace("{all: [A1, A2, B1]}", "{in_figure: Fig. 1}"))
    assert diagrams(engine, engine.sets["head"]) == []
    engine, _ = read(SMALL + SET[: SET.index("    tightening")])
    assert diagrams(engine, engine.sets["head"]) == []
