"""The frame: the only file that knows MkDocs. Ready bodies go in, a framed site comes out.

MkDocs 1.6.1 is the last of its line and the theme's support ends on 5 May 2027;
whoever replaces them replaces this file and mkdocs.yml, nothing else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import MkDocsException
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page as FramedPage

from generator.pages import Page, closing_notice


class SiteError(Exception):
    """The frame could not be built; the message says why."""


class _Bodies(BasePlugin):  # type: ignore[type-arg, no-untyped-call]
    """Hands ready pages to MkDocs: out of the navigation tree, never through Markdown."""

    def __init__(self, pages: Iterable[Page], data: Iterable[tuple[str, str]]) -> None:
        super().__init__()
        self.pages = {page.path.removesuffix(".html") + ".md": page for page in pages}
        self.data = list(data)

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        for uri in self.pages:
            files.append(File.generated(config, uri, content="", inclusion=InclusionLevel.NOT_IN_NAV))
        for path, text in self.data:
            files.append(File.generated(config, path, content=text))
        return files

    def on_page_markdown(self, markdown: str, *, page: FramedPage, **_: Any) -> str:
        page.meta["hide"] = ["toc", "navigation"]
        if ready := self.pages.get(page.file.src_uri):
            page.title = ready.title
        return markdown

    def on_page_content(self, html: str, *, page: FramedPage, **_: Any) -> str:
        ready = self.pages.get(page.file.src_uri)
        body = ready.body if ready else html
        return f'<div class="firedeck">{body}{closing_notice()}</div>'


def frame(root: Path, folder: Path, pages: Iterable[Page], data: Iterable[tuple[str, str]]) -> None:
    """Build the framed site into an empty folder; raise SiteError if MkDocs refuses."""
    try:
        config = load_config(str(root / "mkdocs.yml"), site_dir=str(folder))
        config.plugins["bodies"] = _Bodies(pages, data)
        build(config)
    except MkDocsException as error:
        raise SiteError(str(error)) from error


def serve(root: Path, watched: Iterable[Path], make: Callable[[Path], bool], host: str, port: int) -> None:
    """Build into a folder of its own and again at every change; `make` builds there and says whether it did.

    A change that does not pass the check leaves the pages as they were.
    """
    with TemporaryDirectory(prefix="firedeck-") as name:
        folder = Path(name)

        def rebuild() -> None:
            # An error raised here would leave every browser waiting for a build that does not come.
            if not make(folder):
                print("The pages stay as they were until this is mended.", flush=True)

        rebuild()
        server = LiveReloadServer(builder=rebuild, host=host, port=port, root=str(folder))
        for path in watched:
            server.watch(str(path))
        print(f"Serving on http://{host}:{port}/ until you press Ctrl-C.", flush=True)
        try:
            server.serve()  # type: ignore[no-untyped-call]
        except KeyboardInterrupt:
            print()
        finally:
            server.shutdown()
