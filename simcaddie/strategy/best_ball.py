"""Choosing by the best ball: what ``usual`` play costs against ``sound`` play, the stroke asked about included.

Both are played to the bottom of the hole with the same random numbers (``play/everyday.py`` tells what they do).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.strategy.measure import pair_means, standard_error
from simcaddie.strategy.options import swing_title
from simcaddie.strategy.scene import Scene
from simcaddie.streams import kernel_key

__all__ = ["BestBallCost", "best_ball_cost"]

_PURPOSE: Final = 7  # of the random numbers
_SEQUENCES: Final = 50_000


@dataclass(frozen=True, slots=True)
class BestBallCost:
    """Strokes that choosing every club by its best ball costs from here, its standard error, and the first clubs."""

    strokes: float
    se: float
    usual: str
    sound: str


def best_ball_cost(scene: Scene, seed: int, sequences: int = _SEQUENCES) -> BestBallCost:
    """Return what playing every stroke ``usual`` rather than ``sound`` costs; ``sequences`` are shared by the pins.

    Clubs named are those to the first pin.
    """
    (usual, a), (sound, b) = (_played(scene.playing(then), seed, sequences) for then in ("usual", "sound"))
    return BestBallCost(float((a - b).mean()), standard_error(a - b), usual, sound)


def _played(scene: Scene, seed: int, sequences: int) -> tuple[str, NDArray[np.float64]]:
    """Return the first club to the first pin and the mean scores of mirrored pairs, every stroke by the policy."""
    key, titles, scores = kernel_key(seed, _PURPOSE), [], []
    for pin, solution, policy in zip(scene.pins, scene.solutions, scene.policies, strict=True):
        one = replace(scene, pins=(pin,), solutions=(solution,), policies=(policy,))
        start = solution.table.states.start
        swing = int(policy.swing[start])
        titles.append(swing_title(scene.player, swing))
        outcome = one.play(swing, one.pin_line + float(policy.bearing[start]), key, sequences // len(scene.pins))
        scores.append(pair_means(outcome.score))
    return titles[0], np.concatenate(scores)
