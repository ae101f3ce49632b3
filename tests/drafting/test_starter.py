"""The starter record: made from the schema, checked before it is written, silent about what nobody said."""

import re

import pytest
import yaml

from generator.drafting import Answers, canonical, engine_text, faults, id_from, source_text
from generator.reading import read_text

ANSWERS = Answers(
    "Fork-lift truck", "TM 10-3930-653-14&P", "page 3", "government manual", "from the printed page", "gasoline", "June 1985",
    "fork-lift-truck-tm-10-3930-653-14-and-p", "tm-10-3930-653-14-and-p",
)


@pytest.mark.parametrize(("words", "made"), [
    (("Fork-lift truck", "TM 10-3930-653-14&P"), "fork-lift-truck-tm-10-3930-653-14-and-p"),
    (("Pump & motor",), "pump-and-motor"),
    (("  Crane (diesel) ", "No. 5--7/2"), "crane-diesel-no-5-7-2"),
    (("Équipement",), "equipement"),
    (("\u0394",), ""),
])
def test_ids_are_lower_case_with_single_hyphens(words, made):
    assert id_from(*words) == made


def test_the_starter_says_what_was_told_and_nothing_else(schemas):
    file, problems = read_text(engine_text(ANSWERS, "x.yaml", schemas).encode(), "x.yaml")
    assert problems == [] == list(schemas.check(file, "engine"))
    assert file.data == {
        "id": ANSWERS.id, "name": "Fork-lift truck, gasoline, TM 10-3930-653-14&P", "sources": [ANSWERS.source],
        "identity": {"cite": f"{ANSWERS.source} page 3", "application": {"says": "fork-lift truck"}, "fuel": {"says": "gasoline"}},
    }


def test_the_source_is_registered_with_what_was_told(schemas):
    file, problems = read_text(source_text(ANSWERS).encode(), "x.yaml")
    assert problems == [] == list(schemas.check(file, "source"))
    assert (file.data["number"], file.data["edition"], file.data["about"]) == ("TM 10-3930-653-14&P", "June 1985", "Fork-lift truck, gasoline")


def test_the_starter_is_canonical(schemas):
    text = engine_text(ANSWERS, "x.yaml", schemas)
    assert canonical(text, schemas.shape("engine")) == text
    assert canonical(source_text(ANSWERS), schemas.shape("source")) == source_text(ANSWERS)


def test_an_invented_book_makes_an_invented_engine():
    answers = Answers("Mill", "Book", "page 1", "invented", "made up")
    assert (answers.folder, answers.name) == ("demo", "Mill, Book (invented)")


def uncommented(text):
    """The starter with every key brought to life, its header left out."""
    return re.sub(r"(?m)^( *)# ", r"\1", text[text.index("\n\n") :])


def test_every_key_of_the_schema_stands_in_the_starter_where_it_belongs(schemas):
    whole = yaml.load(uncommented(engine_text(ANSWERS, "x.yaml", schemas)), Loader=yaml.BaseLoader)
    found = set()

    def walk(data, shape, path):
        for key, value in data.items() if isinstance(data, dict) else ():
            below = shape.below(key)
            assert below is not None, f"{path}.{key} is no key of the schema"
            found.add((id(shape.node.get("properties")), key))
            for each in value if isinstance(value, list) else [value]:
                walk(each, below.items if isinstance(value, list) and below.items else below, f"{path}.{key}")

    def wanted(shape):
        if not shape.leaf:
            for key, child in shape.children.items():
                if key not in ("cite", "doubt"):
                    yield id(shape.node.get("properties")), key
                    yield from wanted(child)
            for below in (shape.others, shape.items):
                yield from wanted(below) if below else ()

    shape = schemas.shape("engine")
    walk(whole, shape, "")
    missing = {key for key in wanted(shape) if key not in found}
    assert {key for _, key in missing} == set()


def test_a_key_brought_to_life_without_a_value_is_refused_at_its_line(schemas):
    text = engine_text(ANSWERS, "x.yaml", schemas).replace("  # layout: {says: }", "  layout: {says: }").replace("  # bore:", "  bore:")
    _, problems = read_text(text.encode(), "x.yaml")
    lines = text.splitlines()
    assert [lines[problem.line - 1].split(":")[0].strip() for problem in problems] == ["layout", "bore"]


@pytest.mark.parametrize("words", ["Truck: big", "Truck # 3", "true", "'quoted", "[list]", "1:30", 'a "b" c', "Truck, {two}"])
def test_words_that_yaml_would_misread_are_quoted(schemas, words):
    answers = Answers(words, words, "page 3", "handbook", words, "", words, "an-id", "a-source")
    assert faults(answers, schemas) == []
    engine = read_text(engine_text(answers, "x.yaml", schemas).encode(), "")[0].data
    source = read_text(source_text(answers).encode(), "")[0].data
    assert engine["identity"]["application"]["says"].lower() == words.lower()
    assert (engine["name"], source["read"]) == (f"{words}, {words}", words)


@pytest.mark.parametrize(("change", "phrase"), [
    ({"fuel": "petrol"}, "'petrol' is not one of the words for 'fuel'"), ({"kind": "book"}, "'book' is not one of the words for 'kind'"),
    ({"equipment": "x" * 200}, "characters"), ({"id": "Big One"}, "'Big One'"), ({"manual": "a\u200bb"}, "U+200B"),
])
def test_what_cannot_stand_is_told_in_the_words_of_the_check(schemas, change, phrase):
    found = faults(Answers(**{**{key: getattr(ANSWERS, key) for key in ANSWERS.__dataclass_fields__}, **change}), schemas)
    assert any(phrase in problem.message for problem in found)
