"""Progress shows on a terminal, on stderr, and nowhere else."""

from __future__ import annotations

import io

import pytest

from simcaddie.console.progress import progress


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize("steps", [None, 3])
def test_a_terminal_sees_what_goes_on(monkeypatch, steps):
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setattr("sys.stderr", terminal := Terminal())
    with progress("Planning the hole", steps) as done:
        done()
    assert "Planning the hole" in terminal.getvalue()
    assert ("1 of 3" in terminal.getvalue()) == (steps == 3)


@pytest.mark.parametrize("steps", [None, 3])
def test_a_file_or_pipe_sees_nothing(monkeypatch, steps):
    monkeypatch.setattr("sys.stderr", pipe := io.StringIO())
    with progress("Planning the hole", steps) as done:
        done()
    assert pipe.getvalue() == ""
