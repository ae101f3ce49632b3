"""The site made again after a change is the site made anew, file by file, and only what changed was written."""

import shutil

import pytest

from generator.workshop import Workshop
from tests.conftest import plain

QUENNITH, TRUCK = "specs/demo/quennith-four.yaml", "specs/engines/quarter-ton-truck-od1001.yaml"
SOURCE = "specs/sources/quennith-engine-book-q4.yaml"


@pytest.fixture(scope="module")
def first(tmp_path_factory):
    """A project and its site, made once; each test works on copies."""
    from tests.conftest import Project

    project = Project(tmp_path_factory.mktemp("first"))
    shop, folder = Workshop(project.folder, guarded=False), project.folder / "site"
    folder.mkdir()
    assert shop.make(folder)
    return project, shop, folder


def everything(folder):
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def anew(project, folder):
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    assert Workshop(project.folder, guarded=False).make(folder)
    return everything(folder)


CHANGES = {
    "a figure": (QUENNITH, "118 mm", "119 mm", "engines/quennith-four.html"),
    "a name": (QUENNITH, "name: Quennith four,", "name: Quennith 4,", "index.html"),
    "a cite": (QUENNITH, "cite: quennith-engine-book-q4 page 2\n", "cite: quennith-engine-book-q4 page 33\n", "sources/quennith-engine-book-q4.html"),
    "a warning": (QUENNITH, "max 0.03 mm", "max 0.3 mm", "engines/quennith-four.html"),
    "a source": (SOURCE, "made up for demonstration", "made up to be shown", "pocket/quennith-four.html"),
    "a step": ("specs/procedure/04-measure.yaml", "do: ", "do: Now ", "procedure/quennith-four.html"),
    "a handwritten page": ("docs/reading-a-figure.md", "# ", "# Now: ", "reading-a-figure.html"),
}


@pytest.mark.parametrize("change", CHANGES)
def test_a_change_gives_the_site_that_a_new_build_gives(first, tmp_path, change):
    project, shop, folder = first
    name, old, new, page = CHANGES[change]
    before = everything(folder)
    project.change(name, old, new)
    try:
        assert shop.make(folder)
        after = everything(folder)
        assert after[page] != before[page]
        assert after == anew(project, tmp_path / "anew")
    finally:
        project.change(name, new, old)
        assert shop.make(folder)
        assert everything(folder) == before


def test_only_pages_of_a_changed_record_are_written_again(first):
    project, shop, folder = first
    other = folder / "engines/ombrisk-v6.html"
    stamp = other.stat().st_mtime_ns
    project.change(QUENNITH, "118 mm", "119 mm")
    try:
        assert shop.make(folder)
        assert "119 mm" in plain((folder / "engines/quennith-four.html").read_text())
        assert other.stat().st_mtime_ns == stamp
    finally:
        project.change(QUENNITH, "119 mm", "118 mm")
        assert shop.make(folder)


def test_a_record_that_goes_takes_its_pages_with_it_and_comes_back(first):
    project, shop, folder = first
    record, page = project.folder / TRUCK, folder / f"engines/{TRUCK.split('/')[-1].removesuffix('.yaml')}.html"
    text = record.read_text()
    record.unlink()
    try:
        assert shop.make(folder)
        assert not page.exists()
    finally:
        record.write_text(text)
    assert shop.make(folder)
    assert page.exists()


def test_a_fault_leaves_the_folder_alone(first, capsys):
    project, shop, folder = first
    before = everything(folder)
    project.change(QUENNITH, "printed: [118 mm]", "printed: [118]")
    try:
        assert not shop.make(folder)
        assert everything(folder) == before
    finally:
        project.change(QUENNITH, "printed: [118]", "printed: [118 mm]")
    assert shop.make(folder)
