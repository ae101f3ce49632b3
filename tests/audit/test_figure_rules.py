"""Every rule over figures and fasteners: one record in which none of them finds anything, and one slip for each that it finds."""

from __future__ import annotations

import pytest

from generator.audit import FIGURE_RULES, RULES
from generator.audit.bolts import RULES as BOLT_RULES
from generator.audit.copies import RULES as COPY_RULES
from generator.audit.families import FAMILIES
from generator.audit.limits import MAXIMA, MINIMA, ORDERED
from generator.audit.names import RULES as NAME_RULES
from generator.audit.orders import RULES as ORDER_RULES
from generator.audit.sizes import PROPORTIONS, USUAL
from generator.quantities import UNITS
from generator.record.library import Library
from tests.audit.test_rules import FIXTURES

# A made-up engine that gives what the rules look at. Digits are kept apart, so that each slip below has one place.
RECORD = """\
id: small
name: Small engine
sources: [book]
identity:
  cite: book page 1
  cylinders: {says: 4}
  bore: [{printed: [79.0 mm]}]
  stroke: [{printed: [81.5 mm]}]
  displacement: [{printed: [1598 cm3]}]
  ratio: [{printed: [10.0 ratio]}]
  cycle: {says: four-stroke}
  firing_order: {says: "1-3-4-2"}
  intermediate_sprocket: {says: absent}
geometry:
  cite: book page 2
  heads:
    head:
      outline: [[-200, -70], [200, -70], [200, 70], [-200, 70]]
      bores: {"1": {at: [-45, 0], diameter: 79}}
faces:
  cite: book page 3
  head:
    flatness:
      lengthwise: [{printed: [max 0.06 mm]}]
      crosswise: [{printed: [max 0.03 mm]}]
      local: {span: [{printed: [100 mm]}], limit: [{printed: [max 0.02 mm]}]}
    finish: {ra: [{printed: [max 0.8 um]}]}
    chamber: {volume: [{printed: [38.5 cm3]}], area: [{printed: [44 cm2]}]}
    height:
      new: [{printed: [131.0 +-0.1 mm]}]
      minimum: [{printed: [min 130.6 mm]}]
    stock_removal: {total: [{printed: [max 0.33 mm]}], provided_by: valves.recession.both.limit}
fasteners:
  head:
    cite: book page 4
    groups:
      long:
        kind: bolt
        count: 4
        thread: {as: M10x1.25}
        class: {as: "10.9"}
        marking: {says: "10.9 and a ring"}
        length: [{printed: [118 mm]}]
        length_limit: [{printed: [max 119.5 mm]}]
        grip: [{printed: [95 mm]}]
        shank: [{printed: [8.8 mm]}]
        treatment: {thread: oil}
        reuse: {says: replace}
      short: {kind: bolt, count: 2, thread: {as: M8x1.25}}
    places:
      A1: {at: [-90, -46], group: long, hole: {depth: [{printed: [26 mm]}]}}
      A2: {at: [90, -46], group: long}
      A3: {at: [0, -46], group: long}
      B3: {at: [0, 46], group: long}
      C1: {at: [-120, 0], group: short}
      C2: {at: [120, 0], group: short}
    tightening:
      orders: {all: [A3, B3, A2, A1, C1, C2], case: [C1, C2]}
      stages:
        - {do: torque, order: all, groups: [long], figure: [{printed: [20 N.m]}]}
        - {do: recheck, order: all, groups: [long], figure: [{printed: [20 N.m]}]}
        - {do: loosen, order: all, groups: [long], by: 180 deg}
        - {do: torque, order: all, groups: [long], figure: [{printed: [36 N.m]}]}
        - {do: angle, order: all, groups: [long], figure: [{printed: [60 deg]}]}
        - {do: angle, order: all, groups: [long], figure: [{printed: [75 deg]}]}
        - {do: torque, order: case, figure: [{printed: [24 N.m]}]}
      total_angle: [{printed: [135 deg]}]
  head_cover:
    cite: book page 4
    groups: {all: {kind: bolt, thread: {as: M6x1}}}
    torque: [{printed: [9 N.m]}]
  spark_plugs:
    cite: book page 4
    torque: [{printed: [25 N.m]}]
gasket:
  cite: book page 5
  thickness: [{printed: [0.85 mm]}]
  bore: [{printed: [80.5 mm]}]
  choice:
    by: {says: piston protrusion}
    sizes:
      - {reading: [{printed: [0.40 to 0.50 mm]}], thickness: [{printed: [1.1 mm]}]}
      - {reading: [{printed: [0.51 to 0.61 mm]}], thickness: [{printed: [1.2 mm]}]}
tests:
  cite: book page 6
  compression:
    normal: [{printed: [1250 kPa]}]
    minimum: [{printed: [min 950 kPa]}]
    spread: [{printed: [max 150 kPa]}]
    by_altitude:
      - {altitude: [{printed: [500 ft]}], minimum: [{printed: [515 psi]}]}
      - {altitude: [{printed: [2500 ft]}], minimum: [{printed: [480 psi]}]}
valves:
  cite: book page 7
  clearance:
    intake: [{printed: [0.20 mm], when: cold}, {printed: [0.25 mm], when: hot}]
    exhaust: [{printed: [0.28 mm], when: cold}]
  seat_angle: [{printed: [45 deg]}]
  face_angle: [{printed: [44 deg]}]
  interference_angle: [{printed: [1 deg]}]
  stem: {both: {new: [{printed: [5.968 to 5.980 mm]}]}}
  guide: {both: {new: [{printed: [6.010 to 6.025 mm]}]}}
  stem_clearance: {both: {new: [{printed: [0.030 to 0.057 mm]}], limit: [{printed: [0.10 mm]}]}}
  recession: {both: {new: [{printed: [0.4 to 0.8 mm]}], limit: [{printed: [max 1.2 mm]}]}}
timing:
  cite: book page 8
  sprockets: {crank_teeth: {says: 21}, cam_teeth: {says: 42}}
"""


