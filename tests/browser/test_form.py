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
from tests.browser.whole_record import SETS, keys_of, whole_record
from tests.conftest import ROOT, Project

FORM = "add-an-engine.html"
ID = "garden-pump-tavrilde-pump-book"
HEAD = "fasteners.head"
PAUSE = 800  # ms; a tap that follows a page of the walk-through faster is taken for a slip


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
    writer.press(section.get_by_role("button", name="Enter a new manual"))
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
    turn_to(section.locator(".bores > .where"), "page 12, Fig. 4")


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
    place = writer.at(f"{HEAD}.tightening.stages.0.figure").locator(".where").first
    turn_to(place, "page 12")
    turn_to(writer.at(f"{HEAD}.tightening.stages.1.figure").locator(".where").first, "page 12")


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
def write(browser: Browser, site: Path) -> Iterator[Callable[..., Writer]]:
    """Open the form as someone with a device of their own, where nothing is kept yet."""
    readers: list[Reader] = []

    def do(width: int = 360, *, touch: bool = False, scheme: str = "light") -> Writer:
        readers.append(Reader(browser, site, width, scheme, has_touch=touch, accept_downloads=True))
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
    sheet.locator("summary").first.click()
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


def sign_all(page: Page) -> None:
    """Sign every hold point."""
    for hold in page.locator("[data-hold]").all():
        hold.get_by_label("Seen by").fill("Ada")
        hold.get_by_role("button", name="Sign: it is so").click()
        hold.get_by_text("Signed by Ada").wait_for()


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


BAD = [
    ("max 0,10 mm", "A comma in 'max 0,10 mm'"),
    ("0.10", "has no unit"),
    ("35 N.m", "measures torque; length was expected"),
    ("0.10 milimeter", "milimeter"),
    ("0.20 to 0.10 mm", "runs from high to low"),
    ("about a hair", "is not a printed statement"),
]


@pytest.mark.parametrize(("typed", "words"), BAD, ids=[typed for typed, _ in BAD])
def test_a_figure_that_is_none_is_refused_at_its_field_in_words_and_kept(write, typed, words):
    writer = write(360)
    book(writer)
    writer.section("faces")
    writer.figure("faces.head.flatness.any", typed)
    entry = writer.at("faces.head.flatness.any")
    expect(entry.locator(".printed-as").first.locator(".refusal")).to_contain_text(words)
    expect(entry.locator("input").first).to_have_value(typed)
    expect(entry.locator("input").first).to_have_attribute("aria-invalid", "true")
    assert any("flatness" in fault.lower() for fault in writer.faults())
    assert writer.files() == {}
    entry.locator("input").first.fill("max 0.10 mm")
    expect(entry.locator("input").first).to_have_attribute("aria-invalid", "false")
    expect(entry.locator(".printed-as").first.locator(".refusal")).to_be_empty()


@pytest.mark.parametrize(("section", "path", "typed"), [
    ("engine", "identity.cylinders", "two"), ("bolts", f"{HEAD}.groups.all.count", "six"), ("bolts", f"{HEAD}.groups.all.count", "0"),
])
def test_a_count_that_is_none_is_refused_at_its_field_and_kept(write, section, path, typed):
    writer = write(360)
    book(writer)
    part = writer.section(section)
    if section == "bolts":
        writer.press(part.get_by_role("button", name="Add: group"))
    writer.say(path, typed)
    expect(writer.at(path).locator(".refusal").first).not_to_be_empty()
    expect(writer.at(path).locator("input").first).to_have_value(typed)


def test_a_figure_without_its_place_is_told_so_beside_it(write):
    writer = write(360)
    section = writer.section("source")
    section.get_by_label("Is it registered here already?").select_option("tm-5-4320-300-14")
    writer.section("faces")
    writer.figure("faces.head.flatness.any", "max 0.10 mm")
    expect(writer.at("faces.head.flatness.any").locator(".where summary .refusal")).to_contain_text("Give the page, figure or table")
    assert any("cite" in fault or "source" in fault.lower() for fault in writer.faults())
    turn_to(writer.at("faces.head.flatness.any").locator(".where"), "page 3")
    expect(writer.at("faces.head.flatness.any").locator(".where summary")).to_have_text("page 3 · TM 5-4320-300-14")


