"""Reference: methods, rules of practice, threads, strength, units, the torque wrench, the rules of the audit, and the page that leads to all."""

from __future__ import annotations

from collections.abc import Iterator

from generator.pages.page import Page, render
from generator.pages.reference.methods import methods_page
from generator.pages.reference.practice import practice_page
from generator.pages.reference.rules import rules_page
from generator.pages.reference.tables import strength_page, threads_page
from generator.pages.reference.units import units_page
from generator.pages.reference.wrench import wrench_page
from generator.record.library import Library

# Path, title and what is there, in the order of the page; pages made elsewhere are led to as well.
LEADS = (
    ("reference/methods.html", "Methods", "every calculation with its formula, source, range of validity and a worked example"),
    ("reference/practice.html", "Rules of practice", "what the trade holds of engines in general; none of it is your engine's limit"),
    ("reference/threads.html", "Threads", "metric and unified: diameters, stress area, tapping drill"),
    ("reference/strength.html", "Strength and friction", "property classes and grades, proof loads of bolts, nut factors"),
    ("reference/units.html", "Units", "exact factors, and how a converted figure is rounded"),
    ("reference/wrench.html", "Torque wrench", "settings with a sideways adapter, the range a wrench can be trusted in"),
    ("reference/rules.html", "Rules of the audit", "what every record is checked for, with an example of what each rule catches"),
    ("errata.html", "Errata", "doubtful figures: what a manual prints so, and what may be the scan"),
    ("keys.html", "Every key of a record", "for whoever adds an engine"),
    ("sources.html", "Sources", "every publication, how it was read, and what rests on it"),
    ("reading-a-figure.html", "How to read a figure", "printed, converted, doubtful, not in this record"),
)


def reference_pages(library: Library) -> Iterator[Page]:
    """The page that leads to all of them first."""
    yield render("reference/index.html", "reference.html", "Reference", leads=LEADS)
    for make in (methods_page, practice_page, threads_page, strength_page, units_page, wrench_page, rules_page):
        yield make(library)


__all__ = ["reference_pages"]
