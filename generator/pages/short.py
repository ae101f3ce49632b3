"""Text for a browser said in fewer letters: no comments, no indentation, short names for what a script keeps to itself."""

from __future__ import annotations

import re

import minify

SCRIPT, STYLE, MARKUP = "application/javascript", "text/css", "text/html"
# Every element is closed and none is left to be guessed; a drawing keeps its decimals.
_KEEP = {"html-keep-end-tags": True, "html-keep-document-tags": True, "html-keep-default-attr-vals": True}
_BARE = re.compile(r"&(?!#?\w+;)")


def short(kind: str, text: str) -> str:
    """The text as a browser reads it, shorter. kind: its media type. ValueError for a script, style or page that cannot be read."""
    minify.config(_KEEP)
    found: str = minify.string(kind, text)
    return _BARE.sub("&amp;", found).replace("&nbsp;", "\N{NO-BREAK SPACE}") if kind == MARKUP else found
