"""What stands on a chart besides the ground, and what it measures: marks, arcs of distance, hazards, scale and north.

All of it is drawn from records in yards and told in the units that the hole was written in. A hazard's two numbers are
taken along the line from the place to where the line of play crosses it; one that lies beside the line of play has its
nearest and farthest point as the crow flies.
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
from matplotlib.path import Path
from matplotlib.patheffects import withStroke
from matplotlib.transforms import Affine2D
from shapely import LineString

from simcaddie.base.units import SHORT, YARDS_PER, angle_between, unit_vector
from simcaddie.charts.ground_fill import view_box, yards_per_point
from simcaddie.charts.labels import Label, LabelPlacer
from simcaddie.charts.style import AREA_NAME, INK, PAPER, QUIET
from simcaddie.course.distances import crossings, visible
from simcaddie.course.hole import Hole, Point
from simcaddie.course.route import point_along

__all__ = [
    "draw_arcs",
    "draw_heights",
    "draw_landmarks",
    "draw_north",
    "draw_pins",
    "draw_scale_bar",
    "draw_spots",
    "draw_tees",
    "length_of",
    "mark",
    "name_areas",
    "reach_and_carry",
    "shown",
    "unit_sign",
]  # fmt: skip

FAR_HAZARD: Final = 290.0  # yd: beyond it, farther than most drive, a hazard is named without numbers
_ARC: Final = 27.0  # yd of arc on each side of the line of play
_NEAR: Final = 240.0  # yd: up to this an arc stands every 25, farther every 50
_BOLD: Final = (("weight", "bold"),)
_WATER_INK: Final = "#24506e"
_HEIGHT_INK: Final = "#7d5a3c"
_PENNANT: Final = Path(
    [(0, 0), (0, 2), (1.25, 1.55), (0, 1.1), (0, 0)],
    [Path.MOVETO, Path.LINETO, Path.LINETO, Path.LINETO, Path.CLOSEPOLY],
)
_ARROW: Final = Path(
    [(0, 1.6), (0.75, -0.6), (0, -0.2), (-0.75, -0.6), (0, 1.6)],
    [Path.MOVETO, Path.LINETO, Path.LINETO, Path.LINETO, Path.CLOSEPOLY],
)


def shown(hole: Hole, yards: float) -> str:
    """Return a length in the hole's units, whole.

    A length of 200 yd on a hole written in metres is "183".
    """
    return f"{round(yards / YARDS_PER[hole.units])}"


def unit_sign(hole: Hole) -> str:
    """Return "yd" or "m"."""
    return SHORT[hole.units]


def length_of(line: Sequence[Point]) -> float:
    """Return the length of a line of play in yards."""
    return float(LineString(line).length)


def mark(
    ax: Axes, at: Point, marker: str | Path, size: float, *, open_: bool = False, colour: str = INK, zorder: float = 6.5
) -> None:
    """Draw one sign, in the data's units."""
    ax.plot(
        [at[0]], [at[1]], linestyle="none", marker=marker, markersize=size, color=colour, markeredgewidth=0.7,
        markerfacecolor=PAPER if open_ else colour, zorder=zorder,
    )  # fmt: skip


def draw_tees(ax: Axes, hole: Hole, labels: LabelPlacer, lengths: dict[str, float]) -> None:
    """Mark the tees; ``lengths`` are the holes' lengths from each along the line of play, in yards."""
    inside = view_box(ax)
    for name, at in hole.tees.items():
        if not inside.contains(shapely.Point(at)):
            continue
        mark(ax, at, "D", 3.4)
        labels.block(shapely.Point(at), 2.6)
        labels.add(Label(f"{name} {shown(hole, lengths[name])}", shapely.Point(at), priority=1, reach=40, style=_BOLD))


