"""Looking at a place: its cell, kind, area and state, and what a policy plays there."""

from __future__ import annotations

import math
from typing import Any

from simcaddie.base.compiled import inlined
from simcaddie.model.arrays import WORD_KIND

__all__ = ["area_at", "ask_policy", "cell_of", "distance", "kind_at", "state_at"]


@inlined
def distance(x: float, y: float) -> float:
    """Return the length of (x, y); the library's hypot guards against overflow and is slow."""
    return math.sqrt(x * x + y * y)


@inlined
def cell_of(x: float, x0: float, cell: float, n: int) -> int:
    """Return the cell that holds ``x``, the edge cell where it lies outside."""
    i = int(math.floor((x - x0) * (1.0 / cell)))
    return min(max(i, 0), n - 1)


@inlined
def kind_at(g: Any, x: float, y: float) -> int:
    """Return the surface kind at a place."""
    iy, ix = cell_of(y, g.y0, g.cell, g.rows), cell_of(x, g.x0, g.cell, g.columns)
    return int(g.word[iy * g.columns + ix]) & WORD_KIND


@inlined
def area_at(g: Any, x: float, y: float) -> int:
    """Return the number of the area at a place, −1 in the surround."""
    return int(g.area[cell_of(y, g.y0, g.cell, g.area.shape[0]), cell_of(x, g.x0, g.cell, g.area.shape[1])])


@inlined
def state_at(s: Any, lie: int, x: float, y: float) -> int:
    """Return the state of a place and lie, −1 where there is none."""
    iy, ix = cell_of(y, s.y0, s.cell, s.of_cell.shape[1]), cell_of(x, s.x0, s.cell, s.of_cell.shape[2])
    return int(s.of_cell[lie, iy, ix])


@inlined
def ask_policy(
    g: Any, policy: Any, turn: Any, row: int, x: float, y: float, lie: int, draw: int, rows: Any, at: int
) -> None:
    """Write what a policy plays from (x, y) into the row ``at`` of ``rows``; ``row`` is the policy's for that state.

    ``turn`` [row, 2] is the cosine and sine of its lines off the pin line, ``Policy.turn``.
    """
    dx, dy = g.pin_x - x, g.pin_y - y
    far = 1.0 / max(1e-9, distance(dx, dy))
    rows.x[at], rows.y[at], rows.lie[at], rows.draw[at] = x, y, lie, draw
    rows.swing[at] = policy.swing[row]
    rows.dx[at] = (dx * turn[row, 0] + dy * turn[row, 1]) * far
    rows.dy[at] = (dy * turn[row, 0] - dx * turn[row, 1]) * far
