"""python -m tests.hostile [CASES] [SEED]: broken records by the thousand; exit 1 if one does harm, hangs or ends in a traceback.

python -m tests.hostile --sites [COUNT] [SEED] puts several broken files of every kind into a project and builds its whole site.
"""

from __future__ import annotations

import sys
import traceback
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from generator.record.library import Library, load
from tests.hostile.case import LONGEST, try_record
from tests.hostile.mutation import mutated
from tests.hostile.sites import Victim

ROOT = Path(__file__).resolve().parents[2]
PART = 250  # cases a worker takes at a time
_library: Library | None = None


def _known() -> Library:
    global _library
    _library = _library or load(ROOT)
    return _library


def run(seed: int, cases: int = PART) -> tuple[Counter[str], list[str]]:
    """Counts of what happened, and every defect with what it takes to have it again."""
    library, random = _known(), Random(seed)
    files = sorted((ROOT / "specs/engines").glob("*.yaml")) + sorted((ROOT / "specs/demo").glob("*.yaml"))
    counts: Counter[str] = Counter()
    defects: list[str] = []
    for number in range(cases):
        path = random.choice(files)
        raw = mutated(path.read_bytes(), random)
        where = f"seed {seed}, case {number}, from {path.name}"
        try:
            outcome = try_record(raw, library, path.parent.name == "demo")
        except Exception:
            defects.append(f"{where}: {traceback.format_exc(limit=-3)}")
            continue
        counts["accepted" if outcome.accepted else "refused"] += 1
        if outcome.harm:
            defects.append(f"{where}: {outcome.harm[:3]}")
        if outcome.seconds > LONGEST:
            defects.append(f"{where}: {outcome.seconds:.1f} s")
    return counts, defects


def main(cases: int, seed: int) -> int:
    """Print the counts; the exit code."""
    counts: Counter[str] = Counter()
    defects: list[str] = []
    with ProcessPoolExecutor() as workers:
        for found, wrong in workers.map(run, range(seed, seed + -(-cases // PART))):
            counts += found
            defects += wrong
    print("\n".join(defects[:20]))
    print(f"{counts.total() + len(defects)} broken records: {counts['refused']} refused, {counts['accepted']} shown as text, {len(defects)} defects")
    return 1 if defects else 0


def build_sites(count: int, seed: int) -> int:
    """Print the counts; the exit code."""
    with TemporaryDirectory(prefix="firedeck-hostile-") as folder:
        victim = Victim(Path(folder))
        outcomes = [victim.try_site(seed + number) for number in range(count)]
    for each in outcomes:
        print("\n".join(each.defects), end="\n" if each.defects else "")
    built, defects = sum(each.built for each in outcomes), sum(bool(each.defects) for each in outcomes)
    print(f"{count} sites with broken files: {count - built} refused, {built} built, {defects} with defects")
    return int(defects > 0)


if __name__ == "__main__":
    sites = "--sites" in sys.argv
    given = [int(each) for each in sys.argv[1:] if each != "--sites"]
    usual = [50, 1] if sites else [20_000, 1]
    sys.exit((build_sites if sites else main)(*(given + usual[len(given):])))
