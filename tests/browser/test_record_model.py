"""A record typed in the browser: its file and its model are those that the build makes."""

from __future__ import annotations

import hashlib
import json
import re
from typing import Any

import pytest

from generator.audit import RULES
from generator.drafting import canonical
from generator.pages.engine import gaps
from generator.pages.model import engine_model
from generator.pages.record_table import record_table
from generator.pages.scripts import bundle
from generator.reading import dotted, read_text
from generator.record.echoes import without_echoes
from generator.record.engine import read_engine
from tests.browser.spoilt_records import spoilt
from tests.browser.twin import difference
from tests.conftest import ROOT
from tests.examples import BAD, GOOD, HERE, Expected

RECORDS = sorted((ROOT / "specs").glob("engines/*.yaml")) + sorted((ROOT / "specs").glob("demo/*.yaml"))


@pytest.fixture(scope="module")
def page(browser, tmp_path_factory):
    """A page from disk that loads the bundle, what it is told, and nothing else."""
    folder = tmp_path_factory.mktemp("record")
    for name in ("tables", "record"):
        (folder / f"{name}.js").write_text(bundle(name), encoding="utf-8")
    tags = '<script src="tables.js"></script>\n<script src="record.js"></script>\n'
    (folder / "page.html").write_text(f'<!doctype html>\n<meta charset="utf-8">\n<title>Record</title>\n{tags}', encoding="utf-8")
    found = browser.new_page()
    complaints: list[str] = []
    found.on("pageerror", lambda error: complaints.append(str(error)))
    found.goto((folder / "page.html").as_uri())
    assert complaints == []
    yield found
    found.close()


@pytest.fixture(scope="module")
def sources(library) -> dict[str, Any]:
    """Every registered source as its file has it."""
    files = (ROOT / "specs/sources").glob("*.yaml")
    return {path.stem: data_of(path.read_text(encoding="utf-8")) for path in files}


def data_of(text: str) -> dict[str, Any]:
    file, problems = read_text(text.encode(), "record.yaml")
    assert file and problems == []
    return file.data


def python_model(text: str, library, invented: bool) -> dict[str, Any]:
    """The model that the build makes of the text of a file."""
    file, problems = read_text(text.encode(), "record.yaml")
    assert file and problems == []
    engine, _ = read_engine(file, library.schemas.shape("engine"), invented)
    return engine_model(engine, library, None)


@pytest.mark.parametrize("path", RECORDS, ids=lambda path: path.stem)
def test_the_model_is_the_one_the_build_makes(page, library, sources, path):
    record = data_of(path.read_text(encoding="utf-8"))
    text, found = page.evaluate("([record, sources]) => [Firedeck.record.yaml(record), Firedeck.record.model(record, sources)]", [record, sources])
    assert not difference(python_model(text, library, path.parent.name == "demo"), found)


@pytest.mark.parametrize("path", RECORDS, ids=lambda path: path.stem)
def test_the_file_is_canonical_and_holds_the_same(page, library, path):
    data = data_of(path.read_text(encoding="utf-8"))
    text = page.evaluate("record => Firedeck.record.yaml(record)", data)
    assert canonical(text, library.schemas.shape("engine")) == text
    assert data_of(text) == data


TYPED = {
    "fasteners": {"head": {"per": "head", "cite": "orrin-book page 9, drawing 1", "groups": {"all": {"count": 2, "kind": "bolt"}}, "places": {
        "2": {"group": "all", "at": [10, 0.5]}, "1": {"at": [-10, 0], "group": "all"},
    }, "torque": [{"when": "cold, oiled", "printed": ["60Nm", "44 ft-lb"]}], "tightening": None}},
    "id": "orrin-twin", "name": "Orrin twin, upright (invented)", "sources": ["orrin-book"],
    "identity": {
        "firing_order": {"says": "1-2", "doubt": {"says": "read: 1 2", "kind": "scan"}}, "cylinders": {"says": 2}, "cite": "orrin-book page 1",
    },
    "faces": {"head": {"flatness": {"any": [{"printed": ['unreadable "0.0 mm"'], "doubt": {"kind": "scan", "says": "a digit is lost"}}]}}},
}
WRITTEN = """\
id: orrin-twin
name: Orrin twin, upright (invented)
sources: [orrin-book]

identity:
  cite: orrin-book page 1
  cylinders: {says: 2}
  firing_order: {says: "1-2", doubt: {kind: scan, says: "read: 1 2"}}

faces:
  head:
    flatness:
      any:
        - printed: ['unreadable "0.0 mm"']
          doubt: {kind: scan, says: a digit is lost}

fasteners:
  head:
    cite: orrin-book page 9, drawing 1
    per: head
    groups:
      all: {kind: bolt, count: 2}
    places:
      "1": {at: [-10, 0], group: all}
      "2": {at: [10, 0.5], group: all}
    torque:
      - {printed: [60 N.m, 44 lbf.ft], when: "cold, oiled"}
"""