def draw_pins(ax: Axes, hole: Hole, labels: LabelPlacer, place: Point, *, each: bool = False) -> None:
    """Mark the pins, the default one with a pennant, and tell how far they are from ``place``.

    One label for all of them beside the green, or one at ``each`` where the map is large enough.
    """
    default = hole.pin()
    for at in hole.pins.values():
        mark(ax, at, "o", 2.2, open_=at != default)
        labels.block(shapely.Point(at), 2.2)
    mark(ax, default, _PENNANT, 14)
    labels.block(shapely.Point(default).buffer(0.1), 4.5)
    far = {name: shown(hole, math.dist(place, at)) for name, at in hole.pins.items()}
    if each:
        for name, at in hole.pins.items():
            labels.add(Label(f"{name} {far[name]}", shapely.Point(at), priority=1, reach=60, size=6.5))
        return
    lines = [f"{name} {far[name]}" for name in sorted(hole.pins, key=lambda name: -math.dist(place, hole.pins[name]))]
    labels.add(Label("\n".join(lines), hole.green, priority=1, size=6.5, style=_BOLD))


def draw_spots(ax: Axes, hole: Hole, labels: LabelPlacer) -> None:
    """Mark the named spots and tell how far each is from the default pin."""
    inside = view_box(ax)
    for name, spot in hole.spots.items():
        if inside.contains(shapely.Point(spot.at)):
            mark(ax, spot.at, "o", 4.6, open_=True)
            mark(ax, spot.at, "+", 3.4)
            labels.block(shapely.Point(spot.at), 3.2)
            text = f"{name.replace('_', ' ')} – {shown(hole, math.dist(spot.at, hole.pin()))} to go"
            labels.add(Label(text, shapely.Point(spot.at), priority=3))


def draw_landmarks(ax: Axes, hole: Hole, labels: LabelPlacer, place: Point) -> None:
    """Mark the things to aim at; one beyond the map gets an arrow at its edge, on the line from ``place``."""
    scale = yards_per_point(ax)
    room = view_box(ax).buffer(-7.0 * scale, join_style="mitre")
    for landmark in hole.landmarks:
        at, text = landmark.at, landmark.name
        inside = room.contains(shapely.Point(at))
        if not inside:
            seen = LineString([place, at]).intersection(room)
            if seen.is_empty:
                continue
            at = tuple(seen.coords[-1])
            text = f"{text} ({shown(hole, math.dist(place, landmark.at))})"
        turn = math.atan2(landmark.at[0] - place[0], landmark.at[1] - place[1])
        arrow = _ARROW.transformed(Affine2D().rotate(-turn))
        mark(ax, at, "^" if inside else arrow, 5.0 if inside else 6.5, open_=inside)
        labels.block(shapely.Point(at), 4.0)
        labels.add(Label(text, shapely.Point(at), priority=2, size=7))


def draw_heights(ax: Axes, hole: Hole, labels: LabelPlacer) -> None:
    """Dot the spot heights, in the hole's units."""
    if hole.heights is None:
        return
    taken = shapely.MultiPoint([*hole.tees.values(), *hole.pins.values()])
    room = view_box(ax).difference(taken.buffer(8.0 * yards_per_point(ax)))
    for x, y, height in hole.heights:
        if room.contains(shapely.Point(x, y)):
            mark(ax, (float(x), float(y)), ".", 2.0, colour=_HEIGHT_INK)
            labels.block(shapely.Point(x, y), 1.2)
            text, at = shown(hole, float(height)), shapely.Point(x, y)
            labels.add(Label(text, at, priority=8, reach=8, size=5.5, colour=_HEIGHT_INK))


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
        surface = area.surface
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
            priority, roomy = 2 if surface.hazard else 4, surface.drawing.roomy
            colour = _WATER_INK if surface.penalty else INK
            labels.add(Label("\n".join(lines), seen, priority=priority, inside=roomy, colour=colour, style=AREA_NAME))


def _arc(place: Point, bearing: float, distance: float, half: float) -> list[Point]:
    turns = bearing + np.linspace(-half, half, 41)
    return [(float(place[0] + distance * np.sin(t)), float(place[1] + distance * np.cos(t))) for t in turns]


