"""Shot patterns on a map: where solid strikes land, as the ellipses that hold half and nine in ten of them."""

from __future__ import annotations

import math
from typing import Any, Final

import numpy as np
import shapely
from matplotlib.axes import Axes
from matplotlib.colors import to_rgba
from matplotlib.patches import Polygon as PolygonPatch
from numpy.typing import NDArray

from simcaddie.golfer.pattern import Pattern, Strike
from simcaddie.ground.hole import Point
from simcaddie.report.labels import Label, LabelPlacer
from simcaddie.report.style import INK, OPTION_COLOURS, OPTION_LINES
from simcaddie.units import unit_vector

__all__ = ["SHARES", "draw_line", "draw_pattern", "ellipse"]

SHARES: Final = (0.5, 0.9)  # of solid strikes that land inside each ellipse


def ellipse(place: Point, bearing: float, strike: Strike, share: float, points: int = 120) -> NDArray[np.float64]:
    """Return float64[points, 2]: the outline (yards) inside which ``share`` of one kind of strike lands.

    For a bivariate normal the squared Mahalanobis distance is χ² with two degrees of freedom, so that
    the radius in standard deviations is √(−2 ln(1 − share)).

    Parameters
    ----------
    place : (x, y) in yards
    bearing : of the aim line, radians clockwise from +y
    strike : carry and side, yards
    share : 0 … 1
    points : of the outline
    """
    radius = math.sqrt(-2.0 * math.log1p(-share))
    turn = np.linspace(0.0, 2 * math.pi, points, endpoint=False)
    along, other = np.cos(turn) * radius, np.sin(turn) * radius
    r = strike.correlation
    carry = strike.carry + strike.carry_sd * along
    side = strike.side + strike.side_sd * (r * along + math.sqrt(1.0 - r * r) * other)
    return _turned(place, bearing, carry, side)


def _look(order: int) -> tuple[str, Any]:
    """Return the colour and line style of the option of that order."""
    return OPTION_COLOURS[order % len(OPTION_COLOURS)], OPTION_LINES[order % len(OPTION_LINES)]


def _name(title: str, target: Any, colour: str) -> Label:
    return Label(title, target, priority=3, size=7, colour=colour, style=(("weight", "bold"),))


def _turned(place: Point, bearing: float, carry: Any, side: Any) -> NDArray[np.float64]:
    """Return float64[..., 2]: places at ``carry`` along an aim line and ``side`` to its right."""
    dx, dy = unit_vector(bearing)
    return np.stack([place[0] + carry * dx + side * dy, place[1] + carry * dy - side * dx], axis=-1)


def draw_line(
    ax: Axes,
    place: Point,
    bearing: float,
    distance: float,
    *,
    title: str = "",
    labels: LabelPlacer | None = None,
    order: int = 0,
) -> None:
    """Draw an aim line of ``distance`` yards; parameters as in ``draw_pattern``."""
    colour, dashes = _look(order)
    ends = _turned(place, bearing, np.array([0.0, distance]), np.array([0.0, 0.0]))
    ax.plot(ends[:, 0], ends[:, 1], color=colour, linewidth=0.8, linestyle=dashes, zorder=5.0 + 0.05 * order)
    ax.plot([place[0]], [place[1]], marker="o", markersize=3.2, color=INK, zorder=6.4)
    if labels is not None and title:
        labels.add(_name(title, shapely.LineString(ends), colour))


def draw_pattern(
    ax: Axes,
    place: Point,
    bearing: float,
    pattern: Pattern,
    *,
    title: str = "",
    labels: LabelPlacer | None = None,
    order: int = 0,
    aim: bool = True,
) -> None:
    """Draw where solid strikes land: ellipses of 50 % and 90 %, the average landing, and its run.

    Parameters
    ----------
    ax : Axes of a map
    place : (x, y) in yards that the stroke is played from
    bearing : of the aim line, radians clockwise from +y
    pattern : of the swing from there
    title : a label beside the ellipse, if ``labels`` are given
    labels : the map's placer
    order : 0, 1, 2 … picks colour and line style
    aim : draw the aim line
    """
    colour, dashes = _look(order)
    solid = pattern.solid
    zorder = 5.0 + 0.05 * order
    half, most = (ellipse(place, bearing, solid, share) for share in SHARES)
    ax.add_patch(PolygonPatch(half, facecolor=to_rgba(colour, 0.22), edgecolor=colour, linewidth=0.7, zorder=zorder))
    ax.add_patch(PolygonPatch(most, facecolor="none", edgecolor=colour, linewidth=1.1, linestyle=dashes, zorder=zorder))
    if aim:
        draw_line(ax, place, bearing, solid.carry, order=order)
    run = _turned(place, bearing, np.array([solid.carry, solid.carry + solid.run]), np.array([solid.side, solid.side]))
    ax.plot(run[:, 0], run[:, 1], color=colour, linewidth=0.8, zorder=zorder + 0.02)
    ax.plot(*run[0], marker="o", markersize=2.6, color=colour, zorder=zorder + 0.03)
    ax.plot(*run[1], marker="_", markersize=4.5, color=colour, markeredgewidth=0.9, zorder=zorder + 0.03)
    if labels is not None:
        labels.block(shapely.Point(run[0]), 2.0)
        labels.keep_clear(shapely.Polygon(half), 40.0)
        labels.keep_clear(shapely.Polygon(most), 14.0)
        labels.keep_off_line(shapely.Polygon(most).exterior, 15.0)
        if title:
            labels.add(_name(title, shapely.Polygon(most), colour))
