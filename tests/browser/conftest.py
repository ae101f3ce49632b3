"""One browser for all tests of what a person sees."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Playwright, sync_playwright


def launched(playwright: Playwright) -> Browser:
    """Chromium, for which no host name resolves; a test may serve the site on this machine."""
    chromium = shutil.which("chromium")
    if chromium is None:
        pytest.fail("No Chromium on this machine: install it (on Debian: apt-get install chromium)")
    flags = ["--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1", *(["--no-sandbox"] if os.geteuid() == 0 else [])]
    return playwright.chromium.launch(executable_path=chromium, args=flags)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for all tests."""
    with sync_playwright() as playwright:
        found = launched(playwright)
        yield found
        found.close()


@pytest.fixture(autouse=True)
def spaces_as_read(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a person reads: the space that holds a number to its unit looks like any other."""
    inner_text, inner_texts = Locator.inner_text, Locator.all_inner_texts
    monkeypatch.setattr(Locator, "inner_text", lambda self, **options: inner_text(self, **options).replace("\u00a0", " "))
    monkeypatch.setattr(Locator, "all_inner_texts", lambda self: [text.replace("\u00a0", " ") for text in inner_texts(self)])


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Try a failed test of the browser once more: on a busy machine the browser and the test may miss each other.

    The summary names each one that needed it; such a test waits for the wrong thing, and is to be mended.
    """
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.flaky(reruns=1))
