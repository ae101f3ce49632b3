"""Should a text ever come out as markup, the browser still refuses to run it."""

import shutil

import pytest

from tests.browser.reader import Reader

HARM = '<img src="x.png" onerror="document.title=\'harmed\'"><script>document.title="harmed"</script>'
KINDS = ["engines/quennith-four.html", "procedure/quennith-four.html", "index.html", "sheets/quennith-four.html", "pocket/quennith-four.html"]


@pytest.mark.parametrize("path", KINDS)
def test_markup_that_slipped_in_does_not_run(browser, site, tmp_path, path):
    folder = shutil.copytree(site, tmp_path / "site")
    file = folder / path
    text = file.read_text(encoding="utf-8")
    assert "Content-Security-Policy" in text
    file.write_text(text.replace("</h1>", f"</h1>{HARM}", 1), encoding="utf-8")
    reader = Reader(browser, folder, 360)
    page = reader.open(path)
    page.wait_for_load_state("load")
    assert page.title() != "harmed"
    assert any("Content Security Policy" in each for each in reader.complaints)


@pytest.mark.parametrize("path", KINDS)
def test_the_policy_lets_the_page_itself_work(browser, site, path):
    reader = Reader(browser, site, 360)
    reader.open(path).wait_for_load_state("load")
    assert reader.complaints == []
