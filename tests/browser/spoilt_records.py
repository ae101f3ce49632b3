"""Records as people spoil them, by a seeded random: keys lost and misspelt, texts of every kind, figures that slip, orders that forget."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from typing import Any

from tests.browser.dice import Dice

EACH = 22
# What a YAML reader may take for something else, what needs quotes, and what people type where a figure is asked for.
TEXTS = [
    "yes", "No", "on", "null", "~", "true", "1:30", "17:1", "0x1F", "012", "1_000", "1e5", ".5", "5.", "-", "- x", "-x", "2026-01-01", "10.9",
    "8", "-3", " lead", "trail ", "two  spaces", 'quote"', "it's", '"both\'"', "[a]", "{b}", "a: b", "a:b", ":c", "a #b", "#c", "*a", "&b", "!c",
    "%d", "@e", "`f", "a, b", "a,", "?", "? x", "|", ">", "=", "<<", "\\", "é ß °", "“curly”", "line\nbreak", "\ttab", "x" * 201, "", "TRUE",
    "nothing; really", "+5", "+-5", "1/2-13", "M10x1.25", "1-3-4-2", "(in brackets)", "50 %", "8 % more", "no_one", "A1", "O'Brien & sons",
]
STATEMENTS = [
    "35", "35 N.m", "35Nm", "max. 35 Nm", "0.05", "0,05 mm", "1,250 mm", "35 N.m cold", "35 N.m or less", "35 N.m (26 lbf.ft)", "35 Nmm",
    "40 to 35 N.m", "1/0 in", "2-7/8in", "2 \u00bd in", 'unreadable "005 in."', "90 deg", "90\u00b0", "35 furlong", "20\u00b12 mm", "<0.1 mm",
    "12 qt", "100 N.m", "min 75 %", "5 +3 -2 mm", "lots", "7 psi",
]
NUMBERS = [0, 1, -1, 3, 7.5, 0.1 + 0.2, 1e-7, 123456.789, 4.000001, 6000, -5000, 2.5]


def spoilt(name: str, record: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Copies of a record, most with a slip or two, some with a harmless change."""
    dice = Dice(f"spoilt {name}")
    for number in range(EACH):
        found = copy.deepcopy(record)
        SLIPS[number % len(SLIPS)](dice, found)  # each of them on each record
        if dice.often(0.3):
            dice.choice(SLIPS)(dice, found)
        yield found


def places(data: Any) -> list[tuple[Any, Any]]:
    """Every member of every block and list below: (what it stands in, key or index)."""
    keys = list(data) if isinstance(data, dict) else range(len(data)) if isinstance(data, list) else []
    return [place for key in keys for place in [(data, key), *places(data[key])]]


def where(dice: Dice, data: Any, test: Callable[[Any, Any], bool]) -> tuple[Any, Any]:
    return dice.choice([place for place in places(data) if test(*place)] or places(data))


def lose(dice: Dice, data: Any) -> None:
    block, key = where(dice, data, lambda block, key: isinstance(block, dict))
    del block[key]


def lose_a_source(dice: Dice, data: Any) -> None:
    block, key = where(dice, data, lambda block, key: key in ("cite", "label"))
    del block[key]


def another_source(dice: Dice, data: Any) -> None:
    block, key = where(dice, data, lambda block, key: key == "cite" and isinstance(block[key], str))
    block[key] = dice.pick("tm-9-9999 page 3", "od1001 page 3", "quennith-engine-book-q4 page 3", f"x{block[key]}")


def misspell(dice: Dice, data: Any) -> None:
    block, key = where(dice, data, lambda block, key: isinstance(block, dict))
    at = dice.randint(0, len(key))
    block[dice.pick(key[:at] + key[at + 1:], key[:at] + "x" + key[at:], key.upper(), key + "s", "printed", "bore", "an own name")] = block.pop(key)


def another_text(dice: Dice, data: Any) -> None:
    block, key = where(dice, data, lambda block, key: isinstance(block[key], str))
    block[key] = dice.pick(dice.choice(TEXTS), dice.choice(TEXTS), block[key] + dice.choice(TEXTS), block[key][:-1], block[key][::-1])


def words(dice: Dice, data: Any) -> None:
    """Texts that may be anything: the record stays sound."""
    for block, key in places(data):
        if key in ("says", "as", "label", "when") and isinstance(block[key], str) and not isinstance(block, list) and dice.often(0.3):
            block[key] = dice.choice([text for text in TEXTS if text]) if key != "says" else f"{block[key]}{dice.choice(TEXTS)}"


