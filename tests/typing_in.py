"""Running the command line inside the test process, quickly, with typed lines on its input."""

from __future__ import annotations

import io
import sys
import warnings
from collections.abc import Callable
from dataclasses import dataclass

import pytest

from simcaddie.__main__ import main


@dataclass(frozen=True)
class Ran:
    code: int
    out: str
    err: str

    @property
    def flat(self) -> str:
        """What was printed, its lines joined: words may be wrapped anywhere."""
        return " ".join(self.out.split())


def runner(capsys, monkeypatch, tmp_path) -> Callable[..., Ran]:
    """Return a function that runs ``simcaddie …`` in an empty folder, 80 columns wide, and returns what it printed.

    ``typed`` is what stands on its input.
    """
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setattr(warnings, "formatwarning", warnings.formatwarning)  # the program sets its own

    def run(*words: object, typed: str | io.TextIOBase = "") -> Ran:
        monkeypatch.setattr(sys, "argv", ["simcaddie", *map(str, words)])
        monkeypatch.setattr(sys, "stdin", io.StringIO(typed) if isinstance(typed, str) else typed)
        capsys.readouterr()
        with pytest.raises(SystemExit) as left:
            main()
        told = capsys.readouterr()
        assert "Traceback" not in told.err
        return Ran(int(left.value.code or 0), told.out, told.err)

    return run
