"""Following balls stroke by stroke: where they lie after each, where ``play_sequences`` tells only the score.

The numbers of ball i at stroke k are those that ``play_sequences`` uses with the same key, so both play the same
sequences.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from simcaddie.compiled import compiled
from simcaddie.play import kernel as k
from simcaddie.play import records as r
from simcaddie.simulate.sequences import draws
from simcaddie.workers import share_out

__all__ = ["next_strokes", "strokes_left"]


@compiled
def _next(
    table: Any, policy: Any, to_go: Any, key: Any, stroke: int, rest: Any, new: Any, start: int, stop: int
) -> None:
    g = table.ground
    for i in range(start, stop):
        x, y, lie = rest.x[i], rest.y[i], int(rest.surface[i])
        new.x[i], new.y[i], new.surface[i], new.event[i], new.finish[i] = x, y, lie, rest.event[i], lie
        if rest.event[i] == k.HOLED or g.kinds[lie, r.KIND_PUTTING] > 0.0:
            continue
        state = k.state_at(table.states, lie, x, y)
        dx, dy = k.aim_line(g, x, y, policy.bearing[state])
        z = draws(k.stream(key, i >> 1), stroke, 1.0 - 2.0 * (i & 1), table.day.table.shape[2] > 1)
        out = k.stroke(table, to_go, x, y, lie, policy.swing[state], dx, dy, z)
        new.x[i], new.y[i], new.surface[i], new.added[i] = out[0], out[1], out[2], out[3]
        new.event[i], new.finish[i], new.landing_x[i], new.landing_y[i] = out[4], out[5], out[6], out[7]


@compiled
def _left(table: Any, to_go: Any, rest: Any, left: Any, start: int, stop: int) -> None:
    g = table.ground
    for i in range(start, stop):
        if rest.event[i] == k.HOLED:
            left[i] = 0.0
        elif g.kinds[rest.surface[i], r.KIND_PUTTING] > 0.0:
            left[i] = k.mean_putts(g, table.putting, rest.x[i], rest.y[i])
        else:
            left[i] = to_go[k.state_at(table.states, int(rest.surface[i]), rest.x[i], rest.y[i])]


def next_strokes(table: r.Table, policy: r.Policy, value: r.Value, rest: r.Rest, key: np.uint64, stroke: int) -> r.Rest:
    """Play one more stroke with every ball of ``rest`` by ``policy``; ``stroke`` counts from 0, the first.

    Balls on the green or in the hole stay where they are, with ``added`` 0.
    """
    new = r.Rest.empty(rest.x.size)

    def work(start: int, stop: int) -> None:
        _next(table, policy, value.to_go, key, stroke, rest, new, start, stop)

    share_out(work, rest.x.size, least=1000)
    return new


def strokes_left(table: r.Table, to_go: NDArray[np.float64], rest: r.Rest) -> NDArray[np.float64]:
    """Return the mean strokes that each ball still needs, float64[ball]: putts, else ``to_go`` of its state."""
    left = np.zeros(rest.x.size)

    def work(start: int, stop: int) -> None:
        _left(table, to_go, rest, left, start, stop)

    share_out(work, rest.x.size, least=1000)
    return left
