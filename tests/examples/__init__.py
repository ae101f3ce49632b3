"""Example files, good and bad, picked up by path; a new one needs no code.

A bad file has one fault and begins with four comment lines that say what it must give:

    # rule: the rule that finds it
    # line: the line it is found at
    # says: a phrase of the message
    # mend: a phrase of the hint

`bad/engines/` and `bad/sources/` mirror specs/. `bad/beginners/` are records as people
write them who have never seen YAML. All cite the made-up books in `library/sources/`.
"""

from __future__ import annotations

import re
import shutil
from dataclasses import dataclass
from pathlib import Path

from generator.audit import findings
from generator.reading import Problem
from generator.record.library import load, name_of
from tests.conftest import ROOT

HERE = Path(__file__).parent
GOOD = sorted((HERE / "good").rglob("*.yaml"))
BAD = sorted((HERE / "bad").rglob("*.yaml"))
# What an example may be held against besides its books.
SHARED = ("threads", "strength", "friction")
_FIELDS = ("rule", "line", "says", "mend")


@dataclass(frozen=True, slots=True)
class Expected:
    """What a bad file must give."""

    rule: str
    line: int
    says: str
    mend: str

    @staticmethod
    def of(path: Path) -> Expected:
        """Read the leading comment, whatever the encoding of the file."""
        text = path.read_bytes().replace(b"\x00", b"").decode("utf-8", "replace").lstrip("\ufeff\ufffd")
        lines = re.split(r"\r?\n", text)[: len(_FIELDS)]
        found = {}
        for field, line in zip(_FIELDS, lines, strict=True):
            assert line.startswith(f"# {field}:"), f"{path}: '# {field}: …' must stand here, and {line!r} does"
            found[field] = line.split(":", 1)[1].strip()
        return Expected(found["rule"], int(found["line"]), found["says"], found["mend"])


def library_folder(folder: Path) -> Path:
    """A small project in the folder: the real schema and tables, the made-up books, no engines."""
    shutil.copytree(ROOT / "schema", folder / "schema")
    shutil.copytree(HERE / "library", folder / "specs")
    for name in SHARED:
        if (ROOT / "specs" / name).exists():
            shutil.copytree(ROOT / "specs" / name, folder / "specs" / name)
    return folder


def checked(path: Path, folder: Path) -> list[Problem]:
    """What the check of the command line finds in one file."""
    return findings(load(folder, [path])).of([name_of(path, folder)]).problems
