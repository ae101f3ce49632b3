"""Faults of the schema in words for people: what was found, what was expected, how to mend it.

One writer a keyword of JSON Schema. A writer knows the place, the shape that the
schema gives it, and how the value is spelt in the file.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, TypeAlias

from generator.reading.problem import At, near_name, nearest
from generator.reading.shape import Shape

# Keys inside one fact: messages name the key that the fact stands at.
_INSIDE = {"as", "says"}
_OF_A_FACT = {"printed", "as", "says"}
# Longest list of words that a hint shows beside the nearest.
_SHORT_LIST = 8


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault. rule: the keyword that failed. shape: of the place, None where the schema gives none.

    leaf: the kind of fact that belongs there: figures, figure, designation, statement
    or "". spelt: a number or true or false as the file has it. elsewhere: blocks of
    the schema by the keys that they hold.
    """

    at: At
    rule: str
    found: Any
    wanted: Any
    schema: dict[str, Any]
    said: str
    shape: Shape | None
    leaf: str
    spelt: str
    elsewhere: dict[str, list[str]]

    @property
    def block(self) -> str:
        """What the place is called in a sentence."""
        names = [part for part in self.at if part not in _INSIDE]
        if not names:
            return "the file"
        if isinstance(names[-1], str):
            return f"'{names[-1]}'"
        above = next((part for part in reversed(names) if isinstance(part, str)), "the list")
        return f"item {names[-1] + 1} of '{above}'"


Words: TypeAlias = Iterator[tuple[str, str, str]]  # key below the place or "", message, hint


def words(fault: Fault) -> Words:
    """Key below the place or "", message and hint, once for each slip in the fault."""
    return _WRITERS.get(fault.rule, _as_said)(fault)


def _as_said(fault: Fault) -> Words:
    yield "", f"{fault.block}: {fault.said}", "see the reference of keys for what may stand here"


def _unknown_keys(fault: Fault) -> Words:
    known = list(fault.schema.get("properties", {}))
    patterns = list(fault.schema.get("patternProperties", {}))
    for key in fault.found:
        if key not in known and not any(re.search(pattern, key) for pattern in patterns):
            yield key, f"the key {key!r} is not known in {fault.block}", _where_it_belongs(key, known, fault)


def _where_it_belongs(key: str, known: list[str], fault: Fault) -> str:
    if key in _OF_A_FACT and "printed" not in known:
        return f"it belongs to a fact: write it under one of the keys of {fault.block}: {', '.join(known)}"
    places = fault.elsewhere.get(key, [])
    if places and not near_name(key, known, alike=0.8):
        return f"it belongs under {', '.join(places[:3])}{' and others' if len(places) > 3 else ''}: look at the indentation"
    return nearest(key, known)


def _missing_key(fault: Fault) -> Words:
    key = missing_key(fault.wanted, fault.said)
    shape = fault.shape.children.get(key) if fault.shape else None
    described = str(shape.node.get("description", "")) if shape else ""
    yield "", f"{fault.block} has no key {key!r}, which must be there", f"add '{key}: …'" + (f": {described}" if described else "")


def missing_key(wanted: list[str], said: str) -> str:
    """The key that one fault of 'required' is about: the validator's message begins with it."""
    return next(key for key in wanted if said.startswith(repr(key)))


def _not_allowed(fault: Fault) -> Words:
    allowed = [str(each) for each in fault.wanted]
    near = "" if isinstance(fault.found, dict | list) else near_name(str(fault.found), allowed)
    every = f"allowed: {', '.join(allowed)}"
    hint = every if not near else f"did you mean {near}?" + (f" ({every})" if len(allowed) <= _SHORT_LIST else "")
    yield "", f"{_shown(fault)} is not one of the words for {fault.block}", hint


def _not_this(fault: Fault) -> Words:
    wanted = str(fault.wanted).lower() if isinstance(fault.wanted, bool) else str(fault.wanted)
    yield "", f"{_shown(fault)} stands at {fault.block}, where only {wanted} may stand", f"write {wanted}, or leave the key out"


_TYPES = {
    "string": "text", "object": "a block of keys", "array": "a list", "integer": "a whole number", "number": "a number",
    "boolean": "true or false",
}
_LEAVES = {"figures": "a list of figures", "figure": "a figure", "designation": "a designation", "statement": "a statement"}


def _wrong_type(fault: Fault) -> Words:
    wanted = [fault.wanted] if isinstance(fault.wanted, str) else list(fault.wanted)
    expected = _LEAVES.get(fault.leaf) or " or ".join(_TYPES.get(each, each) for each in wanted)
    hint = next((hint for maker in _TYPE_HINTS if (hint := maker(fault, wanted))), "see the reference of keys for what may stand here")
    yield "", f"{_shown(fault)} stands at {fault.block}, where {expected} was expected", hint


