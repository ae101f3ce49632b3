"""The starter record: what is known of the engine already, and every other key of the schema as a comment to fill in."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

from generator.pages.keys import shape_words
from generator.quantities import units_of
from generator.reading import Problem, Schemas, Shape, read_text

INVENTED = "invented"
# An example of a name that the writer chooses, for each block that holds such names.
_NAMES = {"banks": "left", "heads": "head", "bores": "1", "groups": "all", "places": "A1", "orders": "all", "by_head": "left"}
# Told in the header, as it may stand with everything.
_ASIDE = ("doubt",)
_HEADER = """\
# A line that begins with # is not read. To fill one in, take the # and the space after it away and give the value.
# What the manual does not say is left out. A figure is copied exactly as printed, every unit, the leading one first:
#   - printed: [8.0 to 9.5 kgf.m, 59 to 69 lbf.ft]
# With it may stand, in the line below and as deep as 'printed':
#     cite: {source} page 14     # where it stands in another place than its block says
#     when: cold                 # the condition that the manual gives
#     doubt: {{kind: scan, says: "the last digit is blurred"}}
# What cannot be read, and a doubt beside it that says why: ['unreadable "0.0 mm"']
# cite is the source, then the place in it. Then: python -m generator check {path}
"""


@dataclass(frozen=True, slots=True)
class Answers:
    """What a starter is made from. place: where the manual says what engine it is. id, source: those of the two files."""

    equipment: str
    manual: str
    place: str
    kind: str
    read: str
    fuel: str = ""
    edition: str = ""
    id: str = ""
    source: str = ""

    @property
    def folder(self) -> str:
        """The folder of specs/ that the record belongs in."""
        return "demo" if self.kind == INVENTED else "engines"

    @property
    def name(self) -> str:
        """The equipment, the fuel and the manual, never a maker."""
        said = ", ".join(each for each in (self.equipment, self.fuel, self.manual) if each)
        return f"{said} (invented)" if self.kind == INVENTED and INVENTED not in said.lower() else said


def id_from(*words: str) -> str:
    """An id from words: lower case, digits, single hyphens; & becomes -and-. Empty where nothing of them can stay."""
    plain = unicodedata.normalize("NFKD", " ".join(words)).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower().replace("&", " and ")).strip("-")


def engine_text(answers: Answers, path: str, schemas: Schemas) -> str:
    """The text of the record. path: where it will stand, for the line that says how to check it."""
    shape, source = schemas.shape("engine"), answers.source
    lines = [_HEADER.format(source=source, path=path), f"id: {answers.id}", f"name: {scalar(answers.name)}", f"sources: [{source}]"]
    for key, child in shape.children.items():
        if key == "identity":
            lines += ["", "identity:", *_identity(answers, child)]
        elif key not in ("id", "name", "sources"):
            lines += ["", *_commented(_keyed(key, child, source), "")]
    return "\n".join(lines) + "\n"


def source_text(answers: Answers) -> str:
    """The text of the source's file."""
    about = ", ".join(each for each in (answers.equipment, answers.fuel) if each)
    told = {
        "id": answers.source, "number": answers.manual, "edition": answers.edition, "kind": answers.kind, "about": about, "read": answers.read,
    }
    return "".join(f"{key}: {scalar(text)}\n" for key, text in told.items() if text)


def faults(answers: Answers, schemas: Schemas) -> list[Problem]:
    """What stands against the two files, were they written."""
    found = []
    for kind, text in (("source", source_text(answers)), ("engine", engine_text(answers, "", schemas))):
        file, problems = read_text(text.encode(), kind)
        found += [*problems, *(schemas.check(file, kind) if file else [])]
    return found


def scalar(text: str) -> str:
    """A text as YAML: plain where it is read back as it is, else in quotes."""
    file, problems = read_text(f"text: {text}\n".encode(), "")
    return text if file and not problems and file.data == {"text": text} else json.dumps(text, ensure_ascii=False)


def _identity(answers: Answers, shape: Shape) -> Iterator[str]:
    given = {"application": _lower(answers.equipment), "fuel": answers.fuel}
    for key, child in shape.children.items():
        if key == "cite":
            yield f"  cite: {scalar(f'{answers.source} {answers.place}')}"
        elif given.get(key):
            yield f"  {key}: {{says: {_inside(given[key])}}}"
        else:
            yield from _commented(_keyed(key, child, ""), "  ")


def _lower(text: str) -> str:
    """With a small first letter, unless the first word is an abbreviation."""
    return text[:1].lower() + text[1:] if text[1:2].islower() else text


def _inside(text: str) -> str:
    """A text as YAML inside brackets."""
    return json.dumps(text, ensure_ascii=False) if re.search(r"[,\[\]{}]", text) else scalar(text)


def _commented(lines: Iterator[str], indent: str) -> Iterator[str]:
    return (f"{indent}# {line}" for line in lines)


def _keyed(key: str, shape: Shape, source: str) -> Iterator[str]:
    """A key and all that may stand below it, to be filled in. source: that of the block's cite; empty where a block above has one."""
    below = shape.items if shape.items and (shape.items.children or shape.items.leaf) else None
    if shape.leaf == "figures":
        yield f"{key}:{_hint(shape)}"
        yield "  - printed: []"
    elif shape.leaf:
        yield f"{key}: {{{'as' if shape.leaf == 'designation' else 'says'}: }}{_hint(shape)}"
    elif key == "cite":
        yield f"cite: {source}  # and the place in it: page 14"
    elif below:
        yield f"{key}:{_hint(shape)}"
        yield from (f"  {'  ' if number else '- '}{line}" for number, line in enumerate(_members(below, source)))
    elif shape.children or (shape.others and (shape.others.children or shape.others.leaf)):
        yield f"{key}:{_hint(shape)}"
        yield from (f"  {line}" for line in _members(shape, source))
    elif shape.others:
        yield f"{key}: {{{_NAMES.get(key, 'name')}: []}}{_hint(shape)}"
    else:
        is_list = shape.node.get("type") == "array" or "else" in shape.node
        yield f"{key}:{' []' if is_list else ''}{_hint(shape)}"


def _members(shape: Shape, source: str) -> Iterator[str]:
    """The keys of a block. Blocks of one shape are told whole once, the others by name."""
    if shape.leaf:
        needed = [key for key in shape.children if key in ("says", "cite", *shape.node.get("required", ())) and (source or key != "cite")]
        yield from (line for key in needed for line in _keyed(key, shape.children[key], source))
        return
    below = "" if "cite" in shape.children else source
    whole: dict[int, str] = {}
    for key, child in shape.children.items():
        members = id(child.node.get("properties"))
        if not child.leaf and child.children and members in whole:
            yield f"{key}:  # {child.title}; the same keys as {whole[members]}"
        elif key not in _ASIDE and (source or key != "cite"):
            whole.setdefault(members, key)
            yield from _keyed(key, child, source if key == "cite" else below)
    if shape.others and id(shape.others.node.get("properties")) not in whole:
        name = _NAMES.get(shape.title.lower().replace(" ", "_"), "name")
        yield from _keyed(name, shape.others, below)


def _hint(shape: Shape) -> str:
    units = units_of(str(shape.node["dimension"])) if "dimension" in shape.node else []
    words = "" if shape.leaf == "figures" else shape_words(shape).rpartition(": ")[2]
    listed = ", ".join(units) or (words if words.startswith("one of") or " to " in words else "")
    text = " ".join(f"{shape.node.get('description', '')} {listed[:1].upper() + listed[1:] if not units else 'In ' + listed}".split())
    return f"  # {text}" if text else ""
