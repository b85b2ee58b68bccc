"""The hole as a grid of cells: which kind lies where, which area, which canopy overhead.

Where areas overlap the kind with the higher code wins (``surfaces``); among equals the later area of the file. A cell
takes the kind at its centre. Cell edges lie on multiples of the cell, so that a mirrored hole has a mirrored grid.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from simcaddie.base.memo import Arrays, digest, kept_arrays
from simcaddie.base.surfaces import OUT, SURFACES, code
from simcaddie.course.hole import Hole

__all__ = ["AreaGrid", "area_grid", "ground_of"]

MARGIN = 40.0  # yd of ground around everything drawn
_PENALTY = np.array([kind.penalty for kind in SURFACES])
COARSE = 12.0  # yd: the grid's edges fit every cell of the solver as well


@dataclass(frozen=True, slots=True)
class AreaGrid:
    """Arrays are [H, W], row 0 at y0. ``area`` and ``canopy`` number ``hole.areas``, −1 for none.

    ``same``, ``clear`` and ``deep`` are whole yards, at least 1: how far the kind (the area, for penalty areas) is
    sure to stay the same in every direction, how far there is sure to be no canopy, and how far the canopy is sure to
    be the same one ([1, 1] where there is none at all).
    """

    surface: NDArray[np.int8]
    area: NDArray[np.int16]
    canopy: NDArray[np.int16]
    same: NDArray[np.uint8]
    clear: NDArray[np.uint8]
    deep: NDArray[np.uint8]
    x0: float
    y0: float
    cell: float

    def kind(self, x: float, y: float) -> int:
        """Return the kind's code at a place; the edge cell's where it lies outside."""
        rows, columns = self.surface.shape
        iy = min(max(math.floor((y - self.y0) / self.cell), 0), rows - 1)
        ix = min(max(math.floor((x - self.x0) / self.cell), 0), columns - 1)
        return int(self.surface[iy, ix])


def _frame(hole: Hole) -> tuple[float, float, float, float]:
    shapes = [area.outline for area in hole.areas] + ([hole.boundary] if hole.boundary else [])
    points = [*hole.tees.values(), *hole.pins.values(), *(spot.at for spot in hole.spots.values())]
    bounds = shapely.total_bounds([*shapes, *shapely.points(points)])
    low = np.floor((bounds[:2] - MARGIN) / COARSE) * COARSE
    high = np.ceil((bounds[2:] + MARGIN) / COARSE) * COARSE
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def _inside(
    outline: Polygon, xs: NDArray[np.float64], ys: NDArray[np.float64]
) -> tuple[tuple[slice, slice], NDArray[np.bool_]]:
    """Return the rows and columns about ``outline``, and which of their cells have their centres inside it."""
    left, bottom, right, top = outline.bounds
    window = slice(*np.searchsorted(ys, [bottom, top])), slice(*np.searchsorted(xs, [left, right]))
    shapely.prepare(outline)
    return window, shapely.contains_xy(outline, *np.meshgrid(xs[window[1]], ys[window[0]]))


def _centres(low: float, high: float, cell: float) -> NDArray[np.float64]:
    return np.asarray(np.arange(round((high - low) / cell)) * cell + low + cell / 2, np.float64)


def area_grid(hole: Hole, cell: float = 0.5) -> AreaGrid:
    """Return the grid of a hole with ``cell``-yard cells; 2 must be a whole number of cells. Kept on the disk."""
    left, bottom, right, top = frame = _frame(hole)
    shape = (round((top - bottom) / cell), round((right - left) / cell))
    key = digest("grid", *ground_of(hole), frame, cell)
    found = kept_arrays(key, lambda: _drawn(hole, frame, cell), lambda held: _fits(held, shape), small=True)
    return AreaGrid(**found, x0=left, y0=bottom, cell=cell)


def ground_of(hole: Hole) -> tuple[Any, ...]:
    """Return all that the ground of a hole depends on, for a digest."""
    areas = tuple((area.kind, area.outline.wkb, area.height) for area in hole.areas)
    return areas, hole.boundary.wkb if hole.boundary else None, hole.surround


def _fits(found: Arrays, shape: tuple[int, ...]) -> bool:
    """Tell whether arrays from the disk can be a grid of that shape."""
    kinds = {"surface": "int8", "area": "int16", "canopy": "int16", "same": "uint8", "clear": "uint8", "deep": "uint8"}
    return set(found) == set(kinds) and all(
        array.dtype == kinds[name] and array.shape in (shape, (1, 1) if name in ("clear", "deep") else shape)
        for name, array in found.items()
    )


def _drawn(hole: Hole, frame: tuple[float, float, float, float], cell: float) -> Arrays:
    """Return the arrays of a hole's grid."""
    left, bottom, right, top = frame
    xs = _centres(left, right, cell)
    ys = _centres(bottom, top, cell)
    shape = (ys.size, xs.size)
    surface = np.full(shape, code(hole.surround), np.int8)
    area = np.full(shape, -1, np.int16)
    canopy = np.full(shape, -1, np.int16)
    order = sorted(range(len(hole.areas)), key=lambda i: code(hole.areas[i].kind))
    for i in order:
        window, inside = _inside(hole.areas[i].outline, xs, ys)
        surface[window][inside] = code(hole.areas[i].kind)
        area[window][inside] = i
        if hole.areas[i].height > 0.0:
            canopy[window][inside] = i
    if hole.boundary is not None:
        window, inside = _inside(hole.boundary, xs, ys)
        beyond = np.ones(shape, np.bool_)
        beyond[window] = ~inside
        surface[beyond] = code(OUT)
        area[beyond] = -1
    clear = deep = np.ones((1, 1), np.uint8)
    if (canopy >= 0).any():
        clear, deep = _sure_yards(canopy >= 0, cell), _sure_yards(_edges(canopy), cell)
    apart = np.where(_PENALTY[surface], len(SURFACES) + area, surface)  # one penalty area is not another
    same = _sure_yards(_edges(apart), cell)
    return {"surface": surface, "area": area, "canopy": canopy, "same": same, "clear": clear, "deep": deep}