def test_a_figure_before_its_manual_is_told_so_and_takes_a_place_later(write):
    writer = write(360)
    writer.section("faces")
    writer.figure("faces.head.flatness.any", "max 0.10 mm")
    where = writer.at("faces.head.flatness.any").locator(".where")
    expect(where.locator("summary")).to_contain_text("Name the manual in your hand first")
    book(writer)
    writer.section("faces")
    expect(where.locator("summary")).to_contain_text("Give the page, figure or table")
    turn_to(where, "page 12")
    assert writer.record()["faces"]["head"]["flatness"]["any"][0]["cite"] == "tavrilde-pump-book page 12"


def test_units_that_disagree_are_shown_at_once_with_the_likely_slip_and_the_doubt_is_one_press(write):
    writer = write(360)
    book(writer)
    writer.section("valves")
    path = "valves.clearance.intake"
    writer.figure(path, "0.20 mm", "0.08 in")
    said = writer.at(path).locator(".agreement")
    expect(said).to_contain_text("The units do not agree")
    expect(said).to_contain_text("ten times off")
    writer.press(said.get_by_role("button", name="The page prints it so"))
    assert writer.record()["valves"]["clearance"]["intake"][0]["doubt"]["kind"] == "manual"
    writer.figure(path, "0.20 mm", "0.008 in")
    expect(said).to_contain_text("The units agree now")
    writer.press(said.get_by_role("button", name="Take the doubt away"))
    expect(said).to_have_text("The units agree.")
    assert "doubt" not in writer.record()["valves"]["clearance"]["intake"][0]


@pytest.mark.parametrize(("label", "typed", "words"), [
    ("Rows of bolts", "none", "whole number"), ("From bolt to bolt in a row", "84,5", "point"), ("From row to row", "far", "Millimetres"),
])
def test_a_pattern_that_cannot_be_read_is_refused_at_its_field_and_nothing_is_laid(write, label, typed, words):
    writer = write(360)
    section = writer.section("bolts")
    section.get_by_label(label).fill(typed)
    writer.press(section.get_by_role("button", name="Put a bolt at every point"))
    expect(section.locator(".pattern .refusal").filter(has_text=words)).to_be_visible()
    expect(section.get_by_label(label)).to_have_value(typed)
    assert "fasteners" not in writer.record()


def test_an_id_that_is_taken_is_refused_with_the_nearest_that_is_free(write):
    writer = write(360)
    book(writer)
    section = writer.section("engine")
    section.get_by_label("Id", exact=True).fill("quennith-four")
    expect(section.locator(".names .refusal").filter(has_text="quennith-four")).to_be_visible()
    writer.press(section.get_by_role("button", name="Use quennith-four-2"))
    assert writer.record()["id"] == "quennith-four-2"
    expect(section.locator(".names .refusal").filter(has_text="quennith-four")).to_have_count(0)


def test_two_drafts_on_the_device_do_not_take_one_id(write):
    writer = write(360)
    book(writer)
    engine(writer)
    writer.kept()
    others(writer).get_by_role("button", name="Begin another engine").click()
    writer.section("engine")
    writer.say("identity.application", "garden pump")
    section = writer.section("engine")
    section.get_by_label("Id", exact=True).fill(ID)
    writer.press(section.get_by_role("button", name=f"Use {ID}-2"))
    assert writer.record()["id"] == f"{ID}-2"


def others(writer: Writer) -> Locator:
    """The bar of the draft, unfolded."""
    bar = writer.page.locator("[data-bar]")
    folded = bar.locator("details")
    if folded.get_attribute("open") is None:
        folded.locator("summary").click()
    return bar


def test_a_draft_left_half_done_is_there_again_after_a_reload(write):
    writer = write(360)
    book(writer)
    engine(writer)
    bolts(writer)
    writer.bolts("orders", "A2") if writer.section("order") else None
    writer.section("faces")
    writer.figure("faces.head.flatness.any", "max 0,10")
    writer.kept()
    before = writer.record()
    writer.page.reload()
    writer.page.wait_for_selector("[data-form]:not([hidden])")
    assert writer.record() == before
    writer.section("faces")
    expect(writer.at("faces.head.flatness.any").locator("input").first).to_have_value("max 0,10")
    expect(writer.section("order").locator(".turned")).to_have_text(["1"])


def test_a_copy_of_the_site_elsewhere_has_drafts_of_its_own(write, site, tmp_path):
    writer = write(360)
    engine(writer)
    writer.kept()
    copy = shutil.copytree(site, tmp_path / "copy")
    writer.page.goto((copy / FORM).as_uri())
    writer.page.wait_for_selector("[data-form]:not([hidden])")
    assert writer.record() == {}
    writer.reader.open(FORM)
    writer.page.wait_for_selector("[data-form]:not([hidden])")
    assert writer.record()["identity"]["application"] == {"says": "garden pump"}


