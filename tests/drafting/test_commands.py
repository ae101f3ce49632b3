"""new, fmt, diff and show, as they are typed."""

import subprocess
import sys

import pytest

FORK_LIFT = "specs/engines/fork-lift-truck-tm-10-3930-653-14-and-p.yaml"
GIVEN = {
    "--equipment": "Wood lathe", "--fuel": "diesel", "--manual": "Book 7&8", "--edition": "2nd", "--kind": "handbook", "--place": "page 3",
    "--read": "from the printed page", "--id": "",
}
MADE = "specs/engines/wood-lathe-book-7-and-8.yaml"
SOURCE = "specs/sources/book-7-and-8.yaml"


def options(**changed):
    given = {**GIVEN, **{f"--{key}": value for key, value in changed.items()}}
    return [word for pair in given.items() for word in pair]


def test_new_makes_both_files_and_they_pass_the_check(project):
    result = project.run("new", *options())
    assert (result.returncode, result.stdout) == (0, f"{SOURCE}: new\n{MADE}: new\n")
    assert project.run("check", MADE, SOURCE).stdout == "no problems\n"
    assert project.run("fmt", "--check", MADE, SOURCE).returncode == 0


def test_new_never_overwrites(project):
    project.run("new", *options())
    (project.folder / MADE).write_text("mine")
    (project.folder / SOURCE).write_text("mine too")
    again = project.run("new", *options())
    assert (again.returncode, again.stderr.count("\n")) == (2, 1)
    assert f"{MADE} is there already and stays as it is; open it, or choose another id with --id" in again.stderr
    other = project.run("new", *options(id="another"))
    assert (other.returncode, other.stdout) == (0, f"{SOURCE}: registered already, left as it is\nspecs/engines/another.yaml: new\n")
    assert ((project.folder / MADE).read_text(), (project.folder / SOURCE).read_text()) == ("mine", "mine too")


def test_an_id_is_taken_by_an_invented_engine_too(project):
    result = project.run("new", *options(id="quennith-four"))
    assert result.returncode == 2
    assert "specs/demo/quennith-four.yaml is there already" in result.stderr


@pytest.mark.parametrize(("changed", "words"), [
    ({"fuel": "desel"}, "did you mean diesel?"), ({"kind": "bok"}, "'bok' is not one of the words for 'kind'"),
    ({"id": "Big One"}, "'Big One'"), ({"equipment": "…", "manual": "…"}, "no id can be made"),
])
def test_an_answer_that_cannot_stand_writes_nothing(project, changed, words):
    result = project.run("new", *options(**changed))
    assert (result.returncode, result.stdout, result.stderr.count("\n")) == (2, "", 1)
    assert words in result.stderr
    assert not (project.folder / MADE).exists() and not (project.folder / SOURCE).exists()


def ask(project, answers):
    command = [sys.executable, "-m", "generator", "new"]
    return subprocess.run(command, cwd=project.folder, input=answers, capture_output=True, text=True, timeout=60)


def test_new_asks_for_what_is_not_given(project):
    result = ask(project, "Wood lathe\n\nBook 7&8\n\nhandbook\npage 3\nfrom the printed page\n\n")
    assert result.returncode == 0
    assert result.stdout.endswith(f"{SOURCE}: new\n{MADE}: new\n")
    assert project.run("check", MADE, SOURCE).returncode == 0


def test_a_question_without_an_answer_is_told(project):
    result = ask(project, "Wood lathe\n")
    assert result.returncode == 2
    assert "a question was left without an answer" in result.stderr


def test_the_words_that_a_question_lists_are_those_of_the_schema(schemas):
    from generator.__main__ import FUELS, KINDS

    fuel = schemas.shape("engine").children["identity"].children["fuel"].children["says"].node["enum"]
    assert FUELS.split(", ") == fuel
    assert KINDS.split(", ") == [each for each in schemas.shape("source").children["kind"].node["enum"] if each != "common practice"]


def test_fmt_puts_a_file_in_order_and_then_has_nothing_to_do(project):
    project.change(FORK_LIFT, "  fuel: {says: gasoline}\n", "")
    project.change(FORK_LIFT, "identity:\n", "identity:\n  fuel: {says: gasoline}  # kept\n")
    before = (project.folder / FORK_LIFT).read_text()
    told = project.run("fmt", "--check", FORK_LIFT)
    assert told.returncode == 1
    assert f"{FORK_LIFT}:6:1: error: not in canonical form: 'cite: " in told.stdout
    assert (project.folder / FORK_LIFT).read_text() == before
    assert project.run("fmt", FORK_LIFT).stdout == f"{FORK_LIFT}: put in canonical form\n"
    assert "  fuel: {says: gasoline}  # kept\n  oil:" in (project.folder / FORK_LIFT).read_text()
    assert project.run("fmt", FORK_LIFT).stdout == ""
    assert project.run("fmt", "--check", FORK_LIFT).stdout == "no problems\n"
    assert not list((project.folder / "specs/engines").glob("*.part"))


