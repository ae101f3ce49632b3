"""Records to HTML fragments, SVG and JSON. Knows nothing of what frames the pages."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from generator.pages.engine import engine_page
from generator.pages.home import home_page
from generator.pages.model import as_json, engine_model, index_model, model_path
from generator.pages.page import Page, closing_notice
from generator.pages.procedure import procedure_page
from generator.pages.sources import source_pages
from generator.record.library import Library


def all_pages(library: Library, changed: Mapping[str, date]) -> Iterator[Page]:
    """Every page made from records. changed: date of the last commit by file name, where known."""
    yield home_page(library)
    yield procedure_page(None, library)
    for engine in library.engines.values():
        yield engine_page(engine, library, changed.get(engine.file.name))
        yield procedure_page(engine, library)
    yield from source_pages(library)


def all_data(library: Library, changed: Mapping[str, date]) -> Iterator[tuple[str, str]]:
    """Every JSON file: its path from the site's folder and its text."""
    yield "api/engines.json", as_json(index_model(library))
    for engine in library.engines.values():
        yield model_path(engine), as_json(engine_model(engine, library, changed.get(engine.file.name)))


__all__ = ["Page", "all_data", "all_pages", "closing_notice"]
