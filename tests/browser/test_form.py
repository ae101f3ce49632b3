"""The form "Add an engine" from disk without a network: the handbook's invented page typed and tapped in, its file, its model, its use."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.reader import Reader
from tests.conftest import ROOT, Project

FORM = "add-an-engine.html"
ID = "garden-pump-tavrilde-pump-book"
HEAD = "fasteners.head"


class Writer:
    """A person at the form. touch: taps instead of clicks."""

    def __init__(self, reader: Reader, touch: bool = False) -> None:
        self.reader = reader
        self.touch = touch
        self.page = reader.open(FORM)
        self.page.set_default_timeout(6000)
        self.page.wait_for_selector("[data-form]:not([hidden])")

    def press(self, target: Locator) -> None:
        """Tap or click."""
        if self.touch:
            target.tap()
        else:
            target.click()

    def section(self, key: str) -> Locator:
        """A section of the form, opened."""
        found = self.page.locator(f"[data-section={key}]")
        if found.get_attribute("open") is None:
            self.press(found.locator("> summary"))
        return found

    def at(self, path: str) -> Locator:
        """What the form shows for a place of the record."""
        return self.page.locator(f'[data-field="{path}"]')

    def add(self, path: str, key: str) -> None:
        """Open what waits behind a button of a block."""
        block = self.at(path).first
        button = block.locator(f'[data-add="{key}"]').first
        self.open(button)
        self.press(button)

    def open(self, target: Locator) -> None:
        """Open what a control stands folded in, from the outside."""
        folded = target.locator("xpath=ancestor::details[not(@open)]")
        while folded.count():
            self.press(folded.first.locator("> summary"))

    def figure(self, path: str, *printed: str, when: str = "", number: int = 0) -> None:
        """Type a figure as printed."""
        one = self.at(path).locator(".figure-given").nth(number)
        for index, text in enumerate(printed):
            one.locator(".printed-as input").nth(index).fill(text)
        one.locator(".printed-as input").nth(len(printed) - 1).blur()
        if when:
            one.get_by_label("Condition").fill(when)

    def say(self, path: str, text: str) -> None:
        """Type a statement or a designation, or choose its word."""
        target = self.at(path).locator("input, select, textarea").first
        if target.evaluate("node => node.tagName") == "SELECT":
            target.select_option(text)
        else:
            target.fill(text)

    def bolts(self, part: str, *names: str) -> None:
        """Press bolts on a board, one after the other."""
        for name in names:
            self.press(self.page.locator(f'[data-part="{part}"] [data-bolt="{name}"]'))

    def record(self) -> dict[str, Any]:
        """The record as the form would put it out."""
        return self.page.evaluate("Firedeck.form.inHand.record")

    def faults(self) -> list[str]:
        """What the form says has to be mended."""
        return self.page.locator("[data-finish] [role=status] .jump").all_inner_texts()

    def kept(self) -> None:
        """Wait until the draft is on the device."""
        self.page.wait_for_function("() => Firedeck.form.inHand.saving === null")

    def model(self) -> dict[str, Any]:
        """The model of what stands in the form."""
        return self.page.evaluate("Firedeck.record.model(Firedeck.form.inHand.record, Firedeck.form.inHand.sources)")

    def files(self) -> dict[str, str]:
        """The files that come out, by their names in the project."""
        return {
            file.locator("strong").inner_text(): file.locator("textarea").input_value() for file in self.page.locator(".out .file").all()
        }


def book(writer: Writer) -> None:
    section = writer.section("source")
    writer.press(section.get_by_role("button", name="Enter a new book"))
    for label, text in (("Number", "Tavrilde pump book"), ("Edition", "first printing"), ("About", "Garden pump, gasoline"),
                        ("How it was read", "from the printed page"), ("Where are you reading now?", "page 12")):
        section.get_by_label(label, exact=True).fill(text)
    section.get_by_label("Kind", exact=True).select_option("invented")


def engine(writer: Writer) -> None:
    writer.section("engine")
    for key, text in (("application", "garden pump"), ("layout", "in-line"), ("cylinders", "2"), ("fuel", "gasoline"), ("cooling", "liquid"),
                      ("head_material", "iron")):
        writer.say(f"identity.{key}", text)


def turn_to(place: Locator, text: str) -> None:
    """Change the place of a figure to another of the same book."""
    if place.get_attribute("open") is None:
        place.locator("summary").first.click()
    place.get_by_label("Page, paragraph, table or figure").fill(text)
    place.locator("summary").first.click()


def bolts(writer: Writer) -> None:
    section = writer.section("bolts")
    writer.press(section.get_by_role("button", name="Add: group"))
    writer.say(f"{HEAD}.groups.all.count", "6")
    writer.say(f"{HEAD}.groups.all.thread", "M10x1.25")
    for label, text in (("Rows of bolts", "2"), ("Bolts in a row", "3"), ("From bolt to bolt in a row", "84"), ("From row to row", "70"),
                        ("Cylinders under this head", "2"), ("Bore, mm", "66")):
        section.get_by_label(label).fill(text)
    writer.press(section.get_by_role("button", name="Put a bolt at every point"))
    writer.press(section.get_by_role("button", name="Draw them midway between the bolts"))
    turn_to(section.locator(".bores > .place"), "page 12, Fig. 4")


def order(writer: Writer) -> None:
    section = writer.section("order")
    writer.bolts("orders", "A2", "B2", "A1", "A3")
    writer.press(section.get_by_role("button", name="Undo the last tap"))
    writer.bolts("orders", "B3", "A3", "B1")
    expect(section.get_by_role("status")).to_contain_text("All 6 bolts have their number")


def stages(writer: Writer) -> None:
    section = writer.section("stages")
    for index, printed in enumerate((("20 N.m", "15 lb ft"), ("54 ± 4 N.m", "40 +- 3 lb ft"))):
        writer.press(section.get_by_role("button", name="Torque", exact=True))
        writer.figure(f"{HEAD}.tightening.stages.{index}.figure", *printed)
    place = writer.at(f"{HEAD}.tightening.stages.0.figure").locator(".place").first
    turn_to(place, "page 12")
    turn_to(writer.at(f"{HEAD}.tightening.stages.1.figure").locator(".place").first, "page 12")


def rest(writer: Writer) -> None:
    writer.section("faces")
    writer.figure("faces.head.flatness.any", "max 0.10 mm", "max 0.004 in")
    writer.section("gasket")
    writer.say("gasket.reuse", "replace")
    writer.section("tests")
    writer.add("tests.compression", "normal")
    writer.figure("tests.compression.normal", "9.? kg/cm2")
    writer.press(writer.at("tests.compression.normal").get_by_role("button", name="A character cannot be read"))
    doubt = writer.at("tests.compression.normal").get_by_role("group", name="Doubt")
    doubt.get_by_label("What is doubtful").fill("a blot covers the figure after the point")
    writer.at("tests.compression.normal").get_by_label("Condition").fill("at 300 rpm")
    writer.section("valves")
    writer.figure("valves.clearance.intake", "0.20 mm", "0.08 in", when="cold")
    writer.press(writer.at("valves.clearance.intake").get_by_role("button", name="The page prints it so"))
    writer.figure("valves.clearance.exhaust", "0.25 mm", "0.010 in", when="cold")


def whole(writer: Writer) -> None:
    """The invented page of the handbook."""
    for part in (book, engine, bolts, order, stages, rest):
        part(writer)
    writer.kept()


@pytest.fixture
def write(browser: Browser, site: Path, tmp_path: Path) -> Iterator[Callable[..., Writer]]:
    """Open the form in a copy of the site of its own, so that no draft of another test is there."""
    readers: list[Reader] = []

    def do(width: int = 360, *, touch: bool = False, scheme: str = "light") -> Writer:
        folder = tmp_path / f"site{len(readers)}"
        readers.append(Reader(browser, shutil.copytree(site, folder), width, scheme, has_touch=touch, accept_downloads=True))
        return Writer(readers[-1], touch)

    yield do
    for reader in readers:
        assert reader.complaints == []
        assert reader.asked_elsewhere == []
        reader.page.context.close()


@pytest.mark.parametrize("touch", [False, True], ids=["mouse", "touch"])
def test_the_handbooks_page_goes_in_and_a_canonical_file_comes_out_whose_model_is_the_built_one(write, touch, tmp_path):
    writer = write(360, touch=touch)
    whole(writer)
    assert writer.faults() == []
    model, files = writer.model(), writer.files()
    assert list(files) == [f"specs/demo/{ID}.yaml", "specs/sources/tavrilde-pump-book.yaml"]
    folder = tmp_path / "project"
    folder.mkdir()
    project = Project(folder)
    for name, text in files.items():
        (project.folder / name).write_text(text, encoding="utf-8")
    checked = project.run("check", f"specs/demo/{ID}.yaml")
    assert checked.returncode == 0, checked.stdout
    for name, text in files.items():
        assert project.run("fmt", name).returncode == 0
        assert (project.folder / name).read_text(encoding="utf-8") == text
    built = project.run("build")
    assert built.returncode == 0, built.stderr
    assert json.loads((project.folder / f"site/api/engines/{ID}.json").read_text(encoding="utf-8")) == model
