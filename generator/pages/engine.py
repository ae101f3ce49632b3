"""The page of an engine: what the bench asks for first, then all of it, doubts and gaps in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import chain

from generator.audit import Findings
from generator.pages.diagram import Diagram, diagrams
from generator.pages.figures import CiteView, FactView, Section, cite_view, doubt_words, fact_view, sections, warning
from generator.pages.page import Page, render
from generator.pages.practice import BesideView, beside_views
from generator.pages.standing import standing
from generator.pages.warnings import warnings_of
from generator.pages.wording import sentence, statement_words
from generator.quantities import Statement, StatementError, parse
from generator.record.engine import Engine
from generator.record.fasteners import FastenerSet, Stage
from generator.record.library import Library


@dataclass(frozen=True, slots=True)
class Need:
    """Something the job cannot do without.

    places: any of them answers it. what: what the manual in hand should give.
    unless: (place, word) of a fact that leaves nothing to ask.
    """

    what: str
    places: tuple[str, ...]
    unless: tuple[str, str] = ("", "")

    def missing(self, engine: Engine) -> bool:
        """Whether the record leaves it open."""
        place, word = self.unless
        answered = any(engine.below(each) for each in self.places)
        return not answered and not (place and engine.says(place) == word)


@dataclass(frozen=True, slots=True)
class Topic:
    """A heading of the bench part: what it shows and what the job needs of it."""

    anchor: str
    heading: str
    shows: tuple[str, ...]
    needs: tuple[Need, ...]


NO_GASKET, ONE_CYLINDER = ("gasket.form", "none"), ("identity.cylinders", "1")
TIGHTENING = Topic("tightening", "Tightening the head", (), (
    Need("the torque of the head bolts, or the stages", ("fasteners.head.torque", "fasteners.head.tightening.stages")),
))
TOPICS = (
    Topic("flatness", "Flatness", ("faces.head", "faces.deck", "faces.barrel", "faces.liners", "faces.joint"), (
        Need("the flatness limit of the head face", ("faces.head.flatness",)),
        Need("the flatness limit of the deck", ("faces.deck.flatness", "faces.barrel.flatness")),
        Need("the least height of the head", ("faces.head.height.minimum",)),
        Need("how much may be machined off the head", ("faces.head.stock_removal",)),
    )),
    TIGHTENING,
    Topic("bolts", "Head bolts", ("fasteners.head.groups", "fasteners.head.standing_height"), (
        Need("the thread of the head bolts", ("fasteners.head.groups.*.thread",)),
        Need("whether the head bolts may be used again", ("fasteners.head.groups.*.reuse",)),
        Need("whether the head bolts go in dry, oiled or sealed", ("fasteners.head.groups.*.treatment",)),
    )),
    Topic("gasket", "Gasket", ("gasket",), (
        Need("which side of the gasket faces up", ("gasket.side", "gasket.by_head.*.side"), NO_GASKET),
        Need("whether the gasket goes in dry or treated", ("gasket.treatment",), NO_GASKET),
        Need("the thickness of the gasket", ("gasket.thickness", "gasket.choice.sizes"), NO_GASKET),
    )),
    Topic("compression", "Compression", ("tests.compression",), (
        Need("the lowest compression that passes", ("tests.compression.minimum", "tests.compression.by_altitude")),
        Need(
            "how far the cylinders may differ",
            ("tests.compression.spread", "tests.compression.fraction_of_highest", "tests.compression.below_mean"), ONE_CYLINDER,
        ),
    )),
)


@dataclass(frozen=True, slots=True)
class StageView:
    """One stage in words. do: what is done. to: the fasteners it is for, empty for a wait."""

    do: str
    to: str
    figures: list[FactView]
    rounds: tuple[Statement, ...]
    more: str
    warning: str
    cite: CiteView | None


@dataclass(frozen=True, slots=True)
class OtherView:
    """Another set that is tightened in stages: what it is called, its stages and its order."""

    anchor: str
    label: str
    stages: list[StageView]
    order: OrderView


@dataclass(frozen=True, slots=True)
class OrderView:
    """The tightening order: drawings and names, or where it is to be found, or neither."""

    diagrams: list[Diagram]
    in_figure: str
    loosening_in_figure: str
    cite: CiteView | None


def engine_path(engine: Engine) -> str:
    """Page of an engine, from the site's folder."""
    return f"engines/{engine.id}.html"


