"""The gate: what must hold of every page of a built site, read as text and without a browser.

Every link, anchor and image leads to a file and an id that are there; nothing that loads by itself names another
host; our own part of each page is HTML that no browser has to guess at. The frame round it belongs to the theme
and is held to balance, links, ids and hosts only.
"""

from __future__ import annotations

import json
import posixpath
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from html.entities import html5
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

from generator.pages.wording import unit_words
from generator.quantities import UNITS

RULES = (
    "tag-known", "tag-balanced", "tag-place", "attribute-once", "ampersand", "bracket", "nested", "label", "name", "alt", "one-h1", "heading-skips",
    "table-head", "scope", "drawing", "unit-parted", "id-once", "id-there", "tab-order", "link-file", "link-anchor", "other-host", "json",
)



def words(text: str) -> frozenset[str]:
    """The words of a text."""
    return frozenset(text.split())


VOID = words("area base br col embed hr img input link meta source track wbr")
TEXT_LEVEL = words(
    "a abbr b bdi bdo br cite code data dfn em i img input kbd label mark meter output progress q ruby s samp select small span strong sub sup svg "
    "textarea time u var wbr button script template noscript datalist option optgroup math picture source audio video canvas object iframe ins del "
    "map area meta link"
)
BLOCKS = words(
    "address article aside blockquote body caption col colgroup dd details dialog div dl dt fieldset figcaption figure footer form h1 h2 h3 h4 h5 h6 "
    "head header hgroup hr html legend li main menu nav ol p pre search section style summary table tbody td tfoot th thead title tr ul base"
)
DRAWING = words(
    "svg g path rect circle ellipse line polyline polygon text tspan title desc defs use marker clippath mask pattern symbol image lineargradient "
    "radialgradient stop a style"
)
# What may hold nothing but text and what belongs to it.
TEXT_ONLY = words("p h1 h2 h3 h4 h5 h6 span strong em b i small code label button dt legend summary abbr cite sub sup time q mark")
PARENTS = {
    "li": {"ul", "ol", "menu"}, "dt": {"dl"}, "dd": {"dl"}, "tr": {"tbody", "thead", "tfoot"}, "td": {"tr"}, "th": {"tr"},
    "tbody": {"table"}, "thead": {"table"}, "tfoot": {"table"}, "caption": {"table"}, "colgroup": {"table"}, "col": {"colgroup"},
    "option": {"select", "optgroup", "datalist"}, "optgroup": {"select"}, "legend": {"fieldset"}, "summary": {"details"}, "figcaption": {"figure"},
}
CHILDREN = {
    "ul": {"li"}, "ol": {"li"}, "menu": {"li"}, "dl": {"dt", "dd", "div"}, "table": {"caption", "colgroup", "thead", "tbody", "tfoot"},
    "thead": {"tr"}, "tbody": {"tr"}, "tfoot": {"tr"}, "tr": {"td", "th"}, "select": {"option", "optgroup", "hr"},
}
ANYWHERE = {"script", "template"}
CONTROLS = {"input", "select", "textarea", "meter", "output", "progress"}
PRESSED = {"button", "select", "textarea", "details", "iframe", "label"}
HOLDERS = {"a", "button", "summary", "label"}
# Attributes that load something by themselves, by tag; an empty name stands for any tag.
LOADS = {
    "src": "", "srcset": "", "imagesrcset": "", "poster": "", "data": "object", "background": "", "manifest": "", "action": "form",
    "formaction": "", "ping": "", "xlink:href": "", "codebase": "",
}
LOADING_HREF = {"link", "use", "image", "feimage", "base", "script"}
REFERENCES = (
    "for", "aria-labelledby", "aria-describedby", "aria-controls", "aria-details", "aria-owns", "aria-activedescendant", "headers", "list", "form",
)
HEADING = re.compile(r"h[1-6]$")
CSS_URL = re.compile(r"""url\(\s*(?:"([^"]*)"|'([^']*)'|([^)"']*))\s*\)|@import\s+(?:"([^"]*)"|'([^']*)')""", re.I)
CSS_COMMENT = re.compile(r"/\*.*?\*/", re.S)
# A script that asks the net for something by an address written in it.
SCRIPT_ASKS = re.compile(
    r"""(?:fetch|importScripts|import|open|sendBeacon|WebSocket|EventSource|Worker|\.src\s*=|\.href\s*=)"""
    r"""\s*\(?[^;\n]*?["'`]((?:https?:|wss?:)?//[^"'`]*)"""
)
UNREAD = re.compile(r"<(script|style)\b[^>]*>.*?</\1\s*>|<!--.*?-->", re.S | re.I)
AMPERSAND = re.compile(r"&(#\d+;|#x[0-9a-f]+;|[a-z][a-z0-9]*;)?", re.I)
BRACKET = re.compile(r"<(?![a-z/!])", re.I)
OUTER = 'class="firedeck"'
# A space that may end a line between a number and its unit, or in a mixed number. Said before it in text that is gathered over inline elements.
_NAMES = sorted({name for symbol in UNITS for name in (symbol, unit_words(symbol))}, key=len, reverse=True)
PARTED = re.compile(rf"\d (?:(?:{'|'.join(map(re.escape, _NAMES))})(?![\w·/²³(-]|\.\w)|\d+/\d)")
INLINE = TEXT_LEVEL - {"br"}
NO_BREAK = {"qty"}  # classes whose style says nowrap, in every style sheet
AS_IT_STANDS = {"pre", "script", "style", "textarea", "option", "title", "svg"}  # copied, read by a script, or never broken
SCOPES = {"col", "row", "colgroup", "rowgroup"}


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """What is wrong, where: the page from the site's folder, its line, the rule, in words."""

    page: str
    line: int
    rule: str
    says: str

    def __str__(self) -> str:
        return f"{self.page}:{self.line}: {self.rule}: {self.says}"


