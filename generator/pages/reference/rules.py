"""The rules of the audit, from the lists that the check itself runs."""

from __future__ import annotations

from generator.audit import FINDING_RULES, LIBRARY_RULES, RULES
from generator.audit.reading import CANONICAL_RULES, FILE_RULES, RECORD_RULES, SHAPE_RULES
from generator.pages.page import Page, render
from generator.record.library import Library


def rules_page(library: Library) -> Page:
    """Every rule with what it catches and an example, in the order in which the check runs them; those of reading at the end."""
    groups = (
        ("records", "Rules over a record", "Each is asked of every engine.", RULES),
        ("everything", "Rules over everything together", "Procedure, tables, methods and what they refer to.", LIBRARY_RULES),
        ("findings", "Rules over what was found", "Whether the exceptions of a record are still needed.", FINDING_RULES),
        ("file", "Rules of reading", "What a file must be before its words are looked at; YAML would take much for something else.", FILE_RULES),
        ("shape", "Rules of shape", "What the schema of a file asks: keys, words, kinds of values.", SHAPE_RULES),
        ("names", "Rules of names and statements", "What a record says must be readable, and name only what is there.", RECORD_RULES),
        ("canonical", "Rules of the canonical form", "Told by fmt alone.", CANONICAL_RULES),
    )
    return render("reference/rules.html", "reference/rules.html", "Rules of the audit", groups=groups)
