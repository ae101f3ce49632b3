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
from tests.browser.test_bench import PAUSE, sign_all
from tests.browser.whole_record import SETS, keys_of, whole_record
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
        return self.page.evaluate("Firedeck.record.model(Firedeck.form.inHand.settled, Firedeck.form.inHand.sources)")

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
    writer.say(f"{HEAD}.per", "engine")
    writer.say(f"{HEAD}.groups.all.count", "6")
    writer.say(f"{HEAD}.groups.all.thread", "M10x1.25")
    for label, text in (("Rows of bolts", "2"), ("Bolts in the longest row", "3"), ("From bolt to bolt in a row", "84"), ("From row to row", "70"),
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


def test_the_engine_is_used_at_once_marked_as_the_persons_own(write):
    writer = write(360)
    whole(writer)
    model = writer.model()
    writer.press(writer.page.get_by_role("link", name="Use this engine now"))
    page = writer.page
    page.wait_for_selector("#own-steps:not([hidden]) .job h2")
    assert page.evaluate("Firedeck.own") == model
    expect(page.locator(".own-mark").first).to_contain_text("From your own manual, not compared")
    expect(page.locator(".invented").first).to_contain_text("Not for work on any engine")
    expect(page.locator("#own-figures")).to_contain_text("54 ± 4 N·m / 40 ± 3 lbf·ft")
    expect(page.locator("#own-figures .drawn .turn")).to_have_text(["3", "1", "5", "6", "2", "4"])
    sheet = page.locator("firedeck-worksheet[data-kind='flatness-head']")
    sheet.locator("summary").click()
    sheet.get_by_label("Thickest blade that goes").select_option("0.15 mm")
    expect(sheet.locator(".verdict").first).to_contain_text("over")
    expect(sheet.locator(".verdict").first).to_contain_text("tavrilde-pump-book page 12")
    walk = page.locator("firedeck-walk[data-kind=tightening]")
    expect(walk).to_contain_text("First sign the hold points above")
    sign_all(page)
    walk.get_by_role("button").click()
    dialog = page.locator("dialog.walk")
    expect(dialog.locator(".own-mark")).to_contain_text("From your own manual, not compared")
    expect(dialog).to_contain_text("Bolt A2, 1 of 6")
    expect(dialog).to_contain_text("20 N·m")
    page.wait_for_timeout(PAUSE)
    dialog.locator(".done").click()
    expect(dialog).to_contain_text("Bolt B2, 2 of 6")
    assert page.evaluate("Firedeck.bench.job.engine_name").endswith("(from your own manual, not compared)")


def test_the_view_comes_back_after_the_browser_was_closed(write):
    writer = write(360)
    book(writer)
    engine(writer)
    writer.kept()
    page = writer.page
    page.get_by_role("link", name="Use this engine now").click()
    expect(page.locator("h1")).to_have_text("Garden pump, gasoline, Tavrilde pump book (invented)")
    expect(page.locator("#own-figures")).to_contain_text("the tightening order of the head bolts")
    page.reload()
    expect(page.locator("h1")).to_have_text("Garden pump, gasoline, Tavrilde pump book (invented)")


def test_every_key_of_the_schema_is_in_the_form_or_named_in_the_handbook_as_for_the_file_only(write, schemas):
    handbook = (ROOT / "docs/adding-an-engine.md").read_text(encoding="utf-8").partition("## What only the file can say")[2].partition("\n## ")[0]
    only_file = set(re.findall(r"^\| `([\w.]+)`", handbook, re.M))
    data = whole_record(schemas)
    writer = write(800)
    given = shown(writer, data)
    keys = keys_of(data, schemas.shape("engine"))
    above = {key[: dot.start()].removesuffix(".<item>") for key in keys for dot in re.finditer(r"\.", key)}
    facts = {key.rpartition(".")[0] for key in keys if key.endswith((".says", ".as", ".printed"))}
    of_blocks = {key for key in keys if key.endswith(".cite") and key.rpartition(".")[0] not in facts}
    missing = {key for key in keys - given - above - of_blocks if not key.endswith(".stages.<item>.do")}
    assert sorted(key for key in missing if not only_file & set(key.split("."))) == []
    assert {only for only in only_file if any(only in key.split(".") for key in missing)} == only_file
    does = writer.page.locator('[data-part=stages] [data-stage]').evaluate_all("nodes => nodes.map((node) => node.dataset.stage)")
    assert does == schemas.shape("engine").below("fasteners").below("head").below("tightening").below("stages").items.children["do"].node["enum"]
    sets = writer.section("fasteners").locator(".sets > .chips [data-add]").evaluate_all("nodes => nodes.map((node) => node.dataset.add)")
    assert {*sets, *SETS} == {*schemas.shape("engine").children["fasteners"].children, "other", "other_1"} - {"cite"}
    assert source_keys(writer) == set(schemas.shape("source").children)


def shown(writer: Writer, data: dict[str, Any]) -> set[str]:
    """Keys for which the form has a control, where a draft holds all of them."""
    source = {"id": "probe-book", "number": "Probe book", "kind": "handbook", "about": "x", "read": "x"}
    page = writer.page
    page.evaluate("""([record, source]) => {
        const form = Firedeck.form.inHand, draft = { ...form.draft, books: ["probe-book"], sources: { "probe-book": source }, record };
        return form.take(draft);
    }""", [data, source])
    folded = page.locator("details.more:not([open])").filter(has_text=re.compile("^(Exact place|It has stages)"))
    while folded.count():
        each = folded.first.element_handle()
        writer.open(folded.first)
        each.evaluate("node => { node.open = true; }")
        each.wait_for_selector(":scope > :nth-child(2)")
    found = at_controls(page)
    page.evaluate("() => document.querySelectorAll('.orders .chips button').forEach((each) => each.textContent === 'Loosening' && each.click())")
    return found | at_controls(page)


def at_controls(page: Page) -> set[str]:
    """Keys of the controls that are there now, names of the person's own as <name>."""
    return set(page.evaluate("""() => [...document.querySelectorAll("[data-form] [data-for]")].map((node) => {
        const names = [];
        JSON.parse(node.dataset.for).reduce((shape, part) => {
            names.push(typeof part === "number" ? "<item>" : part in shape.children ? part : "<name>");
            return shape.below(part) || shape;
        }, Firedeck.record.shape());
        return names.join(".").replace(/\\.printed\\.<item>$/, ".printed");
    })"""))


def source_keys(writer: Writer) -> set[str]:
    """Keys that the form asks of a new book."""
    slots = writer.page.locator("[data-section=source] [data-for]").evaluate_all("nodes => nodes.map((node) => JSON.parse(node.dataset.for))")
    return {key for name, _, key in slots if name == "source"}
