"""A number and its unit on one line, wherever a page says them: a 5 at the end of one line and mm in the next is misread with greasy glasses."""

from __future__ import annotations

import re

from generator.pages.wording import unit_words
from generator.quantities import UNITS

_NAMES = {name for symbol in UNITS for name in (symbol, unit_words(symbol))}
_UNIT = "|".join(re.escape(name) for name in sorted(_NAMES, key=len, reverse=True))
# After a digit: a unit, or the fraction of a mixed number.
_SPACE = re.compile(rf"(?<=\d) (?=(?:{_UNIT})(?![\w/(·]|\.\w)|\d+/\d)")
# What is taken from a page as it stands, read by a script, or held together by its style.
_VERBATIM = re.compile(r'<(pre|script|style|textarea|option|title)\b.*?</\1>|<(b|span) class="qty">.*?</\2>', re.DOTALL)


def unbroken(html: str) -> str:
    """The page with a no-break space between number and unit; tags, scripts and what is to be copied stay as they are."""
    if not _SPACE.search(html):
        return html
    parts, done = [], 0
    for kept in _VERBATIM.finditer(html):
        parts += [_in_text(html[done : kept.start()]), kept[0]]
        done = kept.end()
    return "".join([*parts, _in_text(html[done:])])


def _in_text(html: str) -> str:
    def space(match: re.Match[str]) -> str:
        # Brackets of text and of attributes are escaped, so that these are those of tags.
        in_tag = html.rfind("<", 0, match.start()) > html.rfind(">", 0, match.start())
        return " " if in_tag else "\u00a0"

    return _SPACE.sub(space, html)
