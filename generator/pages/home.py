"""The home page: what this is, and every engine."""

from __future__ import annotations

from generator.pages.engine import engine_path
from generator.pages.page import Page, render
from generator.record.library import Library


def home_page(library: Library) -> Page:
    """Real engines first, then the invented ones, each by name."""
    by_name = sorted(library.engines.values(), key=lambda engine: engine.name)
    groups = [
        ("Engines", "real", [engine for engine in by_name if not engine.invented]),
        ("Invented engines", "invented", [engine for engine in by_name if engine.invented]),
    ]
    return render("home.html", "index.html", "Find your engine", groups=groups, paths={engine.id: engine_path(engine) for engine in by_name})
