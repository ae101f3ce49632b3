"""The command line, end to end in a copy of the project."""

import json
import socket
import subprocess
import sys
import time
import urllib.request

from tests.conftest import plain

FORK_LIFT = "specs/engines/fork-lift-truck-tm-10-3930-653-14-and-p.yaml"
PAGE = "site/engines/fork-lift-truck-tm-10-3930-653-14-and-p.html"


def test_a_changed_digit_shows_on_the_page(project):
    assert project.run("build").returncode == 0
    assert "1.7 to 1.9 mm" in plain((project.folder / PAGE).read_text())
    project.change(FORK_LIFT, "1.7 to 1.9 mm, 0.067", "1.6 to 1.9 mm, 0.063")
    result = project.run("build")
    assert result.returncode == 0
    assert "index.html" in result.stdout
    assert "1.6 to 1.9 mm" in plain((project.folder / PAGE).read_text())


def test_a_deleted_cite_stops_the_build_at_its_line_and_leaves_the_site(project):
    assert project.run("build").returncode == 0
    before = (project.folder / PAGE).read_text()
    project.change(FORK_LIFT, '[45 deg], cite: "tm-10-3930-653-14-and-p p. 4-28, para 4-2-4-3"', "[45 deg]")
    project.change(FORK_LIFT, "valves:\n  cite: tm-10-3930-653-14-and-p para 4-1-1\n", "valves:\n")
    text = (project.folder / FORK_LIFT).read_text().splitlines()
    line = next(number for number, each in enumerate(text, start=1) if "[45 deg]" in each)
    result = project.run("build")
    assert result.returncode == 1
    assert f"{FORK_LIFT}:{line}:7: error: this figure has no source [cite-missing]" in result.stderr
    assert "Traceback" not in result.stderr
    assert (project.folder / PAGE).read_text() == before


def test_a_duplicate_key_stops_the_build_at_its_line(project):
    project.change(FORK_LIFT, "identity:\n", "identity:\n  fuel: {says: diesel}\n")
    result = project.run("build")
    assert result.returncode == 1
    assert "the key 'fuel' stands here a second time (first in line 6)" in result.stderr
    assert "Traceback" not in result.stderr
    assert not (project.folder / "site").exists()


def test_removing_a_doubt_fails_at_the_line_of_the_figure(project):
    says = "low end: 8.0 kgf.m is 57.9 lbf.ft, not 59; a lost character in the scan is possible"
    project.change(FORK_LIFT, f'\n        doubt: {{kind: scan, says: "{says}"}}', "")
    result = project.run("check")
    assert result.returncode == 1
    said = "error: the printed units disagree: low end: 8.0 kgf.m is 57.8641 lbf.ft, printed 59 lbf.ft; likely one digit: 59 may be 58 lbf.ft"
    assert said in result.stdout


def test_all_problems_of_all_files_come_at_once(project):
    project.change(FORK_LIFT, "fuel: {says: gasoline}", "fuel: {says: petrol}")
    project.change("specs/demo/quennith-four.yaml", "max 0.8 um", "max 0.8")
    result = project.run("check")
    assert "'petrol' is not one of the words for 'fuel'" in result.stdout
    assert "'max 0.8' has no unit" in result.stdout


def test_check_as_json(project):
    project.change(FORK_LIFT, "H20PU240", "[H20PU240]")
    problems = json.loads(project.run("check", "--format", "json").stdout)
    assert [problem["line"] for problem in problems] == [8]


def test_check_as_annotations(project):
    project.change(FORK_LIFT, "H20PU240", "[H20PU240]")
    result = project.run("check", "--format", "annotations")
    assert result.returncode == 1
    assert result.stdout.startswith(f"::error file={FORK_LIFT},line=8,col=")
    assert ",title=schema-type::a list stands at 'designation', where" in result.stdout
    assert result.stdout.count("\n") == 1


