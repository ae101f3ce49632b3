"""A wrong command line: one line, what is wrong and the nearest that is right, exit code 2."""

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from generator.drafting import write_whole
from generator.usage import _of_the_system

FORK_LIFT = "specs/engines/fork-lift-truck-tm-10-3930-653-14-and-p.yaml"


def test_a_python_without_the_packages_is_told_where_they_are(project):
    without = [sys.executable, "-S", "-m", "generator", "check"]
    result = subprocess.run(without, cwd=project.folder, capture_output=True, text=True)
    assert (result.returncode, result.stdout, result.stderr.count("\n")) == (2, "", 1)
    assert "run 'make check' once, then .venv/bin/python -m generator" in result.stderr


@pytest.mark.parametrize(("arguments", "line"), [
    (["chekc"], "there is no command 'chekc'; did you mean check?"),
    (["xyzzy"], "there is no command 'xyzzy'; known here: build, check, "),
    (["check", "--form", "xml"], "check: there is no option --form; did you mean --format?"),
    (["check", "--format", "xml"], "check: invalid value for '--format': 'xml' is not one of 'annotations', 'json', 'text'"),
    (["check", "--format"], "option '--format' requires an argument"),
    (["serve", "--port", "0"], "serve: invalid value for '--port': 0 is not in the range"),
    (["serve", "--prot", "1"], "serve: there is no option --prot; did you mean --port?"),
    (["build", "now"], "build: got unexpected extra argument (now)"),
    (["check", "fork-lift"], f"there is no file fork-lift; did you mean {FORK_LIFT}?"),
    (["check", "specs/engines/fork-lift-truck.yaml"], f"did you mean {FORK_LIFT}?"),
    (["check", "specs/demo/quennith-four.yml"], "there is no file specs/demo/quennith-four.yml; did you mean specs/demo/quennith-four.yaml?"),
    (["check", "specs/demo"], "specs/demo is a folder, not a file; name the files in it: specs/demo/*.yaml"),
    (["check", "specs"], "specs is a folder, not a file; records stand in specs/engines"),
    (["check", ""], "the name of the file is empty; records stand in specs/engines"),
    (["show", ""], "the name of the engine is empty; records stand in specs/engines"),
    (["check", "mkdocs.yml"], "mkdocs.yml is no record: their names end in .yaml"),
    (["check", FORK_LIFT, "nowhere.yaml"], "there is no file nowhere.yaml; records stand in specs/engines"),
])
def test_wrong_lines(project, arguments, line):
    result = project.run(*arguments)
    assert result.returncode == 2
    assert result.stdout == ""
    assert result.stderr.count("\n") == 1
    assert result.stderr.startswith("python -m generator")
    assert line in result.stderr


def test_without_a_command_the_commands_are_shown(project):
    result = project.run()
    assert result.returncode == 2
    assert "check " in result.stderr


def test_help_is_no_error(project):
    assert project.run("check", "--help").returncode == 0


@pytest.mark.parametrize(("given", "words"), [
    ("quenith-four", "there is no engine quenith-four; did you mean quennith-four?"),
    ("quennith", "did you mean quennith-four?"),
    ("zzz", "records stand in specs/engines"),
    ("specs/demo/quennith-for.yaml", "did you mean specs/demo/quennith-four.yaml?"),
])
def test_show_names_the_nearest_engine_in_one_line(project, given, words):
    result = project.run("show", given)
    assert result.returncode == 2
    assert words in result.stderr
    assert len(result.stderr.strip().splitlines()) == 1


def test_show_takes_an_id_or_a_file(project):
    by_id, by_file = project.run("show", "quennith-four"), project.run("show", "specs/demo/quennith-four.yaml")
    assert (by_id.returncode, by_file.returncode) == (0, 0)
    assert by_id.stdout == by_file.stdout
    assert "A3" in by_id.stdout


def test_a_terminal_of_few_signs_gets_them_spelt_and_no_question_mark(project, monkeypatch):
    monkeypatch.setenv("PYTHONIOENCODING", "ascii")
    said = project.run("show", "quennith-four").stdout
    assert "tighten to 35 N.m (= 25.8 lbf.ft converted)" in said
    assert "131.0 +- 0.1 mm" in said
    assert "90 deg" in said
    assert said.isascii() and "?" not in said and "\\" not in said


def test_a_reader_who_stops_reading_is_no_error(project):
    command = f"{sys.executable} -m generator show quennith-four | head -1"
    result = subprocess.run(["bash", "-c", f"set -o pipefail; {command}"], cwd=project.folder, capture_output=True, text=True, timeout=60)
    assert result.stdout == "Quennith four, in-line, 1.6 litre, gasoline (invented)\n"
    assert result.stderr == ""


