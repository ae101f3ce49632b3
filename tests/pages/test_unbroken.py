"""A number keeps its unit, and nothing else of a page is touched."""

import pytest

from generator.pages.unbroken import unbroken


@pytest.mark.parametrize(("html", "kept"), [
    ("<p>to 8.0 N·m, then</p>", "<p>to 8.0~N·m, then</p>"),
    ("<p>20 lbf.ft.</p>", "<p>20~lbf.ft.</p>"),
    ("5 US qt, 75 % and 20 °C", "5~US qt, 75~% and 20~°C"),
    ("2 7/8 in", "2~7/8~in"),
])
def test_a_number_keeps_its_unit(html, kept):
    assert unbroken(html) == kept.replace("~", "\u00a0")


@pytest.mark.parametrize("html", [
    '<p title="8 mm">12 months, 3 inlet valves</p>',
    '<script type="application/json">{"a": "8 mm"}</script>',
    "<pre>max 0.10 mm</pre>",
    '<b class="qty">max 0.10 mm</b> / <span class="qty">0.004 in</span>',
    "<textarea>8 mm</textarea><select><option>8 mm</option></select>",
])
def test_what_is_copied_or_read_by_a_script_stays(html):
    assert unbroken(html) == html


def test_text_between_such_parts_is_seen_to():
    assert unbroken("8 mm<pre>8 mm</pre>8 mm<script>8 mm</script>8 mm") == "8\u00a0mm<pre>8 mm</pre>8\u00a0mm<script>8 mm</script>8\u00a0mm"
