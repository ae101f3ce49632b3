"""The worked example of the handbook does what the page says: its commands run, its record passes the check and is canonical."""

import html
import re
import shlex

import pytest
import yaml

from generator.quantities import parse
from tests.conftest import ROOT

PAGE = (ROOT / "docs/adding-an-engine.md").read_text(encoding="utf-8")
RECORD = "specs/demo/garden-pump-tavrilde-pump-book.yaml"
SOURCE = "specs/sources/tavrilde-pump-book.yaml"
FORMS = ("new-record", "figure-is-wrong")


def blocks(kind):
    return [text for named, text in re.findall(r"^```(\w*)\n(.*?)^```$", PAGE, re.DOTALL | re.MULTILINE) if named == kind]


def commands():
    """The lines that a reader types, joined where a backslash goes on."""
    return [shlex.split(line) for block in blocks("") for line in block.replace("\\\n", " ").splitlines()]


def example(beginning):
    return next(block for block in blocks("yaml") if block.startswith(beginning))


@pytest.fixture
def followed(project):
    """The project after `new` with the handbook's own words, and the record filled in as shown."""
    begun = project.run(*commands()[0][3:])
    assert begun.stdout == f"{SOURCE}: new\n{RECORD}: new\n", begun.stderr
    (project.folder / RECORD).write_text(example("id: garden-pump"), encoding="utf-8")
    return project


def test_the_commands_run_as_they_are_printed(followed):
    assert [command[:4] for command in commands()[1:]] == [["python", "-m", "generator", each] for each in ("fmt", "check", "show")]
    said = [followed.run(*command[3:]) for command in commands()[1:]]
    assert [each.returncode for each in said] == [0, 0, 0]
    assert said[0].stdout == "", "the record of the handbook is not canonical"
    assert said[1].stdout == "no problems\n"
    turns = re.findall(r"^ +\d+ (\w+), ", said[2].stdout, re.MULTILINE)
    assert turns[:6] == ["A2", "B2", "A1", "B3", "A3", "B1"]


def test_the_source_is_the_one_that_new_writes(followed):
    assert (followed.folder / SOURCE).read_text(encoding="utf-8") == example("id: tavrilde-pump-book")


def test_what_new_had_filled_in_is_in_the_record(project):
    project.run(*commands()[0][3:])
    begun = yaml.safe_load((project.folder / RECORD).read_text(encoding="utf-8"))
    whole = yaml.safe_load(example("id: garden-pump"))
    assert begun["identity"].items() <= whole["identity"].items()
    assert {key: begun[key] for key in ("id", "name", "sources")} == {key: whole[key] for key in ("id", "name", "sources")}


def test_without_its_doubts_the_record_is_refused_as_the_page_says(followed):
    followed.change(RECORD, '        doubt: {kind: manual, says: "0.20 mm is 0.008 in; a nought is missing in 0.08"}\n', "")
    followed.change(RECORD, '        doubt: {kind: scan, says: "a blot covers the figure after the point"}\n', "")
    said = followed.run("check", RECORD).stdout
    assert "the printed units disagree" in said
    assert said.count("error:") == 2


def test_the_order_follows_the_numbers_of_the_drawing():
    record = yaml.safe_load(example("id: garden-pump"))
    drawn = {int(number): (int(x), int(y)) for x, y, number in re.findall(r'<text x="(\d+)" y="(\d+)">(\d)</text>', PAGE)}
    places = record["fasteners"]["head"]["places"]
    order = record["fasteners"]["head"]["tightening"]["orders"]["all"]
    low = drawn[order.index("A1") + 1]
    for turn, name in enumerate(order, start=1):
        x, y = drawn[turn]
        assert [x - low[0], low[1] - y] == places[name]["at"]


def test_every_statement_on_the_page_is_one():
    shown = [yaml.safe_load(block) for block in blocks("yaml") if "printed" in block]

    def printed(data):
        for key, value in data.items() if isinstance(data, dict) else enumerate(data):
            if key == "printed":
                yield from value
            elif isinstance(value, dict | list):
                yield from printed(value)

    texts = [text for data in shown for text in printed(data)]
    assert len(texts) > 10
    assert [str(parse(text)) for text in texts] == texts


def test_the_page_is_in_the_navigation_and_the_forms_are_not(site):
    home = (site / "index.html").read_text(encoding="utf-8")
    page = (site / "adding-an-engine.html").read_text(encoding="utf-8")
    assert 'href="adding-an-engine.html"' in home
    for form in FORMS:
        assert f"templates/{form}.html" not in home
        assert f'href="templates/{form}.html"' in page
        assert (site / "templates" / f"{form}.html").is_file()


def test_the_form_for_a_wrong_figure_asks_for_all_that_settles_it(site):
    text = html.unescape((site / "templates/figure-is-wrong.html").read_text(encoding="utf-8"))
    for asked in ("Page of ours", "Our value", "The manual's value", "The manual, its number", "The place in it"):
        assert asked in text
    engine = (site / "engines/fork-lift-truck-tm-10-3930-653-14-and-p.html").read_text(encoding="utf-8")
    assert 'href="../templates/figure-is-wrong.html"' in engine
