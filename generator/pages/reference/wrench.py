"""The torque wrench: what to set with a sideways adapter, and how far a wrench can be trusted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.calculations.result import InputError
from generator.calculations.wording import say_number, say_quantity
from generator.calculations.wrench import IN_LINE, WrenchRange, adapter_setting
from generator.pages.figures import CiteView, cite_view
from generator.pages.page import Page, render
from generator.quantities import Quantity, shown
from generator.record.facts import Cite
from generator.record.library import Library

# Sizes found in tool boxes: wrench lengths, adapter lengths, full scales. Nothing rests on them.
NAMES = {"mm": "millimetres", "in": "inches"}
LENGTHS = {"mm": (250, 300, 400, 500, 600), "in": (10, 12, 16, 20, 24)}
ADAPTERS = {"mm": (25, 40, 50, 75, 100), "in": (1, 1.5, 2, 3, 4)}
ANGLES = (0, 30, 45, 60, 90, 120, 135, 180)
SCALES = {"N.m": (50, 100, 200, 300), "lbf.ft": (50, 75, 150, 250)}
_HUNDRED = 100.0  # a torque of a hundred makes the setting a percentage


@dataclass(frozen=True, slots=True)
class Grid:
    """A table of settings in percent of the torque. unit: of the lengths; name: the same in words. rows: name of the row and its cells."""

    unit: str
    name: str
    corner: str
    columns: list[str]
    rows: list[tuple[str, list[str]]]


def wrench_page(library: Library) -> Page:
    """Settings as a share of the torque that the bolt is to get, computed by the calculation of the worksheets."""
    cites = ("navedtra-14315 fig. 3-44, 3-45", "tm-9-254 fig. 4-6")
    return render(
        "reference/wrench.html", "reference/wrench.html", "Torque wrench",
        in_line=IN_LINE,
        straight=[_straight(unit) for unit in LENGTHS],
        angled=[_angled(unit) for unit in LENGTHS],
        ranges=[_trusted(full, unit) for unit, fulls in SCALES.items() for full in fulls],
        adapter_cites=_cites(cites, library),
        range_cites=_cites(("tm-1-1500-204-23-9 Table 8-1", "tm-1-1500-204-23-9 para 8-3b"), library),
    )


def _cites(texts: Sequence[str], library: Library) -> list[CiteView]:
    return [view for text in texts if (view := cite_view(Cite.read(text), library))]


def _straight(unit: str) -> Grid:
    """Adapter lengths against wrench lengths, straight on."""
    rows = [(f"{adapter:g}", [_percent(length, adapter, 0, unit) for length in LENGTHS[unit]]) for adapter in ADAPTERS[unit]]
    return Grid(unit, NAMES[unit], "Adapter", [f"{length:g}" for length in LENGTHS[unit]], rows)


def _angled(unit: str) -> Grid:
    """Angles against wrench lengths, for the middle one of the adapters."""
    adapter = ADAPTERS[unit][len(ADAPTERS[unit]) // 2]
    rows = [(f"{angle}°", [_percent(length, adapter, angle, unit) for length in LENGTHS[unit]]) for angle in ANGLES]
    return Grid(unit, NAMES[unit], f"{adapter:g} {unit} at", [f"{length:g}" for length in LENGTHS[unit]], rows)


def _percent(length: float, adapter: float, angle: float, unit: str) -> str:
    try:
        found = adapter_setting(Quantity(_HUNDRED, "N.m"), Quantity(length, unit), Quantity(adapter, unit), Quantity(angle, "deg"))
    except InputError:
        return ""
    return shown(found.number.value, 1) if found.number else ""


def _trusted(full: float, unit: str) -> tuple[str, list[str]]:
    """Full scale, and from where it can be trusted and is best, in its own unit."""
    wrench = WrenchRange(Quantity(full, unit))
    shares = (wrench.from_percent, wrench.best_from, wrench.best_to)
    return say_quantity(wrench.full_scale), [say_number(Quantity(full * share / 100, unit)) for share in shares]
