"""The rules of the house: lint, types, which room may import which, and how long a function may be."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from tests.conftest import ROOT

# A room may import the rooms before it. `reading` serves record and knows no figures.
ROOMS = {
    "quantities": set(),
    "reading": set(),
    "calculations": {"quantities"},
    "record": {"quantities", "reading"},
    "audit": {"quantities", "reading", "calculations", "record"},
    "pages": {"quantities", "reading", "calculations", "record", "audit"},
    "drafting": {"quantities", "reading", "record", "audit", "pages"},
}
MODULES = sorted((ROOT / "generator").rglob("*.py"))


@pytest.mark.parametrize("command", [["ruff", "check", "."], ["mypy"]], ids=lambda command: command[0])
def test_tools_are_content(command):
    result = subprocess.run([sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True)
    assert result.returncode == 0, result.stdout


def imported(path: Path) -> list[str]:
    """Names of the modules that a file imports."""
    names = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            names.append(node.module or "")
        elif isinstance(node, ast.Import):
            names += [each.name for each in node.names]
    return names


def room_of(path: Path) -> str:
    """The room a module stands in, however deep."""
    return path.relative_to(ROOT / "generator").parts[0]


@pytest.mark.parametrize("path", [path for path in MODULES if room_of(path) in ROOMS], ids=lambda path: str(path.relative_to(ROOT / "generator")))
def test_imports_run_one_way(path: Path):
    room = room_of(path)
    for name in imported(path):
        parts = name.split(".")
        assert parts[0] != "mkdocs"
        if parts[0] == "generator":
            assert parts[1] in ROOMS[room] | {room}, f"{room} imports {name}"


def public(nodes: list[ast.stmt]) -> list[ast.FunctionDef | ast.ClassDef]:
    """Functions and classes with a name for others, methods too."""
    named = [node for node in nodes if isinstance(node, (ast.FunctionDef, ast.ClassDef)) and not node.name.startswith("_")]
    return named + [method for node in named if isinstance(node, ast.ClassDef) for method in public(node.body)]


def test_every_public_name_says_what_it_is():
    silent = []
    for path in MODULES:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        assert ast.get_docstring(tree) or not tree.body, path
        silent += [f"{path}:{node.lineno} {node.name}" for node in public(tree.body) if not ast.get_docstring(node)]
    assert silent == []


def test_functions_are_short():
    lengths = []
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef):
                lengths.append(node.end_lineno - node.lineno + 1)
                assert lengths[-1] <= 45, f"{path}:{node.lineno} {node.name}"
    assert sorted(lengths)[len(lengths) // 2] <= 15
