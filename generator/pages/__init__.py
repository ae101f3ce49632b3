"""Records to HTML fragments, SVG and JSON. Knows nothing of what frames the pages."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from generator.audit import Findings
from generator.pages.bench import model_script, model_script_path
from generator.pages.engine import POCKETS, engine_page
from generator.pages.errata import errata_page
from generator.pages.form import REGISTERED, form_page, own_page, registered_script
from generator.pages.home import home_page
from generator.pages.keys import keys_page
from generator.pages.model import as_json, engine_model, index_model, model_path
from generator.pages.page import Page, closing_notice
from generator.pages.pocket import pocket, pocket_path, style
from generator.pages.policy import policy
from generator.pages.procedure import Procedure
from generator.pages.procedure_model import PROCEDURE_MODEL, procedure_model
from generator.pages.reference import reference_pages
from generator.pages.request import request, request_path
from generator.pages.scripts import BUNDLES, bundle, bundle_path
from generator.pages.sheet import sheet, sheet_path
from generator.pages.sources import source_pages, sources_page
from generator.pages.terminal import engine_text
from generator.pages.unbroken import unbroken
from generator.record.engine import Engine
from generator.record.library import Library


@dataclass(frozen=True, slots=True)
class Only:
    """What has changed since everything was made: ids of engines, and of the sources that they cite or cited."""

    engines: frozenset[str]
    sources: frozenset[str]


def _asked(library: Library, only: Only | None) -> list[Engine]:
    return [engine for engine in library.engines.values() if only is None or engine.id in only.engines]


def all_pages(library: Library, changed: Mapping[str, date], found: Findings | None = None) -> Iterator[Page]:
    """Every page made from records. changed: date of the last commit by file name, where known. found: what the check found."""
    yield from standing_pages(library)
    yield from engine_pages(library, changed, found)


def standing_pages(library: Library) -> Iterator[Page]:
    """The pages that are there once, whatever engines there are."""
    yield home_page(library)
    procedure = Procedure(library)
    yield form_page()
    yield own_page(procedure)
    yield procedure.page(None)
    yield sources_page(library)
    yield keys_page(library)
    yield from reference_pages(library)
    yield errata_page(library)


def engine_pages(library: Library, changed: Mapping[str, date], found: Findings | None = None, only: Only | None = None) -> Iterator[Page]:
    """The pages of each engine and of each source. only: leave out what a change to these engines cannot have changed."""
    procedure = Procedure(library)
    for engine in _asked(library, only):
        yield engine_page(engine, library, changed.get(engine.file.name), found)
        yield procedure.page(engine)
        engine.forget()  # or a thousand engines fill the memory with what each page worked out
    yield from source_pages(library, only.sources if only else None)


def all_files(
    library: Library, changed: Mapping[str, date], found: Findings | None = None, only: Only | None = None
) -> Iterator[tuple[str, str]]:
    """Every file that needs no frame, data and sheets: its path from the site's folder and its text. only: as for `engine_pages`."""
    for name in BUNDLES:
        yield bundle_path(name), bundle(name)
    yield REGISTERED, registered_script(library)
    yield "api/job.schema.json", as_json(library.schemas.documents["job.schema.json"])
    yield "api/engines.json", as_json(index_model(library))
    yield PROCEDURE_MODEL, as_json(procedure_model(library))
    for engine in _asked(library, only):
        yield model_path(engine), as_json(engine_model(engine, library, changed.get(engine.file.name), found))
        yield model_script_path(engine), model_script(engine, library, changed.get(engine.file.name))
        yield sheet_path(engine), sheet(engine, library)
        yield request_path(engine), request(engine, library)
        if len(library.engines) <= POCKETS:
            yield pocket_path(engine), pocket(engine, library, changed.get(engine.file.name), found)
        engine.forget()


def forget_scripts() -> None:
    """Have scripts and styles read again: someone may be working on them."""
    for made in (bundle, style):
        made.cache_clear()


__all__ = [
    "Only", "Page", "all_files", "all_pages", "closing_notice", "engine_pages", "engine_text", "forget_scripts", "policy", "standing_pages",
    "unbroken",
]
