"""Every word that the schema of an engine allows is written in some invented record or good example: no branch is without one."""

from collections.abc import Iterator
from typing import Any

from generator.reading import Schemas, Shape, read_file
from tests.conftest import ROOT
from tests.examples import GOOD

RECORDS = [*sorted((ROOT / "specs/demo").glob("*.yaml")), *(path for path in GOOD if path.parent.name == "engines")]


def allowed(shape: Shape, at: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], str]]:
    """Every word of the schema with the keys that lead to it; names that the writer gives and list positions are a *."""
    yield from ((at, str(word)) for word in shape.node.get("enum", []))
    for key, child in shape.children.items():
        yield from allowed(child, (*at, key))
    for child in (shape.others, shape.items):
        if child:
            yield from allowed(child, (*at, "*"))


def written(data: Any, shape: Shape | None, at: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], str]]:
    """Every word of a record with the keys that lead to it, spelt as `allowed` does."""
    if isinstance(data, dict):
        for key, value in data.items():
            named = shape is not None and key not in shape.children
            yield from written(value, shape.below(key) if shape else None, (*at, "*" if named else key))
    elif isinstance(data, list):
        for value in data:
            yield from written(value, shape.items if shape else None, (*at, "*"))
    else:
        yield at, str(data)


def branch(at: tuple[str, ...]) -> str:
    """The place of a word where it has a meaning of its own: every set of fasteners has one shape, and a doubt is one wherever it stands."""
    if at[-1] == "status" or "doubt" in at:
        return at[-1]
    return ".".join((at[0], "*", *at[2:]) if at[0] == "fasteners" else at)


def test_every_word_of_the_schema_is_used_in_an_invented_record_or_a_good_example():
    shape = Schemas(ROOT / "schema").shape("engine")
    used = set()
    for path in RECORDS:
        file, problems = read_file(path, path.name)
        assert file and problems == []
        used |= {(branch(at), word) for at, word in written(file.data, shape)}
    wanted = {(branch(at), word) for at, word in allowed(shape)}
    assert len(wanted) > 100
    assert sorted(wanted - used) == []
