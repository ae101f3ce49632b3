"""Units of measure, each with its exact factor to one base unit of its dimension.

Factors are exact fractions built from the definitions: 1 in = 25.4 mm,
1 lb = 0.453 592 37 kg, g = 9.806 65 m/s2 (international agreements of 1959 and
1901), 1 gal(US) = 231 in3, 1 gal(imp) = 4.546 09 L, 1 mmHg = 13 595.1 kg/m3 x g x 1 mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction

INCH = Fraction(254, 10_000)  # m
POUND = Fraction(45_359_237, 100_000_000)  # kg
GRAVITY = Fraction(980_665, 100_000)  # m/s2
POUND_FORCE = POUND * GRAVITY  # N
MERCURY = Fraction(135_951, 10) * GRAVITY / 1000  # Pa for 1 mm
CUBIC_INCH = INCH**3  # m3
US_GALLON = 231 * CUBIC_INCH  # m3
IMPERIAL_GALLON = Fraction(454_609, 100_000_000)  # m3


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: `base value = (value + offset) * factor`.

    symbol: the one spelling used in records. dimension: what it measures.
    system: "SI", "US", "imperial" or "technical" (the kilogram-force family);
    a reader who works in one system needs a figure in a unit of it.
    """

    symbol: str
    dimension: str
    system: str
    factor: Fraction
    offset: Fraction = Fraction(0)

    def to_base(self, value: Fraction) -> Fraction:
        """Convert a value in this unit to the base unit of its dimension."""
        return (value + self.offset) * self.factor

    def from_base(self, value: Fraction) -> Fraction:
        """Convert a value in the base unit of the dimension to this unit."""
        return value / self.factor - self.offset


class UnitError(ValueError):
    """A unit that is not known; `hint` says what to write instead."""

    def __init__(self, found: str, hint: str) -> None:
        super().__init__(f"unit {found!r} is not known")
        self.found = found
        self.hint = hint


def _table(dimension: str, rows: dict[str, tuple[str, Fraction | int]]) -> list[Unit]:
    return [Unit(symbol, dimension, system, Fraction(factor)) for symbol, (system, factor) in rows.items()]


_ALL = [
    # base: m
    *_table("length", {
        "mm": ("SI", Fraction(1, 1000)), "um": ("SI", Fraction(1, 1_000_000)), "m": ("SI", 1),
        "in": ("US", INCH), "uin": ("US", INCH / 1_000_000), "ft": ("US", 12 * INCH),
    }),
    # base: degree, because the degree is what is printed and pi is no fraction
    *_table("angle", {"deg": ("any", 1)}),
    # base: N.m
    *_table("torque", {
        "N.m": ("SI", 1), "lbf.ft": ("US", POUND_FORCE * 12 * INCH), "lbf.in": ("US", POUND_FORCE * INCH),
        "kgf.m": ("technical", GRAVITY), "kgf.cm": ("technical", GRAVITY / 100),
    }),
    # base: Pa
    *_table("pressure", {
        "kPa": ("SI", 1000), "MPa": ("SI", 1_000_000), "bar": ("SI", 100_000),
        "psi": ("US", POUND_FORCE / INCH**2), "kgf/cm2": ("technical", GRAVITY * 10_000),
        "mmHg": ("technical", MERCURY), "inHg": ("US", MERCURY * Fraction(254, 10)),
    }),
    # base: m3
    *_table("volume", {
        "L": ("SI", Fraction(1, 1000)), "mL": ("SI", Fraction(1, 1_000_000)),
        "qt(US)": ("US", US_GALLON / 4), "gal(US)": ("US", US_GALLON), "pt(US)": ("US", US_GALLON / 8),
        "floz(US)": ("US", US_GALLON / 128),
        "qt(imp)": ("imperial", IMPERIAL_GALLON / 4), "gal(imp)": ("imperial", IMPERIAL_GALLON),
        "mm3": ("SI", Fraction(1, 10**9)), "cm3": ("SI", Fraction(1, 10**6)), "in3": ("US", CUBIC_INCH),
    }),
    # base: m2
    *_table("area", {
        "mm2": ("SI", Fraction(1, 10**6)), "cm2": ("SI", Fraction(1, 10**4)), "in2": ("US", INCH**2),
    }),
    # base: K
    Unit("degC", "temperature", "SI", Fraction(1), Fraction(27_315, 100)),
    Unit("degF", "temperature", "US", Fraction(5, 9), Fraction(45_967, 100)),
    *_table("temperature difference", {
        "degC difference": ("SI", 1), "degF difference": ("US", Fraction(5, 9)),
    }),
    # base: N
    *_table("force", {
        "N": ("SI", 1), "kN": ("SI", 1000), "lbf": ("US", POUND_FORCE), "kgf": ("technical", GRAVITY),
    }),
    # base: kg
    *_table("mass", {"kg": ("SI", 1), "g": ("SI", Fraction(1, 1000)), "lb": ("US", POUND)}),
    *_table("rotational speed", {"rpm": ("any", 1)}),
    # base: s
    *_table("time", {"h": ("any", 3600), "min": ("any", 60), "s": ("any", 1)}),
    *_table("fraction", {"%": ("any", Fraction(1, 100))}),
    *_table("ratio", {"ratio": ("any", 1)}),
]