def _fact_hint(fault: Fault, wanted: list[str]) -> str:
    """The fact written out, where its bare value stands."""
    key = next((str(part) for part in reversed(fault.at) if isinstance(part, str)), "")
    if fault.leaf == "figures" and isinstance(fault.found, dict):
        return "put '- ' before it: figures of several sources stand side by side in a list"
    if isinstance(fault.found, dict | list):
        return ""
    bare = fault.spelt or str(fault.found)
    forms = {
        "figures": f"write {key}: [{{printed: [{bare}], cite: <source id> <place>}}]",
        "figure": f"write {{printed: [{bare}], cite: <source id> <place>}}",
        "statement": f"write {key}: {{says: {bare}, cite: <source id> <place>}}",
        "designation": f"write {key}: {{as: \"{bare}\", cite: <source id> <place>}}",
    }
    return forms.get(fault.leaf, "")


def _unit_hint(fault: Fault, wanted: list[str]) -> str:
    number = isinstance(fault.found, int | float) and not isinstance(fault.found, bool)
    # What a stage of steps says is printed too.
    if (fault.at[-2:-1] == ("printed",) or fault.at[-1:] in [("from",), ("by",), ("to",)]) and number:
        return f"write the unit that is printed behind it: {fault.spelt} and a unit"
    return ""


def _text_hint(fault: Fault, wanted: list[str]) -> str:
    if "string" not in wanted:
        return ""
    if fault.at[-1:] == ("cite",):
        return "write one text: the source id, a space, then the place"
    if isinstance(fault.found, dict | list):
        return "write one text; put it in quotes if it holds brackets"
    return f'write it in quotes, so that no digit is lost: "{fault.spelt}"'


def _list_hint(fault: Fault, wanted: list[str]) -> str:
    if "array" not in wanted:
        return ""
    if isinstance(fault.found, dict):
        return "write it as a list: begin each item with '- '"
    return f"write it as a list: [{_parted(fault)}], or begin each item on a line of its own with '- '"


def _parted(fault: Fault) -> str:
    """A text as the items of a list: parted where a stroke or semicolon stands, and short names and numbers at their spaces."""
    text = fault.spelt or str(fault.found)
    if re.search(r"\s[/;]\s", text):
        return ", ".join(re.split(r"\s+[/;]\s+", text))
    words = text.split()
    names = fault.at[-1:] != ("printed",) and all(re.fullmatch(r"[A-Za-z]{0,3}-?\d+(\.\d+)?,?", word) for word in words)
    return ", ".join(word.rstrip(",") for word in words) if names else text


def _number_hint(fault: Fault, wanted: list[str]) -> str:
    if not {"integer", "number"} & set(wanted) or isinstance(fault.found, dict | list):
        return ""
    digits = re.match(r"-?\d+(\.\d+)?", fault.spelt or str(fault.found))
    whole = "" if "number" in wanted else " whole"
    return f"write the{whole} number alone, without quotes or unit" + (f": {digits[0]}" if digits and (not whole or not digits[1]) else "")


def _block_hint(fault: Fault, wanted: list[str]) -> str:
    if "object" not in wanted:
        return ""
    if isinstance(fault.found, list):
        return "leave the dashes or square brackets out: keys with values stand here, each on a line of its own"
    keys = ", ".join(list(fault.shape.children)[:_SHORT_LIST]) if fault.shape else ""
    return "write keys with values below it, indented deeper" + (f", for example {keys}" if keys else "")


_TYPE_HINTS: tuple[Callable[[Fault, list[str]], str], ...] = (_unit_hint, _fact_hint, _text_hint, _list_hint, _number_hint, _block_hint)


def _wrong_form(fault: Fault) -> Words:
    for pattern, writer in _FORMS.items():
        if fault.wanted == pattern:
            message, hint = writer(str(fault.found), fault)
            yield "", message, hint
            return
    hint = str(fault.schema.get("description", "")) or f"it must match {fault.wanted}"
    yield "", f"{_shown(fault)} has not the form that {fault.block} must have", hint


