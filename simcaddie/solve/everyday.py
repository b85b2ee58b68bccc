"""Best play is never worse than everyday play, however small the green.

On a small green few balls of few nodes find it, so that a race of many lines has winners by luck, and a state of 4 yd
tells little of a place beside a green of two. There the policy that was chosen is held against everyday ones, twice.

First by value: what the best of several policies plays at each state is no worse than any of them from anywhere (policy
switching: Chang, Givan and Chong, *Parallel Rollout for Online Solution of POMDPs*, 2004; from memory). Then by whole
sequences from the place asked, from exact places and on the same luck, since values are those of the middles of cells.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.streams import Purpose
from simcaddie.base.surfaces import SURFACES
from simcaddie.model import arrays as r
from simcaddie.model.batch import asked, play
from simcaddie.model.heuristics import guess_to_go, plain
from simcaddie.model.kernel import HOLED
from simcaddie.model.left import strokes_left
from simcaddie.model.states import states_at
from simcaddie.solve.quadrature import node_sets

__all__ = ["SMALL_GREEN", "green_size", "no_worse", "rollout"]

SMALL_GREEN: Final = 120.0  # square yards: less than a third of a usual one
SEQUENCES: Final = 8192
MOST: Final = 40  # strokes of a sequence
_PUTTED: Final = np.array([kind.putting for kind in SURFACES])

Floats = NDArray[np.float64]
Place = tuple[float, float, int]


def green_size(problem: r.Problem) -> float:
    """Return the ground that is putted on, square yards."""
    return float(_PUTTED[problem.ground.word & r.WORD_KIND].sum() * problem.ground.cell**2)


def no_worse(
    problem: r.Problem, policy: r.Policy, to_go: Floats, place: Place, value_of: Callable[[r.Policy], Floats]
) -> tuple[r.Policy, Floats]:
    """Return a policy that is no worse from ``place`` than ``policy`` or everyday play, and what it chooses relief by.

    ``value_of`` values one, float64[states].
    """
    guess = guess_to_go(problem).to_go
    every = [policy, plain(problem), plain(problem, "usual")]
    values = [value_of(each) for each in every]
    switched = _switched(every, np.argmin(values, axis=0))
    tried = [(switched, np.min(values, axis=0)), (policy, to_go), *((each, guess) for each in (switched, *every[1:]))]
    return min(tried, key=lambda each: float(rollout(problem, each[0], each[1], place).mean()))


def _switched(policies: Sequence[r.Policy], which: NDArray[np.int64]) -> r.Policy:
    """Return the policy that plays at each state what the one of that number does."""
    here = np.arange(which.size)
    swing, bearing = (np.array([each[i] for each in policies])[which, here] for i in (0, 1))
    return r.Policy(swing, bearing)


def rollout(problem: r.Problem, policy: r.Policy, to_go: Floats, place: Place, n: int = SEQUENCES) -> Floats:
    """Play ``n`` sequences from a place by a policy; return their strokes, putts as their mean: float64[n]."""
    x, y, lie = (np.full(n, value, kind) for value, kind in zip(place, (float, float, np.int8), strict=True))
    who, strokes = np.arange(n), np.zeros(n)
    draws = node_sets(n, Purpose.ANSWER, 1).draws
    turns = np.random.default_rng(int(Purpose.ROLLOUT))
    for _ in range(MOST):
        state = states_at(problem.states, lie, x, y)
        line = np.arctan2(problem.ground.pin_x - x, problem.ground.pin_y - y)
        order = turns.permutation(n)[who]  # another node for each stroke, the same for every policy
        rest = play(
            problem, to_go, asked(x, y, lie, policy.swing[state], line + policy.bearing[state], order), draws, 1
        )
        strokes[who] += rest.added
        down = (rest.event == HOLED) | _PUTTED[rest.surface]
        strokes[who[down]] += strokes_left(problem, to_go, r.Rest._make(column[down] for column in rest))
        on = np.flatnonzero(~down)
        who, x, y, lie = who[on], rest.x[on], rest.y[on], rest.surface[on]
        if not who.size:
            break
    return strokes
