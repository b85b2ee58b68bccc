"""Where to aim: the line of play, and the landmarks that mark a line.

The line of play runs from a place to the pin through the middle of the fairway, so that it bends where the
hole does. A hole file may draw it; else it is found from two maps of distance, to the pin and to the place,
along ground that is dear to cross away from the fairway (Dijkstra, Numerische Mathematik 1, 1959, on 3-by-3-cell
neighbours and knight's moves). Fairway cells at the same distance to the pin, and not far off the shortest way,
form a band across the fairway; the middles of the bands are the line. Being means of cells they turn over with
a mirrored hole.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString

from simcaddie.base.memo import digest, kept_arrays
from simcaddie.base.surfaces import SURFACES
from simcaddie.base.units import angle_between
from simcaddie.course.grid import AreaGrid, area_grid, ground_of
from simcaddie.course.hole import Hole, Landmark, Point

__all__ = ["aim_in_degrees", "length_from", "line_of_play", "nearest_landmark", "point_along"]

CELL: Final = 2.0  # yd
BAND: Final = 12.0  # yd of the hole's length that a band takes
STRAIGHT: Final = 4.0  # yd: bends smaller than this are drawn straight
OFF_ROAD: Final = 4.0  # what a yard costs away from tee, fairway and green
TROUBLE: Final = 8.0  # what a yard costs over hazards and trees
DETOUR: Final = 30.0  # yd: fairway further off the shortest way isn't on the way
AHEAD: Final = 10.0  # yd: corners of a drawn line nearer than this are behind the ball
ONE_SHOT: Final = 3  # a hole of this par is played straight at the pin
FAN: Final = math.radians(12.0)  # a landmark further from the line than this is no target
ASIDE: Final = 25.0  # yd at the landing, likewise

_MOVES: Final = ((1, 0), (0, 1), (1, 1), (1, -1), (1, 2), (2, 1), (1, -2), (2, -1))

Floats = NDArray[np.float64]


def _fairway(hole: Hole, grid: AreaGrid) -> NDArray[np.bool_]:
    """Return the cells within the fairways' outlines, whatever lies across them."""
    ground = shapely.union_all([area.outline for area in hole.areas if area.surface.fairway])
    shapely.prepare(ground)
    rows, columns = grid.surface.shape
    xs = grid.x0 + (np.arange(columns) + 0.5) * grid.cell
    ys = grid.y0 + (np.arange(rows) + 0.5) * grid.cell
    return np.asarray(shapely.contains_xy(ground, *np.meshgrid(xs, ys)))


def _costs(grid: AreaGrid, fairway: NDArray[np.bool_]) -> Floats:
    """Return what a yard costs in each cell."""
    table = [1.0 if kind.smooth else TROUBLE if kind.trouble else OFF_ROAD for kind in SURFACES]
    return np.where(fairway, 1.0, np.array(table)[grid.surface])


def _ties(grid: AreaGrid, cost: Floats, place: Point) -> tuple[NDArray[np.int64], Floats]:
    """Return the cells within a cell and a half of a place, and what the way from it to each centre costs."""
    rows, columns = cost.shape
    x = grid.x0 + (np.arange(columns) + 0.5) * grid.cell - place[0]
    y = grid.y0 + (np.arange(rows) + 0.5) * grid.cell - place[1]
    far = np.hypot(x[None, :], y[:, None])
    iy, ix = np.nonzero(far <= 1.5 * grid.cell + 1e-9)
    return iy * columns + ix, np.maximum(1e-9, far[iy, ix] * cost[iy, ix])


def _distances(grid: AreaGrid, cost: Floats, sources: list[Point]) -> tuple[Floats, float]:
    """Return the cheapest ways in fairway yards, and the one between the two sources.

    The ways are float64[source, H, W], from each source to each cell.
    """
    from scipy.sparse import coo_array  # noqa: PLC0415 (late, as those of ``_middles``: most lines are kept)
    from scipy.sparse.csgraph import dijkstra  # noqa: PLC0415

    rows, columns = cost.shape
    number = np.arange(cost.size).reshape(cost.shape)
    starts, ends, weights = [], [], []
    for right, up in _MOVES:
        low = (slice(max(0, -up), rows - max(0, up)), slice(0, columns - right))
        high = (slice(max(0, up), rows + min(0, up)), slice(right, columns))
        starts.append(number[low].ravel())
        ends.append(number[high].ravel())
        weights.append((0.5 * grid.cell * math.hypot(right, up) * (cost[low] + cost[high])).ravel())
    for extra, source in enumerate(sources):
        cells, ways = _ties(grid, cost, source)
        starts.append(np.full(cells.size, cost.size + extra))
        ends.append(cells)
        weights.append(ways)
    size = cost.size + len(sources)
    edges = (np.concatenate(weights), (np.concatenate(starts), np.concatenate(ends)))
    graph = coo_array(edges, shape=(size, size)).tocsr()
    far = np.asarray(dijkstra(graph, directed=False, indices=range(cost.size, size)))
    far = far.round(6)  # the same sums in another order are the same
    return far[:, : cost.size].reshape(len(sources), rows, columns), float(far[0, -1])


