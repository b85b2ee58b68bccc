"""The ground's heights between the spot heights of a hole file, on a grid of their own.

Spot heights that lie spread over the hole get a thin plate spline (scipy), which bends as little as they allow. Along a
narrow band, as people write them down the line of play, they tell nothing of the slope across: there multiquadrics of
``WIDE`` yards stand in, which invent none. Either is held to the range of the heights and a quarter beyond.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import RBFInterpolator

from simcaddie.ground.grid import AreaGrid
from simcaddie.ground.hole import Hole

__all__ = ["HEIGHT_CELL", "height_at", "height_grid"]

HEIGHT_CELL: Final = 4.0  # yd
NEIGHBOURS: Final = 60  # spot heights that a place is told from where there are many
SPREAD: Final = 0.3  # width over length of the spot heights (sds) from which they tell of both slopes
WIDE: Final = 40.0  # yd
BEYOND: Final = 0.25  # of the range, that the surface may go above the highest and below the lowest

Floats = NDArray[np.float64]


def height_at(hole: Hole, places: Floats) -> Floats:
    """Return the heights (yd) at ``places``, float64[n, 2]; 0 where the hole has no spot heights."""
    spots = hole.heights
    if spots is None or np.ptp(spots[:, 2]) == 0.0:
        return np.full(len(places), 0.0 if spots is None else spots[0, 2])
    spread = np.linalg.svd(spots[:, :2] - spots[:, :2].mean(axis=0), compute_uv=False)
    plate = len(spots) >= 3 and spread[-1] > SPREAD * spread[0]
    near = NEIGHBOURS if len(spots) > NEIGHBOURS else None
    surface = RBFInterpolator(
        spots[:, :2],
        spots[:, 2],
        kernel="thin_plate_spline" if plate else "multiquadric",
        degree=1 if plate else 0,
        epsilon=1.0 / WIDE,
        neighbors=near,
    )
    low, high = spots[:, 2].min(), spots[:, 2].max()
    slack = BEYOND * (high - low)
    return np.asarray(np.clip(surface(places), low - slack, high + slack), np.float64)


def height_grid(hole: Hole, grid: AreaGrid) -> Floats:
    """Return heights (yd) on the corners of ``HEIGHT_CELL``-yard cells over ``grid``; [1, 1] where it is flat."""
    if hole.heights is None or np.ptp(hole.heights[:, 2]) == 0.0:
        return np.zeros((1, 1))
    rows, columns = (int(np.ceil(n * grid.cell / HEIGHT_CELL)) + 1 for n in grid.surface.shape)
    x, y = np.meshgrid(grid.x0 + HEIGHT_CELL * np.arange(columns), grid.y0 + HEIGHT_CELL * np.arange(rows))
    return height_at(hole, np.column_stack([x.ravel(), y.ravel()])).reshape(rows, columns)
