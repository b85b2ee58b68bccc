"""Smooth outlines: a closed curve through a few points.

The curve is the periodic cubic spline through the points, its parameter the square roots of the chords added
up ("centripetal"): next to long pieces, short ones then neither bulge nor loop, as they do with the chords
themselves. It is drawn out as a polygon that stays within a tolerance of the curve: a piece of length h (of
the parameter) and greatest second derivative b is cut into n = √(h² b / (8 tolerance)) parts. Nothing depends
on the frame: the outline of mirrored, turned or shifted points is the outline mirrored, turned or shifted.

The spline is written out here, a dozen lines held against scipy's in the tests: importing that takes half a second of
every answer.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["TOLERANCE", "distinct_ring", "smooth_ring"]

TOLERANCE: Final = 0.02  # between a drawn outline and its curve, in the points' unit
SAME: Final = 1e-6  # points as near as this are one point
MOST_PARTS: Final = 64  # of one piece between two points

Floats = NDArray[np.float64]


def distinct_ring(points: ArrayLike) -> Floats:
    """Return the points of a ring, float64[n, 2], without repeated neighbours and without a closing point."""
    ring = np.asarray(points, dtype=np.float64).reshape(-1, 2)
    kept: list[Floats] = []
    for point in ring:
        if not kept or np.hypot(*(point - kept[-1])) > SAME:
            kept.append(point)
    while len(kept) > 1 and np.hypot(*(kept[0] - kept[-1])) <= SAME:
        kept.pop()
    return np.array(kept).reshape(-1, 2)


def smooth_ring(points: ArrayLike, tolerance: float = TOLERANCE) -> Floats:
    """Return a closed smooth curve through ``points``, float64[m, 2] in their unit, the first not repeated.

    Fewer than three different points come back as they are.
    """
    ring = distinct_ring(points)
    if ring.shape[0] < 3:
        return ring
    closed = np.vstack([ring, ring[:1]])
    steps = np.sqrt(np.hypot(*np.diff(closed, axis=0).T))
    second = _second_derivatives(closed, steps)
    bend = np.hypot(*second.T)  # linear within a piece, so greatest at one of its ends
    most = np.maximum(bend[:-1], bend[1:])
    parts = np.ceil(np.sqrt(steps**2 * most / (8.0 * tolerance)) - 1e-6)  # a hair less: no flip by rounding
    counts = np.clip(parts, 1, MOST_PARTS).astype(np.int64)
    piece = np.repeat(np.arange(counts.size), counts)
    u = ((np.arange(piece.size) - np.repeat(np.cumsum(counts) - counts, counts)) / counts[piece])[:, None]
    v, sixth = 1.0 - u, (steps[piece] ** 2)[:, None] / 6.0
    bow = (v**3 - v) * second[piece] + (u**3 - u) * second[piece + 1]
    return np.asarray(v * closed[piece] + u * closed[piece + 1] + sixth * bow)


def _second_derivatives(closed: Floats, steps: Floats) -> Floats:
    """Return those of the periodic cubic spline at the points ``closed`` (the last is the first), float64[n + 1, 2].

    h₋ m₋ + 2 (h₋ + h) m + h m₊ = 6 (slope − slope₋) at every point; de Boor, A Practical Guide to Splines, 1978, IV.
    """
    n, slope = steps.size, np.diff(closed, axis=0) / steps[:, None]
    here, before, after = np.arange(n), np.arange(n) - 1, (np.arange(n) + 1) % n
    matrix = np.zeros((n, n))
    np.add.at(matrix, (here, here), 2.0 * (steps[before] + steps))
    np.add.at(matrix, (here, before % n), steps[before])
    np.add.at(matrix, (here, after), steps)
    bends = np.linalg.solve(matrix, 6.0 * (slope - slope[before]))
    return np.vstack([bends, bends[:1]])
