"""Text that is not YAML, told to a person who has never seen YAML: the line of the slip, what stands there and what should.

The parser reports where it gave up; the slip is often a line or more above. Each
finder below looks for one usual slip around that line; the first that finds its
slip gives the message.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

import yaml

from generator.reading.problem import Problem

# How many lines above the parser's own a slip is looked for.
ABOVE = 3
DIRECTIVE, DELETE_DIRECTIVE = "a directive, which a record has no use for", "delete this line, and the line '---' below it"
_KEY = r"[A-Za-z_][\w-]*"
_MISSING_SPACE = re.compile(rf"^(\s*(?:- )*)({_KEY}):([^\s:/].*)$")
_KEY_LINE = re.compile(rf"^\s*(?:- )*[\"']?{_KEY}[\"']?\s*:(\s|$)")


@dataclass(frozen=True, slots=True)
class Slip:
    """line and column from 1, what was found and expected, how to mend it."""

    line: int
    column: int
    message: str
    hint: str


@dataclass(frozen=True, slots=True)
class Stop:
    """Where the parser gave up and what it said. opened: line where the bracket, quote or block began that it was in."""

    lines: list[str]
    line: int
    column: int
    said: str
    opened: tuple[int, int]

    def text(self, line: int) -> str:
        """A line by its number; empty outside the file."""
        return self.lines[line - 1] if 1 <= line <= len(self.lines) else ""

    @property
    def before(self) -> str:
        """What stands before the place on its line."""
        return self.text(self.line)[: self.column - 1]

    @property
    def at(self) -> str:
        """What stands at the place and after it."""
        return self.text(self.line)[self.column - 1 :]

    def above(self, line: int) -> int:
        """The nearest line above that holds more than blanks and comments; 0 if there is none."""
        found = (number for number in range(line - 1, 0, -1) if self.text(number).strip() and not self.text(number).lstrip().startswith("#"))
        return next(found, 0)


def syntax_problem(error: yaml.MarkedYAMLError, text: str, name: str) -> Problem:
    """A Problem for what the parser could not read."""
    mark = error.problem_mark or error.context_mark
    context = error.context_mark or mark
    line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
    opened = (context.line + 1, context.column + 1) if context else (1, 1)
    stop = Stop(re.split(r"\r\n|\r|\n", text), line, column, error.problem or "", opened)
    slip = next((slip for finder in _FINDERS if (slip := finder(stop))), None) or _general(stop)
    rule = "too-deep" if "nesting" in stop.said else "yaml-syntax"
    return Problem(name, slip.line, slip.column, rule, "error", slip.message, slip.hint)


def no_mapping(text: str) -> tuple[str, str]:
    """Message and hint for a file that holds one text instead of keys with values."""
    first = next((line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")), "")
    if match := _MISSING_SPACE.match(first):
        return _space_missing(match)
    if match := re.match(rf"\s*({_KEY})\s*=\s*(.*)", first):
        return f"{match[1]!r} is followed by '='; a colon and a space were expected", f"write {match[1]}: {match[2]}"
    return f"keys with values were expected, and the file holds only text: {_short(first.strip())}", "begin with a line such as 'id: …'"


def _space_missing(match: re.Match[str]) -> tuple[str, str]:
    return f"a space is missing after the colon of {match[2]!r}", f"write {match[2]}: {match[3].strip()}"


def _tab(stop: Stop) -> Slip | None:
    for number in range(1, stop.line + 1):
        indent = re.match(r"[ ]*\t", stop.text(number))
        if indent:
            hint = "put two spaces for each level in place of every tab"
            return Slip(number, indent.end(), "a tab indents this line; YAML allows only spaces", hint)
    return None


def _too_deep(stop: Stop) -> Slip | None:
    if "nesting" not in stop.said:
        return None
    hint = "no record needs so many levels; look for brackets that are not closed"
    return Slip(stop.line, stop.column, "the brackets are nested too deep to be read", hint)


def _missing_space(stop: Stop) -> Slip | None:
    if not any(words in stop.said for words in ("expected ':'", "expected key", "mapping values")):
        return None
    number = stop.line
    for _ in range(ABOVE):
        if match := _MISSING_SPACE.match(stop.text(number)):
            return Slip(number, match.end(2) + 1, *_space_missing(match))
        number = stop.above(number)
    return None


def _comment_in_brackets(stop: Stop) -> Slip | None:
    """A # that was meant as a number sign swallowed the bracket that closes."""
    if "expected ',' or" not in stop.said:
        return None
    for number in range(stop.opened[0], stop.line + 1):
        if match := re.search(r"\s(#\S*)", stop.text(number)):
            message = f"a comment begins at {match[1]!r} and swallows the rest of the line, closing bracket too"
            return Slip(number, match.start(1) + 1, message, "put the text that holds the # in quotes")
    return None


