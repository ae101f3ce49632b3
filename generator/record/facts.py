"""Facts: every figure, designation and statement of a record, with its source, found by walking the data along the schema."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Container, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from generator.quantities import DISAGREE, Agreement, Statement, StatementError, agreement, conversions, parse, units_of
from generator.reading import At, Problem, ReadFile, Shape, near_name


@dataclass(frozen=True, slots=True)
class Cite:
    """Source id and the place in it."""

    source: str
    place: str

    @staticmethod
    def read(text: str) -> Cite:
        """Split 'id place' at the first space."""
        source, _, place = text.partition(" ")
        return Cite(source, place.strip())


@dataclass(frozen=True, slots=True)
class Doubt:
    """kind: manual, scan or rounding. says: why, in words."""

    kind: str
    says: str


@dataclass(frozen=True, slots=True)
class Compared:
    """When a second person held a figure against the page, and which edition that was. day: as 2026-03-14."""

    day: str
    edition: str


@dataclass(frozen=True)
class Fact:
    """One thing a source says.

    at: where it stands in the record. labels: what it is, from the section down.
    kind: "figure" (then `printed` holds its statements, leading unit first),
    "designation", "statement" or "word" (then `text` holds it).
    descriptive: nothing is limited, so conversions round to the nearest.
    """

    at: At
    labels: tuple[str, ...]
    kind: str
    cite: Cite | None
    text: str = ""
    printed: tuple[Statement, ...] = ()
    called: str = ""
    when: str = ""
    doubt: Doubt | None = None
    status: str = "transcribed"
    compared: Compared | None = None
    superseded_by: str = ""
    descriptive: bool = False

    @property
    def key(self) -> At:
        """The place in the record without the position in a list of figures."""
        return self.at[:-1] if self.kind == "figure" else self.at

    @cached_property
    def agreement(self) -> Agreement:
        """Whether the printed units agree."""
        return agreement(self.printed)

    @cached_property
    def conversions(self) -> tuple[Statement, ...]:
        """The units a reader lacks; none at all where the printed units disagree."""
        return () if self.agreement.verdict == DISAGREE else tuple(conversions(self.printed, self.descriptive))


# Keys whose text is a printed statement.
STATED = ("printed", "from", "by", "to")
# Keys that say something about the facts around them, or that give the record its
# structure and are read by engine.py and fasteners.py.
_NO_FACTS = {
    "cite", "label", "when", "doubt", "status", "compared", "descriptive",
    "id", "name", "sources", "exceptions", "geometry", "orders", "order", "per", "walk", "do",
    "at", "heads", "group", "opens", "provided_by",
}


@dataclass
class Walk:
    """Walks one record along its schema, gathering facts and the problems of its statements."""

    file: ReadFile
    facts: list[Fact]
    problems: list[Problem]
    cites: dict[str, Cite] = field(default_factory=dict)

    def block(self, data: Any, shape: Shape, at: At, labels: tuple[str, ...], cite: str | None) -> None:
        """Walk a mapping: the schema's keys in the schema's order, then the writer's own names in theirs."""
        if not isinstance(data, dict):
            return
        cite = own_cite(data, shape.children) or cite
        known = [key for key in shape.children if key in data and key not in _NO_FACTS]
        for key in known:
            self.value(data[key], shape.children[key], (*at, key), labels, cite)
        for key in data:
            if key not in shape.children and shape.others:
                self.value(data[key], shape.others, (*at, key), (*labels, _own_name(key, data[key])), cite, named=True)

    def value(self, data: Any, shape: Shape, at: At, labels: tuple[str, ...], cite: str | None, named: bool = False) -> None:
        """Walk whatever stands at one key."""
        if not named and shape.title and not _only_names(shape):
            labels = (*labels, shape.title + _called(data))
        if shape.leaf == "figures":
            self.figures(data, shape, at, labels, cite)
        elif shape.leaf:
            self.said(data, shape.leaf, at, labels, cite)
        elif isinstance(data, dict):
            self.block(data, shape, at, labels, cite)
        elif isinstance(data, list):
            self.items(data, shape, at, labels, cite)
        else:
            self.facts.append(Fact(at, labels, "word", self.cite(cite), str(data)))

    def cite(self, text: str | None) -> Cite | None:
        """The cite that a text is: one object for all facts of a block that share it."""
        if not text:
            return None
        if text not in self.cites:
            self.cites[text] = Cite.read(text)
        return self.cites[text]

    def said(self, data: Any, leaf: str, at: At, labels: tuple[str, ...], cite: str | None) -> None:
        """Read a designation or a statement."""
        if isinstance(data, dict):
            text = data.get("as" if leaf == "designation" else "says", "")
            self.facts.append(Fact(at, labels, leaf, text=str(text), **self.about(data, cite)))

    def about(self, item: dict[str, Any], cite: str | None) -> dict[str, Any]:
        """What a fact has beside what it says."""
        doubt, compared = item.get("doubt"), item.get("compared")
        return {
            "cite": self.cite(own_cite(item) or cite),
            "called": str(item.get("label", "")),
            "when": str(item.get("when", "")),
            "doubt": Doubt(str(doubt.get("kind", "")), str(doubt.get("says", ""))) if isinstance(doubt, dict) else None,
            "status": str(item.get("status", "transcribed")),
            "compared": Compared(str(compared.get("day", "")), str(compared.get("edition", ""))) if isinstance(compared, dict) else None,
            "superseded_by": str(item.get("superseded_by", "")),
        }

    def items(self, data: list[Any], shape: Shape, at: At, labels: tuple[str, ...], cite: str | None) -> None:
        """Walk a list of blocks; lists of plain words or numbers are read by whoever knows what they mean."""
        if shape.items is None:
            return
        for index, item in enumerate(data):
            if isinstance(item, dict):
                label = item.get("label")
                trail = (*labels, str(label)) if label else (*labels[:-1], f"{shape.items.title} {index + 1}")
                self.value(item, shape.items, (*at, index), trail, cite, named=True)

    def figures(self, data: Any, shape: Shape, at: At, labels: tuple[str, ...], cite: str | None) -> None:
        """Read a list of figures and check their kind of unit."""
        for index, item in enumerate(data if isinstance(data, list) else []):
            if not isinstance(item, dict):
                continue
            here = (*at, index)
            printed = tuple(self.statements(item.get("printed"), here, shape.node.get("dimension")))
            descriptive = bool(shape.node.get("descriptive"))
            self.facts.append(Fact(here, labels, "figure", printed=printed, descriptive=descriptive, **self.about(item, cite)))

    def statements(self, data: Any, at: At, dimension: str | None) -> Iterator[Statement]:
        """Parse the printed statements of one figure."""
        for index, text in enumerate(data if isinstance(data, list) else []):
            if isinstance(text, str) and (statement := self.statement(text, (*at, "printed", index), dimension)):
                yield statement

    def statement(self, text: str, at: At, dimension: str | None) -> Statement | None:
        """Parse one statement; problems are gathered, None comes back if it is none."""
        try:
            found = parse(text)
        except StatementError as error:
            self.problems.append(self.file.problem(at, "statement", str(error), _hint(error, dimension, text)))
            return None
        if dimension and found.unit and found.unit.dimension != dimension:
            message = f"{found} measures {found.unit.dimension}; {dimension} was expected here"
            hint = f"look at the page again, or move the figure to its own key; units for {dimension}: {', '.join(units_of(dimension))}"
            self.problems.append(self.file.problem(at, "unit-kind", message, hint))
        if str(found) != text:
            hint = f"write it as: {found}"
            self.problems.append(self.file.problem(at, "canonical-form", f"{text!r} is understood, but written otherwise here", hint, "note"))
        return found


