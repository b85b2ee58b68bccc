"""The short game: the chance of 1 … 5 putts by distance, and how far a touch shot reaches.

Make share, with distance x to the hole in feet, R = 2.125 in the hole's radius and r = 0.84 in the ball's:

    P(x) = [2 Φ(asin((R − r)/x) / σ_direction) − 1] · [Φ((3 − p) / ((x + p) σ_distance)) − Φ(−p / ((x + p) σ_distance))]

A. Gelman, "Model building and expansion for golf putting", Stan case study, 2019, where the player means to go p = 1 ft
past from everywhere; a putt on line is holed if it would finish between the hole and 3 ft past it. Here p is the
player's ``past`` from 10 ft, more from nearer and less from farther: past · exp(−falls · (x − 10)).

A miss leaves the ball where the same two errors put it, given that it missed: the length is normal about x + p ft
with sd (x + p) σ_distance, the direction normal with sd σ_direction. Beyond 30 ft the length of a miss is less well
judged than the make share can tell, since hardly any are holed: its sd grows by ``LONG_LEAVE`` of itself per foot.
Second and later putts follow the same law. So the number of putts is a Markov chain on distance; five putts take
whatever is left.
"""

from __future__ import annotations

import math
from functools import lru_cache
from statistics import NormalDist
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.surfaces import Lie
from simcaddie.player.swing import Player, Putting

__all__ = [
    "MAX_PUTTS",
    "PUTT_FEET",
    "PUTT_STEP_FEET",
    "SHORTEST_REACH",
    "expected_putts",
    "longest_touch",
    "make_share",
    "past_feet",
    "putt_law",
    "short_share",
]  # fmt: skip

HOLE_RADIUS_FEET: Final = 2.125 / 12
BALL_RADIUS_FEET: Final = 0.84 / 12
PAST_FROM: Final = 10.0  # ft: from here a putt is meant to finish ``Putting.past`` behind the hole
TOLERANCE_FEET: Final = 3.0  # how far past a putt on line may finish and still fall
LONG_FEET: Final = 30.0
LONG_LEAVE: Final = 0.006  # fitted to three putts from 60 ft, 23 % (Broadie, Every Shot Counts, 2014, from memory)

MAX_PUTTS: Final = 5
PUTT_STEP_FEET: Final = 0.3  # 0.1 yd
SHORTEST_REACH: Final = 30.0  # yd: a player without part swings can still play a chip or pitch this far
PUTT_FEET: Final[NDArray[np.float64]] = np.arange(0.0, 240.0 + PUTT_STEP_FEET / 2, PUTT_STEP_FEET)

Floats = NDArray[np.float64]
_ERFC: Final = np.frompyfunc(math.erfc, 1, 1)


def _ndtr(x: Floats) -> Floats:
    """Return the normal distribution's share below ``x``, any shape; importing scipy's takes a tenth of a second."""
    return np.asarray(0.5 * np.asarray(_ERFC(-x / math.sqrt(2.0)), np.float64))


def past_feet(feet: Floats, putting: Putting) -> Floats:
    """Return how far past the hole putts of ``feet`` are meant to finish, in feet, any shape."""
    return np.asarray(putting.past * np.exp(-putting.falls * (feet - PAST_FROM)))


def _right_length(feet: Floats, putting: Putting) -> tuple[Floats, Floats]:
    """Return the shares of putts that stop short of the hole, and that stop short of too far past it."""
    past = past_feet(feet, putting)
    scale = (feet + past) * putting.distance_sd
    return _ndtr(-past / scale), _ndtr((TOLERANCE_FEET - past) / scale)


def make_share(feet: Floats | float, putting: Putting) -> Floats:
    """Return the chance to hole a putt of ``feet`` (any shape), in 0..1; 1 within the hole."""
    x = np.asarray(feet, dtype=np.float64)
    margin = HOLE_RADIUS_FEET - BALL_RADIUS_FEET
    angle = np.arcsin(np.minimum(1.0, margin / np.maximum(x, 1e-9)))
    on_line = 2.0 * _ndtr(angle / math.radians(putting.direction_sd)) - 1.0
    short, enough = _right_length(x, putting)
    return np.where(x <= margin, 1.0, on_line * (enough - short))


