"""python -m tests.hostile [CASES] [SEED]: broken records by the thousand; exit 1 if one does harm, hangs or ends in a traceback.

python -m tests.hostile --sites [COUNT] [SEED] puts several broken files of every kind into a project and builds its whole site.
"""

from __future__ import annotations

import signal
import sys
import traceback
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from types import FrameType
from typing import NoReturn

from generator.record.library import Library, load
from tests.hostile.case import LONGEST, try_record
from tests.hostile.mutation import mutated
from tests.hostile.sites import Victim

ROOT = Path(__file__).resolve().parents[2]
PART = 250  # cases a worker takes at a time
STOPPED = 20.0  # s
_library: Library | None = None


def _known() -> Library:
    global _library
    _library = _library or load(ROOT)
    return _library


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


def main(cases: int, seed: int) -> int:
    """Print each defect as it is found, then the counts; the exit code."""
    counts: Counter[str] = Counter()
    defects = 0
    parts = [min(PART, cases - begun) for begun in range(0, cases, PART)]
    with ProcessPoolExecutor() as workers:
        for found, wrong in workers.map(run, range(seed, seed + len(parts)), parts):
            counts += found
            defects += len(wrong)
            print("\n".join(wrong), end="\n" if wrong else "", flush=True)
    told = f"{counts['refused']} refused, {counts['accepted']} shown as text, {counts['stopped']} ended in a traceback"
    print(f"{counts.total()} broken records: {told}, {defects} defects")
    return int(defects > 0)


def build_sites(count: int, seed: int) -> int:
    """Print the counts; the exit code."""
    with TemporaryDirectory(prefix="firedeck-hostile-") as folder:
        victim = Victim(Path(folder))
        outcomes = []
        for number in range(count):
            outcomes.append(victim.try_site(seed + number))
            print("\n".join(outcomes[-1].defects), end="\n" if outcomes[-1].defects else "", flush=True)
    built, defects = sum(each.built for each in outcomes), sum(bool(each.defects) for each in outcomes)
    print(f"{count} sites with broken files: {count - built} refused, {built} built, {defects} with defects")
    return int(defects > 0)


if __name__ == "__main__":
    sites = "--sites" in sys.argv
    given = [int(each) for each in sys.argv[1:] if each != "--sites"]
    usual = [50, 1] if sites else [20_000, 1]
    sys.exit((build_sites if sites else main)(*(given + usual[len(given):])))
