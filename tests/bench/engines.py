"""Engines that do not exist, as many as are wanted, of every shape: each coherent in itself and like no other.

Bore, stroke and displacement fit, chamber and gasket give the ratio, a clearance is what its two parts leave, torques
suit their threads, orders run from the centre, and two units side by side say the same. The same number and seed give
the same record.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import hypot, pi
from pathlib import Path
from random import Random
from typing import Any, TypeAlias

import yaml

Block: TypeAlias = dict[str, Any]

_PARTS = (
    ("bru", "gla", "sko", "tre", "vom", "zib", "quo", "ny"), ("d", "mm", "lk", "rf", "st", "pp"), ("ade", "ickle", "olt", "umbra", "erow", "ink"),
)
_USES = ("water pump", "saw bench", "generator set", "winch", "loader", "small van", "boat", "harvester", "compressor", "road roller", "tractor")
_WORD = {1: "single", 2: "twin", 3: "three", 4: "four", 5: "five", 6: "six", 8: "eight", 12: "twelve"}
# Thread of the head's fasteners up to a bore in mm, and the torque in N.m that class 10.9 bears well.
_THREADS = ((66, "M8x1.25", 21), (84, "M10x1.5", 42), (104, "M12x1.75", 72), (125, "M14x2", 115), (999, "M16x2", 175))


@dataclass(frozen=True, slots=True)
class Shape:
    """What engines of one shape share. heads: how many. bores: of the cylinders, least and most, in mm."""

    layout: str
    cylinders: int
    heads: int
    fuel: str
    cooling: str
    bores: tuple[int, int]
    strokes: int = 4
    silent: bool = False


SHAPES = (
    Shape("in-line", 4, 1, "gasoline", "liquid", (70, 95)), Shape("in-line", 4, 1, "diesel", "liquid", (78, 112)),
    Shape("in-line", 6, 1, "diesel", "liquid", (90, 120)), Shape("in-line", 3, 1, "gasoline", "liquid", (65, 85)),
    Shape("vee", 6, 2, "gasoline", "liquid", (80, 100)), Shape("vee", 8, 2, "gasoline", "liquid", (86, 108)),
    Shape("vee", 8, 2, "diesel", "liquid", (95, 128)), Shape("vee", 12, 2, "diesel", "liquid", (110, 135)),
    Shape("in-line", 6, 6, "diesel", "liquid", (110, 140)), Shape("in-line", 2, 2, "diesel", "air", (85, 110)),
    Shape("opposed", 2, 2, "gasoline", "air", (65, 90)), Shape("opposed", 4, 2, "gas", "liquid", (80, 100)),
    Shape("in-line", 5, 1, "diesel", "liquid", (80, 100)), Shape("in-line", 8, 1, "gas", "liquid", (90, 120)),
    Shape("single", 1, 1, "gasoline", "air", (45, 70), 2), Shape("single", 1, 1, "diesel", "air", (70, 95)),
    Shape("in-line", 4, 1, "gasoline", "liquid", (72, 98), 4, True), Shape("in-line", 6, 1, "diesel", "liquid", (95, 125), 4, True),
    Shape("vee", 8, 2, "gasoline", "liquid", (88, 110), 4, True), Shape("in-line", 2, 1, "gasoline", "liquid", (60, 85), 4, True),
)


class _Plain(yaml.CSafeDumper):
    """YAML without anchors, which the reader refuses."""

    def ignore_aliases(self, data: object) -> bool:
        return True


class _Writer:
    """One record in the making: its shape, its dice, its two ways to print a figure."""

    def __init__(self, number: int, seed: int) -> None:
        self.random = random = Random(f"{seed}/{number}")
        self.shape = shape = SHAPES[number % len(SHAPES)]
        self.units = random.choice(("metric", "both", "both"))
        self.word = "".join(random.choice(part) for part in _PARTS)
        self.id = f"{self.word}-{number}"
        self.book = f"{self.id}-book"
        self.use = random.choice(_USES)
        self.bore = random.randint(shape.bores[0] * 10, shape.bores[1] * 10) / 10
        self.stroke = round(self.bore * random.uniform(0.8, 1.25), 1)
        self.pitch = round(self.bore * random.uniform(1.1, 1.2), 2)
        self.thread, self.torque = next((thread, torque) for most, thread, torque in _THREADS if self.bore <= most)
        self.swept = pi / 4 * self.bore**2 * self.stroke / 1000  # cm3
        self.ratio = self.between(16, 21, 1) if shape.fuel == "diesel" else self.between(7.5, 11, 1)
        # Below the deck, or above it in a diesel: never from nothing, of which no range speaks.
        self.protrusion = random.randint(32, 50) / 100 if shape.fuel == "diesel" else random.randint(-60, -25) / 100
        self.gasket = random.randint(60, 160) / 100
        self.opening = round(self.bore * random.uniform(1.012, 1.03), 1)
        self.page = 1

    def cite(self) -> str:
        self.page += 1
        return f"{self.book} page {self.page}"

    def between(self, low: float, high: float, places: int) -> float:
        return round(self.random.uniform(low, high), places)

    # -- one figure, as a list of one

    def length(self, form: str, *values: float, places: int = 2, **more: Any) -> list[Block]:
        """A length in mm with so many decimals, in half of the records with inches beside it. form: with {} for each number."""
        return self._figure(form, values, (("mm", 1, places), ("in", 1 / 25.4, places + 2)), more)

    def turning(self, form: str, *values: float, **more: Any) -> list[Block]:
        return self._figure(form, values, (("N.m", 1, 0), ("lbf.ft", 0.737562149, 0)), more)

    def pressure(self, form: str, *values: float, **more: Any) -> list[Block]:
        return self._figure(form, values, (("kPa", 1, 0), ("psi", 0.145037738, 0)), more)

    def one(self, text: str, **more: Any) -> list[Block]:
        return [{"printed": [text], **more}]

    def _figure(self, form: str, values: tuple[float, ...], units: tuple[tuple[str, float, int], ...], more: Block) -> list[Block]:
        told = units if self.units == "both" else units[:1]
        digits = units[0][2]
        printed = [
            f"{form.format(*(f'{round(value, digits) * factor:.{places}f}' for value in values))} {unit}" for unit, factor, places in told
        ]
        return [{"printed": printed, **more}]


def engine(number: int, seed: int = 1) -> tuple[str, str, str]:
    """Id, record and source of one engine. number: from 0; shapes take turns."""
    writer = _Writer(number, seed)
    shape = writer.shape
    size = f"{writer.swept * shape.cylinders / 1000:.1f} litre"
    name = f"{writer.word.capitalize()} {number} {_WORD[shape.cylinders]}, {shape.layout}, {size}, {shape.fuel} (invented)"
    blocks = _SILENT if shape.silent else _WHOLE
    record = {"id": writer.id, "name": name, "sources": [writer.book], **{key: make(writer) for key, make in blocks.items() if _has(shape, key)}}
    source = {
        "id": writer.book, "number": f"{writer.word.capitalize()} engine book {number} (invented)", "kind": "invented",
        "about": "an engine that does not exist, to measure the site with", "read": "made up by a program",
    }
    return writer.id, _text(record), _text(source)


def write(root: Path, count: int, seed: int = 1) -> list[str]:
    """Put so many engines and their sources into the specs of a copy of the project; their ids."""
    found = []
    for number in range(count):
        name, record, source = engine(number, seed)
        (root / "specs/demo" / f"{name}.yaml").write_text(record, encoding="utf-8")
        (root / "specs/sources" / f"{name}-book.yaml").write_text(source, encoding="utf-8")
        found.append(name)
    return found


def _has(shape: Shape, key: str) -> bool:
    return not (key == "valves" and shape.strokes == 2)


def _text(data: Block) -> str:
    return yaml.dump(data, Dumper=_Plain, sort_keys=False, allow_unicode=True, width=1000)


def _says(**words: object) -> Block:
    return {key: {"says": word} for key, word in words.items()}


# -- blocks

def _identity(w: _Writer) -> Block:
    shape, random = w.shape, w.random
    four, diesel, liquid = shape.strokes == 4, shape.fuel == "diesel", shape.cooling == "liquid"
    found: Block = {"cite": w.cite(), **_says(application=w.use), "designation": {"as": f"{w.word[0].upper()}{shape.cylinders}-{w.bore:g}"}}
    found |= _says(head_per=_head_per(shape), layout=shape.layout)
    if shape.layout == "vee":
        found["vee_angle"] = w.one(f"{random.choice((60, 75, 90))} deg")
    found |= _says(cylinders=shape.cylinders) | _sizes(w)
    found |= _says(
        ratio_over="full stroke" if four else "port closing", cycle=f"{'four' if four else 'two'}-stroke", fuel=shape.fuel,
        ignition="compression" if diesel else "spark", cooling=shape.cooling, head_material=random.choice(("aluminium", "iron")),
        block_material=random.choice(("aluminium", "iron")), liners="wet" if shape.heads > 2 else "none",
    )
    found |= _drive(w) if four else _says(valve_train="none", valve_adjustment="none")
    found |= _says(turbocharger=random.choice(("present", "absent")), hybrid="absent", valve_clash=random.choice(("interference", "free-running")))
    if shape.cylinders > 1:
        found |= _says(firing_order="-".join(map(str, (1, *random.sample(range(2, shape.cylinders + 1), shape.cylinders - 1)))))
    found["oil"] = {**_says(type="multigrade"), "capacity": w.one(f"{w.between(0.8, 2, 1) * shape.cylinders:.1f} L", when="with filter")}
    if liquid:
        found["coolant"] = {**_says(type="water and glycol, half and half"), "capacity": w.one(f"{w.between(1.2, 3, 1) * shape.cylinders:.1f} L")}
    return found | {"head_weight": w.one(f"{max(1, round(w.bore * shape.cylinders / shape.heads / 25))} kg")}


def _head_per(shape: Shape) -> str:
    return "engine" if shape.heads == 1 else "bank" if shape.heads == 2 and shape.cylinders > 2 else "cylinder"


def _sizes(w: _Writer) -> Block:
    total = w.swept * w.shape.cylinders
    return {
        "bore": w.length("{}", w.bore, places=1), "stroke": w.length("{}", w.stroke, places=1),
        "displacement": w.one(f"{total:.0f} cm3"), "ratio": w.one(f"{w.ratio:.1f} ratio"),
    }


def _drive(w: _Writer) -> Block:
    train = w.random.choice(("push rod", "single overhead camshaft", "double overhead camshaft"))
    return _says(
        valve_train=train, cam_drive="gears" if train == "push rod" else w.random.choice(("chain", "belt")),
        intermediate_sprocket="absent", cam_phaser="absent", valve_adjustment="screws" if train == "push rod" else "shims", sodium_valves="absent",
    )


def _rows(w: _Writer) -> Iterator[tuple[str, list[str]]]:
    """Each head with the cylinders under it."""
    shape = w.shape
    each = shape.cylinders // shape.heads
    for head in range(shape.heads):
        step = shape.heads if shape.layout == "vee" else 1
        first = head if shape.layout == "vee" else head * each
        yield (f"head-{head + 1}" if shape.heads > 1 else "head"), [str(first + step * place + 1) for place in range(each)]


def _across(w: _Writer) -> int:
    """Cylinders under one head."""
    return w.shape.cylinders // w.shape.heads


def _geometry(w: _Writer) -> Block:
    half, length = round(w.bore * 0.95, 1), round(_across(w) * w.pitch / 2 + w.bore * 0.2, 1)
    heads = {}
    for name, cylinders in _rows(w):
        middle = (len(cylinders) - 1) / 2
        bores = {each: {"at": [round((place - middle) * w.pitch, 2), 0], "diameter": w.bore} for place, each in enumerate(cylinders)}
        heads[name] = {
            "outline": [[-length, -half], [length, -half], [length, half], [-length, half]], "bores": bores, "front": "left",
            "exhaust": w.random.choice(("top", "bottom")), "dowels": [[round(-length * w.random.uniform(0.7, 0.9), 2), round(-half * 0.8, 1)]],
        }
    return {"cite": w.cite(), "heads": heads}


def _faces(w: _Writer) -> Block:
    flat, new, cut = w.random.choice((0.05, 0.08, 0.10)), w.between(w.bore * 0.9, w.bore * 1.4, 1), w.random.choice((0.2, 0.3, 0.4))
    head: Block = {
        "flatness": {"lengthwise": w.length("max {}", flat), "crosswise": w.length("max {}", round(flat * 0.6, 2))},
        "finish": {"ra": w.one(f"max {w.random.choice((0.8, 1.6, 3.2))} um")},
        "height": {"new": w.one(f"{new:.1f} +-0.1 mm"), "minimum": w.length("min {}", new - cut, places=1)},
        "stock_removal": {"total": w.length("max {}", cut, places=1)},
    }
    if w.shape.fuel != "diesel":
        head["chamber"] = {"area": w.one(f"{0.7 * pi / 400 * w.bore**2:.1f} cm2"), "volume": w.one(f"{_chamber(w):.1f} cm3")}
    return {"cite": w.cite(), "head": head, "deck": {"flatness": {"any": w.length("max {}", flat)}}}


def _chamber(w: _Writer) -> float:
    """What is left for the chamber of the room over a flat piston, in cm3, once gasket and protrusion have had theirs."""
    over_piston = pi / 4 * (w.opening**2 * w.gasket - w.bore**2 * (w.protrusion + 0.1)) / 1000
    return w.swept / (w.ratio - 1) - over_piston


def _places(w: _Writer) -> dict[str, Block]:
    """Two rows along the head, a pair beside every bore and at both ends."""
    across, side = _across(w), round(w.bore * w.random.uniform(0.55, 0.62), 2)
    return {
        f"{row}{column + 1}": {"at": [round((column - across / 2) * w.pitch, 2), sign * side], "group": "all"}
        for row, sign in (("A", -1), ("B", 1)) for column in range(across + 1)
    }


def _from_the_centre(places: dict[str, Block]) -> list[str]:
    return sorted(places, key=lambda name: (hypot(*places[name]["at"]), name))


def _stages(w: _Writer) -> tuple[list[Block], Block]:
    """The stages, and what stands beside them."""
    first, last = round(w.torque * w.random.uniform(0.35, 0.6)), round(w.torque * w.random.uniform(0.9, 1.0))
    way = w.random.randrange(3)
    if way == 0:
        turned = w.random.choice((60, 75, 90))
        angle = {"do": "angle", "order": "all", "figure": w.one(f"{turned} deg")}
        return [{"do": "torque", "order": "all", "figure": w.turning("{}", first)}, angle, angle], {"total_angle": w.one(f"{2 * turned} deg")}
    if way == 1:
        return [{"do": "torque", "order": "all", "figure": w.turning("{}", value)} for value in (first, last)], {}
    step = max(2, last // 4)
    again = {"do": "recheck", "order": "all", "figure": w.one(f"{4 * step} N.m")}
    return [{"do": "steps", "order": "all", "from": f"{step} N.m", "by": f"{step} N.m", "to": f"{4 * step} N.m"}, again], {}


def _fasteners(w: _Writer) -> Block:
    places, length = _places(w), w.random.randint(90, 180)
    order = _from_the_centre(places)
    stages, beside = _stages(w)
    group = {
        "kind": "bolt", "count": len(places), "thread": {"as": w.thread}, "class": {"as": "10.9"}, "length": w.length("{}", length, places=1),
        "grip": w.length("{}", length * 0.8, places=1), "treatment": {"thread": "oil", "under_head": "oil"}, **_says(washer="hardened, loose"),
        "marking": {"says": "10.9 on the head"}, **_says(reuse=w.random.choice(("replace", "allowed"))),
    }
    head = {
        "cite": w.cite(), "per": "head", "groups": {"all": group}, "places": places,
        "tightening": {"walk": "stage by stage", "orders": {"all": order}, "stages": stages, **beside},
        "loosening": {"order": order[::-1], "says": "cold, each a quarter turn the first time round"},
    }
    return {"head": head, **{key: _set(w, *row) for key, row in _SETS.items() if w.shape.strokes == 4 or key in _TWO_STROKE}}


# Set of fasteners: kind, thread, torque in N.m, least and most.
_SETS = {
    "head_cover": ("bolt", "M6x1", 7, 10), "intake_manifold": ("nut", "M8x1.25", 18, 24), "exhaust_manifold": ("nut", "M8x1.25", 20, 28),
    "cam_caps": ("bolt", "M6x1", 8, 10), "timing_cover": ("bolt", "M6x1", 8, 11), "thermostat_housing": ("bolt", "M6x1", 8, 11),
    "drain_plugs": ("plug", "M14x1.5", 28, 42),
}
_TWO_STROKE = ("intake_manifold", "exhaust_manifold")


def _set(w: _Writer, kind: str, thread: str, least: int, most: int) -> Block:
    group = {"kind": kind, "count": w.random.randint(2, 12), "thread": {"as": thread}, "treatment": {"thread": "dry"}}
    return {"cite": w.cite(), "groups": {"all": group}, "torque": w.turning("{}", w.random.randint(least, most))}


def _gasket(w: _Writer) -> Block:
    found: Block = {"cite": w.cite(), **_says(kind="multi-layer steel", side="the tab reads from above", treatment="dry, on dry faces")}
    if w.shape.fuel == "diesel" and w.shape.cooling == "liquid":
        sizes, low, thick = [], w.protrusion - w.random.randint(8, 20) / 100, w.gasket
        for step, label in enumerate(("thin", "middle", "thick")):
            reading = w.length("{} to {}", low, high := low + w.random.randint(14, 24) / 100)
            low, thick = high + 0.01, thick + w.random.randint(8, 14) / 100
            sizes.append({"label": label, **_says(mark=f"{step + 1} holes"), "reading": reading, "thickness": w.length("{}", thick)})
        found["choice"] = {**_says(by="piston protrusion", decides="highest", per="engine"), "sizes": sizes}
    else:
        found["thickness"] = w.length("{}", w.gasket)
    return found | {"bore": w.length("{}", w.opening, places=1), **_says(reuse="replace")}


def _tests(w: _Writer) -> Block:
    normal = w.random.randint(2400, 3200) if w.shape.fuel == "diesel" else w.random.randint(950, 1400)
    speed = f"at {w.random.randrange(200, 400, 10)} rpm"
    compression = {
        **_says(how="cranking, engine warm"), "normal": w.pressure("{}", normal, when=speed),
        "minimum": w.pressure("min {}", round(normal * w.random.uniform(0.72, 0.85)), when=speed),
        "spread": w.pressure("max {}", round(normal * w.random.uniform(0.08, 0.15)), when=speed),
    }
    found: Block = {"cite": w.cite(), "compression": compression}
    if w.shape.cooling == "liquid":
        found["radiator_cap"] = w.pressure("{} to {}", w.random.randint(80, 99), w.random.randint(105, 140))
    return found


def _valves(w: _Writer) -> Block:
    stem, gap = w.between(5, 9, 3), w.random.randint(15, 35) / 1000
    at = w.random.randint(15, 30) / 100
    clearance = {key: w.length("{} +-{}", value, 0.03, when="cold") for key, value in (("intake", at), ("exhaust", at + 0.1))}
    stems, gaps = {}, {}
    for key, more in (("intake", 0.0), ("exhaust", 0.01)):
        stems[key] = {"new": w.length("{} to {}", stem - gap - more - 0.015, stem - gap - more, places=3)}
        new = w.length("{} to {}", gap + more, gap + more + 0.03, places=3)
        gaps[key] = {"new": new, "limit": w.length("max {}", 0.10 + more)}
    recession = w.random.randint(3, 8) / 10
    return {
        "cite": w.cite(), "clearance": clearance, "seat_angle": w.one("45 deg"),
        "seat_width": w.length("{} to {}", 1.2, w.between(1.5, 2, 1), places=1),
        "stem": stems, "guide": {"both": {"new": w.length("{} to {}", stem, stem + 0.015, places=3)}}, "stem_clearance": gaps,
        "recession": {"both": {
            "new": w.length("{} to {}", recession, recession + 0.4, places=1), "limit": w.length("max {}", recession + 0.9, places=1),
        }},
    }


def _timing(w: _Writer) -> Block:
    found: Block = {"cite": w.cite(), **_says(marks="a dot of the crankshaft wheel between two dots of the camshaft wheel")}
    if w.shape.fuel == "diesel":
        return found | {"pump_timing": {"angle": w.one(f"{w.random.randint(8, 20)} deg", when="before top dead centre")}}
    return found | {"ignition_timing": {"angle": w.one(f"{w.random.randint(4, 28)} deg", when="before top dead centre, at 900 rpm")}}


def _bores(w: _Writer) -> Block:
    low, width, gap = w.bore + w.random.randint(0, 40) / 1000, w.random.randint(10, 30) / 1000, w.random.randint(20, 70) / 1000
    return {
        "cite": w.cite(),
        "bore": {"new": w.length("{} to {}", low, low + width, places=3), "limit": w.length("max {}", low + w.random.randint(8, 25) / 100)},
        "piston": w.length("{} to {}", low - gap - 0.01, low - gap, places=3),
        "piston_clearance": w.length("{} to {}", gap, gap + width + 0.01, places=3),
        "piston_protrusion": w.length("{} to {}", w.protrusion, w.protrusion + 0.2),
    }


def _cracks(w: _Writer) -> list[Block]:
    return [{"label": label, "says": "replace the head", "cite": w.cite()} for label in ("between the valve seats", "into a coolant passage")]


def _cautions(w: _Writer) -> list[Block]:
    return [{"says": "with the drive off, turn neither crankshaft nor camshaft", "cite": w.cite()}]


# -- a record that is silent on most things

def _little_identity(w: _Writer) -> Block:
    told = _says(application=w.use, cylinders=w.shape.cylinders, fuel=w.shape.fuel)
    return {"cite": w.cite(), **told, "bore": w.length("{}", w.bore, places=1)}


def _little_faces(w: _Writer) -> Block:
    return {"cite": w.cite(), "head": {"flatness": {"any": w.length("max {}", w.random.choice((0.05, 0.1, 0.15)))}}}


def _little_fasteners(w: _Writer) -> Block:
    stages = [{"do": "torque", "figure": w.turning("{} to {}", w.torque * 0.85, w.torque)}]
    tightening = {"orders": {"in_figure": f"Fig. {w.random.randint(1, 9)}-{w.random.randint(1, 30)}, not transcribed"}, "stages": stages}
    return {"head": {"cite": w.cite(), "tightening": tightening}, "exhaust_manifold": {"cite": w.cite(), "torque": w.turning("{}", 25)}}


_WHOLE: dict[str, Callable[[_Writer], Any]] = {
    "identity": _identity, "geometry": _geometry, "faces": _faces, "fasteners": _fasteners, "gasket": _gasket, "tests": _tests, "valves": _valves,
    "timing": _timing, "bores": _bores, "cracks": _cracks, "cautions": _cautions,
}
_SILENT: dict[str, Callable[[_Writer], Any]] = {
    "identity": _little_identity, "faces": _little_faces, "fasteners": _little_fasteners, "tests": _tests, "cautions": _cautions,
}