def _colon_in_text(stop: Stop) -> Slip | None:
    in_brackets = "expected ',' or" in stop.said and stop.at.startswith(":")
    if "mapping values" not in stop.said and not in_brackets:
        return None
    start = max(stop.before.rfind(mark) for mark in ("{", "[", ",")) + 1 if in_brackets else 0
    match = re.match(rf"(\s*(?:- )*)({_KEY}):\s+(.*)$", stop.before[start:])
    if not match:
        return None
    value = match[3] + (stop.at if not in_brackets else re.split(r"[,}\]]", stop.at)[0])
    message = f"the text after {match[2]!r} holds a colon, which begins a value of its own unless the text stands in quotes"
    other = re.search(rf"\s({_KEY})$", match[3]) if in_brackets else None
    hint = f"put a comma before {other[1]!r} if it is a key; if not, " if other else ""
    return Slip(stop.line, stop.column, message, f"{hint}write {match[2]}: {_quoted(value)}")


def _quoted(text: str) -> str:
    return f"'{text.strip()}'" if '"' in text else f'"{text.strip()}"'


def _key_below_value(stop: Stop) -> Slip | None:
    if "mapping values" not in stop.said or not _KEY_LINE.match(stop.text(stop.line)):
        return None
    above = stop.above(stop.line)
    if not _KEY_LINE.match(stop.text(above)):
        return _no_key_in(stop, above)
    wanted, found = _content(stop.text(above)), _indent(stop.text(stop.line))
    message = f"this line is indented by {found} spaces, deeper than the line above, which already has a value"
    return Slip(stop.line, found + 1, message, f"indent it by {wanted} spaces, like the key of line {above}; or take the value out of line {above}")


def _content(line: str) -> int:
    """Where the key of a line begins, behind the dashes of lists."""
    match = re.match(r"\s*(?:- +)*", line)
    return match.end() if match else 0


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))


def _not_a_key(stop: Stop) -> Slip | None:
    return _no_key_in(stop, stop.opened[0]) if "expected ':'" in stop.said else None


def _no_key_in(stop: Stop, number: int) -> Slip:
    message = f"a key with a colon and a space was expected, and {_short(stop.text(number).strip())} stands here"
    hint = "write it as 'key: value'; text that goes on from the line above must be indented deeper than its key"
    return Slip(number, _indent(stop.text(number)) + 1, message, hint)


def _short(text: str) -> str:
    return repr(text if len(text) <= 40 else text[:37] + "…")


def _open_quote(stop: Stop) -> Slip | None:
    if "unexpected end of stream" in stop.said:
        return Slip(*stop.opened, "the quote that opens here is never closed", "put the same quote at the end of the text")
    if _after_quote(stop) is None or not stop.before.rstrip().endswith('"'):
        return None
    for number in range(max(1, stop.line - ABOVE), stop.line):
        opening = _odd_quote(stop.text(number))
        if opening:
            return Slip(number, opening, "the quote that opens here is not closed on its line", "put the same quote at the end of the text")
    return None


def _odd_quote(line: str) -> int:
    """Column of the last double quote of a line that has an odd number of them; 0 if it has not."""
    plain = line.replace('\\"', "__")
    return plain.rfind('"') + 1 if plain.count('"') % 2 else 0


def _after_quote(stop: Stop) -> Slip | None:
    closed = _AFTER.get(stop.before.rstrip()[-1:])
    if closed is None or "expected" not in stop.said or not stop.at.strip():
        return None
    if stop.at[0] == ",":
        message = "a comma follows the value, and keys outside of brackets are not parted by commas"
        return Slip(stop.line, stop.column, message, "write each key on a line of its own, or put { } around all of them")
    if stop.at[0] in "]}":
        return None
    if match := re.match(rf"({_KEY}): ", stop.at):
        return Slip(stop.line, stop.column, f"a comma is missing before {match[1]!r}", "part the keys in brackets with commas")
    what, hint = closed
    return Slip(stop.line, stop.column, f"text stands after the closing {what}: {_short(stop.at.strip())}", hint)


_AFTER = {
    "'": ("quote", "put the whole text in double quotes, so that it may hold apostrophes"),
    '"': ("quote", "put the whole text in single quotes, so that it may hold double ones, or leave the inner quotes out"),
    "]": ("bracket", "put the whole text in quotes, or delete what follows the bracket"),
    "}": ("bracket", "put the whole text in quotes, or delete what follows the bracket"),
}


_BRACKETS = {"[": "]", "{": "}"}


def _not_closed(line: int, column: int, opening: str) -> Slip:
    return Slip(line, column, f"the bracket {opening} that opens here is not closed", f"put {_BRACKETS[opening]} at its end")