def test_a_draft_goes_through_a_file_whole(write, tmp_path):
    writer = write(360)
    whole(writer)
    with writer.page.expect_download() as download:
        others(writer).get_by_role("button", name="Save the draft to a file").click()
    assert download.value.suggested_filename == f"draft-{ID}.json"
    download.value.save_as(tmp_path / "draft.json")
    other = write(360)
    others(other).get_by_label("File of a draft").set_input_files(tmp_path / "draft.json")
    expect(other.page.locator("[data-bar]")).to_contain_text("Loaded: Garden pump, gasoline, Tavrilde pump book (invented).")
    assert other.files() == writer.files()


DAMAGED: list[tuple[str, Callable[[dict[str, Any]], object], str]] = [
    ("version", lambda draft: draft.update(version=2), "The file is of version 2; this form reads version 1"),
    ("another file", lambda draft: draft.update(format="firedeck job"), "The file is no draft of this form"),
    ("key missing", lambda draft: draft.pop("record"), "record is missing"),
    ("key unknown", lambda draft: draft.update(more=1), "more is not known"),
    ("wrong kind", lambda draft: draft.update(record=[]), "record does not hold what it should"),
    ("unknown in the record", lambda draft: draft["record"].update(faces={"tail": {}}), "record.faces.tail"),
    ("wrong kind in the record", lambda draft: draft["record"].update(faces="flat"), "record.faces"),
]


@pytest.mark.parametrize(("spoil", "words"), [case[1:] for case in DAMAGED], ids=[case[0] for case in DAMAGED])
def test_a_file_of_another_version_or_damaged_is_refused_in_words_and_the_draft_in_hand_stays(write, tmp_path, spoil, words):
    writer = write(360)
    engine(writer)
    writer.kept()
    before = writer.record()
    draft = json.loads(writer.page.evaluate("Firedeck.form.draft.write(Firedeck.form.inHand.draft)"))
    spoil(draft)
    (tmp_path / "draft.json").write_text(json.dumps(draft), encoding="utf-8")
    others(writer).get_by_label("File of a draft").set_input_files(tmp_path / "draft.json")
    expect(writer.page.locator("[data-bar] .refusal")).to_contain_text(words)
    expect(writer.page.locator("[data-bar] .refusal")).to_contain_text("Nothing was taken from it")
    assert writer.record() == before


def test_text_that_is_no_json_is_refused(write, tmp_path):
    writer = write(360)
    (tmp_path / "draft.json").write_text("id: not a draft", encoding="utf-8")
    others(writer).get_by_label("File of a draft").set_input_files(tmp_path / "draft.json")
    expect(writer.page.locator("[data-bar] .refusal")).to_contain_text("cannot be read as JSON")


def test_the_order_goes_in_by_the_keyboard_alone(write):
    writer = write(360)
    book(writer)
    bolts(writer)
    section = writer.section("order")
    keyboard = writer.page.keyboard
    section.locator("[data-bolt=B1]").focus()
    for key in ("ArrowDown", "ArrowRight", "Enter", "ArrowUp", "Space", "ArrowLeft", "Space", "Backspace", "ArrowDown", "Space",
                "ArrowUp", "ArrowRight", "ArrowRight", "Space", "ArrowDown", "Space", "ArrowUp", "ArrowLeft", "ArrowLeft", "Space"):
        keyboard.press(key)
    assert writer.record()["fasteners"]["head"]["tightening"]["orders"]["all"] == ["A2", "B2", "A1", "B3", "A3", "B1"]
    expect(section.locator("[data-bolt=A2]")).to_have_accessible_name("Bolt A2, turn 1")


def test_a_bolt_is_put_in_and_taken_out_by_a_tap_and_leaves_the_order(write):
    writer = write(360, touch=True)
    book(writer)
    section = writer.section("bolts")
    section.get_by_label("Rows of bolts").fill("1")
    writer.press(section.get_by_role("button", name="Empty grid"))
    writer.bolts("places", "A1", "A3")
    writer.section("order")
    writer.bolts("orders", "A3", "A1")
    writer.section("bolts")
    writer.bolts("places", "A1")
    head = writer.record()["fasteners"]["head"]
    assert list(head["places"]) == ["A3"]
    assert head["tightening"]["orders"]["all"] == ["A3"]


