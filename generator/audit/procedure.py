"""The procedure's references must stand for something: never a blank on a page."""

from __future__ import annotations

from collections.abc import Iterator

from generator.audit.rule import LibraryRule
from generator.reading import At, Problem, ReadFile, Shape, nearest
from generator.record.facts import Cite
from generator.record.library import Library
from generator.record.procedure import Step

PHASES = 11


def _steps(library: Library) -> Iterator[tuple[ReadFile, At, Step]]:
    for phase in library.phases:
        for index, step in enumerate(phase.steps):
            yield phase.file, ("steps", index), step


def _sources(library: Library) -> Iterator[Problem]:
    for file, at, step in _steps(library):
        for cite in step.cites:
            yield from _registered(library, file, at, cite)
    if library.cautions_file:
        for caution in library.cautions.values():
            for cite in caution.cites:
                yield from _registered(library, library.cautions_file, ("cautions", caution.id), cite)


def _registered(library: Library, file: ReadFile, at: At, cite: Cite) -> Iterator[Problem]:
    book = library.sources.get(cite.source)
    if book is None:
        hint = nearest(cite.source, [known for known in library.sources if known[:4] == cite.source[:4]])
        yield file.problem(at, "step-cite-resolves", f"the source {cite.source!r} is not registered in specs/sources", hint)
    elif book.invented:
        message = f"a step cites an invented book, {book.number}"
        yield file.problem(at, "step-cite-resolves", message, "steps and cautions cite real publications everywhere")


def _references(library: Library) -> Iterator[Problem]:
    shape = library.schemas.shape("engine")
    for file, at, step in _steps(library):
        for index, dotted in enumerate(step.figures):
            if not _stands_for(shape, dotted.split(".")):
                message = f"the step refers to {dotted!r}, which no record can have"
                yield file.problem((*at, "figures", index), "step-figure-known", message, "write keys of the record, joined by full stops")
        for index, name in enumerate(step.cautions):
            if name not in library.cautions:
                message = f"the caution {name!r} is not in cautions.yaml"
                yield file.problem((*at, "cautions", index), "step-caution-known", message, nearest(name, list(library.cautions)))


def _stands_for(shape: Shape | None, keys: list[str]) -> bool:
    for key in keys:
        if shape is None:
            return False
        shape = shape.children.get(key) or shape.others
    return shape is not None


def _conditions(library: Library) -> Iterator[Problem]:
    identity = library.schemas.shape("engine").children["identity"]
    for file, at, step in _steps(library):
        yield from _condition(file, (*at, "when"), step.when, identity)
    if library.cautions_file:
        for caution in library.cautions.values():
            yield from _condition(library.cautions_file, ("cautions", caution.id, "when"), caution.when, identity)


def _condition(file: ReadFile, at: At, when: tuple[tuple[str, str], ...], identity: Shape) -> Iterator[Problem]:
    for key, value in when:
        shape = identity.children.get(key)
        if shape is None or shape.leaf != "statement":
            yield file.problem((*at, key), "condition-known", f"{key!r} is no fact of an engine's identity", nearest(key, list(identity.children)))
            continue
        says = shape.children["says"].node
        if "enum" in says and value not in says["enum"]:
            yield file.problem((*at, key), "condition-known", f"{key} is never {value!r}", nearest(value, says["enum"]))


def _once(library: Library) -> Iterator[Problem]:
    seen: dict[str, str] = {}
    for file, at, step in _steps(library):
        if step.id in seen:
            message = f"the step id {step.id!r} also stands in {seen[step.id]}"
            yield file.problem((*at, "id"), "step-once", message, "ids are for ever: choose another")
        seen[step.id] = file.name


def _eleven(library: Library) -> Iterator[Problem]:
    found = [phase.number for phase in library.phases]
    for phase in library.phases:
        if found.count(phase.number) > 1:
            yield phase.file.problem(("number",), "phases-complete", f"two phases have the number {phase.number}", "number them 1 to 11")
    missing = sorted(set(range(1, PHASES + 1)) - set(found))
    if missing:
        words = ", ".join(map(str, missing))
        yield Problem("specs/procedure", 1, 1, "phases-complete", "error", f"the job has no phase {words}", "one file a phase, 1 to 11")


RULES = [
    LibraryRule("step-cite-resolves", "A step or caution whose source is not registered, or is invented.", "cite: od1002", _sources),
    LibraryRule("step-figure-known", "A step that refers to a figure no record can have.", "figures: [tests.compresion.minimum]", _references),
    LibraryRule("condition-known", "A condition on a fact that no record states.", "when: {coolant: liquid}", _conditions),
    LibraryRule("step-once", "A step id that stands twice.", "a step copied and not renamed", _once),
    LibraryRule("phases-complete", "A phase that is missing or numbered twice.", "two files with number: 4", _eleven),
]