def test_a_record_is_laid_out_as_those_of_the_library_are(page):
    assert page.evaluate("record => Firedeck.record.yaml(record)", TYPED) == WRITTEN


@pytest.mark.parametrize("path", RECORDS, ids=lambda path: path.stem)
def test_it_lacks_what_the_page_of_the_engine_says(page, library, path):
    found = page.evaluate("record => Firedeck.record.lacks(record).map(each => each.what)", data_of(path.read_text(encoding="utf-8")))
    assert found == gaps(library.engines[path.stem])


@pytest.mark.parametrize("path", RECORDS, ids=lambda path: path.stem)
def test_a_sound_record_has_no_fault(page, sources, path):
    record = data_of(path.read_text(encoding="utf-8"))
    assert page.evaluate("([record, sources]) => Firedeck.record.faults(record, sources)", [record, sources]) == []


# What the browser says of a record. The rest of the audit needs the standards, other engines, or figures that must fit each other.
ASKED_OF_A_RECORD = {
    "cite-resolves", "source-unlisted", "source-unused", "real-cites-invented", "units-agree", "unreadable-doubted", "compared-status",
    "provided-by-known", "doubt-needed",
}
ASKED_OF_A_SET = {"order-complete", "count-matches-places", "places-apart", "pulls-expand", "group-tightened", "order-used"}
ANSWER = """([records, sources]) => JSON.stringify(records.map(record => {
  const { yaml, model, faults, tidy } = Firedeck.record;
  const found = faults(record, sources).map(({ at, rule, message, hint }) => [at, rule, message, hint]);
  return { text: yaml(record), tidy: tidy(record), model: model(record, sources), faults: found };
}))"""


def said(problems) -> set[tuple[str, str, str, str]]:
    return {(dotted(each.at), each.rule, each.message, each.hint) for each in problems if each.level == "error"}


def judged(file, library) -> tuple[Any, set[Any], set[Any]]:
    """The record, what is found in reading it, and what the rules find that the browser knows."""
    problems = list(library.schemas.check(file, "engine"))
    books = [library.sources.get(str(each)) for each in file.data.get("sources") or []] if isinstance(file.data.get("sources"), list) else []
    engine, found = read_engine(file, library.schemas.shape("engine"), bool(books) and all(book and book.invented for book in books))
    problems += without_echoes(problems, found)
    if said(problems):
        return engine, said(problems), set()
    rules = [rule for rule in RULES if rule.name in ASKED_OF_A_RECORD | ASKED_OF_A_SET]
    assert {rule.name for rule in rules} == ASKED_OF_A_RECORD | ASKED_OF_A_SET
    found = [problem for rule in rules for problem in rule.check(engine, library)]
    # Whether a doubt of kind manual has its cause is known from all rules together.
    return engine, set(), {each for each in said(found) if each[1] != "doubt-needed" or "no rule finds" not in each[2]}


@pytest.fixture(scope="module")
def answers(page, sources):
    """Records that somebody spoilt, with what the browser makes of each; asked in one call."""
    records = [record for path in RECORDS for record in spoilt(path.stem, data_of(path.read_text(encoding="utf-8")))]
    return json.loads(page.evaluate(ANSWER, [records, sources]))


@pytest.fixture(scope="module")
def compared(answers, library):
    """Each answer with what Python makes of the file: the record, faults of reading, faults of the rules."""
    files = [read_text(answer["text"].encode(), "record.yaml")[0] for answer in answers]
    return [(answer, *judged(file, library)) for answer, file in zip(answers, files, strict=True)]


def test_the_file_of_any_record_is_canonical_and_is_read_as_it_was_typed(answers, library):
    for answer in answers:
        assert data_of(answer["text"]) == answer["tidy"]
        assert canonical(answer["text"], library.schemas.shape("engine")) == answer["text"]


def test_the_faults_of_any_record_are_those_of_the_check(compared):
    rules = set()
    for answer, _, read, later in compared:
        found = {tuple(each) for each in answer["faults"]}
        # The check asks no more of a record that it cannot read; the browser tells what it can.
        early = {each for each in found if each[1] not in ASKED_OF_A_RECORD | ASKED_OF_A_SET}
        assert early == read, answer["text"]
        assert read or found == later, answer["text"]
        rules |= {rule for _, rule, _, _ in found}
    assert rules >= {"statement", "unit-kind", "units-agree", "cite-missing", "place-known", "order-complete", "pulls-expand", "cite-resolves"}
    assert len(rules) >= 25, rules