@pytest.fixture(scope="module")
def check(read, library):
    """Problems of one rule, or of all, in a text, beside the tables of the library."""

    def do(text: str, rule: str = "", others: tuple[str, ...] = ()) -> list:
        engine, problems = read(text)
        assert [each for each in problems if each.level == "error"] == []
        engines = {each.id: each for each in [engine, *(read(other)[0] for other in others)]}
        beside = Library(
            library.schemas, FIXTURES, engines, threads=library.threads, strengths=library.strengths, friction=library.friction
        )
        return [problem for each in RULES if rule in ("", each.name) for problem in each.check(engine, beside)]

    return do


SLIPS = [
    # rule, what stood there, what was typed, level, line's key, phrase
    ("displacement-agrees", "81.5 mm", "85.1 mm", "error", "displacement", "give 1668.5 cm3"),
    ("displacement-agrees", "1598 cm3", "1589 cm3", "error", "displacement", "give 1597.9 cm3"),
    ("displacement-agrees", "1598 cm3", "399.5 cm3", "error", "displacement", "is the volume of one cylinder"),
    ("displacement-agrees", "1598 cm3", "1597.1 cm3", "note", "displacement", "3.14 for pi"),
    ("ratio-agrees", "38.5 cm3", "83.5 cm3", "warning", "ratio", "flat piston"),
    ("firing-order-complete", "1-3-4-2", "1-3-4-3", "error", "firing_order", "does not name each"),
    ("sprockets-two-to-one", "cam_teeth: {says: 42}", "cam_teeth: {says: 24}", "error", "cam_teeth", "not twice"),
    ("range-order", "min 130.6 mm", "min 136.0 mm", "error", "minimum", "more than faces.head.height.new (131.0 +-0.1 mm)"),
    ("range-order", "max 150 kPa", "max 1500 kPa", "error", "spread", "more than tests.compression.minimum"),
    ("range-order", "grip: [{printed: [95 mm]}]", "grip: [{printed: [195 mm]}]", "error", "grip", "more than"),
    ("limit-beyond-new", "limit: [{printed: [0.10 mm]}]", "limit: [{printed: [0.01 mm]}]", "error", "limit", "a new part would be past its limit"),
    ("limit-beyond-new", "max 1.2 mm", "max 0.6 mm", "error", "limit", "is below valves.recession.both.new"),
    ("bound-side", "max 0.06 mm", "min 0.06 mm", "error", "lengthwise", "is a minimum; what stands here is a maximum"),
    ("bound-side", "min 950 kPa", "max 950 kPa", "error", "minimum", "is a maximum; what stands here is a minimum"),
    ("limit-out-of-family", "max 0.03 mm", "max 0.3 mm", "warning", "crosswise", "5 times as large as faces.head.flatness.lengthwise"),
    ("limit-out-of-family", "0.28 mm", "2.8 mm", "warning", "exhaust", "14 times as large as valves.clearance.intake"),
    ("limit-out-of-family", "0.25 mm]", "2.5 mm]", "warning", "intake", "12.5 times as large as"),
    ("limit-out-of-family", "max 0.33 mm", "max 3.3 mm", "warning", "total", "55 times as large as faces.head.flatness.lengthwise"),
    ("range-wide", "0.4 to 0.8 mm", "0.04 to 0.8 mm", "warning", "new", "is 20 times its low end"),
    ("size-usual", "0.85 mm", "8.5 mm", "warning", "thickness", "outside 0.25 to 3 mm, the usual size"),
    ("size-usual", "[25 N.m]", "[250 N.m]", "warning", "spark_plugs", "outside 8 to 45 N.m, the usual size"),
    ("size-usual", "max 0.8 um", "max 8.0 um", "warning", "ra", "outside 0.2 to 7 um"),
    ("size-usual", "[60 deg]", "[6.0 deg]", "warning", "stages", "no usual angle of one stage"),
    ("proportion-usual", "80.5 mm", "108.5 mm", "warning", "bore", "1.37 times identity.bore"),
    ("fit-adds-up", "0.030 to 0.057 mm", "0.003 to 0.057 mm", None, "", ""),  # still what the parts may leave
    ("fit-adds-up", "0.030 to 0.057 mm", "0.0300 to 0.0357 mm", "error", "new", "leave in the middle: 0.0435 mm"),
    ("fit-adds-up", "[1 deg]", "[3 deg]", "error", "interference_angle", "leave in the middle: 1 deg"),
    ("gasket-sizes-follow", "0.51 to 0.61 mm", "0.41 to 0.61 mm", "error", "reading", "overlaps"),
    ("gasket-sizes-follow", "0.40 to 0.50 mm", "over 0.50 mm", "error", "reading", "overlaps"),
    ("chamber-within-gasket", "44 cm2", "44 in2", "warning", "area", "5.58 times the opening of the gasket"),
    ("gasket-sizes-follow", "[1.2 mm]", "[1.0 mm]", "error", "thickness", "is not thicker than"),
    ("removal-fits-height", "max 0.33 mm", "max 0.93 mm", "error", "total", "is too much"),
    ("removal-fits-height", "max 0.33 mm", "max 0.03 mm", "warning", "total", "far less than the heights allow"),
    ("altitude-falls", "480 psi", "580 psi", "error", "minimum", "compression falls with altitude"),
    ("stages-rise", "do: loosen, order: all, groups: [long], by: 180 deg", "do: torque, order: all, groups: [long], figure: [{printed: [40 N.m]}]",
     "error", "stages", "stage 4 tightens to 36 N.m, which is not above 40 N.m of stage 3"),
    ("stages-in-turn", "        - {do: torque, order: all, groups: [long], figure: [{printed: [36 N.m]}]}\n", "", "error", "stages",
     "no torque comes before it from which to turn"),
    ("stages-in-turn", "do: torque, order: all, groups: [long], figure: [{printed: [20 N.m]}]", "do: wait, until: cold", "error", "stages",
     "checks again, and no torque comes before it"),
    ("stages-in-turn", "do: torque, order: case,", "do: torque, order: all, groups: [long],", "warning", "stages", "after an angle was turned"),
    ("recheck-agrees", "recheck, order: all, groups: [long], figure: [{printed: [20 N.m]}]",
     "recheck, order: all, groups: [long], figure: [{printed: [26 N.m]}]", "error", "stages", "checks again at 26 N.m"),
    ("total-angle-adds-up", "        - {do: angle, order: all, groups: [long], figure: [{printed: [75 deg]}]}\n", "", "error", "total_angle",
     "add up to 60 deg"),
    ("group-tightened", "        - {do: torque, order: case, figure: [{printed: [24 N.m]}]}\n", "", "error", "short",
     "no stage tightens the group 'short'"),
    ("order-used", "order: case", "order: all, groups: [short]", "error", "case", "no stage uses the order 'case'"),
    ("order-from-centre", "all: [A3, B3, A2, A1, C1, C2]", "all: [C1, C2, A2, A1, A3, B3]", "note", "all", "C1 comes first, B3 last"),
    ("places-apart", "A3: {at: [0, -46]", "A3: {at: [0, 46]", "error", "B3", "places A3 and B3 are 0 mm apart"),
    ("places-on-head", "C2: {at: [120, 0]", "C2: {at: [1200, 0]", "warning", "C2", "outside the outline"),
    ("bores-as-drawn", "diameter: 79", "diameter: 97", "warning", "diameter", "drawn 97 mm wide"),
    ("thread-in-standard", "M10x1.25", "M10x1.75", "warning", "thread", "is not in the tables, which have M10x1.5, M10x1.25, M10x1"),
    ("thread-in-standard", "M10x1.25", "M1Ox1.25", "error", "thread", "is no thread"),
    ("thread-in-standard", "M6x1}", "M20x0.5}", "warning", "thread", "no series has"),
    ("class-in-standard", '{as: "10.9"}', '{as: "10.8"}', "warning", "class", "not in the tables of strength"),
    ("class-in-standard", '{as: "10.9"}', "{as: Grade 8}", "error", "class", "Grade 8 is for unified threads"),
    ("marking-agrees", '{as: "10.9"}', '{as: "8.8"}', "warning", "class", "the marking says 10.9"),
    ("bolt-bottoms", "[26 mm]", "[22 mm]", "error", "depth", "meets the bottom before it clamps"),
    ("shank-fits-thread", "8.8 mm]", "18.8 mm]", "warning", "shank", "1.88 times the diameter of M10x1.25"),
    ("preload", "[9 N.m]", "[90 N.m]", "error", "torque", "past the tensile load of 12.9"),
    ("preload", "[9 N.m]", "[0.8 N.m]", "error", "torque", "under a tenth of the proof load of 8.8, and no angle follows"),
    ("preload", "[36 N.m]", "[3.6 N.m]", "warning", "stages", "not even seated"),
    ("class-carries-torque", "[36 N.m]", "[136 N.m]", "warning", "stages", "past the proof load of its own class, 10.9"),
    ("angle-past-yield", "reuse: {says: replace}", "reuse: {says: allowed}", "note", "stages", "upper bound"),
    ("provided-by-known", "provided_by: valves.recession.both.limit", "provided_by: valves.recesion.both.limit", "error", "provided_by",
     "no key of a record"),
    ("provided-by-known", "provided_by: valves.recession.both.limit", "provided_by: valves.recession.intake.limit", "error", "provided_by",
     "a key that this record does not give"),
]


