"""The ground as a chart shows it: a muted fill per kind, and a texture that survives grey print.

The texture is told by the ``hatch`` of the surface table: its first sign says what is drawn (see ``_FORMS`` and
``_LINES``), its length how densely. Lengths in yards; sizes on paper in points; ``scale`` is yards per point.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, Final

import numpy as np
import shapely
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.patches import PathPatch
from matplotlib.path import Path
from numpy.typing import NDArray
from shapely import Polygon

from simcaddie.base.surfaces import OUT, SURFACES, Surface, code
from simcaddie.charts.style import INK, MARKINGS
from simcaddie.course.hole import Hole

__all__ = ["paint_hole", "paint_kind", "points_in", "shape_path", "view_box", "yards_per_point"]

_STROKES: Final = [Path.MOVETO, Path.LINETO] * 3
_TUFT: Final = Path([(0, -0.8), (-0.95, 0.35), (0, -0.8), (0, 0.8), (0, -0.8), (0.95, 0.35)], _STROKES)
_BUSH: Final = Path([(-0.9, -0.6), (0.9, 0.6), (-0.9, 0.6), (0.9, -0.6), (0, -0.95), (0, 0.95)], _STROKES)
# Textures at density 1; a hatch of n signs packs n times as many in.
# Signs: spacing and size in points, the marker, how much of its size keeps it off the edge, what the ink of its fill
# is thinned to (None: no fill), whether it has an edge
_FORMS: Final[dict[str, tuple[float, float, Any, float, str | None, bool]]] = {
    "o": (8.0, 5.0, "o", 0.2, "66", True),  # tree crowns
    "+": (8.0, 3.4, _TUFT, 0.45, None, True),  # tufts of three blades
    "x": (7.0, 3.2, _BUSH, 0.45, None, True),  # low prickly bushes
    ".": (4.0, 0.85, "o", 0.3, "", False),  # stipple
}
# Broken ripples and slanting lines: points between two, slope, length of a stroke in points (0: unbroken), width
_LINES: Final = {"-": (3.4, 0.0, 7.0, 0.45), "/": (5.5, 1.0, 0.0, 0.3)}


def yards_per_point(ax: Axes) -> float:
    """Return how many yards one point (1/72 in) of paper covers; the Axes' limits must be final."""
    figure = ax.get_figure(root=True)
    dpi = figure.dpi if figure is not None else 72.0
    (x0, _), (x1, _) = ax.transData.transform([(0.0, 0.0), (1.0, 0.0)])
    return float(dpi / 72.0 / (x1 - x0))


def view_box(ax: Axes) -> Polygon:
    """Return what the Axes show as a rectangle in yards."""
    (left, right), (low, high) = ax.get_xlim(), ax.get_ylim()
    return shapely.box(left, low, right, high)


def shape_path(shape: Any) -> Path:
    """Return a polygon or several, holes included, as one matplotlib path."""
    rings = [ring for part in shapely.get_parts(shape) for ring in (part.exterior, *part.interiors)]
    return Path.make_compound_path(*(Path(shapely.get_coordinates(ring), closed=True) for ring in rings))


def points_in(shape: Any, spacing: float) -> NDArray[np.float64]:
    """Return float64[n, 2]: staggered points, a little shaken, inside a shape; the same ones every time."""
    if shape.is_empty:
        return np.empty((0, 2))
    left, low, right, high = shape.bounds
    tall = spacing * 0.87
    rows = np.arange(math.floor(low / tall), math.ceil(high / tall) + 1)
    columns = np.arange(math.floor(left / spacing), math.ceil(right / spacing) + 1)
    gx, gy = np.meshgrid(columns, rows)
    # additive recurrence
    shake = np.stack([(gx * 0.7549 + gy * 0.5698) % 1.0, (gx * 0.3247 + gy * 0.8191) % 1.0]) - 0.5
    x = (gx + 0.5 * (gy % 2) + 0.45 * shake[0]) * spacing
    y = (gy + 0.45 * shake[1]) * tall
    inside = shapely.contains_xy(shape, x, y)
    return np.column_stack([x[inside], y[inside]])


def _parallel_lines(shape: Any, spacing: float, slope: float, stroke: float | None) -> list[NDArray[np.float64]]:
    """Return lines across a shape ``spacing`` apart, in strokes of a length where one is given."""
    if shape.is_empty:
        return []
    left, low, right, high = shape.bounds
    rise = slope * (right - left)
    first, last = math.floor((low - max(rise, 0)) / spacing), math.ceil((high - min(rise, 0)) / spacing)
    lines = []
    for row in range(first, last + 1):
        y = row * spacing
        if stroke is None:
            lines.append([(left, y), (right, y + rise)])
            continue
        start = left - stroke * 2 * ((row * 0.6180) % 1.0)
        lines += [[(x, y), (x + stroke, y)] for x in np.arange(start, right, stroke * 1.75)]
    kept = shapely.intersection(shapely.linestrings(lines), shape) if lines else []
    parts = shapely.get_parts(shapely.GeometryCollection(list(kept)))
    flat = [line for part in parts for line in shapely.get_parts(part)]
    return [shapely.get_coordinates(line) for line in flat if line.length > spacing * 0.25]


