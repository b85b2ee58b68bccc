"""The ground's heights between the spot heights of a hole file, on a grid of their own.

Spot heights that lie spread over the hole get a thin plate spline, which bends as little as they allow. Along a
narrow band, as people write them down the line of play, they tell nothing of the slope across: there multiquadrics of
``WIDE`` yards stand in, which invent none. Either is held to the range of the heights and a quarter beyond.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.course.grid import AreaGrid
from simcaddie.course.hole import Hole

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
    surface = _through_all if len(spots) <= NEIGHBOURS else _through_near
    low, high = spots[:, 2].min(), spots[:, 2].max()
    slack = BEYOND * (high - low)
    return np.asarray(np.clip(surface(spots, places, plate), low - slack, high + slack), np.float64)


def _through_near(spots: Floats, places: Floats, plate: bool) -> Floats:
    """Return the surface at places from the ``NEIGHBOURS`` nearest spot heights of each."""
    from scipy.interpolate import RBFInterpolator  # noqa: PLC0415 (half a second that few holes need)

    kernel = "thin_plate_spline" if plate else "multiquadric"
    shape = RBFInterpolator(
        spots[:, :2], spots[:, 2], kernel=kernel, degree=int(plate), epsilon=1.0 / WIDE, neighbors=NEIGHBOURS
    )
    try:
        return np.asarray(shape(places))
    except np.linalg.LinAlgError:  # the nearest ones of a place lie in one line, though not all do
        return _through_near(spots, places, plate=False) if plate else _nearest(spots, places)


def _nearest(spots: Floats, places: Floats) -> Floats:
    """Return the height of the nearest spot height: some lie so close together that nothing runs through them."""
    from scipy.spatial import KDTree  # noqa: PLC0415 (as above)

    return np.asarray(spots[KDTree(spots[:, :2]).query(places)[1], 2])


def _through_all(spots: Floats, places: Floats, plate: bool) -> Floats:
    """Return the surface at places through all spot heights; the tests hold it against ``_through_near``'s library.

    Radial functions and a polynomial, a plane or a constant, that they are orthogonal to (G. Wahba, Spline Models for
    Observational Data, SIAM 1990, section 2.4), in coordinates of the size of one.
    """
    centre, size = spots[:, :2].mean(axis=0), max(float(np.ptp(spots[:, :2], axis=0).max()), 1.0)
    known, asked = (spots[:, :2] - centre) / size, (places - centre) / size

    def shapes(xy: Floats) -> Floats:
        far = np.hypot(*(xy[:, None, :] - known[None, :, :]).transpose(2, 0, 1))
        if plate:
            return np.asarray(far * far * np.log(np.maximum(far, 1e-300)))
        return np.asarray(-np.hypot(1.0, far * size / WIDE))

    def plane(xy: Floats) -> Floats:
        ones = np.ones((len(xy), 1))
        return np.hstack([ones, xy]) if plate else ones

    n, across = len(spots), plane(known)
    matrix = np.zeros((n + across.shape[1],) * 2)
    matrix[:n, :n], matrix[:n, n:], matrix[n:, :n] = shapes(known), across, across.T
    given = np.append(spots[:, 2], np.zeros(across.shape[1]))
    try:
        weights = np.linalg.solve(matrix, given)
    except np.linalg.LinAlgError:  # two all but at one place: as near to both as can be
        weights = np.linalg.lstsq(matrix, given, rcond=None)[0]
    return np.asarray(shapes(asked) @ weights[:n] + plane(asked) @ weights[n:])


def height_grid(hole: Hole, grid: AreaGrid) -> Floats:
    """Return heights (yd) on the corners of ``HEIGHT_CELL``-yard cells over ``grid``; [1, 1] where it is flat."""
    if hole.heights is None or np.ptp(hole.heights[:, 2]) == 0.0:
        return np.zeros((1, 1))
    rows, columns = (int(np.ceil(n * grid.cell / HEIGHT_CELL)) + 1 for n in grid.surface.shape)
    x, y = np.meshgrid(grid.x0 + HEIGHT_CELL * np.arange(columns), grid.y0 + HEIGHT_CELL * np.arange(rows))
    return height_at(hole, np.column_stack([x.ravel(), y.ravel()])).reshape(rows, columns)
