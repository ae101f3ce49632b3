"""One file on the writer's desk: read, with its kind and shape, and written back whole or not at all."""

from __future__ import annotations

import os
import shutil
from dataclasses import dataclass
from pathlib import Path
from tempfile import NamedTemporaryFile

from generator.drafting.canonical import Unordered, canonical
from generator.reading import Problem, ReadFile, Schemas, read_text
from generator.record.engine import Engine, read_engine
from generator.record.library import name_of

# Folders whose files the commands of this room know; a file from elsewhere is taken for the record of an engine.
KNOWN = {"sources": "source", "engines": "engine", "demo": "engine"}
OTHERS = ("threads", "strength", "friction", "methods", "practice", "procedure")


@dataclass(frozen=True, slots=True)
class Draft:
    """A file as it lies there. kind: engine or source, empty for any other. file: None where it cannot be read."""

    path: Path
    name: str
    kind: str
    text: str
    file: ReadFile | None
    problems: list[Problem]


def open_draft(path: Path, root: Path) -> Draft:
    """Read a file; what is wrong with it as YAML is in `problems`."""
    name, raw = name_of(path, root), path.read_bytes()
    folder = path.resolve().parent.name
    file, problems = read_text(raw, name)
    kind = "" if folder in OTHERS else KNOWN.get(folder, "engine")
    return Draft(path, name, kind, raw.decode("utf-8-sig", "replace"), file, problems)


def in_order(draft: Draft, schemas: Schemas) -> tuple[str, list[Problem]]:
    """The canonical text of a draft, and what stands against it; then the text is as it was."""
    if draft.problems or draft.file is None:
        return draft.text, draft.problems
    try:
        return canonical(draft.text, schemas.shape(draft.kind)), []
    except Unordered as error:
        return draft.text, [Problem(draft.name, error.line, 1, "comment-place", "error", str(error), error.hint)]


def first_moved(draft: Draft, text: str) -> Problem:
    """Where a draft first differs from its canonical text."""
    old, new = draft.text.splitlines(), text.splitlines()
    line = next((number for number, (a, b) in enumerate(zip(old, new, strict=False), start=1) if a != b), min(len(old), len(new)) + 1)
    wanted = new[line - 1].strip() if line <= len(new) else "the end of the file"
    message = f"not in canonical form: {wanted!r} belongs in this line"
    return Problem(draft.name, line, 1, "canonical-layout", "error", message, f"python -m generator fmt {draft.path}")


@dataclass(frozen=True, slots=True)
class Record:
    """The record in a draft with the errors that stand against it: those of reading and of the schema, not those of the audit."""

    engine: Engine
    problems: list[Problem]


def record_of(draft: Draft, schemas: Schemas) -> Record:
    """Read a draft as the record of an engine; it is empty where the file cannot be read."""
    file = draft.file or ReadFile(draft.name, {})
    engine, found = read_engine(file, schemas.shape("engine"), invented=False)
    problems = [*draft.problems, *(schemas.check(file, "engine") if draft.file else []), *found]
    return Record(engine, [problem for problem in problems if problem.level == "error"])


def write_whole(path: Path, text: str) -> None:
    """Put a text in the place of a file by one rename, so that an interrupted write loses nothing. Raise OSError naming `path`."""
    target, part = path.resolve(), ""
    try:
        with NamedTemporaryFile("w", encoding="utf-8", newline="\n", dir=target.parent, suffix=".part", delete=False) as file:
            part = file.name
            file.write(text)
        shutil.copymode(target, part)
        os.replace(part, target)
    except OSError as error:
        if part:
            Path(part).unlink(missing_ok=True)
        raise OSError(error.errno, error.strerror, str(path)) from None