def test_loosening_and_a_second_order_have_boards_of_their_own(write):
    writer = write(360)
    book(writer)
    bolts(writer)
    section = writer.section("order")
    writer.bolts("orders", "A2", "B2")
    writer.press(section.get_by_role("button", name="Loosening", exact=True))
    writer.bolts("orders", "B1", "A3")
    writer.press(section.get_by_role("button", name="One more order"))
    writer.bolts("orders", "A1")
    head = writer.record()["fasteners"]["head"]
    assert head["tightening"]["orders"] == {"all": ["A2", "B2"], "order-2": ["A1"], "cite": "tavrilde-pump-book page 12, Fig. 4"}
    assert head["loosening"]["order"] == ["B1", "A3"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_rule_of_accessibility_is_broken(write, scheme):
    writer = write(360, scheme=scheme)
    whole(writer)
    found = Axe().run(writer.page, options={"preload": False})
    assert found.violations_count == 0, found.generate_report()
    controls = ", ".join(f"[data-form] {each}:visible" for each in ("button", "summary", "select", "input:not([type=checkbox])", "a.button"))
    low = "nodes => nodes.filter((node) => node.getBoundingClientRect().height < 47.5).map((node) => node.outerHTML.slice(0, 200))"
    small = writer.page.locator(controls).evaluate_all(low)
    assert small == []
    assert writer.page.evaluate("document.documentElement.scrollWidth") <= 360
    writer.page.get_by_role("link", name="Use this engine now").click()
    writer.page.wait_for_selector("#own-steps:not([hidden]) .job h2")
    found = Axe().run(writer.page, options={"preload": False})
    assert found.violations_count == 0, found.generate_report()


RECORDS = sorted(path.relative_to(ROOT).as_posix() for folder in ("engines", "demo") for path in (ROOT / "specs" / folder).glob("*.yaml"))


@pytest.mark.parametrize("name", RECORDS)
def test_every_record_of_the_project_fits_in_the_form_and_comes_out_as_it_was(one_form, library, name):
    record = next(engine for engine in library.engines.values() if engine.file.name == name).file.data
    held = {key: value for key, value in json.loads(json.dumps(record)).items() if key != "sources"}
    found = one_form.page.evaluate("""async ([record, books]) => {
        const form = Firedeck.form.inHand;
        await form.take({ ...Firedeck.form.draft.create(), record, books });
        return { record: form.record, faults: Firedeck.form.draft.faults(form.draft) };
    }""", [held, record["sources"]])
    assert found["faults"] == []
    assert found["record"] == record


@pytest.fixture(scope="module")
def one_form(browser, site):
    """One form for many records, none of them kept."""
    reader = Reader(browser, site, 800)
    yield Writer(reader)
    assert reader.complaints == []
    reader.page.context.close()


def test_a_section_of_a_real_manual_goes_in_afresh_and_passes_the_check(write, tmp_path):
    """Pump, diesel, TM 5-4320-300-14, para 6-7, typed from the text of its pages and not from the record that is there."""
    writer = write(360)
    section = writer.section("source")
    section.get_by_label("Is it registered here already?").select_option("tm-5-4320-300-14")
    reading = "Where are you reading now?"
    section.get_by_label(reading).fill("p. 6-36")
    writer.section("engine")
    writer.say("identity.application", "pump")
    writer.say("identity.fuel", "diesel")
    writer.press(writer.section("engine").get_by_role("button", name="Use pump-tm-5-4320-300-14-2"))
    writer.section("faces")
    warp(writer, "faces.head.flatness", ("max 0.005 in", "max 0.127 mm"), ("max 0.004 in", "max 0.1016 mm"))
    studs(writer)
    section = writer.section("source")
    section.get_by_label(reading).fill("p. 6-45")
    writer.section("faces")
    warp(writer, "faces.deck.flatness", ("max 0.006 in", "max 0.1524 mm"), ("max 0.003 in", "max 0.0762 mm"))
    writer.add("faces", "liners")
    for key, printed in (("counterbore_depth", ("0.300 to 0.302 in", "7.620 to 7.67 mm")), ("counterbore_spread", ("max 0.001 in", "max 0.0255 mm"))):
        writer.add("faces.liners", key)
        writer.figure(f"faces.liners.{key}", *printed)
    worn_bores(writer)
    assert writer.faults() == []
    [(name, text)] = writer.files().items()
    project = Project(tmp_path)
    (project.folder / "specs/engines/pump-tm-5-4320-300-14.yaml").unlink()
    (project.folder / name).write_text(text, encoding="utf-8")
    checked = project.run("check", name)
    assert checked.returncode == 0, checked.stdout
    assert "max 1.063 in, max 27.015 mm" in text


def warp(writer: Writer, path: str, lengthwise: tuple[str, str], crosswise: tuple[str, str]) -> None:
    for key, printed in (("lengthwise", lengthwise), ("crosswise", crosswise)):
        writer.add(path, key)
        writer.figure(f"{path}.{key}", *printed)


def studs(writer: Writer) -> None:
    """Studs of the exhaust manifold, and a bore that has no key of its own: its printed units disagree."""
    section = writer.section("fasteners")
    writer.press(section.locator('[data-add="exhaust_manifold"]'))
    row = section.locator('[data-name="exhaust_manifold"]')
    for key, printed in (("torque", ("25 to 40 lbf.ft", "34 to 54 N.m")), ("standing_height", ("1.40 to 1.50 in", "35.6 to 38.1 mm"))):
        if key == "standing_height":
            button = row.locator(f'[data-add="{key}"]')
            writer.open(button)
            writer.press(button)
        writer.figure(f"fasteners.exhaust_manifold.{key}", *printed)
    writer.section("says")
    writer.press(writer.at("decisions").locator('[data-add="decisions"]'))
    row = writer.at("decisions").locator(".row")
    row.get_by_label("Called").first.fill("Exhaust-manifold studs")
    row.get_by_label("Says").first.fill("coat the threads before driving them")
    writer.section("other")
    writer.press(writer.at("other").locator('[data-add="other"]'))
    writer.at("other").locator(".row input").first.fill("Cam follower bore")
    writer.figure("other.0.figure", "max 1.063 in", "max 27.015 mm")
    writer.press(writer.at("other.0.figure").get_by_role("button", name="The page prints it so"))


def worn_bores(writer: Writer) -> None:
    """Three limits of one bore, side by side; taper and out of round."""
    writer.section("other")
    writer.add("bores", "bore")
    writer.add("bores.bore", "limit")
    limits = (
        ("at A", "max 4.5235 in", "max 114.897 mm"), ("at B", "max 4.490 in", "max 114.046 mm"), ("at C and D", "max 4.3595 in", "max 110.731 mm"),
    )
    for number, (place, *printed) in enumerate(limits):
        if number:
            writer.press(writer.at("bores.bore.limit").get_by_role("button", name="Another figure for the same"))
        writer.figure("bores.bore.limit", *printed, when=place, number=number)
    for key in ("taper", "out_of_round"):
        writer.add("bores", key)
        writer.figure(f"bores.{key}", "max 0.0015 in", "max 0.0381 mm")


def test_an_empty_form_gives_out_no_file(write):
    out = write(360).page.locator(".out")
    expect(out).to_contain_text("The file comes out when the manual and the engine are named above.")
    expect(out.get_by_role("button")).to_have_count(0)


def test_what_the_job_lacks_leads_to_its_field(write):
    writer = write(360)
    book(writer)
    for words, path in (("The least height of the head", "faces.head.height.minimum"), ("Which side of the gasket faces up", "gasket.side"),
                        ("How far the cylinders may differ", "tests.compression.spread")):
        writer.press(writer.page.get_by_role("button", name=words))
        expect(writer.at(path).locator("input, textarea").first).to_be_focused()
    writer.press(writer.page.get_by_role("button", name="The torque of the head bolts, or the stages"))
    expect(writer.page.locator("[data-part=stages]").get_by_role("button", name="Torque", exact=True)).to_be_visible()


def test_a_draft_changed_in_two_windows_is_kept_twice(write):
    writer = write(360)
    engine(writer)
    writer.kept()
    other = writer.page.context.new_page()
    other.goto((writer.reader.site / FORM).as_uri())
    other.wait_for_selector("[data-form]:not([hidden])")
    writer.say("identity.application", "garden hose")
    writer.kept()
    other.evaluate("Firedeck.form.inHand.set(['identity', 'fuel', 'says'], 'diesel')")
    other.wait_for_function("() => Firedeck.form.inHand.saving === null")
    drafts = other.evaluate("Firedeck.form.inHand.drafts()")
    assert sorted((draft["record"]["identity"]["application"]["says"], draft["record"]["identity"]["fuel"]["says"]) for draft in drafts) == [
        ("garden hose", "gasoline"), ("garden pump", "diesel")]
