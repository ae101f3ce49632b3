"""Broken files of every kind in one project, through the whole build of its site."""

from __future__ import annotations

import contextlib
import io
import re
import shutil
import traceback
from dataclasses import dataclass
from pathlib import Path
from random import Random

from generator.record.library import load
from generator.workshop import Workshop
from tests.conftest import Project
from tests.gate import faults
from tests.hostile.case import is_sound
from tests.hostile.harmless import harm_of
from tests.hostile.mutation import in_free_text, mutated

_BROKEN = 4  # files at a time
_INLINE = re.compile(r"<script>(.*?)</script>", re.DOTALL)
# What the frame brings beside ours, and no page of ours asks for.
_THEIRS = ("assets/javascripts/",)


@dataclass(frozen=True, slots=True)
class Built:
    """built: whether the check let it through. defects: in words, each with what it takes to have it again."""

    built: bool
    defects: list[str]


class Victim:
    """A copy of the project whose files are broken, built and put right again."""

    def __init__(self, folder: Path) -> None:
        self.root = Project(folder / "project").folder
        self.out = folder / "out"
        assert self._make() is True
        # A pocket copy carries its own scripts inline; those that are known are no harm.
        self.scripts = frozenset(script for path in self.out.rglob("*.html") for script in _INLINE.findall(path.read_text(encoding="utf-8")))
        # Forms and pictures of our own.
        self.usual: dict[str, list[str]] = {path.name: self._harm(path) for path in self.out.rglob("*.html")}
        self.files = sorted((self.root / "specs").rglob("*.yaml"))
        self.library = load(self.root)
        self.texts = sorted((self.root / "specs/demo").glob("*.yaml"))

    def try_site(self, seed: int) -> Built:
        """Break some files, build, look, mend. Every other time free text of the invented records alone, so that most of it is built."""
        random = Random(seed)
        pool, change = (self.files, mutated) if seed % 2 else (self.texts, self._hostile_but_sound)
        broken = {path: path.read_bytes() for path in random.sample(pool, _BROKEN)}
        before = self._everything()
        for path, raw in broken.items():
            path.write_bytes(change(raw, random))
        try:
            return self._judged(f"seed {seed}", self._make(), before, set(broken))
        finally:
            for path, raw in broken.items():
                path.write_bytes(raw)

    def _hostile_but_sound(self, raw: bytes, random: Random) -> bytes:
        tries = (in_free_text(raw, random) for _ in range(60))
        return next((each for each in tries if is_sound(each, self.library, invented=True)), raw)

    def _make(self) -> bool | str:
        shutil.rmtree(self.out, ignore_errors=True)
        self.out.mkdir()
        said = io.StringIO()
        try:
            with contextlib.redirect_stderr(said):
                return Workshop(self.root, guarded=True).make(self.out)
        except Exception:
            return traceback.format_exc(limit=-4)

    def _judged(self, where: str, made: bool | str, before: dict[str, int], broken: set[Path]) -> Built:
        if isinstance(made, str):
            return Built(False, [f"{where}: {made}"])
        touched = {name for name, size in self._everything().items() if before.get(name) != size} - {str(path) for path in broken}
        found = [f"{where}: {name} was touched" for name in sorted(touched)]
        if made:
            found += [f"{where}: {fault}" for fault in faults(self.out, _THEIRS)[:5]]
            found += [f"{where}: {path.name}: {harm}" for path in sorted(self.out.rglob("*.html")) for harm in self._new_harm(path)]
        return Built(made, found)

    def _new_harm(self, path: Path) -> list[str]:
        return [each for each in self._harm(path) if each not in self.usual.get(path.name, [])][:3]

    def _harm(self, path: Path) -> list[str]:
        """In the body of a page, or all of a page without a frame: scripts that are new, and what no record may bring."""
        text = path.read_text(encoding="utf-8")
        new = [script[:60] for script in _INLINE.findall(text) if script not in self.scripts and not script.startswith(("window.Firedeck", "\n"))]
        body = text.partition('<div class="firedeck"')[2].rpartition("</footer>")[0]
        return new + (harm_of(body, self.scripts) if body and path.parts[-2] != "pocket" else [])

    def _everything(self) -> dict[str, int]:
        return {str(path): path.stat().st_mtime_ns for path in self.root.parent.rglob("*") if path.is_file() and self.out not in path.parents}