def _middles(grid: AreaGrid, on_the_way: NDArray[np.bool_], to_pin: Floats, start: float) -> list[Point]:
    """Return the middle of each band of fairway, nearest the place first; ``start`` is the way left there."""
    from scipy.ndimage import label  # noqa: PLC0415

    middles = []
    for band in range(int(start // BAND) - 1, -1, -1):
        inside = on_the_way & (to_pin >= band * BAND) & (to_pin < (band + 1) * BAND)
        pieces, count = label(inside)
        if count:
            sizes = np.bincount(pieces.ravel())[1:]
            iy, ix = np.nonzero(pieces == 1 + int(np.argmax(sizes)))
            if iy.size * grid.cell**2 >= BAND * BAND / 2:
                x, y = grid.x0 + (ix.mean() + 0.5) * grid.cell, grid.y0 + (iy.mean() + 0.5) * grid.cell
                middles.append((round(float(x), 6), round(float(y), 6)))
    return middles


def _on_drawn_line(hole: Hole, place: Point, pin: Point) -> list[Point]:
    """Return the way along the line that the hole's file draws: its corners still ahead of the place."""
    line = LineString(hole.line)
    gone = line.project(shapely.Point(place)) + AHEAD
    return [place, *(corner for corner in hole.line[1:-1] if line.project(shapely.Point(corner)) > gone), pin]


def line_of_play(hole: Hole, place: Point, pin: Point | None = None) -> list[Point]:
    """Return the corners of the line of play, from ``place`` to the pin, in yards.

    Along the line that the hole's file draws, if it does. Else through the middle of the fairway where there
    is one on the way; straight to the pin where there is none, and on a par 3.

    Parameters
    ----------
    hole : the hole
    place : (x, y) in yards
    pin : (x, y) in yards; None for the default pin
    """
    pin = hole.pin() if pin is None else pin
    if hole.line:
        return _on_drawn_line(hole, place, pin)
    if hole.par <= ONE_SHOT or not any(area.surface.fairway for area in hole.areas):
        return [place, pin]
    key = digest("line", *ground_of(hole), hole.par, place, pin)
    found = kept_arrays(
        key, lambda: {"line": _found_line(hole, place, pin)}, lambda held: held["line"].shape[1:] == (2,)
    )
    return [(float(x), float(y)) for x, y in found["line"]]


def length_from(hole: Hole, place: Point) -> float:
    """Return the length of the line of play from a place to the pin, yards."""
    return float(LineString(line_of_play(hole, place)).length)


def _found_line(hole: Hole, place: Point, pin: Point) -> Floats:
    """Return the corners of the line through the middle of the fairway, float64[n, 2]."""
    grid = area_grid(hole, CELL)
    fairway = _fairway(hole, grid)
    (from_place, to_pin), total = _distances(grid, _costs(grid, fairway), [place, pin])
    on_the_way = fairway & (from_place + to_pin <= total + DETOUR)
    line = LineString([place, *_middles(grid, on_the_way, to_pin, total), pin])
    return np.asarray(shapely.get_coordinates(line.simplify(STRAIGHT)), np.float64)


def point_along(line: Sequence[Point], distance: float) -> Point:
    """Return the first point of ``line`` that is ``distance`` yards straight from its start; else its end.

    >>> point_along([(0, 0), (0, 100), (50, 100)], 60)
    (0.0, 60.0)
    """
    x0, y0 = line[0]
    for (ax, ay), (bx, by) in pairwise(line):
        dx, dy = bx - ax, by - ay
        # |(a − start) + t (b − a)|² = distance²; the larger root is where the leg gets that far
        square, half = dx * dx + dy * dy, dx * (ax - x0) + dy * (ay - y0)
        inner = half * half - square * ((ax - x0) ** 2 + (ay - y0) ** 2 - distance * distance)
        if square > 0.0 and inner >= 0.0:
            share = (math.sqrt(inner) - half) / square
            if 0.0 <= share <= 1.0:
                return ax + share * dx, ay + share * dy
    return line[-1]


def nearest_landmark(hole: Hole, place: Point, bearing: float, far: float) -> tuple[Landmark, float] | None:
    """Return the landmark that best marks a line, and how far to its right the line passes at the landing, yards.

    Parameters
    ----------
    hole : the hole
    place : (x, y) in yards
    bearing : radians, clockwise from +y
    far : yards to the landing; landmarks beyond it are preferred to nearer ones

    Returns
    -------
    (landmark, yards), or None where none lies within 12° of the line and 25 yd at the landing
    """
    found = []
    for mark in hole.landmarks:
        turn = math.remainder(bearing - angle_between(place, mark.at), 2.0 * math.pi)
        aside, away = far * math.sin(turn), math.dist(place, mark.at)
        if away > 0.0 and abs(turn) <= FAN and abs(aside) <= ASIDE:
            found.append((away < far, abs(turn), mark.name, mark, aside))
    if not found:
        return None
    best = min(found, key=lambda row: row[:3])
    return best[3], best[4]


def aim_in_degrees(aim: float) -> str:
    """Say an aim relative to the line to the pin.

    >>> aim_in_degrees(-3.0), aim_in_degrees(0.2)
    ('3° left', 'at the pin')
    """
    whole = round(aim)
    return "at the pin" if whole == 0 else f"{abs(whole)}° {'right' if whole > 0 else 'left'}"
