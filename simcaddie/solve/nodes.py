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

NODE_X: Final = r.DRAWS
NODE_Y: Final = r.DRAWS + 1


@cache
def stroke_nodes(count: int, purpose: int) -> NDArray[np.float64]:
    """Return float64[count, 8] nodes; ``count`` is a power of two, ``purpose`` picks the set.

    Six draws for the stroke kernel, then a place within a cell: (x, y) from −0.5 to 0.5.
    """
    half = qmc.Sobol(r.DRAWS + 2, scramble=True, rng=np.random.default_rng(purpose)).random(count // 2)
    half = np.clip(half, 1e-12, 1.0 - 1e-12)
    half[:, :3] = ndtri(half[:, :3])
    half[:, NODE_X:] -= 0.5
    other = half.copy()
    other[:, [r.DRAW_SIDE, NODE_X]] *= -1.0
    return np.ascontiguousarray(np.stack([half, other], axis=1).reshape(count, r.DRAWS + 2))


@cache
def node_sets(count: int, purpose: int) -> NDArray[np.float64]:
    """Return float64[SETS, count, 8]: the blocks of one long sequence, each well spread, together better."""
    return stroke_nodes(SETS * count, purpose).reshape(SETS, count, r.DRAWS + 2)