def test_json_is_exact_on_any_terminal(project, monkeypatch):
    monkeypatch.setenv("PYTHONIOENCODING", "ascii")
    project.change(FORK_LIFT, "fuel: {says: gasoline}", "fuel: {says: Öl °µ}")
    assert "'Öl °µ' is not one of the words" in json.loads(project.run("check", "--format", "json").stdout)[0]["message"]


def test_a_port_that_is_taken_is_told_in_one_line(project):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        result = project.run("serve", "--port", str(taken.getsockname()[1]))
    assert result.returncode == 1
    assert "Traceback" not in result.stderr
    assert result.stderr.endswith("Address already in use. Name another with --port or --host.\n")


def test_a_schema_that_is_no_json_is_told_at_its_line(project):
    (project.folder / "schema/source.schema.json").write_text('{"type": "object",\n  oops\n}')
    result = project.run("check")
    assert result.returncode == 1
    assert result.stderr.startswith("schema/source.schema.json:2:3: ")
    assert result.stderr.count("\n") == 1


def test_check_of_one_file_reports_that_file_alone(project):
    demo = "specs/demo/quennith-four.yaml"
    project.change(FORK_LIFT, "fuel: {says: gasoline}", "fuel: {says: petrol}")
    clean, broken = project.run("check", demo), project.run("check", demo, FORK_LIFT)
    assert (clean.returncode, clean.stdout) == (0, "no problems\n")
    assert broken.returncode == 1
    assert broken.stdout.startswith(f"{FORK_LIFT}:9:16: error: 'petrol'")


def test_check_of_a_file_from_elsewhere_knows_the_registered_sources(project, tmp_path_factory):
    draft = tmp_path_factory.mktemp("desk") / "my-engine.yaml"
    text = (project.folder / FORK_LIFT).read_text()
    draft.write_text(text.replace("id: fork-lift-truck-tm-10-3930-653-14-and-p", "id: my-engine"))
    copied = project.run("check", str(draft))
    assert copied.returncode == 0
    assert "every figure of valves is the same as in fork-lift-truck-tm-10-3930-653-14-and-p [same-as-another]" in copied.stdout
    draft.write_text(draft.read_text().replace("cite: tm-10-3930-653-14-and-p", "cite: tm-10-3930-653-14"))
    result = project.run("check", str(draft))
    assert result.returncode == 1
    assert f"{draft}:" in result.stdout
    assert "did you mean tm-10-3930-653-14-and-p?" in result.stdout


def test_a_record_with_the_wrong_name_is_told(project):
    (project.folder / FORK_LIFT).rename(project.folder / "specs/engines/other.yaml")
    assert "the file is named 'other'" in project.run("check").stdout


def test_serve_shows_a_change_keeps_the_pages_over_a_fault_and_recovers(project):
    record = "specs/demo/quennith-four.yaml"
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "-m", "generator", "serve", "--port", str(port)]
    server = subprocess.Popen(command, cwd=project.folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    try:
        for words in iter(server.stdout.readline, ""):
            if "Serving on" in words:
                break
        assert soon(port, "118 mm")
        project.change(record, "118 mm", "119 mm")
        assert soon(port, "119 mm")
        project.change(record, "119 mm", "119")
        for words in iter(server.stdout.readline, ""):
            if "stay as they were" in words:
                break
        assert soon(port, "119 mm")
        project.change(record, "[119]", "[120 mm]")
        assert soon(port, "120 mm")
    finally:
        server.kill()
        server.wait()
        server.stdout.close()


def soon(port, text):
    """Whether the served page shows the text within ten seconds."""
    for _ in range(50):
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{port}/engines/quennith-four.html", timeout=5) as answer:
                if text in plain(answer.read().decode()):
                    return True
        except OSError:
            pass
        time.sleep(0.2)
    return False


def test_notes_are_quiet_until_asked_for(project):
    quiet, asked = project.run("check"), project.run("check", "--notes")
    assert "note:" not in quiet.stdout
    assert "note: " in asked.stdout
    assert "[preload]" in asked.stdout
    assert (quiet.returncode, asked.returncode) == (0, 0)
