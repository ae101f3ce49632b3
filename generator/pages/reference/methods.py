"""The methods page: each formula with its symbols, source and range of validity, and an example worked while the page is made."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.audit.methods import work
from generator.audit.worked import Line, facts_of
from generator.pages.engine import engine_path
from generator.pages.figures import CiteView, FactView, cite_view, fact_view
from generator.pages.page import Page, render
from generator.record.facts import Cite
from generator.record.library import Library
from generator.record.method import Given, Method

PATH = "reference/methods.html"


@dataclass(frozen=True, slots=True)
class GivenView:
    """An input of an example. href: its row on the page of the record it was taken from, empty for a figure of its own."""

    label: str
    facts: list[FactView]
    href: str


@dataclass(frozen=True, slots=True)
class MethodView:
    """A method for the page. given: its inputs. result: lines of the worked example, each with the sources it rests on."""

    method: Method
    cites: list[CiteView]
    given: list[GivenView]
    result: list[tuple[Line, list[CiteView]]]


def methods_page(library: Library) -> Page:
    """Every calculation in the order of its file's number."""
    views = [(each, [_view(method, library) for method in each.methods]) for each in library.calculations]
    return render("reference/methods.html", PATH, "Methods", calculations=views)


def method_path(method: Method) -> str:
    """Place of a method, from the site's folder."""
    return f"{PATH}#{method.id}"


def _view(method: Method, library: Library) -> MethodView:
    return MethodView(
        method=method,
        cites=_cites(method.cites, library),
        given=[_given(given, library) for given in method.given],
        result=[(line, _cites(map(Cite.read, line.cites), library)) for line in work(method, library)],
    )


def _given(given: Given, library: Library) -> GivenView:
    views = [fact_view(fact, library) for fact in facts_of(given, library)]
    record = library.engines.get(given.engine)
    return GivenView(given.label, views, f"{engine_path(record)}#{views[0].anchor}" if record and views else "")


def _cites(cites: Iterable[Cite], library: Library) -> list[CiteView]:
    return [view for cite in cites if (view := cite_view(cite, library))]