def test_fmt_leaves_what_it_cannot_read_as_it_is(project):
    project.change(FORK_LIFT, "identity:\n", "identity:\n  fuel: {says: gasoline\n")
    before = (project.folder / FORK_LIFT).read_text()
    result = project.run("fmt", FORK_LIFT)
    assert result.returncode == 1
    assert f"{FORK_LIFT}:" in result.stdout and "Traceback" not in result.stderr
    assert (project.folder / FORK_LIFT).read_text() == before


def test_fmt_goes_on_after_a_file_that_it_refuses(project):
    demo = "specs/demo/quennith-four.yaml"
    project.change(FORK_LIFT, "identity:\n", "identity:\n  fuel: {says: gasoline}\n\n  # whose?\n\n")
    project.change(FORK_LIFT, "  designation: {as: H20PU240}\n  fuel: {says: gasoline}\n", "  designation: {as: H20PU240}\n")
    project.change(demo, "id: quennith-four\n", "")
    project.change(demo, "sources:", "id: quennith-four\nsources:")
    result = project.run("fmt", FORK_LIFT, demo)
    assert result.returncode == 1
    assert "it is not plain which of them a comment beside this line belongs to [comment-place]" in result.stdout
    assert f"{demo}: put in canonical form" in result.stdout


def test_diff_of_two_files(project, tmp_path_factory):
    old = tmp_path_factory.mktemp("desk") / "old.yaml"
    old.write_text((project.folder / FORK_LIFT).read_text())
    project.change(FORK_LIFT, "1.7 to 1.9 mm, 0.067", "1.6 to 1.9 mm, 0.063")
    result = project.run("diff", str(old), FORK_LIFT)
    assert result.returncode == 0
    assert "fork-lift-truck-tm-10-3930-653-14-and-p: 1 changed" in result.stdout
    assert "printed: 1.7 to 1.9 mm / 0.067 to 0.075 in -> 1.6 to 1.9 mm / 0.063 to 0.075 in" in result.stdout


def test_diff_and_show_of_a_record_with_errors_tell_them(project):
    project.change(FORK_LIFT, "fuel: {says: gasoline}", "fuel: {says: petrol}")
    for arguments in (["diff", "specs/demo/quennith-four.yaml", FORK_LIFT], ["show", FORK_LIFT]):
        result = project.run(*arguments)
        assert (result.returncode, result.stdout) == (1, "")
        assert f"{FORK_LIFT}:9:16: error: 'petrol'" in result.stderr


def test_show_tells_figures_doubts_orders_and_gaps(project):
    said = project.run("show", FORK_LIFT).stdout
    assert "8.0 to 9.5 kgf·m / 59 to 69 lbf·ft" in said
    assert "      TM 10-3930-653-14&P, para 4-1-1\n" in said
    assert "      Doubt. The scan leaves a doubt: low end" in said
    assert "Not in this record: the tightening order of the head bolts." in said
    invented = project.run("show", "specs/demo/quennith-four.yaml").stdout
    assert "Invented for demonstration. Not for work on any engine." in invented
    assert "  Tightening order, stages 1 to 3." in invented


@pytest.mark.parametrize(("arguments", "line"), [
    (["fmt", "specs/threads/metric.yaml"], "specs/threads/metric.yaml is no record: fmt knows engines and sources"),
    (["show", "specs/sources/od1001.yaml"], "specs/sources/od1001.yaml is no record: show knows engines"),
    (["diff", FORK_LIFT, "specs/threads/metric.yaml"], "specs/threads/metric.yaml is no record: diff knows engines"),
    (["fmt", "fork-lift"], f"there is no file fork-lift; did you mean {FORK_LIFT}?"),
    (["show", "fork-lift"], "did you mean fork-lift-truck-tm-10-3930-653-14-and-p?"),
    (["diff", FORK_LIFT, "nowhere.yaml"], "there is no file nowhere.yaml"),
    (["fmt", "--chek", FORK_LIFT], "fmt: there is no option --chek; did you mean --check?"), (["fmt"], "missing argument 'FILE...'"),
    (["new", "--equipement", "x"], "new: there is no option --equipement; did you mean --equipment?"),
    (["diff", FORK_LIFT], "missing argument 'NEW'"),
])
def test_wrong_lines(project, arguments, line):
    result = project.run(*arguments)
    assert (result.returncode, result.stdout, result.stderr.count("\n")) == (2, "", 1)
    assert line in result.stderr
