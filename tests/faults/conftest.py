"""Running the command line inside the test process, for commands that compile nothing."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from typing_in import Ran, runner

from simcaddie.base import keeping


@pytest.fixture
def simcaddie(capsys, monkeypatch, tmp_path) -> Callable[..., Ran]:
    """Return a function that runs ``simcaddie …`` in an empty folder and returns what it printed."""
    return runner(capsys, monkeypatch, tmp_path)


@pytest.fixture(autouse=True)
def _untold(monkeypatch) -> None:
    """Let every test hear of trouble with what is kept as a first one."""
    monkeypatch.setattr(keeping, "_told", set())


@pytest.fixture
def seen_by_all() -> Iterator[Path]:
    """Return a folder that other users may look into, which pytest's own are not."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o755)
        yield Path(folder)
