"""Every example in a docstring of the package is right."""

from __future__ import annotations

import doctest
from importlib import import_module
from pathlib import Path

import pytest

import simcaddie

ROOT = Path(simcaddie.__file__).parent
WITH = sorted(path for path in ROOT.rglob("*.py") if ">>> " in path.read_text(encoding="utf-8"))


def test_there_are_some():
    assert len(WITH) > 10


@pytest.mark.parametrize("path", WITH, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_examples_in_docstrings_are_right(path):
    name = ".".join(["simcaddie", *path.relative_to(ROOT).with_suffix("").parts]).removesuffix(".__init__")
    found = doctest.testmod(import_module(name), optionflags=doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS)
    assert found.attempted > 0
    assert found.failed == 0
