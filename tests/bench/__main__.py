"""python -m tests.bench [--sizes 100,500,1000,2000]: the tables, and exit code 1 where a target is missed.

Targets are judged at a thousand engines; without that size in the run, at its largest, which is said.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import log2
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.bench.cost import Cost, Site, run, weigh
from tests.bench.engines import write
from tests.bench.live import seen, served
from tests.bench.plain import CONFIG
from tests.conftest import ROOT, Project

SIZES = (100, 500, 1000, 2000)
JUDGED = 1000


@dataclass(frozen=True)
class Round:
    """One size: what each step cost, and what came out."""

    engines: int
    check: Cost
    build: Cost
    plain: Cost
    site: Site


@dataclass(frozen=True)
class Target:
    """most: in the unit. found: what was measured."""

    what: str
    most: float
    unit: str
    found: float
    beside: str = ""

    @property
    def reached(self) -> bool:
        return self.found <= self.most

    def __str__(self) -> str:
        verdict = "reached" if self.reached else "MISSED"
        return f"{self.what:58} at most {self.most:6g} {self.unit:3}  found {self.found:8.2f}  {verdict}{f'  ({self.beside})' if self.beside else ''}"


def measured(engines: int, folder: Path) -> Round:
    """Check and build so many made-up engines beside the project's own, and build the same pages in the plain way."""
    project = Project(folder)
    write(folder, engines)
    check = run("-m", "generator", "check", cwd=folder)
    build = run("-m", "generator", "build", cwd=folder)
    run("-m", "tests.bench.plain", str(folder), str(folder / "plain"), cwd=ROOT)
    plain = run("-m", "mkdocs", "build", "--quiet", cwd=folder / "plain")
    assert project.folder == folder
    return Round(engines, check, build, plain, weigh(folder / "site"))


def growth(rounds: list[Round], step: str) -> float:
    """The worst factor by which the processor's time of a step grows where the engines double."""
    return max((_per_doubling(one, other, step) for one, other in pairwise(rounds)), default=0.0)


def _per_doubling(one: Round, other: Round, step: str) -> float:
    times = getattr(other, step).cpu / getattr(one, step).cpu
    return float(times ** (1 / log2(other.engines / one.engines)))


def targets(rounds: list[Round], judged: Round, folder: Path) -> Iterator[Target]:
    """Every target with what was found."""
    change, change_cpu = served(folder, sorted(path.stem for path in (folder / "specs/demo").glob("*-3.yaml"))[0])
    finder, verdict, first = seen(folder / "site")
    check, build, plain = judged.check, judged.build, judged.plain
    yield Target("check", 10, "s", check.wall, f"{check.cpu:.1f} s of processor")
    yield Target("site, of the plain build's time of the processor", 0.5, "", build.cpu / plain.cpu, f"{build.cpu:.1f} s and {plain.cpu:.1f} s")
    yield Target("growth of the check per doubling", 2.2, "", growth(rounds, "check"))
    yield Target("growth of the build per doubling", 2.2, "", growth(rounds, "build"))
    yield Target("memory of the build", 500, "MB", build.peak)
    yield Target("memory of the check", 500, "MB", check.peak)
    yield Target("the finder's index", 1, "MB", judged.site.index / 1e6)
    yield Target("heaviest engine page without the theme, gzipped", 15, "KB", judged.site.bodies / 1e3)
    yield Target("first visit, gzipped", 300, "KB", first / 1e3)
    yield Target("a changed record on its served page", 2, "s", change, f"{change_cpu:.2f} s of processor")
    yield Target("the finder's answer to a key", 100, "ms", finder)
    yield Target("a worksheet's verdict after a key, six times slowed", 50, "ms", verdict)


def table(each: Round) -> str:
    """One size in words."""
    lines = [f"\n{each.engines} engines", f"  check  {each.check}", f"  build  {each.build}", f"  plain  {each.plain}"]
    lines.append(f"  {'files':24} {'number':>7} {'MB':>8} {'gzipped':>8} {'heaviest gzipped, KB':>21}")
    for sort, weight in sorted(each.site.sorts.items()):
        lines.append(f"  {sort:24} {weight.files:7} {weight.raw / 1e6:8.2f} {weight.zipped / 1e6:8.2f} {weight.heaviest / 1e3:21.1f}")
    return "\n".join(lines)


def main(arguments: list[str]) -> int:
    """Measure, print, judge."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench")
    parser.add_argument("--sizes", default=",".join(map(str, SIZES)), help="numbers of engines, rising, with commas between")
    sizes = [int(each) for each in parser.parse_args(arguments).sizes.split(",")]
    judged_size = JUDGED if JUDGED in sizes else sizes[-1]
    with TemporaryDirectory(prefix="firedeck-bench-") as name:
        rounds = []
        for size in sizes:
            (Path(name) / str(size)).mkdir()
            rounds.append(measured(size, Path(name) / str(size)))
            print(table(rounds[-1]), flush=True)
        judged = next(each for each in rounds if each.engines == judged_size)
        print(f"\nTargets, at {judged_size} engines. The yardstick is without a full-text index ({CONFIG.splitlines()[2]}).")
        found = []
        for target in targets(rounds, judged, Path(name) / str(judged_size)):
            found.append(target)
            print(target, flush=True)
    missed = sum(not each.reached for each in found)
    print(f"\n{len(found)} targets, {missed} missed." + ("" if judged_size == JUDGED else f" They are meant for {JUDGED} engines."))
    return int(missed > 0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
