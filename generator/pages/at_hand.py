"""What the job needs at hand, gathered from its steps, and where it is not interrupted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from generator.pages.conditions import condition_words
from generator.pages.figures import CiteView, FactView, cite_view, fact_view
from generator.pages.wording import joined
from generator.record.engine import Engine
from generator.record.library import Library
from generator.record.procedure import NO, Need, Phase, Step, applies, open_part

T = TypeVar("T")
# How the kinds of need are headed, in the order in which they are gathered.
KINDS = {"tool": "Tools", "consumable": "Consumables", "one-use part": "One-use parts", "fluid": "Fluids"}


@dataclass(frozen=True, slots=True)
class NeedView:
    """Something to have at hand. condition: where it hangs on what the record does not say. facts: what the record says of it."""

    need: Need
    condition: str
    facts: list[FactView]


@dataclass(frozen=True, slots=True)
class NeedsView:
    """What the job needs of one kind. plain: names by condition, those without one first. told: those of which the record says more."""

    heading: str
    plain: list[tuple[str, list[str]]]
    told: list[NeedView]


@dataclass(frozen=True, slots=True)
class NoPauseView:
    """A stretch of the job that is not interrupted."""

    begins: Step
    ends: Step
    why: str


def shown_steps(phase: Phase, engine: Engine | None) -> list[Step]:
    """The steps of a phase that an engine has, or may have."""
    return [step for step in phase.steps if applies(step.when, engine) != NO]


def gathered(engine: Engine | None, library: Library) -> list[NeedView]:
    """What the whole job needs, in the order in which it is first used."""
    open_at: dict[str, str] = {}
    for phase in library.phases:
        for step in shown_steps(phase, engine):
            for name in step.needs:
                condition = condition_words(open_part(step.when, engine)) if engine else ""
                open_at[name] = condition if open_at.get(name, condition) else ""
    return [NeedView(library.needs[name], condition, _facts(library.needs[name].figures, engine, library)) for name, condition in open_at.items()]


def by_kind(views: list[NeedView]) -> list[NeedsView]:
    """The needs by kind, those without a condition first."""
    found = []
    for kind, heading in KINDS.items():
        of_kind = [view for view in views if view.need.kind == kind]
        plain = by_condition((view.condition, view.need.name) for view in of_kind if not view.facts)
        found.append(NeedsView(heading, plain, [view for view in of_kind if view.facts]))
    return [each for each in found if each.plain or each.told]


def by_condition(pairs: Iterable[tuple[str, T]]) -> list[tuple[str, list[T]]]:
    """What has no condition first, then the rest under each condition once."""
    found: dict[str, list[T]] = {"": []}
    for condition, item in pairs:
        found.setdefault(condition, []).append(item)
    return [(condition, items) for condition, items in found.items() if items]


def _facts(places: Iterable[str], engine: Engine | None, library: Library) -> list[FactView]:
    return [fact_view(fact, library, 2) for place in places for fact in engine.below(place)] if engine else []


def replaced(engine: Engine, library: Library) -> list[tuple[str, CiteView | None]]:
    """Fasteners that the record itself says must not be used again, beside those that the steps need anyway."""
    told = {fact for need in library.needs.values() for place in need.figures for fact in engine.below(place)}
    facts = [fact for fact in engine.facts if fact.key[-1] == "reuse" and fact.text == "replace" and fact not in told]
    return [(joined(fact.labels[1:2 if len(engine.sets[str(fact.at[1])].groups) == 1 else -1]), cite_view(fact.cite, library)) for fact in facts]


def no_pauses(engine: Engine | None, library: Library) -> Iterator[NoPauseView]:
    """Stretches of this engine's job that are not interrupted."""
    steps = {step.id: step for phase in library.phases for step in phase.steps}
    for phase in library.phases:
        for step in shown_steps(phase, engine):
            if step.no_pause:
                yield NoPauseView(step, steps[step.no_pause.until], step.no_pause.why)
