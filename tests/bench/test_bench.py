"""The made-up engines of the bench: sound, of every shape, no two alike, the same at every run."""

import gc
import shutil

from generator.audit import findings
from generator.record.library import load
from tests.bench.engines import SHAPES, engine, write
from tests.conftest import ROOT

COUNT = 3 * len(SHAPES)


def test_they_pass_the_check_without_error_or_warning_and_show_every_shape(tmp_path):
    for part in ("specs", "schema"):
        shutil.copytree(ROOT / part, tmp_path / part)
    names = write(tmp_path, COUNT)
    library = load(tmp_path)
    assert [str(problem) for problem in findings(library).serious] == [str(each) for each in findings(load(ROOT)).serious]
    made = [library.engines[name] for name in names]
    assert all(each.invented and "(invented)" in each.name for each in made)
    assert {each.says("identity.layout") for each in made} == {"in-line", "vee", "opposed", "single", ""}
    assert {each.says("identity.cycle") for each in made} == {"four-stroke", "two-stroke", ""}
    assert {len(each.heads) for each in made} == {0, 1, 2, 6}
    assert {stage.do for each in made for stage in each.sets["head"].stages} == {"torque", "angle", "steps", "recheck"}
    assert {len(fact.printed) for each in made for fact in each.facts if fact.printed} == {1, 2}
    assert gc.isenabled()


def test_one_can_be_had_again_and_no_two_are_alike():
    assert engine(7) == engine(7)
    assert len({engine(number)[1].split("identity:")[1] for number in range(COUNT)}) == COUNT
    assert engine(7, seed=1)[1] != engine(7, seed=2)[1]