def engine_page(engine: Engine, library: Library, changed: date | None, found: Findings | None = None, *, alone: bool = False) -> Page:
    """The whole page. changed: when the record was last committed, if that is known. found: what the check found, for its warnings.

    alone: for the pocket copy, in which every figure stands once.
    """
    head = engine.sets.get("head")
    shown = {topic: _views(engine, library, topic.shows) for topic in TOPICS}
    topics = [(topic, views, topic_gaps(engine, topic), _beside(engine, topic, library)) for topic, views in shown.items()]
    stages = stage_views(head, library) if head else []
    torques = _views(engine, library, ("fasteners.head.tightening.total_angle",) if stages else ("fasteners.head.torque",))
    decisions = _views(engine, library, ("cautions", "cracks", "decisions"))
    return render(
        "engine.html", engine_path(engine), engine.name,
        engine=engine, changed=changed, standing=standing(engine), pocket=len(library.engines) <= POCKETS, topics=topics, tightening=TIGHTENING,
        torques=torques, stages=stages, decisions=decisions, alone=alone, all="Every other figure" if alone else "All figures",
        order=_order(engine, head or FastenerSet("head", ("fasteners", "head")), library),
        others=_others(engine, library),
        warnings=warnings_of(engine, found),
        doubts=[fact_view(fact, library, 0) for fact in engine.facts if warning(fact) or fact.status == "contested"],
        gaps=gaps(engine),
        sections=_without(sections(engine, library), [*chain(*shown.values()), *torques, *decisions, *_staged(engine, library)] if alone else []),
        sources=[library.sources[each] for each in engine.sources if each in library.sources],
    )


def _views(engine: Engine, library: Library, places: Iterable[str]) -> list[FactView]:
    return [fact_view(fact, library) for place in places for fact in engine.below(place)]


def _staged(engine: Engine, library: Library) -> Iterator[FactView]:
    """Figures that stand whole in a stage; one in doubt stands among the others too, where its warning leads."""
    views = (fact_view(fact, library) for each in engine.sets.values() for stage in each.stages for fact in stage.figures)
    return (view for view in views if not view.warning)


def _without(found: list[Section], shown: list[FactView]) -> list[Section]:
    """Sections without the figures that stand further up the page."""
    anchors = {view.anchor for view in shown}
    left = ((anchor, heading, [view for view in views if view.anchor not in anchors]) for anchor, heading, views in found)
    return [section for section in left if section[2]]


POCKETS = 100  # engines for which a pocket copy is made without being asked for
ORDER_GAP = "the tightening order of the head bolts"


def gaps(engine: Engine) -> list[str]:
    """What the job cannot do without and this record does not hold."""
    head = engine.sets.get("head")
    order = [] if head and head.orders and head.spots else [ORDER_GAP]
    return [gap for topic in TOPICS for gap in topic_gaps(engine, topic)] + order


def _unanswered(engine: Engine, topic: Topic) -> list[Need]:
    return [need for need in topic.needs if need.missing(engine)]


def topic_gaps(engine: Engine, topic: Topic) -> list[str]:
    """What the job needs of a topic and this record does not hold."""
    return [need.what for need in _unanswered(engine, topic)]


def _beside(engine: Engine, topic: Topic, library: Library) -> list[BesideView]:
    """What the trade holds of a topic's gaps."""
    return beside_views([place for need in _unanswered(engine, topic) for place in need.places], engine, library)


_DO = {
    "torque": "tighten to", "angle": "turn further by", "loosen": "loosen", "recheck": "check again at",
    "steps": "tighten by rounds", "wait": "wait until", "retorque": "tighten again after running",
}


def stage_views(fasteners: FastenerSet, library: Library) -> list[StageView]:
    """The stages of a set in words."""
    return [_stage(stage, fasteners, library) for stage in fasteners.stages]


def _stage(stage: Stage, fasteners: FastenerSet, library: Library) -> StageView:
    groups = fasteners.groups
    names = [str(groups[name].get("label", f"the {name} ones")) for name in stage.groups if name in groups]
    more = ", ".join(text for text in (_how_far(stage), stage.when, stage.method) if text)
    said = [doubt_words(stage.doubt), *(warning(fact) for fact in stage.figures)]
    return StageView(
        do=f"{_DO[stage.do]} {stage.until}".strip(),
        to="" if stage.do == "wait" else f"only {' and '.join(names)}" if names else "every one",
        figures=[fact_view(fact, library) for fact in stage.figures],
        rounds=tuple(parse(text) for text in stage.rounds),
        more=more,
        warning=" ".join(words for words in said if words),
        cite=cite_view(stage.figures[0].cite if stage.figures else stage.cite, library),
    )


def _how_far(stage: Stage) -> str:
    """How far a loosening goes: by 180°, or in the record's own words."""
    if stage.rounds or not stage.by:
        return ""
    try:
        return f"by {statement_words(parse(stage.by))}"
    except StatementError:
        return stage.by


def _others(engine: Engine, library: Library) -> list[OtherView]:
    return [
        OtherView(f"order-{key.replace('_', '-')}", set_name(key, engine, library), stage_views(each, library), _order(engine, each, library))
        for key, each in engine.sets.items() if key != "head" and each.stages
    ]


def set_name(key: str, engine: Engine, library: Library) -> str:
    """What a set of fasteners is called: the schema's title, or the source's own word for a set that has none."""
    titles = library.schemas.shape("engine").children["fasteners"].children
    return titles[key].title if key in titles else sentence(str(engine.file.data["fasteners"][key].get("label", key)))


def _order(engine: Engine, head: FastenerSet, library: Library) -> OrderView:
    return OrderView(
        diagrams=diagrams(engine, head),
        in_figure=head.order_in_figure,
        loosening_in_figure=head.loosening_in_figure,
        cite=cite_view(head.order_cite, library),
    )