def draw_arcs(ax: Axes, hole: Hole, line: Sequence[Point], labels: LabelPlacer, *, to_go: bool = True) -> None:
    """Draw arcs of distance from the start of a line of play; ``to_go`` adds what is left."""
    place, pin, unit, view = line[0], line[-1], YARDS_PER[hole.units], view_box(ax)
    last = math.dist(place, pin)
    step = (25.0 if last < _NEAR else 50.0) * unit
    for count in range(1, int((last - 0.4 * step) // step) + 1):
        distance = count * step
        middle = point_along(line, distance)
        half = min(_ARC / distance, 0.4)
        arc = _arc(place, angle_between(place, middle), distance, half)
        if not view.covers(LineString(arc)):
            continue
        ax.plot(*np.array(arc).T, color=INK, linewidth=0.5, alpha=0.75, dashes=(1, 2.2), zorder=4.0)
        labels.keep_clear(LineString(arc).buffer(1.5), 10.0)
        labels.add(Label(shown(hole, distance), shapely.Point(arc[0]), priority=0, reach=12, size=6.5, style=_BOLD))
        if to_go:
            left = shown(hole, math.dist(middle, pin))
            labels.add(Label(f"{left} to go", shapely.Point(arc[-1]), priority=6, reach=12, size=5.8, colour=QUIET))


def draw_scale_bar(ax: Axes, hole: Hole, labels: LabelPlacer | None = None) -> None:
    """Draw a scale bar in the lower left corner, in the hole's units."""
    scale, view, unit = yards_per_point(ax), view_box(ax), YARDS_PER[hole.units]
    left, low, right, _ = view.bounds
    piece = next(size for size in (50, 25, 20, 10, 5) if size <= 5 or 2 * size * unit < 0.38 * (right - left))
    x, y, tall = left + 12 * scale, low + 12 * scale, 3.2 * scale
    size, texts = max(6.0, labels.least) if labels else 6.0, []
    for part, fill in enumerate((INK, PAPER)):
        at = (x + part * piece * unit, y)
        ax.add_patch(Rectangle(at, piece * unit, tall, linewidth=0.6, edgecolor=INK, facecolor=fill, zorder=8.0))
    for part, sign in enumerate(("", "", f" {unit_sign(hole)}")):
        at = (x + part * piece * unit, y + tall + 2.5 * scale)
        texts.append(ax.text(*at, f"{part * piece}{sign}", fontsize=size, ha="center", va="bottom", zorder=9.0))
        texts[-1].set_path_effects([withStroke(linewidth=1.8, foreground=PAPER, alpha=0.85)])
    if labels is not None:
        labels.block(shapely.box(x, y, x + 2 * piece * unit, y + tall), 2.0)
        labels.block_texts(*texts)


def draw_north(ax: Axes, hole: Hole, labels: LabelPlacer | None = None) -> None:
    """Draw an arrow to the north in the lower right corner, where the hole says how it lies."""
    if hole.bearing is None:
        return
    scale, (_, low, right, _) = yards_per_point(ax), view_box(ax).bounds
    centre = np.array([right - 27 * scale, low + 28 * scale])
    along = np.array(unit_vector(math.radians(-hole.bearing)))
    across = np.array([along[1], -along[0]])
    tip, foot = centre + 14 * scale * along, centre - 10 * scale * along
    notch = centre - 6 * scale * along
    for side, fill in ((-1.0, INK), (1.0, PAPER)):
        wing = foot + side * 4.2 * scale * across
        ax.add_patch(PolygonPatch([tip, wing, notch], facecolor=fill, edgecolor=INK, linewidth=0.6, zorder=8.0))
    at = tip + 6 * scale * along
    text = ax.text(at[0], at[1], "N", fontsize=7.5, fontweight="bold", ha="center", va="center", zorder=9.0)
    if labels is not None:
        labels.block(shapely.Point(centre).buffer(14 * scale))
        labels.block_texts(text)
