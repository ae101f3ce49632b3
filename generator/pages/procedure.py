"""The procedure: the eleven phases for one engine, or for any."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import TypeAlias

from markupsafe import Markup

from generator.pages.at_hand import KINDS, by_condition, by_kind, gathered, no_pauses, replaced, shown_steps
from generator.pages.bench import WALKS, heads_of, scripts_of, works
from generator.pages.conditions import condition_words
from generator.pages.engine import StageView, stage_views
from generator.pages.figures import CiteView, FactView, cite_view, fact_view
from generator.pages.page import Page, environment, render, runs
from generator.record.engine import Engine
from generator.record.facts import Cite
from generator.record.library import Library
from generator.record.procedure import NO, SIGNALS, Cause, Caution, Phase, Sign, Step, Wanted, When, applies, open_part

_STAGES = ("fasteners", "head", "tightening", "stages")
_ORDERS, _LOOSENING = "fasteners.head.tightening.orders", "fasteners.head.loosening"
# What a step hangs on that the record leaves open; and so each of its cautions, with whether it stands on the page for the first time.
_Open: TypeAlias = tuple[When, tuple[tuple[str, When, bool], ...]]


@dataclass(frozen=True, slots=True)
class CautionView:
    """A caution. condition: in words, where the record does not say and the step does not say it already."""

    caution: Caution
    condition: str
    cites: list[CiteView]


@dataclass(frozen=True, slots=True)
class CauseView:
    """A row of a table of causes. href: of the step that holds the test, or empty."""

    cause: Cause
    href: str
    cites: list[CiteView]


@dataclass(frozen=True, slots=True)
class SignView:
    """A row of the signs. back_to: the step that the job goes back to."""

    sign: Sign
    back_to: Step
    cites: list[CiteView]


@dataclass(frozen=True, slots=True)
class OrderLine:
    """An order of the head's fasteners in words. places: names, first to last."""

    label: str
    places: str
    cite: CiteView | None


@dataclass(frozen=True, slots=True)
class StepView:
    """A step for the page. before, after: what is the same for every engine that leaves the same open. missing: what to look up."""

    step: Step
    before: Markup
    after: Markup
    figures: list[tuple[CiteView | None, list[FactView]]]
    missing: list[str]
    stages: list[StageView]
    orders: list[OrderLine]
    causes: list[tuple[str, list[CauseView]]]
    signs: list[SignView]
    tools: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ToolStep:
    """A step for any engine at which a tool or a hold point stands. tools: names of the worksheets and walks."""

    before: Markup
    after: Markup
    tools: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PhaseView:
    """A phase with the steps that are for this engine, by parts: heading, which may be empty, and steps."""

    phase: Phase
    parts: list[tuple[str, list[StepView]]]


def procedure_path(engine: Engine | None) -> str:
    """Page of the procedure for an engine, or for any, from the site's folder."""
    return f"procedure/{engine.id}.html" if engine else "procedure.html"


def procedure_page(engine: Engine | None, library: Library, *, alone: bool = False) -> Page:
    """The job for one engine. Whoever makes many pages keeps one Procedure."""
    return Procedure(library).page(engine, alone=alone)


