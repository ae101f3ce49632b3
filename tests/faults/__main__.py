"""python -m tests.faults: the table, and exit code 1 below the targets.

--missed lists every catchable fault that was not caught, --uncaught every fault that was not caught,
--all plants every fault of every kind instead of a fixed selection, which takes minutes.
"""

from __future__ import annotations

import sys

from generator.record.library import load
from tests.conftest import ROOT
from tests.faults.run import MOST, OF_ALL, OF_CATCHABLE, Row, run, shares
from tests.faults.shape import CATCHABLE

EVERY = 10**9
_WIDTH = max(map(len, CATCHABLE))


def line(kind: str, row: Row) -> str:
    """One row: counts, the share of the catchable, and the rules that caught most."""
    rules = ", ".join(f"{name} {count}" for name, count in row.rules.most_common(6))
    share = f"{row.caught_catchable / row.catchable:4.0%}" if row.catchable else "   –"
    return f"{kind:{_WIDTH}}  {row.planted:7}  {row.catchable:9}  {row.caught:6}  {share}  {rules}"


def main(arguments: list[str]) -> int:
    library = load(ROOT)
    rows = run(library, EVERY if "--all" in arguments else MOST)
    print(f"{'kind':{_WIDTH}}  planted  catchable  caught   of c.  by")
    for kind, row in rows.items():
        print(line(kind, row))
    for fault in (fault for row in rows.values() for fault in row.uncaught):
        if "--uncaught" in arguments or ("--missed" in arguments and fault.catchable):
            print(f"{'missed' if fault.catchable else 'unseen'}: {fault.kind}: {fault.engine}: {fault.says}")
    of_catchable, of_all = shares(rows)
    planted = sum(row.planted for row in rows.values())
    print(f"\n{planted} faults in {len(library.engines)} records. Caught: {of_catchable:.1%} of the catchable (target {OF_CATCHABLE:.0%}), "
          f"{of_all:.1%} of all (target {OF_ALL:.0%}).")
    return int(of_catchable < OF_CATCHABLE or of_all < OF_ALL)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
