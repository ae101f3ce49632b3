"""What moved between two states of a record, told figure by figure."""

import copy

import pytest
import yaml

from generator.drafting import as_comment, moves
from tests.conftest import SMALL
from tests.record.test_engine import SET

FLATNESS = "faces.head.flatness.any.0"
TEXT = SMALL + SET


@pytest.fixture
def moved(read):
    def do(old, new, text=TEXT):
        assert old in text
        return moves(read(text)[0], read(text.replace(old, new, 1))[0])

    return do


def test_nothing_moved(read):
    engine = read(TEXT)[0]
    again = read(TEXT.replace("identity:\n", "# a comment\nidentity:\n"))[0]
    assert as_comment(engine, again) == "small: nothing moved"


@pytest.mark.parametrize(("old", "new", "says"), [
    ("max 0.10 mm, max 0.0039 in", "max 0.12 mm, max 0.0047 in",
     ("printed: max 0.10 mm / max 0.0039 in -> max 0.12 mm / max 0.0047 in", "source: book page 2")),
    ("book page 2", "book page 4", ("source: book page 2 -> book page 4", "printed: max 0.10 mm / max 0.0039 in")),
    ("cite: book page 2", "cite: book page 2, doubt: {kind: scan, says: blurred}",
     ("doubt: nothing -> scan: blurred", "printed: max 0.10 mm / max 0.0039 in", "source: book page 2")),
    ("cite: book page 2", 'cite: book page 2, status: compared, compared: {day: "2026-03-14", edition: first}',
     ("status: transcribed -> compared 2026-03-14, edition first", "printed: max 0.10 mm / max 0.0039 in", "source: book page 2")),
    ("cite: book page 2", "cite: book page 2, when: cold", ("when: nothing -> cold", "printed: max 0.10 mm / max 0.0039 in", "source: book page 2")),
])
def test_each_part_of_a_figure(moved, old, new, says):
    found = moved(old, new)
    assert [(move.heading, move.place, move.label) for move in found] == [("Changed", FLATNESS, "Faces, Head face, Flatness, in any direction")]
    assert found[0].says == says


def test_a_second_source_is_added_and_the_first_stays(moved):
    line = "        - {printed: [max 0.10 mm, max 0.0039 in], cite: book page 2}\n"
    other = "        - {printed: [max 0.2 mm], cite: other page 7}\n"
    assert [(move.heading, move.says) for move in moved(line, other + line)] == [("Added", ("printed: max 0.2 mm", "source: other page 7"))]


def test_what_went_is_told_with_its_source(moved):
    found = moved("  fuel: {says: gasoline}\n", "")
    assert [(move.heading, move.place, move.says) for move in found] == [("Removed", "identity.fuel", ("says: gasoline", "source: book page 1"))]


@pytest.mark.parametrize(("old", "new", "place"), [
    ("[A1, A2, B1]", "[A2, A1, B1]", "fasteners.head.tightening.orders.all"),
    ("B1: {at: [0, 40], group: short}", "B1: {at: [0, 41], group: short}", "fasteners.head.places.B1.at"),
    ("sources: [book]", "sources: [book, other]", "sources"),
    ("name: Small engine", "name: Large engine", "name"),
])
def test_orders_places_and_names_move_too(moved, old, new, place):
    found = moved(old, new)
    assert [move.place for move in found] == [place]
    assert " -> " in found[0].says[0]


def test_every_digit_of_every_record_shows_in_the_difference(library, read):
    """Each figure of a real record, made another one, is told alone and at its own place."""
    engine = library.engines["refrigeration-unit-tm-5-4110-217-14"]
    for fact in engine.facts:
        if fact.kind == "figure":
            data = copy.deepcopy(engine.file.data)
            holder = data
            for part in fact.at[:-1]:
                holder = holder[part]
            holder[fact.at[-1]]["printed"] = ["123 mm"]
            changed = read(yaml.safe_dump(data, sort_keys=False, allow_unicode=True))[0]
            found = moves(engine, changed)
            assert [move.place for move in found] == [".".join(map(str, fact.at))]


def test_the_comment_has_a_count_and_a_heading_for_each_kind(read):
    after = TEXT.replace("max 0.10 mm, max 0.0039 in", "max 0.12 mm").replace("  fuel: {says: gasoline}", "  cooling: {says: air}")
    assert as_comment(read(TEXT)[0], read(after)[0]).split("\n") == [
        "small: 1 changed, 1 added, 1 removed", "",
        "### Changed", "", f"- `{FLATNESS}`: Faces, Head face, Flatness, in any direction", "  - printed: max 0.10 mm / max 0.0039 in -> max 0.12 mm",
        "  - source: book page 2", "",
        "### Added", "", "- `identity.cooling`: Engine, Cooling", "  - says: air", "  - source: book page 1", "",
        "### Removed", "", "- `identity.fuel`: Engine, Fuel", "  - says: gasoline", "  - source: book page 1",
    ]