DEMO = "specs/demo/quennith-four.yaml"
# Root may read and write everything; without these two it is held to rights like anybody.
_RIGHTS = "-dac_override,-dac_read_search"
AS_ANYBODY = ["setpriv", f"--bounding-set={_RIGHTS}", f"--inh-caps={_RIGHTS}"] if os.geteuid() == 0 else []


def _unreadable(folder: Path) -> str:
    (folder / "shut.yaml").write_text("id: shut\n")
    (folder / "shut.yaml").chmod(0)
    return "shut.yaml"


def _in_a_shut_folder(folder: Path) -> str:
    (folder / "shut").mkdir()
    (folder / "shut/a.yaml").write_text("id: a\n")
    (folder / "shut").chmod(0)
    return "shut/a.yaml"


def _loop(folder: Path) -> str:
    (folder / "loop.yaml").symlink_to("loop.yaml")
    return "loop.yaml"


def _long_name(folder: Path) -> str:
    return "a" * 300 + ".yaml"


def _pipe(folder: Path) -> str:
    os.mkfifo(folder / "pipe.yaml")
    return "pipe.yaml"


# How a file comes to be one that the system does not give, and a word of what is said of it.
NOT_GIVEN = {_unreadable: "permission denied", _in_a_shut_folder: "permission denied", _loop: "symbolic links", _long_name: "too long", _pipe: "pipe"}


@pytest.mark.parametrize("command", [["show"], ["fmt"], ["diff", DEMO], ["check"]], ids=" ".join)
@pytest.mark.parametrize("make", NOT_GIVEN, ids=lambda make: make.__name__)
def test_a_file_that_the_system_does_not_give(project, command, make):
    name = make(project.folder)
    line = [*AS_ANYBODY, sys.executable, "-m", "generator", *command, name]
    result = subprocess.run(line, cwd=project.folder, capture_output=True, text=True, timeout=60)
    if (command, make) == (["check"], _unreadable):
        # A check goes on to the other files, and tells this one among them.
        assert (result.returncode, result.stderr) == (1, "")
        assert "shut.yaml:1:1: error: the file cannot be read: Permission denied" in result.stdout
    else:
        assert (result.returncode, result.stdout, result.stderr.count("\n")) == (2, "", 1), result.stderr
        assert name in result.stderr and NOT_GIVEN[make] in result.stderr


def test_a_file_in_a_folder_that_may_not_be_written_stays_as_it_is(project):
    folder = project.folder / "kept"
    folder.mkdir()
    (folder / "a.yaml").write_text("name: A\nid: a\n")
    folder.chmod(0o555)
    line = [*AS_ANYBODY, sys.executable, "-m", "generator", "fmt", "kept/a.yaml"]
    result = subprocess.run(line, cwd=project.folder, capture_output=True, text=True, timeout=60)
    assert result.returncode == 2
    assert result.stderr.startswith("python -m generator: kept/a.yaml cannot be read or written: permission denied")
    assert (folder / "a.yaml").read_text() == "name: A\nid: a\n"


def test_a_write_that_fails_leaves_nothing_beside_the_file(tmp_path, monkeypatch):
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    path = tmp_path / "a.yaml"
    path.write_text("id: a\n")
    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="No space left") as error:
        write_whole(path, "id: b\n")
    assert error.value.filename == str(path)
    assert [each.name for each in tmp_path.iterdir()] == ["a.yaml"]


def test_an_output_that_takes_nothing_is_told_in_one_line(project):
    line = f"{sys.executable} -m generator show quennith-four > /dev/full"
    result = subprocess.run(["bash", "-c", line], cwd=project.folder, capture_output=True, text=True, timeout=60)
    assert (result.returncode, result.stderr) == (2, "python -m generator: the output cannot be written: no space left on device\n")


@pytest.mark.parametrize(("error", "words"), [
    (OSError(errno.EIO, "Input/output error", "a\nb.yaml"), "a b.yaml cannot be read or written: input/output error; look at its name"),
    (OSError(errno.EIO, "Input/output error", 3), "3 cannot be read or written: input/output error"),
    (OSError("strange"), "the output cannot be written: strange"),
    (OSError(), "the output cannot be written: oserror"),
])
def test_whatever_the_system_says_is_one_line(error, words):
    assert _of_the_system(error).startswith(words)
    assert "\n" not in _of_the_system(error)


def test_a_link_that_leads_to_itself_is_told_among_the_records(project):
    (project.folder / "specs/engines/loop.yaml").symlink_to("loop.yaml")
    result = project.run("check")
    assert result.returncode == 1
    assert "specs/engines/loop.yaml:1:1: error: the file cannot be read: Too many levels of symbolic links" in result.stdout
