"""Exceptions: warnings that a record says were looked into, each with its reason. One that excepts nothing is an error."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from generator.audit.rule import FindingRule, Levels
from generator.reading import At, Problem, dotted, nearest
from generator.record.engine import Engine, GivenException

# Keys inside one fact: a warning about them is a warning about the fact.
_INSIDE = {"printed", "as", "says", "cite", "doubt", "when", "figure"}


@dataclass(frozen=True, slots=True)
class Excepted:
    """A warning that its record excepts. reason: the record's own words."""

    problem: Problem
    reason: str


@dataclass(frozen=True, slots=True)
class Judged:
    """One engine's problems with its exceptions applied. needless: positions of exceptions that except nothing."""

    left: list[Problem]
    excepted: list[Excepted]
    needless: list[int]


def judge(engine: Engine, problems: Iterable[Problem]) -> Judged:
    """Take out the warnings that the record excepts; each goes to the first exception that covers it."""
    left, excepted, used = [], [], set()
    for problem in problems:
        index = next((index for index, each in enumerate(engine.exceptions) if problem.level == "warning" and _covers(each, problem)), None)
        if index is None:
            left.append(_with_way_out(problem))
        else:
            used.add(index)
            excepted.append(Excepted(problem, engine.exceptions[index].reason))
    return Judged(left, excepted, [index for index in range(len(engine.exceptions)) if index not in used])


def _with_way_out(problem: Problem) -> Problem:
    """A warning's hint also says how to except it."""
    if problem.level != "warning":
        return problem
    way = f"if it stands so in the source, say why under exceptions: {{rule: {problem.rule}, at: {dotted(fact_of(problem.at))}, reason: …}}"
    return replace(problem, hint="; ".join(filter(None, (problem.hint, way))))


def fact_of(at: At) -> At:
    """The place without what stands inside the fact: ….torque.0.printed.1 becomes ….torque.0."""
    cut = next((index for index, part in enumerate(at) if part in _INSIDE and index), len(at))
    return at[:cut]


def _covers(exception: GivenException, problem: Problem) -> bool:
    """The very place of the warning, or the list of figures or the stage that it stands in."""
    if exception.rule != problem.rule:
        return False
    wanted, found = exception.at.split("."), [str(part) for part in problem.at]
    inside = problem.at[len(wanted):]
    return found[: len(wanted)] == wanted and all(isinstance(part, int) or part in _INSIDE for part in inside)


def _needed(engine: Engine, problems: list[Problem], levels: Mapping[str, Levels]) -> Iterator[Problem]:
    for index in judge(engine, problems).needless:
        message, hint = _why_needless(engine, index, problems, levels)
        yield engine.file.problem(("exceptions", index), "exception-needed", message, hint)


def _why_needless(engine: Engine, index: int, problems: list[Problem], levels: Mapping[str, Levels]) -> tuple[str, str]:
    exception = engine.exceptions[index]
    given = levels.get(exception.rule)
    if given is None:
        return f"there is no rule {exception.rule!r}", nearest(exception.rule, list(levels))
    if "warning" not in given:
        message = f"the rule {exception.rule} gives {' or '.join(f'{level}s' for level in given)}, never a warning, so it can have no exception"
        return message, "mend what it reports, and delete the exception"
    warnings = [problem for problem in problems if problem.rule == exception.rule and problem.level == "warning"]
    if any(_covers(exception, problem) for problem in warnings):
        return f"an exception above already covers {exception.at}", "delete one of the two"
    message = f"no warning of the rule {exception.rule} stands at {exception.at}"
    if warnings:
        return message, f"{nearest(exception.at, [dotted(fact_of(each.at)) for each in warnings])}; if it is mended, delete the exception"
    return message, "delete the exception: what it excepted is mended"


RULES = [
    FindingRule(
        "exception-needed", "An exception that excepts no warning.", "an exception for a limit that has since been corrected", _needed
    ),
]
