"""Facts without a source: one problem for a whole block that has none, else one for each."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from generator.reading import At, Problem, ReadFile, Shape
from generator.record.facts import Fact

HOW_TO_CITE = "add 'cite: <source id> <place>' to it or to the block it stands in"


def uncited(file: ReadFile, shape: Shape, facts: Iterable[Fact]) -> Iterator[Problem]:
    """What has no source, told at the largest block in which nothing has one."""
    found = list(facts)
    every = Counter(at for fact in found for at in _above(fact))
    without = Counter(at for fact in found if fact.cite is None for at in _above(fact))
    told = set()
    for fact in found:
        if fact.cite is None:
            bare = (at for at in _above(fact) if every[at] == without[at] > 1 and _takes_cite(shape, at))
            at = next(bare, fact.at)
            if at not in told:
                told.add(at)
                yield _problem(file, fact, at, without[at])


def _above(fact: Fact) -> list[At]:
    """The blocks a fact stands in, the largest first."""
    return [fact.at[:length] for length in range(1, len(fact.at))]


def _takes_cite(shape: Shape, at: At) -> bool:
    found: Shape | None = shape
    for part in at:
        found = found.below(part) if found else None
    return found is not None and not found.leaf and "cite" in found.children


def _problem(file: ReadFile, fact: Fact, at: At, count: int) -> Problem:
    if at == fact.at:
        what = "this figure" if fact.kind == "figure" else "what stands here"
        return file.problem(at, "cite-missing", f"{what} has no source", HOW_TO_CITE)
    message = f"none of the {count} facts in '{at[-1]}' has a source"
    return file.problem(at, "cite-missing", message, f"add 'cite: <source id> <place>' to '{at[-1]}', where it holds for all, or to each", key=True)
