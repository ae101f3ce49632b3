"""The invented engines: between them every key of the schema, six without a gap or a doubt, and figures that could be true."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from itertools import pairwise
from math import hypot, pi
from typing import Any

import pytest

from generator.audit import audit
from generator.audit.values import nut_factors, only, strengths, thread_sizes, value
from generator.calculations.preload import preload
from generator.calculations.threads import BOTTOMS, CLEAR, bolt_in_hole, loads, parse_thread, size_of, strength_of
from generator.pages.engine import engine_page
from generator.pages.procedure import procedure_page
from generator.pages.request import request
from generator.pages.sheet import sheet
from generator.quantities import AGREE, Quantity
from generator.reading import Shape
from generator.record.procedure import UNKNOWN, applies

CLEAN = ("quennith-four", "ombrisk-v6", "gruvhalt-v8", "pelmadorn-six", "wrennockle-twin", "zibbeltane-single")
DOUBTFUL = "yarbindel-four"
# Keys that no invented engine needs to show, each with the reason.
NOT_SHOWN = {
    "exceptions": "an invented record has no warning to except",
    "exceptions.*.rule": "as above",
    "exceptions.*.at": "as above",
    "exceptions.*.reason": "as above",
}
LEAVES = ("figures", "designation", "statement")


@pytest.fixture(params=CLEAN)
def clean(request, library):
    return library.engines[request.param]


@pytest.fixture(scope="module")
def demo(library):
    return [engine for engine in library.engines.values() if engine.invented]


# Every key


class Keys:
    """Keys of the schema: one key of one shape is one key, wherever the shape is used again. cite is one key everywhere."""

    def __init__(self, shape: Shape) -> None:
        self.paths: dict[Any, str] = {}
        self.gather(shape, ())

    def gather(self, shape: Shape, path: tuple[str, ...]) -> None:
        for key, child in members(shape):
            if (known := identity(shape, key)) not in self.paths:
                self.paths[known] = ".".join((*path, key))
                self.gather(child, (*path, key))
        for below in (shape.others, shape.items):
            if below:
                self.gather(below, (*path, "*"))


def members(shape: Shape) -> Iterator[tuple[str, Shape]]:
    """Keys of a shape, with those that stand under a condition."""
    yield from shape.children.items()
    for branch in ("then", "else"):
        node = shape.node.get(branch)
        if isinstance(node, dict) and "properties" in node and not shape.leaf:
            yield from shape._below(node).children.items()


def identity(shape: Shape, key: str) -> Any:
    if key == "cite":
        return "cite"
    owner = shape.leaf if shape.leaf in LEAVES else next(
        (id(node["properties"]) for node in (shape.node, shape.node.get("then"), shape.node.get("else"))
         if isinstance(node, dict) and key in node.get("properties", {})), 0,
    )
    return (owner, key)


def used(data: Any, shape: Shape) -> Iterator[Any]:
    known = dict(members(shape))
    if isinstance(data, dict):
        for key, item in data.items():
            if key in known:
                yield identity(shape, key)
            child = known.get(key) or shape.others
            if child:
                yield from used(item, child)
    elif isinstance(data, list) and shape.items:
        for item in data:
            yield from used(item, shape.items)


def test_every_key_of_the_schema_stands_in_an_invented_engine(demo, schemas):
    shape = schemas.shape("engine")
    keys = Keys(shape)
    seen = {each for engine in demo for each in used(engine.file.data, shape)}
    unused = {path for known, path in keys.paths.items() if known not in seen}
    assert len(keys.paths) > 250
    assert unused == set(NOT_SHOWN)


def test_every_word_that_the_shape_of_an_engine_turns_on_is_there(demo):
    """Every kind of stage, both walks, every hole and hand, several figures side by side, one replaced."""
    stages = [stage for engine in demo for each in engine.sets.values() for stage in each.stages]
    assert {stage.do for stage in stages} == {"torque", "angle", "loosen", "recheck", "steps", "wait", "retorque"}
    assert {each.walk for engine in demo for each in engine.sets.values()} >= {"stage by stage", "bolt by bolt"}
    assert {spot.opens for engine in demo for each in engine.sets.values() for spot in each.spots.values()} >= {"nothing", "coolant", "oil"}
    twin = next(engine for engine in demo if engine.id == "wrennockle-twin")
    assert {fact.cite.source for fact in twin.at("tests.compression.minimum")} == {"wrennockle-engine-book", "wrennockle-field-book"}


# No gap, no doubt


def test_a_clean_record_has_no_problem_no_doubt_and_no_exception(clean, library):
    assert [problem for problem in [*library.problems, *audit(library)] if problem.file == clean.file.name and problem.level != "note"] == []
    assert "exceptions" not in clean.file.data
    for fact in clean.facts:
        assert (fact.doubt, fact.agreement.verdict) == (None, AGREE), fact.at
        assert fact.status != "contested"
    assert not any(stage.doubt for each in clean.sets.values() for stage in each.stages)


def words(page) -> str:
    return unescape(re.sub(r"<[^>]+>", " ", page.body))


def test_a_clean_record_has_no_gap_on_its_pages(clean, library):
    assert "not in this record" not in words(engine_page(clean, library, None)).lower()
    assert "not in this record" not in words(procedure_page(clean, library)).lower()
    for paper in (sheet(clean, library), request(clean, library)):
        assert "not in this record" not in paper.lower()


def test_a_clean_record_answers_every_condition_of_the_procedure(clean, library):
    """A step under its own condition is a gap too; of what an engine without valves has no drive, nothing can be said."""
    steps = [step for phase in library.phases for step in phase.steps]
    conditions = [step.when for step in steps] + [caution.when for caution in library.cautions.values()]
    unsaid = {key for when in conditions if applies(when, clean) == UNKNOWN for key, _ in when if not clean.says(f"identity.{key}")}
    assert unsaid <= ({"cam_drive"} if clean.says("identity.valve_train") == "none" else set())


def test_every_page_says_that_its_engine_is_invented(demo, library):
    for engine in demo:
        assert words(engine_page(engine, library, None)).count("Invented for demonstration. Not for work on any engine.") >= 2
        assert all(library.sources[source].invented for source in engine.sources)


# A record with doubts


def test_the_doubtful_record_has_what_a_walk_through_must_not_pass_over(library):
    engine = library.engines[DOUBTFUL]
    head = engine.sets["head"]
    assert (head.orders, head.order_in_figure, head.loosening_in_figure) == ({}, "drawing 9, not transcribed", "drawing 8, not transcribed")
    figures = [fact for stage in head.stages for fact in stage.figures]
    assert any(fact.printed[0].form == "range" for fact in figures)
    assert {fact.agreement.verdict for fact in figures} == {"agree", "disagree", "agree if trailing zeros are rounding"}
    assert any(fact.status == "contested" for fact in figures) and any(fact.superseded_by for fact in figures)
    doubts = {fact.doubt.kind for fact in engine.facts if fact.doubt} | {stage.doubt.kind for stage in head.stages if stage.doubt}
    assert doubts == {"manual", "scan", "rounding"}


# Figures that could be true


def length(facts) -> float:
    """The value in mm; of a range or tolerance its middle."""
    statement = only(facts)
    ends = [end for end in (statement.low, statement.high) if end is not None]
    return float(statement.unit.to_base(sum(ends) / len(ends))) * 1000


def volume(facts) -> float:
    """The value in cm3."""
    statement = only(facts)
    return float(statement.unit.to_base(statement.numbers[0].value)) * 1e6


def swept(engine) -> float:
    return pi / 4 * length(engine.at("identity.bore")) ** 2 * length(engine.at("identity.stroke")) / 1000


def test_displacement_is_bore_stroke_and_cylinders(demo):
    for engine in demo:
        whole = swept(engine) * int(engine.says("identity.cylinders"))
        assert whole == pytest.approx(volume(engine.at("identity.displacement")), rel=0.005), engine.id


def called(engine, label):
    """The figure that the source calls so, or nothing."""
    return tuple(fact for fact in engine.below("other") if fact.kind == "figure" and label in " ".join(fact.labels))


def test_ratio_fits_chamber_gasket_and_piston(clean):
    thickness = clean.at("gasket.thickness") or clean.by_key[("gasket", "choice", "sizes", 1, "thickness")]
    gap = pi / 4 * length(clean.at("gasket.bore")) ** 2 * length(thickness) / 1000
    above = pi / 4 * length(clean.at("identity.bore")) ** 2 * length(clean.at("bores.piston_protrusion")) / 1000
    bowl = called(clean, "bowl")
    clearance = volume(clean.at("faces.head.chamber.volume")) + gap - above + (volume(bowl) if bowl else 0.0)
    stroke, closed = length(clean.at("identity.stroke")), called(clean, "exhaust port closes")
    taken = swept(clean) * (length(closed) / stroke if clean.says("identity.ratio_over") == "port closing" else 1.0)
    assert (taken + clearance) / clearance == pytest.approx(float(only(clean.at("identity.ratio")).numbers[0].value), rel=0.01)


def test_the_chamber_is_no_wider_than_the_bore(clean):
    statement = only(clean.at("faces.head.chamber.area"))
    assert float(statement.unit.to_base(statement.numbers[0].value)) * 1e6 <= pi / 4 * length(clean.at("identity.bore")) ** 2 * 1.001


def test_removal_fits_the_height(clean):
    new, least, total = (only(clean.at(f"faces.head.{key}")) for key in ("height.new", "height.minimum", "stock_removal.total"))
    assert float(new.low - total.high) == pytest.approx(float(least.low))


def torques(library, engine) -> Iterator[tuple[str, float, Any, Any, bool]]:
    """(place, torque in N.m, group, treatment, angle follows) of every torque on a thread of known class."""
    for key, each in engine.sets.items():
        for name, group in each.groups.items():
            if "class" in group:
                for at, statement, follows in printed(engine, each, name):
                    yield f"{key} {at}", statement, group, group.get("treatment", {}).get("thread", "dry"), follows


def printed(engine, each, group) -> Iterator[tuple[str, Any, bool]]:
    """The last torque of a group before an angle, or its last torque of all."""
    own = ("", each.groups[group].get("label"))
    facts = [(fact.called, fact, False) for fact in engine.at(f"fasteners.{each.key}.torque") if fact.called in own]
    stages = [stage for stage in each.stages if not stage.groups or group in stage.groups]
    last = [stage for stage in stages if stage.do in ("torque", "recheck")]
    follows = any(stage.do == "angle" for stage in stages)
    facts += [(f"stage of {group}", fact, follows) for stage in last[-1:] for fact in stage.figures]
    for at, fact, angle in facts:
        yield at, fact.printed[0], angle


def test_preload_is_sensible_for_thread_class_and_lubricant(clean, library):
    """60 to 80 % of the proof load at the middle of the range of friction; less where an angle does the rest."""
    sizes, rows, found = thread_sizes(library), strengths(library), []
    for where, statement, group, treatment, follows in torques(library, clean):
        thread = parse_thread(group["thread"]["as"], sizes)
        size = size_of(thread, sizes)
        assert size, f"{where}: {thread.designation} is in no table"
        low, high = nut_factors(library, treatment if treatment in ("dry", "oil", "grease") else "oil")
        # Dry: the lower factor, that of clean bare steel; the higher one is for a black finish.
        k = low if treatment == "dry" else (low + high) / 2
        middle = Quantity(float(statement.low + statement.high) / 2, statement.unit.symbol)
        clamp = preload(middle, middle, thread, k, k).low
        share = clamp.to("N") / loads(thread, strength_of(group["class"]["as"], thread, rows), size.stress_area).proof.to("N")
        found.append(where)
        assert (0.2 if follows or "studs" in where else 0.6) <= share <= (0.6 if follows else 0.8), f"{where}: {share:.0%}"
    assert found


def test_every_thread_is_in_the_tables(demo, library):
    sizes = thread_sizes(library)
    for engine in demo:
        for fact in engine.below("fasteners.*.groups.*.thread"):
            assert size_of(parse_thread(fact.text, sizes), sizes), (engine.id, fact.text)


def test_no_bolt_meets_the_bottom_of_its_hole(clean):
    head = clean.sets["head"]
    for spot in head.spots.values():
        group = ("fasteners", "head", "groups", spot.group)
        bolt, grip = (value(clean.by_key.get((*group, key), ())) for key in ("length", "grip"))
        if bolt and grip and spot.depth:
            assert bolt_in_hole(bolt, grip, value(spot.depth)).verdict == CLEAR != BOTTOMS
        across = parse_thread(head.groups[spot.group]["thread"]["as"]).diameter.to("mm")
        if bolt and grip:
            assert 1.5 * across <= bolt.to("mm") - grip.to("mm") <= 3.5 * across


def test_orders_name_each_place_once_and_rise_from_the_centre(clean):
    for each in clean.sets.values():
        for order in each.orders.values():
            spots = [each.spots[name] for name in order]
            assert len(set(order)) == len(order)
            middle = (sum(spot.x for spot in spots) / len(spots), sum(spot.y for spot in spots) / len(spots))
            far = [hypot(spot.x - middle[0], spot.y - middle[1]) for spot in spots]
            assert all(b >= a - 0.1 for a, b in pairwise(far)), (each.key, order)
        if each.orders:
            assert {name for order in each.orders.values() for name in order} == set(each.spots)
        if each.loosening:
            assert sorted(each.loosening) == sorted(each.spots)


def test_stages_rise_and_the_total_angle_adds_up(clean):
    for each in clean.sets.values():
        for group in each.groups:
            height = 0.0
            for stage in each.stages:
                if stage.groups and group not in stage.groups:
                    continue
                height = 0.0 if stage.do == "loosen" else height
                if stage.do == "torque":
                    reached = float(stage.figures[0].printed[0].numbers[0].value)
                    assert reached > height
                    height = reached
        total = clean.at(f"fasteners.{each.key}.tightening.total_angle")
        angles = [float(stage.figures[0].printed[0].numbers[0].value) for stage in each.stages if stage.do == "angle"]
        assert not total or sum(angles) == float(only(total).numbers[0].value)


def wall(clean) -> float:
    """mm of metal that a bolt must leave beside a bore: half a bolt and something to seal on."""
    threads = [parse_thread(group["thread"]["as"]).diameter.to("mm") for group in clean.sets["head"].groups.values()]
    return max(threads) / 2 + 5.0


def test_bolts_stand_outside_the_bores_and_inside_the_face(clean):
    head, reach = clean.sets["head"], wall(clean)
    for face in clean.heads:
        held = [spot for spot in head.spots.values() if not spot.heads or face.name in spot.heads]
        for bore in face.bores:
            assert bore.diameter == pytest.approx(length(clean.at("identity.bore")), abs=0.1)
            assert all(hypot(spot.x - bore.x, spot.y - bore.y) > bore.diameter / 2 + reach for spot in held)
            assert all(hypot(x - bore.x, y - bore.y) > bore.diameter / 2 + 5 for x, y in face.dowels)
        for spot in held:
            shared = len({name for other in held for name in other.heads}) > 1 and head.groups[spot.group]["label"].endswith("between heads")
            assert inside(face, spot.x, spot.y, 1.0 if shared else -8.0), (face.name, spot.name)


def inside(face, x: float, y: float, over: float) -> bool:
    """Whether a point lies inside a face, or at most `over` mm outside it."""
    if face.round:
        return hypot(x - face.round.x, y - face.round.y) <= face.round.diameter / 2 + over
    xs, ys = zip(*face.outline, strict=True)
    return min(xs) - over <= x <= max(xs) + over and min(ys) - over <= y <= max(ys) + over


def test_bores_stand_in_one_pitch_and_leave_metal_between(clean):
    in_one_row = clean.sets["head"].per == "engine"
    rows = [[bore for face in clean.heads for bore in face.bores]] if in_one_row else [face.bores for face in clean.heads]
    for bores in rows:
        steps = {round(abs(b.x - a.x), 1) for a, b in pairwise(bores)}
        assert len(steps) <= 1
        assert all(step > bores[0].diameter + 5 for step in steps)


def test_the_cylinders_drawn_are_those_of_the_engine(clean):
    names = sorted(bore.name for face in clean.heads for bore in face.bores)
    assert names == [str(number) for number in range(1, int(clean.says("identity.cylinders")) + 1)]
    order = clean.says("identity.firing_order")
    assert not order or sorted(order.split("-")) == names


def fits(clean, outer: str, inner: str, gap: str) -> None:
    """The clearance is what bore less shaft leaves, at both ends."""
    a, b, c = (only(clean.at(place)) for place in (outer, inner, gap))
    if a and b and c:
        assert float(a.low - b.high) == pytest.approx(float(c.low))
        assert float(a.high - b.low) == pytest.approx(float(c.high))


def test_clearances_are_the_difference_of_their_parts(clean):
    fits(clean, "bores.bore.new", "bores.piston", "bores.piston_clearance")
    for valve in ("intake", "exhaust", "both"):
        fits(clean, "valves.guide.both.new", f"valves.stem.{valve}.new", f"valves.stem_clearance.{valve}.new")


def test_wet_liners_stand_out_by_flange_less_counterbore(library):
    engine = library.engines["pelmadorn-six"]
    flange = only(called(engine, "liner flange"))
    depth, out = only(engine.at("faces.liners.counterbore_depth")), only(engine.at("faces.liners.stand_out"))
    assert (flange.low - depth.high, flange.high - depth.low) == (out.low, out.high)


def test_each_gasket_class_keeps_the_least_clearance_to_the_head(library):
    engine = library.engines["pelmadorn-six"]
    least = only(engine.at("bores.piston_to_head")).low
    for index in range(3):
        size = ("gasket", "choice", "sizes", index)
        assert only(engine.by_key[(*size, "thickness")]).low - only(engine.by_key[(*size, "reading")]).high >= least


@pytest.mark.parametrize(("place", "low", "high"), [
    ("faces.head.flatness.*", 0.02, 0.2), ("faces.deck.flatness.*", 0.02, 0.2), ("faces.barrel.flatness.*", 0.02, 0.2),
    ("faces.*.finish.ra", 0.0004, 0.004), ("valves.clearance.intake", 0.1, 0.5), ("valves.clearance.exhaust", 0.1, 0.8),
    ("valves.seat_width", 0.8, 3.0), ("gasket.thickness", 0.3, 2.0), ("bores.piston_clearance", 0.015, 0.2),
])
def test_small_figures_are_of_their_usual_size(demo, place, low, high):
    found = [fact for engine in demo for fact in engine.below(place) if fact.kind == "figure" and fact.printed[0].unit and fact.at[-2] != "span"]
    assert found
    for fact in found:
        statement = fact.printed[0]
        assert low <= float(statement.unit.to_base(statement.high)) * 1000 <= high, fact.at
