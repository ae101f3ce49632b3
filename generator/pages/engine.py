"""The page of an engine: what the bench asks for first, then all of it, doubts and gaps in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from generator.pages.diagram import order_diagrams
from generator.pages.figures import CiteView, FactView, cite_view, doubt_words, fact_view, sections, warning
from generator.pages.page import Page, render
from generator.quantities import Statement, parse
from generator.record.engine import Engine
from generator.record.fasteners import FastenerSet, Stage
from generator.record.library import Library


@dataclass(frozen=True, slots=True)
class Need:
    """Something the job cannot do without. places: any of them answers it. what: what the manual in hand should give."""

    what: str
    places: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Topic:
    """A heading of the bench part: what it shows and what the job needs of it."""

    anchor: str
    heading: str
    shows: tuple[str, ...]
    needs: tuple[Need, ...]


TIGHTENING = Topic("tightening", "Tightening the head", (), (
    Need("the torque of the head bolts, or the stages", ("fasteners.head.torque", "fasteners.head.tightening.stages")),
))
TOPICS = (
    Topic("flatness", "Flatness", ("faces.head", "faces.deck"), (
        Need("the flatness limit of the head face", ("faces.head.flatness",)),
        Need("the flatness limit of the deck", ("faces.deck.flatness",)),
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
        Need("which side of the gasket faces up", ("gasket.side",)),
        Need("whether the gasket goes in dry or treated", ("gasket.treatment",)),
        Need("the thickness of the gasket", ("gasket.thickness",)),
    )),
    Topic("compression", "Compression", ("tests.compression",), (
        Need("the lowest compression that passes", ("tests.compression.minimum",)),
        Need("how far the cylinders may differ", ("tests.compression.spread", "tests.compression.fraction_of_highest")),
    )),
)


@dataclass(frozen=True, slots=True)
class StageView:
    """One stage in words. do: what is done. to: the fasteners it is for."""

    do: str
    to: str
    figures: list[FactView]
    rounds: tuple[Statement, ...]
    more: str
    warning: str
    cite: CiteView | None


@dataclass(frozen=True, slots=True)
class OrderView:
    """The tightening order: drawings and names, or where it is to be found, or neither."""

    diagrams: list[str]
    orders: dict[str, tuple[str, ...]]
    groups: dict[str, str]
    in_figure: str
    loosening: tuple[str, ...]
    loosening_in_figure: str
    cite: CiteView | None


def engine_path(engine: Engine) -> str:
    """Page of an engine, from the site's folder."""
    return f"engines/{engine.id}.html"


def engine_page(engine: Engine, library: Library, changed: date | None) -> Page:
    """The whole page. changed: when the record was last committed, if that is known."""
    head = engine.sets.get("head")
    topics = [
        (topic, [fact_view(fact, library) for place in topic.shows for fact in engine.below(place)], _gaps(engine, topic)) for topic in TOPICS
    ]
    return render(
        "engine.html", engine_path(engine), engine.name,
        engine=engine, changed=changed, topics=topics, tightening=TIGHTENING,
        torques=[fact_view(fact, library) for fact in engine.below("fasteners.head.torque")],
        stages=[_stage(stage, head, library) for stage in head.stages] if head else [],
        total=[fact_view(fact, library) for fact in engine.at("fasteners.head.tightening.total_angle")],
        order=_order(engine, head, library),
        doubts=[(fact_view(fact, library, 0), warning(fact)) for fact in engine.facts if warning(fact)],
        gaps=[gap for topic in TOPICS for gap in _gaps(engine, topic)] + ([] if head and _has_order(head) else [ORDER_GAP]),
        sections=sections(engine, library),
        sources=[library.sources[each] for each in engine.sources if each in library.sources],
        decisions=[fact_view(fact, library) for fact in (*engine.below("cautions"), *engine.below("decisions"))],
    )


ORDER_GAP = "the tightening order of the head bolts"


def _has_order(head: FastenerSet) -> bool:
    return bool(head.orders and head.spots)


def _gaps(engine: Engine, topic: Topic) -> list[str]:
    return [need.what for need in topic.needs if not any(engine.below(place) for place in need.places)]


_DO = {
    "torque": "tighten to", "angle": "turn further by", "loosen": "loosen", "recheck": "check again at",
    "steps": "tighten by rounds", "wait": "wait until", "retorque": "tighten again after running",
}


def _stage(stage: Stage, head: FastenerSet | None, library: Library) -> StageView:
    groups = head.groups if head else {}
    names = [str(groups[name].get("label", f"the {name} ones")) for name in stage.groups if name in groups]
    more = ", ".join(text for text in (stage.until, "" if stage.rounds else stage.by, stage.when, stage.method) if text)
    said = [doubt_words(stage.doubt), *(warning(fact) for fact in stage.figures)]
    return StageView(
        do=_DO[stage.do],
        to=f"only {' and '.join(names)}" if names else "every one",
        figures=[fact_view(fact, library) for fact in stage.figures],
        rounds=tuple(parse(text) for text in stage.rounds),
        more=more,
        warning=" ".join(words for words in said if words),
        cite=cite_view(stage.figures[0].cite if stage.figures else stage.cite, library),
    )


def _order(engine: Engine, head: FastenerSet | None, library: Library) -> OrderView:
    head = head or FastenerSet("head", ("fasteners", "head"))
    return OrderView(
        diagrams=order_diagrams(engine, head),
        orders=head.orders,
        groups={name: str(block.get("label", name)) for name, block in head.groups.items()},
        in_figure=head.order_in_figure,
        loosening=head.loosening,
        loosening_in_figure=head.loosening_in_figure,
        cite=cite_view(head.order_cite, library),
    )
