"""The one place that writes Problems out: as text for a person, as JSON, as annotations for a CI log."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import asdict

from generator.reading.problem import LEVELS, Problem, dotted


def in_order(problems: Iterable[Problem]) -> list[Problem]:
    """By file, line and column, each once."""
    return sorted(set(problems))


def as_text(problems: list[Problem]) -> str:
    """A line for what is wrong and one for the mend, then a count."""
    lines = []
    for problem in problems:
        lines.append(_shown(f"{problem.file}:{problem.line}:{problem.column}: {problem.level}: {problem.message} [{problem.rule}]"))
        if problem.hint:
            lines.append(f"    {_shown(problem.hint)}")
    return "\n".join([*lines, count(problems)])


def _shown(text: str) -> str:
    """One line that no terminal takes for a command, whatever stands in a file's name or text."""
    return "".join(each if each.isprintable() else each.encode("unicode_escape").decode() for each in text)


def as_json(problems: list[Problem]) -> str:
    """A list of objects with the fields of Problem; `at` is keys and list positions joined by full stops."""
    return json.dumps([asdict(problem) | {"at": dotted(problem.at)} for problem in problems], indent=2)


def as_annotations(problems: list[Problem]) -> str:
    """Workflow commands that a CI service shows beside the line."""
    return "\n".join(map(_annotation, problems))


def _annotation(problem: Problem) -> str:
    level = {"note": "notice"}.get(problem.level, problem.level)
    title = _property(problem.rule)
    place = f"file={_property(problem.file)},line={problem.line},col={problem.column},title={title}"
    return f"::{level} {place}::{_escape('. '.join(filter(None, (problem.message, problem.hint))))}"


def _escape(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    """A value in front of the message: what parts values must not stand in it."""
    return _escape(text).replace(":", "%3A").replace(",", "%2C")


def count(problems: list[Problem]) -> str:
    """ "2 errors, 1 warning", or "no problems"."""
    found = Counter(problem.level for problem in problems)
    words = [f"{found[level]} {level}{'s' if found[level] != 1 else ''}" for level in LEVELS if found[level]]
    return ", ".join(words) or "no problems"


FORMATS: dict[str, Callable[[list[Problem]], str]] = {"text": as_text, "json": as_json, "annotations": as_annotations}