def short_share(feet: float, putting: Putting) -> float:
    """Return the share of putts of ``feet`` that would stop short of the hole."""
    return float(_right_length(np.asarray(feet), putting)[0])


def _overlap(edges: Floats, low: Floats, high: Floats) -> Floats:
    """Return float64[distance, n]: which share of each interval of ``edges`` lies between ``low`` and ``high``."""
    covered = np.minimum(edges[1:], high[:, None]) - np.maximum(edges[:-1], low[:, None])
    return np.asarray(np.maximum(covered, 0.0) / np.diff(edges))


def _leave_law(putting: Putting, nodes: int = 24) -> Floats:
    """Return P(next distance | distance, missed) as float64[distance, distance], rows summing to 1.

    The two errors are taken at ``nodes`` × ``nodes`` equally likely values (midpoints of their quantiles); those that
    would have holed the putt are left out.
    """
    z = np.array([NormalDist().inv_cdf((i + 0.5) / nodes) for i in range(nodes)])
    z /= z.std()  # midpoint quantiles are a little narrow: restore the sd
    x = PUTT_FEET[:, None, None]
    long = 1.0 + LONG_LEAVE * np.maximum(0.0, x - LONG_FEET)
    length = np.maximum((x + past_feet(x, putting)) * (1.0 + long * putting.distance_sd * z[None, :, None]), 0.05)
    angle = math.radians(putting.direction_sd) * z[None, None, :]
    past = length * np.cos(angle) - x
    aside = length * np.sin(angle)
    left = np.hypot(past, aside)
    margin = HOLE_RADIUS_FEET - BALL_RADIUS_FEET
    quantiles = np.arange(nodes + 1) / nodes
    widest = np.arcsin(np.minimum(1.0, margin / np.maximum(PUTT_FEET, margin))) / math.radians(putting.direction_sd)
    on_line = _overlap(quantiles, _ndtr(-widest), _ndtr(widest))
    right_length = _overlap(quantiles, *_right_length(PUTT_FEET, putting))
    weight = 1.0 - right_length[:, :, None] * on_line[:, None, :]
    # A row with no miss among the nodes (tap-ins): the ball stays within a foot.
    none = weight.sum(axis=(1, 2)) < 1e-9
    weight[none] = 1.0
    left = np.where(none[:, None, None], np.minimum(left, 1.0), left)
    weight /= weight.sum(axis=(1, 2), keepdims=True)
    place = np.minimum(left / PUTT_STEP_FEET, PUTT_FEET.size - 1.000001)
    below = np.floor(place).astype(np.int64)
    share = place - below
    size = PUTT_FEET.size
    cell = (np.arange(size)[:, None, None] * size + below).ravel()
    pmf = np.bincount(cell, (weight * (1.0 - share)).ravel(), size * size)
    pmf += np.bincount(cell + 1, (weight * share).ravel(), size * size)
    return np.asarray(pmf.reshape(size, size))


@lru_cache(maxsize=32)
def putt_law(putting: Putting) -> Floats:
    """Return P(exactly k putts), k = 1 … 5, as float64[distance, 5] at the distances ``PUTT_FEET``; read-only.

    Rows sum to 1; the fifth column holds five or more. Kept, as the holes of a course ask for the same ones.
    """
    make = make_share(PUTT_FEET, putting)
    leave = _leave_law(putting)
    pmf = np.zeros((PUTT_FEET.size, MAX_PUTTS))
    pmf[:, 0] = make
    for k in range(1, MAX_PUTTS):
        pmf[:, k] = (1.0 - make) * (leave @ pmf[:, k - 1])
    pmf[:, -1] = np.maximum(0.0, 1.0 - pmf[:, :-1].sum(axis=1))
    pmf.setflags(write=False)
    return pmf


def expected_putts(feet: Floats | float, putting: Putting) -> Floats:
    """Return the mean number of putts from ``feet`` (any shape, up to 240 ft)."""
    mean = putt_law(putting) @ np.arange(1.0, MAX_PUTTS + 1.0)
    return np.asarray(np.interp(np.asarray(feet), PUTT_FEET, mean))


def longest_touch(player: Player, lie: Lie) -> float:
    """Return how far touch shots go, the feel shots shorter than any measured swing, in yards from this lie."""
    shortest = min((swing.carry for swing in player.swings), default=SHORTEST_REACH)
    return max(SHORTEST_REACH, shortest) * lie.carry
