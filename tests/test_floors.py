"""Each floor imports only from the floors below it (docs/architecture.md)."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import saltus

ROOT = Path(saltus.__file__).parent
FLOORS = [
    "errors",
    "quantities",
    "tomltext",
    "tomltable",
    "recordings",
    "jumps",
    "athlete",
    "training",
    "progress",
    "record",
    "figures",
    "reports",
    "web",
    "cli",
]
HEAVY = ["numpy", "scipy", "numba", "ortools", "polars", "altair", "ezc3d", "rich.table"]


def modules():
    return sorted(ROOT.rglob("*.py"))


def floor_of(path):
    first = path.relative_to(ROOT).parts[0]
    return first.removesuffix(".py")


def imported(path):
    """Dotted names of all that a module imports, within functions too."""
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written out from saltus on"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(ROOT)))
def test_a_floor_imports_only_from_below(path):
    own = floor_of(path)
    if own == "__init__":
        return
    for name in imported(path):
        parts = name.split(".")
        if parts[0] == "saltus" and len(parts) > 1 and parts[1] != "__version__":
            assert FLOORS.index(parts[1]) <= FLOORS.index(own), f"{name} stands above"


def test_the_help_page_imports_nothing_heavy():
    """Start-up stays quick: a module that is loaded for --help is loaded for everything."""
    code = "import sys, saltus.cli; print(*sys.modules)"
    loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout.split()

    assert "typer" in loaded
    assert not set(HEAVY) & set(loaded)


def test_nothing_outside_web_knows_django():
    for path in modules():
        if floor_of(path) != "web":
            assert not any(name.split(".")[0] == "django" for name in imported(path)), path