def test_no_rule_finds_anything_but_notes_where_nothing_is_wrong(check):
    assert [problem for problem in check(RECORD) if problem.level != "note"] == []


@pytest.mark.parametrize(("rule", "old", "new", "level", "key", "phrase"), SLIPS)
def test_each_rule_finds_its_slip_and_says_where(check, rule, old, new, level, key, phrase):
    assert RECORD.count(old) == 1
    before = {problem.message for problem in check(RECORD, rule)}
    problems = [problem for problem in check(RECORD.replace(old, new), rule) if problem.message not in before]
    if level is None:
        assert problems == []
        return
    problem = next(each for each in problems if phrase in each.message)
    assert problem.level == level
    assert key in map(str, problem.at)
    assert problem.hint
    assert problem.line > 1


def test_a_torque_that_nobody_measures_is_refused_without_a_word_about_the_clamp_load(check):
    """Numbers beyond reason no statement holds at all; nought is left."""
    assert RECORD.count("[36 N.m]") == 1
    problems = check(RECORD.replace("[36 N.m]", "[0 N.m]"))
    about = [each for each in problems if each.rule in ("preload", "class-carries-torque") and "(0 N.m)" in each.message]
    assert [(each.level, "clamp load" in each.message) for each in about] == [("error", False)]
    assert about[0].message.endswith("is no torque that can be set on a wrench")


