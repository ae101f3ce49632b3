"""The scripts of the site, bundled: what one kind of page runs, in one file, without its comments and with short local names.

The sources in docs/assets stay as they are written; a bundle is only shorter to carry on a phone
and stands whole in the pocket copy.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from generator.pages.browser import BENCH, GASKET, RECORD, STATEMENTS, TABLES, tables
from generator.pages.short import SCRIPT, short

ASSETS = Path(__file__).resolve().parents[2] / "docs/assets"
# In the order in which they build on each other.
BUNDLES: dict[str, tuple[str, ...]] = {
    "tables": (TABLES,),  # no code: what the others are told
    "bench": (
        *BENCH,
        "bench/elements.js", "bench/store.js", "bench/job.js", "bench/bench.js", "bench/marks.js", "bench/drawing.js", "bench/values.js",
        "bench/walk.js", "bench/layout.js", "bench/worksheet.js", "bench/sheets.js", "bench/flatness.js", "bench/handover.js",
        "bench/jobbar.js",
    ),
    "gasket": (GASKET, "bench/gasket.js"),
    "kept": ("bench/kept.js",),
    "record": (
        "quantities/numbers.js", "quantities/units.js", "quantities/quantity.js",
        "calculations/result.js", "calculations/wording.js", "calculations/tightening.js", *STATEMENTS, *RECORD,
    ),
    "form": (
        "bench/elements.js", "bench/store.js", "bench/drawing.js", "form/draft.js", "form/form.js", "form/parts.js", "form/cite.js", "form/figure.js",
        "form/said.js", "form/block.js", "form/sets.js", "form/board.js", "form/places.js", "form/orders.js", "form/bores.js", "form/books.js",
        "form/page.js",
    ),
    "own": ("form/draft.js", "form/own.js"),
}
_STRICT, _ROOM = '"use strict";', "(window.Firedeck = window.Firedeck || {})"


def bundle_path(name: str) -> str:
    """The bundle's file, from the site's folder."""
    return f"assets/{name}.js"


@cache
def bundle(name: str) -> str:
    """The text of a bundle.

    What every script says for itself is said once for all of them: that it is strict, and the name they share.
    """
    made = tables()
    parts = [made.get(part) or (ASSETS / part).read_text(encoding="utf-8") for part in BUNDLES[name]]
    texts = (part.replace(_STRICT, "").replace(_ROOM, "Firedeck").replace("window.Firedeck", "Firedeck") for part in parts)
    return ";\n".join([_STRICT + _ROOM, *(short(SCRIPT, text) for text in texts)])
