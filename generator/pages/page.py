"""What a page is to whoever frames it, and the templates that make its body."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from itertools import groupby
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from generator.pages.unbroken import unbroken
from generator.pages.wording import formula, joined, said, sentence, statement_words, unit_words

TEMPLATES = Path(__file__).parent / "templates"


@dataclass(frozen=True, slots=True)
class Page:
    """A page ready for its frame. path: from the site's folder, e.g. engines/x.html. body: HTML without a frame."""

    path: str
    title: str
    body: str

    @property
    def up(self) -> str:
        """The way from this page to the site's folder: "" or "../"."""
        return "../" * self.path.count("/")


@cache
def environment() -> Environment:
    """Templates that escape everything and refuse unknown names."""
    found = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True, auto_reload=True
    )
    found.filters |= {
        "runs": runs, "statement": statement_words, "sentence": sentence, "joined": joined, "said": said, "formula": formula, "unit": unit_words,
    }
    return found


def runs(views: Iterable[Any]) -> list[tuple[Any, list[Any]]]:
    """Rows in runs of one source and place: (cite, rows)."""
    return [(cite, list(run)) for cite, run in groupby(views, key=lambda view: view.cite)]


def render(template: str, path: str, title: str, **values: Any) -> Page:
    """Make the body of the page at `path` from a template; templates get `up` and `title`."""
    return Page(path, title, filled(template, up=Page(path, title, "").up, title=title, **values))


def filled(template: str, **values: Any) -> str:
    """A template with its values, numbers and units held together."""
    return unbroken(environment().get_template(template).render(**values))


def closing_notice() -> Markup:
    """The words that end every page."""
    return Markup(environment().get_template("closing.html").render())
