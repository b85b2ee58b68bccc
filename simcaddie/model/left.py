"""What balls at rest still need: the mean of their putts on the green, else what their state is worth."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.compiled import compiled
from simcaddie.base.parallel import share_out
from simcaddie.model import arrays as r
from simcaddie.model.kernel import HOLED, mean_putts
from simcaddie.model.look import state_at

__all__ = ["leave", "strokes_left"]


@compiled
def leave(problem: Any, to_go: Any, rest: Any, left: Any, start: int, stop: int) -> None:
    """Write what the balls ``start`` … ``stop`` of ``rest`` still need.

    ``to_go`` is float64[states], or a row of states per number of strokes used, of which ``rest.added`` picks one.
    """
    g, states = problem.ground, problem.states.lie.size
    last = to_go.size // states - 1
    for i in range(start, stop):
        surface = int(rest.surface[i])
        if rest.event[i] == HOLED:
            left[i] = 0.0
        elif g.kinds[surface, r.KIND_PUTTING] > 0.0:
            left[i] = mean_putts(g, problem.putting, rest.x[i], rest.y[i])
        else:
            row = min(int(rest.added[i]), last) * states
            left[i] = to_go[row + state_at(problem.states, surface, rest.x[i], rest.y[i])]


def strokes_left(problem: r.Problem, to_go: NDArray[np.float64], rest: r.Rest) -> NDArray[np.float64]:
    """Return the mean strokes that each ball still needs, float64[ball]: putts, else ``to_go`` of its state."""
    left = np.zeros(rest.x.size)

    def work(start: int, stop: int) -> None:
        leave(problem, to_go, rest, left, start, stop)

    share_out(work, rest.x.size, least=4096)
    return left