def statement(dice: Dice, data: Any) -> None:
    block, key = where(dice, data, lambda block, key: isinstance(block, list) and isinstance(block[key], str) and " " in block[key])
    block[key] = dice.choice(STATEMENTS)


def digit(dice: Dice, data: Any) -> None:
    """One digit of a figure exchanged, lost or doubled, or its point moved."""
    block, key = where(dice, data, lambda block, key: isinstance(block, list) and isinstance(block[key], str) and any(map(str.isdigit, block[key])))
    text = str(block[key])
    at = dice.choice([index for index, sign in enumerate(text) if sign.isdigit()] or [0])
    before, after = text[:at], text[at:]
    block[key] = dice.pick(before + str(dice.randint(0, 9)) + after[1:], before + after[1:], f"{before}.{after}", f"{before}0{after}")


def another_unit(dice: Dice, data: Any) -> None:
    """A unit beside the printed one that does or does not say the same."""
    block, key = where(dice, data, lambda block, key: key == "printed")
    if isinstance(block[key], list):
        block[key].append(dice.pick("100 N.m", "74 lbf.ft", "0.5 mm", "0.020 in", "90 psi", "600 kPa", "80 L", "2 ft"))


def another_kind(dice: Dice, data: Any) -> None:
    block, key = where(dice, data, lambda block, key: True)
    block[key] = dice.pick(5, 2.5, True, "text", [], {}, ["a"], [1, 2], {"says": "x"}, {"printed": ["5 mm"]}, [{"printed": ["5 mm"]}], [block[key]])


def number(dice: Dice, data: Any) -> None:
    block, key = where(dice, data, lambda block, key: isinstance(block[key], int | float))
    block[key] = dice.choice(NUMBERS)


def order(dice: Dice, data: Any) -> None:
    """A name of a list, most often of an order of bolts, forgotten, told twice, exchanged or unknown."""
    most = dice.pick(0, 4, 4)
    block, key = where(dice, data, lambda block, key: isinstance(block[key], list) and len(block[key]) > most and isinstance(block[key][0], str))
    names = list(block[key])
    at = dice.randrange(len(names))
    block[key] = dice.pick(names[:at] + names[at + 1:], [*names, names[at]], names[::-1], [*names[:at], "Z9", *names[at + 1:]])


def forget(dice: Dice, data: Any) -> None:
    """A bolt forgotten in a tightening order."""
    orders = [order for block, key in places(data) if key == "orders" and isinstance(block[key], dict) for order in block[key].values()]
    lists = [order for order in orders if isinstance(order, list) and len(order) > 1]
    if lists:
        order = dice.choice(lists)
        del order[dice.randrange(len(order))]


def steps(dice: Dice, data: Any) -> None:
    """A stage of rounds, well or badly given."""
    block, key = where(dice, data, lambda block, key: key == "do")
    if isinstance(block, dict) and key == "do":
        block.update({"do": "steps", "from": dice.pick("20 N.m", "20Nm", "90 N.m", "some"), "by": dice.pick("10 N.m", "0 N.m"), "to": "60 N.m"})
        block.pop("figure", None)


def stage(dice: Dice, data: Any) -> None:
    block, key = where(dice, data, lambda block, key: key in ("do", "order", "group", "groups", "walk", "by", "per", "status", "kind"))
    choices = ["torque", "angle", "steps", "wait", "loosen", "all", "case", "bolt by bolt", "180 deg", "half a turn", "head", "contested", "manual"]
    block[key] = dice.choice(choices) if not isinstance(block[key], list) else [dice.choice(choices)]


def doubt(dice: Dice, data: Any) -> None:
    """A doubt put on a figure, with or without a cause."""
    block, _ = where(dice, data, lambda block, key: key == "printed")
    if isinstance(block, dict):
        says = dice.pick("the units disagree", "a digit is lost", "120 N.m is 88.5 lbf.ft", "8.0 mm is 0.315 in", "")
        block["doubt"] = {"kind": dice.pick("manual", "scan", "rounding"), "says": says}


def shuffle(dice: Dice, data: Any) -> None:
    """The keys of every block in another order: nothing is wrong with that."""
    for block, key in [({"": data}, ""), *places(data)]:
        if isinstance(block[key], dict):
            items = list(block[key].items())
            dice.shuffle(items)
            block[key].clear()
            block[key].update(items)


SLIPS = [
    lose, lose_a_source, another_source, misspell, another_text, words, words, statement, statement, digit, digit, another_unit, another_kind,
    number, order, order, forget, steps, stage, stage, doubt, shuffle,
]
