"""Every calculation has its method, every formula its source, every example is worked when it is asked for."""

import ast
import re
from dataclasses import replace

import pytest

from generator.audit import audit, findings
from generator.audit.methods import WORKED, work
from generator.audit.values import strengths, thread_sizes
from generator.audit.worked import ExampleError, facts_of
from generator.calculations.preload import preload
from generator.calculations.threads import loads, parse_thread, size_of, strength_of
from generator.quantities import Quantity
from generator.reading import read_text
from generator.record.engine import read_engine
from generator.record.facts import Fact
from generator.record.library import Library, load
from generator.record.method import Given, read_calculation
from tests.conftest import ROOT
from tests.published import published

CALCULATIONS = ROOT / "generator/calculations"
HELPERS = {"__init__", "result", "wording", "entry"}  # what a calculation takes, how numbers are said, how typing is read


def public_functions(path):
    return [node.name for node in ast.parse(path.read_text(encoding="utf-8")).body if isinstance(node, ast.FunctionDef) and node.name[0] != "_"]


def methods(library):
    return {method.id: method for calculation in library.calculations for method in calculation.methods}


def lines(library, method_id):
    return [(line.label, line.text) for line in work(methods(library)[method_id], library)]


def test_every_public_function_of_every_calculation_has_its_method(library):
    described = {calculation.id: sorted(name for method in calculation.methods for name in method.functions) for calculation in library.calculations}
    there = {path.stem: sorted(public_functions(path)) for path in CALCULATIONS.glob("*.py") if path.stem not in HELPERS}
    assert described == there


def test_every_method_has_an_example_and_every_example_a_method(library):
    assert set(methods(library)) == set(WORKED)
    assert len(methods(library)) == sum(len(calculation.methods) for calculation in library.calculations)


def test_every_letter_of_a_formula_is_explained(library):
    for method in methods(library).values():
        explained = {letter for symbol, _ in method.symbols for letter in symbol.split(", ")}
        for line in method.formula:
            for letter in re.findall(r"(?<![\w_])[A-Za-zλα](?:_\w+)?(?![\w_(])", line):
                assert {letter, letter.split("_")[0]} & explained, f"{method.id}: {letter} in {line}"


def test_every_source_of_the_page_is_registered_and_only_inputs_are_made_up(library):
    for method in methods(library).values():
        assert method.cites
        assert all(not library.sources[cite.source].invented for cite in method.cites)
        for given in method.given:
            for fact in facts_of(given, library):
                assert fact.cite.source in library.sources, given.label


# The worked example of preload


def test_the_head_bolts_of_the_power_unit_are_worked_from_record_and_tables(library):
    found = dict(lines(library, "preload"))
    thread, sizes = parse_thread("M8x1.25"), thread_sizes(library)
    expected = preload(Quantity(39.2, "N.m"), Quantity(44.1, "N.m"), thread, 0.15, 0.18)
    low, high = re.fullmatch(r"([\d.]+) to ([\d.]+) kN", found["Clamp load of one bolt"]).groups()
    assert (float(low), float(high)) == (pytest.approx(expected.low.value, abs=0.05), pytest.approx(expected.high.value, abs=0.05))
    assert (round(expected.low.value), round(expected.high.value)) == (27, 37)
    for name, proof in (("8.8", 21.2), ("10.9", 30.4), ("12.9", 35.5)):
        bolt = loads(thread, strength_of(name, thread, strengths(library)), size_of(thread, sizes).stress_area)
        assert bolt.proof.to("kN") == pytest.approx(proof, abs=0.05)
        assert found[f"Proof load of {name}"] == f"{proof} kN"
    assert [label for label in found if label.startswith("Proof load")] == ["Proof load of 8.8", "Proof load of 10.9", "Proof load of 12.9"]


def test_none_of_its_numbers_stands_in_the_code_that_works_it():
    worked = [ROOT / "generator/audit" / name for name in ("methods.py", "values.py", "worked.py", "worked_bolts.py", "worked_faces.py")]
    for path in (*worked, *(ROOT / "generator/pages").rglob("reference/*")):
        text = path.read_text(encoding="utf-8")
        for number in ("39.2", "44.1", "0.15", "0.18", "21.2", "30.4", "35.5", "36.6", "580", "830", "970"):
            assert not re.search(rf"(?<![\d.]){re.escape(number)}(?![\d.])", text), f"{number} in {path.name}"


def test_the_example_follows_the_record(library, schemas):
    engine = library.engines["auxiliary-power-unit-tm-9-6115-670-14-and-p"]
    before = dict(lines(library, "preload"))["Clamp load of one bolt"]
    text = (ROOT / engine.file.name).read_text(encoding="utf-8").replace("39.2 to 44.1 N.m, 28.9 to 32.5 lbf.ft", "20 to 22 N.m")
    file, _ = read_text(text.encode(), engine.file.name)
    changed, _ = read_engine(file, schemas.shape("engine"), False)
    other = Library(schemas, library.sources, {**library.engines, engine.id: changed}, threads=library.threads, strengths=library.strengths,
                    friction=library.friction, calculations=library.calculations)
    assert before != dict(lines(other, "preload"))["Clamp load of one bolt"] == "13.9 to 18.3 kN"


# Printed examples


