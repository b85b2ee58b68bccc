"""Running the command line inside the test process, for commands that compile nothing."""

from __future__ import annotations

import sys
import tempfile
import warnings
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from simcaddie.__main__ import main
from simcaddie.base import keeping


class Ran(NamedTuple):
    code: int
    out: str
    err: str


@pytest.fixture
def simcaddie(capsys, monkeypatch, tmp_path) -> Callable[..., Ran]:
    """Return a function that runs ``simcaddie …`` in an empty folder and returns (code, out, err)."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(warnings, "formatwarning", warnings.formatwarning)  # the program sets its own

    def run(*words: object) -> Ran:
        monkeypatch.setattr(sys, "argv", ["simcaddie", *map(str, words)])
        capsys.readouterr()
        with pytest.raises(SystemExit) as left:
            main()
        told = capsys.readouterr()
        assert "Traceback" not in told.err
        return Ran(int(left.value.code or 0), told.out, told.err)

    return run


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
