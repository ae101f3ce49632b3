"""What must be quick while someone waits for it: a served page after a change, the finder after a key, a verdict after a key."""

from __future__ import annotations

import gzip
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path
from statistics import median
from urllib.parse import unquote, urlsplit

from playwright.sync_api import Page, sync_playwright

from tests.browser.conftest import launched
from tests.browser.reader import Reader

_PATIENCE = 300  # s, for a machine that is shared
_CHANGES = 5

# From the key to the next frame, the list laid out anew.
FINDER = """async ([key, value]) => {
  const field = document.getElementById("find-" + key);
  const start = performance.now();
  field.value = value;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  document.body.offsetHeight;
  return performance.now() - start;
}"""
VERDICT = """() => {
  const input = document.querySelector("firedeck-worksheet[data-kind=compression] input");
  const start = performance.now();
  input.value = "1190";
  input.dispatchEvent(new Event("input", { bubbles: true }));
  return performance.now() - start;
}"""
KEYS = (
    ("words", "3"), ("words", "30"), ("words", "3041"), ("words", ""), ("layout", "vee"), ("fuel", "diesel"), ("layout", ""), ("words", "win"),
    ("fuel", ""),
)


def served(root: Path, engine: str) -> tuple[float, float]:
    """Seconds from a change of a record to its page under `serve`: the middle of several, on the clock and of the processor."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    log = (root / "serve.log").open("w+")
    server = subprocess.Popen([sys.executable, "-m", "generator", "serve", "--port", str(port)], cwd=root, stdout=log, stderr=subprocess.STDOUT)
    try:
        _until(lambda: "Serving on" in (root / "serve.log").read_text(encoding="utf-8"))
        found = [_change(root, engine, f"http://127.0.0.1:{port}/engines/{engine}.html", number, server.pid) for number in range(_CHANGES)]
    finally:
        server.kill()
        server.wait()
        log.close()
    walls, cpus = zip(*found, strict=True)
    return median(walls), median(cpus)


def _change(root: Path, engine: str, url: str, number: int, pid: int) -> tuple[float, float]:
    path = root / "specs/demo" / f"{engine}.yaml"
    text = path.read_text(encoding="utf-8")
    old = text.split("\n", 2)[1]
    time.sleep(1)  # so that the watch is at rest again, as it is when a person saves
    cpu, began = _used(pid), time.monotonic()
    path.write_text(text.replace(old, f"name: Changed {number} times (invented)", 1), encoding="utf-8")
    _until(lambda: f"Changed {number} times" in _asked(url))
    return time.monotonic() - began, _used(pid) - cpu


def _asked(url: str) -> str:
    with urllib.request.urlopen(url, timeout=_PATIENCE) as answer:
        return str(answer.read().decode())


def _used(pid: int) -> float:
    ticks = Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rsplit(")", 1)[1].split()
    return (int(ticks[11]) + int(ticks[12])) / 100


def _until(holds: object) -> None:
    assert callable(holds)
    end = time.monotonic() + _PATIENCE
    while not holds():
        if time.monotonic() > end:
            raise RuntimeError(f"nothing came within {_PATIENCE} s")
        time.sleep(0.02)


def seen(folder: Path) -> tuple[float, float, int]:
    """The slowest answer of the finder and the verdict of a worksheet on a processor six times slower, ms; bytes of a first visit, gzipped."""
    with sync_playwright() as playwright:
        browser = launched(playwright)
        reader = Reader(browser, folder, 360)
        page = reader.open("index.html")
        page.wait_for_load_state("load")
        home = _transferred(reader.asked)
        times = [page.evaluate(FINDER, list(key)) for key in KEYS]
        verdict = _verdict(Reader(browser, shutil.copytree(folder, folder.parent / "verdict"), 360).open("procedure/quennith-four.html"))
        first = max(home, *(_visit(Reader(browser, folder, 360), path) for path in ("engines/quennith-four.html", "procedure/quennith-four.html")))
        browser.close()
    return max(times), verdict, first


def _visit(reader: Reader, path: str) -> int:
    reader.open(path).wait_for_load_state("load")
    return _transferred(reader.asked)


def _transferred(urls: list[str]) -> int:
    """Bytes of all that was asked for, gzipped as a server would."""
    paths = {Path(unquote(urlsplit(url).path)) for url in urls if url.startswith("file:")}
    return sum(len(gzip.compress(path.read_bytes(), 6)) for path in paths if path.is_file())


def _verdict(page: Page) -> float:
    page.locator(".job h2").wait_for()
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 6})
    sheet = page.locator("firedeck-worksheet[data-kind=compression]")
    sheet.locator("summary").click()
    for cylinder in "1234":
        sheet.get_by_label(f"Cylinder {cylinder}, dry").fill("1200")
    return median(float(page.evaluate(VERDICT)) for _ in range(5))
