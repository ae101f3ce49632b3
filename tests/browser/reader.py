"""A reader of the site, opened from disk."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Literal

from playwright.sync_api import Browser, Page


class Reader:
    """A page in a window of some width, with what it asked for and complained of. options: of the browser's context, e.g. has_touch."""

    def __init__(self, browser: Browser, site: Path, width: int, scheme: Literal["light", "dark"] = "light", **options: Any) -> None:
        self.site = site
        self.asked: list[str] = []
        self.complaints: list[str] = []
        self.page: Page = browser.new_context(viewport={"width": width, "height": 800}, color_scheme=scheme, **options).new_page()
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("console", lambda message: self.complaints.append(message.text) if message.type == "error" else None)

    def open(self, path: str) -> Page:
        """Go to a page of the site: its path from the site's folder, with or without an anchor."""
        file, mark, anchor = path.partition("#")
        self.page.goto((self.site / file).as_uri() + mark + anchor)
        return self.page

    @property
    def asked_elsewhere(self) -> list[str]:
        """Requests that left this device."""
        return [url for url in self.asked if not url.startswith(("file:", "data:"))]
