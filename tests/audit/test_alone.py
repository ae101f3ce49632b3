"""A broken record is asked what one figure or cite can tell: the other slips of its file are told at once, and the first is not echoed."""

import pytest

from generator.audit import RULES, findings
from generator.audit.alone import READS_BESIDES
from generator.quantities import AGREE, Agreement
from generator.record import facts
from generator.record.library import load
from tests.conftest import ROOT
from tests.examples import checked, library_folder

TEXT = """\
id: marrowby
name: Marrowby twin (invented)
sources: [orrin-book]
identity:
  cite: orrin-book page 1
  layout: {says: in-line}
  cylinders: {says: 2}
  fuel: {says: gasoline}
  stroke:
    - printed: [92 mm, 3.622 in]
faces:
  cite: orrin-book page 3
  head:
    flatness:
      lengthwise:
        - printed: [max 0.05 mm, max 0.0019 in]
"""
MISSPELT = ("  stroke:", "  strok:")
TOLD = "schema-additionalProperties"


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return library_folder(tmp_path_factory.mktemp("library"))


@pytest.fixture
def rules(folder, tmp_path):
    def do(*changes):
        text = TEXT
        for old, new in changes:
            assert old in text
            text = text.replace(old, new)
        path = tmp_path / "marrowby.yaml"
        path.write_text(text, encoding="utf-8")
        return [(problem.line, problem.rule) for problem in checked(path, folder)]

    return do


def test_the_record_that_the_slips_are_made_in_is_clean(rules):
    assert rules() == []


@pytest.mark.parametrize(("change", "slip"), [
    (("cite: orrin-book page 3", "cite: orin-book page 3"), (12, "cite-resolves")),
    (("cite: orrin-book page 3", "cite: tallow-notes page 3"), (12, "source-unlisted")),
    (("max 0.0019 in", "max 0.019 in"), (16, "units-agree")),
    (("max 0.0019 in", 'unreadable "0019 in"'), (16, "unreadable-doubted")),
    (("[max 0.05 mm, max 0.0019 in]", '[max 0.05 mm]\n          compared: {day: "2026-03-14", edition: first}'), (17, "compared-status")),
])
def test_a_misspelt_key_hides_no_other_slip(rules, change, slip):
    assert rules(MISSPELT, change) == [(9, TOLD), slip]


def test_a_cite_under_a_misspelt_key_is_still_a_cite(rules):
    assert rules(MISSPELT, ("3.622 in]", "3.622 in]\n      cite: orin-book page 2")) == [(9, TOLD), (11, "cite-resolves")]


@pytest.mark.parametrize("changes", [
    (("  stroke:", "  strok:"), ("3.622 in", "36.22 in")),
    (("[92 mm, 3.622 in]", "[92 mm, 36.22 in]\n      dobt: {kind: manual, says: printed so}"),),
    (("[92 mm, 3.622 in]", "[92 mm, 36.22 inn]"),),
    (("sources: [orrin-book]", "sources: orrin-book"),),
    (("sources: [orrin-book]", "source: [orrin-book]"),),
    (("cite: orrin-book page 1", "cite: Orrin page 1"),),
    (("cite: orrin-book page 1", "cites: orrin-book page 1"),),
])
def test_what_stands_at_an_error_is_no_second_slip(rules, changes):
    assert len(rules(*changes)) == 1


def test_a_key_that_is_missing_hides_nothing(rules):
    assert rules(("name: Marrowby twin (invented)\n", ""), ("max 0.0019 in", "max 0.019 in")) == [(1, "schema-required"), (15, "units-agree")]


def test_rules_that_hold_figures_against_each_other_wait(rules):
    assert rules(MISSPELT, ("sources: [orrin-book]", "sources: [orrin-book, tallow-notes]")) == [(9, TOLD)]


def test_every_rule_that_is_asked_alone_is_a_rule():
    assert set(READS_BESIDES) <= {rule.name for rule in RULES}


def test_a_misspelt_key_in_a_real_record(tmp_path):
    path = tmp_path / "engines" / "pump-tm-5-4320-300-14.yaml"
    path.parent.mkdir()
    text = (ROOT / "specs/engines" / path.name).read_text(encoding="utf-8")
    path.write_text(text.replace("  fuel:", "  fule:").replace("max 0.0762 mm", "max 0.762 mm"), encoding="utf-8")
    found = [problem.rule for problem in findings(load(ROOT, [path])).serious]
    assert found == ["schema-additionalProperties", "units-agree"]


def test_statements_of_a_list_that_is_too_long_are_not_held_against_each_other(folder, tmp_path, monkeypatch):
    compared = []
    monkeypatch.setattr(facts, "agreement", lambda printed: compared.append(len(printed)) or Agreement(AGREE))
    path = tmp_path / "marrowby.yaml"
    path.write_text(TEXT.replace("max 0.05 mm,", "max 0.05 mm, " * 200), encoding="utf-8")
    assert [problem.rule for problem in checked(path, folder)] == ["schema-maxItems"]
    assert max(compared) == 2
