"""The job: kept on the device at every change, saved to a file, loaded whole or not at all."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from playwright.sync_api import expect

from tests.browser.mechanic import Mechanic, at_the_bench
from tests.conftest import ROOT

FOUR = "quennith-four"
REFUSE_TO_WRITE = "IDBObjectStore.prototype.put = () => { throw new DOMException('no room', 'QuotaExceededError'); };"
NO_STORE = "Object.defineProperty(window, 'indexedDB', { get() { throw new DOMException('not here', 'SecurityError'); } });"


@pytest.fixture
def mechanic(browser, site, tmp_path):
    with at_the_bench(browser, site, tmp_path / "site") as found:
        yield found


def box(page, number):
    return page.locator("input[data-tick]").nth(number)


def name(mechanic, text):
    details = mechanic.page.locator(".job details").first
    if not details.evaluate("each => each.open"):
        details.locator("summary").click()
    mechanic.page.get_by_label("Name of the job").fill(text)


def test_a_tick_survives_closing_the_page(mechanic):
    mechanic.open(FOUR)
    box(mechanic.page, 0).check()
    mechanic.again()
    expect(box(mechanic.page, 0)).to_be_checked()


def test_a_job_is_saved_wiped_and_loaded_whole(mechanic, tmp_path):
    mechanic.open(FOUR)
    name(mechanic, "White van")
    box(mechanic.page, 2).check()
    path = mechanic.save(tmp_path)
    before = mechanic.job
    assert "quennith-four-white-van" in path.name
    mechanic.wipe()
    expect(box(mechanic.page, 2)).not_to_be_checked()
    assert mechanic.load(path).startswith("Loaded: White van")
    assert mechanic.job == before
    expect(box(mechanic.page, 2)).to_be_checked()


def with_key(job, where, key, value):
    """A job file with one key more at a place, even one that no dict literal of a browser could have."""
    place = job
    for part in where:
        place = place[part]
    place[key] = value
    return json.dumps(job)


BROKEN = {
    "json": (lambda job: "not JSON {", "cannot be read as JSON"),
    "cut off": (lambda job: json.dumps(job)[:-40], "cannot be read as JSON"),
    "nan": (lambda job: json.dumps(job | {"notes": float("nan")}), "cannot be read as JSON"),
    "version": (lambda job: json.dumps(job | {"version": 2}), "of version 2; this site reads version 1"),
    "missing": (lambda job: json.dumps({key: value for key, value in job.items() if key != "ticks"}), "ticks is missing"),
    "wrong": (lambda job: json.dumps(job | {"ticks": {"a": 5}}), "ticks does not hold what it should"),
    "unknown": (lambda job: json.dumps(job | {"more": 1}), "more is not known"),
    "list": (lambda job: json.dumps([job]), "holds no job"),
    "nothing": (lambda job: "null", "holds no job"),
    "engine": (lambda job: json.dumps(job | {"engine": "other", "engine_name": "<b>Other</b>"}), "on another engine, <b>Other</b>"),
    "proto": (lambda job: with_key(job, [], "__proto__", {"job": 1}), "holds no job"),
    "proto within": (lambda job: with_key(job, ["ticks"], "__proto__", "x"), "ticks does not hold what it should"),
    "constructor": (lambda job: with_key(job, [], "constructor", "x"), "constructor is not known"),
    "long": (lambda job: json.dumps(job | {"notes": "x" * 20001}), "notes does not hold what it should"),
    "large": (lambda job: json.dumps(job | {"notes": "x" * 5_000_000}), "too large for a job file"),
    "huge": (lambda job: " " * 17_000_000, "too large for a job file"),
    "infinite": (lambda job: with_key(job, ["walks"], "a", {"done": 7, "times": [], "troubles": [], "finished": ""}).replace(": 7,", ": 1e999,"),
                 "walks does not"),
    "half a walk": (lambda job: json.dumps(job | {"walks": {"head, tightening": {"done": -3}}}), "walks does not hold what it should"),
    "no figures": (lambda job: json.dumps(job | {"model": {}}), "model does not hold what it should"),
    "no unit": (lambda job: json.dumps(job).replace('"unit": "mm"', '"unit": "furlong"'), "model does not hold what it should"),
    "time": (lambda job: json.dumps(job | {"changed": "zzz"}), "changed does not hold what it should"),
}


@pytest.mark.parametrize("case", BROKEN, ids=lambda case: case.replace(" ", "-"))
def test_a_file_that_is_no_job_of_this_engine_is_refused_in_words_and_nothing_is_taken(mechanic, tmp_path, case):
    change, words = BROKEN[case]
    mechanic.open(FOUR)
    box(mechanic.page, 0).check()
    mechanic.kept()
    before = mechanic.job
    path = tmp_path / "job.json"
    path.write_text(change(mechanic.job), encoding="utf-8")
    assert words in mechanic.load(path)
    assert mechanic.job == before
    mechanic.again()
    assert mechanic.job == before


def test_markup_and_long_text_in_a_job_are_shown_as_text_everywhere(mechanic, tmp_path):
    mechanic.open(FOUR)
    box(mechanic.page, 0).check()
    mechanic.kept()
    bad = "<img src=x onerror=\"window.broken=1\"><script>window.broken=1</script>"
    step = mechanic.page.locator("[data-hold]").first.get_attribute("data-hold")
    job = mechanic.job | {
        "name": bad, "whose": bad, "notes": bad + "x" * 10_000, "ticks": {bad: bad}, "choices": {bad: bad, f"compression: {bad}": bad},
        "readings": {"compression": {"dry 1": bad}, bad: {bad: bad}}, "holds": {step: {"name": bad, "by": bad, "at": bad, "reason": bad}},
        "verdicts": {"compression": [{"what": bad, "verdict": bad, "reason": bad, "next": bad, "basis": bad}]}, "revision": bad,
        "walks": {"head, tightening": {"done": 1, "times": [bad], "troubles": [{"pull": 0, "sign": bad, "at": bad}], "finished": ""}},
        "orders": {"head": {"places": {bad: [0, 0], "A1": [1, 1]}, "order": [bad, "A1"], "groups": {bad: bad, "A1": bad}}},
    }
    path = tmp_path / "job.json"
    path.write_text(json.dumps(job), encoding="utf-8")
    assert mechanic.load(path).startswith(f"Loaded: {bad}")
    mechanic.again()
    assert bad in mechanic.page.locator(".job h2").inner_text()
    assert "x" * 10_000 in mechanic.hand_over()
    mechanic.sign()
    mechanic.walk()
    assert mechanic.page.evaluate("window.broken") is None
    assert mechanic.page.evaluate("({}).job") is None
    assert mechanic.page.evaluate("document.documentElement.scrollWidth") <= 360


def test_a_copy_of_the_site_in_another_folder_keeps_its_own_jobs(mechanic, site, tmp_path):
    mechanic.open(FOUR)
    box(mechanic.page, 0).check()
    mechanic.kept()
    here = mechanic.page.url
    mechanic.page.goto((shutil.copytree(site, tmp_path / "other") / f"procedure/{FOUR}.html").as_uri())
    mechanic.ready()
    assert mechanic.page.evaluate("Firedeck.bench.fresh")
    box(mechanic.page, 1).check()
    mechanic.kept()
    mechanic.page.goto(here)
    mechanic.ready()
    assert len(mechanic.job["ticks"]) == 1


def test_several_jobs_stand_side_by_side_and_each_keeps_its_own(mechanic):
    mechanic.open(FOUR)
    name(mechanic, "White van")
    box(mechanic.page, 0).check()
    mechanic.page.get_by_role("button", name="Begin another job").click()
    choice = mechanic.page.get_by_label("Job in hand")
    assert choice.locator("option").all_inner_texts()[0] == "New job, nothing in it yet"
    expect(box(mechanic.page, 0)).not_to_be_checked()
    name(mechanic, "Red lorry")
    box(mechanic.page, 1).check()
    expect(choice.locator("option")).to_have_count(2)
    expect(choice.locator("option").nth(0)).to_contain_text("Red lorry")
    choice.select_option(index=1)
    expect(mechanic.page.locator(".job h2")).to_contain_text("White van")
    expect(box(mechanic.page, 0)).to_be_checked()
    expect(box(mechanic.page, 1)).not_to_be_checked()


def test_a_changed_record_leaves_the_job_the_figures_it_began_with_and_says_so(mechanic):
    mechanic.open(FOUR)
    box(mechanic.page, 0).check()
    mechanic.kept()
    script = mechanic.reader.site / f"api/engines/{FOUR}.js"
    text = script.read_text(encoding="utf-8")
    revision = mechanic.job["revision"]
    script.unlink()  # it is shared with the built site
    torque = 'low:{value:35,unit:"N.m"},high:{value:35'
    assert torque in text
    script.write_text(text.replace(revision, "00000000").replace(torque, torque.replace("35", "45")), encoding="utf-8")
    mechanic.again()
    assert f"(revision {revision}, now 00000000)" in mechanic.page.locator(".job").inner_text()
    mechanic.sign()
    assert "35 N·m" in mechanic.walk().inner_text()
    mechanic.tap("Close")
    mechanic.page.get_by_role("button", name="Begin another job").click()
    mechanic.sign()
    assert "45 N·m" in mechanic.walk().inner_text()


@pytest.mark.parametrize("script", [REFUSE_TO_WRITE, NO_STORE], ids=["full", "refused"])
def test_a_store_that_refuses_or_is_full_is_told_at_once_and_the_file_is_offered(mechanic, tmp_path, script):
    mechanic.page.add_init_script(script)
    mechanic.open(FOUR)
    mechanic.sign()
    bar = mechanic.page.locator(".bar")
    expect(bar).to_contain_text("save the job to a file before you close the page")
    expect(bar).to_be_in_viewport()
    with mechanic.page.expect_download() as download:
        bar.get_by_role("button", name="Save the job to a file").click()
    assert json.loads(Path(download.value.path()).read_text())["holds"]
    mechanic.walk()
    mechanic.pull()
    expect(mechanic.dialog.locator(".bar")).to_contain_text("save the job to a file")


@pytest.mark.parametrize(("script", "asked"), [
    ("() => { Firedeck.bench.store.put = () => new Promise(() => {}); }", ["beforeunload"]),
    ("() => { Firedeck.bench.store.put = async () => { throw new DOMException('no room'); }; }", ["beforeunload"]),
    ("() => {}", [])], ids=["not-yet-written", "no-room", "written"])
def test_before_a_page_with_something_unwritten_is_left_the_browser_asks(mechanic, script, asked):
    seen = []
    mechanic.open(FOUR)
    mechanic.page.evaluate(script)
    box(mechanic.page, 0).check()
    if not asked:
        mechanic.kept()
    mechanic.page.on("dialog", lambda dialog: seen.append(dialog.type))
    mechanic.page.reload()
    assert seen == asked


def test_what_could_not_be_written_is_written_as_soon_as_there_is_room(mechanic):
    mechanic.open(FOUR)
    mechanic.page.evaluate(f"() => {{ window.put = IDBObjectStore.prototype.put; {REFUSE_TO_WRITE} }}")
    box(mechanic.page, 0).check()
    expect(mechanic.page.locator(".bar")).to_contain_text("save the job")
    mechanic.page.evaluate("() => { IDBObjectStore.prototype.put = window.put; }")
    box(mechanic.page, 1).check()
    expect(mechanic.page.locator(".bar")).to_be_empty()
    mechanic.again()
    assert len(mechanic.job["ticks"]) == 2


def go_on_in_another_window(mechanic):
    """One box is ticked here and kept, and one more in a second window."""
    mechanic.open(FOUR)
    box(mechanic.page, 0).check()
    mechanic.kept()
    other = mechanic.page.context.new_page()
    other.goto(mechanic.page.url)
    expect(box(other, 0)).to_be_checked()
    box(other, 1).check()
    other.wait_for_function("() => Firedeck.bench.saving === null")


def test_two_windows_on_one_job_lose_neither_s_ticks_and_say_so(mechanic):
    go_on_in_another_window(mechanic)
    box(mechanic.page, 2).check()
    expect(mechanic.page.locator(".bar")).to_contain_text("changed in another window as well. Both are kept")
    expect(box(mechanic.page, 1)).to_be_checked()
    mechanic.again()
    assert len(mechanic.job["ticks"]) == 3


def test_coming_back_to_a_window_shows_what_another_did_meanwhile(mechanic):
    go_on_in_another_window(mechanic)
    mechanic.page.evaluate("dispatchEvent(new Event('focus'))")
    expect(box(mechanic.page, 1)).to_be_checked()
    expect(mechanic.page.locator(".bar")).to_be_empty()


def test_the_hand_over_prints_what_was_found_signed_and_overridden(mechanic):
    mechanic.open(FOUR)
    mechanic.override(0, "seen before")
    mechanic.sign()
    text = mechanic.hand_over()
    for words in ("Hand-over", "Invented for demonstration", "Cause found: gone on without it, Ada", "seen before", "seen by Ada", "revision"):
        assert words in text


def test_a_killed_browser_loses_at_most_the_last_second(browser, site, tmp_path):
    page_file = (shutil.copytree(site, tmp_path / "site") / f"procedure/{FOUR}.html").as_uri()
    profile = tmp_path / "profile"
    flags = ["--no-sandbox"] if os.geteuid() == 0 else []

    def launched():
        page = browser.browser_type.launch_persistent_context(profile, executable_path=shutil.which("chromium"), args=flags).pages[0]
        page.goto(page_file)
        page.locator(".state-of-job:not(:empty)").wait_for()
        return page

    page = launched()
    box(page, 1).check()
    page.locator("firedeck-worksheet[data-kind=compression] summary").first.click()
    page.get_by_label("Cylinder 1, dry").first.fill("1234")
    page.wait_for_function("() => Firedeck.bench.saving === null")  # a fraction of a second; nothing that is kept is lost
    for pid in subprocess.run(["pgrep", "-f", f"user-data-dir={profile}"], capture_output=True, text=True).stdout.split():
        os.kill(int(pid), signal.SIGKILL)
    page = launched()
    expect(box(page, 1)).to_be_checked()
    assert page.get_by_label("Cylinder 1, dry").first.input_value() == "1234"
    page.context.close()


def test_the_published_schema_of_a_job_file_and_the_browser_agree(mechanic, tmp_path):
    mechanic.open(FOUR)
    mechanic.fill(mechanic.sheet("compression"), {"Cylinder 1, dry": "900"})
    mechanic.sign()
    mechanic.walk()
    mechanic.pull()
    mechanic.tap("Something is wrong with this bolt")
    mechanic.tap("It breaks.")
    mechanic.kept()
    schema = json.loads((ROOT / "schema/job.schema.json").read_text(encoding="utf-8"))
    job = mechanic.job
    assert set(schema["properties"]) == set(mechanic.page.evaluate("Object.keys(Firedeck.job.SHAPE)")) == set(schema["required"]) == set(job)
    assert list(Draft202012Validator(schema).iter_errors(job)) == []
    assert json.loads((mechanic.reader.site / "api/job.schema.json").read_text(encoding="utf-8")) == schema
    for case in ("missing", "wrong", "unknown", "version", "half a walk", "no figures", "time", "long"):
        assert list(Draft202012Validator(schema).iter_errors(json.loads(BROKEN[case][0](mechanic.job)))), case


def test_a_job_of_the_pocket_copy_goes_into_the_site_and_back(browser, site, tmp_path, mechanic):
    pocket = Mechanic(browser, site / f"pocket/{FOUR}.html", tmp_path / "alone.html")
    pocket.page.goto((tmp_path / "alone.html").as_uri())
    pocket.ready()
    name(pocket, "From the pocket")
    pocket.fill(pocket.sheet("compression"), {"Cylinder 1, dry": "1250"})
    pocket.sign("Bo")
    pocket.walk()
    pocket.pull(3)
    pocket.tap("Close")
    path = pocket.save(tmp_path)
    mechanic.open(FOUR)
    assert mechanic.load(path).startswith("Loaded: From the pocket")
    assert mechanic.job == pocket.job
    mechanic.walk()
    mechanic.tap("Yes, it was")
    mechanic.tap("Close")
    (tmp_path / "back").mkdir()
    back = mechanic.save(tmp_path / "back")
    assert pocket.load(back).startswith("Loaded: From the pocket")
    assert pocket.job["walks"]["head, tightening"]["done"] == 4
    assert "seen by Bo" in pocket.hand_over()
    pocket.close()
