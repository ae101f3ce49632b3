"""What is kept for work without a signal: over http only, told, cleared, and never in the way of a page from disk."""

from __future__ import annotations

import functools
import threading
from collections.abc import Iterator
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer

import pytest
from playwright.sync_api import Page, expect

FOUR = "quennith-four"


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *said: object) -> None:
        """Nothing: the log belongs to the test."""


@pytest.fixture
def served(site) -> Iterator[str]:
    """The built site over http on this machine."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_address[1]}/"
    server.shutdown()
    server.server_close()


@pytest.fixture
def page(browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 360, "height": 800})
    yield context.new_page()
    context.close()


# A promise is true to wait_for_function whatever it holds, so the page looks again by itself.
LOOK = """async (path) => {
  for (let tries = 0; tries < 300; tries += 1) {
    if (await caches.match(path)) return true;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  return false;
}"""


def is_kept(page: Page, path: str) -> None:
    assert page.evaluate(LOOK, path), f"{path} is not kept"


def test_an_opened_engine_and_the_shell_open_without_a_signal(page, served):
    page.goto(f"{served}engines/{FOUR}.html")
    for path in (f"procedure/{FOUR}.html", f"api/engines/{FOUR}.js", f"sheets/{FOUR}.html", "index.html", "assets/bench.js", "assets/firedeck.css"):
        is_kept(page, served + path)
    page.wait_for_function("() => navigator.serviceWorker.controller")
    page.context.set_offline(True)
    page.goto(f"{served}procedure/{FOUR}.html")
    expect(page.locator(".state-of-job")).to_contain_text("Kept on this device")
    page.locator("input[data-tick]").first.check()
    page.goto(served)
    expect(page.locator("h1")).to_be_visible()
    page.goto(f"{served}engines/{FOUR}.html")
    assert page.locator("h1").evaluate("each => getComputedStyle(each).fontFamily") != "serif"


def test_a_page_that_is_not_kept_says_so(page, served):
    page.goto(f"{served}engines/{FOUR}.html")
    is_kept(page, served + "index.html")
    page.wait_for_function("() => navigator.serviceWorker.controller")
    page.context.set_offline(True)
    page.goto(f"{served}procedure/pelmadorn-six.html")
    expect(page.locator("h1")).to_have_text("No signal, and this page is not kept on this device")


def test_it_tells_what_is_kept_and_clears_it(page, served):
    page.goto(f"{served}procedure/{FOUR}.html")
    is_kept(page, f"{served}engines/{FOUR}.html")
    kept = page.locator(".kept")
    kept.locator("summary").click()
    expect(kept).to_contain_text(f"procedure/{FOUR}.html")
    kept.get_by_role("button", name="Clear what is kept").click()
    expect(kept).to_contain_text("Nothing is kept. What you open from now on is kept again.")
    assert page.evaluate("caches.match(location.href).then((found) => found === undefined)")


def test_the_newest_page_comes_while_there_is_a_signal(page, served):
    page.goto(f"{served}index.html")
    is_kept(page, served + "index.html")
    page.wait_for_function("() => navigator.serviceWorker.controller")
    page.evaluate("""async () => { const cache = await caches.open((await caches.keys())[0]);
      await cache.put('index.html', new Response('<h1>old</h1>', { headers: { 'Content-Type': 'text/html' } })); }""")
    page.goto(f"{served}index.html")
    assert page.locator("h1").first.inner_text() != "old"


def test_from_disk_it_stays_out_of_the_way(page, site):
    page.goto((site / f"procedure/{FOUR}.html").as_uri())
    expect(page.locator(".state-of-job")).to_contain_text("Kept on this device")
    assert page.locator(".kept").count() == 0
    assert page.evaluate("!navigator.serviceWorker || navigator.serviceWorker.controller === null")
