"""The reference pages: every method, every row, every rule, every number computed or with its source, no link into nothing."""

import ast
import re
from fractions import Fraction
from html import unescape

import pytest

from generator.audit import FINDING_RULES, LIBRARY_RULES, RULES
from generator.audit.methods import work
from generator.audit.reading import READING_RULES, SHAPE_RULES
from generator.calculations.threads import Size, parse_thread
from generator.pages import all_pages
from generator.pages.reference import LEADS, reference_pages
from generator.pages.reference.tables import _proof, row_anchor
from generator.pages.reference.units import _decimal, converted
from generator.pages.wording import formula, said, statement_words
from generator.quantities import UNITS, parse
from generator.reading.messages import _WRITERS
from tests.conftest import ROOT, plain
from tests.published import published


@pytest.fixture(scope="module")
def pages(library):
    return {page.path: page for page in reference_pages(library)}


def text_of(page):
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", page.body)))


def row(page, anchor):
    """Text of a row of a table, cell by cell."""
    found = re.search(rf'<tr id="{anchor}">(.*?)</tr>', page.body, re.S)
    cells = re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", found[1], re.S)
    return [re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", cell)).strip() for cell in cells]


def test_the_first_page_leads_to_all_of_them_and_to_nothing_that_is_not_there(pages, library):
    made = {page.path for page in all_pages(library, {})} | {"reading-a-figure.html"}
    assert {path for path, _, _ in LEADS} <= made
    assert {path for path in pages if path != "reference.html"} <= {path for path, _, _ in LEADS}
    assert all(f'href="{path}"' in pages["reference.html"].body for path, _, _ in LEADS)


def test_no_link_of_any_page_leads_into_nothing(library):
    made = {page.path: set(re.findall(r'\bid="([^"]+)"', page.body)) for page in all_pages(library, {})}
    for page in (page for page in all_pages(library, {}) if page.path.startswith(("reference", "sources"))):
        for href in re.findall(r'href="([^"]+)"', page.body):
            path, _, anchor = href.partition("#")
            target = path.removeprefix(page.up) if path else page.path
            if target in made:
                assert not anchor or anchor in made[target], f"{page.path}: {href}"
            else:
                assert target == "reading-a-figure.html", f"{page.path}: {href}"


def test_ids_are_unique(pages):
    for page in pages.values():
        ids = re.findall(r'\bid="([^"]+)"', page.body)
        assert len(ids) == len(set(ids)), page.path


# Methods


def test_every_method_stands_with_its_formula_sources_range_and_result(pages, library):
    page = pages["reference/methods.html"]
    text = text_of(page)
    for calculation in library.calculations:
        for method in calculation.methods:
            assert method.valid in text
            for line in method.formula:
                assert str(formula(line)) in plain(page.body)
            for cite in method.cites:
                assert f'href="../sources/{cite.source}.html"' in page.body
            for line in work(method, library):
                assert said(line.text) in unescape(page.body), line


def test_the_worked_example_of_preload_is_on_the_page_with_the_sources_of_its_numbers(pages):
    body = pages["reference/methods.html"].body
    example = body[body.index('id="preload"') : body.index('id="nut-factor"')]
    text = re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", example)))
    for number in ("M8x1.25", "39.2 to 44.1 N·m", "0.15 to 0.18", "27.2 to 36.8 kN", "21.2 kN", "30.4 kN", "35.5 kN"):
        assert number in text.replace("\u00a0", " ")
    for source in ("tm-9-6115-670-14-and-p", "machine-design-handbook-9", "machine-design-notes", "iso-898-1"):
        assert f'href="../sources/{source}.html"' in example


def test_no_author_or_title_of_a_handbook_stands_on_the_page(pages, library):
    for page in pages.values():
        for source in library.sources.values():
            assert not source.authors or source.authors not in page.body


# Tables


def test_every_printed_value_of_every_table_is_in_its_row(pages, library):
    page = pages["reference/threads.html"]
    for table in library.threads.values():
        for size in table.rows:
            cells = " ".join(row(page, row_anchor(size.designation)))
            for fact in (*size.pitch_diameter, *size.minor_diameter, *size.external_minor_diameter, *size.stress_area, *size.tapping_drill):
                assert re.search(rf"(?<![\d.]){re.escape(fact.printed[0].quantity_text)} [a-z]", cells), (size.designation, cells)
    strength = pages["reference/strength.html"]
    for table in library.strengths.values():
        for each in table.rows:
            cells = row(strength, row_anchor(each.name))
            printed = [facts[0].printed[0].quantity_text for facts in (each.proof, each.yield_strength, each.tensile)]
            assert [cell.split()[0] for cell in cells[1:]] == printed


def test_a_value_that_no_source_prints_is_worked_out_and_looks_it(pages):
    assert row(pages["reference/threads.html"], "row-m12x1-25") == ["M12x1.25 fine", "11.188", "10.647", "92.1", "10.8 e"]
    assert '<span class="qty computed">11.188</span>' in pages["reference/threads.html"].body


LOADS = [case for case in published("threads", "loads") if case["read"] == "quoted at second hand" and case["load"] == "proof"]


@pytest.mark.parametrize("case", LOADS, ids=lambda case: f"{case['thread']} {case['class']}")
def test_proof_loads_of_the_page_are_those_of_the_standard(pages, case):
    body = pages["reference/strength.html"].body
    name = {"M6": "M6x1", "M8": "M8x1.25", "M10": "M10x1.5", "M12": "M12x1.75", "M16": "M16x2"}.get(case["thread"], case["thread"])
    line = re.search(rf">{re.escape(name)}</a></th>(.*?)</tr>", body, re.S)[1]
    column = ["8.8", "10.9", "12.9"].index(case["class"]) if case["unit"] == "N" else ["Grade 5", "Grade 8"].index(case["class"])
    shown = float(re.findall(r"<td[^>]*>([\d.]*)</td>", line)[column])
    digit = 50 if case["unit"] == "N" else 0.5  # half the last digit shown
    assert shown * (1000 if case["unit"] == "N" else 1) == pytest.approx(case["value"], abs=case["tolerance_share"] * case["value"] + digit)


def test_a_class_that_is_not_tabulated_for_a_diameter_leaves_its_cell_empty(library, schemas):
    assert _proof(Size(parse_thread("1 1/4-7"), "coarse"), "Grade 5", library) == ""
    assert _proof(Size(parse_thread("1 1/4-7"), "coarse"), "Grade 8", library) != ""


# Units


@pytest.mark.parametrize("case", published("conversions", "factors"), ids=lambda case: case["id"])
def test_published_factors_are_the_beginning_of_those_of_the_page(pages, case):
    factor = UNITS[case["one"]].factor / UNITS[case["unit"]].factor
    digits, exact = _decimal(factor)
    assert abs(Fraction(digits) - factor) <= (0 if exact else abs(factor) * Fraction(1, 10**11))
    step = Fraction(1, 10 ** len(case["value"].partition(".")[2]))
    assert abs(Fraction(digits) - Fraction(case["value"])) <= step / 2


def test_exact_factors_are_told_from_those_that_go_on(pages):
    text = text_of(pages["reference/units.html"])
    assert "1 in = 25.4 mm" in text
    assert "1 lbf·ft = 1.3558179483314004 N·m" in text
    assert "1 N·m = 0.737562149277… lbf·ft" in text
    assert "a difference of 1 °C = 1.8 °F" in text
    assert "e-0" not in text


def test_the_rule_of_rounding_is_shown_by_the_conversion_itself(pages):
    text = text_of(pages["reference/units.html"])
    assert str(converted("max 0.05 mm", "in")) == "max 0.0019 in"
    assert "max 0.0019 in" in text
    low, high = converted("0.028 to 0.030 mm", "in").numbers
    assert low.value <= high.value


# Wrench and rules


@pytest.mark.parametrize(("anchor", "row_name", "expected"), [
    ("straight-in", "4", [Fraction(10, 14), Fraction(12, 16), Fraction(16, 20), Fraction(20, 24), Fraction(24, 28)]),
    ("angled-mm", "60°", [Fraction(250, 275), Fraction(300, 325), Fraction(400, 425), Fraction(500, 525), Fraction(600, 625)]),
    ("angled-mm", "90°", [1] * 5),
    ("angled-in", "180°", [Fraction(10, 8), Fraction(12, 10), Fraction(16, 14), Fraction(20, 18), Fraction(24, 22)]),
])
def test_settings_with_an_adapter_by_the_lever_itself(pages, anchor, row_name, expected):
    body = pages["reference/wrench.html"].body
    table = body[body.index(f'id="{anchor}"') :]
    line = re.search(rf'<th scope="row">{row_name}</th>(.*?)</tr>', table, re.S)[1]
    shown = [float(each) for each in re.findall(r"<td[^>]*>([\d.]+)</td>", line)]
    assert shown == pytest.approx([float(share) * 100 for share in expected], abs=0.05)


def test_a_bar_in_line_changes_nothing_stands_first(pages):
    text = text_of(pages["reference/wrench.html"])
    assert text.index("A bar in line with the bolt changes nothing: leave 0.") < text.index("Sideways adapter")
    assert "200 N·m 40 60 160" in text.replace("\u00a0", " ")


def test_every_rule_of_the_check_is_listed_with_what_it_catches(pages):
    text = plain(unescape(pages["reference/rules.html"].body))
    for rule in (*RULES, *LIBRARY_RULES, *FINDING_RULES, *READING_RULES):
        assert f'id="rule-{rule.name}"' in text
        assert rule.catches in text and rule.example in text


# Where in a call the rule of a problem stands.
RULE_AT = {"problem": 1, "Problem": 3, "_at": 2, "report": 1, "condition_problems": 4}
# Expressions that pass on a rule which is found elsewhere.
PASSED_ON = {"generator/reading/yamlfile.py: rule", "generator/audit/suspicion.py: self.name", "generator/audit/procedure.py: rule"}


def rules_in(path):
    """Every rule that a file of the generator gives to a problem, and every expression that is no plain word."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assignments = [node for node in ast.walk(tree) if isinstance(node, ast.Assign)]
    assigned = {target.id: node.value for node in assignments for target in node.targets if isinstance(target, ast.Name)}
    for call in (node for node in ast.walk(tree) if isinstance(node, ast.Call)):
        name = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
        given = [keyword.value for keyword in call.keywords if keyword.arg == "rule"] if name in RULE_AT else []
        given += call.args[RULE_AT[name] : RULE_AT[name] + 1] if name in RULE_AT else []
        for node in given:
            node = assigned.get(node.id, node) if isinstance(node, ast.Name) else node
            for each in (node.body, node.orelse) if isinstance(node, ast.IfExp) else (node,):
                each = assigned.get(each.id, each) if isinstance(each, ast.Name) else each
                yield each.value if isinstance(each, ast.Constant) else f"{path.relative_to(ROOT).as_posix()}: {ast.unparse(each)}"


def test_every_rule_that_a_message_names_is_listed_and_every_rule_of_reading_is_used(pages):
    listed = set(re.findall(r'id="rule-([^"]+)"', pages["reference/rules.html"].body))
    found = {each for path in sorted((ROOT / "generator").rglob("*.py")) if "pages" not in path.parts for each in rules_in(path)}
    words = {each for each in found if ":" not in each}
    assert len(words) > 40
    assert words | {f"schema-{keyword}" for keyword in _WRITERS} <= listed
    assert found - words <= PASSED_ON | {"generator/reading/schema.py: f'schema-{fault.rule}'"}
    assert {rule.name for rule in READING_RULES if not rule.name.startswith("schema-")} <= words
    assert {rule.name for rule in SHAPE_RULES} <= {f"schema-{keyword}" for keyword in _WRITERS}


# Sources and wording


def test_a_source_page_leads_to_the_tables_and_methods_that_rest_on_it(library):
    body = next(page.body for page in all_pages(library, {}) if page.path == "sources/iso-898-1.html")
    assert 'href="../reference/threads.html#row-m8x1-25"' in body
    assert 'href="../reference/strength.html#row-10-9"' in body
    assert 'href="../reference/methods.html#loads"' in body


@pytest.mark.parametrize(("text", "words"), [
    ("27.2 to 36.8 kN is past 21.2 kN.", "27.2 to 36.8\u00a0kN is past 21.2\u00a0kN."),
    ("set 66.7 lbf.in for 100 lbf.in", "set 66.7\u00a0lbf·in for 100\u00a0lbf·in"),
    ("0.27 deg late", "0.27° late"), ("36.6 mm2; 5 N.m", "36.6\u00a0mm²; 5\u00a0N·m"), ("2 minutes", "2 minutes"),
])
def test_sentences_of_calculations_get_the_spelling_of_the_page(text, words):
    assert said(text) == words


def test_formulas_are_text_with_lowered_letters_and_never_markup():
    assert str(formula("A_s = π/4 (d_2)")) == "A<sub>s</sub> = π/4 (d<sub>2</sub>)"
    assert str(formula("<b> & V_c")) == "&lt;b&gt; &amp; V<sub>c</sub>"


@pytest.mark.parametrize(("printed", "words"), [("0.18 ratio", "0.18"), ("17 ratio", "17:1"), ("1.0 ratio", "1.0:1")])
def test_a_factor_below_one_is_no_compression_ratio(printed, words):
    assert statement_words(parse(printed)) == words
