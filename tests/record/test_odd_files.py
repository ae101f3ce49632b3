"""Whatever lies in specs/: folders, pipes, links to nowhere, thousands of scraps. Each is told in words, and nothing waits or ends in a traceback."""

import os

import pytest

from tests.conftest import Project

ENGINES = "specs/engines"


@pytest.mark.parametrize(("make", "words"), [
    (lambda path: path.mkdir(), "it is a folder or a device, not a file"),
    (os.mkfifo, "it is a folder or a device, not a file"),
    (lambda path: path.symlink_to("nowhere"), "the file cannot be read"),
    (lambda path: path.symlink_to(path), "the file cannot be read"),
    (lambda path: path.symlink_to("/dev/zero"), "it is a folder or a device, not a file"),
    (lambda path: path.write_bytes(b"\x00" * 100), "null bytes"),
    (lambda path: path.write_bytes(b"[" * 100_000), ""),
    (lambda path: path.write_bytes(b"a: " + b"9" * 100_000), ""),
    (lambda path: path.write_bytes(b"id: ../../x\nname: x\n"), "../../x"),
], ids=["folder", "pipe", "link to nowhere", "link to itself", "device", "null bytes", "deep", "huge number", "path for an id"])
def test_it_is_told_at_its_name(project, make, words):
    path = project.folder / ENGINES / "odd.yaml"
    make(path)
    result = project.run("check")
    assert result.returncode == 1
    assert result.stderr.count("Traceback") == 0
    assert f"{ENGINES}/odd.yaml:" in result.stdout
    assert words in result.stdout


def test_a_link_to_a_record_elsewhere_is_read_as_that_record(project, tmp_path_factory):
    path = project.folder / "specs/demo/quennith-four.yaml"
    moved = tmp_path_factory.mktemp("elsewhere") / path.name
    path.rename(moved)
    path.symlink_to(moved)
    assert project.run("check").returncode == 0


def test_a_thousand_scraps_are_all_told(project):
    for number in range(1000):
        (project.folder / ENGINES / f"scrap-{number}.yaml").write_text("a: 1\nb: {c: [d]}\n")
    result = project.run("check")
    assert result.returncode == 1
    assert all(f"{ENGINES}/scrap-{number}.yaml:" in result.stdout for number in range(1000))
    assert "Traceback" not in result.stderr


def test_a_library_without_folders_is_empty_and_says_so(tmp_path):
    project = Project(tmp_path / "bare")
    for folder in ("engines", "demo"):
        for path in (project.folder / "specs" / folder).iterdir():
            path.unlink()
        (project.folder / "specs" / folder).rmdir()
    result = project.run("check")
    assert "Traceback" not in result.stderr + result.stdout