def test_a_grip_that_nobody_measures_gets_no_statement_about_the_stretch(check):
    again = RECORD.replace("reuse: {says: replace}", "reuse: {says: allowed}")
    assert again.count("[95 mm]") == 1
    assert check(again, "angle-past-yield") != []
    assert check(again.replace("[95 mm]", "[0 mm]"), "angle-past-yield") == []


def test_every_rule_has_a_slip_that_trips_it():
    new = {each.name for each in (*FIGURE_RULES, *BOLT_RULES, *NAME_RULES, *ORDER_RULES)}
    assert new - {slip[0] for slip in SLIPS} == set()
    assert COPY_RULES[0].name == "same-as-another"


def test_levels_are_those_that_a_rule_announces(check):
    levels = {rule.name: set(rule.levels) for rule in RULES}
    for _, old, new, *_ in SLIPS:
        for problem in check(RECORD.replace(old, new)):
            assert problem.level in levels[problem.rule], problem
    assert all(levels.values())


def test_a_doubt_of_kind_manual_or_scan_acknowledges_what_arithmetic_finds(check):
    wrong = RECORD.replace("[{printed: [1598 cm3]}]", "[{printed: [1589 cm3]}]")
    assert check(wrong, "displacement-agrees")
    for kind, left in (("manual", 0), ("scan", 0), ("rounding", 1)):
        doubted = wrong.replace("[1589 cm3]", f"[1589 cm3], doubt: {{kind: {kind}, says: printed so}}")
        assert len(check(doubted, "displacement-agrees")) == left


