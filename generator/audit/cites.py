"""Every figure names a registered source that its record lists, and real and invented stay apart."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.audit.rule import Rule
from generator.reading import At, Problem
from generator.record.engine import Engine
from generator.record.facts import Cite
from generator.record.library import Library

_CITING = ("cite", "superseded_by")


def _first_of_each(engine: Engine) -> dict[str, At]:
    """Source ids the record cites, each with the first place: one report a source is enough."""
    found: dict[str, At] = engine.once("first cites", _first_cites)
    return found


def _first_cites(engine: Engine) -> dict[str, At]:
    found: dict[str, At] = {}
    _gather(engine.file.data, (), found)
    return found


def _gather(data: Any, at: At, found: dict[str, At]) -> None:
    """Add every source that is cited, wherever it stands: of a figure, a block, an order, a later bulletin."""
    if isinstance(data, dict):
        for key, value in data.items():
            if key in _CITING and isinstance(value, str):
                found.setdefault(Cite.read(value).source, (*at, key))
            elif isinstance(value, dict | list):
                _gather(value, (*at, key), found)
    elif isinstance(data, list):
        for index, item in enumerate(data):
            if isinstance(item, dict | list):
                _gather(item, (*at, index), found)


def _resolves(engine: Engine, library: Library) -> Iterator[Problem]:
    for source, at in _first_of_each(engine).items():
        if not library.registers(source):
            message = f"the source {source!r} is not registered in specs/sources"
            yield engine.file.problem(at, "cite-resolves", message, library.how_to_register(source))


def _unlisted(engine: Engine, library: Library) -> Iterator[Problem]:
    for source, at in _first_of_each(engine).items():
        if source in library.sources and source not in engine.sources:
            message = f"{source!r} is cited here, but is not among the record's sources"
            yield engine.file.problem(at, "source-unlisted", message, "add it to 'sources' at the top, or correct the cite")


def _unused(engine: Engine, library: Library) -> Iterator[Problem]:
    cited = _first_of_each(engine)
    for index, source in enumerate(engine.sources):
        if source not in cited:
            yield engine.file.problem(("sources", index), "source-unused", f"{source!r} is listed, but nothing cites it", "delete it, or cite it")


def _apart(engine: Engine, library: Library) -> Iterator[Problem]:
    for source, at in _first_of_each(engine).items():
        book = library.sources.get(source)
        if book and book.invented != engine.invented:
            kinds = ("an invented engine", "a real book") if engine.invented else ("a real engine", "an invented book")
            message = f"{kinds[0]} cites {kinds[1]}, {book.number}"
            yield engine.file.problem(at, "real-cites-invented", message, "cite a book of the engine's own kind")


RULES = [
    Rule("cite-resolves", "A figure whose source is not registered.", "cite: tm-10-3930-653-14 para 4-1-1, where the id ends in -and-p", _resolves),
    Rule("source-unlisted", "A figure pasted with the source of another engine.", "a torque that still cites the crane's manual", _unlisted),
    Rule("source-unused", "A source listed that nothing cites.", "a second manual listed before its figures were copied", _unused),
    Rule("real-cites-invented", "A real engine citing an invented book, or the other way round.", "a demonstration figure in a real record", _apart),
]
