"""Choosing by the best ball: what ``usual`` play costs against ``sound`` play, the stroke asked about included.

Both first strokes are looked ahead from with the same random numbers, each with its own play to follow
(``play/everyday.py`` tells what they do).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from simcaddie.strategy.measure import standard_error
from simcaddie.strategy.options import swing_title
from simcaddie.strategy.scene import Scene

__all__ = ["BestBallCost", "best_ball_cost"]


@dataclass(frozen=True, slots=True)
class BestBallCost:
    """Strokes that choosing every club by its best ball costs from here, its standard error, and the first clubs."""

    strokes: float
    se: float
    usual: str
    sound: str


def best_ball_cost(scene: Scene) -> BestBallCost:
    """Return what playing every stroke ``usual`` rather than ``sound`` costs, on average over the pins.

    Clubs named are those to the first pin.
    """
    (usual, a), (sound, b) = (_played(scene, "usual"), _played(scene, "sound"))
    return BestBallCost(float((a - b).mean()), standard_error(a - b), usual, sound)


def _played(scene: Scene, then: Literal["sound", "usual"]) -> tuple[str, NDArray[np.float64]]:
    """Return the first club to the first pin and the mean strokes by set of first balls, every stroke by the policy."""
    titles, strokes, here = [], [], scene.playing(then)
    for pin, solution, ahead in zip(here.pins, here.solutions, here.aheads, strict=True):
        start = solution.table.states.start
        swing = int(solution.policy.swing[start])
        titles.append(swing_title(scene.player, swing))
        line = math.atan2(pin[0] - here.place.at[0], pin[1] - here.place.at[1])
        strokes.append(ahead.means(here.start, swing, line + float(solution.policy.bearing[start]))[0])
    return titles[0], np.mean(strokes, axis=0)
