"""A wrong command line: one line, what is wrong and the nearest that is right, exit code 2."""

import subprocess
import sys

import pytest

FORK_LIFT = "specs/engines/fork-lift-truck-tm-10-3930-653-14-and-p.yaml"


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
    (["check", "specs/demo"], "specs/demo is a folder, not a file; did you mean specs/demo/"),
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
