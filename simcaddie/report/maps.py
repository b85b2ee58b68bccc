"""The map of a hole, tee at the bottom.

A map is drawn in two steps: ``draw_hole`` (and ``draw_pattern``) draw the marks and collect labels in
one ``LabelPlacer``; its ``place`` then puts all labels where they fit.
"""

from __future__ import annotations

import math
from typing import Any, Final

import shapely
from matplotlib.axes import Axes
from shapely import LineString

from simcaddie.ground.hole import Hole, Point
from simcaddie.ground.targets import line_of_play
from simcaddie.report.furniture import (
    draw_heights,
    draw_landmarks,
    draw_pins,
    draw_spots,
    draw_tees,
    length_of,
)
from simcaddie.report.labels import LabelPlacer
from simcaddie.report.measures import draw_arcs, draw_north, draw_scale_bar, name_areas
from simcaddie.report.terrain import paint_hole

__all__ = ["draw_hole", "fit_view", "in_view", "view_from"]

# points that it costs a label to lie on ground of each kind
_HIDING: Final = {
    "green": 60.0,
    "bunker": 60.0,
    "water": 40.0,
    "heather": 40.0,
    "gorse": 40.0,
    "fairway": 30.0,
    "path": 10.0,
    "out_of_bounds": 10.0,
    "trees": 8.0,
    "tee": 6.0,
    "light_rough": 4.0,
}
_BEYOND: Final = 60.0  # yd: a landmark no farther beyond the hole is shown at its place


def in_view(hole: Hole) -> tuple[float, float, float, float]:
    """Return (left, low, right, high) in yards of what a map of the hole should show."""
    points = [*hole.tees.values(), *hole.pins.values(), *(spot.at for spot in hole.spots.values())]
    shapes = [area.outline for area in hole.areas if not (hole.boundary and not hole.boundary.contains(area.outline))]
    box = shapely.box(*shapely.total_bounds([*shapes, *shapely.points(points)]))
    near = [landmark.at for landmark in hole.landmarks if box.distance(shapely.Point(landmark.at)) <= _BEYOND]
    left, low, right, high = shapely.total_bounds([box, *shapely.points(near)] if near else [box])
    return float(left), float(low), float(right), float(high)


def view_from(hole: Hole, place: Point) -> tuple[float, float, float, float]:
    """Return (left, low, right, high) in yards to show for a stroke from ``place``.

    The whole hole, but only the way to the green for the strokes that come late on it.
    """
    away = math.dist(place, hole.pin())
    if away > 0.6 * max(math.dist(tee, hole.pin()) for tee in hole.tees.values()):
        return in_view(hole)
    margin = max(12.0, 0.15 * away)
    around = shapely.union_all([shapely.Point(place), hole.green]).buffer(margin)
    left, low, right, high = around.bounds
    return float(left), float(low), float(right), float(high)


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
        if name in _HIDING:
            labels.keep_clear(shape, _HIDING[name])
    labels.keep_clear(LineString(line).buffer(8.0), 16.0)
    if hole.boundary is not None:
        labels.keep_off_line(hole.boundary.exterior, 25.0)
