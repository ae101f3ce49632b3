"""What the scripts of docs/assets/record/ are told, so that it is written once: the schemas, base units, what the job needs."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

from generator.pages.engine import ORDER_GAP, TIGHTENING, TOPICS
from generator.pages.model import BASE_UNITS, SCHEMA_VERSION
from generator.record.facts import STATED
from generator.record.fasteners import STAGE_DIMENSIONS

_SCHEMA = Path(__file__).resolve().parents[2] / "schema"
_KINDS = ("engine", "figure", "source")


@cache
def record_table() -> dict[str, Any]:
    """As the scripts read it. documents: schemas by the names of their files. needs: rows of the engine page's gaps, in its order."""
    documents = {f"{kind}.schema.json": json.loads((_SCHEMA / f"{kind}.schema.json").read_text(encoding="utf-8")) for kind in _KINDS}
    return {
        "schemaVersion": SCHEMA_VERSION, "baseUnits": BASE_UNITS, "stated": STATED, "stageDimensions": STAGE_DIMENSIONS, "needs": _needs(),
        "documents": documents,
    }


def _needs() -> list[dict[str, Any]]:
    rows = [
        {"what": need.what, "topic": topic.anchor, "heading": topic.heading, "places": need.places, "unless": need.unless, "all": False}
        for topic in TOPICS for need in topic.needs
    ]
    order = {
        "what": ORDER_GAP, "topic": TIGHTENING.anchor, "heading": TIGHTENING.heading,
        "places": ("fasteners.head.tightening.orders", "fasteners.head.places"), "unless": ("", ""), "all": True,
    }
    return [*rows, order]
