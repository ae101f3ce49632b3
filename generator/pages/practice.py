"""Rules of practice for pages: beside a gap of a record, and never as a limit of its engine."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.pages.conditions import condition_words
from generator.pages.figures import CiteView, FactView, cite_view, fact_view
from generator.pages.wording import sentence
from generator.record.engine import Engine
from generator.record.library import Library
from generator.record.practice import PracticeLimit, PracticeRule, limits_beside
from generator.record.procedure import open_part

PATH = "reference/practice.html"


@dataclass(frozen=True, slots=True)
class BesideView:
    """A rule beside the gaps of a topic. limits: what each is for, with its number. href: of the rule, from the site's folder."""

    label: str
    note: str
    limits: list[tuple[str, list[FactView]]]
    href: str


@dataclass(frozen=True, slots=True)
class RuleView:
    """A rule for its page. limits: each with its condition in words, empty for none."""

    rule: PracticeRule
    cites: list[CiteView]
    limits: list[tuple[PracticeLimit, str, list[FactView]]]


def practice_path(rule: PracticeRule) -> str:
    """Place of a rule, from the site's folder."""
    return f"{PATH}#{rule.id}"


def beside_views(places: Iterable[str], engine: Engine, library: Library) -> list[BesideView]:
    """What the trade holds where the record says nothing at these places, each rule once."""
    found: dict[str, BesideView] = {}
    for rule, limit in limits_beside(library.practice, places, engine):
        view = found.setdefault(rule.id, BesideView(rule.label, rule.note, [], practice_path(rule)))
        view.limits.append((_for(limit, engine), [fact_view(fact, library) for fact in limit.facts]))
    return list(found.values())


def _for(limit: PracticeLimit, engine: Engine) -> str:
    """The condition that the record leaves open, else what it limits."""
    left_open = open_part(limit.when, engine)
    return condition_words(left_open) if left_open else f"{sentence(limit.label)}:"


def rule_view(rule: PracticeRule, library: Library) -> RuleView:
    """A rule with its sources and numbers; without an engine every condition is open."""
    limits = [(limit, condition_words(limit.when), [fact_view(fact, library) for fact in limit.facts]) for limit in rule.limits]
    return RuleView(rule, [view for cite in rule.cites if (view := cite_view(cite, library))], limits)
