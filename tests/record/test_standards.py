"""The tables of the standards: read as printed, checked like every other file, plain values for the calculations."""

import pytest

from generator.audit import audit
from generator.audit.values import nut_factors, strengths, thread_sizes
from generator.calculations.threads import loads, parse_thread, size_of, strength_of
from generator.quantities import Quantity
from generator.reading import read_text
from generator.record.library import Library
from generator.record.standards import read_friction, read_strengths, read_threads
from tests.published import published

THREADS = """\
id: small
name: Small table
system: metric
sizes:
  M8x1.25:
    cite: book page 1
    series: {says: coarse}
    pitch_diameter: [{printed: [7.188 mm]}]
    stress_area: [{printed: [36.6 mm2], cite: other page 2}]
"""
STRENGTH = """\
id: small
name: Small table
system: metric
rows:
  8.8 up to 16 mm:
    cite: book page 1
    class: {as: "8.8"}
    diameter: [{printed: [max 16 mm]}]
    tensile: [{printed: [800 MPa]}]
    yield: [{printed: [640 MPa]}]
    proof: [{printed: [580 MPa]}]
"""

FRICTION = """\
id: small
name: Small table
rows:
  lubricated:
    cite: book page 1
    treatment: [oil, grease]
    factor: [{printed: [0.18 ratio]}]
  any lubricant:
    cite: other page 2
    treatment: [oil]
    factor: [{printed: [0.15 ratio]}]
"""


@pytest.fixture
def check(schemas):
    """Read the text of a table: the table and every problem of reading, schema and building."""

    def do(text, kind):
        file, problems = read_text(text.encode(), "small.yaml")
        build = {"threads": read_threads, "strength": read_strengths, "friction": read_friction}[kind]
        table, found = build(file, schemas.shape(kind))
        return table, [*problems, *schemas.check(file, kind), *found]

    return do


def problems_of(check, text, kind, old, new):
    assert old in text
    return [(problem.rule, problem.line, problem.message, problem.hint) for problem in check(text.replace(old, new, 1), kind)[1]]


def test_a_thread_table_is_read_with_the_source_of_every_value(check):
    table, problems = check(THREADS, "threads")
    assert problems == []
    (size,) = table.rows
    assert (size.designation, size.series, size.tapping_drill) == ("M8x1.25", "coarse", ())
    assert [(str(fact.printed[0]), fact.cite.source) for fact in (*size.pitch_diameter, *size.stress_area)] == [
        ("7.188 mm", "book"), ("36.6 mm2", "other"),
    ]


def test_a_strength_table_is_read(check):
    table, problems = check(STRENGTH, "strength")
    assert problems == []
    (row,) = table.rows
    assert (row.name, row.class_name, str(row.proof[0].printed[0])) == ("8.8 up to 16 mm", "8.8", "580 MPa")


@pytest.mark.parametrize(("kind", "old", "new", "rule", "line", "message", "hint"), [
    ("threads", "stress_area", "stres_area", "schema-additionalProperties", 9, "the key 'stres_area' is not known", "stress_area?"),
    ("threads", "36.6 mm2", "36.6 mm", "unit-kind", 9, "36.6 mm measures length; area was expected here", "mm2"),
    ("threads", "says: coarse", "says: rough", "schema-enum", 7, "'rough' is not one of the words for 'series'", "allowed: coarse, fine"),
    ("threads", "    cite: book page 1\n", "", "cite-missing", 6, "what stands here has no source", "cite: <source id> <place>"),
    ("threads", "7.188 mm", "'7,188 mm'", "statement", 8, "a comma", "7.188 mm"),
    ("strength", "    proof: [{printed: [580 MPa]}]\n", "", "schema-required", 6, "has no key 'proof'", "add 'proof: …': What the bolt bears"),
    ("strength", 'as: "8.8"', "as: 8.8", "schema-type", 7, "'8.8' stands at 'class'", 'in quotes, so that no digit is lost: "8.8"'),
    ("friction", "[oil, grease]", "[oil, butter]", "schema-enum", 6, "'butter' is not one of the words", "dry, oil, grease"),
    ("friction", "0.18 ratio", "0.18 N.m", "unit-kind", 7, "measures torque; ratio was expected here", "ratio"),
    ("strength", "system: metric", "system: inch", "schema-enum", 3, "'inch' is not one of the words for 'system'", "metric, unified"),
])
def test_a_bad_table_is_refused_with_line_and_mend(check, kind, old, new, rule, line, message, hint):
    text = {"threads": THREADS, "strength": STRENGTH, "friction": FRICTION}[kind]
    found = problems_of(check, text, kind, old, new)
    assert any((each[0], each[1]) == (rule, line) and message in each[2] and hint in each[3] for each in found), found


