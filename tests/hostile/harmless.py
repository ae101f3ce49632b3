"""Whether a page holds nothing that runs, loads or leads where no record may lead."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser

FORBIDDEN_TAGS = {"iframe", "object", "embed", "base", "link", "form", "img", "audio", "video", "applet", "frame", "portal"}
LINKS = {"href", "src", "action", "formaction", "xlink:href", "srcset", "poster", "data"}
# Links of ours are anchors or lead up and down the site's own folders.
OURS = re.compile(r"(\.\./)?([a-z0-9-]+/)*[a-z0-9-]*(\.html|\.json|\.js)?(#[A-Za-z0-9_-]+)?")


class _Looker(HTMLParser):
    def __init__(self, scripts: frozenset[str]) -> None:
        super().__init__()
        self.scripts = scripts
        self.harm: list[str] = []
        self.script = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        self.script = tag if tag == "script" else ""
        if tag in FORBIDDEN_TAGS:
            self.harm.append(f"<{tag}>")
        if tag == "script" and (source := given.get("src")) and not OURS.fullmatch(source):
            self.harm.append(f"script from {source}")
        self.harm += [f"{key}={value}" for key, value in _harmful(given)]
        if tag == "meta" and given.get("http-equiv", "").lower() == "refresh":  # type: ignore[union-attr]
            self.harm.append("refresh")

    def handle_data(self, data: str) -> None:
        if self.script and data not in self.scripts and data.strip():
            self.harm.append(f"script: {data[:60]}")

    def handle_endtag(self, tag: str) -> None:
        self.script = ""


def _harmful(given: dict[str, str | None]) -> Iterator[tuple[str, str]]:
    for key, value in given.items():
        if key.startswith("on") or key == "srcdoc" or (key in LINKS and not OURS.fullmatch(value or "")):
            yield key, value or ""


def harm_of(html: str, scripts: frozenset[str] = frozenset()) -> list[str]:
    """What stands in a page and may not. scripts: texts of the inline ones that are ours; data blocks are looked at by their own test."""
    looker = _Looker(scripts)
    looker.feed(re.sub(r'<script type="application/json"[^>]*>[^<]*</script>', "", html))
    looker.close()
    return looker.harm
