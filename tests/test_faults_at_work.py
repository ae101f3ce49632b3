"""What goes wrong while a build is at work: the last good site stays whole, the message says what to do, no traceback, exit code 1."""

from __future__ import annotations

import ctypes
import os
import resource
import shutil
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path
from random import Random

import pytest

from tests.conftest import Project

BUILD = [sys.executable, "-m", "generator", "build"]


@pytest.fixture(scope="module")
def built(tmp_path_factory) -> Project:
    """A project with its last good site, made once."""
    project = Project(tmp_path_factory.mktemp("built"))
    result = project.run("build")
    assert result.returncode == 0, result.stderr
    return project


def everything(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def answering() -> None:
    """Whoever starts the tests in the background may have told them to ignore Ctrl-C."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def started(project: Project) -> subprocess.Popen[str]:
    return subprocess.Popen(BUILD, cwd=project.folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, preexec_fn=answering)


def under_way(project: Project) -> subprocess.Popen[str]:
    """A build that has begun to write."""
    process = started(project)
    while not list((project.folder / ".build").glob("new-*")) and process.poll() is None:
        time.sleep(0.02)
    return process


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGINT, signal.SIGTERM], ids=lambda how: how.name)
def test_a_build_stopped_at_any_moment_leaves_the_last_good_site(built, how):
    before, random = everything(built.folder / "site"), Random(3)
    for _ in range(2):
        process = under_way(built)
        time.sleep(random.uniform(0, 3))  # any moment will do, also one after the end
        process.send_signal(how)
        _, said = process.communicate(timeout=60)
        assert "Traceback" not in said
        assert process.returncode != 1
        assert everything(built.folder / "site") == before
    result = built.run("build")
    assert result.returncode == 0
    assert [path.name for path in (built.folder / ".build").iterdir()] == ["lock"]
    assert everything(built.folder / "site") == before


def test_an_interrupted_build_says_so_and_fails(built):
    process = under_way(built)
    process.send_signal(signal.SIGINT)
    _, said = process.communicate(timeout=60)
    assert (process.returncode, said.strip()) == (130, "Stopped; nothing was changed by halves.")


@pytest.mark.parametrize("module", ["generator/usage.py", "generator/audit/__init__.py", "generator/quantities/units.py"])
def test_an_interrupt_while_the_program_is_loaded_is_no_traceback(project, module):
    project.change(module, "annotations\n", "annotations\nimport os, signal; os.kill(os.getpid(), signal.SIGINT)\n")
    result = subprocess.run([*BUILD[:-1], "check"], cwd=project.folder, capture_output=True, text=True, preexec_fn=answering)
    assert (result.returncode, result.stdout, result.stderr) == (130, "", "Stopped; nothing was changed by halves.\n")


def failed(built: Project, result: subprocess.CompletedProcess[str], before: dict[str, bytes], *words: str) -> None:
    assert result.returncode == 1
    assert "Traceback" not in result.stderr + result.stdout
    for word in words:
        assert word in result.stderr + result.stdout
    assert everything(built.folder / "site") == before


def limited() -> None:
    """No file over a few kilobytes: what a full disk does to a write."""
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))


def test_a_full_disk_is_told(built):
    before = everything(built.folder / "site")
    result = subprocess.run(BUILD, cwd=built.folder, capture_output=True, text=True, preexec_fn=limited)
    failed(built, result, before, "site/ is as it was", "File too large")


def unprivileged() -> None:
    """Root without the right to write where its own bits forbid it: CAP_DAC_OVERRIDE is dropped (PR_CAPBSET_DROP)."""
    ctypes.CDLL(None).prctl(24, 1, 0, 0, 0)


@pytest.mark.parametrize("locked", [".", ".build"])
def test_a_folder_that_may_not_be_written_is_told(built, locked):
    before, folder = everything(built.folder / "site"), built.folder / locked
    shutil.rmtree(built.folder / ".build", ignore_errors=True)
    folder.mkdir(exist_ok=True)
    folder.chmod(0o555)
    try:
        environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1"}
        drop = unprivileged if os.geteuid() == 0 else None
        result = subprocess.run(BUILD, cwd=built.folder, capture_output=True, text=True, preexec_fn=drop, env=environment)
        failed(built, result, before, "site/ is as it was", "Permission denied")
    finally:
        folder.chmod(0o755)


def test_two_builds_at_once_both_end_well(built):
    before = everything(built.folder / "site")
    one, other = started(built), started(built)
    said = [process.communicate(timeout=120)[1] for process in (one, other)]
    assert (one.returncode, other.returncode) == (0, 0)
    assert "".join(said).count("Another build is running") <= 1
    assert everything(built.folder / "site") == before


@pytest.mark.parametrize("gone", ["docs/reading-a-figure.md", "specs/procedure", "specs/sources", "docs/assets/bench/job.js", "mkdocs.yml", "schema"])
def test_what_is_missing_is_named(built, gone):
    path, aside = built.folder / gone, built.folder / "aside"
    before = everything(built.folder / "site")
    path.rename(aside)
    try:
        failed(built, built.run("build"), before, gone.split("/")[-1].split(".")[0])
    finally:
        aside.rename(path)


def test_a_file_that_vanishes_or_is_half_written_under_serve_leaves_the_pages_up(project):
    record = project.folder / "specs/demo/quennith-four.yaml"
    text = record.read_text()
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "-m", "generator", "serve", "--port", str(port)]
    server = subprocess.Popen(command, cwd=project.folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)

    def says(words: str) -> bool:
        return any(words in line for line in iter(server.stdout.readline, ""))

    try:
        assert says("Serving on")
        for broken in (text[: len(text) // 2] + "\n  - {", "", text.replace("id: quennith-four", "id: [")):
            record.write_text(broken)
            assert says("stay as they were")
        record.write_text(text.replace("118 mm", "119 mm"))
        from tests.test_command import soon

        assert soon(port, "119 mm")
    finally:
        server.kill()
        server.wait()
        server.stdout.close()
