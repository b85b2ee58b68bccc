"""The map of a hole, tee at the bottom, and shot patterns on it: where solid strikes land, as ellipses.

A map is drawn in two steps: ``draw_hole`` and ``draw_pattern`` draw the marks and collect labels in one
``LabelPlacer``; its ``place`` then puts all labels where they fit.
"""

from __future__ import annotations

import math
from typing import Any, Final

import numpy as np
import shapely
from matplotlib.axes import Axes
from matplotlib.colors import to_rgba
from matplotlib.patches import Polygon as PolygonPatch
from numpy.typing import NDArray
from shapely import LineString

from simcaddie.base.surfaces import BY_NAME
from simcaddie.base.units import unit_vector
from simcaddie.charts.ground_fill import paint_hole
from simcaddie.charts.labels import Label, LabelPlacer
from simcaddie.charts.marks import (
    draw_arcs,
    draw_heights,
    draw_landmarks,
    draw_north,
    draw_pins,
    draw_scale_bar,
    draw_spots,
    draw_tees,
    length_of,
    name_areas,
)
from simcaddie.charts.style import INK, OPTION_COLOURS, OPTION_LINES
from simcaddie.charts.views import in_view, view_from
from simcaddie.course.hole import Hole, Point
from simcaddie.course.route import line_of_play
from simcaddie.player.pattern import Pattern, Strike

__all__ = ["draw_hole", "draw_line", "draw_pattern", "ellipse", "fit_view", "in_view", "view_from"]


def fit_view(ax: Axes, bounds: tuple[float, float, float, float], margin: float = 14.0, foot: float = 0.0) -> None:
    """Set limits that show ``bounds`` (yards), one scale both ways, filling the Axes' box.

    ``margin`` points stay free around, ``foot`` points more below.
    """
    figure = ax.get_figure(root=True)
    dpi = figure.dpi if figure is not None else 72.0
    wide, tall = ax.bbox.width / dpi * 72.0 - 2 * margin, ax.bbox.height / dpi * 72.0 - 2 * margin - foot
    left, low, right, high = bounds
    scale = max((right - left) / wide, (high - low) / tall)
    cx, cy = (left + right) / 2, (low + high) / 2
    half_w, half_h = (wide / 2 + margin) * scale, ((tall + foot) / 2 + margin) * scale
    cy -= foot * scale / 2
    ax.set_xlim(cx - half_w, cx + half_w)
    ax.set_ylim(cy - half_h, cy + half_h)
    ax.set_aspect("auto")
    ax.set_xticks([])
    ax.set_yticks([])


def draw_hole(
    ax: Axes,
    hole: Hole,
    *,
    place: Point | None = None,
    bounds: tuple[float, float, float, float] | None = None,
    labels: LabelPlacer | None = None,
    names: bool = True,
    arcs: bool = True,
    scale: bool = True,
    each_pin: bool = False,
    detail: bool = True,
) -> LabelPlacer:
    """Draw a hole on Axes whose size is final; return the placer in which the labels wait for ``place()``.

    Parameters
    ----------
    ax : Axes
    hole : the hole
    place : (x, y) in yards that distances are counted from; None for the first tee
    bounds : (left, low, right, high) in yards to show; None for the whole hole
    labels : a placer to add to; None for a new one
    names : name hazards, landmarks, spots and heights
    arcs : arcs of distance from the place
    scale : scale bar and north arrow
    detail : spots, heights and what is left to the pin as well
    each_pin : a label at each pin (an enlarged green) and not one for all
    """
    place = hole.place().at if place is None else place
    fit_view(ax, in_view(hole) if bounds is None else bounds, foot=18.0 if scale else 0.0)
    labels = LabelPlacer(ax) if labels is None else labels
    seen = paint_hole(ax, hole)
    line = line_of_play(hole, place)
    _keep_visible(labels, hole, seen, line)
    draw_tees(ax, hole, labels, {name: length_of(line_of_play(hole, at)) for name, at in hole.tees.items()})
    draw_pins(ax, hole, labels, place, each=each_pin)
    if scale:
        draw_scale_bar(ax, hole, labels)
        draw_north(ax, hole, labels)
    if arcs:
        draw_arcs(ax, hole, line, labels, to_go=detail)
    if names:
        name_areas(hole, line, labels)
        draw_landmarks(ax, hole, labels, place)
    if names and detail:
        draw_spots(ax, hole, labels)
        draw_heights(ax, hole, labels)
    return labels


def _keep_visible(labels: LabelPlacer, hole: Hole, seen: dict[str, Any], line: list[Point]) -> None:
    """Tell the placer what a label should not hide: play, and small hazards most."""
    for name, shape in seen.items():
        if hides := BY_NAME[name].drawing.hides:
            labels.keep_clear(shape, hides)
    labels.keep_clear(LineString(line).buffer(8.0), 16.0)
    if hole.boundary is not None:
        labels.keep_off_line(hole.boundary.exterior, 25.0)


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
