"""Preload: what a torque or an angle does to a bolt, as a range, because friction is never known.

The handbook is the one named in tests/published/preload.json.
A check of plausibility beside the engine's own torque, never a replacement for it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi

from generator.calculations.result import InputError, Result, measured
from generator.calculations.threads import METRIC, Loads, Thread
from generator.calculations.wording import DECIMALS, number_text, say_quantity, say_rounded
from generator.quantities import Quantity

FAR_BELOW = "far below proof load"
BELOW = "below proof load"
MAY_PASS = "may pass proof load"
PASSES = "past proof load"
BREAKS = "past tensile load"
VERDICTS = (FAR_BELOW, BELOW, MAY_PASS, PASSES, BREAKS)  # rising

_FAR_SHARE = 0.1
_FLANK = pi / 6  # half of the 60 degree profile
_CREST_AND_ROOT = 1.299038  # times P: 3/2 H, the depth off d to the root in the handbook's tables
_COLLAR = 1.25  # mean collar diameter over bolt diameter


@dataclass(frozen=True, slots=True)
class Preload:
    """Clamp load of one bolt. low: lowest torque, highest friction. high: highest torque, lowest friction."""

    low: Quantity
    high: Quantity


@dataclass(frozen=True, slots=True)
class Stretch:
    """What an angle does, at most. stretch: how much longer the bolt gets. strain: the same over the grip.
    gain: the preload that the angle adds."""

    stretch: Quantity
    strain: float
    gain: Quantity


def preload(torque_low: Quantity, torque_high: Quantity, thread: Thread, k_low: float, k_high: float) -> Preload:
    """Preload range F = T / (K d): from T low at K high, to T high at K low.

    T = K d F (handbook of machine design, Eq. 8-27); d nominal diameter; K nut factor, a plain ratio. Result in
    kN for metric threads, lbf for inch threads. Holds while the bolt stays elastic. Raises
    InputError: missing, wrong unit, zero or negative; bounds exchanged (out-of-order); K outside
    0 to 1 (out-of-range).
    """
    low, high = measured(torque_low, "N.m", "torque low", zero=False), measured(torque_high, "N.m", "torque high", zero=False)
    if low > high:
        raise InputError("out-of-order", "torque", "the lower bound first")
    _check_factor(k_low, "K low")
    _check_factor(k_high, "K high")
    if k_low > k_high:
        raise InputError("out-of-order", "K", "the lower bound first")
    across = _metres(thread)
    return Preload(_force(low / (k_high * across), thread), _force(high / (k_low * across), thread))


def torque_for(load: Quantity, thread: Thread, k: float) -> Quantity:
    """T = K d F (handbook of machine design, Eq. 8-27): the torque that gives this preload. N.m, or lbf.ft for inch threads."""
    _check_factor(k, "K")
    torque = Quantity(k * _metres(thread) * measured(load, "N", "preload", zero=False), "N.m")
    return torque if thread.system == METRIC else torque.converted("lbf.ft")


def implied_nut_factor(torque: Quantity, load: Quantity, thread: Thread) -> float:
    """K = T / (d F): the nut factor that a printed torque and preload amount to."""
    return measured(torque, "N.m", "torque", zero=False) / (_metres(thread) * measured(load, "N", "preload", zero=False))


def nut_factor(thread: Thread, thread_friction: float, collar_friction: float) -> float:
    """K from friction (handbook of machine design, Eq. 8-26), for a standing bolt turned at its head or nut.

    K = dm/(2d) (tan L + f sec a)/(1 - f tan L sec a) + 0.625 fc, with tan L = P/(pi dm), a = 30
    degrees, dm = (d + dr)/2, dr = d - 1.299038 P, collar 1.25 d across on average. f, fc:
    coefficients from 0 to 1. Raises InputError (out-of-range) for others.
    """
    _check_factor(thread_friction, "thread friction", zero=True)
    _check_factor(collar_friction, "collar friction", zero=True)
    d, pitch = thread.diameter.value, thread.pitch.value
    mean = d - _CREST_AND_ROOT * pitch / 2
    lead, flank = pitch / (pi * mean), thread_friction / cos(_FLANK)
    return mean / (2 * d) * (lead + flank) / (1 - lead * flank) + _COLLAR / 2 * collar_friction


def preload_stress(load: Quantity, area: Quantity) -> Quantity:
    """Stress = F / As. MPa for an area in mm2, psi for one in in2."""
    unit = area.unit if isinstance(area, Quantity) else "mm2"
    section = measured(area, "mm2", "stress area", zero=False)
    stress = Quantity(measured(load, "N", "preload") / section, "MPa")
    return stress.converted("psi") if unit == "in2" else stress


def against_strength(found: Preload, strength: Loads, angle_follows: bool = False) -> Result:
    """A preload range beside the loads of one property class or grade.

    Verdicts, rising: "far below proof load" (even the highest is under a tenth of it), "below
    proof load", "may pass proof load" (only part of the range is above), "past proof load", "past
    tensile load" (even the lowest is above). angle_follows: the torque is not the end of it. number:
    the load that was compared. The tenth is a rule of this project, no source.
    """
    proof, tensile = measured(strength.proof, "N", "proof load", zero=False), measured(strength.tensile, "N", "tensile load", zero=False)
    low, high = measured(found.low, "N", "preload low", zero=False), measured(found.high, "N", "preload high", zero=False)
    if proof > tensile or low > high:
        raise InputError("out-of-order", "loads", "proof load below tensile load, the lower preload first")
    verdict = _verdict(low, high, proof, tensile)
    compared = strength.tensile if verdict == BREAKS else strength.proof
    kind = "tensile" if verdict == BREAKS else "proof"
    clamp = f"{number_text(found.low.value, DECIMALS[found.low.unit])} to {say_rounded(found.high.value, found.high.unit)}"
    reason = f"A clamp load of {clamp} {_WHERE[verdict]} the {kind} load of {strength.name} ({_load(compared, found.low.unit)})."
    seats = angle_follows and verdict in (FAR_BELOW, BELOW)
    step = "The torque only seats the bolt: see what the angle adds." if seats else _NEXT[verdict]
    return Result(verdict, reason, step, compared, strength.basis)


def angle_stretch(angle: Quantity, thread: Thread, grip: Quantity, modulus: Quantity) -> Stretch:
    """Stretch and added preload of a tightening angle over a grip, as upper bounds.

    stretch = P angle/360; strain = stretch/grip; gain = E A strain with A = pi d^2/4, the largest
    section a plain bolt has. Upper bounds because the joint is taken as rigid (gasket and head
    give way in truth), head and threads as not yielding, the bolt as elastic and without a
    thinner part. modulus: Young's modulus E of the bolt, never assumed. Lengths in any unit,
    angle in deg; stretch in the unit of the thread, gain in kN or lbf. Raises InputError:
    missing, wrong unit, zero or negative.
    """
    turned = measured(angle, "deg", "angle", zero=False)
    held = measured(grip, "mm", "grip", zero=False)
    stiff = measured(modulus, "MPa", "modulus", zero=False)
    longer = thread.pitch.to("mm") * turned / 360
    across = thread.diameter.to("mm")
    strain = longer / held
    stretch = Quantity(longer, "mm")
    if thread.system != METRIC:
        stretch = stretch.converted("in")
    return Stretch(stretch, strain, _force(stiff * (pi / 4 * across * across) * strain, thread))


def angle_against_strength(before: Preload, stretched: Stretch, strength: Loads) -> Result:
    """The highest preload there can be after an angle, beside the proof load.

    Highest = preload.high + gain, an upper bound: it proves "below proof load" and never more than
    "may pass proof load". before: the preload of the torque that the angle follows.
    """
    most = measured(before.high, "N", "preload high", zero=False) + measured(stretched.gain, "N", "gain", zero=False)
    proof = measured(strength.proof, "N", "proof load", zero=False)
    top = Quantity(most, "N").converted(before.high.unit)
    limit, stretch = _load(strength.proof, before.high.unit), say_quantity(stretched.stretch)
    if most <= proof:
        reason = (
            f"The angle stretches the bolt by {stretch} at most, to no more than {say_quantity(top)}; "
            f"the proof load of {strength.name} is {limit}, so the bolt stays elastic."
        )
        return Result(BELOW, reason, _NEXT[BELOW], top, strength.basis)
    reason = (
        f"The angle stretches the bolt by {stretch} at most, to no more than {say_quantity(top)}; "
        f"the proof load of {strength.name} is {limit}, so the bolt may stay longer than it was."
    )
    return Result(MAY_PASS, reason, "Use such a bolt again only if the engine's own record allows it.", top, strength.basis)


_WHERE = {
    FAR_BELOW: "is under a tenth of", BELOW: "is below", MAY_PASS: "reaches past", PASSES: "is past", BREAKS: "is past",
}
_NEXT = {
    FAR_BELOW: "Check torque, unit and thread: this would hardly clamp.",
    BELOW: "Nothing to do: the bolt stays elastic.",
    MAY_PASS: "Check class and lubricant; the engine's own torque stands.",
    PASSES: "Check torque, unit, thread and class before anything is tightened.",
    BREAKS: "Do not tighten: torque, unit, thread or class is wrong.",
}


def _verdict(low: float, high: float, proof: float, tensile: float) -> str:
    if low > tensile:
        return BREAKS
    if low > proof:
        return PASSES
    if high > proof:
        return MAY_PASS
    return FAR_BELOW if high < _FAR_SHARE * proof else BELOW


def _check_factor(value: float, name: str, zero: bool = False) -> None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise InputError("not-a-number", name, "a plain ratio, for example 0.15")
    if not (0 <= value < 1) or (value == 0 and not zero):
        raise InputError("out-of-range", name, "a ratio between 0 and 1")


def _metres(thread: Thread) -> float:
    return thread.diameter.to("m")


def _force(newtons: float, thread: Thread) -> Quantity:
    return Quantity(newtons, "N").converted("kN" if thread.system == METRIC else "lbf")


def _load(load: Quantity, unit: str) -> str:
    return say_rounded(load.to(unit), unit)
