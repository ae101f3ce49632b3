"""The page of the rules of practice, each with its source."""

from __future__ import annotations

from generator.pages.page import Page, render
from generator.pages.practice import PATH, rule_view
from generator.record.library import Library


def practice_page(library: Library) -> Page:
    """Every rule, file by file in the order of their numbers."""
    views = [(each, [rule_view(rule, library) for rule in each.rules]) for each in library.practice]
    return render("reference/practice.html", PATH, "Rules of practice", groups=views)
