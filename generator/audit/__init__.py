"""What the schema cannot say: named rules, one small function each, judging records."""

from __future__ import annotations

from generator.audit import cites, fasteners, procedure, units
from generator.audit.rule import LibraryRule, Rule
from generator.reading import Problem
from generator.record.library import Library

RULES: list[Rule] = [*cites.RULES, *units.RULES, *fasteners.RULES]
LIBRARY_RULES: list[LibraryRule] = [*procedure.RULES]


def audit(library: Library) -> list[Problem]:
    """Every problem of every rule, over all records."""
    found: list[Problem] = []
    for engine in library.engines.values():
        for rule in RULES:
            found += rule.check(engine, library)
    for library_rule in LIBRARY_RULES:
        found += library_rule.check(library)
    return found


__all__ = ["LIBRARY_RULES", "RULES", "LibraryRule", "Rule", "audit"]
