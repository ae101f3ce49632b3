"""What many tests share: the real library, a small record to break, a copy of the project to build in."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

from generator.reading import Problem, Schemas, read_text
from generator.record.engine import Engine, read_engine
from generator.record.library import Library, load

# A busy machine is no fault of the code.
settings.register_profile("project", deadline=None)
settings.load_profile("project")

ROOT = Path(__file__).resolve().parent.parent
PARTS = ("specs", "schema", "generator", "docs", "mkdocs.yml")

SMALL = """\
id: small
name: Small engine
sources: [book]
identity:
  cite: book page 1
  fuel: {says: gasoline}
faces:
  head:
    flatness:
      any:
        - {printed: [max 0.10 mm, max 0.0039 in], cite: book page 2}
"""


def plain(html: str) -> str:
    """A page with the spaces that were written: one that holds a unit to its number is another character."""
    return html.replace("\u00a0", " ").replace("&nbsp;", " ")


@pytest.fixture(scope="session")
def library() -> Library:
    """Everything in specs/, read once."""
    return load(ROOT)


@pytest.fixture(scope="session")
def schemas() -> Schemas:
    return Schemas(ROOT / "schema")


@pytest.fixture(scope="session")
def read(schemas: Schemas) -> Callable[[str], tuple[Engine, list[Problem]]]:
    """Read the text of an engine's record: the record and every problem of reading, schema and building."""

    def do(text: str) -> tuple[Engine, list[Problem]]:
        file, problems = read_text(text.encode(), "small.yaml")
        assert file is not None, problems
        engine, found = read_engine(file, schemas.shape("engine"), invented=False)
        return engine, [*problems, *schemas.check(file, "engine"), *found]

    return do


class Project:
    """A copy of the project in a folder of its own, to break and to build."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        folder.mkdir(parents=True, exist_ok=True)
        for part in PARTS:
            source = ROOT / part
            copy = shutil.copytree if source.is_dir() else shutil.copy
            copy(source, folder / part)

    def run(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        """Run the command line in the copy."""
        command = [sys.executable, "-m", "generator", *arguments]
        return subprocess.run(command, cwd=self.folder, capture_output=True, text=True, timeout=120)

    def change(self, name: str, old: str, new: str) -> None:
        """Replace text that must be there, once."""
        path = self.folder / name
        text = path.read_text(encoding="utf-8")
        assert old in text
        path.write_text(text.replace(old, new, 1), encoding="utf-8")


@pytest.fixture
def project(tmp_path: Path) -> Project:
    return Project(tmp_path)


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The built site of the real records."""
    copy = Project(tmp_path_factory.mktemp("project"))
    result = copy.run("build")
    assert result.returncode == 0, result.stderr
    return copy.folder / "site"
