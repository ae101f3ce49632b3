"""Rules of practice: read with their sources, beside what they are for, and never a limit of an engine."""

from __future__ import annotations

import pytest

from generator.audit.values import practice_limit
from generator.calculations.compression import OF_HIGHEST, Cylinder, Rule, judge_compression
from generator.calculations.flatness import FaceLimit, Line, LineReading, judge_line
from generator.calculations.limits import PRACTICE, judge
from generator.quantities import Quantity
from generator.reading import read_text
from generator.record.practice import limits_beside, read_practice
from tests.conftest import SMALL

IN_LINE_SIX = "fuel: {says: gasoline}\n  layout: {says: in-line}\n  cylinders: {says: 6}\n  head_per: {says: engine}"
TEXT = """\
id: small
number: 7
name: Small
about: Small.
rules:
  - id: flat
    label: Flat
    says: Flat.
    cite: book page 1
    beside: [faces.head.flatness]
    limits:
      - {label: six, when: {layout: in-line, cylinders: 6}, figure: [{printed: [max 0.006 in]}]}
      - {label: round, figure: [{printed: [max 0.05 mm], cite: other page 2}]}
"""


def practice_of(schemas, text):
    file, problems = read_text(text.encode(), "specs/practice/small.yaml")
    found, more = read_practice(file, schemas.shape("practice"))
    return found, [*problems, *schemas.check(file, "practice"), *more]


def labels(found):
    return [limit.label for _, limit in found]


def test_a_rule_gives_its_source_to_limits_that_have_none(schemas):
    found, problems = practice_of(schemas, TEXT)
    assert problems == []
    assert (found.id, found.number, [rule.id for rule in found.rules]) == ("small", 7, ["flat"])
    rule = found.rules[0]
    assert rule.limits[0].when == (("layout", ("in-line",)), ("cylinders", ("6",)))
    assert [(fact.cite.source, str(fact.printed[0])) for limit in rule.limits for fact in limit.facts] == [
        ("book", "max 0.006 in"), ("other", "max 0.05 mm"),
    ]


@pytest.mark.parametrize(("old", "new", "rule", "line"), [
    ("    cite: book page 1\n", "    cites: [book page 1]\n", "cite-missing", 12),
    ("    cite: book page 1\n", "", "schema-required", 6),
    ("max 0.006 in", "max 0.006", "statement", 12),
    ("beside: [faces.head.flatness]\n    limits:", "beside: [faces.head.flatness]\n    limitz:", "schema-additionalProperties", 11),
    ("number: 7", "number: seven", "schema-type", 2),
])
def test_what_cannot_stand_is_reported_at_its_line(schemas, old, new, rule, line):
    assert old in TEXT
    found = next(each for each in practice_of(schemas, TEXT.replace(old, new))[1] if each.rule == rule)
    assert found.line == line


@pytest.mark.parametrize(("identity", "expected"), [
    (IN_LINE_SIX, ["six", "round"]),
    (IN_LINE_SIX.replace("6", "4"), ["round"]),
    (IN_LINE_SIX.replace("in-line", "vee"), ["round"]),
    ("fuel: {says: gasoline}", ["six", "round"]),
])
def test_a_limit_is_left_out_only_where_the_record_says_no(schemas, read, identity, expected):
    practice, _ = practice_of(schemas, TEXT)
    engine, _ = read(SMALL.replace("fuel: {says: gasoline}", identity))
    assert labels(limits_beside([practice], ["faces.head.flatness"], engine)) == expected
    assert limits_beside([practice], ["faces.deck.flatness"], engine) == []


def test_a_rule_for_some_engines_only_stands_beside_no_gap(schemas, read):
    practice, problems = practice_of(schemas, TEXT.replace("    beside", "    stated_for: aircraft piston engines\n    beside"))
    assert problems == []
    assert limits_beside([practice], ["faces.head.flatness"], read(SMALL)[0]) == []


def test_every_rule_of_the_project_has_a_source_or_says_that_it_has_none(library):
    assert [each.number for each in library.practice] == list(range(1, len(library.practice) + 1))
    rules = [rule for each in library.practice for rule in each.rules]
    assert len(rules) > 20
    for rule in rules:
        assert rule.cites
        assert not any(library.sources[cite.source].invented for cite in rule.cites)


def bounds_of(library):
    limits = [limit for each in library.practice for rule in each.rules for limit in rule.limits]
    return [found for limit in limits if (found := practice_limit(limit))]


def test_a_limit_of_practice_never_yields_within(library):
    found = bounds_of(library)
    assert len(found) >= 15
    for limit in found:
        bound = limit.high or limit.low
        for share in (0.0, 0.5, 1.0, 2.0):
            assert judge(Quantity(bound.value * share, bound.unit), limit).verdict == PRACTICE, limit.label


def test_the_flatness_of_practice_is_not_a_pass_and_three_quarters_is_not_a_verdict(library):
    by_id = {rule.id: rule for each in library.practice for rule in each.rules}
    flat = practice_limit(by_id["flatness-by-length"].limits[0])
    line = Line("edge", "along one edge", "lengthwise")
    reading = LineReading("edge", stops=(Quantity(0.02, "mm"),))
    assert judge_line(line, [reading], [FaceLimit(flat)]).deciding.result.verdict == PRACTICE
    share = practice_limit(by_id["lowest-against-highest"].limits[0])
    cylinders = [Cylinder(name, Quantity(value, "psi")) for name, value in (("1", 160.0), ("2", 158.0), ("3", 100.0))]
    tested = judge_compression([["1", "2", "3"]], "spark", cylinders, [Rule(OF_HIGHEST, share)])
    assert (tested.rules, [each.result.verdict for each in tested.practice]) == ((), [PRACTICE])
    assert tested.result.verdict == "no limit"
    assert tested.practice[0].result.basis == "tm-5-4210-230-14-and-p-1 Addendum 2"