@dataclass(slots=True)
class Reference:
    """An address on a page. loads: the browser follows it by itself."""

    url: str
    line: int
    loads: bool


@dataclass(slots=True)
class Read:
    """What one file gives to the check of the whole site."""

    page: str
    faults: list[Fault] = field(default_factory=list)
    ids: set[str] = field(default_factory=set)
    references: list[Reference] = field(default_factory=list)


@dataclass(slots=True)
class _Open:
    """An element whose end has not come.

    ours: inside our part of the page. drawing: inside svg. said: it has a name for a screen reader.
    """

    tag: str
    line: int
    ours: bool
    drawing: bool
    attributes: dict[str, str]
    said: bool = False
    controls: int = 0
    heads: int = 0


class _PageReader(HTMLParser):
    """One pass over a page."""

    def __init__(self, page: str, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.read = Read(page)
        self.framed = OUTER in text
        self.open: list[_Open] = []
        self.levels: list[tuple[int, int]] = []
        self.named: list[tuple[str, int]] = []
        self.fors: set[str] = set()
        self.unlabelled: list[tuple[str, int]] = []
        self.said = ""  # text since the last element that begins a line
        self.feed(text)
        self.close()
        self._at_the_end()

    # -- what the parser calls

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        attributes = {name: value or "" for name, value in reversed(attrs)}
        ours = self._is_ours(tag, attributes)
        drawing = tag == "svg" or bool(self.open and self.open[-1].drawing)
        self._gather(tag, attributes)
        if tag not in INLINE:
            self._line_ends()
        if ours:
            self._strict(tag, attrs, attributes, drawing)
        if tag not in VOID:
            self.open.append(_Open(tag, self.line, ours, drawing, attributes))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag in VOID:
            return
        if not self.open.pop().drawing:
            self.fault("tag-balanced", f"<{tag}/> does not close itself in HTML")

    def handle_endtag(self, tag: str) -> None:
        if tag not in INLINE:
            self._line_ends()
        if tag in VOID:
            self.fault("tag-balanced", f"</{tag}> ends an element that has no end")
        elif tag not in (each.tag for each in self.open):
            self.fault("tag-balanced", f"</{tag}> ends nothing that is open")
        else:
            while (each := self.open.pop()).tag != tag:
                self.fault("tag-balanced", f"<{each.tag}> is not closed before </{tag}>", each.line)
            self._closed(each)

    def handle_data(self, data: str) -> None:
        self._gather_words(data)
        if not self.open or not data.strip():
            return
        top = self.open[-1]
        if top.tag == "style":
            self._css(data)
        elif top.tag == "script":
            for url in SCRIPT_ASKS.findall(data):
                self._refer(url, loads=True)
        else:
            self._say()
            if top.tag == "title" and len(self.open) > 1:
                self.open[-2].said = True
            if top.ours and top.tag in CHILDREN and top.tag != "table":
                self.fault("tag-place", f"text stands directly in <{top.tag}>")

    # -- helpers

    @property
    def line(self) -> int:
        return self.getpos()[0]

    def fault(self, rule: str, says: str, line: int | None = None) -> None:
        self.read.faults.append(Fault(self.read.page, self.line if line is None else line, rule, says))

    def _is_ours(self, tag: str, attributes: dict[str, str]) -> bool:
        if self.open and self.open[-1].ours:
            return True
        return "firedeck" in attributes.get("class", "").split() if self.framed else tag == "body"

    def _say(self) -> None:
        """Whatever is open has a name now."""
        for each in self.open:
            if each.tag in HOLDERS:
                each.said = True

    def _gather_words(self, data: str) -> None:
        if self.open and self.open[-1].ours and not any(each.tag in AS_IT_STANDS for each in self.open):
            kept = any(NO_BREAK & words(each.attributes.get("class", "")) for each in self.open)
            self.said += re.sub(r"[ \t\n]+", "_" if kept else " ", data)

    def _line_ends(self) -> None:
        for match in PARTED.finditer(self.said):
            self.fault("unit-parted", f"a line may end within {self.said[max(match.start() - 20, 0):match.end()]!r}")
        self.said = ""

    def _refer(self, url: str, loads: bool) -> None:
        self.read.references.append(Reference(url.strip(), self.line, loads))

    def _css(self, text: str) -> None:
        for url in css_urls(text):
            self._refer(url, loads=True)

    # -- gathered on the whole page

    def _gather(self, tag: str, attributes: dict[str, str]) -> None:
        if "id" in attributes:
            self._take_id(attributes["id"])
        for name in REFERENCES:
            if name in attributes:
                self.named += [(each, self.line) for each in attributes[name].split()]
        for name, value in attributes.items():
            if name in LOADS and LOADS[name] in ("", tag):
                self._load(name, value)
        if "href" in attributes:
            self._refer(attributes["href"], tag in LOADING_HREF)
        if "style" in attributes:
            self._css(attributes["style"])
        if tag == "meta" and attributes.get("http-equiv", "").lower() == "refresh":
            self._refer(attributes.get("content", "").partition("=")[2].strip("'\" "), loads=True)
        if tag == "base":
            self.fault("link-file", "<base> moves every link of the page")
        if tag == "label" and "for" in attributes:
            self.fors.add(attributes["for"])

    def _take_id(self, found: str) -> None:
        if not found or re.search(r"\s", found):
            self.fault("id-once", f"{found!r} is no id")
        if found in self.read.ids:
            self.fault("id-once", f"the id {found!r} stands twice on the page")
        self.read.ids.add(found)

    def _load(self, name: str, value: str) -> None:
        several = name.endswith("srcset") and not value.startswith("data:")
        for each in value.split(",") if several else [value]:
            self._refer(each.split()[0] if several and each.strip() else each, loads=True)

    # -- our own part

    def _strict(self, tag: str, attrs: list[tuple[str, str | None]], attributes: dict[str, str], drawing: bool) -> None:
        if len(attributes) < len(attrs):
            self.fault("attribute-once", f"<{tag}> has an attribute twice: {', '.join(name for name, _ in attrs)}")
        if tag not in (DRAWING if drawing else TEXT_LEVEL | BLOCKS) and "-" not in tag:
            self.fault("tag-known", f"<{tag}> is not known")
        if attributes.get("tabindex", "0").strip() not in ("0", "-1"):
            self.fault("tab-order", f"<{tag}> takes a place of its own in the order of the Tab key")
        if drawing:
            return
        self._place(tag)
        self._interactive(tag, attributes)
        if tag == "img" and "alt" not in attributes:
            self.fault("alt", "an image has no alt")
        if attributes.get("alt") or attributes.get("aria-label"):
            self._say()
        if HEADING.match(tag):
            self.levels.append((int(tag[1]), self.line))
        if tag == "th" and attributes.get("scope") not in SCOPES:
            self.fault("scope", "a <th> does not say what it heads")
        if tag == "th":
            for each in self.open:
                each.heads += each.tag == "table"

    def _place(self, tag: str) -> None:
        parent = self.open[-1].tag if self.open else ""
        if tag in ("dt", "dd") and parent == "div" and len(self.open) > 1:
            parent = self.open[-2].tag  # a <div> may group them
        if tag in PARENTS and parent not in PARENTS[tag]:
            self.fault("tag-place", f"<{tag}> stands in <{parent}>")
        elif parent in CHILDREN and tag not in CHILDREN[parent] | ANYWHERE:
            self.fault("tag-place", f"<{tag}> stands directly in <{parent}>")
        if tag in BLOCKS:
            for each in reversed(self.open):
                if each.tag in TEXT_ONLY and not (each.tag == "summary" and HEADING.match(tag)):
                    self.fault("tag-place", f"<{tag}> stands in <{each.tag}>, which holds text only")
                    break
                if each.tag not in TEXT_LEVEL:
                    break

    def _interactive(self, tag: str, attributes: dict[str, str]) -> None:
        hidden = tag == "input" and attributes.get("type") == "hidden"
        pressed = tag in PRESSED or (tag == "a" and "href" in attributes) or (tag == "input" and not hidden) or "tabindex" in attributes
        if pressed:
            for each in self.open:
                if each.tag in HOLDERS and not (each.tag == "label" and tag in CONTROLS):
                    self.fault("nested", f"<{tag}> stands in <{each.tag}>, and both can be pressed")
        if tag in CONTROLS and not hidden:
            self._control(tag, attributes)

    def _control(self, tag: str, attributes: dict[str, str]) -> None:
        labels = [each for each in self.open if each.tag == "label"]
        for each in labels:
            each.controls += 1
            if each.controls == 2:
                self.fault("nested", "a <label> holds two fields")
        if attributes.get("type") in ("submit", "reset", "button", "image") or tag in ("meter", "output", "progress"):
            return
        if not labels and not attributes.get("aria-label") and "aria-labelledby" not in attributes:
            self.unlabelled.append((attributes.get("id", ""), self.line))

    def _closed(self, each: _Open) -> None:
        if not each.ours:
            return
        named = each.said or each.attributes.get("aria-label") or "aria-labelledby" in each.attributes
        if each.tag in HOLDERS and not named and (each.tag != "a" or "href" in each.attributes):
            self.fault("name", f"<{each.tag}> says nothing", each.line)
        if each.tag == "svg" and not _is_told(each):
            self.fault("drawing", "a drawing says nothing: role img and a title or label, or aria-hidden where words stand beside it", each.line)
        if each.tag == "table" and not each.heads:
            self.fault("table-head", "a table has no <th>", each.line)

    # -- when the page has been read

    def _at_the_end(self) -> None:
        for each in self.open:
            self.fault("tag-balanced", f"<{each.tag}> is never closed", each.line)
        for name, line in self.named:
            if name not in self.read.ids:
                self.fault("id-there", f"no id {name!r} on this page", line)
        for name, line in self.unlabelled:
            if not name or name not in self.fors:
                self.fault("label", "a field has no label", line)
        self._headings()

    def _headings(self) -> None:
        first = [line for level, line in self.levels if level == 1]
        if len(first) != 1:
            self.fault("one-h1", f"{len(first)} <h1> on this page", first[-1] if first else 1)
        for (before, _), (level, line) in zip([(1, 0), *self.levels], self.levels, strict=False):
            if level > before + 1:
                self.fault("heading-skips", f"<h{level}> follows <h{before}>", line)


def _is_told(svg: _Open) -> bool:
    """Whether a drawing says in words what it shows, or is hidden from whoever does not see it."""
    named = svg.said or svg.attributes.get("aria-label") or svg.attributes.get("aria-labelledby")
    return svg.attributes.get("aria-hidden") == "true" or (svg.attributes.get("role") == "img" and bool(named))


def css_urls(text: str) -> Iterator[str]:
    """Addresses that a style sheet loads."""
    for match in CSS_URL.finditer(CSS_COMMENT.sub("", text)):
        yield next((group for group in match.groups() if group is not None), "")


def characters(page: str, text: str) -> Iterator[Fault]:
    """Ampersands and brackets that stand bare in our part of a page."""
    start = max(text.find(OUTER), 0)
    plain = UNREAD.sub(lambda match: re.sub(r"[^\n]", " ", match.group()), text)
    for match in AMPERSAND.finditer(plain, start):
        name = match.group(1)
        if name is None or (not name.startswith("#") and name not in html5):
            yield Fault(page, plain.count("\n", 0, match.start()) + 1, "ampersand", f"{match.group()!r} is no character; write &amp;")
    for match in BRACKET.finditer(plain, start):
        yield Fault(page, plain.count("\n", 0, match.start()) + 1, "bracket", "a bare <; write &lt;")


def read_page(page: str, text: str) -> Read:
    """Read one HTML page: its faults, ids and addresses."""
    read = _PageReader(page, text).read
    read.faults += characters(page, text)
    return read


def read_style(page: str, text: str) -> Read:
    """Read one style sheet: the addresses it loads."""
    return Read(page, references=[Reference(url, 1, True) for url in css_urls(text)])


def read_data(page: str, text: str) -> Read:
    """Read one JSON file."""
    read = Read(page)
    try:
        json.loads(text)
    except ValueError as error:
        read.faults.append(Fault(page, getattr(error, "lineno", 1), "json", str(error)))
    return read


def read_script(page: str, text: str) -> Read:
    """Read one script of our own: the addresses it asks for."""
    return Read(page, references=[Reference(url, 1, True) for url in SCRIPT_ASKS.findall(text)])


READERS = {".html": read_page, ".css": read_style, ".json": read_data, ".webmanifest": read_data, ".js": read_script}


def follow(read: Read, files: set[str], ids: dict[str, set[str]]) -> Iterator[Fault]:
    """Faults of a file's addresses. files: every file of the site. ids: those of each page."""
    for each in read.references:
        rule, says = _fault_of(each, read.page, files, ids)
        if rule:
            yield Fault(read.page, each.line, rule, says)


def _fault_of(each: Reference, page: str, files: set[str], ids: dict[str, set[str]]) -> tuple[str, str]:
    parts = urlsplit(each.url)
    if parts.scheme == "data":
        return "", ""
    if parts.scheme or parts.netloc:
        harmless = not each.loads and parts.scheme in ("https", "http", "mailto")
        return ("", "") if harmless else ("other-host", f"{each.url!r} {'loads from elsewhere' if each.loads else 'is no address of a page'}")
    target = posixpath.normpath(posixpath.join(posixpath.dirname(page), unquote(parts.path))) if parts.path else page
    if target not in files or parts.path.startswith("/") or parts.path.endswith("/"):
        return "link-file", f"{each.url!r} leads to no file of the site"
    anchor = unquote(parts.fragment)
    if anchor and target in ids and anchor not in ids[target]:
        return "link-anchor", f"{each.url!r}: no id {anchor!r} in {target}"
    return "", ""


def _read(folder: Path, name: str) -> Read:
    return READERS[Path(name).suffix](name, (folder / name).read_text(encoding="utf-8"))


def faults(folder: Path, theirs: Iterable[str] = ()) -> list[Fault]:
    """Every fault of a built site. theirs: beginnings of the paths of scripts that are not ours, which are not read."""
    files = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    reads = [_read(folder, name) for name in files if Path(name).suffix in READERS and not _of_theirs(name, theirs)]
    ids = {read.page: read.ids for read in reads if read.page.endswith(".html")}
    return sorted(fault for read in reads for fault in (*read.faults, *follow(read, files, ids)))


def _of_theirs(name: str, theirs: Iterable[str]) -> bool:
    return name.endswith(".js") and name.startswith(tuple(theirs))