def _edges(numbers: NDArray[np.integer]) -> NDArray[np.bool_]:
    """Return the cells that have a neighbour, corners included, of another number."""
    edge = np.zeros(numbers.shape, np.bool_)
    for one, other in (
        ((slice(1, None), slice(None)), (slice(None, -1), slice(None))),
        ((slice(None), slice(1, None)), (slice(None), slice(None, -1))),
        ((slice(1, None), slice(1, None)), (slice(None, -1), slice(None, -1))),
        ((slice(1, None), slice(None, -1)), (slice(None, -1), slice(1, None))),
    ):
        differ = numbers[one] != numbers[other]
        edge[one] |= differ
        edge[other] |= differ
    return edge


def _sure_yards(there: NDArray[np.bool_], cell: float) -> NDArray[np.uint8]:
    """Return the whole yards, 1 … 255, that one may go from anywhere in a cell without meeting a cell of ``there``."""
    from scipy.ndimage import distance_transform_edt  # noqa: PLC0415 (a fifth of a second, where a grid isn't kept)

    if not there.any():
        return np.full(there.shape, 255, np.uint8)
    rows, columns = (n // 2 for n in there.shape)
    blocks = there.reshape(rows, 2, columns, 2).any(axis=(1, 3))  # a quarter of the time, for a yard less at most
    corners = math.sqrt(2.0)  # from the centres' distance to that of the nearest points of two blocks
    yards = np.clip((distance_transform_edt(~blocks) - corners) * 2.0 * cell, 1, 255).astype(np.uint8)
    return np.repeat(np.repeat(yards, 2, axis=0), 2, axis=1)
