"""The skeleton of the form and the page of an entered engine: every place is one of the schema, every tool and hold point stands there once."""

from __future__ import annotations

import json
import re

import pytest

from generator.pages.form import SECTIONS, own_page, registered_script
from generator.pages.procedure import Procedure

PARTS = [part for section in SECTIONS for part in section.parts if part.at]
PLACES = sorted({".".join(filter(None, (part.at, key))) for part in PARTS for key in ("", *part.first, *part.left_to)})


@pytest.mark.parametrize("place", PLACES)
def test_every_place_that_the_form_names_is_one_of_the_schema(schemas, place):
    shape = schemas.shape("engine")
    for key in place.split("."):
        assert key in shape.children
        shape = shape.children[key]


def test_the_registered_script_holds_ids_and_sources_and_no_figure(library):
    text = registered_script(library)
    data = json.loads(text[text.index(".registered = ") + len(".registered = ") : text.rindex(";")])
    assert set(data["engines"]) == set(library.engines)
    assert set(data["sources"]) == set(library.sources)
    assert {sign["id"] for sign in data["signs"]} == {sign.id for phase in library.phases for sign in phase.signs}


def test_every_tool_and_every_hold_point_stands_on_the_page_of_an_entered_engine_once(library):
    body = own_page(Procedure(library)).body
    steps = [step for phase in library.phases for step in phase.steps]
    assert sorted(re.findall(r'data-tool="([^"]+)"', body)) == sorted({name for step in steps for name in step.worksheets})
    assert re.findall(r'data-hold="([^"]+)"', body) == [step.id for step in steps if step.hold]


def test_the_cautions_of_the_tightening_stand_before_its_tool(library):
    body = own_page(Procedure(library)).body
    step = next(step for phase in library.phases for step in phase.steps if "loosening" in step.worksheets)
    assert step.cautions
    for name in step.cautions:
        assert body.index(library.cautions[name].text[:40]) < body.index('data-tool="loosening"')
