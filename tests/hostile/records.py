"""Broken records by the hundred: what became of each, and what was wrong with that."""

from __future__ import annotations

import signal
import traceback
from collections import Counter
from functools import cache
from pathlib import Path
from random import Random
from types import FrameType
from typing import NoReturn

from generator.record.library import Library, load
from tests.hostile.case import LONGEST, try_record
from tests.hostile.mutation import mutated

ROOT = Path(__file__).resolve().parents[2]
PART = 250  # cases a worker takes at a time
STOPPED = 20.0  # s


@cache
def _known() -> Library:
    return load(ROOT)


class HangingError(Exception):
    """A case took so long that waiting for its end would stop the run."""


def _hanging(signum: int, frame: FrameType | None) -> NoReturn:
    raise HangingError(f"stopped after {STOPPED:g} s")


def run(seed: int, cases: int = PART) -> tuple[Counter[str], list[str]]:
    """Counts of what happened, and every defect with what it takes to have it again."""
    library, random = _known(), Random(seed)
    signal.signal(signal.SIGPROF, _hanging)
    files = sorted((ROOT / "specs/engines").glob("*.yaml")) + sorted((ROOT / "specs/demo").glob("*.yaml"))
    counts: Counter[str] = Counter()
    defects: list[str] = []
    for number in range(cases):
        path = random.choice(files)
        raw = mutated(path.read_bytes(), random)
        what, wrong = _judged(raw, library, path.parent.name == "demo")
        counts[what] += 1
        defects += [f"seed {seed}, case {number}, from {path.name}: {each}" for each in wrong]
    return counts, defects


def _judged(raw: bytes, library: Library, invented: bool) -> tuple[str, list[str]]:
    """What became of one case, and what is wrong with that. The limits are of the processor's time, however busy the machine is."""
    signal.setitimer(signal.ITIMER_PROF, STOPPED)
    try:
        outcome = try_record(raw, library, invented)
    except Exception:
        return "stopped", [traceback.format_exc(limit=-3)]
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
    wrong = [f"{outcome.harm[:3]}"] if outcome.harm else []
    if outcome.seconds > LONGEST:
        wrong.append(f"{outcome.seconds:.1f} s")
    return "accepted" if outcome.accepted else "refused", wrong