def test_the_model_of_any_sound_record_is_the_one_the_build_makes(compared, library):
    unmade = {"pulls-expand", "cite-resolves", "order-complete", "source-unused"}  # of such records the build makes none
    sound = [(answer, engine) for answer, engine, read, later in compared if not read and not {rule for _, rule, _, _ in later} & unmade]
    for answer, engine in sound:
        assert not difference(engine_model(engine, library, None), answer["model"]), answer["text"]
    assert len(sound) > len(compared) / 10


FOUND_IN_READING = {"statement", "unit-kind", "cite-missing", "group-known", "place-known", "order-once", "order-known", "head-known"}


def is_found(rule: str) -> bool:
    return rule.startswith("schema-") or rule in FOUND_IN_READING | ASKED_OF_A_RECORD | ASKED_OF_A_SET


def readable(path) -> dict[str, Any] | None:
    """The data of an example; None where its fault is one of YAML, which a form cannot make."""
    file, problems = read_text(path.read_bytes(), path.name)
    return file.data if file and not problems else None


BOOKS = {path.stem: data_of(path.read_text(encoding="utf-8")) for path in (HERE / "library/sources").glob("*.yaml")}
OF_ENGINES = [
    path for path in BAD if path.parent.name in ("engines", "beginners") and is_found(Expected.of(path).rule) and readable(path)
    and "trailing zeros" not in Expected.of(path).says  # a note
]


@pytest.mark.parametrize("path", OF_ENGINES, ids=lambda path: path.stem)
def test_a_bad_example_is_found_with_the_words_of_the_check(page, path):
    expected, record = Expected.of(path), readable(path)
    found = page.evaluate("([record, sources]) => Firedeck.record.faults(record, sources)", [record, BOOKS])
    assert [each["rule"] for each in found] == [expected.rule], found
    assert plain(expected.says) in found[0]["message"]
    assert plain(expected.mend) in found[0]["hint"]


def plain(text: str) -> str:
    """A number typed without quotes loses its last zeros in any program; only the file still has them."""
    return re.sub(r"(\d\.\d*?[1-9])0+(?=['\" ])", r"\1", text)


def test_most_of_the_bad_examples_are_found():
    assert len(OF_ENGINES) >= 90


@pytest.mark.parametrize("path", [path for path in GOOD if path.parent.name == "engines"], ids=lambda path: path.stem)
def test_a_good_example_has_no_fault(page, path):
    assert page.evaluate("([record, sources]) => Firedeck.record.faults(record, sources)", [readable(path), BOOKS]) == []


# A form left half done

HALF_DONE = {
    "id": "orrin-twin", "name": None, "sources": ["orrin-book"],
    "faces": {"head": {"flatness": {"any": [{"printed": ["max 0,05 mm", ""], "cite": ""}]}}},
    "fasteners": {"head": {
        "places": {"A1": {"at": [0, 0]}},
        "tightening": {"orders": {"all": ["A1"]}, "stages": [{"do": "steps"}, {}, {"do": "torque"}]},
    }},
}


def test_a_form_left_half_done_is_told_what_is_open_and_breaks_nothing(page):
    found = page.evaluate("""([record, sources]) => {
      const { yaml, model, faults, lacks } = Firedeck.record;
      return { text: yaml(record), model: model(record, sources), faults: faults(record, sources).map(each => each.at), lacks: lacks(record).length };
    }""", [HALF_DONE, BOOKS])
    assert "name" not in found["text"]
    assert found["model"]["fasteners"]["head"]["tightening"]["pulls"] == []
    assert {"", "faces.head.flatness.any.0.cite", "faces.head.flatness.any.0.printed.0", "fasteners.head.places.A1"} <= set(found["faults"])
    assert found["lacks"] > 10


def test_an_empty_record_breaks_nothing_either(page):
    found = page.evaluate("""() => {
      const { yaml, model, faults, lacks } = Firedeck.record;
      return [yaml({}), model({}, {}).facts, faults({}, {}).length, lacks({}).length];
    }""")
    assert found == ["\n", [], 4, len(record_table()["needs"])]


def test_two_engines_of_one_id_and_signs_that_nobody_sees_are_told(page, library):
    record = data_of((ROOT / "specs/demo/quennith-four.yaml").read_text(encoding="utf-8"))
    record["identity"]["application"]["says"] = "fork\u00a0lift\u200b"
    ids = {"quennith-four": "Quennith four"}
    found = page.evaluate("([record, ids]) => Firedeck.record.faults(record, {}, { ids, invented: true })", [record, ids])
    assert {("id", "id-once"), ("identity.application.says", "hidden-character")} <= {(each["at"], each["rule"]) for each in found}


