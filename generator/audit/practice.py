"""Rules of practice: each cites a registered book, stands beside what a record can say, and is told once."""

from __future__ import annotations

from collections.abc import Iterator

from generator.audit.procedure import condition_problems, stands_for
from generator.audit.rule import LibraryRule
from generator.reading import Problem
from generator.record.library import Library
from generator.record.practice import Practice, PracticeRule

_FOLDERS = ("specs/practice/",)


def _rules(library: Library) -> Iterator[tuple[Practice, PracticeRule]]:
    for practice in library.practice:
        for rule in practice.rules:
            yield practice, rule


def _cites(library: Library) -> Iterator[Problem]:
    for practice, rule in _rules(library):
        cites = [(rule.at, cite) for cite in rule.cites]
        cites += [(fact.at, fact.cite) for limit in rule.limits for fact in limit.facts if fact.cite and fact.cite not in rule.cites]
        for at, cite in cites:
            book = library.sources.get(cite.source)
            if not library.registers(cite.source):
                message = f"the source {cite.source!r} is not registered in specs/sources"
                yield practice.file.problem(at, "practice-cite-resolves", message, library.how_to_register(cite.source))
            elif book and book.invented:
                message = f"a rule of practice cites an invented book, {book.number}"
                yield practice.file.problem(at, "practice-cite-resolves", message, "cite a real one, or common-practice no source")


def _places(library: Library) -> Iterator[Problem]:
    shape = library.schemas.shape("engine")
    for practice, rule in _rules(library):
        for index, dotted in enumerate(rule.beside):
            if not stands_for(shape, dotted.split(".")):
                message = f"the rule stands beside {dotted!r}, which no record can have"
                at = (*rule.at, "beside", index)
                yield practice.file.problem(at, "practice-place-known", message, "write keys of the record, joined by full stops")


def _conditions(library: Library) -> Iterator[Problem]:
    engine = library.schemas.shape("engine")
    for practice, rule in _rules(library):
        for limit in rule.limits:
            yield from condition_problems(practice.file, (*limit.at, "when"), limit.when, engine, "practice-condition-known")


def _once(library: Library) -> Iterator[Problem]:
    seen: dict[str, str] = {}
    for practice, rule in _rules(library):
        if rule.id in seen:
            message = f"the rule {rule.id!r} also stands in {seen[rule.id]}"
            yield practice.file.problem((*rule.at, "id"), "practice-once", message, "ids are for ever: choose another")
        seen[rule.id] = practice.file.name


RULES = [
    LibraryRule(
        "practice-cite-resolves", "A rule of practice whose source is not registered, or is invented.", "cite: tm-9-2815-220-43", _cites,
        folders=_FOLDERS,
    ),
    LibraryRule(
        "practice-place-known", "A rule of practice beside a figure that no record can have.", "beside: [faces.head.flattness]", _places,
        folders=_FOLDERS,
    ),
    LibraryRule(
        "practice-condition-known", "A limit of practice that depends on what no record states.", "when: {cylinder: 6}", _conditions,
        folders=_FOLDERS,
    ),
    LibraryRule("practice-once", "A rule of practice that stands twice.", "a rule copied and not renamed", _once, folders=_FOLDERS),
]
