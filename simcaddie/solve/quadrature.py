"""Fixed quasi-random nodes: the strokes over which the solver averages.

Sobol' points (direction numbers of S. Joe and F. Kuo, SIAM J. Sci. Comput. 30, 2008), scrambled anew for every set of
them by a random lower triangular matrix and a shift (J. Matoušek, J. Complexity 14, 1998). The first three columns and
the gust are turned into standard normals. Nodes come in pairs with the side turned over, so that a mirrored hole has
mirrored values. Any prefix of 2^k nodes of a set is well spread.
"""

from __future__ import annotations

from functools import cache
from typing import Any, Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.compiled import compiled, inlined
from simcaddie.model import arrays as r
from simcaddie.model.numbers import mix, normal

__all__ = ["NODE_X", "NODE_Y", "SETS", "Nodes", "node_sets", "sobol_directions"]

SETS: Final = 64  # states take turns with this many sets of nodes, so that the errors of few nodes average out

NODE_X: Final = r.DRAW_GUST + 1
NODE_Y: Final = r.DRAW_GUST + 2
COLUMNS: Final = NODE_Y + 1
BITS: Final = 20
# Primitive polynomials and first direction numbers: degree, coefficients between, m_1 … m_degree
_JOE_KUO: Final = (
    (1, 0, (1,)), (2, 1, (1, 3)), (3, 1, (1, 3, 1)), (3, 2, (1, 1, 1)), (4, 1, (1, 1, 3, 3)), (4, 4, (1, 3, 5, 13)),
    (5, 2, (1, 1, 5, 5, 17)), (5, 4, (1, 1, 5, 5, 5)),
)  # fmt: skip


def sobol_directions() -> NDArray[np.uint64]:
    """Return the direction numbers of the first nine dimensions, uint64[9, BITS], the first bit the highest."""
    found = [[1 << (BITS - 1 - i) for i in range(BITS)]]
    for degree, inner, start in _JOE_KUO:
        m = list(start)
        for i in range(degree, BITS):
            new = m[i - degree] ^ (m[i - degree] << degree)
            for k in range(1, degree):
                new ^= ((inner >> (degree - 1 - k)) & 1) * (m[i - k] << k)
            m.append(new)
        found.append([m[i] << (BITS - 1 - i) for i in range(BITS)])
    return np.array(found, np.uint64)


@inlined
def _turn(directions: Any, seed: Any, c: int, used: int, turned: Any) -> None:
    """Write the first ``used`` directions of a column, turned by a random lower triangular matrix, into ``turned``."""
    one = np.uint64(1)
    for j in range(used):
        turned[j] = np.uint64(0)
    for i in range(BITS):  # row i of the matrix: random above the diagonal bit
        bits = mix(seed + np.uint64(c * BITS + i + 1))
        row = (((bits << one) | one) << np.uint64(BITS - 1 - i)) & np.uint64((1 << BITS) - 1)
        for j in range(used):
            odd = row & directions[c, j]
            for step in (16, 8, 4, 2, 1):
                odd ^= odd >> np.uint64(step)
            turned[j] |= (odd & one) << np.uint64(BITS - 1 - i)


@compiled
def _fill(directions: Any, seeds: Any, count: int, turned: Any, z: Any) -> None:
    """Write ``count`` nodes of every set into ``z``, a column each, sets after each other; ``turned`` is room."""
    used = 1
    while count // 2 > 1 << used:  # the directions that so many points take
        used += 1
    for s in range(seeds.size):
        for c in range(COLUMNS):
            _turn(directions, seeds[s], c, used, turned)
            shift = mix(seeds[s] + np.uint64(COLUMNS * BITS + c + 1)) >> np.uint64(12)
            for half in range(count // 2):
                point, j = np.uint64(0), 0
                while (half >> j) > 0:
                    if (half >> j) & 1:
                        point ^= turned[j]
                    j += 1
                p = (float((point << np.uint64(52 - BITS)) ^ shift) + 0.5) / 4503599627370496.0
                if c < r.DRAW_STRIKE or c == r.DRAW_GUST:
                    p = normal(p)
                elif c >= NODE_X:
                    p -= 0.5
                at = s * count + 2 * half
                z[c, at] = p
                z[c, at + 1] = -p if c in (r.DRAW_SIDE, NODE_X) else p


class Nodes(NamedTuple):
    """Sets of nodes of the same size, one after the other: float64[9, sets · count], a column a node.

    Seven draws for the stroke kernel, then a place within a cell: (x, y) from −0.5 to 0.5.
    """

    draws: NDArray[np.float64]
    sets: int

    @property
    def each(self) -> int:
        """How many nodes a set has."""
        return int(self.draws.shape[1]) // self.sets


@cache
def node_sets(count: int, purpose: int, sets: int = SETS, seed: int = 0) -> Nodes:
    """Return independent sets of ``count`` nodes, a power of two; a ``Purpose`` and ``seed`` pick which."""
    seeds = np.random.SeedSequence((purpose, count, sets, seed)).generate_state(sets, np.uint64)
    z = np.empty((COLUMNS, sets * count))
    _fill(sobol_directions(), seeds, count, np.zeros(BITS, np.uint64), z)
    return Nodes(z, sets)
