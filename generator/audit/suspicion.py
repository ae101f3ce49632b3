"""Rules that put figures in doubt by arithmetic. What they find stands until the record says, in a doubt, that it is printed so."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from generator.audit.rule import Levels, Rule
from generator.reading import At, Problem
from generator.record.engine import Engine
from generator.record.facts import Doubt, Fact
from generator.record.library import Library

# Doubts that say: it is printed so, and whoever reads it knows that it may be wrong.
ACKNOWLEDGING = ("manual", "scan")
LOOK_AGAIN = "look at the page again; if the manual itself is wrong, add 'doubt: {kind: manual, says: …}' to the figure that is"


@dataclass(frozen=True, slots=True)
class Suspicion:
    """Figures that cannot all be right. at: where that is reported. facts: the figures. doubts: others that acknowledge it, of stages."""

    at: At
    message: str
    facts: tuple[Fact, ...]
    level: str = "error"
    hint: str = LOOK_AGAIN
    doubts: tuple[Doubt | None, ...] = ()

    @property
    def acknowledged(self) -> bool:
        """Whether the record doubts one of the figures already."""
        doubts = (*(fact.doubt for fact in self.facts), *self.doubts)
        return any(doubt and doubt.kind in ACKNOWLEDGING for doubt in doubts)


@dataclass(frozen=True, slots=True)
class FigureRule:
    """A named rule over the figures of one engine; fields as in Rule."""

    name: str
    catches: str
    example: str
    find: Callable[[Engine, Library], Iterable[Suspicion]]
    levels: Levels = ("error",)

    def rule(self) -> Rule:
        """The same as a rule that yields problems."""
        return Rule(self.name, self.catches, self.example, self._check, self.levels)

    def _check(self, engine: Engine, library: Library) -> Iterator[Problem]:
        for each in self.find(engine, library):
            if not each.acknowledged:
                yield engine.file.problem(each.at, self.name, each.message, each.hint, each.level)
