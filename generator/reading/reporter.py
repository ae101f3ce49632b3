"""The one place that writes Problems out: as text for a person, as JSON, as annotations for a CI log."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import asdict

from generator.reading.problem import LEVELS, Problem


def in_order(problems: Iterable[Problem]) -> list[Problem]:
    """By file, line and column, each once."""
    return sorted(set(problems))


def as_text(problems: list[Problem]) -> str:
    """A line for what is wrong and one for the mend, then a count."""
    lines = []
    for problem in problems:
        lines.append(f"{problem.file}:{problem.line}:{problem.column}: {problem.level}: {problem.message} [{problem.rule}]")
        if problem.hint:
            lines.append(f"    {problem.hint}")
    return "\n".join([*lines, count(problems)])


def as_json(problems: list[Problem]) -> str:
    """A list of objects with the fields of Problem."""
    return json.dumps([asdict(problem) for problem in problems], ensure_ascii=False, indent=2)


def as_annotations(problems: list[Problem]) -> str:
    """Workflow commands that a CI service shows beside the line."""
    names = {"note": "notice"}
    return "\n".join(
        f"::{names.get(problem.level, problem.level)} file={problem.file},line={problem.line},col={problem.column}"
        f"::{_escape(f'{problem.message}. {problem.hint}')}"
        for problem in problems
    )


def _escape(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def count(problems: list[Problem]) -> str:
    """ "2 errors, 1 warning", or "no problems"."""
    found = Counter(problem.level for problem in problems)
    words = [f"{found[level]} {level}{'s' if found[level] != 1 else ''}" for level in LEVELS if found[level]]
    return ", ".join(words) or "no problems"


FORMATS: dict[str, Callable[[list[Problem]], str]] = {"text": as_text, "json": as_json, "annotations": as_annotations}
