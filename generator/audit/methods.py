"""The methods page: every formula cites a registered book, and every worked example can be worked."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePosixPath

from generator.audit.rule import LibraryRule
from generator.audit.worked import ExampleError, Inputs, Line, facts_of
from generator.audit.worked_bolts import WORKED as BOLTS
from generator.audit.worked_faces import WORKED as FACES
from generator.calculations.result import InputError
from generator.quantities import StatementError
from generator.reading import Problem, nearest
from generator.record.library import Library
from generator.record.method import Calculation, Method

WORKED = {**FACES, **BOLTS}


def work(method: Method, library: Library) -> list[Line]:
    """The result of a method's example. Raise ExampleError, InputError or StatementError where it cannot be, KeyError for no example."""
    return WORKED[method.id](Inputs(method, library))


def _methods(library: Library) -> Iterator[tuple[Calculation, Method]]:
    for calculation in library.calculations:
        for method in calculation.methods:
            yield calculation, method


def _cites(library: Library) -> Iterator[Problem]:
    for calculation, method in _methods(library):
        cites = [((*method.at, "cites", index), cite) for index, cite in enumerate(method.cites)]
        cites += [((*fact.at, "cite"), fact.cite) for given in method.given for fact in given.facts if fact.cite]
        for at, cite in cites:
            if not library.registers(cite.source):
                message = f"the source {cite.source!r} is not registered in specs/sources"
                yield calculation.file.problem(at, "method-cite-resolves", message, library.how_to_register(cite.source))
        for index, cite in enumerate(method.cites):
            book = library.sources.get(cite.source)
            if book and book.invented:
                message = f"a formula cites an invented book, {book.number}"
                at = (*method.at, "cites", index)
                yield calculation.file.problem(at, "method-cite-resolves", message, "only inputs of an example may be made up")


def _works(library: Library) -> Iterator[Problem]:
    broken = {PurePosixPath(name).stem for name in library.broken}  # a record is named after its file
    for calculation, method in _methods(library):
        if any(given.engine in broken for given in method.given):
            continue
        lost = [given for given in method.given if not facts_of(given, library)]
        for given in lost:
            message = f"the record {given.engine!r} says nothing at {given.place!r}"
            yield calculation.file.problem((*given.at, "record"), "method-example-works", message, nearest(given.engine, list(library.engines)))
        if method.id not in WORKED:
            message = f"no example is worked for a method called {method.id!r}"
            yield calculation.file.problem((*method.at, "id"), "method-example-works", message, nearest(method.id, list(WORKED)))
        elif not lost:
            yield from _worked(calculation, method, library)


def _worked(calculation: Calculation, method: Method, library: Library) -> Iterator[Problem]:
    try:
        work(method, library)
    except (ExampleError, InputError, StatementError) as error:
        message = f"the example of {method.label!r} cannot be worked: {error}"
        yield calculation.file.problem((*method.at, "example"), "method-example-works", message, "correct its inputs")


_NEEDED = ("specs/methods/", "specs/threads/", "specs/strength/", "specs/friction/")
RULES = [
    LibraryRule(
        "method-cite-resolves", "A formula or an input of its example whose source is not registered.", "cite: iso-899-1 table 3", _cites,
        folders=("specs/methods/",),
    ),
    LibraryRule(
        "method-example-works", "A worked example whose inputs are missing or refused.", "a record that no longer gives the torque", _works,
        folders=_NEEDED,
    ),
]
