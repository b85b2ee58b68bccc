"""Put the tests' own helpers on the path; solve no hole twice."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from kept import kept

from simcaddie.strategy import plan, scene


@pytest.fixture(scope="session", autouse=True)
def _solutions_are_kept() -> None:
    """Let questions about the same hole, player, place and day share their solutions, all through the session."""
    scene.solve, scene.follow, plan.solve = kept(scene.solve), kept(scene.follow), kept(plan.solve)
