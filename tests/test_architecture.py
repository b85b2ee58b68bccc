"""The architecture: layers, sizes, light imports, public names."""

from __future__ import annotations

import ast
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

import simcaddie

ROOT = Path(simcaddie.__file__).parent
SOURCES = sorted(ROOT.rglob("*.py"))
STAGES = {"model/kernel.py"}  # loops over a block of balls, one after the other
MAX_STATEMENTS = 30


def run(code: str) -> str:
    return subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip()


def name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def test_layers_import_downward_only():
    project = ROOT.parent
    if not (project / "pyproject.toml").exists():
        pytest.skip("the contracts stand in pyproject.toml, which an installed package has not")
    command = Path(sys.executable).parent / "lint-imports"
    done = subprocess.run([command], cwd=project, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("path", SOURCES, ids=name)
def test_functions_are_short(path):
    if name(path) in STAGES:
        return
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef):
            statements = sum(isinstance(child, ast.stmt) for child in ast.walk(node)) - 1
            assert statements <= MAX_STATEMENTS, f"{node.name} has {statements} statements"


@pytest.mark.parametrize("path", SOURCES, ids=name)
def test_every_file_opens_with_its_subject(path):
    assert ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))


def test_import_is_light():
    heavy = "('matplotlib', 'yaml', 'numba', 'pyproj')"
    assert run(f"import sys, simcaddie; print([m for m in {heavy} if m in sys.modules])") == "[]"


PLAYERS = ["new-player", "fit", "gaps", "card"]
COURSE = ["round", "practice", "sheet", "range-round", "review", "squad", "field"]
COMMANDS = ["compare", "lesson", "page", "plan", "today", *COURSE, "draw", "yardages", "trace", *PLAYERS, "check"]


def test_help_is_light():
    """In one process after each other: the first that loads something heavy is named."""
    code = f"""
import contextlib, io, sys
from simcaddie.cli import run
for words in {["", *COMMANDS, "import-map", "export-map"]}:
    sys.argv = ['simcaddie', *words.split(), '--help']
    with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
        run()
    if heavy := [m for m in ('matplotlib', 'numba', 'scipy', 'pyproj') if m in sys.modules]:
        sys.exit(print(words, heavy))
"""
    assert run(code) == ""


def test_only_maps_load_pyproj():
    code = "import sys, simcaddie.decision.compare, simcaddie.io.check; print('pyproj' in sys.modules)"
    assert run(code) == "False"


def test_every_public_name_is_there():
    for public in simcaddie.__all__:
        assert getattr(simcaddie, public) is not None
    with pytest.raises(AttributeError):
        _ = simcaddie.nothing_of_the_kind


@pytest.mark.parametrize("path", SOURCES, ids=name)
def test_all_lists_names_that_exist(path):
    module = ".".join(["simcaddie", *path.relative_to(ROOT).with_suffix("").parts]).removesuffix(".__init__")
    if module == "simcaddie.__main__":
        return
    loaded = import_module(module)
    for public in getattr(loaded, "__all__", []):
        assert hasattr(loaded, public)
