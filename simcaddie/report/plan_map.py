"""Best play over the whole hole, as a map: which club where, and contours of the strokes to go.

The club is shown for the lie that a ball has at each place, the contours on open ground. The solver's cells are 2 yards
wide and neighbouring ones often choose between clubs that are level; the map shows the club that most cells around a
place choose from that lie, and contours of values averaged around each place.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import shapely
from matplotlib.axes import Axes
from matplotlib.colors import to_hex, to_rgb
from matplotlib.patches import PathPatch
from numpy.typing import NDArray
from scipy.ndimage import distance_transform_edt, gaussian_filter, label, zoom

from simcaddie.report.club_classes import ClubClass, club_classes
from simcaddie.report.labels import Label, LabelPlacer
from simcaddie.report.style import INK
from simcaddie.report.terrain import view_box, yards_per_point
from simcaddie.strategy.plan import Plan
from simcaddie.surfaces import BY_NAME, SURFACES

__all__ = ["FAIRWAY_EDGE", "ClubMap", "club_map", "draw_club_map", "draw_contours", "strip_fills"]

SMOOTH: Final = 1.6  # cells: how far around a place the cells are asked
ROUND: Final = 2.5  # cells: how far values are averaged for the contours
LEAST_REGION: Final = 250.0  # yd²: a smaller patch is not named
MOST_NAMES: Final = 3  # of one group on one map
FAIRWAY_EDGE: Final = (0, (5.0, 1.6))
NAME: Final = 6.4  # points
SHORT: Final = 40.0  # yd: a shorter contour has no number
STEP: Final = 0.25  # strokes between contours

_OPEN: Final = np.array([not (kind.hazard or kind.putting or kind.name == "trees") for kind in SURFACES])
_LETTER: Final = 0.68  # width of a bold letter against the size of the type, about

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ClubMap:
    """``which`` int8[rows, columns] numbers ``classes`` (−1: water, green, out) on cells of ``cell`` yards.

    ``to_go`` float64[rows', columns'] is the field of mean strokes to go on the solver's cells, nan in hazards and
    trees.
    ``x0``, ``y0``: the lower left corner of both.
    """

    classes: tuple[ClubClass, ...]
    which: NDArray[np.int8]
    to_go: Floats
    x0: float
    y0: float
    cell: float
    coarse: float


def _lie_at_cells(plan: Plan) -> NDArray[np.int8]:
    """Return the lie at the middle of each of the solver's cells."""
    states, surface = plan.solution.table.states, plan.grid.surface
    block = round(states.cell / plan.grid.cell)
    rows, columns = states.of_cell.shape[1:]
    iy = np.minimum(np.arange(rows) * block + block // 2, surface.shape[0] - 1)
    ix = np.minimum(np.arange(columns) * block + block // 2, surface.shape[1] - 1)
    return surface[np.ix_(iy, ix)]


def _shares(numbers: NDArray[np.int64], count: int) -> Floats:
    """Return float64[count, rows, columns]: how much of the neighbourhood of each cell has each number; −1 has none."""
    layers = [gaussian_filter((numbers == i).astype(float), SMOOTH, mode="constant") for i in range(count)]
    return np.array(layers)


def club_map(plan: Plan, view: Any) -> ClubMap:
    """Return the best club by place, for the lie that occurs there; groups by what is in ``view`` (a polygon, yd)."""
    solution, surface = plan.solution, plan.grid.surface
    states = solution.table.states
    middle = _lie_at_cells(plan)
    there = np.take_along_axis(states.of_cell, middle[None].astype(np.int64), axis=0)[0]
    actions = len(plan.player.swings) + solution.table.touch.reach.size
    seen = there[there >= 0]
    seen = seen[shapely.contains_xy(view, states.xy[seen])]
    counts = np.bincount(solution.policy.swing[seen], minlength=actions)
    classes = club_classes(plan.player, counts)
    class_of = np.zeros(actions, np.int64)
    for number, each in enumerate(classes):
        class_of[list(each.swings)] = number
    block = round(states.cell / plan.grid.cell)
    which = np.full(surface.shape, -1, np.int8)
    for lie in np.unique(states.lie):
        of_cell = states.of_cell[lie]
        numbers = np.where(of_cell >= 0, class_of[solution.policy.swing[of_cell]], -1)
        shares = zoom(_shares(numbers, len(classes)), (1, block, block), order=1, grid_mode=True, mode="nearest")
        shares = shares[:, : surface.shape[0], : surface.shape[1]]
        here = (surface == lie) & (shares.sum(axis=0) > 0.0)
        which[here] = np.argmax(shares, axis=0)[here]
    to_go = np.where((there >= 0) & _OPEN[middle], solution.to_go[there], np.nan)
    return ClubMap(tuple(classes), which, to_go, states.x0, states.y0, plan.grid.cell, states.cell)


def strip_fills(ax: Axes) -> None:
    """Take the fill off ground that a ball is played from, so that only its edge and texture stay over the clubs.

    The fairway's edge is drawn stronger, since no colour tells it any more.
    """
    playable = {kind.drawing.fill for kind in SURFACES if not (kind.penalty or kind.out or kind.putting)}
    for patch in ax.patches:
        if not isinstance(patch, PathPatch) or patch.get_zorder() >= 3.0:
            continue
        if to_hex(patch.get_facecolor()) in playable:
            patch.set_facecolor("none")
        if to_hex(patch.get_edgecolor()) == BY_NAME["fairway"].drawing.edge:
            patch.set_edgecolor(BY_NAME["green"].drawing.edge)
            patch.set_linewidth(0.9)
            patch.set_linestyle(FAIRWAY_EDGE)


def draw_club_map(ax: Axes, clubs: ClubMap, labels: LabelPlacer | None = None) -> None:
    """Colour the ground by the best club, and name the larger patches."""
    colours = np.array([to_rgb(each.colour) for each in clubs.classes])
    rows, columns = clubs.which.shape
    near = distance_transform_edt(clubs.which < 0, return_distances=False, return_indices=True)
    which = clubs.which[tuple(near)]  # water, green and out of bounds lie over it
    right, high = clubs.x0 + columns * clubs.cell, clubs.y0 + rows * clubs.cell
    limits = ax.get_xlim(), ax.get_ylim()
    ax.imshow(
        colours[which],
        extent=(clubs.x0, right, clubs.y0, high),
        origin="lower",
        interpolation="nearest",
        aspect="auto",
        zorder=0.5,
    )
    ax.set_xlim(*limits[0])
    ax.set_ylim(*limits[1])
    if labels is not None:
        for name in _names(ax, clubs):
            labels.add(name)


def _names(ax: Axes, clubs: ClubMap) -> list[Label]:
    """Return a label for the largest patches of each group, to stand inside them."""
    view, names = view_box(ax).buffer(-8.0 * yards_per_point(ax)), []
    step = 4  # cells; patches are measured on every fourth
    for number, each in enumerate(clubs.classes):
        pieces, count = label(clubs.which[::step, ::step] == number)
        sizes = np.bincount(pieces.ravel(), minlength=count + 1)[1:] * (step * clubs.cell) ** 2
        for piece in np.argsort(-sizes, kind="stable")[:MOST_NAMES]:
            if sizes[piece] < LEAST_REGION:
                break
            depth = distance_transform_edt(np.pad(pieces == piece + 1, 1))[1:-1, 1:-1]
            iy, ix = np.unravel_index(int(np.argmax(depth)), depth.shape)
            x, y = (clubs.x0 + ix * step * clubs.cell, clubs.y0 + iy * step * clubs.cell)
            reach = float(depth[iy, ix]) * step * clubs.cell
            room = shapely.Point(x, y).buffer(reach).intersection(view)
            if not room.is_empty and 2.0 * reach > len(each.short) * _LETTER * NAME * yards_per_point(ax):
                style = (("weight", "bold"),)
                names.append(Label(each.short, room, priority=5, inside=True, reach=0.0, size=NAME, style=style))
    return names


def _smooth(field: Floats) -> Floats:
    """Return a field averaged around each cell, over the cells that have a value."""
    there = np.isfinite(field)
    weight = gaussian_filter(there.astype(float), ROUND)
    total = gaussian_filter(np.where(there, field, 0.0), ROUND)
    return np.where(weight > 0.4, total / np.maximum(weight, 1e-9), np.nan)


def draw_contours(ax: Axes, clubs: ClubMap, labels: LabelPlacer | None = None) -> None:
    """Draw lines of equal strokes to go, every quarter of a stroke, the halves stronger and labelled."""
    field = _smooth(clubs.to_go)
    rows, columns = field.shape
    x = clubs.x0 + (np.arange(columns) + 0.5) * clubs.coarse
    y = clubs.y0 + (np.arange(rows) + 0.5) * clubs.coarse
    low, high = np.floor(np.nanmin(field) / STEP), np.ceil(np.nanmax(field) / STEP)
    levels = np.arange(low, high + 1) * STEP
    halves = np.isclose(levels % 0.5, 0.0)
    lines = ax.contour(x, y, field, levels, colors=INK, linewidths=np.where(halves, 0.75, 0.35), alpha=0.8, zorder=2.6)
    if labels is None:
        return
    for level, path in zip(lines.levels, lines.get_paths(), strict=True):
        if np.isclose(level % 0.5, 0.0):
            for piece in _long_pieces(path, view_box(ax)):
                labels.add(Label(f"{level:.1f}", piece, priority=6, reach=3.0, size=5.6, style=(("style", "italic"),)))


def _long_pieces(path: Any, view: Any) -> list[Any]:
    """Return the two longest pieces of a contour in view, as lines."""
    lines = [shapely.LineString(line) for line in path.to_polygons(closed_only=False) if len(line) > 1]
    seen = [part for line in lines for part in shapely.get_parts(line.intersection(view))]
    return sorted((part for part in seen if part.length > SHORT), key=lambda part: -part.length)[:2]
