"""Unquoted words of YAML: what they are read as, and where that is not what was meant."""

from __future__ import annotations

import re
from typing import Any

import yaml

LONGEST = 60  # characters of a text that a message shows
_QUOTE = "if it is text, write it in quotes"
_WORDS = [
    (re.compile(r"(?i:y|yes|n|no|on|off)|True|TRUE|False|FALSE"), "YAML takes the bare word {0} for true or false"),
    (re.compile(r"(?i:null)|~"), "YAML takes {0} for an empty value, which says nothing"),
    (re.compile(r"[+-]?\d[\d_]*(:[0-5]?\d)+(\.\d*)?"), "YAML takes {0} for a number to base 60"),
    (re.compile(r"[+-]?0\d+|0x[\da-fA-F]+|0b[01]+|0o[0-7]+"), "YAML may take {0} for an octal, hexadecimal or binary number"),
    (re.compile(r"\d{4}-\d\d?-\d\d?([Tt ].*)?"), "YAML takes {0} for a date"),
    (re.compile(r"[+-]?(\d[\d_]*(\.\d*)?|\.\d+)[eE][+-]?\d+"), "YAML may take {0} for a number with an exponent"),
    (re.compile(r"[+-]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)"), "{0} is no number that can be measured"),
    (re.compile(r"=|<<"), "{0} has a meaning of its own in YAML"),
    (re.compile(r"[+-]?\d[\d.]*_[\d_.]*"), "YAML takes {0} for a number"),
]
_ANY_WORD = re.compile("|".join(pattern.pattern for pattern, _ in _WORDS))  # nearly every text is none of them
_MOST_DIGITS = 15  # more are not kept exactly, and nobody measures them
_ENDLESS = re.compile(rf"[+-]?(?:0*[1-9]\d{{{_MOST_DIGITS},}}(?:\.\d*)?|\d+\.\d{{{_MOST_DIGITS + 1},}})")
_NOTHING = (
    "nothing stands after the colon or dash",
    "give a value, or leave the key out: what is not known is absent; lines that belong to the key are indented deeper than it",
)
_INTEGER = re.compile(r"-?(0|[1-9]\d{0,14})")
_DECIMAL = re.compile(r"-?(0|[1-9]\d{0,14})\.\d{1,15}")
_COMMENT = re.compile(r"\s+(#[^\s#!].*)")
_JOINED = re.compile(r"([A-Za-z_][\w-]*):([^\s/].*)")
_DASH_IN_FRONT = re.compile(r"-[A-Za-z]")
_GOES_ON = re.compile(r"-[^\s\d]|-\d+(?:\s|$)|[A-Za-z_][\w-]*:\S")


def value(text: str) -> Any:
    """What an unquoted word stands for: true, false, a whole or decimal number, else text."""
    if text in ("true", "false"):
        return text == "true"
    if not text[-1:].isdigit():
        return text
    if _INTEGER.fullmatch(text):
        return int(text)
    return float(text) if _DECIMAL.fullmatch(text) else text


def trap(text: str, written: str, rest: str) -> tuple[str, str] | None:
    """Message and hint where an unquoted value is not read as it was meant; None where nothing is wrong.

    written: its characters in the file, which may go over several lines. rest: what
    follows it on its last line.
    """
    cut = _cut(text, rest) if rest else None
    if not text:
        return cut or _NOTHING
    for pattern, words in _WORDS if _ANY_WORD.fullmatch(text) else ():
        if pattern.fullmatch(text):
            return words.format(_cut_short(text)), f'{_joined_digits(text)}{_QUOTE}: "{_cut_short(text)}"'
    if len(text) > _MOST_DIGITS and _ENDLESS.fullmatch(text):
        message = f"a number of {sum(map(str.isdigit, text))} digits; nothing is measured to more than {_MOST_DIGITS}"
        return message, f"look whether digits were typed twice; {_QUOTE}"
    if _DASH_IN_FRONT.match(text):
        return space_missing(written.splitlines()[0])
    return cut or _ends(text) or (_joined_lines(written) if written != text else None)