@dataclass(frozen=True)
class Procedure:
    """The job of a library, ready to be shown for any engine. What is the same on many pages is rendered once."""

    library: Library
    _rendered: dict[tuple[str, str, _Open], tuple[Markup, Markup]] = field(default_factory=dict)

    def page(self, engine: Engine | None, *, alone: bool = False) -> Page:
        """The job. Without an engine every condition is open, so every step stands under its own. alone: within one file, scripts apart."""
        library, title = self.library, f"Procedure: {engine.name}" if engine else "Procedure"
        shown = [step for phase in library.phases for step in shown_steps(phase, engine)]
        job = _Job(engine, self, frozenset(step.id for step in shown), _worksheets(shown))
        return render(
            "procedure.html", procedure_path(engine), title,
            engine=engine,
            phases=[job.phase(phase) for phase in library.phases],
            needs=by_kind(gathered(engine, library)),
            replaced=replaced(engine, library) if engine else [],
            no_pauses=list(no_pauses(engine, library)),
            own_cautions=[fact_view(fact, library) for fact in engine.below("cautions")] if engine else [],
            manuals=_manuals(engine, library),
            alone=alone, heads_of=heads_of(engine), walks=WALKS, scripts=[] if alone else scripts_of(engine),
        )

    def tools(self) -> list[tuple[Phase, list[ToolStep]]]:
        """The phases with their steps that hold a tool or a hold point, under their conditions; each tool once, at the last step that names it."""
        job = _Job(None, self, frozenset(self.steps), {})
        last = {name: step.id for step in self.steps.values() for name in step.worksheets}
        steps = [(phase, [step for step in phase.steps if step.worksheets or step.hold]) for phase in self.library.phases]
        return [(phase, [self._tool_step(step, job, last) for step in found]) for phase, found in steps if found]

    def _tool_step(self, step: Step, job: _Job, last: dict[str, str]) -> ToolStep:
        # What a step leads to may have no tool: it stands on the page of the procedure.
        here, there = 'href="#step-', f'href="{procedure_path(None)}#step-'
        before, after = (Markup(str(part).replace(here, there)) for part in self.frame(step, job.left_open(step), ""))
        return ToolStep(before, after, tuple(name for name in step.worksheets if last[name] == step.id))

    @cached_property
    def steps(self) -> dict[str, Step]:
        """Every step by its id."""
        return {step.id: step for phase in self.library.phases for step in phase.steps}

    def frame(self, step: Step, left_open: _Open, up: str) -> tuple[Markup, Markup]:
        """What stands in a step before and after the figures of an engine."""
        key = (step.id, up, left_open)
        if key not in self._rendered:
            self._rendered[key] = self._frame(step, left_open, up)
        return self._rendered[key]

    def _frame(self, step: Step, left_open: _Open, up: str) -> tuple[Markup, Markup]:
        library, (own, of_cautions) = self.library, left_open
        template = environment().get_template("step.html").module
        before = template.before(  # type: ignore[attr-defined]
            step=step, up=up, condition=condition_words(own),
            cautions=[_caution(library.cautions[name], when, own, library if first else None) for name, when, first in of_cautions],
            needs=[(heading, names) for kind, heading in KINDS.items() if (names := _names(step, kind, library))],
            ends=self.steps[step.no_pause.until] if step.no_pause else None,
        )
        return before, template.after(step=step, up=up, cites=_cites(step.cites, library))  # type: ignore[attr-defined]


def _worksheets(steps: list[Step]) -> dict[str, str]:
    """Where each worksheet stands: once a page, at the first step that names it."""
    found: dict[str, str] = {}
    for step in steps:
        for name in step.worksheets:
            found.setdefault(name, step.id)
    return found


def _caution(caution: Caution, when: When, said: When, library: Library | None) -> CautionView:
    """A caution; what the step's own condition says is not said twice. library: None where its sources stand further up the page."""
    unsaid = tuple(each for each in when if each not in said)
    return CautionView(caution, condition_words(unsaid), _cites(caution.cites, library) if library else [])


def _names(step: Step, kind: str, library: Library) -> list[str]:
    return [need.name for name in step.needs if (need := library.needs[name]).kind == kind]


def _manuals(engine: Engine | None, library: Library) -> str:
    """Where to look up what the record lacks: the manuals it was made from."""
    numbers = [library.sources[each].number for each in engine.sources if each in library.sources] if engine else []
    return " or ".join(numbers) or "the manual of your engine"


@dataclass(frozen=True, slots=True)
class _Job:
    """The job for one engine, or for any.

    shown: ids of the steps that are on the page. at: the step of each worksheet.
    warned: ids of the cautions that stand further up.
    """

    engine: Engine | None
    procedure: Procedure
    shown: frozenset[str]
    at: dict[str, str]
    warned: set[str] = field(default_factory=set)

    def phase(self, phase: Phase) -> PhaseView:
        """A phase by the headings that the data gives; a heading stays where its first step is not for this engine."""
        parts: dict[str, list[StepView]] = {}
        heading = ""
        for step in phase.steps:
            heading = step.part or heading
            if step.id in self.shown:
                parts.setdefault(heading, []).append(self.step(step, phase))
        return PhaseView(phase, list(parts.items()))

    def step(self, step: Step, phase: Phase) -> StepView:
        """A step with all that stands in it."""
        engine, library = self.engine, self.procedure.library
        before, after = self.procedure.frame(step, self.left_open(step), "../" if engine else "")
        return StepView(
            step=step, before=before, after=after,
            figures=_figures(step, engine, library) if engine else [],
            missing=[*(wanted.what for wanted in step.figures if _missed(wanted, engine)), *_in_a_figure(step, engine)],
            stages=_stages(step, engine, library),
            orders=list(_orders(step, engine, library)) if step.figures else [],
            causes=self.causes(step.causes, phase) if step.causes else [],
            signs=[self.sign(sign) for sign in phase.signs] if step.signs else [],
            tools=tuple(name for name in step.worksheets if engine and self.at[name] == step.id and works(name, engine)),
        )

    def left_open(self, step: Step) -> _Open:
        """What the record does not say of the step and of each of its cautions, the gravest first."""
        found = [self.procedure.library.cautions[name] for name in step.cautions]
        found = [caution for caution in found if applies(caution.when, self.engine) != NO]
        found.sort(key=lambda caution: SIGNALS.index(caution.signal))
        cautions = tuple((caution.id, open_part(caution.when, self.engine), caution.id not in self.warned) for caution in found)
        self.warned.update(caution.id for caution in found)
        return open_part(step.when, self.engine), cautions

    def causes(self, table: str, phase: Phase) -> list[tuple[str, list[CauseView]]]:
        """A table of causes; rows that hang on what the record does not say stand together under their condition."""
        rows = [cause for cause in phase.causes if cause.of == table and applies(cause.when, self.engine) != NO]
        return by_condition((condition_words(open_part(cause.when, self.engine)), self.cause(cause)) for cause in rows)

    def cause(self, cause: Cause) -> CauseView:
        """A row of a table of causes."""
        return CauseView(cause, f"#step-{cause.step}" if cause.step in self.shown else "", _cites(cause.cites, self.procedure.library))

    def sign(self, sign: Sign) -> SignView:
        """A row of the signs."""
        return SignView(sign, self.procedure.steps[sign.back_to], _cites(sign.cites, self.procedure.library))


