"""A warning stays on the engine's page until the record gives a reason; then it stands with the reason among the figures."""

import re
from dataclasses import replace
from html import unescape

import pytest

from generator.audit import findings
from generator.pages.engine import engine_page
from generator.pages.model import engine_model
from generator.pages.pocket import pocket
from generator.pages.warnings import warnings_of
from tests.conftest import SMALL

WIDE = SMALL.replace("[max 0.10 mm, max 0.0039 in]", "[max 0.03 mm]").replace("any:", "crosswise:") + """\
      lengthwise:
        - {printed: [max 0.3 mm], cite: book page 2}
"""
EXCEPTED = WIDE + """\
exceptions:
  - {rule: limit-out-of-family, at: faces.head.flatness.crosswise, reason: "printed <so> in both editions"}
"""


@pytest.fixture
def judged(read, library, sources):
    def do(text):
        engine, problems = read(text)
        assert problems == []
        beside = replace(library, engines={engine.id: engine}, sources=library.sources | sources)
        return engine, beside, findings(beside)

    return do


@pytest.fixture(scope="module")
def sources(library):
    return {"book": replace(next(iter(library.sources.values())), id="book", number="Book", kind="handbook")}


def text_of(html):
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


def section(body, anchor):
    found = re.search(rf'<h2 id="{anchor}">.*?</section>', body, re.S)
    return text_of(found[0]) if found else ""


def test_a_warning_stands_near_the_top_in_words_with_a_link_to_its_figure(judged):
    engine, library, found = judged(WIDE)
    body = engine_page(engine, library, None, found).body
    assert "The check warns" in section(body, "warnings")
    words = "Faces, Head face, Flatness, crosswise : max 0.03 mm is 10 times smaller than “Faces, Head face, Flatness, lengthwise” (max 0.3 mm);"
    assert words in section(body, "warnings")
    assert body.index('id="warnings"') < body.index('id="flatness"')
    target = re.search(r'<h2 id="warnings">.*?href="#([^"]+)"', body, re.S)[1]
    assert f'id="{target}"' in body
    assert section(body, "excepted") == ""


def test_an_excepted_warning_stands_among_the_figures_with_its_reason(judged):
    engine, library, found = judged(EXCEPTED)
    body = engine_page(engine, library, None, found).body
    assert section(body, "warnings") == ""
    assert "Why it stands: printed <so> in both editions" in section(body, "excepted")
    assert body.index('id="all"') < body.index('id="excepted"')


def test_the_model_and_the_pocket_copy_hold_them_too(judged):
    engine, library, found = judged(WIDE)
    model = engine_model(engine, library, None, found)
    assert [(each["rule"], each["at"]) for each in model["warnings"]] == [("limit-out-of-family", "faces.head.flatness.crosswise.0")]
    assert "The check warns" in pocket(engine, library, None, found)
    engine, library, found = judged(EXCEPTED)
    model = engine_model(engine, library, None, found)
    assert (model["warnings"], model["exceptions"][0]["reason"]) == ([], "printed <so> in both editions")


def test_only_warnings_of_the_engine_itself(judged):
    engine, library, found = judged(WIDE)
    assert len(warnings_of(engine, found).left) == 1
    assert warnings_of(library.engines["small"], None).left == ()
    other = replace(engine, file=replace(engine.file, name="other.yaml"))
    assert warnings_of(other, found).left == ()


def test_a_built_site_shows_them(project):
    name = "specs/demo/quennith-four.yaml"
    project.change(name, "max 0.03 mm", "max 0.3 mm")
    result = project.run("build")
    assert result.returncode == 0
    assert "warning" in result.stderr
    assert "The check warns" in (project.folder / "site/engines/quennith-four.html").read_text()
