"""The two drawings of a hole on a sheet: the hole with the advised line, and the green at a scale that the Rules allow.

Clarification 4.3a/1: an image of a green is at most 3/8 inch to 5 yards, 1:480.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

import shapely
from matplotlib.axes import Axes
from matplotlib.patheffects import Normal, withStroke

from simcaddie.ground.hole import Point
from simcaddie.ground.targets import nearest_landmark
from simcaddie.report.furniture import draw_landmarks, shown
from simcaddie.report.labels import Label, LabelPlacer
from simcaddie.report.maps import fit_view, in_view
from simcaddie.report.patterns import draw_pattern
from simcaddie.report.style import INK, PAPER
from simcaddie.report.terrain import paint_hole, view_box
from simcaddie.strategy.sheet import SheetHole
from simcaddie.strategy.sheet_facts import pattern_of

__all__ = ["LARGEST_SCALE", "draw_green", "draw_line_map", "green_scale", "points_per_yard"]

LARGEST_SCALE: Final = 480  # 1:480
SCALES: Final = (480, 600, 750, 1000, 1250, 1500, 2000, 2500)
AROUND: Final = 7.0  # yd of surroundings shown about the green
ARC: Final = 13.0  # yd to either side of the line, of a number's arc


def points_per_yard(scale: float) -> float:
    """Return how many points of paper a yard takes at 1:``scale``.

    >>> points_per_yard(480)
    5.4
    """
    return 36.0 * 72.0 / scale


def green_scale(hole: SheetHole, wide: float, tall: float) -> int:
    """Return the scale, 1:n, at which the green and what is about it fit into ``wide`` × ``tall`` points."""
    left, low, right, high = hole.hole.green.bounds
    across, deep = right - left + 2 * AROUND, high - low + 2 * AROUND
    fits = [n for n in SCALES if across * points_per_yard(n) <= wide and deep * points_per_yard(n) <= tall]
    return fits[0] if fits else SCALES[-1]


def draw_green(ax: Axes, hole: SheetHole) -> int:
    """Draw the green with its pins, as large as the Axes and the Rules allow; return the scale, 1:n."""
    figure = ax.get_figure(root=True)
    dpi = figure.dpi if figure is not None else 72.0
    wide, tall = ax.bbox.width / dpi * 72.0, ax.bbox.height / dpi * 72.0
    scale = green_scale(hole, wide, tall)
    left, low, right, high = hole.hole.green.bounds
    cx, cy, per = (left + right) / 2, (low + high) / 2, points_per_yard(scale)
    ax.set_xlim(cx - wide / per / 2, cx + wide / per / 2)
    ax.set_ylim(cy - tall / per / 2, cy + tall / per / 2)
    ax.set_xticks([])
    ax.set_yticks([])
    paint_hole(ax, hole.hole)
    for at in hole.hole.pins.values():
        ax.plot(*at, marker="o", markersize=4.0, color=INK, markerfacecolor=PAPER, markeredgewidth=1.0, zorder=7.0)
    _approach_arrow(ax, hole)
    return scale


def _approach_arrow(ax: Axes, hole: SheetHole) -> None:
    """Draw where the approach comes from, and where it is to finish."""
    start, end = hole.line[hole.approach].start, hole.finish
    tail = shapely.LineString([start, end]).intersection(view_box(ax))
    if not tail.is_empty:
        (line,) = ax.plot(*tail.xy, color=INK, linewidth=1.4, zorder=6.5)
        line.set_path_effects([withStroke(linewidth=3.0, foreground=PAPER), Normal()])
    ax.plot(*end, marker="+", markersize=9.0, color=INK, markeredgewidth=1.6, zorder=7.1)


def draw_line_map(ax: Axes, hole: SheetHole, size: float) -> list[str]:
    """Draw the hole with the advised line, the tee shot's pattern and its two numbers.

    ``size`` is that of the type, points; returns the labels that found no place.
    """
    ground, first = hole.hole, hole.line[0]
    near = nearest_landmark(ground, first.start, first.bearing, 0.0)
    seen = replace(ground, landmarks=(near[0],) if near is not None else ())
    fit_view(ax, in_view(seen), margin=3.0)
    labels = LabelPlacer(ax, least=size)
    for name, shape in paint_hole(ax, seen).items():
        if name in ("green", "bunker", "water", "fairway"):
            labels.keep_clear(shape, 20.0)
    pattern = pattern_of(hole.on, first)
    if pattern is not None:
        draw_pattern(ax, first.start, first.bearing, pattern, labels=labels, aim=False)
    for order, stroke in enumerate(hole.line):
        _leg(ax, stroke.start, hole.finish if order == hole.approach else stroke.finish, labels)
    for number, strong in ((hole.carry, True), (hole.reach, False)):
        if number is not None:
            _arc(ax, first.start, first.bearing, number.yards, strong=strong)
            _arc_label(hole, number.yards, labels, size)
    draw_landmarks(ax, seen, labels, first.start)
    return [label.text for label in labels.place()]


def _leg(ax: Axes, start: Point, end: Point, labels: LabelPlacer) -> None:
    (line,) = ax.plot(*zip(start, end, strict=True), color=INK, linewidth=1.5, zorder=7.0, solid_capstyle="round")
    line.set_path_effects([withStroke(linewidth=3.2, foreground=PAPER), Normal()])
    ax.plot(*start, marker="o", markersize=5.0, color=PAPER, markeredgecolor=INK, markeredgewidth=1.0, zorder=7.2)
    labels.block(shapely.Point(start), 3.0)
    labels.block(shapely.LineString([start, end]), 1.5)


def _arc_points(start: Point, bearing: float, yards: float) -> list[Point]:
    half = min(ARC / yards, 0.5)
    turns = [bearing + half * (step / 10.0 - 1.0) for step in range(21)]
    return [(start[0] + yards * math.sin(turn), start[1] + yards * math.cos(turn)) for turn in turns]


def _arc(ax: Axes, start: Point, bearing: float, yards: float, *, strong: bool) -> None:
    dashes = "-" if strong else (0, (2.2, 1.4))
    (arc,) = ax.plot(
        *zip(*_arc_points(start, bearing, yards), strict=True), color=INK, linewidth=1.3, linestyle=dashes, zorder=6.8
    )
    arc.set_path_effects([withStroke(linewidth=3.0, foreground=PAPER), Normal()])


def _arc_label(hole: SheetHole, yards: float, labels: LabelPlacer, size: float) -> None:
    first = hole.line[0]
    arc = shapely.LineString(_arc_points(first.start, first.bearing, yards))
    style = (("weight", "bold"),)
    labels.add(Label(shown(hole.hole, yards), arc, priority=0, reach=30.0, size=size, style=style))
