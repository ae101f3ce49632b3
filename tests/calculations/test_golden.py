"""Every verdict that a calculation can return has three golden sentences at least, each of another situation."""

import pytest

from generator.calculations import compression, cost, cut, flatness, gasket, limits, preload, threads, tightening, wrench
from tests.calculations import (
    test_compression,
    test_cost,
    test_cut,
    test_flatness,
    test_gasket,
    test_limits,
    test_preload,
    test_threads,
    test_tightening,
    test_wrench,
)

LEAST = 3
PATTERNS = {*compression.PATTERN_NEXT, compression.ONE_LOW}
LEAKS = {limits.WITHIN, limits.OVER, limits.NO_LIMIT, limits.NO_NUMBER, limits.PRACTICE}
CHOICES = {gasket.CHOSEN, gasket.OUTSIDE, gasket.CANNOT_TELL}

# What can be said -> the tables of rows that say it. A row holds its verdict, and its sentence at the end.
GOLDEN = {
    "limits": (set(limits.WEIGHT), [test_limits.GOLDEN, test_limits.GOLDEN_WHEN, test_limits.GOLDEN_PROVIDED]),
    "flatness": (set(flatness.WEIGHT), [test_flatness.GOLDEN, test_flatness.GOLDEN_LINES]),
    "compression, rules": (set(compression.WEIGHT), [test_compression.GOLDEN, test_compression.GOLDEN_ALONE]),
    "compression, patterns": (PATTERNS, [test_compression.GOLDEN_PATTERNS]),
    "leak-down": (LEAKS, [test_compression.GOLDEN_LEAKS]),
    "cut": (set(cut.VERDICTS), [test_cut.GOLDEN]),
    "cut, retard": ({cut.COMPUTED, cut.NOT_COMPUTED}, [test_cut.GOLDEN_RETARD, test_cut.GOLDEN_DRIVES]),
    "gasket by protrusion": (CHOICES, [test_gasket.GOLDEN, test_gasket.GOLDEN_TWICE]),
    "gasket by another measurement": (CHOICES, [test_gasket.GOLDEN_MEASURED]),
    "gasket by clearance": (CHOICES, [test_gasket.GOLDEN_CLEARANCE]),
    "preload by torque": (set(preload.VERDICTS), [test_preload.GOLDEN]),
    "preload by angle": ({preload.BELOW, preload.MAY_PASS}, [test_preload.GOLDEN_ANGLES]),
    "threads": ({threads.CLEAR, threads.BOTTOMS, threads.JAMS}, [test_threads.GOLDEN]),
    "wrench, adapter": ({wrench.SET_AS_IS, wrench.SET_CORRECTED}, [test_wrench.GOLDEN]),
    "wrench, range": ({wrench.BELOW, wrench.ABOVE, wrench.USABLE, wrench.BEST}, [test_wrench.GOLDEN_RANGE]),
    "wrench, drag": ({wrench.ADDED, wrench.NOT_ADDED}, [test_wrench.GOLDEN_DRAG]),
    "tightening, target": ({tightening.SET, tightening.CHOOSE}, [test_tightening.GOLDEN_TARGETS]),
    "cost": (set(cost.NEXT), [test_cost.GOLDEN]),
}
# Words that stand without a sentence, or with one that is always the same: three situations each.
SITUATIONS = {
    "tightening, stages": (set(tightening.STATES), test_tightening.STATES_OF_STAGES),
    "loosening": (set(test_tightening.WORDS_OF_LOOSENING), test_tightening.LOOSENED),
}
# The verdicts that the browser gives too: the comparison of both languages holds them to be all there are.
IN_BROWSER = {word for name, (words, _) in GOLDEN.items() if not name.startswith(("preload", "threads", "tightening")) for word in words} - PATTERNS


def sentences(tables, verdict: str) -> set[str]:
    return {row[-1] for table in tables for row in table if any(isinstance(each, str) and each == verdict for each in row[:-1])}


@pytest.mark.parametrize(("name", "verdict"), [(name, word) for name, (words, _) in GOLDEN.items() for word in sorted(words)])
def test_every_verdict_has_three_golden_sentences(name, verdict):
    assert len(sentences(GOLDEN[name][1], verdict)) >= LEAST


@pytest.mark.parametrize(("name", "word"), [(name, word) for name, (words, _) in SITUATIONS.items() for word in sorted(words)])
def test_every_state_stands_in_three_situations(name, word):
    rows = [row for row in SITUATIONS[name][1] if row[-1] == word]
    assert len(rows) >= LEAST
    assert len({str(row) for row in rows}) == len(rows)


def test_every_golden_sentence_is_whole():
    said = [row[-1] for _, tables in GOLDEN.values() for table in tables for row in table]
    assert all(text.endswith(".") and text[0] == text[0].upper() and ".." not in text and "  " not in text for text in said)
