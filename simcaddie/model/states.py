"""The states of play: every (coarse cell, lie) pair that occurs on a hole, and the place asked from."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.surfaces import SURFACES
from simcaddie.course.grid import AreaGrid
from simcaddie.model.arrays import States

__all__ = ["STATE_CELL", "build_states", "states_at"]

STATE_CELL: Final = 4.0  # yd


def states_at(
    states: States, lie: NDArray[np.int8] | int, x: NDArray[np.float64] | float, y: NDArray[np.float64] | float
) -> NDArray[np.int32]:
    """Return the states that hold places (yd) with a lie, int32[n], -1 for none; edge cells reach outward."""
    rows, columns = states.of_cell.shape[1:]
    iy = np.clip(np.floor((np.asarray(y) - states.y0) / states.cell).astype(np.int64), 0, rows - 1)
    ix = np.clip(np.floor((np.asarray(x) - states.x0) / states.cell).astype(np.int64), 0, columns - 1)
    return np.asarray(states.of_cell[lie, iy, ix])


def build_states(grid: AreaGrid, start: tuple[float, float, int], cell: float = STATE_CELL) -> States:
    """Return the states of a grid, in cell order; ``start`` is (x, y, lie) of the place asked from.

    Water, out of bounds and the green have none: there a ball is dropped, played again or putted.
    """
    block = round(cell / grid.cell)
    rows, columns = -(-grid.surface.shape[0] // block), -(-grid.surface.shape[1] // block)
    occurs = np.zeros((len(SURFACES), rows, columns), np.bool_)
    iy, ix = (np.arange(size) // block for size in grid.surface.shape)
    occurs[grid.surface, iy[:, None], ix] = True
    occurs[[not kind.swung for kind in SURFACES]] = False
    x, y, start_lie = start
    sy = min(max(int(np.floor((y - grid.y0) / cell)), 0), rows - 1)
    sx = min(max(int(np.floor((x - grid.x0) / cell)), 0), columns - 1)
    occurs[start_lie, sy, sx] = True
    lie, cy, cx = np.nonzero(occurs)
    of_cell = np.full(occurs.shape, -1, np.int32)
    of_cell[lie, cy, cx] = np.arange(lie.size, dtype=np.int32)
    xy = np.column_stack([grid.x0 + (cx + 0.5) * cell, grid.y0 + (cy + 0.5) * cell])
    first = int(of_cell[start_lie, sy, sx])
    xy[first] = x, y
    return States(of_cell, np.ascontiguousarray(xy), lie.astype(np.int8), grid.x0, grid.y0, cell, first)