@pytest.mark.parametrize(("printed", "count"), [
    ("[1598 cm3, 97.5 in3]", 1),  # the units agree, and so does the displacement: there is nothing to doubt
    ("[1589 cm3, 97.0 in3]", 0),  # the units agree, the displacement does not
    ("[1598 cm3]", 0),  # one unit: a second manual may prove it a misprint
])
def test_a_doubt_of_kind_manual_must_have_a_cause(check, printed, count):
    text = RECORD.replace("[1598 cm3]", f"{printed}, doubt: {{kind: manual, says: printed so}}")
    problems = check(text, "doubt-needed")
    assert [problem.level for problem in problems] == ["error"] * count
    assert all("no rule finds anything" in problem.message and problem.line == 9 for problem in problems)


def test_a_block_pasted_from_another_engine_is_told_and_named(check):
    other = RECORD.replace("id: small", "id: large")
    rules = [problem.at for problem in check(RECORD, "same-as-another", (other,))]
    assert ("valves",) in rules
    assert ("valves", "stem") not in rules  # its section says it already
    assert "every figure of valves is the same as in large" in check(RECORD, "same-as-another", (other,))[-1].message
    changed = other.replace("0.057 mm", "0.058 mm").replace("5.980 mm", "5.990 mm").replace("0.4 to 0.8 mm", "0.5 to 0.8 mm")
    assert ("valves",) not in [problem.at for problem in check(RECORD, "same-as-another", (changed,))]


def test_few_digits_may_be_the_same_by_chance(check):
    cover = "fasteners:\n  head_cover:\n    cite: book page 4\n    torque: [{printed: [9 N.m]}]\n"
    head = "sources: [book]\nidentity: {cite: book page 1, fuel: {says: diesel}}\n"
    one, other = (f"id: {name}\nname: Engine\n{head}{cover}" for name in ("small", "large"))
    assert check(one, "same-as-another", (other,)) == []


