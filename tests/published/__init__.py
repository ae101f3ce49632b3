"""Published check values as data: each with its source and how the source was read."""

import json
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent


def published(name: str, group: str) -> list[dict[str, Any]]:
    """The cases of one group of one data file, e.g. published("conversions", "factors")."""
    return json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))[group]
