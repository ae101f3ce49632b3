"""Canonical form: order of the schema, statements of the printer, and not one comment lost."""

import random

import pytest
import yaml

from generator.drafting import Unordered, canonical
from generator.reading import comments_of, read_text
from tests.conftest import ROOT

RECORDS = [*sorted((ROOT / "specs/engines").glob("*.yaml")), ROOT / "specs/demo/quennith-four.yaml"]
HEAD = "id: x\nname: X\nsources: [book]\n"


@pytest.fixture
def shape(schemas):
    return schemas.shape("engine")


def data_of(text):
    file, problems = read_text(text.encode(), "x.yaml")
    assert problems == []
    return file.data


@pytest.mark.parametrize(("old", "new"), [
    # keys of a block, with the comments above and beside them
    (
        "name: X\n# of the record\nid: x  # for ever\nsources: [book]\n",
        "# of the record\nid: x  # for ever\nname: X\nsources: [book]\n",
    ),
    # blank lines stay where they are, sections move
    (HEAD + "\nfaces:\n  head: {}\n\nidentity:\n  fuel: {}\n", HEAD + "\nidentity:\n  fuel: {}\n\nfaces:\n  head: {}\n"),
    # keys of an item behind its dash
    (
        HEAD + "decisions:\n  - label: crack\n    # the whole of it\n    says: replace\n    cite: book page 1\n",
        HEAD + "decisions:\n  - # the whole of it\n    says: replace\n    cite: book page 1\n    label: crack\n",
    ),
    # brackets, with what follows them
    (HEAD + "identity: {fuel: {cite: book page 1, says: diesel}, cite: book page 2} # so\n",
     HEAD + "identity: {cite: book page 2, fuel: {says: diesel, cite: book page 1}} # so\n"),
    # statements as the printer writes them, and nothing else
    (HEAD + 'tests:\n  radiator_cap:\n    - {printed: [13psi, "0.9 kg/cm2"], label: 13psi}\n',
     HEAD + 'tests:\n  radiator_cap:\n    - {printed: [13 psi, 0.9 kgf/cm2], label: 13psi}\n'),
    (HEAD + "tests:\n  radiator_cap:\n    - printed:\n        - 20±2 N.m\n        - max. 3 psi # so\n",
     HEAD + "tests:\n  radiator_cap:\n    - printed:\n        - 20 +-2 N.m\n        - max 3 psi # so\n"),
    # the writer's own names keep their order, after the schema's
    (HEAD + "fasteners:\n  other_b: {}\n  manifolds: {}\n  other_a: {}\n", HEAD + "fasteners:\n  manifolds: {}\n  other_b: {}\n  other_a: {}\n"),
    # text over several lines
    (HEAD + "identity:\n  oil:\n    type:\n      cite: book page 1\n      says: |\n        one # no comment\n        two\n",
     HEAD + "identity:\n  oil:\n    type:\n      says: |\n        one # no comment\n        two\n      cite: book page 1\n"),
    # line ends, a last line without one
    ("id: x\r\nsources: [book]\r\nname: X", HEAD),
], ids=["block", "sections", "item", "brackets", "statements", "list", "names", "text", "line ends"])
def test_forms(shape, old, new):
    assert canonical(old, shape) == new
    assert canonical(new, shape) == new


@pytest.mark.parametrize(("text", "line"), [
    (HEAD + "identity:\n  fuel: {}\n\n  # on its own\n\n  cite: book page 1\n", 9),
    (HEAD + "identity:\n  fuel: {}\n  cite: book page 1\n  # about the cite, or about the block\n", 7),
    (HEAD + "identity: {fuel: {}, # which of the two\n  cite: book page 1}\n", 4),
])
def test_a_comment_whose_key_is_not_plain_is_refused_in_words(shape, text, line):
    with pytest.raises(Unordered) as caught:
        canonical(text, shape)
    assert caught.value.line == line
    assert "comment" in str(caught.value)
    assert caught.value.hint


def test_a_loose_comment_is_no_hindrance_where_nothing_moves(shape):
    text = "# head of the file\n\n" + HEAD + "\n# on its own\n\nidentity:\n  fuel: {}\n  # at the end\n"
    assert canonical(text, shape) == text


def shuffled(data, chance):
    """The same data with the keys of every mapping in another order."""
    if isinstance(data, dict):
        keys = list(data)
        chance.shuffle(keys)
        return {key: shuffled(data[key], chance) for key in keys}
    return [shuffled(each, chance) for each in data] if isinstance(data, list) else data


def commented(text, chance):
    """A comment above every third key, one behind every third line."""
    lines = []
    for number, line in enumerate(text.splitlines()):
        bare = line.lstrip(" -")
        if chance.random() < 0.3 and ":" in line and not line.lstrip().startswith("-"):
            lines.append(" " * (len(line) - len(bare)) + f"# above {number}")
        lines.append(line + (f"  # behind {number}" if chance.random() < 0.3 else ""))
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("flow", [False, None], ids=["blocks", "brackets"])
@pytest.mark.parametrize("path", RECORDS, ids=lambda path: path.stem)
def test_a_shuffled_record_comes_back_in_order_with_its_data_and_comments(shape, path, flow):
    chance = random.Random(path.stem)
    plain = yaml.safe_load(path.read_text())
    mixed = yaml.safe_dump(shuffled(plain, chance), sort_keys=False, allow_unicode=True, width=10_000, default_flow_style=flow)
    mixed = mixed if flow is None else commented(mixed, chance)
    result = canonical(mixed, shape)
    assert yaml.safe_load(result) == plain
    assert sorted(comments_of(result)) == sorted(comments_of(mixed))
    assert canonical(result, shape) == result
    keys = list(yaml.safe_load(result))
    assert keys == [key for key in shape.children if key in plain]
    assert list(yaml.safe_load(result)["identity"]) == [key for key in shape.children["identity"].children if key in plain["identity"]]


def test_a_comment_stays_with_its_key(shape):
    chance = random.Random(4)
    keys = ["cite", "layout", "cylinders", "fuel", "cooling"]
    lines = {key: f"  # above {key}\n  {key}: " + ("book page 1" if key == "cite" else "{says: x}") + f"  # behind {key}\n" for key in keys}
    for _ in range(20):
        mixed = chance.sample(keys, len(keys))
        text = HEAD + "identity:\n" + "".join(lines[key] for key in mixed)
        assert canonical(text, shape) == HEAD + "identity:\n" + "".join(lines[key] for key in keys)