def _hint(error: StatementError, dimension: str | None, text: str) -> str:
    """How to mend a statement; the units of the dimension that belongs here instead of all units."""
    spelt = re.sub(r"(?<=\d)\s*(?=[\u00bc-\u00be\u2150-\u215e])", " ", text)
    spelt = unicodedata.normalize("NFKC", spelt).replace("\u2044", "/") if spelt != text or _FRACTION.search(text) else text
    if spelt != text:
        return f"write the fraction with a stroke: {spelt}"
    if error.unit is None or not dimension:
        return error.hint
    units = units_of(dimension)
    near = next((unit for unit in units if error.hint == f"did you mean {unit}?"), None) or near_name(error.unit, units)
    listed = f"units for {dimension}: {', '.join(units)}"
    if error.unit and not near and not error.hint.startswith(("write one of", "did you mean")):
        return error.hint
    return f"did you mean {near}? ({listed})" if near else f"write the unit that is printed; {listed}"


_FRACTION = re.compile(r"[\u00bc-\u00be\u2150-\u215e]")


def _only_names(shape: Shape) -> bool:
    """A map whose keys are the writer's own names: its title says less than the names do."""
    return shape.others is not None and not shape.children


def _called(data: Any) -> str:
    label = data.get("label") if isinstance(data, dict) and "printed" not in data and "says" not in data and "as" not in data else None
    return f", called {label}" if label else ""


def _own_name(key: str, data: Any) -> str:
    label = data.get("label") if isinstance(data, dict) else None
    return str(label) if label else key.removeprefix("other_").replace("_", " ")


_LIKE_CITE = re.compile(r"cit|sourc|ref|page|manual")


def own_cite(block: dict[str, Any], known: Container[str] = ()) -> str | None:
    """The block's own cite. One under a wrong key or of a wrong form is reported as that; it is not missing as well."""
    if "cite" in block:
        return str(block["cite"])
    return next((value for key, value in block.items() if isinstance(value, str) and key not in known and _LIKE_CITE.match(key)), None)
