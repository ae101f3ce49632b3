"""Fewer letters, the same meaning."""

import pytest

from generator.pages.scripts import BUNDLES, bundle
from generator.pages.short import MARKUP, SCRIPT, STYLE, short
from tests.gate import read_page


@pytest.mark.parametrize(("given", "expected"), [
    ("<p>A &amp; B,\n  &lt;b&gt; &#39;c&#39;</p>", "<p>A &amp; B,\n&lt;b> 'c'</p>"),
    ('<td data-head="If it is so">x</td>', '<td data-head="If it is so">x</td>'),
    ('<label class="tick"><input type="checkbox" data-tick="a"> <b>Do it</b></label>',
     "<label class=tick><input type=checkbox data-tick=a> <b>Do it</b></label>"),
    ("<ul>\n<li>one</li>\n<li>two</li>\n</ul>", "<ul><li>one</li><li>two</li></ul>"),
    ("<i>=&nbsp;1&nbsp;mm</i>", "<i>=\N{NO-BREAK SPACE}1\N{NO-BREAK SPACE}mm</i>"),
])
def test_markup_keeps_its_ends_its_values_and_its_words(given, expected):
    assert short(MARKUP, given) == expected


def test_markup_that_passes_the_gate_still_passes():
    body = '<h1>A &amp; &lt;B</h1><p id="x">c <a href="#x">d</a></p><label>e <input type="text" value="&quot;f&quot; &amp; g"></label>'
    assert read_page("x.html", f"<body>{short(MARKUP, body)}</body>").faults == []


def test_a_script_has_no_comments_and_short_names_of_its_own():
    assert short(SCRIPT, "// why\nfunction area(breadth) { return breadth * 2; }") == "function area(e){return e*2}"
    assert short(STYLE, "/* why */ a { color: #ffffff; }") == "a{color:#fff}"


def test_what_cannot_be_read_is_refused():
    with pytest.raises(ValueError, match="expected Identifier"):
        short(SCRIPT, "function (")


@pytest.mark.parametrize("name", BUNDLES)
def test_a_bundle_is_the_same_every_time_and_strict_once(name):
    first = bundle(name)
    bundle.cache_clear()
    assert bundle(name) == first
    assert first.startswith('"use strict";') and first.count("use strict") == 1


def test_only_a_page_with_neighbours_carries_what_asks_for_them():
    assert [name for name in BUNDLES if "serviceWorker" in bundle(name)] == ["kept"]
