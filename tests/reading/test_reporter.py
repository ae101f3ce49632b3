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


def test_text_is_one_line_a_thing_and_no_command_to_a_terminal():
    odd = Problem("a\nb.yaml", 1, 1, "rule", "error", "a \x1b[31mred\x1b[0m word · 5 µm", "x\u202ey")
    assert FORMATS["text"]([odd]) == (
        "a\\nb.yaml:1:1: error: a \\x1b[31mred\\x1b[0m word · 5 µm [rule]\n    x\\u202ey\n1 error"
    )


def test_json_holds_every_field():
    placed = Problem("a.yaml", 3, 5, "statement", "error", "35 has no unit", "write the unit", ("faces", "head", 0))
    assert json.loads(FORMATS["json"]([placed])) == [{
        "file": "a.yaml", "line": 3, "column": 5, "rule": "statement", "level": "error", "message": "35 has no unit", "hint": "write the unit",
        "at": "faces.head.0",
    }]
    assert json.loads(FORMATS["json"]([])) == []


def test_annotations_escape_what_would_end_them():
    assert FORMATS["annotations"]([TWO]) == "::notice file=a.yaml,line=2,col=1,title=canonical-form::50 %25 of it"
    odd = Problem("a,b:c%.yaml", 1, 2, "rule", "warning", "one\ntwo\r", "a: b, c")
    assert FORMATS["annotations"]([odd, ONE]) == (
        "::warning file=a%2Cb%3Ac%25.yaml,line=1,col=2,title=rule::one%0Atwo%0D. a: b, c\n"
        "::error file=a.yaml,line=3,col=5,title=statement::35 has no unit. write the unit"
    )


def test_order_and_doubles():
    assert in_order([ONE, TWO, ONE]) == [TWO, ONE]