def _texture(ax: Axes, shape: Any, surface: Surface, scale: float, zorder: float) -> None:
    """Draw the texture of a kind inside ``shape``."""
    sign, density, ink = surface.drawing.hatch[0], len(surface.drawing.hatch), surface.drawing.edge
    if sign in _LINES:
        apart, slope, stroke, width = _LINES[sign]
        lines = _parallel_lines(shape, apart * scale / density, slope, stroke * scale if stroke else None)
        ax.add_collection(LineCollection(lines, colors=ink, linewidths=width, zorder=zorder), autolim=False)
        return
    spacing, size, marker, inside, fill, edge = _FORMS[sign]
    points = points_in(shape.buffer(-size * scale * inside), spacing * (1.0 / math.sqrt(density)) * scale)
    sizes = size**2 * (0.8 + 0.4 * ((np.arange(len(points)) * 0.618) % 1.0))
    face, line = "none" if fill is None else ink + fill, ink if edge else "none"
    x, y = points.T
    ax.scatter(x, y, s=sizes, marker=marker, facecolor=face, edgecolor=line, linewidth=0.5, zorder=zorder)


def paint_kind(ax: Axes, shape: Any, surface: Surface, scale: float, *, seen: Any = None, edge: bool = True) -> None:
    """Paint one shape as one kind of ground; the texture goes on the part of it that is ``seen``.

    What the Axes show stays as it is: looking for the limits of every outline took a third of a page's time.
    """
    zorder = 1.0 + 0.1 * code(surface.name)
    path = shape_path(shape)
    ax.add_artist(PathPatch(path, facecolor=surface.drawing.fill, edgecolor="none", zorder=zorder))
    if surface.drawing.hatch:
        _texture(ax, shape if seen is None else seen, surface, scale, zorder + 0.02)
    if edge:
        width = 0.9 if surface.putting else 0.3 if surface.drawing.hatch == "o" else 0.55
        style = (0, (4, 2)) if surface.drawing.dashed else "-"
        line = {"edgecolor": surface.drawing.edge, "linewidth": width, "linestyle": style}
        ax.add_artist(PathPatch(path, facecolor="none", zorder=zorder + 0.04, **line))


def _by_kind(hole: Hole, view: Polygon) -> dict[str, Any]:
    """Return the union of each kind's areas, cut to the view, the surround and out of bounds included."""
    shapes: dict[str, list[Any]] = {hole.surround: [view]}
    for area in hole.areas:
        shapes.setdefault(area.kind, []).append(area.outline)
    if hole.boundary is not None:
        shapes.setdefault(OUT, []).append(view.difference(hole.boundary))
    frame = view.buffer(8.0)
    merged = {name: shapely.intersection(shapely.union_all(parts), frame) for name, parts in shapes.items()}
    return {name: shape for name, shape in merged.items() if shape.area > 0.0}


def paint_hole(ax: Axes, hole: Hole) -> dict[str, Any]:
    """Paint all the ground that the Axes show; return the seen part of each kind (yards), lowest first."""
    scale, view = yards_per_point(ax), view_box(ax)
    kinds = _by_kind(hole, view)
    seen: dict[str, Any] = {}
    above: list[Any] = []
    for surface in reversed(SURFACES):
        if surface.name in kinds:
            seen[surface.name] = kinds[surface.name].difference(shapely.union_all(above))
            above.append(kinds[surface.name])
    for surface in SURFACES:
        if surface.name in kinds:
            edged = surface.name != hole.surround and not surface.out
            paint_kind(ax, kinds[surface.name], surface, scale, seen=seen[surface.name], edge=edged)
    _penalty_lines(ax, hole)
    if hole.boundary is not None:
        _outline(ax, [hole.boundary.exterior], 3.1, colors=INK, linewidths=0.8, linestyles=[(0, (7, 2, 1.2, 2))])
    return {name: seen[name] for name in reversed(seen)}


def _outline(ax: Axes, rings: Sequence[Any], zorder: float, **style: Any) -> None:
    lines = [shapely.get_coordinates(ring) for ring in rings]
    ax.add_collection(LineCollection(lines, zorder=zorder, **style), autolim=False)


def _penalty_lines(ax: Axes, hole: Hole) -> None:
    """Edge penalty areas as they are marked: red as a solid line, yellow as dashes."""
    for area in hole.areas:
        if area.surface.penalty and area.marking in MARKINGS:
            dashes = "-" if area.marking == "red" else (0, (4.5, 2.2))
            edge = area.outline.exterior if hole.boundary is None else area.outline.exterior.intersection(hole.boundary)
            edge = shapely.line_merge(edge) if shapely.get_num_geometries(edge) > 1 else edge
            parts = list(shapely.get_parts(edge))
            _outline(ax, parts, 3.0, colors=MARKINGS[area.marking], linewidths=1.3, linestyles=[dashes])
