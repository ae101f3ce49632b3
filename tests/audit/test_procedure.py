"""Every fault of the procedure's files is an error at its line, and none of them leaves a blank on a page."""

from dataclasses import replace

import pytest

from generator.audit import LIBRARY_RULES, audit
from generator.reading import read_text
from generator.record.library import Library
from generator.record.procedure import read_cautions, read_needs, read_phase, read_required

PHASE = """\
id: confirm
number: 1
name: Confirm
purpose: To have a phase to break.
steps:
  - id: first
    do: Begin.
    figures: [tests.compression.minimum, {of: [faces.head.flatness, faces.barrel], what: the limit, when: {liners: wet, gasket.form: ring}}]
    needs: [gauge]
    cautions: [hot]
    no_pause: {until: last, why: It sets.}
    causes: boiling
    signs: true
    cite: common-practice no source
  - id: middle
    do: Go on.
    when: {valve_train: [push rod, side valve], cooling: liquid}
    cite: od1001 lesson 3
  - id: last
    do: End.
    hold: {name: Sound, true_when: All is well., who: The mechanic., if_not: Begin again.}
    cite: common-practice no source
causes:
  - {id: dry, of: boiling, cause: No coolant., test: Look., then: Fill., step: middle, cite: common-practice no source}
signs:
  - {id: creaks, sign: It creaks., means: Friction., again: Clean it., back_to: first, cite: common-practice no source}
"""
CAUTIONS = """\
cautions:
  hot: {signal: warning, text: Hot., when: {cooling: liquid}, cite: common-practice no source}
"""
NEEDS = """\
needs:
  gauge: {kind: tool, name: gauge, figures: [tests.compression.how]}
"""
REQUIRED = """\
steps:
  confirm: [first, last]
holds:
  Sound: last
hazards:
  - {hazard: heat, caution: hot, before: [first]}
retired: [old-one]
"""
FILES = {
    "01-confirm.yaml": (PHASE, "phase"), "cautions.yaml": (CAUTIONS, "cautions"), "needs.yaml": (NEEDS, "needs"),
    "required.yaml": (REQUIRED, "required"),
}


def problems_of(library, name="", old="", new=""):
    """Errors of the small job with one change: those of the schema, or else those of the rules."""
    read, schema = {}, []
    for each, (text, kind) in FILES.items():
        assert each != name or old in text
        file, found = read_text((text.replace(old, new, 1) if each == name else text).encode(), each)
        read[each] = file
        schema += [*found, *library.schemas.check(file, kind)]
    small = Library(
        library.schemas, library.sources, {}, [read_phase(read["01-confirm.yaml"])], read_cautions(read["cautions.yaml"]), read["cautions.yaml"],
        read_needs(read["needs.yaml"]), read["needs.yaml"], read_required(read["required.yaml"]),
    )
    return schema or [each for each in audit(small) if each.rule != "phases-complete"]


def found_at(problems, rule, file, line):
    """The one error of a rule at a line; the same slip may show in another file too."""
    found = [each for each in problems if (each.rule, each.file, each.line) == (rule, file, line)]
    assert {each.level for each in found} == {"error"}, problems
    return found[0]


def test_the_small_job_is_clean(library):
    assert problems_of(library) == []


