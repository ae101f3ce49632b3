"""The command line: python -m generator check | build | serve."""

from __future__ import annotations

import logging
import os
import sys
from pathlib import Path

import click

from generator.audit import audit
from generator.output import beside
from generator.pages import all_data, all_pages
from generator.reading import FORMATS, Problem, commit_dates, in_order
from generator.record.library import Library, load

ROOT = Path(__file__).resolve().parent.parent
RECORDS = "specs"


def _checked() -> tuple[Library, list[Problem]]:
    library = load(ROOT)
    # The audit judges records that have the right shape; others would only echo their first fault.
    broken = any(problem.level == "error" for problem in library.problems)
    return library, in_order(library.problems if broken else [*library.problems, *audit(library)])


def _has_errors(problems: list[Problem]) -> bool:
    return any(problem.level == "error" for problem in problems)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
def main() -> None:
    """Firedeck: check records, build the site."""


@main.command()
@click.option("--format", "form", type=click.Choice(sorted(FORMATS)), default="text", help="How problems are written out.")
def check(form: str) -> None:
    """Check every record, source and step."""
    library, problems = _checked()
    print(FORMATS[form](problems))
    if form == "text":
        print(f"{len(library.engines)} engines, {len(library.sources)} sources, {len(library.phases)} phases.", file=sys.stderr)
    sys.exit(_has_errors(problems))


def _make(folder: Path) -> bool:
    """Check, then build the framed site into `folder`; False if that failed, and why is printed."""
    from generator import site  # MkDocs takes a third of a second to import, and the check does without it

    library, problems = _checked()
    if problems:
        print(FORMATS["text"](problems), file=sys.stderr)
    if _has_errors(problems):
        return False
    changed = commit_dates(ROOT, RECORDS)
    try:
        site.frame(ROOT, folder, all_pages(library, changed), all_data(library, changed))
    except site.SiteError as error:
        print(f"The pages could not be framed: {error}", file=sys.stderr)
        return False
    return True


@main.command()
def build() -> None:
    """Check, then build the site into site/; a failed build leaves the last good one whole."""
    target = ROOT / "site"
    try:
        with beside(target, ROOT / ".build") as folder:
            if not _make(folder):
                sys.exit("Nothing was built; site/ is as it was.")
    except OSError as error:
        sys.exit(f"The site could not be written: {error.strerror} ({error.filename}). site/ is as it was.")
    print(f"The site is in {target}\nOpen it in a browser: {(target / 'index.html').as_uri()}")


@main.command()
@click.option("--host", default="127.0.0.1", show_default=True, help="Address to serve on.")
@click.option("--port", default=8000, show_default=True, type=click.IntRange(1, 65535), help="Port to serve on.")
def serve(host: str, port: int) -> None:
    """Serve the site and build it again at every change to a record, schema, template or page."""
    from generator import site

    watched = [ROOT / name for name in (RECORDS, "schema", "docs", "mkdocs.yml", "generator/pages/templates")]
    site.serve(ROOT, watched, _make, host, port)


if __name__ == "__main__":
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    logging.basicConfig(format="%(levelname)s: %(message)s", level=logging.WARNING)
    main(prog_name="python -m generator")
