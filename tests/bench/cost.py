"""What a command costs: time on the clock, time of the processor, memory at its peak. And what a built site weighs."""

from __future__ import annotations

import gzip
import os
import subprocess
import sys
import time
from collections import defaultdict
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryFile


@dataclass(frozen=True, slots=True)
class Cost:
    """wall, cpu: seconds. peak: megabytes, of the largest process."""

    wall: float
    cpu: float
    peak: float

    def __str__(self) -> str:
        return f"{self.cpu:6.1f} s of processor, {self.wall:6.1f} s on the clock, {self.peak:5.0f} MB"


def run(*arguments: str, cwd: Path) -> Cost:
    """Run Python with these arguments; raise RuntimeError with what it said if it fails."""
    began = time.monotonic()
    with TemporaryFile() as log:
        process = subprocess.Popen([sys.executable, *arguments], cwd=cwd, stdout=log, stderr=subprocess.STDOUT)
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            log.seek(0)
            raise RuntimeError(f"{' '.join(arguments)} failed:\n{log.read().decode()[-2000:]}")
    return Cost(time.monotonic() - began, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)


@dataclass
class Weight:
    """Files of one sort: how many, their bytes, gzipped, the heaviest gzipped."""

    files: int = 0
    raw: int = 0
    zipped: int = 0
    heaviest: int = 0


@dataclass
class Site:
    """What a built site weighs, by the folder of its pages. index: bytes of the finder's page.

    bodies: heaviest engine page without the frame, gzipped.
    """

    sorts: dict[str, Weight] = field(default_factory=lambda: defaultdict(Weight))
    bodies: int = 0
    index: int = 0


def weigh(folder: Path) -> Site:
    """Weigh every page and every file of data."""
    found = Site(index=(folder / "index.html").stat().st_size)
    for path in sorted(each for each in folder.rglob("*") if each.suffix in (".html", ".json", ".js")):
        sort = _sort(path.relative_to(folder))
        raw = path.read_bytes()
        zipped = len(gzip.compress(raw, 6))
        weight = found.sorts[sort]
        weight.files, weight.raw, weight.zipped = weight.files + 1, weight.raw + len(raw), weight.zipped + zipped
        weight.heaviest = max(weight.heaviest, zipped)
        if sort == "engines/*.html":
            found.bodies = max(found.bodies, len(gzip.compress(_body(raw), 6)))
    return found


def _sort(path: Path) -> str:
    return f"{path.parent}/*{path.suffix}" if path.parent.parts else f"*{path.suffix}"


def _body(raw: bytes) -> bytes:
    start = raw.index(b'<div class="firedeck"')
    return raw[start : raw.rindex(b"</footer>")]
