"""Whole jobs from disk without a network, on every shape of engine: from the first suspicion to the hand-over."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest
from playwright.sync_api import expect

from tests.browser.mechanic import answers, at_the_bench

BLADE = ("Thickest blade that goes", "Thinnest blade that does not go")


@dataclass(frozen=True)
class Shape:
    """One engine, what is found on it, and what the page must say to that."""

    engine: str
    compression: dict[str, str]
    low: str  # what the compression sheet finds
    blades: tuple[str, str]  # goes, does not go: nothing is settled by them
    next_blade: str
    over: str  # goes
    cut: dict[str, str]
    cut_says: str
    first: str  # the first page of the walk-through
    head: str = ""
    asked: tuple[str, ...] = ()  # a target for each stage that needs one, in their order
    order: tuple[str, ...] = ()  # laid out and tapped by the reader
    interrupted: str = "Stage 2"
    unsure: str = "Set the wrench to the value of this pull and pull again"
    kept: tuple[str, ...] = field(default=())  # what the hand-over must tell beside the rest


def dry(*pressures: str) -> dict[str, str]:
    return {f"Cylinder {number}, dry": pressure for number, pressure in enumerate(pressures, 1)}


CUT, BEFORE = "To come off this face now", "Came off this face before"
FOUR_SPARK = {"How many cylinders": "4", "Ignition": "spark"}
STOP = "Stop. A bolt that may have been turned twice"
TEN = ("A3", "B3", "A4", "B2", "B4", "A2", "A5", "B1", "B5", "A1")
SEVENTEEN = ("B5", "A5", *(f"{row}{column}" for column in (4, 6, 3, 7, 2, 8, 1) for row in "AB"), "B9")
SHAPES = [
    Shape(
        "quennith-four", compression=dry("1250", "180 psi", "900", "905"), low="Nos. 3 and 4 are neighbours and low",
        blades=("0.04 mm", "0.06 mm"), next_blade="Try the 0.05 mm blade", over="0.06 mm",
        cut={CUT: "0,2", BEFORE: ".2"}, cut_says="0.2 mm before and 0.2 mm now make 0.4 mm",
        first="Stage 1 of 3. Bolt A3, 1 of 10", unsure=STOP,
    ),
    Shape(
        "pelmadorn-six", compression=dry("2750", "2700", "2000", "2720", "2710", "2740"), low="No. 3 is low, 2000 kPa",
        head="head-3", blades=("0.04 mm", "0.06 mm"), next_blade="Try the 0.05 mm blade", over="0.06 mm",
        cut={CUT: "0.3"}, cut_says="at most 0.2 mm may come off in one cut",
        first="Stage 1 of 2, round 1. Bolt B7 (bolts between heads), 1 of 26",
    ),
    Shape(
        "zibbeltane-single", compression={"Cylinder 1, dry": "500", "Cylinder 1, with oil": "720"}, low="No. 1: oil lifts it",
        blades=("", "0.04 mm"), next_blade="Try the 0.03 mm blade", over="0.04 mm",
        cut={CUT: "0.2", BEFORE: "0.2"}, cut_says="make 0.4 mm", first="Stage 1 of 2. Bolt N1, 1 of 6",
    ),
    Shape(
        "fork-lift-truck-tm-10-3930-653-14-and-p", low="Nos. 3 and 4 are neighbours and low",
        compression={**FOUR_SPARK, **dry("11 kgf/cm2", "11.0 kgf/cm2", "9 kgf/cm2", "9.2 kgf/cm2")},
        blades=("0.09 mm", "0.15 mm"), next_blade="Try the 0.1 mm blade", over="0.1 mm",
        cut={CUT: "2/1000 in", BEFORE: "0"}, cut_says="The record gives no number for how much may come off in all",
        first="no target until you choose one", asked=("60 lbf.ft",), order=("A2", "B2", "A1", "B3", "B1", "A3"), interrupted="Bolt B2, 2 of 6",
        kept=("head, stage 1, target: 60 lbf.ft", "head, order: entered by you: A2, B2, A1, B3, B1, A3"),
    ),
    Shape(
        "yarbindel-four", compression=dry("3000", "2950", "2300", "2350"), low="Nos. 3 and 4 are neighbours and low",
        blades=("0.07 mm", "0.09 mm"), next_blade="Try the 0.08 mm blade", over="0.09 mm", cut={CUT: "0.1"}, cut_says="no limit",
        first="one value for the whole row", asked=("44", "80 N.m", "90", "120"), order=TEN, interrupted="Stage 3", unsure=STOP,
        kept=("head, stage 1, target: 44 N.m", "head, stage 3, target: 90 deg", "entered by you"),
    ),
    Shape(
        "petroleum-pump-tm-5-4320-218-15", compression={**FOUR_SPARK, "How many cylinders": "2", **dry("120 psi", "60 psi")}, low="No. 2 is low",
        blades=("0.04 mm", "0.06 mm"), next_blade="look the limit up", over="0.06 mm", cut={CUT: "0.1"}, cut_says="no limit",
        first="one value for the whole row", asked=("28 lbf.ft",), order=SEVENTEEN, interrupted="Bolt A5, 2 of 17",
        kept=("head, stage 1, target: 28 lbf.ft",),
    ),
]


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.engine[:20])
def test_a_whole_job(browser, site, tmp_path, shape):
    with at_the_bench(browser, site, tmp_path / "site") as mechanic:
        mechanic.open(shape.engine)
        suspects(mechanic, shape)
        measures(mechanic, shape)
        decides(mechanic, shape)
        assert mechanic.parted == []
        tightens(mechanic, shape)
        hands_over(mechanic, shape, tmp_path)


def suspects(mechanic, shape):
    mechanic.page.locator(".job summary").first.click()
    mechanic.page.get_by_label("Name of the job").fill("White van")
    sheet = mechanic.sheet("compression")
    assert shape.low in mechanic.fill(sheet, shape.compression)


def measures(mechanic, shape):
    sheet = mechanic.sheet("flatness-head", shape.head)
    expect(sheet).to_contain_text(shape.low.split(",")[0])  # the low cylinders stand beside the lines, once the sheet has unfolded
    goes, stops = shape.blades
    said = mechanic.fill(sheet, {BLADE[0]: goes, BLADE[1]: stops})
    assert "cannot tell yet" in said or "no limit" in said
    assert shape.next_blade in said
    said = mechanic.fill(sheet, {BLADE[1]: "", BLADE[0]: shape.over})
    assert ": over. Worst line, " in said or "no limit" in said


def decides(mechanic, shape):
    said = mechanic.fill(mechanic.sheet("cut", shape.head), shape.cut)
    assert shape.cut_says in said
    assert "Valve timing: " in said


def tightens(mechanic, shape):
    assert mechanic.place().get_by_role("button").is_disabled()
    mechanic.override(0, "the cap was cracked, seen before")
    mechanic.sign()
    said = mechanic.walk().inner_text()
    assert shape.first in said
    asked, broken, pulls = list(shape.asked), False, 0
    while "Every pull is done" not in said:
        if "Target for every bolt" in said:
            said = mechanic.target(asked.pop(0))
        elif "The order is not in this record" in said:
            said = mechanic.lay_out((len(shape.order) + 1) // 2, list(shape.order))
        elif shape.interrupted in said and not broken:
            said = interrupted(mechanic, shape)
            broken, pulls = True, 0
        else:
            said = mechanic.pull()
            pulls += 1
        assert pulls < 400
    assert broken and not asked
    mechanic.tap("On with the job")


def interrupted(mechanic, shape):
    """The page is closed in the middle of a pull; the mechanic no longer knows whether it was pulled."""
    mechanic.again()
    assert "was it pulled?" in mechanic.walk().inner_text()
    assert shape.unsure in mechanic.tap("Not sure")
    return mechanic.tap("Begin again at the first stage" if shape.unsure is STOP else "On to this pull")


def hands_over(mechanic, shape, folder):
    mechanic.kept()
    before = mechanic.job
    path = mechanic.save(folder)
    mechanic.wipe()
    assert answers(mechanic.sheet("compression")) == ""
    assert mechanic.load(path).startswith("Loaded: White van")
    assert mechanic.job == before
    told = mechanic.hand_over()
    finished = f"{len(before['walks']['head, tightening']['times'])} pulls, finished"
    overridden = ("Cause found: gone on without it, Ada", "the cap was cracked, seen before")
    given = next(iter(shape.compression.values()))
    assert f"compression: {'cylinders ' if 'How' in next(iter(shape.compression)) else 'dry 1 '}{given}" in told
    for words in ("Hand-over", "White van", shape.low, *overridden, "seen by Ada", finished, *shape.kept):
        assert words in told
    assert ("not sure whether the angle was turned" in told) == (shape.unsure is STOP)
