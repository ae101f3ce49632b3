"""The site's folder: whole before, whole after, whatever happens in between."""

import os
import signal
import subprocess
import sys
import time

import pytest

from generator.output import beside


def fill(folder, text):
    (folder / "index.html").write_text(text)


def test_the_first_and_the_next_build(tmp_path):
    target = tmp_path / "site"
    for text in ("one", "two"):
        with beside(target, tmp_path / "work") as folder:
            fill(folder, text)
        assert (target / "index.html").read_text() == text
    assert [path.name for path in (tmp_path / "work").iterdir()] == ["lock"]


def test_a_failed_build_leaves_the_last_good_one(tmp_path):
    target = tmp_path / "site"
    with beside(target, tmp_path / "work") as folder:
        fill(folder, "good")
    with pytest.raises(SystemExit), beside(target, tmp_path / "work") as folder:
        fill(folder, "half")
        sys.exit(1)
    assert (target / "index.html").read_text() == "good"


KILLED = """
import sys, time
from pathlib import Path
from generator.output import beside
with beside(Path("site"), Path("work")) as folder:
    (folder / "index.html").write_text("half")
    print("building", flush=True)
    time.sleep(60)
"""


def test_a_killed_build_leaves_the_last_good_one_and_the_next_clears_up(tmp_path):
    target = tmp_path / "site"
    with beside(target, tmp_path / "work") as folder:
        fill(folder, "good")
    environment = {**os.environ, "PYTHONPATH": os.getcwd()}
    process = subprocess.Popen([sys.executable, "-c", KILLED], cwd=tmp_path, stdout=subprocess.PIPE, env=environment)
    assert process.stdout.readline() == b"building\n"
    process.send_signal(signal.SIGKILL)
    process.wait()
    process.stdout.close()
    assert (target / "index.html").read_text() == "good"
    with beside(target, tmp_path / "work") as folder:
        fill(folder, "next")
    assert (target / "index.html").read_text() == "next"
    assert [path.name for path in (tmp_path / "work").iterdir()] == ["lock"]


def test_a_second_build_waits_for_the_first(tmp_path):
    fill_later = KILLED.replace("time.sleep(60)", "time.sleep(1)").replace("half", "first")
    environment = {**os.environ, "PYTHONPATH": os.getcwd()}
    process = subprocess.Popen([sys.executable, "-c", fill_later], cwd=tmp_path, stdout=subprocess.PIPE, env=environment)
    process.stdout.readline()
    begun = time.monotonic()
    with beside(tmp_path / "site", tmp_path / "work") as folder:
        assert time.monotonic() - begun > 0.3
        assert (tmp_path / "site/index.html").read_text() == "first"
        fill(folder, "second")
    process.wait()
    process.stdout.close()
    assert (tmp_path / "site/index.html").read_text() == "second"
