"""Rounds on neutral courses of any length: what a golfer scores, and the better half of the scores.

A neutral course has 18 neutral holes, four of them par 3s and four par 5s, all stretched alike to the length asked
for. Holes are independent: the law of a round is the convolution of the laws of its holes, each interpolated from the
laws at a few lengths.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from validation.neutral import played

from simcaddie.player.swing import Player

Floats = NDArray[np.float64]

# yd, on a course of 6,500: common practice, no source
LENGTHS = np.array(
    [150, 170, 185, 205, 300, 325, 345, 360, 370, 380, 390, 405, 415, 435, 490, 505, 525, 545], dtype=float
)
PARS = np.array([3] * 4 + [4] * 10 + [5] * 4)


def lengths(total: float) -> Floats:
    """Return the 18 lengths of a neutral course, float64[18], in yards."""
    return LENGTHS * total / LENGTHS.sum()


@dataclass(frozen=True)
class ByLength:
    """Score laws of one golfer by length of hole: ``at`` float64[n] yd, ``pmf`` float64[n, cap + 1]."""

    at: Floats
    pmf: Floats

    def hole(self, length: float) -> Floats:
        """Return the law of strokes on a hole of ``length``, float64[cap + 1]."""
        return np.array([np.interp(length, self.at, column) for column in self.pmf.T])

    def round(self, total: float) -> Floats:
        """Return the law of the total over a neutral course of ``total`` yd, float64[18 · cap + 1]."""
        pmf = np.ones(1)
        for length in lengths(total):
            pmf = np.convolve(pmf, self.hole(length))
        return pmf


def by_length(player: Player, shortest: float, longest: float, holes: int) -> ByLength:
    """Return the score laws of ``player``, each on a hole solved for itself."""
    at = np.linspace(shortest, longest, holes)
    pmfs = []
    for length in at:
        solution = played(player, float(length)).solution
        pmfs.append(solution.pmf[:, solution.problem.states.start])
    return ByLength(at, np.array(pmfs))


def mean(pmf: Floats) -> float:
    """Return the mean of a law over 0, 1, 2 …"""
    return float(pmf @ np.arange(pmf.size))


def better_half(pmf: Floats) -> float:
    """Return the mean of the better (lower) half of the scores that follow a law."""
    below = np.concatenate([[0.0], np.cumsum(pmf)[:-1]])
    share = np.clip((0.5 - below) / np.maximum(pmf, 1e-300), 0.0, 1.0) * pmf
    return float(share @ np.arange(pmf.size) / share.sum())
