"""Fixed quasi-random nodes: the strokes over which the solver averages.

Scrambled Sobol' points (scipy.stats.qmc; A. Owen 1998 on scrambling), the first three columns turned into standard
normals. They come in pairs with the side turned over, so that a mirrored hole has mirrored values. Any prefix of 2^k
nodes is well spread.
"""

from __future__ import annotations

from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri
from scipy.stats import qmc

from simcaddie.play import records as r

__all__ = ["ANSWER", "CHOOSE", "NODE_X", "NODE_Y", "SETS", "VALUE", "node_sets", "stroke_nodes"]

# Independent sets: one to choose with, one to value the choice with, one to answer from the exact place.
CHOOSE: Final = 11
VALUE: Final = 12
ANSWER: Final = 13

SETS: Final = 64  # states take turns with this many sets of nodes, so that the errors of few nodes average out

NODE_X: Final = r.DRAW_GUST + 1
NODE_Y: Final = r.DRAW_GUST + 2


@cache
def stroke_nodes(count: int, purpose: int) -> NDArray[np.float64]:
    """Return float64[count, 9] nodes; ``count`` is a power of two, ``purpose`` picks the set.

    Seven draws for the stroke kernel, then a place within a cell: (x, y) from −0.5 to 0.5. Gusts are spread evenly and
    dealt at random (a Latin hypercube's column): the other columns are the same with and without them.
    """
    half = qmc.Sobol(r.DRAWS + 2, scramble=True, rng=np.random.default_rng(purpose)).random(count // 2)
    half = np.clip(half, 1e-12, 1.0 - 1e-12)
    half[:, :3] = ndtri(half[:, :3])
    gust = np.random.default_rng((purpose, count)).permutation(ndtri((np.arange(count // 2) + 0.5) / (count // 2)))
    half = np.insert(half, r.DRAW_GUST, gust, axis=1)
    half[:, NODE_X:] -= 0.5
    other = half.copy()
    other[:, [r.DRAW_SIDE, NODE_X]] *= -1.0
    return np.ascontiguousarray(np.stack([half, other], axis=1).reshape(count, NODE_Y + 1))


@cache
def node_sets(count: int, purpose: int) -> NDArray[np.float64]:
    """Return float64[SETS, count, 9]: the blocks of one long sequence, each well spread, together better."""
    return stroke_nodes(SETS * count, purpose).reshape(SETS, count, NODE_Y + 1)
