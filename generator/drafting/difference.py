"""What moved between two states of a record, figure by figure, in words that fit a review comment."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, TypeAlias

import yaml

from generator.reading import At, dotted
from generator.record.engine import Engine
from generator.record.facts import Cite, Fact

Identity: TypeAlias = tuple[At, tuple[str, ...]]
HEADINGS = ("Changed", "Added", "Removed")


@dataclass(frozen=True, slots=True)
class Move:
    """One thing that moved. heading: one of HEADINGS. place: keys joined by full stops. label: its name. says: what moved and its source."""

    heading: str
    place: str
    label: str
    says: tuple[str, ...]


def moves(old: Engine, new: Engine) -> list[Move]:
    """Figures, designations and statements first, in the order of the record; then places, orders and all else that has no source of its own."""
    return [*_facts_moved(old, new), *_rest_moved(old, new)]


def as_comment(old: Engine, new: Engine) -> str:
    """Moves as a text of headings and lists, for a terminal and a review comment alike."""
    found = moves(old, new)
    counts = {heading: sum(move.heading == heading for move in found) for heading in HEADINGS}
    said = ", ".join(f"{count} {heading.lower()}" for heading, count in counts.items() if count) or "nothing moved"
    lines = [f"{new.id or old.id}: {said}"]
    for heading in HEADINGS:
        mine = [move for move in found if move.heading == heading]
        lines += ["", f"### {heading}", ""] if mine else []
        for move in mine:
            lines += [f"- `{move.place}`{': ' if move.label else ''}{move.label}", *(f"  - {each}" for each in move.says)]
    return "\n".join(lines)


def _facts_moved(old: Engine, new: Engine) -> Iterator[Move]:
    before, after = _by_identity(old), _by_identity(new)
    for identity in [*after, *(each for each in before if each not in after)]:
        pairs, gone, come = _paired(before.get(identity, []), after.get(identity, []))
        yield from (_changed(one, other) for one, other in pairs)
        yield from (_whole("Added", fact) for fact in come)
        yield from (_whole("Removed", fact) for fact in gone)


def _by_identity(engine: Engine) -> dict[Identity, list[Fact]]:
    """Facts by what they are: their keys and labels, but not their position in a list of figures."""
    found: dict[Identity, list[Fact]] = {}
    for fact in engine.facts:
        keys = tuple(part for part in fact.at if isinstance(part, str))
        found.setdefault((keys, fact.labels), []).append(fact)
    return found


def _paired(before: list[Fact], after: list[Fact]) -> tuple[list[tuple[Fact, Fact]], list[Fact], list[Fact]]:
    """Pairs that differ, what went and what came. The nearest go together: the same source and condition, else the order."""
    gone, come = list(before), list(after)
    pairs = []
    for alike in (_told, _nearly, lambda fact: ""):
        for one in list(gone):
            other = next((each for each in come if alike(each) == alike(one)), None)
            if other:
                gone.remove(one)
                come.remove(other)
                pairs.append((one, other))
    return [(one, other) for one, other in pairs if _told(one) != _told(other)], gone, come


def _nearly(fact: Fact) -> tuple[str, str, str]:
    return fact.cite.source if fact.cite else "", fact.when, fact.called


def _told(fact: Fact) -> dict[str, str]:
    """Everything that a fact says, in words, by what it is called in a review; the figure itself first."""
    doubt, compared = fact.doubt, fact.compared
    return {
        "printed" if fact.printed else "says": " / ".join(map(str, fact.printed)) or fact.text,
        "source": _cited(fact.cite),
        "when": fact.when,
        "label": fact.called,
        "doubt": f"{doubt.kind}: {doubt.says}" if doubt else "",
        "status": fact.status + (f" {compared.day}, edition {compared.edition}" if compared else ""),
        "superseded by": fact.superseded_by,
    }


def _cited(cite: Cite | None) -> str:
    return f"{cite.source} {cite.place}" if cite else "none"


def _changed(old: Fact, new: Fact) -> Move:
    before, after = _told(old), _told(new)
    names = [name for name in {**before, **after} if before.get(name, "") != after.get(name, "")]
    says = [f"{name}: {before.get(name) or 'nothing'} -> {after.get(name) or 'nothing'}" for name in names]
    still = [f"{name}: {after[name]}" for name in (next(iter(after)), "source") if name not in names]
    return Move("Changed", dotted(new.at), _label(new), (*says, *still))


def _whole(heading: str, fact: Fact) -> Move:
    quiet = {"status": "transcribed"}
    told = tuple(f"{name}: {text}" for name, text in _told(fact).items() if text and quiet.get(name) != text)
    return Move(heading, dotted(fact.at), _label(fact), told)


def _label(fact: Fact) -> str:
    return ", ".join(label for label in fact.labels if label)


def _rest_moved(old: Engine, new: Engine) -> Iterator[Move]:
    before, after = dict(_rest(old)), dict(_rest(new))
    for at in [*after, *(each for each in before if each not in after)]:
        if at not in before:
            yield Move("Added", dotted(at), "", (after[at],))
        elif at not in after:
            yield Move("Removed", dotted(at), "", (before[at],))
        elif before[at] != after[at]:
            yield Move("Changed", dotted(at), "", (f"{before[at]} -> {after[at]}",))


def _rest(engine: Engine) -> Iterator[tuple[At, str]]:
    """What a record says beside its facts: places, orders, drawings, sources."""
    told = {fact.at for fact in engine.facts}

    def walk(data: Any, at: At) -> Iterator[tuple[At, str]]:
        if at in told:
            return
        if isinstance(data, dict) or (isinstance(data, list) and any(isinstance(each, dict) for each in data)):
            for key, value in data.items() if isinstance(data, dict) else enumerate(data):
                yield from walk(value, (*at, key))
        else:
            yield at, _written(data)

    yield from walk(engine.file.data, ())


def _written(data: Any) -> str:
    if isinstance(data, list):
        return yaml.safe_dump(data, default_flow_style=True, allow_unicode=True, sort_keys=False, width=10_000).strip()
    return str(data)
