"""Looking at a place: its cell, kind, area and state, and the way to the pin."""

from __future__ import annotations

import math
from typing import Any

from simcaddie.compiled import inlined
from simcaddie.play.records import WORD_KIND

__all__ = ["aim_line", "area_at", "cell_of", "distance", "kind_at", "state_at"]


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
def aim_line(g: Any, x: float, y: float, offset: float) -> Any:
    """Return the unit vector from (x, y) to the pin, turned clockwise by ``offset`` radians."""
    dx, dy = g.pin_x - x, g.pin_y - y
    far = max(1e-9, distance(dx, dy))
    if offset == 0.0:
        return dx / far, dy / far
    c, w = math.cos(offset) / far, math.sin(offset) / far
    return dx * c + dy * w, dy * c - dx * w