def _joined_digits(text: str) -> str:
    number = text.replace("_", "")
    return "" if number == text or isinstance(value(number), str) else f"write {number} for the number; "


def _cut(text: str, rest: str) -> tuple[str, str] | None:
    match = _COMMENT.match(rest)
    if not match:
        return None
    lost = match[1].strip()
    whole = _cut_short(f"{text} {lost}".strip())
    hint = f'if it belongs to the text, write all of it in quotes: "{whole}"; if it is a comment, put a space after the #'
    return f"{_short(lost)} is taken for a comment and is not read", hint


def _ends(text: str) -> tuple[str, str] | None:
    if text[0] in "\u201c\u201d\u201e\u2018\u2019\u201a\u00ab\u00bb":
        return f"the curly quote {text[0]} is taken as part of the text", "type straight quotes, or none"
    if text.endswith(","):
        return f"the comma at the end is taken as part of the text {_short(text)}", "delete the comma: each key has a line of its own"
    for opening, closing in ("[]", "{}"):
        if text.endswith(closing) and text.count(closing) > text.count(opening):
            return f"the bracket {closing} at the end is taken as part of the text {_short(text)}", "delete it, or open it before"
    return None


def _joined_lines(written: str) -> tuple[str, str] | None:
    for line in written.splitlines()[1:]:
        if match := _GOES_ON.match(line.strip()):
            what = "dash" if match[0].startswith("-") else "colon"
            return f"the line {_short(line.strip())} is read as more of the text above it", f"put a space after the {what}"
    return None


def joined_key(key: str, value: yaml.Event) -> tuple[str, yaml.Event] | None:
    """Key and value of 'key:value' in brackets, which YAML reads as one key without a value; None for any other key."""
    match = _JOINED.fullmatch(key)
    if match and isinstance(value, yaml.ScalarEvent) and value.value == "" and value.implicit[0]:
        return match[1], yaml.ScalarEvent(None, None, (True, False), match[2], value.start_mark, value.end_mark)
    return None


def cut_key(key: str) -> bool:
    """Whether a key is more than a key, for want of a space: 'fuel:{says' or '-printed'."""
    return bool(re.match(r"[A-Za-z_][\w-]*:[\[{\"']|-[A-Za-z_]", key))


def space_missing(line: str) -> tuple[str, str]:
    """Message and hint for a line that begins with a key or dash and no space behind it."""
    dash = line.startswith("-")
    sign, mended = ("-", "- " + line[1:]) if dash else (":", line.replace(":", ": ", 1))
    what = "the dash" if dash else f"the colon of {line.split(sign)[0]!r}"
    return f"a space is missing after {what}", f"write {_cut_short(mended.strip())}"


def parted_number(one: str, other: str, between: str) -> bool:
    """Whether a comma inside a number made two items of it: digits on both sides, no space, and more than a list of numbers."""
    if between != "," or not (one[-1:].isdigit() and other[:1].isdigit()):
        return False
    return isinstance(value(one), str) or isinstance(value(other), str)


def parted_words(text: str) -> tuple[str, str]:
    """Message and hint for a text that a comma inside a number parts."""
    text = _cut_short(text)
    point = text.replace(",", ".")
    hint = f"write {point} with a full stop as the decimal point"
    if re.search(r"(?<!\d)[1-9]\d{0,2},\d{3}(?!\d)", text):
        hint = f"write {text.replace(',', '')} if the comma parts thousands, {point} if it is the decimal point"
    return f"the comma in {text} parts it into items of a list", hint


def _short(text: str) -> str:
    return repr(_cut_short(text))


def _cut_short(text: str) -> str:
    return text if len(text) <= LONGEST else text[: LONGEST - 1] + "…"
