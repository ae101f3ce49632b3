"""Hostile text in a record, a job file or a form comes out as text: nothing of it runs, loads or leads elsewhere."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import yaml

from generator.record.library import load
from tests.browser.reader import Reader
from tests.conftest import Project
from tests.hostile.case import is_sound
from tests.hostile.mutation import NASTY

FOUR = "procedure/quennith-four.html"
PAGES = [
    "engines/quennith-four.html", FOUR, "sheets/quennith-four.html", "requests/quennith-four.html", "pocket/quennith-four.html", "index.html",
    "sources/quennith-engine-book-q4.html",
]
# What text that came out as markup would leave behind.
STRANGERS = """() => document.querySelectorAll(
  ".firedeck iframe, .firedeck object, .firedeck embed, .firedeck [onerror], .firedeck [onload], .firedeck [srcdoc], "
  + ".firedeck [href^='javascript' i], .firedeck img[src=x]").length"""


@pytest.fixture(scope="module")
def hostile_site(tmp_path_factory, library) -> Path:
    """A site whose record says every nasty text that the check lets through, in its name and wherever text is free."""
    project = Project(tmp_path_factory.mktemp("hostile"))
    path = project.folder / "specs/demo/quennith-four.yaml"
    data = yaml.safe_load(path.read_text(encoding="utf-8"))
    cite = "quennith-engine-book-q4 page 2"
    for nasty in NASTY:
        more = [{"label": nasty, "says": nasty, "cite": cite}]
        changed = data | {"cautions": data["cautions"] + [{"says": nasty, "cite": cite}], "cracks": data["cracks"] + more}
        if is_sound(yaml.safe_dump(changed, sort_keys=False).encode("utf-8", "surrogatepass"), library, invented=True):
            data = changed
    data["name"] = "</title></h1><script>document.title='harmed'</script><img src=x onerror=document.title='harmed'> (invented)"
    data["identity"]["application"] = {"says": "\"><img src=x onerror=document.title='harmed'>{{ 7 * 7 }}"}
    path.write_text(yaml.safe_dump(data, sort_keys=False), encoding="utf-8")
    assert len(load(project.folder).engines["quennith-four"].file.data["cracks"]) > 30
    result = project.run("build")
    assert result.returncode == 0, result.stdout + result.stderr
    return project.folder / "site"


@pytest.mark.parametrize("path", PAGES)
def test_nothing_that_a_record_says_runs_or_loads(browser, hostile_site, path):
    reader = Reader(browser, hostile_site, 360)
    page = reader.open(path)
    page.wait_for_load_state("load")
    assert page.title() != "harmed"
    assert reader.complaints == []
    assert reader.asked_elsewhere == []
    assert page.evaluate(STRANGERS) == 0
    if not path.startswith(("sheets", "requests")):  # paper has a width of its own
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0


BASE = """() => Object.assign(Firedeck.job.create(Firedeck.model), {
  name: "White van", ticks: { a: "x", b: "y" }, holds: { h: { name: "n", by: "b", at: "t", reason: "r" } },
  readings: { s: { one: "1", two: "2" } }, choices: { c: "d" },
  verdicts: { v: [{ what: "w", verdict: "v", reason: "r", next: "n", basis: "b" }] },
  walks: { w: { done: 1, times: ["t"], troubles: [{ pull: 1, sign: "s", at: "t" }], finished: "" } },
  orders: { o: { places: { A1: [1, 2] }, order: ["A1"], groups: { A1: "all" } } },
})"""

# Thousands of broken job files in one call. What is accepted must be what was written, and nothing may reach behind the job.
FUZZ = """([base, nasty, seed, count]) => {
  let state = seed;
  const dice = (sides) => {
    state = (state + 0x6D2B79F5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) % sides;
  };
  const pick = (list) => list[dice(list.length)];
  const blocks = (value, found = []) => {
    if (value && typeof value === "object") { found.push(value); Object.values(value).forEach((each) => blocks(each, found)); }
    return found;
  };
  const values = () => pick([pick(nasty), 1e308, -0, null, true, [], {}, [[[[]]]], { constructor: 1 }, "x".repeat(30000), Infinity, dice(1e6)]);
  const names = ["__proto__", "constructor", "toString", "hasOwnProperty", "prototype", "valueOf", "", "0", "a.b", pick(nasty)];
  const changed = (job) => {
    const block = pick(blocks(job).slice(0, 40));
    const keys = Object.keys(block), act = dice(4);
    if (act === 0 && keys.length) delete block[pick(keys)];
    else if (act === 1) Object.defineProperty(block, pick(names), { value: values(), enumerable: true, configurable: true, writable: true });
    else if (keys.length) block[pick(keys)] = values();
  };
  const cut = (text) => {
    const at = dice(text.length), act = dice(5);
    if (act === 0) return text.slice(0, at);
    if (act === 1) return text.slice(0, at) + pick(nasty) + text.slice(at);
    if (act === 2) return text.slice(0, at) + text.slice(at + 1 + dice(40));
    if (act === 3) return "[".repeat(100000) + text;
    return text.replace(/"(ticks|holds|choices|readings)":\\s*\\{/, `"$1": {"__proto__": {"polluted": "yes"},`);
  };
  const clean = Object.getOwnPropertyNames(Object.prototype).sort().join();
  const wrong = [], counts = { accepted: 0, refused: 0 };
  for (let number = 0; number < count; number += 1) {
    const job = structuredClone(base);
    for (let times = 1 + dice(3); times > 0; times -= 1) changed(job);
    const text = dice(3) ? JSON.stringify(job) : cut(JSON.stringify(job));
    let found;
    const start = performance.now();
    try { found = Firedeck.job.read(text); } catch (error) { wrong.push(`${number}: ${error}`); continue; }
    if (performance.now() - start > 1000) wrong.push(`${number}: slow`);
    counts[found.job ? "accepted" : "refused"] += 1;
    const told = found.faults.length > 0 && found.faults.every((each) => typeof each === "string" && each);
    if (found.job ? found.faults.length : !told) wrong.push(`${number}: words`);
    if (found.job && JSON.stringify(found.job) !== JSON.stringify(JSON.parse(text))) wrong.push(`${number}: not what was written`);
    if (found.job && Object.keys(found.job).some((key) => !Object.hasOwn(Firedeck.job.SHAPE, key))) wrong.push(`${number}: unknown key`);
    if (({}).polluted || Object.getOwnPropertyNames(Object.prototype).sort().join() !== clean) wrong.push(`${number}: polluted`);
  }
  return { wrong, counts };
}"""


def test_five_thousand_broken_job_files_are_refused_in_words_or_taken_as_they_are(browser, site):
    page = Reader(browser, site, 360).open(FOUR)
    page.locator(".job h2").wait_for()
    base = page.evaluate(BASE)
    assert page.evaluate("job => Firedeck.job.faults(job)", base) == []
    nasty = [text.encode("utf-8", "replace").decode() for text in NASTY]
    found = page.evaluate(FUZZ, [base, nasty, 20, 5000])
    assert found["wrong"][:5] == []
    assert found["counts"]["accepted"] > 200
    assert found["counts"]["refused"] > 2000


@pytest.mark.parametrize("key", ["__proto__", "constructor", "toString"])
def test_a_key_that_every_object_has_is_no_key_of_a_job(browser, site, key):
    page = Reader(browser, site, 360).open(FOUR)
    page.locator(".job h2").wait_for()
    text = json.dumps(page.evaluate(BASE))
    found = page.evaluate("text => Firedeck.job.read(text)", text[:-1] + f', "{key}": {{"x": 1}}}}')
    assert found["job"] is None
    assert found["faults"] != []


def test_a_job_whose_every_text_is_hostile_is_shown_as_text(browser, site, tmp_path):
    reader = Reader(browser, site, 360)
    page = reader.open(FOUR)
    page.locator(".job h2").wait_for()
    job = page.evaluate(BASE)
    harm = "<img src=x onerror=\"document.title='harmed'\"><script>document.title='harmed'</script>{{ 7 * 7 }}"
    steps = page.locator("input[data-tick]").evaluate_all("all => all.map((each) => each.dataset.tick)")
    job |= {"name": harm, "whose": harm, "notes": harm, "hours": harm, "ticks": dict.fromkeys(steps, harm)}
    job |= {"verdicts": {"compression": [dict.fromkeys(("what", "verdict", "reason", "next", "basis"), harm)]}, "choices": {harm: harm}}
    job |= {"walks": {}, "orders": {}, "holds": {steps[0]: {"name": harm, "by": harm, "at": harm, "reason": harm}}}
    path = tmp_path / "job.json"
    path.write_text(json.dumps(job), encoding="utf-8")
    page.locator("input[type=file]").set_input_files(path)
    page.wait_for_function("harm => Firedeck.bench.job.name === harm", arg=harm)
    assert page.title() != "harmed"
    assert page.evaluate(STRANGERS) == 0
    assert reader.complaints == []
    assert reader.asked_elsewhere == []
