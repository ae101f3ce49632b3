"""The pocket copy: one engine as one self-contained file, because a phone opens a saved file without its neighbours.

Made from the same bodies as the site's pages: style and scripts stand inside, links to what is inside lead there,
links to anything else are taken out and their words stay.
"""

from __future__ import annotations

import re
from datetime import date
from functools import cache

from markupsafe import Markup

from generator.audit import Findings
from generator.pages.bench import model_script
from generator.pages.engine import engine_page, engine_path
from generator.pages.figures import source_path
from generator.pages.page import TEMPLATES, closing_notice, environment
from generator.pages.policy import policy
from generator.pages.procedure import procedure_page, procedure_path
from generator.pages.scripts import ASSETS, bundle
from generator.record.engine import Engine
from generator.record.library import Library
from generator.record.source import Source

_DARK = re.compile(r'\[data-md-color-scheme="slate"\] (\.firedeck \{[^}]*\})')
_LINK = re.compile(r'<a(?P<before>[^>]*) href="\.\./(?P<to>[^"#]*)(?P<place>#[^"]*)?"(?P<after>[^>]*)>(?P<words>.*?)</a>', re.DOTALL)


def pocket_path(engine: Engine) -> str:
    """The pocket copy's file, from the site's folder."""
    return f"pocket/{engine.id}.html"


def pocket(engine: Engine, library: Library, changed: date | None, found: Findings | None = None) -> str:
    """The whole file."""
    inside = {engine_path(engine): "#figures", procedure_path(engine): "#procedure"}
    inside |= {source_path(source): f"#source-{source.id}" for source in _cited(engine, library)}
    figures = _inward(engine_page(engine, library, changed, found).body, inside)
    procedure = _inward(procedure_page(engine, library, alone=True).body, inside)
    inside_scripts = [Markup(model_script(engine, library, changed)), Markup(bundle("bench"))]
    return environment().get_template("pocket.html").render(
        engine=engine, changed=changed, figures=figures, procedure=procedure, sources=_cited(engine, library),
        style=style(), scripts=inside_scripts, policy=policy(inside_scripts, [style()]), closing=closing_notice(),
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

    return Markup(_LINK.sub(lead, body).replace("<h1>", '<h2 class="part">').replace("</h1>", "</h2>"))


@cache
def style() -> Markup:
    """The site's own style; without the frame the reader's device chooses between light and dark."""
    text = (ASSETS / "firedeck.css").read_text(encoding="utf-8")
    return Markup(_DARK.sub(r"@media (prefers-color-scheme: dark) { \1 }", text) + (TEMPLATES / "pocket.css").read_text(encoding="utf-8"))

