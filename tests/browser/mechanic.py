"""Someone at the bench: the moves of a job, in few words, so that a test reads like the job."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Literal

from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.reader import Reader

PAUSE = 800  # ms; a tap within 700 ms of a new page of the walk-through is taken for a slip

_PARTED = r"""() => {
  const spelt = Object.keys(Firedeck.quantities.UNITS).map((unit) => unit.replace(/[()/%]/g, "\\$&").replace(".", "[.·]"));
  const unit = new RegExp(`.*\\d (?:${[...spelt, "°C", "°F", "mm²", "cm²", "cm³", "µm"].join("|")})(?![\\w/(·²³])`);
  const nodes = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), found = [];
  while (nodes.nextNode()) {
    const text = nodes.currentNode, parent = text.parentElement;
    const apart = unit.test(text.data) && !parent.closest("script, style, option, textarea, pre, svg");
    if (apart && getComputedStyle(parent).whiteSpace !== "nowrap") found.push(text.data);
  }
  return found;
}"""


class Mechanic:
    """A phone with a copy of the site, or one file of it, in a folder of its own, so that no job of another test is there.

    The page's clock is moved by hand: no test waits for it.
    """

    def __init__(
        self, browser: Browser, site: Path, folder: Path, width: int = 360, scheme: Literal["light", "dark"] = "light", **options: Any
    ) -> None:
        copy = shutil.copytree(site, folder, copy_function=_link) if site.is_dir() else Path(shutil.copy(site, folder))
        self.reader = Reader(browser, copy, width, scheme, **options)
        self.page: Page = self.reader.page
        self.page.clock.install()
        self.page.on("dialog", lambda dialog: dialog.accept())

    def open(self, engine: str) -> Mechanic:
        """The procedure of an engine, its jobs read."""
        self.reader.open(f"procedure/{engine}.html")
        return self.ready()

    def ready(self) -> Mechanic:
        expect(self.page.locator(".job")).to_be_visible()
        expect(self.page.locator(".state-of-job")).not_to_be_empty()
        return self

    def again(self) -> Mechanic:
        """The browser was closed and is opened again."""
        self.kept()
        self.page.reload()
        return self.ready()

    def kept(self) -> None:
        """Everything is written."""
        self.page.wait_for_function("() => Firedeck.bench.saving === null")

    @property
    def job(self) -> dict[str, Any]:
        """The job in hand."""
        found: dict[str, Any] = self.page.evaluate("structuredClone(Firedeck.bench.job)")
        return found

    def close(self) -> None:
        """Nothing was complained of, nothing was asked of another host."""
        assert self.reader.complaints == []
        assert self.reader.asked_elsewhere == []
        self.page.context.close()

    @property
    def parted(self) -> list[str]:
        """Text of the page in which a line may end between a number and its unit."""
        found: list[str] = self.page.evaluate(_PARTED)
        return found

    # -- worksheets --

    def sheet(self, kind: str, head: str = "") -> Locator:
        """A worksheet, opened."""
        found = self.page.locator(f'firedeck-worksheet[data-kind="{kind}"][data-head="{head}"]')
        if not found.locator("> details").evaluate("each => each.open"):
            found.locator("> details > summary").click()
        return found

    def fill(self, sheet: Locator, given: dict[str, str]) -> str:
        """Type into its fields; what it answers."""
        for label, text in given.items():
            field = sheet.get_by_label(label, exact=True)
            if field.evaluate("each => each.tagName") == "SELECT":
                field.select_option(text)
            else:
                field.fill(text)
                field.blur()
        return answers(sheet)

    # -- hold points --

    def sign(self, name: str = "Ada") -> None:
        """Every hold point that is still open."""
        for hold in self.page.locator("[data-hold]").all():
            if hold.get_by_role("button", name="Sign: it is so").count():
                hold.get_by_label("Seen by").fill(name)
                hold.get_by_role("button", name="Sign: it is so").click()

    def override(self, point: int, reason: str) -> None:
        """Go on without one hold point."""
        hold = self.page.locator("[data-hold]").nth(point)
        hold.locator("summary").click()
        hold.get_by_label("Seen by").fill("Ada")
        hold.get_by_label("Reason, in writing").fill(reason)
        hold.get_by_role("button", name="Go on without it").click()

    # -- the walk-through --

    def place(self, kind: str = "tightening", head: str = "") -> Locator:
        """Where the walk begins on the page."""
        return self.page.locator(f'firedeck-walk[data-kind="{kind}"][data-head="{head}"]')

    def walk(self, kind: str = "tightening", head: str = "") -> Locator:
        """The walk-through, opened."""
        self.place(kind, head).get_by_role("button").click()
        return self.dialog

    @property
    def dialog(self) -> Locator:
        return self.page.locator("dialog.walk")

    def tap(self, name: str) -> str:
        """A button of the walk-through, not in haste; the page after it."""
        self.page.clock.fast_forward(PAUSE)
        self.dialog.get_by_role("button", name=name, exact=True).click()
        return self.dialog.inner_text() if self.dialog.count() else ""

    def pull(self, times: int = 1) -> str:
        """So many pulls done; the page after them."""
        text = ""
        for _ in range(times):
            text = self.tap("Done")
        return text

    def pull_to(self, heading: str) -> str:
        """Pulls until the page is headed so."""
        for _ in range(400):
            text = self.dialog.inner_text()
            if re.search(heading, text):
                return text
            self.pull()
        raise AssertionError(f"no page of the walk is headed {heading}: {text}")

    def target(self, typed: str | None = None) -> str:
        """One target for the row, or the one that is proposed."""
        if typed is not None:
            self.dialog.get_by_label("Target for every bolt").fill(typed)
        return self.tap("Use this for the row")

    def lay_out(self, columns: int, order: list[str]) -> str:
        """Two rows of bolts, tapped in the order of the manual's figure."""
        self.tap("Enter the order")
        self.dialog.get_by_label("Bolts in a row").fill(str(columns))
        self.page.clock.fast_forward(PAUSE)
        for name in order:
            self.dialog.get_by_role("button", name=name, exact=True).click()
        return self.tap("Use this order")

    # -- the job file --

    def save(self, folder: Path) -> Path:
        """The job as a file in a folder."""
        self.kept()
        with self.page.expect_download() as download:
            self.page.locator(".job").get_by_role("button", name="Save the job to a file").click()
        path = folder / download.value.suggested_filename
        download.value.save_as(path)
        return path

    def wipe(self) -> None:
        """Delete the job from this device."""
        self.page.get_by_role("button", name="Delete this job").click()
        self.page.wait_for_function("() => Firedeck.bench.fresh")

    def load(self, path: Path) -> str:
        """A file into this page; what it says to that."""
        message = self.page.locator(".job .refusal")
        message.evaluate("each => { each.textContent = ''; }")
        self.page.locator(".job input[type=file]").set_input_files(path)
        expect(message).not_to_be_empty()
        return message.inner_text()

    def hand_over(self) -> str:
        """The hand-over as it comes out of the printer."""
        self.page.evaluate("window.print = () => {}")
        self.page.get_by_role("button", name="Print the hand-over").click()
        self.page.emulate_media(media="print")
        text = self.page.locator(".handover").inner_text()
        assert not self.page.locator("h1:visible", has_text="Procedure").count()
        self.page.emulate_media(media="screen")
        self.page.evaluate("dispatchEvent(new Event('afterprint'))")
        return text


def _link(source: str, target: str) -> None:
    """A copy that costs nothing; a file that a test changes is written anew."""
    Path(target).hardlink_to(source)


def answers(sheet: Locator) -> str:
    """What a worksheet answers."""
    return sheet.locator("output").inner_text()


@contextmanager
def at_the_bench(browser: Browser, site: Path, folder: Path, **options: Any) -> Iterator[Mechanic]:
    """A mechanic for the length of a test."""
    found = Mechanic(browser, site, folder, **options)
    yield found
    found.close()
