"""Does a file fit its schema? Yes or no, fast; what is wrong is left to the validator that can say it in words.

Most files are right, and a thousand of them are checked at a time. The schema is turned into
plain functions once. Every keyword that the schemas use is here; a schema with another one is
not compiled, and its files go to the validator.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any, TypeAlias

Test: TypeAlias = Callable[[Any], bool]

# Words for people and for the generator; they forbid nothing.
ANNOTATIONS = {"$schema", "$id", "$defs", "title", "description", "dimension", "descriptive", "beside"}


class NotCompiledError(Exception):
    """A keyword that is not known here."""


def compiled(documents: Mapping[str, Any], name: str) -> Test | None:
    """A function that says whether data fits the schema of this name; None if it has a keyword that is not known here."""
    compiler = _Compiler(documents)
    try:
        return compiler.test(documents[name], name)
    except NotCompiledError:
        return None


class _Compiler:
    """Compiles nodes of schemas; a definition is compiled once, however often it is referred to."""

    def __init__(self, documents: Mapping[str, Any]) -> None:
        self.documents = documents
        self.made: dict[tuple[str, str], Test] = {}

    def test(self, node: Any, document: str) -> Test:
        """One function for all keywords of a node."""
        if isinstance(node, bool):
            return _always if node else _never
        tests = []
        for keyword, value in node.items():
            if keyword in ANNOTATIONS or keyword in _WITH_ANOTHER:
                continue
            tests.append(self._keyword(keyword, value, node, document))
        return tests[0] if len(tests) == 1 else _together(tests)

    def _keyword(self, keyword: str, value: Any, node: dict[str, Any], document: str) -> Test:
        if keyword == "$ref":
            return self._reference(value, document)
        if keyword in _PLAIN:
            return _PLAIN[keyword](value)
        if keyword in _NESTED:
            return _NESTED[keyword](value, node, lambda below: self.test(below, document))
        raise NotCompiledError(keyword)

    def _reference(self, reference: str, document: str) -> Test:
        name, _, pointer = reference.partition("#/")
        key = (name or document, pointer)
        if key not in self.made:
            target: Any = self.documents[key[0]]
            for part in filter(None, pointer.split("/")):
                target = target[part]
            # A schema that refers to itself finds this until it is made.
            self.made[key] = lambda data: self.made[key](data)
            self.made[key] = self.test(target, key[0])
        return self.made[key]


def _always(_: Any) -> bool:
    return True


def _never(_: Any) -> bool:
    return False


def _together(tests: list[Test]) -> Test:
    """One test for several. A loop here and below takes half the time of all(…), and is gone through for every value of every file."""

    def test(data: Any) -> bool:
        for each in tests:  # noqa: SIM110
            if not each(data):
                return False
        return True

    return test


def _number(data: Any) -> bool:
    return isinstance(data, int | float) and not isinstance(data, bool)


_TYPES: dict[str, Test] = {
    "string": lambda data: isinstance(data, str), "object": lambda data: isinstance(data, dict), "array": lambda data: isinstance(data, list),
    "boolean": lambda data: isinstance(data, bool), "null": lambda data: data is None, "number": _number,
    "integer": lambda data: _number(data) and (isinstance(data, int) or data.is_integer()),
}


def _type(wanted: Any) -> Test:
    tests = [_TYPES[each] for each in ([wanted] if isinstance(wanted, str) else wanted)]
    return tests[0] if len(tests) == 1 else lambda data: any(test(data) for test in tests)


def _same(one: Any, other: Any) -> bool:
    """Equal as JSON has it: true is not 1."""
    return one is other if isinstance(one, bool) or isinstance(other, bool) else bool(one == other)


def _unique(wanted: Any) -> Test:
    def test(data: Any) -> bool:
        if not wanted or not isinstance(data, list):
            return True
        return not any(one == other for index, one in enumerate(data) for other in data[:index])

    return test


def _required(wanted: list[str]) -> Test:
    return lambda data: not isinstance(data, dict) or all(key in data for key in wanted)


def _dependent(wanted: dict[str, list[str]]) -> Test:
    return lambda data: not isinstance(data, dict) or all(other in data for key in wanted if key in data for other in wanted[key])


def _pattern(wanted: str) -> Test:
    search = re.compile(wanted).search
    return lambda data: not isinstance(data, str) or search(data) is not None


def _size(kind: type[Any], holds: Callable[[int, int], bool]) -> Callable[[int], Test]:
    return lambda bound: lambda data: not isinstance(data, kind) or holds(len(data), bound)


def _bound(holds: Callable[[float, float], bool]) -> Callable[[float], Test]:
    return lambda bound: lambda data: not _number(data) or holds(data, bound)


def _least(found: float, bound: float) -> bool:
    return found >= bound


def _most(found: float, bound: float) -> bool:
    return found <= bound


_PLAIN: dict[str, Callable[[Any], Test]] = {
    "type": _type,
    "enum": lambda wanted: lambda data: any(_same(data, each) for each in wanted),
    "const": lambda wanted: lambda data: _same(data, wanted),
    "required": _required, "dependentRequired": _dependent, "pattern": _pattern, "uniqueItems": _unique,
    "minLength": _size(str, _least), "maxLength": _size(str, _most), "minItems": _size(list, _least), "maxItems": _size(list, _most),
    "minProperties": _size(dict, _least), "maxProperties": _size(dict, _most),
    "minimum": _bound(_least), "maximum": _bound(_most), "exclusiveMinimum": _bound(lambda found, bound: found > bound),
}

_Below: TypeAlias = Callable[[Any], Test]


def _items(value: Any, node: dict[str, Any], below: _Below) -> Test:
    test = below(value)
    return lambda data: not isinstance(data, list) or all(test(item) for item in data)


def _names(value: Any, node: dict[str, Any], below: _Below) -> Test:
    test = below(value)
    return lambda data: not isinstance(data, dict) or all(test(key) for key in data)


def _properties(value: dict[str, Any], node: dict[str, Any], below: _Below) -> Test:
    tests = {key: below(each) for key, each in value.items()}

    def test(data: Any) -> bool:
        for key in data if isinstance(data, dict) else ():  # noqa: SIM110
            if key in tests and not tests[key](data[key]):
                return False
        return True

    return test


def _patterned(value: dict[str, Any], node: dict[str, Any], below: _Below) -> Test:
    tests = [(re.compile(pattern).search, below(each)) for pattern, each in value.items()]
    return lambda data: not isinstance(data, dict) or all(test(data[key]) for search, test in tests for key in data if search(key))


def _additional(value: Any, node: dict[str, Any], below: _Below) -> Test:
    test, known = below(value), set(node.get("properties", {}))
    searches = [re.compile(pattern).search for pattern in node.get("patternProperties", {})]

    def is_other(key: str) -> bool:
        return key not in known and not any(search(key) for search in searches)

    return lambda data: not isinstance(data, dict) or all(test(data[key]) for key in data if is_other(key))


def _condition(value: Any, node: dict[str, Any], below: _Below) -> Test:
    test, then, otherwise = below(value), below(node.get("then", True)), below(node.get("else", True))
    return lambda data: then(data) if test(data) else otherwise(data)


def _all_of(value: list[Any], node: dict[str, Any], below: _Below) -> Test:
    return _together([below(each) for each in value])


def _any_of(value: list[Any], node: dict[str, Any], below: _Below) -> Test:
    tests = [below(each) for each in value]
    return lambda data: any(test(data) for test in tests)


def _not(value: Any, node: dict[str, Any], below: _Below) -> Test:
    test = below(value)
    return lambda data: not test(data)


_NESTED: dict[str, Callable[[Any, dict[str, Any], _Below], Test]] = {
    "items": _items, "propertyNames": _names, "properties": _properties, "patternProperties": _patterned,
    "additionalProperties": _additional, "if": _condition, "allOf": _all_of, "anyOf": _any_of, "not": _not,
}
_WITH_ANOTHER = {"then", "else"}  # read with if
