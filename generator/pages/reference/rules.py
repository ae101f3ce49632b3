"""The rules of the audit, from the lists that the check itself runs."""

from __future__ import annotations

from generator.audit import FINDING_RULES, LIBRARY_RULES, RULES
from generator.pages.page import Page, render
from generator.record.library import Library


def rules_page(library: Library) -> Page:
    """Every rule with what it catches and an example, in the order in which the check runs them."""
    groups = (
        ("records", "Rules over a record", "Each is asked of every engine.", RULES),
        ("everything", "Rules over everything together", "Procedure, tables, methods and what they refer to.", LIBRARY_RULES),
        ("findings", "Rules over what was found", "Whether the exceptions of a record are still needed.", FINDING_RULES),
    )
    return render("reference/rules.html", "reference/rules.html", "Rules of the audit", groups=groups)
