"""The frame: the only file that knows MkDocs. Ready bodies go in, a framed site comes out.

MkDocs 1.6.1 is the last of its line and the theme's support ends on 5 May 2027;
whoever replaces them replaces this file and mkdocs.yml, nothing else.
"""

from __future__ import annotations

import gc
import re
import shutil
import socket
from collections.abc import Callable, Iterable, Mapping
from html import escape
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

from generator.pages import Page, closing_notice, policy, unbroken

_INLINE = re.compile(r"<script>(.*?)</script>", re.DOTALL)

# What the theme brings and no page of ours uses: its scripts, and a list of pages that needs the site's own address.
_UNUSED = ("assets/javascripts/", "sitemap.xml")


class SiteError(Exception):
    """The frame could not be built; the message says why."""


class _Shells(BasePlugin):  # type: ignore[type-arg, no-untyped-call]
    """Has MkDocs make a shell for each of a few pages, and one at each depth of folders for all others.

    MkDocs keeps every page it makes in memory until the last is written. A thousand engines are three thousand pages
    that differ in title and body only, so it makes their shells, and the pages are poured into these one by one.
    """

    def __init__(self, titles: Mapping[str, str], guarded: bool) -> None:
        super().__init__()
        self.guarded = guarded
        self.titles = {_source(path): title for path, title in titles.items()}

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        # A page for addresses that lead nowhere works at the root of a server only, not on a disk.
        config.theme.static_templates.clear()
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        for file in [each for each in files if each.src_uri.startswith(_UNUSED) or each.src_uri.endswith(".map")]:
            files.remove(file)
        for uri in self.titles:
            files.append(File.generated(config, uri, content="", inclusion=InclusionLevel.NOT_IN_NAV))
        return files

    def on_page_markdown(self, markdown: str, *, page: FramedPage, **_: Any) -> str:
        page.meta["hide"] = ["toc", "navigation"]
        if title := self.titles.get(page.file.src_uri):
            page.title = title
        return markdown

    def on_page_content(self, html: str, *, page: FramedPage, **_: Any) -> str:
        # In a handwritten table every header stands over its column.
        body = _BODY if page.file.src_uri in self.titles else unbroken(html.replace("<th>", '<th scope="col">'))
        # The frame's link past its header goes to the first entry of this table.
        page.toc = TableOfContents([AnchorLink("Content", "content", 1)])
        return f'<div class="firedeck" id="content" tabindex="-1">{body}{closing_notice()}</div>'

    def on_post_page(self, output: str, *, page: FramedPage, **_: Any) -> str:
        if not self.guarded:
            return output
        # The frame's own inline scripts may run; whatever a body holds may not.
        scripts = _INLINE.findall(output.replace(page.content or "", ""))
        return output.replace('<meta charset="utf-8">', f'<meta charset="utf-8">{policy(scripts, files=True)}', 1)


# What stands in a shell for the title and the body of a page. The theme adds a heading of its own where it sees none.
_TITLE, _BODY = "firedeck title", "<h1>firedeck body</h1>"
_DEEPEST = 2  # folders above a page, at most


def _shell(depth: int) -> str:
    return "shell/" * depth + "shell.html"


def _source(path: str) -> str:
    return path.removesuffix(".html") + ".md"


class Frame:
    """What stands round every body, and the folder that the framed site is made in.

    Making one empties the folder and puts there what needs no body: handwritten pages, styles, scripts. Raise SiteError
    if MkDocs refuses. standing: the pages that the navigation or a handwritten page may name.
    guarded: with a policy of what pages may run. Pages that are served while someone works on them go without, because
    the server puts a script of its own into each.
    """

    def __init__(self, root: Path, folder: Path, standing: Iterable[Page], *, guarded: bool = True) -> None:
        self.folder = folder
        titles = {page.path: page.title for page in standing} | {_shell(depth): _TITLE for depth in range(_DEEPEST + 1)}
        try:
            config = load_config(str(root / "mkdocs.yml"), site_dir=str(folder), strict=True)
            config.plugins["shells"] = _Shells(titles, guarded)
            build(config)
        except MkDocsException as error:
            raise SiteError(str(error)) from error
        self.shells = {path: (folder / path).read_text(encoding="utf-8") for path in titles}
        (folder / _shell(0)).unlink()
        shutil.rmtree(folder / "shell")

    def put(self, pages: Iterable[Page], data: Iterable[tuple[str, str]]) -> None:
        """Write pages into their frame, and files as they are, one at a time."""
        for page in pages:
            self._write(page.path, self._around(page))
        for path, text in data:
            self._write(path, text)

    def _around(self, page: Page) -> str:
        shell = self.shells.get(page.path) or self.shells[_shell(page.path.count("/"))].replace(_TITLE, escape(page.title, quote=False))
        before, after = shell.split(_BODY)
        return f"{before}{page.body}{after}"

    def _write(self, path: str, text: str) -> None:
        file = self.folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")


def serve(watched: Iterable[Path], make: Callable[[Path], bool], host: str, port: int) -> None:
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

        server = LiveReloadServer(builder=rebuild, host=host, port=port, root=str(folder))
        for path in watched:
            server.watch(str(path))
        # It watches from before the first build, or a change made meanwhile would never be seen; it must not start twice.
        server.observer.start()
        server.observer.start = _nothing  # type: ignore[method-assign]
        rebuild()
        # What was read for the first build stays. Searched for garbage now and then, it would hold up a page by a second.
        gc.collect()
        gc.freeze()
        print(f"Serving on http://{host}:{port}/ until you press Ctrl-C.", flush=True)
        try:
            server.serve()  # type: ignore[no-untyped-call]
        except KeyboardInterrupt:
            print()
        finally:
            server.shutdown()


def _nothing() -> None:
    pass


def _try(host: str, port: int) -> None:
    """Raise SiteError for an address that is taken or is none, before anything is built."""
    try:
        family, *_ = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        socket.create_server((host, port), family=family).close()
    except OSError as error:
        said = (error.strerror or str(error)).split(" (")[0]
        raise SiteError(f"Nothing can be served on {host}:{port}: {said}. Name another with --port or --host.") from error
