"""python -m tests.hostile [CASES] [SEED]: broken records by the thousand; exit 1 if one does harm, hangs or ends in a traceback.

python -m tests.hostile --sites [COUNT] [SEED] puts several broken files of every kind into a project and builds its whole site.
"""

from __future__ import annotations

import sys
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.hostile.records import PART, run
from tests.hostile.sites import Victim


def main(cases: int, seed: int) -> int:
    """Print each defect as it is found, then the counts; the exit code."""
    counts: Counter[str] = Counter()
    defects = 0
    parts = [min(PART, cases - begun) for begun in range(0, cases, PART)]
    # A forked worker would wait for ever for the threads of the library that shortens scripts.
    with ProcessPoolExecutor(mp_context=get_context("spawn")) as workers:
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
