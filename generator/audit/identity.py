"""What the engine is must fit together: bore, stroke and displacement, chamber and ratio, cylinders and firing order, sprockets."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import pi

from generator.audit.spans import Span, spans_at, statement_span
from generator.audit.suspicion import FigureRule, Suspicion
from generator.quantities import Quantity
from generator.record.engine import Engine
from generator.record.facts import Fact
from generator.record.library import Library

# Displacement is printed after rounding of its own, beside bore and stroke that are nominal.
SHARE = 0.005
# What the crown of a piston may add to or take from a flat one; beyond it a digit is the likelier cause.
CROWN = 0.25
_SCHOOL_PI = 3.14


def _whole(engine: Engine, place: str) -> int:
    text = engine.says(place)
    return int(text) if text.isdigit() else 0


def _one(engine: Engine, place: str) -> Span | None:
    """The figure of a place where exactly one stands."""
    found = spans_at(engine, place)
    return found[0] if len(found) == 1 else None


def _swept(bore: Span, stroke: Span) -> tuple[float, float]:
    """Lowest and highest volume of one cylinder in m3 that the printed digits stand for."""
    low, high = ((getattr(bore, end) + sign * bore.digit, getattr(stroke, end) + sign * stroke.digit) for end, sign in (("low", -1), ("high", 1)))
    return pi / 4 * low[0] ** 2 * low[1], pi / 4 * high[0] ** 2 * high[1]


def _apart(found: Span, low: float, high: float, share: float = 0.0) -> bool:
    """Whether the digits of a printed volume stand outside a band that is widened by a share."""
    return found.low - found.digit > high * (1 + share) or found.high + found.digit < low * (1 - share)


def _displacement(engine: Engine, library: Library) -> Iterator[Suspicion]:
    bore, stroke, total = (_one(engine, f"identity.{key}") for key in ("bore", "stroke", "displacement"))
    cylinders = _whole(engine, "identity.cylinders")
    if bore is None or stroke is None or total is None or not cylinders:
        return
    sizes = _same_units(bore, stroke)
    facts = (total.fact, bore.fact, stroke.fact)
    if not any(_fits(total, *size, cylinders) for size in sizes):
        low, high = _swept(*sizes[0])
        message = f"{total.text} does not fit: {_gives(*sizes[0], cylinders, total)}{_one_cylinder(total, low, high, cylinders)}"
        yield Suspicion(total.fact.at, message, facts)
    elif not any(_exactly(total, *size, cylinders, pi) for size in sizes) and any(_exactly(total, *size, cylinders, _SCHOOL_PI) for size in sizes):
        message = f"{total.text} was worked out with 3.14 for pi: {_gives(*sizes[-1], cylinders, total)}"
        yield Suspicion(total.fact.at, message, facts, "note", "nothing to do: it stands as printed")


def _same_units(bore: Span, stroke: Span) -> list[tuple[Span, Span]]:
    """Bore and stroke in each unit that both are printed in: a displacement is worked out in one of them, and the other is rounded."""
    pairs = [
        (one, other)
        for first in bore.fact.printed for second in stroke.fact.printed if first.unit is second.unit
        if (one := statement_span(first, bore.fact)) and (other := statement_span(second, stroke.fact))
    ]
    return pairs or [(bore, stroke)]


def _fits(total: Span, bore: Span, stroke: Span, cylinders: int) -> bool:
    low, high = (cylinders * each for each in _swept(bore, stroke))
    exact = _exact(bore, stroke, cylinders, pi)
    return not _apart(total, low, high) or not _apart(total, exact, exact, SHARE)


def _exact(bore: Span, stroke: Span, cylinders: int, circle: float) -> float:
    return circle / 4 * bore.middle**2 * stroke.middle * cylinders


def _exactly(total: Span, bore: Span, stroke: Span, cylinders: int, circle: float) -> bool:
    """Whether the printed digits are those of the nominal sizes."""
    exact = _exact(bore, stroke, cylinders, circle)
    return not _apart(total, exact, exact)


def _gives(bore: Span, stroke: Span, cylinders: int, total: Span) -> str:
    return f"{bore.text}, {stroke.text} and identity.cylinders ({cylinders}) give {_volume(_exact(bore, stroke, cylinders, pi), total)}"


def _volume(cubic_metres: float, like: Span) -> str:
    unit = like.statement.unit.symbol if like.statement.unit else "cm3"
    return f"{Quantity(cubic_metres * 1e6, 'cm3').to(unit):.5g} {unit}"


def _one_cylinder(total: Span, low: float, high: float, cylinders: int) -> str:
    """Names the commonest cause: the volume of one cylinder in the place of all."""
    single = not _apart(total, low, high, SHARE)
    return f"; {total.statement} is the volume of one cylinder" if single and cylinders > 1 else ""


def _ratio(engine: Engine, library: Library) -> Iterator[Suspicion]:
    keys = ("identity.ratio", "identity.bore", "identity.stroke", "faces.head.chamber.volume", "gasket.thickness", "gasket.bore")
    ratio, bore, stroke, chamber, thickness, opening = (_one(engine, key) for key in keys)
    if not (ratio and bore and stroke and chamber and thickness and opening) or engine.says("identity.ratio_over") == "port closing":
        return
    protrusion = _one(engine, "bores.piston_protrusion")
    above = pi / 4 * bore.middle**2 * protrusion.middle if protrusion else 0.0
    clearance = chamber.middle + pi / 4 * opening.middle**2 * thickness.middle - above
    found = 1 + pi / 4 * bore.middle**2 * stroke.middle / clearance if clearance > 0 else 0.0
    if abs(found - ratio.middle) > CROWN * ratio.middle:
        message = f"{ratio.text} is far from {found:.3g}, which {chamber.text} and the gasket, {thickness.text}, give with a flat piston"
        facts = tuple(each.fact for each in (ratio, bore, stroke, chamber, thickness, opening))
        yield Suspicion(ratio.fact.at, message, facts, "warning")


def _firing(engine: Engine, library: Library) -> Iterator[Suspicion]:
    cylinders, facts = _whole(engine, "identity.cylinders"), engine.at("identity.firing_order")
    for fact in facts if cylinders else ():
        turns = re.split(r"\s*[-,]\s*", fact.text.strip())
        if all(turn.isdigit() for turn in turns) and sorted(map(int, turns)) != list(range(1, cylinders + 1)):
            message = f"identity.firing_order ({fact.text}) does not name each of identity.cylinders ({cylinders}) once"
            yield Suspicion((*fact.at, "says"), message, (fact,))


def _sprockets(engine: Engine, library: Library) -> Iterator[Suspicion]:
    """A camshaft driven straight from the crank of a four-stroke has twice its teeth."""
    crank, cam = (_whole(engine, f"timing.sprockets.{key}_teeth") for key in ("crank", "cam"))
    straight = engine.says("identity.cycle") == "four-stroke" and engine.says("identity.intermediate_sprocket") == "absent"
    if crank and cam and straight and cam != 2 * crank:
        facts: tuple[Fact, ...] = engine.at("timing.sprockets.cam_teeth") + engine.at("timing.sprockets.crank_teeth")
        message = f"timing.sprockets.cam_teeth ({cam}) is not twice timing.sprockets.crank_teeth ({crank}), and no sprocket is between them"
        yield Suspicion((*facts[0].at, "says"), message, facts)


FIGURE_RULES = [
    FigureRule(
        "displacement-agrees", "A displacement that bore, stroke and cylinders do not give.", "stroke 81.5 mm typed as 85.1 mm", _displacement,
        ("error", "note"),
    ),
    FigureRule(
        "ratio-agrees", "A compression ratio far from what chamber and gasket give.", "a chamber of 48 cm3 typed as 4.8 cm3", _ratio,
        ("warning",),
    ),
    FigureRule("firing-order-complete", "A firing order that leaves out a cylinder.", "1-3-4-3 of a four", _firing),
    FigureRule("sprockets-two-to-one", "Teeth that would turn the camshaft at a wrong speed.", "crankshaft 21, camshaft 40", _sprockets),
]
