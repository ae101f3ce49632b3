"""A selection of the broken records; `python -m tests.hostile` runs them by the thousand."""

from random import Random

from tests.conftest import ROOT
from tests.hostile.case import try_record
from tests.hostile.harmless import harm_of
from tests.hostile.mutation import NASTY, mutated
from tests.hostile.records import run
from tests.hostile.sites import Victim


def test_broken_records_are_refused_or_shown_as_text():
    counts, defects = run(7, 120)
    assert defects == []
    assert counts["refused"] > 20
    assert counts["accepted"] > 5


def test_every_nasty_text_in_a_name_is_refused_or_shown_as_text(library):
    text = (ROOT / "specs/demo/quennith-four.yaml").read_text(encoding="utf-8")
    shown = 0
    for nasty in NASTY:
        quoted = nasty.replace("\\", "\\\\").replace('"', '\\"')
        raw = text.replace("says: small delivery van", f'says: "{quoted}"').encode("utf-8", "surrogatepass")
        outcome = try_record(raw, library, invented=True)
        assert outcome.harm == [], nasty[:40]
        shown += outcome.accepted
    assert shown > 20


def test_the_look_for_harm_can_find_it():
    for html in ("<script>x</script>", "<img src=x>", "<p onclick='x'>", "<a href='javascript:x'>y</a>", "<a href='https://example.invalid/'>y</a>"):
        assert harm_of(html), html
    assert harm_of('<a href="../sources/x.html#y">z</a> &lt;script&gt;') == []


def test_mutations_can_be_had_again():
    raw = (ROOT / "specs/demo/quennith-four.yaml").read_bytes()
    one, two = [mutated(raw, Random(3)) for _ in range(2)]
    assert one == two != raw


def test_broken_files_of_every_kind_are_refused_or_built_without_harm(tmp_path):
    victim = Victim(tmp_path)
    found = [victim.try_site(seed) for seed in (1, 2)]
    assert [defect for each in found for defect in each.defects] == []
    assert [each.built for each in found] == [False, True]