def _figures(step: Step, engine: Engine, library: Library) -> list[tuple[CiteView | None, list[FactView]]]:
    """Figures of the step in runs of one source and place; stages that the step shows in their own words are not among them."""
    facts = [fact for wanted in step.figures for place in wanted.places for fact in engine.below(place)]
    views = [fact_view(fact, library) for fact in dict.fromkeys(facts) if not (step.tightening and fact.at[:4] == _STAGES)]
    return runs(views)


def _missed(wanted: Wanted, engine: Engine | None) -> bool:
    """Whether the reader has to look it up."""
    if not wanted.what or applies(wanted.when, engine) == NO:
        return False
    return engine is None or not any(engine.below(place) or _in_data(engine.file.data, place) for place in wanted.places)


def _in_data(data: object, place: str) -> bool:
    """Whether the record has the key at all; orders and drawings are no facts."""
    for key in place.split("."):
        data = data.get(key) if isinstance(data, dict) else None
    return data is not None


def _stages(step: Step, engine: Engine | None, library: Library) -> list[StageView]:
    """The stages that belong to the step: those done in one go, or those after running, with what is waited for first."""
    head = engine.sets.get("head") if engine and step.tightening else None
    if head is None:
        return []
    later = _after_running([stage.do for stage in head.stages])
    views = stage_views(head, library)
    return views[:later] if step.tightening == "stages" else views[later:]


def _after_running(does: list[str]) -> int:
    """Where the stages after running begin: at the first re-torque, or at the waits just before it."""
    first = does.index("retorque") if "retorque" in does else len(does)
    while first < len(does) and first and does[first - 1] == "wait":
        first -= 1
    return first


def _asked(step: Step) -> set[str]:
    return {place for wanted in step.figures for place in wanted.places}


def _in_a_figure(step: Step, engine: Engine | None) -> list[str]:
    """An order that the record only points to has to be looked up like one that it lacks."""
    head = engine.sets.get("head") if engine else None
    if head is None:
        return []
    pointed = {_ORDERS: ("tightening", head.order_in_figure), _LOOSENING: ("loosening", head.loosening_in_figure)}
    return [f"the {what} order of the head bolts, {where}" for place, (what, where) in pointed.items() if where and place in _asked(step)]


def _orders(step: Step, engine: Engine | None, library: Library) -> Iterator[OrderLine]:
    """Orders that the step asks for, in words; the drawings stand on the engine's page."""
    head = engine.sets.get("head") if engine else None
    if engine is None or head is None:
        return
    if _ORDERS in _asked(step):
        for name, places in head.orders.items():
            label = "Order" if len(head.orders) == 1 else f"Order {name}"
            yield OrderLine(label, ", ".join(places), cite_view(head.order_cite, library))
    if _LOOSENING in _asked(step) and head.loosening:
        block = engine.file.data["fasteners"]["head"]
        cite = Cite.read(str(block["loosening"].get("cite", block.get("cite", ""))))
        yield OrderLine("Loosening order", ", ".join(head.loosening), cite_view(cite, library))


def _cites(cites: tuple[Cite, ...], library: Library) -> list[CiteView]:
    return [view for cite in cites if (view := cite_view(cite, library))]
