"""The audit of the rules of practice: each slip is found at its line."""

import pytest

from generator.audit import findings
from generator.record.library import load

COMPRESSION, FACES = "specs/practice/compression.yaml", "specs/practice/faces.yaml"


def problems_of(project):
    return findings(load(project.folder)).serious


@pytest.mark.parametrize(("name", "old", "new", "rule", "phrase", "hint"), [
    (COMPRESSION, "cite: tm-5-4210-230-14", "cite: tm-5-4210-230-41", "practice-cite-resolves", "not registered", "tm-5-4210-230-14-and-p-1"),
    (COMPRESSION, "cite: tm-10-3930-618-20 para", "cite: quennith-engine-book-q4 para", "practice-cite-resolves", "an invented book", "real one"),
    (COMPRESSION, "tests.compression.below_mean", "tests.compression.below_meen", "practice-place-known", "no record can have", "keys of the record"),
    (FACES, "layout: in-line, cylinders: 4", "layout: inline, cylinders: 4", "practice-condition-known", "never 'inline'", "did you mean in-line?"),
    (FACES, "layout: in-line, cylinders: 4", "layuot: in-line", "practice-condition-known", "no fact of an engine", "did you mean layout?"),
    (FACES, "id: new-gaskets", "id: wet-test", "practice-once", f"also stands in {COMPRESSION}", "choose another"),
])
def test_each_slip_is_found(project, name, old, new, rule, phrase, hint):
    project.change(name, old, new)
    lines = (project.folder / name).read_text(encoding="utf-8").splitlines()
    found = problems_of(project)
    assert [(each.file, each.rule) for each in found] == [(name, rule)]
    assert phrase in found[0].message
    assert hint in found[0].hint
    assert new.split(":")[0].split(",")[0] in "\n".join(lines[max(0, found[0].line - 4): found[0].line + 6])