@pytest.mark.parametrize(("method", "label", "group", "case_id", "unit"), [
    ("sideways-adapter", "", "settings", "W1", "lbf.in"),
])
def test_the_adapter_of_the_source_comes_out_as_printed(library, method, label, group, case_id, unit):
    case = next(case for case in published("wrench", group) if case["id"] == case_id)
    assert any(f"set {case['setting']} {unit}" in text for _, text in lines(library, method))


def test_the_nut_factor_of_the_source_comes_out_as_printed(library):
    (case,) = published("preload", "friction")
    found = dict(lines(library, "nut-factor"))
    assert float(found["Nut factor"]) == pytest.approx(case["value"], abs=case["tolerance"])
    assert float(found["Torque for this preload"].removesuffix(" lbf.in")) == pytest.approx(case["torque"], abs=case["torque_tolerance"])


def test_the_printed_compression_test_suspects_number_three(library):
    found = lines(library, "compression-rules")
    assert found[0] == ("Verdict", "over")
    assert "No. 3 at 405 psi: 40 psi is over the limit" in found[1][1]


def test_the_step_rule_of_a_record_keeps_its_doubt(library):
    found = dict(lines(library, "pulls"))
    assert found["Rounds"].startswith("round 1: 5 lbf.ft; round 2: 10 lbf.ft") and found["Rounds"].endswith("round 6: 29 to 31 lbf.ft")
    assert found["Target"] == "doubtful: look it up in the manual"


# Bad input


@pytest.fixture
def judged(library, schemas):
    """Problems of the audit over the methods of one file, with something in it changed."""

    def do(name, old, new):
        path = ROOT / f"specs/methods/{name}.yaml"
        text = path.read_text(encoding="utf-8")
        assert old in text
        file, problems = read_text(text.replace(old, new, 1).encode(), f"specs/methods/{name}.yaml")
        calculation, found = read_calculation(file, schemas.shape("methods"))
        whole = replace(library, calculations=[calculation], problems=[])
        later = [] if [*problems, *found] else audit(whole)
        return [(problem.rule, problem.message) for problem in [*problems, *schemas.check(file, "methods"), *found, *later]]

    return do


@pytest.mark.parametrize(("name", "old", "new", "rule", "phrase"), [
    ("preload", "Eq. 8-27]", "Eq. 8-27]\n    formulas: [x]", "schema-additionalProperties", "'formulas' is not known in"),
    ("preload", "machine-design-handbook-9 Eq. 8-27", "machine-design-handbook-8 Eq. 8-27", "method-cite-resolves", "is not registered"),
    ("cost", "common-practice no source", "worked-examples no source", "method-cite-resolves", "a formula cites an invented book"),
    ("preload", "at: fasteners.head.torque}", "at: fasteners.head.torques}", "method-example-works", "says nothing at 'fasteners.head.torques'"),
    ("preload", "engine: auxiliary-power-unit", "engine: auxiliary-power-units", "method-example-works", "says nothing at"),
    ("preload", "key: torque,", "key: torqe,", "method-example-works", "the example needs an input with the key 'torque'"),
    ("preload", "id: nut-factor", "id: nut-factors", "method-example-works", "no example is worked for a method called 'nut-factors'"),
    ("wrench", "[42 N.m]", "[42 mm]", "method-example-works", "cannot be worked: setting: mm measures length"),
    ("wrench", "[42 N.m]", "[42 to 43 N.m]", "method-example-works", "'setting' must be one value"),
    ("wrench", "[42 N.m], cite: worked-examples wrench", "[42 N.m]", "cite-missing", "this input has no source"),
    ("cost", "says: 40", "says: much", "method-example-works", "'extra' must be a number"),
])
def test_bad_methods_are_refused(judged, name, old, new, rule, phrase):
    found = judged(name, old, new)
    assert any(each[0] == rule and phrase in each[1] for each in found), found


@pytest.mark.parametrize("digits", ["9" * 400, '"' + "9" * 400 + '"', "1e999"])
def test_an_example_waits_for_its_record_to_be_mended(tmp_path, digits):
    folder = tmp_path / "demo"
    folder.mkdir()
    text = (ROOT / "specs/demo/quennith-four.yaml").read_text(encoding="utf-8")
    assert "cylinders: {says: 4}" in text
    draft = folder / "quennith-four.yaml"
    draft.write_text(text.replace("cylinders: {says: 4}", f"cylinders: {{says: {digits}}}"), encoding="utf-8")
    found = findings(load(ROOT, [draft])).problems
    assert [(problem.file, problem.level) for problem in found if problem.level == "error"] == [(draft.as_posix(), "error")]


def test_rounds_that_cannot_be_read_are_told_at_the_record_and_at_the_example(tmp_path):
    name = "refrigeration-unit-tm-5-4110-217-14.yaml"
    text = (ROOT / "specs/engines" / name).read_text(encoding="utf-8")
    assert "to: 29 to 31 lbf.ft" in text
    draft = tmp_path / name
    draft.write_text(text.replace("to: 29 to 31 lbf.ft", "to: 29 to 3 lbf.ft"), encoding="utf-8")
    found = findings(load(ROOT, [draft])).problems
    told = {problem.rule for problem in found if "'29 to 3 lbf.ft' runs from high to low" in problem.message}
    assert told == {"pulls-expand", "method-example-works"}


def test_a_number_without_end_is_no_input(library):
    endless = Fact((), (), "word", None, text="9" * 400)
    method = replace(methods(library)["flatness-lines"], given=(Given((), "cylinders", "", (endless,)),))
    with pytest.raises(ExampleError, match="must be a number"):
        work(method, library)