def test_a_displacement_may_be_worked_out_in_either_printed_unit(check):
    inches = RECORD.replace("[79.0 mm]", "[3.11 in, 79.0 mm]", 1).replace("[81.5 mm]", "[3.20 in, 81.5 mm]")
    assert check(inches, "displacement-agrees") == []
    assert check(inches.replace("1598 cm3", "1621 cm3"), "displacement-agrees")


def test_what_is_not_given_is_not_judged(check):
    bare = "id: small\nname: Engine\nsources: [book]\nidentity: {cite: book page 1, bore: [{printed: [79 mm]}], stroke: [{printed: [81 mm]}]}\n"
    assert check(bare) == []


def test_figures_of_two_sources_are_compared_each_with_its_own(check):
    two = "[{printed: [79.0 mm]}, {printed: [82.0 mm], cite: other page 1}]"
    text = RECORD.replace("bore: [{printed: [79.0 mm]}]", f"bore: {two}").replace("sources: [book]", "sources: [book, other]")
    rules = {problem.rule for problem in check(text) if problem.level != "note"}
    assert "displacement-agrees" not in rules
    assert "range-order" not in rules


def test_a_ring_of_bolts_has_no_way_outwards(library):
    single = library.engines["zibbeltane-single"]
    assert [problem for rule in RULES if rule.name == "order-from-centre" for problem in rule.check(single, library)] == []


@pytest.mark.parametrize(("printed", "kind", "says", "rules"), [
    ("[35.0 N.m, 25.8 lbf.ft]", "scan", "the units disagree: 53.0 N.m is 39.1 lbf.ft", ["doubt-needed"]),
    ("[35.0 N.m, 25.8 lbf.ft]", "scan", "53.0 N.m is 39.1 lbf.ft, not 25.8", ["doubt-needed"]),
    ("[35.0 N.m, 25.8 lbf.ft]", "scan", "the printed values differ from the text beside", ["doubt-needed"]),
    ("[35.0 N.m, 25.8 lbf.ft]", "scan", "both units agree, but the label may belong to the next line", []),
    ("[35.0 N.m, 25.8 lbf.ft]", "scan", "a valve lift of 12 mm is 0.47 in on the page before", []),
    ("[53.0 N.m, 25.8 lbf.ft]", "scan", "53.0 N.m is 39.1 lbf.ft; the two digits may be exchanged", []),
    ("[35.0 N.m]", "scan", "the units disagree on the facing page", []),
    ("[35.0 N.m, 25.8 lbf.ft]", "rounding", "rounded", ["doubt-needed"]),
    ("[53.0 N.m, 25.8 lbf.ft]", "rounding", "rounded", ["units-agree"]),
])
def test_what_a_doubt_says_must_still_be_so(check, printed, kind, says, rules):
    """A doubt about the reading may stand beside units that agree; one about the units may not. One slip, one problem."""
    text = f"""\
id: small
name: Engine
sources: [book]
fasteners:
  drain_plugs:
    cite: book page 4
    torque:
      - printed: {printed}
        doubt: {{kind: {kind}, says: "{says}"}}
identity: {{cite: book page 1, fuel: {{says: diesel}}}}
"""
    assert [problem.rule for problem in check(text)] == rules


def test_every_usual_size_order_and_family_is_a_key_of_a_record_with_that_dimension(schemas):
    shape = schemas.shape("engine")
    keys = {key: unit for key, (_, _, unit) in USUAL.items()}
    keys |= {key: "" for pair in [*ORDERED, *PROPORTIONS] for key in pair} | dict.fromkeys([*MAXIMA, *MINIMA], "")
    keys |= {key: "" for family in FAMILIES for key in family.keys}
    for key, unit in keys.items():
        found = shape
        for part in key.split("."):
            below = found.children.get(part) or (part == "*" and (found.others or found.items or next(iter(found.children.values()))))
            assert below, key
            found = below
        dimension = found.node.get("dimension")
        assert found.leaf == "figures", key
        assert not unit or UNITS[unit].dimension == dimension, key
