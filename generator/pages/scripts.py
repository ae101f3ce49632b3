"""The scripts of the site, bundled: what one kind of page runs, in one file, without its comments and indentation.

The sources in docs/assets stay as they are written; a bundle is only shorter to carry on a phone
and stands whole in the pocket copy.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from generator.pages.browser import BENCH, RECORD, STATEMENTS, UNIT_TABLE, tables

ASSETS = Path(__file__).resolve().parents[2] / "docs/assets"
# In the order in which they build on each other.
BUNDLES: dict[str, tuple[str, ...]] = {
    "bench": (
        *BENCH,
        "bench/elements.js", "bench/store.js", "bench/job.js", "bench/bench.js", "bench/marks.js", "bench/drawing.js", "bench/values.js",
        "bench/walk.js", "bench/layout.js", "bench/worksheet.js", "bench/sheets.js", "bench/flatness.js", "bench/handover.js",
        "bench/jobbar.js", "bench/kept.js",
    ),
    "record": (
        UNIT_TABLE, "quantities/numbers.js", "quantities/units.js", "quantities/quantity.js",
        "calculations/result.js", "calculations/wording.js", "calculations/tightening.js", *STATEMENTS, *RECORD,
    ),
    "form": (
        "bench/elements.js", "bench/store.js", "bench/drawing.js", "form/draft.js", "form/form.js", "form/parts.js", "form/cite.js", "form/figure.js",
        "form/said.js", "form/block.js", "form/sets.js", "form/board.js", "form/places.js", "form/orders.js", "form/bores.js", "form/books.js",
        "form/page.js",
    ),
    "own": ("form/draft.js", "form/own.js"),
}


def bundle_path(name: str) -> str:
    """The bundle's file, from the site's folder."""
    return f"assets/{name}.js"


@cache
def bundle(name: str) -> str:
    """The text of a bundle."""
    made = tables()
    return "\n".join(_short(made.get(part) or (ASSETS / part).read_text(encoding="utf-8")) for part in BUNDLES[name]) + "\n"


def _short(text: str) -> str:
    """The script without lines of comment and without indentation. No script of ours holds text over several lines."""
    lines = (line.strip() for line in text.splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//"))
