"""The home page: find your engine, what this is, and what it is not."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.pages.engine import engine_path
from generator.pages.page import Page, render
from generator.pages.procedure import procedure_path
from generator.reading import Shape
from generator.record.engine import Engine
from generator.record.library import Library

# Offered whatever the records say: a record that is silent may still be the reader's engine.
_CYLINDERS = (1, 2, 3, 4, 5, 6, 8, 10, 12, 16)
# What an entry shows of its engine, with the words around it.
_SHOWN = {"layout": "{}", "cylinders": "{} cylinders", "fuel": "{}", "cooling": "{} cooled", "valve_train": "{}"}
_INSTEAD = {("cylinders", "1"): "1 cylinder", ("valve_train", "none"): "no valves"}
# Shown unless the name of the record holds it already.
_SHOWN_ONCE = ("application", "designation")
_CHOSEN_BY = ("layout", "cylinders", "fuel", "application")


@dataclass(frozen=True, slots=True)
class Entry:
    """One engine of the list. facts: short words for people. says: what the finder chooses by; a key the record is silent on is absent."""

    name: str
    path: str
    procedure: str
    invented: bool
    facts: tuple[str, ...]
    says: dict[str, str]


@dataclass(frozen=True, slots=True)
class Choice:
    """A field of the finder: its key in `Entry.says`, label and words to choose from."""

    key: str
    label: str
    words: tuple[str, ...]


def home_page(library: Library) -> Page:
    """The finder over every engine."""
    return finder_page([_entry(engine, library) for engine in library.engines.values()], library)


def finder_page(entries: Iterable[Entry], library: Library) -> Page:
    """The home page of any entries: real ones first, then the invented, each by name. This list is all that the finder's script reads."""
    by_name = sorted(entries, key=lambda entry: entry.name)
    groups = [
        ("Engines", "real", [entry for entry in by_name if not entry.invented]),
        ("Invented engines", "invented", [entry for entry in by_name if entry.invented]),
    ]
    return render("home.html", "index.html", "Find your engine", groups=groups, choices=_choices(by_name, library))


def _entry(engine: Engine, library: Library) -> Entry:
    found = {key: engine.says(f"identity.{key}") for key in {*_SHOWN, *_SHOWN_ONCE, *_CHOSEN_BY}}
    numbers = [library.sources[each].number for each in engine.sources if each in library.sources]
    once = [text for text in (*(found[key] for key in _SHOWN_ONCE), *numbers) if text.lower() not in engine.name.lower()]
    return Entry(
        name=engine.name,
        path=engine_path(engine),
        procedure=procedure_path(engine),
        invented=engine.invented,
        facts=tuple(_INSTEAD.get((key, found[key])) or words.format(found[key]) for key, words in _SHOWN.items() if found[key]) + tuple(once),
        says={key: found[key] for key in _CHOSEN_BY if found[key]},
    )


def _choices(entries: Iterable[Entry], library: Library) -> list[Choice]:
    found: dict[str, set[str]] = {key: set() for key in _CHOSEN_BY}
    for entry in entries:
        for key, word in entry.says.items():
            found[key].add(word)
    identity = library.schemas.shape("engine").children["identity"].children
    cylinders = sorted({*map(int, found["cylinders"]), *_CYLINDERS})
    return [
        Choice("layout", "Layout", _allowed(identity["layout"])),
        Choice("cylinders", "Cylinders", tuple(map(str, cylinders))),
        Choice("fuel", "Fuel", _allowed(identity["fuel"])),
        Choice("application", "Application", tuple(sorted(found["application"], key=str.lower))),
    ]


def _allowed(shape: Shape) -> tuple[str, ...]:
    return tuple(map(str, shape.children["says"].node["enum"]))
