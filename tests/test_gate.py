"""The built site passes the gate, and each check of the gate fails on a page made to break it."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.conftest import ROOT
from tests.gate import NO_BREAK, RULES, Fault, css_urls, faults

THEIRS = ("assets/javascripts/",)

GOOD = """\
<h1>Title</h1>
<p>Words &amp; <em>more</em> &#8212; 8.0&nbsp;N·m<br>next <a href="other.html#place">there</a> <a href="#title">here</a></p>
<h2 id="title">Part</h2><h3>Smaller</h3><h2>Next</h2>
<ul><li>One<ul><li>Two</li></ul></li></ul>
<dl><div><dt>Name</dt><dd><p>Value</p></dd></div></dl>
<form><p><label for="word">Word</label> <input id="word" type="search"></p><label><input type="checkbox"> <span>Done</span></label>
<select aria-label="Fuel"><option>any</option></select><input type="hidden" name="x"><button>Go</button></form>
<table><caption>Sizes</caption><thead><tr><th scope="col">Size</th></tr></thead><tbody><tr><td>1</td></tr></tbody></table>
<details><summary><h2>More</h2></summary><p>Text</p></details>
<svg role="img" aria-labelledby="drawn"><title id="drawn">Drawing</title><path d="M0 0"/><text>1</text></svg>
<svg aria-hidden="true"><path d="M0 0"/></svg><svg role="img"><title>x</title></svg>
<p>54 <span class="qty">8.0 N·m</span> in 12 months</p><pre>8.0 mm</pre>
<img src="picture.png" alt=""> <img src="data:image/png;base64,AA==" alt="dot">
<a href="https://example.org/">elsewhere, if tapped</a> <my-sheet><p>Own element</p></my-sheet>
<script>if (1 < 2 && "<div>") { call("&nothing"); }</script><style>p { background: url(picture.png); }</style>
"""
OTHER = '<h1>Other</h1><p id="place">x</p>'
FRAME = '<!doctype html><html lang="en"><head><title>t</title></head><body><nav></nav><div class="firedeck">{}</div></body></html>'

Site = Callable[..., list[Fault]]


@pytest.fixture
def gate(tmp_path: Path) -> Site:
    """Write a small site, its index with this body, and put it through the gate."""

    def do(body: str, frame: str = FRAME, **files: str) -> list[Fault]:
        pages = {"index.html": frame.format(body), "other.html": FRAME.format(OTHER), "picture.png": "", **files}
        for name, text in pages.items():
            path = tmp_path / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        return faults(tmp_path)

    return do


def test_every_page_of_the_built_site_passes(site: Path):
    found = faults(site, THEIRS)
    assert not found, "\n".join(map(str, found[:50]))


def test_a_good_page_passes(gate: Site):
    assert gate(GOOD) == []


BROKEN = {
    "tag-known": [
        "<centre>x</centre>",
        "<font>x</font>",
        "<svg role=img aria-label=x><blob/></svg>",
    ],
    "tag-balanced": [
        "<p>open",
        "<p><em>x</p></em>",
        "</p>",
        "<div/>",
        "x</br>",
        "<ul><li>one<li>two</ul>",
    ],
    "tag-place": [
        "<p><div>x</div></p>",
        "<span><p>x</p></span>",
        "<li>x</li>",
        "<ul><p>x</p></ul>",
        "<ul>x</ul>",
        "<table><tr><th>x</th></tr></table>",
        "<dl><p>x</p></dl>",
        "<h2><p>x</p></h2>",
        "<p><strong><ul><li>x</li></ul></strong></p>",
        "<dt>x</dt>",
        "<select aria-label=x><p>x</p></select>",
    ],
    "attribute-once": [
        '<p class="a" class="b">x</p>',
    ],
    "ampersand": [
        "<p>salt & pepper</p>",
        "<p>&nosuch;</p>",
        '<p title="a & b">x</p>',
        "<p>&amp x</p>",
    ],
    "bracket": [
        "<p>1 < 2</p>",
    ],
    "nested": [
        '<a href="other.html"><button>x</button></a>',
        '<button><a href="other.html">x</a></button>',
        '<label><input type="checkbox"> <a href="other.html">x</a></label>',
        "<label>x <input><input></label>",
        '<a href="other.html"><span tabindex="0">x</span></a>',
        "<label>x<label>y</label></label>",
    ],
    "label": [
        "<input>",
        '<input id="y"><label for="title">x</label>',
        "<select><option>x</option></select>",
        "<textarea></textarea>",
    ],
    "name": [
        '<a href="other.html"></a>',
        "<button> </button>",
        '<a href="other.html"><img src="picture.png" alt=""></a>',
        "<label><input></label>",
    ],
    "alt": [
        '<img src="picture.png">',
    ],
    "one-h1": [
        "<h1>second</h1>",
    ],
    "heading-skips": [
        "<h2>x</h2><h4>y</h4>",
    ],
    "table-head": [
        "<table><tbody><tr><td>x</td></tr></tbody></table>",
    ],
    "scope": [
        "<table><thead><tr><th>x</th></tr></thead></table>",
        '<table><thead><tr><th scope="cell">x</th></tr></thead></table>',
    ],
    "drawing": [
        '<svg><path d="M0 0"/></svg>',
        '<svg role="img"><path d="M0 0"/></svg>',
        '<svg role="img"><title></title><text>1</text></svg>',
        '<svg role="img"><g><title>x</title></g></svg>',
        '<svg aria-label="x"><path d="M0 0"/></svg>',
    ],
    "unit-parted": [
        "<p>to 8.0 N·m, then</p>",
        "<p>8.0<br></p><p>1 mm.</p>",
        "<p>8.0 <em>lbf.ft</em></p>",
        '<p><span class="qty">8.0</span> mm</p>',
        "<p>2 7/8&nbsp;in</p>",
        "<table><tbody><tr><th scope=row>at 20 °C</th></tr></tbody></table>",
    ],
    "id-once": [
        '<p id="title">x</p>',
        '<p id="">x</p>',
        '<p id="a b">x</p>',
    ],
    "id-there": [
        '<p aria-labelledby="nothing">x</p>',
        '<label for="nothing">x</label>',
        '<p aria-describedby="title nothing">x</p>',
    ],
    "tab-order": [
        '<p tabindex="1">x</p>',
        '<p tabindex="x">x</p>',
    ],
    "link-file": [
        '<a href="missing.html">x</a>',
        '<a href="Other.html">x</a>',
        '<a href="../index.html">x</a>',
        '<a href="/other.html">x</a>',
        '<a href="sub/">x</a>',
        '<img src="missing.png" alt="">',
        '<img srcset="picture.png 1x, missing.png 2x" src="picture.png" alt="">',
        "<style>p { background: url('missing.png'); }</style>",
        '<p style="background: url(missing.png)">x</p>',
        '<script src="missing.js"></script>',
        '<base href="sub/index.html">',
        '<form action="missing.html">x</form>',
    ],
    "link-anchor": [
        '<a href="other.html#nowhere">x</a>',
        '<a href="#nowhere">x</a>',
        '<a href="index.html#Title">x</a>',
    ],
    "other-host": [
        '<img src="https://example.org/x.png" alt="">',
        '<img src="//example.org/x.png" alt="">',
        '<script src="http://example.org/x.js"></script>',
        '<link rel="stylesheet" href="https://example.org/x.css">',
        '<style>@import "https://example.org/x.css";</style>',
        "<style>@import url(//example.org/x.css);</style>",
        '<p style="background: url(https://example.org/x)">x</p>',
        '<form action="https://example.org/">x</form>',
        '<img src="picture.png" srcset="//example.org/y 2x" alt="">',
        '<meta http-equiv="refresh" content="0; url=https://example.org/">',
        '<link rel="manifest" href="https://example.org/m">',
        "<script>fetch('https://example.org/x')</script>",
        "<script>let s = document.createElement('script'); s.src = 'https://example.org/x';</script>",
        '<script>new WebSocket("wss://example.org")</script>',
        '<a href="other.html" ping="https://example.org/">x</a>',
        '<button formaction="https://example.org/">x</button>',
        '<a href="javascript:x()">x</a>',
        '<svg role="img" aria-label="x"><use href="https://example.org/x.svg#a"/></svg>',
        '<video poster="https://example.org/x"></video>',
        '<iframe src="//example.org"></iframe>',
        '<object data="https://example.org/x"></object>',
        '<link rel="preconnect" href="//example.org">',
    ],
}


@pytest.mark.parametrize(("rule", "bad"), [(rule, bad) for rule, cases in BROKEN.items() for bad in cases])
def test_a_broken_page_fails_by_its_rule(gate: Site, rule: str, bad: str):
    found = gate(GOOD + bad)
    assert rule in {fault.rule for fault in found}, found
    assert {fault.page for fault in found} == {"index.html"}
    assert max(fault.line for fault in found) == FRAME.format(GOOD + bad).count("\n") + 1


@pytest.mark.parametrize("sheet", ["docs/assets/firedeck.css", "generator/pages/templates/sheet.css"])
def test_what_the_gate_takes_for_unbroken_is_styled_so(sheet: str):
    style = (ROOT / sheet).read_text(encoding="utf-8")
    for name in NO_BREAK:
        assert re.search(rf"\.{name} {{ white-space: nowrap; }}", style)


def test_every_rule_has_a_page_that_breaks_it():
    assert {*BROKEN, "json"} == set(RULES)


def test_only_our_part_is_held_to_the_strict_rules(gate: Site):
    odd = "<font>x</font><h4>x</h4><input><table></table>"
    assert gate(GOOD, frame=FRAME.replace("<nav>", f"<nav>{odd}")) == []
    assert gate(GOOD, frame=FRAME.replace("</div></body>", "</div><font>x</font></body>")) == []
    assert {fault.rule for fault in gate(GOOD, frame="<html><body>{}<font>x</font></body></html>")} == {"tag-known"}


@pytest.mark.parametrize(("odd", "rule"), [
    ("<p>open", "tag-balanced"),
    ('<p id="title">x</p>', "id-once"),
    ('<a href="gone.html">x</a>', "link-file"),
    ('<img src="//example.org">', "other-host"),
])
def test_the_frame_is_held_to_balance_links_ids_and_hosts(gate: Site, odd: str, rule: str):
    assert rule in {fault.rule for fault in gate(GOOD, frame=FRAME.replace("<nav>", f"<nav>{odd}"))}


def test_links_are_followed_up_and_down(gate: Site):
    deep = '<h1>Deep</h1><p><a href="../../index.html#title">up</a> <a href="next.html">on</a> <a href="next%2Ehtml?x=1#t%2e">on</a></p>'
    files = {"a/b/page.html": FRAME.format(deep), "a/b/next.html": FRAME.format('<h1 id="t.">Next</h1>')}
    assert gate(GOOD, **files) == []
    files["a/b/page.html"] = FRAME.format(deep.replace("../../", "../"))
    assert [(fault.page, fault.rule) for fault in gate(GOOD, **files)] == [("a/b/page.html", "link-file")]


def test_style_sheets_scripts_and_data_are_read(gate: Site):
    bad = {
        "assets/a.css": "/* url(gone.png) */ p { background: url(../picture.png) } q { background: url('gone.png') }",
        "assets/b.css": '@import "https://example.org/x.css";', "assets/c.js": "fetch('https://example.org/')", "api/d.json": '{"a": 1,}',
    }
    found = {(fault.page, fault.rule) for fault in gate(GOOD, **bad)}
    assert found == {("assets/a.css", "link-file"), ("assets/b.css", "other-host"), ("assets/c.js", "other-host"), ("api/d.json", "json")}


def test_addresses_of_a_style_sheet():
    assert list(css_urls("""a{b:url(x)} c{d:url( "y y" )} @import 'z'; e{f:url()} /* url(n) */""")) == ["x", "y y", "z", ""]


def test_a_hundred_long_pages_take_seconds(tmp_path: Path, site: Path):
    text = (site / "procedure/quennith-four.html").read_text(encoding="utf-8")
    for number in range(100):
        (tmp_path / f"{number}.html").write_text(text, encoding="utf-8")
    start = time.process_time()  # of this process alone, however busy the machine is
    faults(tmp_path)
    assert time.process_time() - start < 10
