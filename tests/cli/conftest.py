"""Running the command line inside the test process, quickly."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from typing_in import Ran, runner

from simcaddie.base.streams import kernel_key
from simcaddie.decision.compare import compare as compare_records
from simcaddie.decision.line_of_play import plan as plan_records
from simcaddie.decision.request import Request
from simcaddie.decision.rounds import set_hole
from simcaddie.io.find import find_hole, find_player
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player

FEW = ("--sequences", "200", "--then", "sound")


@pytest.fixture(scope="session", autouse=True)
def _compiled() -> None:
    """Compile the simulator once, so that no test hears of it that doesn't ask."""
    hole, player = read_hole(find_hole("curlew-inlet")), read_player(find_player("wren"))
    for objective in ("strokes", "points"):
        compare_records(hole, player, Request(sequences=200, objective=objective))
    plan_records(hole, player)
    ready = set_hole(hole, player, None, None, "best")
    ready.play(ready.problem, kernel_key(1), 100)


def fits_80_columns(out: str) -> None:
    """Refuse a line over 80 columns, or a table's cell that is cut; data, files and help are no tables."""
    if not out.startswith(("{", "[", "#", "Usage")):
        assert max(map(len, out.splitlines()), default=0) <= 80, out
        assert not re.search(r"\S…|…  ", out), out


@pytest.fixture
def simcaddie(capsys, monkeypatch, tmp_path) -> Callable[..., Ran]:
    """Return a function that runs ``simcaddie …`` in an empty folder, and holds what it prints to 80 columns."""
    inner = runner(capsys, monkeypatch, tmp_path)

    def run(*words: object) -> Ran:
        ran = inner(*words)
        fits_80_columns(ran.out)
        return ran

    return run


@pytest.fixture
def compare(simcaddie) -> Callable[..., Ran]:
    """Return a function that runs a quick ``simcaddie compare`` of the demo hole and player."""

    def run(*words: str, hole: str = "curlew-inlet", player: str = "wren") -> Ran:
        return simcaddie("compare", hole, player, *FEW, *words)

    return run