def test_a_thread_stands_once_in_a_table(check):
    _, problems = read_text((THREADS + "  M8x1.25: {}\n").encode(), "small.yaml")
    assert [(problem.rule, problem.line) for problem in problems] == [("duplicate-key", 10)]


@pytest.fixture
def judged(library, schemas, check):
    """Problems of the rules over a library of one table beside the real sources."""

    def do(text):
        table, problems = check(text, "threads")
        assert problems == []
        small = Library(schemas, sources=library.sources, threads={"small": table}, phases=library.phases, cautions=library.cautions)
        return [(problem.rule, problem.line, problem.message) for problem in audit(small) if problem.file == "small.yaml"]

    return do


REAL = THREADS.replace("book page 1", "iso-724 basic dimensions").replace("other page 2", "iso-898-1 coarse threads")


def test_a_sound_table_passes_every_rule(judged):
    assert judged(REAL) == []


@pytest.mark.parametrize(("old", "new", "expected"), [
    ("iso-898-1", "iso-898-2", ("table-cite-resolves", 9, "'iso-898-2' is not registered")),
    ("iso-898-1", "quennith-engine-book-q4", ("table-cite-resolves", 9, "cites an invented book")),
    ("M8x1.25:", "M8x12.5:", ("table-thread-known", 5, "'M8x12.5' is no thread")),
    ("M8x1.25:", "5/16-18:", ("table-thread-known", 5, "5/16-18 is a unified thread in a table of metric ones")),
    ("36.6 mm2", "58.0 mm2", ("table-fits-thread", 9, "58.0 mm2 where the thread's own geometry gives 36.61 mm2")),
    ("7.188 mm", "7.118 mm", ("table-fits-thread", 8, "7.118 mm where")),
])
def test_rules_over_the_tables(judged, old, new, expected):
    assert old in REAL
    found = judged(REAL.replace(old, new, 1))
    assert any(each[:2] == expected[:2] and expected[2] in each[2] for each in found), found


def test_sources_that_differ_stand_side_by_side_and_give_no_plain_value(library, schemas, check):
    two = REAL.replace("[{printed: [7.188 mm]}]", "[{printed: [7.188 mm]}, {printed: [7.187 mm], cite: asme-b1-13m table}]")
    table, problems = check(two, "threads")
    assert problems == []
    assert [str(fact.printed[0]) for fact in table.rows[0].pitch_diameter] == ["7.188 mm", "7.187 mm"]
    (size,) = thread_sizes(Library(schemas, threads={"small": table}))
    assert (size.pitch_diameter, size.stress_area) == (None, Quantity(36.6, "mm2"))


def test_nut_factors_are_a_range_over_the_sources_that_answer_a_treatment(schemas, check):
    table, problems = check(FRICTION, "friction")
    assert problems == []
    small = Library(schemas, friction={"small": table})
    assert [nut_factors(small, treatment) for treatment in ("oil", "grease", "sealant")] == [(0.15, 0.18), (0.18, 0.18), None]


# The real tables


def test_every_value_of_the_real_tables_names_a_standard_or_chart_that_was_read_at_second_hand(library):
    facts = [fact for table in (*library.threads.values(), *library.strengths.values()) for fact in table.facts]
    assert len(facts) > 100
    books = {library.sources[fact.cite.source] for fact in facts}
    assert {book.kind for book in books} == {"standard", "handbook"}
    assert all(book.read.startswith("quoted at second hand") for book in books)


def test_an_outer_minor_diameter_is_smaller_than_the_inner(library):
    rows = [row for row in library.threads["unified"].rows if row.external_minor_diameter]
    assert len(rows) == 4
    for row in rows:
        (outer,), (inner,) = row.external_minor_diameter, row.minor_diameter
        assert outer.printed[0].low < inner.printed[0].low


def test_a_proof_load_leads_back_to_the_place_its_stress_was_taken_from(library):
    thread = parse_thread("M8x1.25")
    size = size_of(thread, thread_sizes(library))
    found = loads(thread, strength_of("10.9", thread, strengths(library)), size.stress_area)
    assert found.proof.to("N") == pytest.approx(36.6 * 830)
    assert (found.basis, size.basis) == ("iso-898-1 table 3", "iso-898-1 nominal stress areas, coarse threads")


def test_8_8_above_16_mm_has_a_row_of_its_own(library):
    rows = [row for row in strengths(library) if row.name == "8.8"]
    assert [(row.diameter.low, row.diameter.high, row.diameter.strict) for row in rows] == [
        (None, Quantity(16, "mm"), False), (Quantity(16, "mm"), None, True),
    ]


def test_the_nut_factors_of_the_table_are_those_published(library):
    printed = sorted(float(fact.printed[0].numbers[0].value) for table in library.friction.values() for fact in table.facts)
    assert printed == sorted(case["value"] for case in published("preload", "nut_factors") if case["read"] != "from memory")
    assert nut_factors(library, "oil") == (0.15, 0.18)