def _open_bracket(stop: Stop) -> Slip | None:
    if "expected ',' or" not in stop.said:
        return None
    line, column = stop.opened
    opening = stop.text(line)[column - 1 : column]
    closing = _BRACKETS.get(opening, "")
    if closing and stop.line != line:
        return _not_closed(line, column, opening)
    wanted = f"a comma or {closing}" if closing else "a comma"
    hint = "part the items with commas, close every bracket with its own kind, and quote text that holds brackets"
    return Slip(stop.line, stop.column, f"{wanted} was expected here, and {_short(stop.at.strip())} stands here", hint)


def _no_value(stop: Stop) -> Slip | None:
    if "node content" not in stop.said:
        return None
    if stop.at.strip():
        message = f"a value was expected here, and {_short(stop.at.strip())} stands here"
        return Slip(stop.line, stop.column, message, "write the value, or delete the comma")
    for number in range(stop.line, max(0, stop.line - ABOVE), -1):
        for opening, closing in _BRACKETS.items():
            if stop.text(number).count(opening) > stop.text(number).count(closing):
                return _not_closed(number, stop.text(number).rfind(opening) + 1, opening)
    return None


def _closing_bracket(stop: Stop) -> Slip | None:
    if "expected key" in stop.said and stop.at[:1] in ("]", "}"):
        return Slip(stop.line, stop.column, f"the bracket {stop.at[0]} closes nothing", "delete it, or open it before")
    return None


def _list_at_key(stop: Stop) -> Slip | None:
    if "block sequence entries are not allowed" in stop.said:
        hint = "begin the list on the next line, indented, each item with '- '; or write it in [ ] behind the key"
        return Slip(stop.line, stop.column, "a list cannot begin on the line of its key", hint)
    return None


def _mixed(stop: Stop) -> Slip | None:
    item = re.match(r"-(\s|$)", stop.at)
    if "expected key" in stop.said and item:
        return Slip(stop.line, stop.column, "a list item stands where a key was expected", "indent it under the key that it belongs to")
    if "expected '-'" in stop.said and not item:
        hint = "to add it to the item above, indent it like the text after '- '; to end the list, like the key of the list"
        return Slip(stop.line, stop.column, "a key stands where a list item was expected", hint)
    return None


def _stray_indent(stop: Stop) -> Slip | None:
    if ("expected key" not in stop.said and "document start" not in stop.said) or stop.before.strip():
        return None
    above = stop.above(stop.line)
    wanted, found = _indent(stop.text(above)), _indent(stop.text(stop.line))
    if wanted == found:
        return None
    message = f"this line is indented by {found} spaces, which is neither the indentation of line {above} ({wanted}) nor that of a block around it"
    return Slip(stop.line, stop.column, message, "indent keys of one block by the same number of spaces, two more for each level")


def _directive(stop: Stop) -> Slip | None:
    near = (stop.line, stop.above(stop.line), stop.opened[0])
    return next((Slip(number, 1, DIRECTIVE, DELETE_DIRECTIVE) for number in near if stop.text(number).startswith("%")), None)


_STARTERS = {">": "begins a block of text", "|": "begins a block of text", "%": "begins a directive"}


def _starter(stop: Stop) -> Slip | None:
    if "cannot start any token" in stop.said:
        sign, column = stop.at[:1], stop.column
    elif "expected comment or line break" in stop.said:
        found = max(stop.before.rfind(">"), stop.before.rfind("|"))
        sign, column = stop.before[found : found + 1], found + 1
    else:
        return None
    message = f"text cannot begin with {sign!r}, which {_STARTERS.get(sign, 'YAML keeps for itself')}"
    value = re.split(r"[,\]}]", stop.text(stop.line)[column - 1 :])[0].strip()
    return Slip(stop.line, column, message, f"put it in quotes: {_quoted(value)}")


def _no_key(stop: Stop) -> Slip | None:
    if "expected key" in stop.said and stop.text(stop.line).lstrip().startswith(":"):
        hint = "write the key, or put text that begins with : in quotes"
        return Slip(stop.line, stop.column, "nothing stands before the colon; a key was expected", hint)
    return None


def _backslash(stop: Stop) -> Slip | None:
    if "escape" in stop.said:
        message = "a backslash in double quotes begins a special character, and this one is unknown"
        return Slip(stop.line, stop.column, message, "put the text in single quotes, where a backslash is only itself")
    return None


def _general(stop: Stop) -> Slip:
    hint = "look at this line and the one above: indentation, quotes, brackets, the space after a colon"
    return Slip(stop.line, stop.column, f"this cannot be read as YAML: {stop.said}", hint)


_FINDERS: tuple[Callable[[Stop], Slip | None], ...] = (
    _directive, _tab, _too_deep, _missing_space, _comment_in_brackets, _colon_in_text, _key_below_value, _not_a_key, _open_quote, _after_quote,
    _open_bracket, _no_value, _closing_bracket, _list_at_key, _mixed, _stray_indent, _starter, _no_key, _backslash,
)