def test_the_page_may_load_the_bench_too_in_either_order(browser, tmp_path):
    for name in ("tables", "bench", "record"):
        (tmp_path / f"{name}.js").write_text(bundle(name), encoding="utf-8")
    for order in (("tables", "bench", "record"), ("tables", "record", "bench")):
        tags = "".join(f'<script src="{name}.js"></script>\n' for name in order)
        (tmp_path / "page.html").write_text(f'<!doctype html>\n<meta charset="utf-8">\n<title>Both</title>\n{tags}', encoding="utf-8")
        page = browser.new_page()
        page.goto((tmp_path / "page.html").as_uri())
        assert page.evaluate("[Firedeck.record.lacks({}).length > 9, typeof Firedeck.calculations.flatness.judgeFace]") == [True, "function"]
        page.close()


# One field

@pytest.mark.parametrize(("texts", "options", "expected"), [
    (["8.0 kgf.m", "59 lbf.ft"], {"dimension": "torque"}, {
        "verdict": "disagree", "says": "8.0 kgf.m is 57.8641 lbf.ft, printed 59 lbf.ft", "conversions": [],
        "slip": "one digit: 59 may be 58 lbf.ft, or 8.0 may be 8.2 kgf.m",
    }),
    (["80 N.m"], {"dimension": "torque"}, {"verdict": "agree", "says": "", "slip": "", "conversions": ["59.0 lbf.ft"], "refusals": []}),
    (["max 0.05 mm"], {"dimension": "length"}, {"conversions": ["max 0.0019 in"]}),
    (["35 N.m"], {"dimension": "length"}, {"conversions": [], "refusals": [{
        "index": 0, "message": "35 N.m measures torque; length was expected here",
        "hint": "look at the page again, or move the figure to its own key; units for length: mm, um, m, in, uin, ft",
    }]}),
    (["35 furlongs"], {"dimension": "length"}, {"refusals": [{
        "index": 0, "message": "'35 furlongs': unit 'furlongs' is not known",
        "hint": "write the unit that is printed; units for length: mm, um, m, in, uin, ft",
    }]}),
])
def test_one_figure_is_judged_while_it_is_typed(page, texts, options, expected):
    found = page.evaluate("([texts, options]) => Firedeck.record.readFigure(texts, options)", [texts, options])
    assert {key: found[key] for key in expected} == expected


def test_a_text_is_shown_as_it_will_be_written(page):
    assert page.evaluate("Firedeck.record.readStatement('max. 35Nm', 'torque').text") == "max 35 N.m"


# A source

def test_the_file_of_a_source_is_canonical_and_its_faults_are_told(page, library, sources):
    shape = library.schemas.shape("source")
    for source in sources.values():
        text = page.evaluate("source => Firedeck.record.sourceYaml(source)", source)
        assert canonical(text, shape) == text
        assert data_of(text) == source
        assert page.evaluate("source => Firedeck.record.sourceFaults(source)", source) == []
    found = page.evaluate("Firedeck.record.sourceFaults({ id: 'My Book', number: 'X', kind: 'novel', read: '' })")
    said = {each["at"]: each["message"] for each in found}
    assert said["id"] == "'My Book' is no id; lower case, digits and single hyphens were expected"
    assert said[""] == "the file has no key 'about', which must be there"
    assert set(said) == {"", "id", "kind", "read"}


# The schema

def test_the_form_finds_labels_help_and_units_in_the_schema(page, library):
    found = page.evaluate("""() => {
      const shape = Firedeck.record.shapeAt("faces.head.flatness.any");
      return [shape.title, shape.leaf, shape.node.dimension, Object.keys(Firedeck.record.shape().children)];
    }""")
    assert found == ["in any direction", "figures", "length", list(library.schemas.shape("engine").children)]


# The messages are those that the standard's publisher works as examples (FIPS 180-2, appendix B) and no message at all; the digests were
# written down from memory, and Python's own hash gives the same.
@pytest.mark.parametrize(("text", "digest"), [
    ("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
    ("", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
    ("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"),
    ("a" * 1_000_000, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
], ids=["abc", "nothing", "two blocks", "a million"])
def test_the_hash_gives_the_published_digests(page, text, digest):
    assert page.evaluate("text => Firedeck.record.sha256(text)", text) == digest == hashlib.sha256(text.encode()).hexdigest()


def test_the_hash_is_right_at_every_length_and_for_every_alphabet(page):
    texts = ["é€𝄞"[: length % 4] + "x" * length for length in range(140)]
    found = page.evaluate("texts => texts.map(Firedeck.record.sha256)", texts)
    assert found == [hashlib.sha256(text.encode()).hexdigest() for text in texts]
