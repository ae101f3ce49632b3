"""The frame: the only file that knows MkDocs. Ready bodies go in, a framed site comes out.

MkDocs 1.6.1 is the last of its line and the theme's support ends on 5 May 2027;
whoever replaces them replaces this file and mkdocs.yml, nothing else.
"""

from __future__ import annotations

import re
import socket
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
from mkdocs.structure.toc import AnchorLink, TableOfContents

from generator.pages import Page, closing_notice, policy

_INLINE = re.compile(r"<script>(.*?)</script>", re.DOTALL)

# What the theme brings and no page of ours uses: its scripts, and a list of pages that needs the site's own address.
_UNUSED = ("assets/javascripts/", "sitemap.xml")


class SiteError(Exception):
    """The frame could not be built; the message says why."""


class _Bodies(BasePlugin):  # type: ignore[type-arg, no-untyped-call]
    """Hands ready pages to MkDocs: out of the navigation tree, never through Markdown."""

    def __init__(self, pages: Iterable[Page], data: Iterable[tuple[str, str]], guarded: bool) -> None:
        super().__init__()
        self.guarded = guarded
        self.pages = {page.path.removesuffix(".html") + ".md": page for page in pages}
        self.data = list(data)

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        # A page for addresses that lead nowhere works at the root of a server only, not on a disk.
        config.theme.static_templates.clear()
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        for file in [each for each in files if each.src_uri.startswith(_UNUSED) or each.src_uri.endswith(".map")]:
            files.remove(file)
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
        # The frame's link past its header goes to the first entry of this table.
        page.toc = TableOfContents([AnchorLink("Content", "content", 1)])
        return f'<div class="firedeck" id="content" tabindex="-1">{body}{closing_notice()}</div>'

    def on_post_page(self, output: str, *, page: FramedPage, **_: Any) -> str:
        if not self.guarded:
            return output
        # The frame's own inline scripts may run; whatever a body holds may not.
        scripts = _INLINE.findall(output.replace(page.content or "", ""))
        return output.replace('<meta charset="utf-8">', f'<meta charset="utf-8">{policy(scripts, files=True)}', 1)


def frame(root: Path, folder: Path, pages: Iterable[Page], data: Iterable[tuple[str, str]], *, guarded: bool = True) -> None:
    """Build the framed site into an empty folder; raise SiteError if MkDocs refuses.

    guarded: with a policy of what pages may run. Pages that are served while someone works on them go
    without, because the server puts a script of its own into each.
    """
    try:
        config = load_config(str(root / "mkdocs.yml"), site_dir=str(folder))
        config.plugins["bodies"] = _Bodies(pages, data, guarded)
        build(config)
    except MkDocsException as error:
        raise SiteError(str(error)) from error


def serve(root: Path, watched: Iterable[Path], make: Callable[[Path], bool], host: str, port: int) -> None:
    """Build into a folder of its own and again at every change; `make` builds there and says whether it did.

    A change that does not pass the check leaves the pages as they were. Raise SiteError
    where the address cannot be served on.
    """
    _try(host, port)
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


def _try(host: str, port: int) -> None:
    """Raise SiteError for an address that is taken or is none, before anything is built."""
    try:
        family, *_ = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        socket.create_server((host, port), family=family).close()
    except OSError as error:
        said = (error.strerror or str(error)).split(" (")[0]
        raise SiteError(f"Nothing can be served on {host}:{port}: {said}. Name another with --port or --host.") from error
