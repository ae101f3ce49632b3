"""A thousand records in ten seconds: so many synthetic copies in as many hundredths, with room for a busy machine."""

import gc
import shutil
import time

from generator.audit import findings
from generator.record.library import load
from tests.conftest import ROOT

COPIES = 100
# Seconds of one processor for a record. The target is 0.010; a machine that is shared takes longer for the same.
MOST = 0.025


def test_records_are_read_and_judged_fast_enough(tmp_path):
    shutil.copytree(ROOT / "specs", tmp_path / "specs")
    shutil.copytree(ROOT / "schema", tmp_path / "schema")
    records = [*(ROOT / "specs/engines").glob("*.yaml"), *(ROOT / "specs/demo").glob("*.yaml")]
    for number in range(COPIES):
        path = records[number % len(records)]
        name = f"{path.stem[:60]}-{number}"
        text = path.read_text(encoding="utf-8").replace(f"id: {path.stem}", f"id: {name}", 1)
        (tmp_path / "specs" / path.parent.name / f"{name}.yaml").write_text(text, encoding="utf-8")
    began = time.process_time()
    library = load(tmp_path)
    found = findings(library)
    taken = time.process_time() - began
    assert len(library.engines) == len(records) + COPIES
    assert [problem for problem in found.problems if problem.level == "error"] == []
    assert taken / len(library.engines) < MOST
    assert gc.isenabled()
