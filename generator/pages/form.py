"""The form "Add an engine" and the page on which an engine entered there is used: the order of the job by hand, every word from the schema.

What stands here is the skeleton: which part of the record is asked for where, and what of it is open from the start. Labels, help, units
and allowed words the script takes from the schema, and whatever a part holds beyond what is open from the start waits behind a button.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass

from generator.pages.bench import WALKS, signs
from generator.pages.page import Page, render
from generator.pages.procedure import Procedure
from generator.pages.scripts import bundle_path
from generator.record.library import Library

FORM, OWN = "add-an-engine.html", "own-engine.html"
REGISTERED = "assets/registered.js"


@dataclass(frozen=True, slots=True)
class Part:
    """One stretch of a section. kind: which of the script's parts lays it out. at: its place in the record. first: keys below it that
    stand open from the start. left_to: keys that another part asks for.
    """

    kind: str
    at: str = ""
    first: tuple[str, ...] = ()
    left_to: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """One step of filling in the form, with a heading and what to do there."""

    key: str
    heading: str
    intro: str
    parts: tuple[Part, ...]


_IDENTITY = (
    "application", "designation", "layout", "cylinders", "fuel", "cooling", "head_per", "head_material", "block_material", "valve_train", "bore",
    "stroke", "firing_order",
)
_VALVES = ("clearance.intake", "clearance.exhaust")
SECTIONS = (
    Section("source", "The manual in your hand", "Begin with it. Every figure below says where in it it stands.", (Part("sources"),)),
    Section("engine", "The engine", "What the manual says of the engine. Leave out what it does not say.", (
        Part("block", "identity", _IDENTITY), Part("names"),
    )),
    Section("bolts", "Head bolts, and where they stand", "Lay the bolts out as the drawing in the manual shows the head.", (
        Part("set", "fasteners.head", ("per", "groups"), ("places", "tightening", "loosening")), Part("places", "fasteners.head"), Part("bores"),
    )),
    Section("order", "The order", "Tap the bolts as the numbers of the manual's figure go: 1, 2, 3.", (Part("orders", "fasteners.head"),)),
    Section("stages", "Stages", "What the manual has done to the bolts, one stage after the other.", (Part("stages", "fasteners.head"),)),
    Section("faces", "Faces", "Flatness first; then height, and what may be machined off.", (
        Part("block", "faces", ("head.flatness.any", "head.height.minimum", "head.stock_removal.total", "deck.flatness.any")),
    )),
    Section("gasket", "Gasket", "Which one, which way up, dry or treated.", (
        Part("block", "gasket", ("side", "treatment", "thickness", "reuse")),
    )),
    Section("tests", "Tests", "Compression, and what else the manual tests.", (
        Part("block", "tests", ("compression.minimum", "compression.spread")),
    )),
    Section("valves", "Valves and timing", "Clearances, seats and guides; then the drive.", (
        Part("block", "valves", _VALVES), Part("block", "timing", ("marks",)),
    )),
    Section("fasteners", "Fasteners elsewhere", "Manifolds, covers, plugs: whatever comes off with the head and goes back on.", (Part("sets"),)),
    Section("other", "Cylinders, pistons, and anything else", "Sizes and wear; and any figure that has no place above.", (
        Part("block", "bores"), Part("rows", "other"),
    )),
    Section("says", "What the manual decides and warns of", "What it says of cracks, what it has done on a finding, its own cautions.", (
        Part("rows", "cracks"), Part("rows", "decisions"), Part("rows", "cautions"),
    )),
)


def form_page() -> Page:
    """The form."""
    scripts = [REGISTERED, *map(bundle_path, ("tables", "record", "form"))]
    return render("form.html", FORM, "Add an engine", sections=SECTIONS, own=OWN, scripts=scripts)


def own_page(procedure: Procedure) -> Page:
    """The page of an engine entered in the form: the tools in the order of the job, with the cautions and hold points before them."""
    scripts = [REGISTERED, *map(bundle_path, ("tables", "bench", "gasket", "kept", "record", "own"))]
    return render("own.html", OWN, "From your own manual", form=FORM, phases=procedure.tools(), walks=WALKS, scripts=scripts)


def registered_script(library: Library) -> str:
    """What is there already, as a classic script: engines by id, for an id is taken once; sources, to be cited again; signs of trouble."""
    data = {
        "engines": {engine.id: engine.name for engine in library.engines.values()},
        "sources": {source.id: {key: text for key, text in asdict(source).items() if text} for source in library.sources.values()},
        "signs": signs(library),
    }
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return f"(window.Firedeck = window.Firedeck || {{}}).registered = {text};\n"