@pytest.mark.parametrize(("rule", "old", "new", "line", "phrase"), [
    ("step-figure-known", "tests.compression.minimum", "tests.compression.minimun", 8, "which no record can have"),
    ("step-figure-known", "faces.barrel]", "faces.barel]", 8, "'faces.barel'"),
    ("step-names-known", "[hot]", "[hott]", 10, "'hott' is not in cautions.yaml"),
    ("step-names-known", "[gauge]", "[gage]", 9, "'gage' is not in needs.yaml"),
    ("step-cite-resolves", "od1001 lesson 3", "od1002 lesson 3", 15, "'od1002' is not registered"),
    ("step-cite-resolves", "od1001 lesson 3", "quennith-engine-book-q4 page 1", 15, "an invented book"),
    ("step-cite-resolves", "back_to: first, cite: common-practice", "back_to: first, cite: common-practise", 26, "not registered"),
    ("condition-known", "liners: wet", "liners: damp", 8, "liners is never 'damp'"),
    ("condition-known", "gasket.form: ring", "gasket.form: rings", 8, "gasket.form is never 'rings'"),
    ("condition-known", "gasket.form: ring", "gasket.from: ring", 8, "no fact of an engine's identity"),
    ("condition-known", "cooling: liquid", "cooling: water", 17, "cooling is never 'water'"),
    ("condition-known", "push rod, side valve", "push rod, side valves", 17, "never 'side valves'"),
    ("condition-known", "cooling: liquid", "coolant: liquid", 17, "no fact of an engine's identity"),
    ("condition-known", "cooling: liquid", "application: crane", 17, "no fact of an engine's identity"),
    ("step-once", "id: middle", "id: first", 15, "also stands in"),
    ("step-known", "until: last", "until: lats", 11, "no step of the job"),
    ("step-known", "until: last", "until: first", 11, "comes before the step"),
    ("step-known", "back_to: first", "back_to: middle", 26, "some engines do not have"),
    ("step-known", "step: middle", "step: midle", 24, "no step of the job"),
    ("table-shown", "causes: boiling", "causes: boilng", 12, "no cause of this phase"),
    ("table-shown", "    signs: true\n", "", 24, "must stand at one step"),
    ("hold-has-step", "name: Sound", "name: Sounds", 21, "'Sounds' is not in required.yaml"),
    ("step-retired", "id: middle", "id: old-one", 15, "used once for something else"),
    ("hazard-before-step", "    cautions: [hot]\n", "", 6, "does not stand before the step 'first'"),
    ("schema-required", ", who: The mechanic.", "", 21, "no key 'who'"),
    ("schema-additionalProperties", "    do: Go on.", "    do: Go on.\n    hint: x", 17, "'hint' is not known"),
    ("schema-minItems", "[push rod, side valve]", "[push rod]", 17, "has 1 item; at least 2 were expected"),
])
def test_a_fault_of_a_phase_is_an_error_at_its_line(library, rule, old, new, line, phrase):
    found = found_at(problems_of(library, "01-confirm.yaml", old, new), rule, "01-confirm.yaml", line)
    assert phrase in found.message
    assert found.hint or rule == "step-cite-resolves"


@pytest.mark.parametrize(("name", "rule", "old", "new", "line", "phrase"), [
    ("cautions.yaml", "schema-required", "signal: warning, ", "", 2, "no key 'signal'"),
    ("cautions.yaml", "schema-enum", "warning", "attention", 2, "'attention' is not one of the words"),
    ("cautions.yaml", "named-by-step", "cautions:\n", "cautions:\n  idle: {signal: notice, text: X., cite: od1001 x}\n", 2, "no step names"),
    ("cautions.yaml", "condition-known", "cooling: liquid", "cooling: wet", 2, "never 'wet'"),
    ("cautions.yaml", "step-cite-resolves", "common-practice no", "uncommon-practice no", 2, "not registered"),
    ("needs.yaml", "schema-enum", "kind: tool", "kind: thing", 2, "'thing'"),
    ("needs.yaml", "named-by-step", "needs:\n", "needs:\n  idle: {kind: tool, name: x}\n", 2, "no step names the need"),
    ("needs.yaml", "step-figure-known", "tests.compression.how", "tests.compression.hwo", 2, "which no record can have"),
    ("required.yaml", "step-required", "[first, last]", "[first, final]", 2, "'final' must be there and stands in no phase"),
    ("required.yaml", "step-required", "confirm: [first", "decide: [first", 2, "stands in the phase 'confirm', not in 'decide'"),
    ("required.yaml", "hold-has-step", "Sound: last", "Sound: final", 4, "has no step"),
    ("required.yaml", "hold-has-step", "Sound: last", "Sound: first", 4, "does not hold for"),
    ("required.yaml", "hazard-before-step", "caution: hot", "caution: heat", 6, "not in cautions.yaml"),
    ("required.yaml", "hazard-before-step", "before: [first]", "before: [frist]", 6, "no step of the job"),
])
def test_a_fault_of_the_other_files_is_an_error_at_its_line(library, name, rule, old, new, line, phrase):
    assert phrase in found_at(problems_of(library, name, old, new), rule, name, line).message


def test_every_rule_of_the_procedure_is_tried_here():
    tried = {mark.args[1][index][0 if len(mark.args[1][index]) == 5 else 1]
             for test in (test_a_fault_of_a_phase_is_an_error_at_its_line, test_a_fault_of_the_other_files_is_an_error_at_its_line)
             for mark in test.pytestmark for index in range(len(mark.args[1]))}
    rules = {rule.name for rule in LIBRARY_RULES if "specs/procedure/" in rule.folders and rule.check.__module__.endswith(("procedure", "required"))}
    assert rules - tried == {"phases-complete"}


def test_a_missing_phase_is_reported(library):
    broken = replace(library, phases=library.phases[:-1], problems=[])
    assert "the job has no phase 11" in [problem.message for problem in audit(broken)]


def test_without_the_list_nothing_passes_for_complete(library):
    broken = replace(library, required=None, problems=[])
    assert [problem.rule for problem in audit(broken) if problem.level != "note"] == ["step-required"]
