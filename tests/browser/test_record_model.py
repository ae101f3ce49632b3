"""A record typed in the browser: its file and its model are those that the build makes."""

from __future__ import annotations

import hashlib
from typing import Any

import pytest

from generator.drafting import canonical
from generator.pages.engine import gaps
from generator.pages.model import engine_model
from generator.pages.scripts import bundle
from generator.reading import read_text
from generator.record.engine import read_engine
from tests.browser.twin import difference
from tests.conftest import ROOT

RECORDS = sorted((ROOT / "specs").glob("engines/*.yaml")) + sorted((ROOT / "specs").glob("demo/*.yaml"))


@pytest.fixture(scope="module")
def page(browser, tmp_path_factory):
    """A page from disk that loads the bundle and nothing else."""
    folder = tmp_path_factory.mktemp("record")
    (folder / "record.js").write_text(bundle("record"), encoding="utf-8")
    (folder / "page.html").write_text('<!doctype html>\n<meta charset="utf-8">\n<title>Record</title>\n<script src="record.js"></script>\n')
    found = browser.new_page()
    complaints: list[str] = []
    found.on("pageerror", lambda error: complaints.append(str(error)))
    found.goto((folder / "page.html").as_uri())
    assert complaints == []
    yield found
    found.close()


@pytest.fixture(scope="module")
def sources(library) -> dict[str, Any]:
    """Every registered source as its file has it."""
    files = (ROOT / "specs/sources").glob("*.yaml")
    return {path.stem: data_of(path.read_text(encoding="utf-8")) for path in files}


def data_of(text: str) -> dict[str, Any]:
    file, problems = read_text(text.encode(), "record.yaml")
    assert file and problems == []
    return file.data


def python_model(text: str, library, invented: bool) -> dict[str, Any]:
    """The model that the build makes of the text of a file."""
    file, problems = read_text(text.encode(), "record.yaml")
    assert file and problems == []
    engine, _ = read_engine(file, library.schemas.shape("engine"), invented)
    return engine_model(engine, library, None)


@pytest.mark.parametrize("path", RECORDS, ids=lambda path: path.stem)
def test_the_model_is_the_one_the_build_makes(page, library, sources, path):
    record = data_of(path.read_text(encoding="utf-8"))
    text, found = page.evaluate("([record, sources]) => [Firedeck.record.yaml(record), Firedeck.record.model(record, sources)]", [record, sources])
    assert not difference(python_model(text, library, path.parent.name == "demo"), found)


@pytest.mark.parametrize("path", RECORDS, ids=lambda path: path.stem)
def test_the_file_is_canonical_and_holds_the_same(page, library, path):
    data = data_of(path.read_text(encoding="utf-8"))
    text = page.evaluate("record => Firedeck.record.yaml(record)", data)
    assert canonical(text, library.schemas.shape("engine")) == text
    assert data_of(text) == data


@pytest.mark.parametrize("path", RECORDS, ids=lambda path: path.stem)
def test_it_lacks_what_the_page_of_the_engine_says(page, library, path):
    found = page.evaluate("record => Firedeck.record.lacks(record).map(each => each.what)", data_of(path.read_text(encoding="utf-8")))
    assert found == gaps(library.engines[path.stem])


@pytest.mark.parametrize("path", RECORDS, ids=lambda path: path.stem)
def test_a_sound_record_has_no_fault(page, sources, path):
    record = data_of(path.read_text(encoding="utf-8"))
    assert page.evaluate("([record, sources]) => Firedeck.record.faults(record, sources)", [record, sources]) == []


# FIPS 180-4, the examples published with it, and the lengths around which the padding changes.
@pytest.mark.parametrize(("text", "digest"), [
    ("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
    ("", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
    ("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"),
    ("a" * 1_000_000, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
], ids=["abc", "nothing", "two blocks", "a million"])
def test_the_hash_gives_the_published_digests(page, text, digest):
    assert page.evaluate("text => Firedeck.record.sha256(text)", text) == digest


def test_the_hash_is_right_at_every_length_and_for_every_alphabet(page):
    texts = ["é€𝄞"[: length % 4] + "x" * length for length in range(140)]
    found = page.evaluate("texts => texts.map(Firedeck.record.sha256)", texts)
    assert found == [hashlib.sha256(text.encode()).hexdigest() for text in texts]
