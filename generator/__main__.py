"""The command line: python -m generator new | check | fmt | diff | show | build | serve."""

from __future__ import annotations

from generator import outset

if __name__ == "__main__":
    outset.need_packages()
    outset.answer_at_once()  # loading what follows takes half a second

import atexit
import gc
import logging
import os
import sys
from pathlib import Path

import click

from generator.audit import findings
from generator.drafting import Answers, Draft, Taken, as_comment, first_moved, in_order, open_draft, record_of, start, write_whole
from generator.output import beside
from generator.pages import engine_text
from generator.reading import FORMATS, Schemas, commit_dates
from generator.record.library import SPECS, load, name_of
from generator.record.memory import uncollected
from generator.usage import WrongName, find, find_engine, run

ROOT = Path(__file__).resolve().parent.parent
# The words of the schema, as a question lists them.
FUELS = "gasoline, diesel, gas"
KINDS = "government manual, training course, standard, handbook, regulation, invented"


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
def main() -> None:
    """Firedeck: write and check records, build the site."""


@main.command()
@click.argument("files", nargs=-1, metavar="[FILE]...")
@click.option("--format", "form", type=click.Choice(sorted(FORMATS)), default="text", help="How problems are written out.")
@click.option("--notes", is_flag=True, help="Show notes too: what may be looked at, and what is right as it stands.")
def check(files: tuple[str, ...], form: str, notes: bool) -> None:
    """Check every record, source and step, or only the FILEs against all that is known."""
    paths = [find(each, ROOT) for each in files]
    with uncollected():
        library = load(ROOT, paths)
        found = findings(library)
    if files:
        found = found.of(name_of(path, ROOT) for path in paths)
    print(FORMATS[form](found.problems if notes else found.serious))
    if form == "text" and not files:
        print(f"{len(library.engines)} engines, {len(library.sources)} sources, {len(library.phases)} phases.", file=sys.stderr)
    sys.exit(found.failed)


@main.command()
@click.option("--equipment", prompt="What does the engine drive, without a maker", help="What the engine drives, without a maker: Fork-lift truck.")
@click.option("--fuel", prompt=f"What does it burn ({FUELS}; Enter if the manual does not say)", default="", show_default=False, help=f"{FUELS}.")
@click.option("--manual", prompt="Number of the manual", help="Number of the manual: TM 10-3930-653-14&P.")
@click.option("--edition", prompt="Its edition or date (Enter if none is printed)", default="", show_default=False, help="As printed.")
@click.option("--kind", prompt=f"What sort of publication ({KINDS})", default="", show_default=False, help=f"{KINDS}.")
@click.option("--place", prompt="Where in it is the engine described, such as page 3", help="Where in the manual the engine is described: page 3.")
@click.option("--read", "how", prompt="How was it read, such as from the printed page", help="How it was read: from the printed page.")
@click.option("--id", "own", prompt="Id (Enter for one made from equipment and manual)", default="", show_default=False, help="Id of the record.")
def new(equipment: str, fuel: str, manual: str, edition: str, kind: str, place: str, how: str, own: str) -> None:
    """Begin a record: a commented file to fill in, and the file of its source. What is not given as an option is asked for."""
    try:
        done = start(Answers(equipment, manual, place, kind, how, fuel, edition, own), ROOT)
    except Taken as error:
        raise WrongName(str(error)) from None
    print("\n".join(done))


@main.command()
@click.argument("old")
@click.argument("new")
def diff(old: str, new: str) -> None:
    """Say what moved between two states of a record, figure by figure, with sources: a text for a review comment."""
    drafts, schemas = [open_draft(find(each, ROOT), ROOT) for each in (old, new)], Schemas(ROOT / "schema")
    _refuse_others(drafts, "diff", ("engine",))
    read = [record_of(draft, schemas) for draft in drafts]
    problems = [problem for each in read for problem in each.problems]
    if problems:
        print(FORMATS["text"](problems), file=sys.stderr)
        sys.exit(1)
    print(as_comment(*(each.engine for each in read)))


@main.command()
@click.argument("engine", metavar="ENGINE")
def show(engine: str) -> None:
    """Show an engine, by its id or the file of its record: every figure with its source, every doubt, and what the job still lacks."""
    path = find_engine(engine, ROOT)
    _refuse_others([open_draft(path, ROOT)], "show", ("engine",))
    library, name = load(ROOT, [path]), name_of(path, ROOT)
    found = findings(library).of([name])
    record = next((each for each in library.engines.values() if each.file.name == name), None)
    if found.failed or record is None:
        print(FORMATS["text"](found.serious), file=sys.stderr)
        sys.exit(1)
    print(engine_text(record, library, commit_dates(ROOT, SPECS).get(name), found), end="")


def _refuse_others(drafts: list[Draft], command: str, kinds: tuple[str, ...]) -> None:
    """Raise WrongName at the first file of a kind that the command does not know."""
    if other := next((draft for draft in drafts if draft.kind not in kinds), None):
        raise WrongName(f"{other.name} is no record: {command} knows {' and '.join(f'{kind}s' for kind in kinds)}")


@main.command()
@click.argument("files", nargs=-1, required=True, metavar="FILE...")
@click.option("--check", "only_check", is_flag=True, help="Change nothing; fail if a file is not in canonical form.")
def fmt(files: tuple[str, ...], only_check: bool) -> None:
    """Put records in canonical form: keys in the order of the schema, statements as the printer writes them, comments kept."""
    drafts = [open_draft(find(each, ROOT), ROOT) for each in files]
    _refuse_others(drafts, "fmt", ("engine", "source"))
    schemas, found = Schemas(ROOT / "schema"), []
    for draft in drafts:
        text, problems = in_order(draft, schemas)
        found += problems
        if text == draft.text:
            continue
        if only_check:
            found.append(first_moved(draft, text))
        else:
            write_whole(draft.path, text)
            print(f"{draft.name}: put in canonical form")
    if found or only_check:
        print(FORMATS["text"](found))
    sys.exit(bool(found))


@main.command()
def build() -> None:
    """Check, then build the site into site/; a failed build leaves the last good one whole."""
    from generator.workshop import Workshop  # MkDocs takes a third of a second to import, and the check does without it

    target = ROOT / "site"
    try:
        with beside(target, ROOT / ".build") as folder:
            if not Workshop(ROOT, guarded=True).make(folder):
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
    from generator.workshop import FRAME, Workshop

    watched = [ROOT / name for name in (SPECS, "schema", *FRAME)]
    try:
        site.serve(watched, Workshop(ROOT, guarded=False).make, host, port)
    except site.SiteError as error:
        sys.exit(str(error))


if __name__ == "__main__":
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    atexit.register(gc.freeze)  # or all that was read is searched for garbage a last time
    logging.basicConfig(format="%(levelname)s: %(message)s", level=logging.WARNING)
    run(main, "python -m generator")
