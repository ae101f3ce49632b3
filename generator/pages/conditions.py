"""Conditions on an engine in words: "If the head is aluminium:"."""

from __future__ import annotations

from collections.abc import Iterable

from generator.record.procedure import When

# For each fact of an engine's identity: the sentence, and how each of its words reads in it.
_SENTENCES: dict[str, tuple[str, dict[str, str]]] = {
    "layout": ("this is {}", {
        "in-line": "an in-line engine", "vee": "a vee engine", "opposed": "an opposed engine", "single": "a single-cylinder engine"}),
    "head_per": ("there is one head for {}", {
        "engine": "the whole engine", "bank": "each bank", "pair of cylinders": "each pair of cylinders", "cylinder": "each cylinder",
        "barrel": "each barrel, in one piece with it"}),
    "cylinders": ("the engine has {} cylinders", {}),
    "ratio_over": ("the ratio is taken over {}", {"full stroke": "the full stroke", "port closing": "the stroke from port closing"}),
    "cycle": ("this is {}", {"four-stroke": "a four-stroke engine", "two-stroke": "a two-stroke engine"}),
    "fuel": ("the engine burns {}", {"gasoline": "gasoline", "diesel": "diesel", "gas": "gas"}),
    "ignition": ("the engine has {}", {"spark": "spark ignition", "compression": "compression ignition"}),
    "cooling": ("the engine is cooled by {}", {"liquid": "liquid", "air": "air"}),
    "head_material": ("the head is {}", {"aluminium": "aluminium", "iron": "iron"}),
    "block_material": ("the block is {}", {"aluminium": "aluminium", "iron": "iron"}),
    "liners": ("the block has {}", {"wet": "wet liners", "dry": "dry liners", "none": "no liners"}),
    "valve_train": ("the engine has {}", {
        "none": "no valves", "side valve": "side valves", "push rod": "push rods", "single overhead camshaft": "a single overhead camshaft",
        "double overhead camshaft": "double overhead camshafts"}),
    "cam_drive": ("the camshaft is driven by {}", {"chain": "a chain", "belt": "a belt", "gears": "gears"}),
    "intermediate_sprocket": ("there is {}", {"present": "an intermediate sprocket", "absent": "no intermediate sprocket"}),
    "cam_phaser": ("there is {}", {"present": "a camshaft phaser", "absent": "no camshaft phaser"}),
    "valve_adjustment": ("the valves have {}", {
        "screws": "adjusting screws", "shims": "shims", "hydraulic": "hydraulic lifters", "fixed": "a fixed clearance", "none": "no clearance"}),
    "sodium_valves": ("there are {}", {"present": "sodium-filled valves", "absent": "no sodium-filled valves"}),
    "turbocharger": ("there is {}", {"present": "a turbocharger", "absent": "no turbocharger"}),
    "intake_coolant": ("the intake manifold carries {}", {"present": "coolant", "absent": "no coolant"}),
    "hybrid": ("this is {}", {"present": "a hybrid", "absent": "no hybrid"}),
    "gasket.form": ("the joint has {}", {
        "none": "no gasket", "ring": "rings", "per head": "a gasket for each head", "per bank": "a gasket for each bank",
        "per cylinder": "a gasket for each cylinder"}),
    "valve_clash": ("valves and pistons {}", {"interference": "can meet", "free-running": "cannot meet"}),
}
# Where several words together say something plainer than a list of them.
_TOGETHER: dict[tuple[str, frozenset[str]], str] = {
    ("valve_train", frozenset({"side valve", "push rod", "single overhead camshaft", "double overhead camshaft"})): "the engine has valves",
    ("valve_train", frozenset({"push rod", "single overhead camshaft", "double overhead camshaft"})): "the valves are in the head",
    ("valve_train", frozenset({"single overhead camshaft", "double overhead camshaft"})): "the engine has an overhead camshaft",
    ("gasket.form", frozenset({"ring", "per head", "per bank", "per cylinder"})): "the joint has a gasket",
    ("head_per", frozenset({"bank", "pair of cylinders", "cylinder"})): "there is more than one head",
    ("layout", frozenset({"vee", "opposed"})): "there are two banks",
}


def words_of(key: str, words: Iterable[str]) -> str:
    """One condition as a sentence without its if: the head is aluminium."""
    wanted = tuple(words)
    if together := _TOGETHER.get((key, frozenset(wanted))):
        return together
    sentence, forms = _SENTENCES.get(key, (key.replace("_", " ") + " is {}", {}))
    return sentence.format(_or([forms.get(word, word) for word in wanted]))


def condition_words(when: When) -> str:
    """ "If the head is aluminium and the block is iron:", or nothing where there is no condition."""
    said = " and ".join(words_of(key, words) for key, words in when)
    return f"If {said}:" if said else ""


def _or(words: list[str]) -> str:
    return " or ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
