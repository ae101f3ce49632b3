"""The pocket copy: one engine as one self-contained file, because a phone opens a saved file without its neighbours.

Made from the same bodies as the site's pages: style and scripts stand inside, links to what is inside lead there,
links to anything else are taken out and their words stay. It has to be small: every figure stands in it once, and a source
once before the figures that one place in it gives.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from functools import cache

from markupsafe import Markup

from generator.audit import Findings
from generator.pages.bench import bundles_of, model_script
from generator.pages.engine import engine_page, engine_path
from generator.pages.figures import source_path
from generator.pages.page import TEMPLATES, closing_notice, filled
from generator.pages.policy import policy
from generator.pages.procedure import procedure_page, procedure_path
from generator.pages.scripts import ASSETS, bundle
from generator.pages.short import MARKUP, STYLE, short
from generator.record.engine import Engine
from generator.record.library import Library
from generator.record.source import Source

_DARK = re.compile(r'\[data-md-color-scheme="slate"\] (\.firedeck \{[^}]*\})')
_PARTS = re.compile(r"\n\n(?=/\*)")
_ELSEWHERE = ("/* Home", "/* Every key", "/* Reference", "/* The frame")  # parts of the style for pages that are not in the file
_LINK = re.compile(r'<a(?P<before>[^>]*) href="\.\./(?P<to>[^"#]*)(?P<place>#[^"]*)?"(?P<after>[^>]*)>(?P<words>.*?)</a>', re.DOTALL)
_TARGET = re.compile(r'href="#([^"]*)"')
_FIGURE_ID = re.compile(r'<li id="([^"]*)"')
_OF_FRAME = re.compile(r"[^{}]*\.md-[^{}]*\{[^{}]*\}")
# In a drawing quotes are kept; the last attribute before a stroke needs them.
_DRAWN, _QUOTED = re.compile(r"<svg.*?</svg>", re.DOTALL), re.compile(r' ([a-z-]+)="([\w.#-]+)"(?=[ >])')
_SOURCE = '[href^="#src"]'  # what a link to a source is known by, so that hundreds need no class
# What stands hundreds of times, said shorter; templates/pocket.css knows it.
_SHORTER: tuple[tuple[re.Pattern[str], str | Callable[[re.Match[str]], str]], ...] = (
    (re.compile(r' class="(?:arrow|bolts?|bores?|cylinder|dowel|edge|ground|legend|outline|sweeps?|turns?)"'), ""),
    (re.compile(r'<a class="cite"'), "<a"),
    (re.compile(r' font-family="Arial, Helvetica, sans-serif"'), ""),
    (re.compile(r"<small>(common practice, no source)</small>"), r"\1"),
    (re.compile(r'<div (class="caution[^"]*">)\s*<p>(.*?)</p>\s*</div>', re.DOTALL), r"<p \1\2</p>"),
    (re.compile(r'<strong class="signal">'), "<strong>"),
    (re.compile(r'<span class="printed">(.*?</b>)</span>'), r"\1"),
    (re.compile(r'<span class="printed said">([^<]*)</span>'), r"<b>\1</b>"),
    (
        re.compile(r'<span class="converted">=&nbsp;<span class="qty">([^<]*)</span> converted</span>'),
        lambda value: f"<i>=&nbsp;{value[1].replace(' ', '&nbsp;')} converted</i>",
    ),
)


def pocket_path(engine: Engine) -> str:
    """The pocket copy's file, from the site's folder."""
    return f"pocket/{engine.id}.html"


def pocket(engine: Engine, library: Library, changed: date | None, found: Findings | None = None) -> str:
    """The whole file."""
    sources = {source: f"src{number}" for number, source in enumerate(_cited(engine, library), start=1)}
    inside = {engine_path(engine): "#figures", procedure_path(engine): "#procedure"}
    inside |= {source_path(source): f"#{name}" for source, name in sources.items()}
    figures = _inward(engine_page(engine, library, changed, found, alone=True).body, inside)
    procedure = _inward(procedure_page(engine, library, alone=True).body, inside)
    scripts = [Markup(text) for text in (model_script(engine, library, changed), *map(bundle, bundles_of(engine)))]
    return filled(
        "pocket.html",
        engine=engine, changed=changed, figures=figures, procedure=procedure, sources=sources,
        style=style(), scripts=scripts, policy=policy(scripts, [style()]), closing=closing_notice(),
    )


def _cited(engine: Engine, library: Library) -> list[Source]:
    """Sources of the record and of the procedure's steps and cautions."""
    cites = [cite for phase in library.phases for step in phase.steps for cite in step.cites]
    cites += [cite for caution in library.cautions.values() for cite in caution.cites]
    names = dict.fromkeys([*engine.sources, *(cite.source for cite in cites)])
    return [library.sources[name] for name in names if name in library.sources]


def _inward(body: str, inside: dict[str, str]) -> Markup:
    """The body with its links led inside the file, or taken out. One h1 a file: the body's becomes an h2."""

    def lead(link: re.Match[str]) -> str:
        target = inside.get(link["to"])
        if target is None:
            return link["words"] if "button" not in link["before"] + link["after"] else ""
        return f'<a{link["before"]} href="{link["place"] or target}"{link["after"]}>{link["words"]}</a>'

    led = _LINK.sub(lead, body).replace("<h1>", '<h2 class="part">').replace("</h1>", "</h2>")
    for pattern, instead in _SHORTER:
        led = pattern.sub(instead, led)
    return Markup(_DRAWN.sub(lambda drawing: _QUOTED.sub(r" \1=\2", drawing[0]), short(MARKUP, _unlinked(led))))


def _unlinked(body: str) -> str:
    """The body without the ids of figures to which nothing in it leads."""
    targets = set(_TARGET.findall(body))
    return _FIGURE_ID.sub(lambda match: match[0] if match[1] in targets else "<li", body)


@cache
def style() -> Markup:
    """The site's own style; without the frame the reader's device chooses between light and dark."""
    parts = _PARTS.split((ASSETS / "firedeck.css").read_text(encoding="utf-8"))
    text = "\n".join(part for part in parts if not part.startswith(_ELSEWHERE))
    text = text.replace(".cite", _SOURCE).replace(".firedeck .signal", ".firedeck .caution strong").replace(" .signal", " strong")
    text = _OF_FRAME.sub("", _DARK.sub(r"@media (prefers-color-scheme: dark) { \1 }", text)) + (TEMPLATES / "pocket.css").read_text(encoding="utf-8")
    return Markup(short(STYLE, text))