def _slug(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", text.lower().replace("&", "-and-")).strip("-")


def _id_form(text: str, fault: Fault) -> tuple[str, str]:
    slug = _slug(text)
    hint = f"write {slug}" if slug else "write words and digits joined by single hyphens"
    return f"{text!r} is no id; lower case, digits and single hyphens were expected", hint


def _cite_form(text: str, fault: Fault) -> tuple[str, str]:
    source, _, place = text.strip().partition(" ")
    if not place:
        return f"the cite {text!r} names no place in the source", f"write the source id, a space, then the place: {_slug(source) or 'id'} page 12"
    if source != _slug(source):
        hint = f"write the id of the source, the name of its file in specs/sources: {_slug(source)} {place}"
        return f"the cite begins with {source!r}, which is no source id", hint
    return f"the cite {text!r} has not the form 'source id, one space, place'", f"write {source} {place.strip()}"


def _name_form(text: str, fault: Fault) -> tuple[str, str]:
    name = re.sub(r"[^A-Za-z0-9_-]+", "_", text).strip("_")[:32]
    hint = f"write {name}" if name else "write a short name such as A1 or long"
    return f"{text!r} is no short name; letters, digits, _ and - were expected, at most 32, no spaces", hint


def _day_form(text: str, fault: Fault) -> tuple[str, str]:
    return f"{text!r} is no day; year, month and day were expected", 'write it in quotes: "2026-03-14"'


def _keys_form(text: str, fault: Fault) -> tuple[str, str]:
    return f"{text!r} is no place in a record", "write its keys joined by full stops: tests.compression.minimum"


def _code_form(text: str, fault: Fault) -> tuple[str, str]:
    name = re.sub(r"[^a-z]+", "_", text.lower()).strip("_")
    return f"{text!r} is no name of the program's; lower-case letters and _ were expected", f"write {name}" if name else "write the name"


_FORMS: dict[str, Callable[[str, Fault], tuple[str, str]]] = {
    r"^[a-z0-9]+(-[a-z0-9]+)*$": _id_form,
    r"^[a-z0-9]+(-[a-z0-9]+)* \S.*$": _cite_form,
    r"^[A-Za-z0-9][A-Za-z0-9_-]{0,31}$": _name_form,
    r"^\d{4}-\d{2}-\d{2}$": _day_form,
    r"^[a-z_]+(\.[a-z_]+)+$": _keys_form,
    r"^[a-z0-9_]+(\.[a-z0-9_]+)+$": _keys_form,
    r"^[a-z_]+(\.([a-z_]+|\*))*$": _keys_form,
    r"^[a-z]+$": _code_form,
    r"^[a-z_]+$": _code_form,
}


_FILL_IN = "fill it in, or leave the key out: what is not known is absent"


def _too_short(fault: Fault) -> Words:
    size = len(fault.found)
    if size == 0:
        what = {"minLength": "the text", "minItems": "the list", "minProperties": "the block"}[fault.rule]
        yield "", f"{what} at {fault.block} is empty", _FILL_IN
    else:
        hint = _pair_hint(fault) or "add what is missing; a single one may need no list"
        yield "", f"{fault.block} has {size} {_counted(fault)}; at least {fault.wanted} were expected", hint


def _too_long(fault: Fault) -> Words:
    yield "", f"{fault.block} has {len(fault.found)} {_counted(fault)}; at most {fault.wanted} were expected", _pair_hint(fault) or "shorten it"


def _counted(fault: Fault) -> str:
    word = {"Length": "character", "Items": "item", "Properties": "key"}[fault.rule[3:]]
    return word if len(fault.found) == 1 else word + "s"


def _pair_hint(fault: Fault) -> str:
    numbers = isinstance(fault.found, list) and all(isinstance(each, int | float) for each in fault.found)
    return "write two numbers, x and y, in mm: [43.5, -12]; the decimal point is a full stop" if numbers else ""


_RELATIONS = {"minimum": "at least", "maximum": "at most", "exclusiveMinimum": "more than", "exclusiveMaximum": "less than"}


def _wrong_size(fault: Fault) -> Words:
    yield "", f"{fault.block} is {fault.spelt or fault.found}; {_RELATIONS[fault.rule]} {fault.wanted} was expected", "correct the number"


def _twice(fault: Fault) -> Words:
    found = [str(each) for each in fault.found]
    double = next(each for each in found if found.count(each) > 1)
    yield "", f"{double!r} stands twice in the list of {fault.block}", "delete one of the two"


def _goes_with(fault: Fault) -> Words:
    for key, needed in fault.wanted.items():
        for each in needed:
            if key in fault.found and each not in fault.found:
                yield "", f"{fault.block} has the key {key!r} and lacks {each!r}, which goes with it", f"add '{each}: …', or leave {key!r} out"


_WRITERS: dict[str, Callable[[Fault], Words]] = {
    "additionalProperties": _unknown_keys,
    "required": _missing_key,
    "enum": _not_allowed,
    "const": _not_this,
    "type": _wrong_type,
    "pattern": _wrong_form,
    "minLength": _too_short, "minItems": _too_short, "minProperties": _too_short,
    "maxLength": _too_long, "maxItems": _too_long, "maxProperties": _too_long,
    "minimum": _wrong_size, "maximum": _wrong_size, "exclusiveMinimum": _wrong_size,
    "uniqueItems": _twice,
    "dependentRequired": _goes_with,
}


def _shown(fault: Fault) -> str:
    if isinstance(fault.found, dict):
        return "a block of keys"
    if isinstance(fault.found, list):
        return "a list"
    text = fault.spelt or str(fault.found)
    return repr(text if len(text) <= 60 else text[:57] + "…")
