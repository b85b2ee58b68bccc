"""What a chart measures: arcs of distance from a place, hazards to reach and to carry, the scale, and north.

A hazard's two numbers are taken along the line from the place to where the line of play crosses it; one
that lies beside the line of play has its nearest and farthest point as the crow flies.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np
import shapely
from matplotlib.axes import Axes
from matplotlib.patches import Polygon as PolygonPatch
from matplotlib.patches import Rectangle
from matplotlib.patheffects import withStroke
from shapely import LineString

from simcaddie.ground.distances import crossings, visible
from simcaddie.ground.hole import Hole, Point
from simcaddie.ground.targets import point_along
from simcaddie.report.furniture import shown, unit_sign
from simcaddie.report.labels import Label, LabelPlacer
from simcaddie.report.style import AREA_NAME, INK, PAPER, QUIET
from simcaddie.report.terrain import view_box, yards_per_point
from simcaddie.surfaces import BY_NAME
from simcaddie.units import YARDS_PER, angle_between, unit_vector

__all__ = ["FAR_HAZARD", "draw_arcs", "draw_north", "draw_scale_bar", "name_areas", "reach_and_carry"]

FAR_HAZARD: Final = 290.0  # yd: beyond it, farther than most drive, a hazard is named without numbers
_ARC: Final = 27.0  # yd of arc on each side of the line of play
_SHORT: Final = 240.0  # yd: up to this an arc stands every 25, farther every 50
_WATER: Final = "#24506e"


def reach_and_carry(hole: Hole, number: int, line: Sequence[Point]) -> tuple[float, float] | None:
    """Return yards to reach and to carry an area from the start of a line of play, None where it lies behind.

    Parameters
    ----------
    hole : the hole
    number : of the area in ``hole.areas``
    line : corners of the line of play, yards
    """
    ground, place = visible(hole, number), line[0]
    meets = LineString(line).intersection(ground)
    if not meets.is_empty and meets.length > 0.0:
        first = shapely.get_parts(meets)[0].interpolate(0.5, normalized=True)
        away = shapely.Point(place).distance(first)
        for entry, leave in crossings(ground, place, angle_between(place, (first.x, first.y))):
            if entry <= away <= leave:
                return entry, leave
    dx, dy = unit_vector(angle_between(place, line[1]))
    ahead = shapely.get_coordinates(ground) - place
    if ground.is_empty or (ahead[:, 0] * dx + ahead[:, 1] * dy).max() <= 0.0:
        return None
    here = shapely.Point(place)
    return here.distance(ground), here.hausdorff_distance(ground)


def name_areas(hole: Hole, line: Sequence[Point], labels: LabelPlacer) -> None:
    """Name the hazards with yards to reach and to carry, and the trees with their height."""
    for number, area in enumerate(hole.areas):
        surface = BY_NAME[area.kind]
        if not (surface.hazard or area.name):
            continue
        lines = [area.title + (f" ({area.marking})" if surface.penalty and area.marking else "")]
        numbers = reach_and_carry(hole, number, line) if surface.hazard else None
        across = LineString(line).intersects(area.outline)
        if numbers is not None and (across or numbers[0] <= FAR_HAZARD):
            lines.append(f"{shown(hole, numbers[0])} – {shown(hole, numbers[1])}")
        if area.height > 0.0:
            lines.append(f"{shown(hole, area.height)} {unit_sign(hole)} high")
        seen = area.outline.intersection(view_box(labels.ax))
        if not seen.is_empty:
            roomy = area.kind in ("trees", "water", "heather", "gorse")
            priority = 2 if surface.hazard else 4
            colour = _WATER if surface.penalty else INK
            labels.add(Label("\n".join(lines), seen, priority=priority, inside=roomy, colour=colour, style=AREA_NAME))


def _arc(place: Point, bearing: float, distance: float, half: float) -> list[Point]:
    turns = bearing + np.linspace(-half, half, 41)
    return [(float(place[0] + distance * np.sin(t)), float(place[1] + distance * np.cos(t))) for t in turns]


def draw_arcs(ax: Axes, hole: Hole, line: Sequence[Point], labels: LabelPlacer, *, to_go: bool = True) -> None:
    """Draw arcs of distance from the start of a line of play; ``to_go`` adds what is left."""
    place, pin, unit, view = line[0], line[-1], YARDS_PER[hole.units], view_box(ax)
    last = math.dist(place, pin)
    step = (25.0 if last < _SHORT else 50.0) * unit
    for count in range(1, int((last - 0.4 * step) // step) + 1):
        distance = count * step
        middle = point_along(line, distance)
        half = min(_ARC / distance, 0.4)
        arc = _arc(place, angle_between(place, middle), distance, half)
        if not view.covers(LineString(arc)):
            continue
        ax.plot(*np.array(arc).T, color=INK, linewidth=0.5, alpha=0.75, dashes=(1, 2.2), zorder=4.0)
        labels.keep_clear(LineString(arc).buffer(1.5), 10.0)
        bold = (("weight", "bold"),)
        labels.add(Label(f"{shown(hole, distance)}", shapely.Point(arc[0]), priority=0, reach=12, size=6.5, style=bold))
        if to_go:
            left = shown(hole, math.dist(middle, pin))
            labels.add(Label(f"{left} to go", shapely.Point(arc[-1]), priority=6, reach=12, size=5.8, colour=QUIET))


def draw_scale_bar(ax: Axes, hole: Hole, labels: LabelPlacer | None = None) -> None:
    """Draw a scale bar in the lower left corner, in the hole's units."""
    scale, view, unit = yards_per_point(ax), view_box(ax), YARDS_PER[hole.units]
    left, low, right, _ = view.bounds
    piece = next(size for size in (50, 25, 20, 10, 5) if size <= 5 or 2 * size * unit < 0.38 * (right - left))
    x, y, tall = left + 12 * scale, low + 12 * scale, 3.2 * scale
    for part in range(2):
        ax.add_patch(
            Rectangle(
                (x + part * piece * unit, y),
                piece * unit,
                tall,
                linewidth=0.6,
                edgecolor=INK,
                facecolor=INK if part == 0 else PAPER,
                zorder=8.0,
            )
        )
    texts = []
    for part in range(3):
        sign = f" {unit_sign(hole)}" if part == 2 else ""
        texts.append(
            ax.text(
                x + part * piece * unit,
                y + tall + 2.5 * scale,
                f"{part * piece}{sign}",
                fontsize=max(6.0, labels.least) if labels else 6.0,
                ha="center",
                va="bottom",
                zorder=9.0,
            )
        )
    for text in texts:
        text.set_path_effects([withStroke(linewidth=1.8, foreground=PAPER, alpha=0.85)])
    if labels is not None:
        labels.block(shapely.box(x, y, x + 2 * piece * unit, y + tall), 2.0)
        labels.block_texts(*texts)


def draw_north(ax: Axes, hole: Hole, labels: LabelPlacer | None = None) -> None:
    """Draw an arrow to the north in the lower right corner."""
    scale, (_, low, right, _) = yards_per_point(ax), view_box(ax).bounds
    centre = np.array([right - 27 * scale, low + 28 * scale])
    along = np.array(unit_vector(math.radians(-hole.bearing)))
    across = np.array([along[1], -along[0]])
    tip, foot = centre + 14 * scale * along, centre - 10 * scale * along
    notch = centre - 6 * scale * along
    for side, fill in ((-1.0, INK), (1.0, PAPER)):
        wing = foot + side * 4.2 * scale * across
        ax.add_patch(
            PolygonPatch([tip, wing, notch], closed=True, facecolor=fill, edgecolor=INK, linewidth=0.6, zorder=8.0)
        )
    at = tip + 6 * scale * along
    text = ax.text(at[0], at[1], "N", fontsize=7.5, fontweight="bold", ha="center", va="center", zorder=9.0)
    if labels is not None:
        labels.block(shapely.Point(centre).buffer(14 * scale))
        labels.block_texts(text)
