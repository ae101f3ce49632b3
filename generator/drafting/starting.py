"""Putting a starter in its place: two new files, never over one that is there."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from generator.drafting.starter import Answers, engine_text, faults, id_from, source_text
from generator.reading import Schemas
from generator.record.library import ENDING, SPECS


class Taken(Exception):
    """The starter cannot be written; the message says why, in one line, and how to go on."""


def start(answers: Answers, root: Path) -> list[str]:
    """Write the record and, where it is not registered yet, its source; return what was done, a line a file."""
    schemas, whole = Schemas(root / "schema"), _with_ids(answers)
    if found := faults(whole, schemas):
        raise Taken(f"{found[0].message}; {found[0].hint}".strip("; "))
    record = root / SPECS / whole.folder / f"{whole.id}{ENDING}"
    if there := [path for folder in ("engines", "demo") if (path := root / SPECS / folder / record.name).exists()]:
        raise Taken(f"{_name(there[0], root)} is there already and stays as it is; open it, or choose another id with --id")
    source = root / SPECS / "sources" / f"{whole.source}{ENDING}"
    done = [f"{_name(source, root)}: registered already, left as it is"] if source.exists() else [_write(source, source_text(whole), root)]
    return [*done, _write(record, engine_text(whole, _name(record, root), schemas), root)]


def _with_ids(answers: Answers) -> Answers:
    """The answers with the ids that are not given proposed."""
    source = answers.source or id_from(answers.manual)
    own = answers.id or id_from(answers.equipment, answers.manual)
    if not source or not own:
        raise Taken("no id can be made from these words; give one with --id, in lower case, digits and single hyphens")
    return replace(answers, id=own, source=source)


def _write(path: Path, text: str, root: Path) -> str:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except OSError as error:
        raise Taken(f"{_name(path, root)} cannot be written: {error.strerror}") from None
    return f"{_name(path, root)}: new"


def _name(path: Path, root: Path) -> str:
    return path.relative_to(root).as_posix()
