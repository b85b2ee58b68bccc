"""What a score is worth in the forms of play of Rule 21 (Rules of Golf, 2023), against a hole's net par.

    Stableford points = max(0, 2 + net par − score)        Rule 21.1b

Net par is par and the strokes received there, so gross scores go in. Arrays broadcast; ``holed`` (bool, True
by default) marks scores of players who did hole out: without that a hole is no points, a loss, the maximum.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["maximum_score", "net_double_bogey", "par_bogey", "stableford"]

Whole = NDArray[np.int64]


def stableford(score: ArrayLike, net_par: ArrayLike, *, holed: ArrayLike = True) -> Whole:
    """Return Stableford points, 2 for net par (Rule 21.1b).

    >>> stableford([3, 5, 9], 5)
    array([4, 2, 0])
    """
    points = np.maximum(0, 2 + np.asarray(net_par, np.int64) - np.asarray(score, np.int64))
    return np.where(holed, points, 0)


def net_double_bogey(net_par: ArrayLike) -> Whole:
    """Return the first score that is worth no points: two over net par (Rules of Handicapping 3.1b)."""
    return np.asarray(np.asarray(net_par, np.int64) + 2)


def par_bogey(score: ArrayLike, net_par: ArrayLike, *, holed: ArrayLike = True) -> Whole:
    """Return 1 for a hole won, 0 tied, −1 lost against net par (Rule 21.3b)."""
    result: NDArray[Any] = np.sign(np.asarray(net_par, np.int64) - np.asarray(score, np.int64))
    return np.where(holed, result, -1)


def maximum_score(score: ArrayLike, limit: ArrayLike, *, holed: ArrayLike = True) -> Whole:
    """Return the score, at most the Committee's limit (Rule 21.2a), say twice par or net double bogey."""
    most = np.asarray(limit, np.int64)
    return np.where(holed, np.minimum(np.asarray(score, np.int64), most), most)
