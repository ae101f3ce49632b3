"""Everything is read at once; a broken file hides nothing in the others and is not echoed by them."""

import pytest

from generator.audit import findings
from generator.record.library import load, name_of

RECORD = "specs/engines/crane-diesel-tm-5-3810-307-24-2-2.yaml"
OTHER = "specs/engines/refrigeration-unit-tm-5-4110-217-14.yaml"
DEMO = "specs/demo/quennith-four.yaml"


def found(project, *drafts):
    return [(problem.file, problem.rule) for problem in findings(load(project.folder, drafts)).serious]


def test_a_broken_record_does_not_hide_what_the_audit_finds_in_another(project):
    project.change(RECORD, "fuel: {says: diesel}", "fuel: {says: deisel}")
    project.change(OTHER, "sources: [", "sources: [tm-9-6115-604-12, ")
    assert found(project) == [(RECORD, "schema-enum"), (OTHER, "source-unused")]


def test_a_broken_source_is_reported_once_and_not_by_those_who_cite_it(project):
    project.change("specs/sources/tm-5-3810-307-24-2-2.yaml", "kind: ", "kind: a ")
    project.change("specs/sources/quennith-engine-book-q4.yaml", "kind: invented", "kind: [")
    assert [name for name, _ in found(project)] == ["specs/sources/quennith-engine-book-q4.yaml", "specs/sources/tm-5-3810-307-24-2-2.yaml"]


def test_a_broken_phase_is_not_missed_as_well(project):
    project.change("specs/procedure/03-take-down.yaml", "number: 3", "number: three")
    project.change("specs/procedure/cautions.yaml", "signal: ", "singal: ")
    assert {name for name, _ in found(project)} == {"specs/procedure/03-take-down.yaml", "specs/procedure/cautions.yaml"}


def test_a_file_that_is_not_read_for_its_name_is_told(project):
    (project.folder / DEMO).rename(project.folder / "specs/demo/quennith-four.yml")
    (project.folder / "specs/demo/.quennith.swp").touch()
    assert ("specs/demo/quennith-four.yml", "file-name") in found(project)
    assert len(found(project)) == 1


def test_a_copied_record_with_its_old_id_gives_one_problem(project):
    (project.folder / "specs/engines/new.yaml").write_bytes((project.folder / RECORD).read_bytes())
    assert found(project) == [("specs/engines/new.yaml", "id-is-file-name")]


@pytest.mark.parametrize(("name", "invented"), [(RECORD, False), (DEMO, True)])
def test_a_draft_from_elsewhere_takes_the_place_of_the_record_of_its_name(project, tmp_path_factory, name, invented):
    draft = tmp_path_factory.mktemp("desk") / name.rsplit("/", 1)[1]
    draft.write_bytes((project.folder / name).read_bytes())
    library = load(project.folder, [draft])
    engine = library.engines[draft.stem]
    assert (engine.file.name, engine.invented) == (draft.as_posix(), invented)
    assert library.problems == []
    assert name not in library.files


def test_a_new_draft_of_an_invented_engine_is_known_by_its_books(project, tmp_path_factory):
    draft = tmp_path_factory.mktemp("desk") / "new.yaml"
    draft.write_text((project.folder / DEMO).read_text().replace("id: quennith-four", "id: new"))
    assert load(project.folder, [draft]).engines["new"].invented


def test_a_draft_beside_sources_is_a_source(project, tmp_path_factory):
    draft = tmp_path_factory.mktemp("desk") / "sources" / "new-book.yaml"
    draft.parent.mkdir()
    draft.write_text("id: new-book\nnumber: New book\nkind: handbook\nabout: x\nread: x\n")
    assert load(project.folder, [draft]).sources["new-book"].kind == "handbook"


def test_names_in_reports(project):
    assert name_of(project.folder / "specs" / ".." / RECORD, project.folder) == RECORD
