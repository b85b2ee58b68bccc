"""The best line for every swing: the whole fan that makes sense, then closer about the lines that look best.

The fan spans the line to the pin, the solver's own first line and those given, and ``BEYOND`` on either side. Worths
over it come from one look ahead. Every local best of a swing is looked at closer, to a degree, so that a line round
the other side of a wood isn't lost. Nodes that choose never make the figures that are shown.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

__all__ = ["Line", "best_lines", "fan"]

BEYOND: Final = 24.0  # degrees beyond the outermost line given
STEP: Final = 2.0
SCREEN_SETS, NEAR_SETS = 2, 8
LOCAL: Final = 3  # local bests of a swing that are looked at closer
WORSE: Final = 0.25  # a local best so much worse than the swing's best isn't

Floats = NDArray[np.float64]
# Takes swings and aims (degrees), one a row, and sets of nodes; returns the worth of each row, less being better.
Look = Callable[[Sequence[int], Sequence[float], int], Floats]


@dataclass(frozen=True, slots=True)
class Line:
    """A swing's line: degrees right of the pin, and its worth by look-ahead."""

    swing: int
    aim: float
    worth: float


def fan(lines: Iterable[float], step: float = STEP) -> list[float]:
    """Return aims in degrees: whole steps ``BEYOND`` the outermost of ``lines``, and those themselves.

    >>> len(fan([0.0, 10.0]))
    30
    """
    known = sorted(set(lines))
    low, high = max(known[0] - BEYOND, -180.0), min(known[-1] + BEYOND, 180.0)
    steps = step * np.arange(math.floor(low / step), math.ceil(high / step) + 1)
    return sorted({*(float(aim) for aim in steps), *known})


def _local_bests(aims: Sequence[float], worth: Floats) -> list[int]:
    """Return the places of the local bests, best first; those far behind left out."""
    padded = np.concatenate([[np.inf], worth, [np.inf]])
    found = np.flatnonzero((worth <= padded[:-2]) & (worth < padded[2:]))
    order = found[np.lexsort((np.abs(np.asarray(aims)[found]), worth[found]))]
    return [int(i) for i in order[:LOCAL] if worth[i] <= worth[order[0]] + WORSE]


def best_lines(look: Look, swings: Sequence[int], aims: Sequence[float], near: float = 1.0) -> dict[int, Line]:
    """Return each swing's best line among ``aims`` and, with ``near`` degrees, those beside the best ones."""
    rough = look(np.repeat(swings, len(aims)).tolist(), list(aims) * len(swings), SCREEN_SETS)
    closer: dict[tuple[int, float], None] = {}
    for swing, worth in zip(swings, rough.reshape(len(swings), -1), strict=True):
        for place in _local_bests(aims, worth):
            for turn in (0.0, -near, near) if near else (0.0,):
                closer[swing, aims[place] + turn] = None
    rows = list(closer)
    worths = look([swing for swing, _ in rows], [aim for _, aim in rows], NEAR_SETS)
    best: dict[int, Line] = {}
    for (swing, aim), worth in zip(rows, worths, strict=True):
        line = Line(swing, aim, float(worth))
        if swing not in best or (line.worth, abs(aim)) < (best[swing].worth, abs(best[swing].aim)):
            best[swing] = line
    return best
