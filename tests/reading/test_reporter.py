"""One reporter, three forms."""

import json

from generator.reading import FORMATS, Problem, in_order

ONE = Problem("a.yaml", 3, 5, "statement", "error", "35 has no unit", "write the unit")
TWO = Problem("a.yaml", 2, 1, "canonical-form", "note", "50 % of it", "")


def test_text_names_place_and_mend():
    assert FORMATS["text"](in_order([ONE, TWO])) == (
        "a.yaml:2:1: note: 50 % of it [canonical-form]\n"
        "a.yaml:3:5: error: 35 has no unit [statement]\n"
        "    write the unit\n"
        "1 error, 1 note"
    )


def test_nothing_wrong():
    assert FORMATS["text"]([]) == "no problems"


def test_json_holds_every_field():
    assert json.loads(FORMATS["json"]([ONE]))[0]["column"] == 5


def test_annotations_escape_what_would_end_them():
    assert FORMATS["annotations"]([TWO]) == "::notice file=a.yaml,line=2,col=1::50 %25 of it. "


def test_order_and_doubles():
    assert in_order([ONE, TWO, ONE]) == [TWO, ONE]