UNITS: dict[str, Unit] = {unit.symbol: unit for unit in _ALL}

# Spellings met in manuals and on keyboards. Keys are compared after `_fold`.
SPELLINGS = {
    "N.m": ["Nm", "N m", "newton metre", "newton meter"],
    "lbf.ft": ["lb ft", "ft lb", "lbf ft", "ft lbf", "ftlb", "lbft", "ft lbs", "lbs ft", "ftlbs", "foot pound", "foot pounds",
               "pound foot", "pound feet"],
    "lbf.in": ["lb in", "in lb", "lbf in", "in lbf", "inlb", "lbin", "in lbs", "lbs in", "inlbs", "inch pound", "inch pounds"],
    "kgf.m": ["kg m", "kgf m", "kgm", "m kg", "m kgf", "mkg"],
    "kgf.cm": ["kg cm", "kgf cm", "kgcm", "cm kg"],
    "kgf/cm2": ["kg/cm2"],
    "psi": ["lb/in2", "lbf/in2", "psig"],
    "deg": ["°", "degree", "degrees"],
    "degC": ["°C", "C"],
    "degF": ["°F", "F"],
    "in": ["inch", "inches", '"'],
    "mm": ["millimetre", "millimetres", "millimeter", "millimeters"],
    "m": ["metre", "metres", "meter", "meters"],
    "um": ["µm", "μm", "micron", "microns", "micrometre", "micrometer"],
    "uin": ["µin", "μin", "microinch", "microinches"],
    "ft": ["foot", "feet"],
    "L": ["l", "litre", "litres", "liter", "liters"],
    "mL": ["ml"],
    "cm3": ["cc", "ccm"],
    "in3": ["cu in", "cid"],
    "qt(US)": ["US qt", "US quart", "US quarts"],
    "gal(US)": ["US gal", "US gallon", "US gallons"],
    "pt(US)": ["US pt", "US pint", "US pints"],
    "floz(US)": ["US fl oz", "fl oz(US)"],
    "qt(imp)": ["imp qt", "imperial qt", "imperial quart"],
    "gal(imp)": ["imp gal", "imperial gal", "imperial gallon"],
    "rpm": ["r/min", "1/min", "rev/min"],
    "ratio": [":1", "to 1"],
    "%": ["percent", "per cent"],
    "lb": ["lbs", "pound", "pounds"],
    "h": ["hr", "hour", "hours"],
    "min": ["minute", "minutes"],
    "s": ["sec", "second", "seconds"],
}

# Names that stand for two things: never guessed.
AMBIGUOUS = {
    "qt": "write qt(US) or qt(imp)",
    "gal": "write gal(US) or gal(imp)",
    "pt": "write pt(US)",
    "floz": "write floz(US) for the fluid ounce",
    "oz": "write floz(US) for the fluid ounce, or the mass in g",
    "mil": "write the length in in or um: a mil is a thousandth of an inch, or an angle",
    "thou": "write the length in in: one thou is 0.001 in",
}


def _fold(text: str) -> str:
    """One key for the spellings that differ only in joints, powers and full stops."""
    for old, new in (("²", "2"), ("³", "3"), ("^", ""), ("·", " "), ("⋅", " "), ("-", " "), (".", " ")):
        text = text.replace(old, new)
    return " ".join(text.split())


_BY_SPELLING = {_fold(name): UNITS[symbol] for symbol, names in SPELLINGS.items() for name in [symbol, *names]}
_BY_SPELLING |= {_fold(symbol): unit for symbol, unit in UNITS.items()}


def unit_named(text: str) -> Unit:
    """Return the unit of this spelling; raise UnitError with the nearest valid name."""
    found = UNITS.get(text) or _BY_SPELLING.get(_fold(text))
    if found:
        return found
    if hint := AMBIGUOUS.get(_fold(text)):
        raise UnitError(text, hint)
    near = get_close_matches(_fold(text), _BY_SPELLING, n=1, cutoff=0.6)
    if near:
        raise UnitError(text, f"did you mean {_BY_SPELLING[near[0]].symbol}?")
    raise UnitError(text, "write one of: " + ", ".join(UNITS))


def units_of(dimension: str) -> list[str]:
    """Symbols of every unit of this dimension, in table order."""
    return [unit.symbol for unit in UNITS.values() if unit.dimension == dimension]
