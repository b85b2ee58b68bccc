"""What stands on the chart besides the ground: tees, pins, spots, landmarks and spot heights.

Everything is drawn from records in yards and told in the units that the hole was written in.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import shapely
from matplotlib.axes import Axes
from matplotlib.path import Path
from matplotlib.transforms import Affine2D
from shapely import LineString

from simcaddie.ground.hole import Hole, Point
from simcaddie.report.labels import Label, LabelPlacer
from simcaddie.report.style import INK, PAPER
from simcaddie.report.terrain import view_box, yards_per_point
from simcaddie.units import YARDS_PER

__all__ = [
    "draw_heights",
    "draw_landmarks",
    "draw_pins",
    "draw_spots",
    "draw_tees",
    "length_of",
    "shown",
    "unit_sign",
]

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
    return "m" if hole.units == "metres" else "yd"


def length_of(line: Sequence[Point]) -> float:
    """Return the length of a line of play in yards."""
    return float(LineString(line).length)


def _mark(ax: Axes, at: Point, marker: str | Path, size: float, *, open_: bool = False, colour: str = INK) -> None:
    ax.plot(
        [at[0]],
        [at[1]],
        linestyle="none",
        marker=marker,
        markersize=size,
        color=colour,
        markeredgewidth=0.7,
        markerfacecolor=PAPER if open_ else colour,
        zorder=6.5,
    )


def draw_tees(ax: Axes, hole: Hole, labels: LabelPlacer, lengths: dict[str, float]) -> None:
    """Mark the tees; ``lengths`` are the holes' lengths from each along the line of play, in yards."""
    inside = view_box(ax)
    for name, at in hole.tees.items():
        if not inside.contains(shapely.Point(at)):
            continue
        _mark(ax, at, "D", 3.4)
        labels.block(shapely.Point(at), 2.6)
        style = (("weight", "bold"),)
        labels.add(Label(f"{name} {shown(hole, lengths[name])}", shapely.Point(at), priority=1, reach=40, style=style))


def draw_pins(ax: Axes, hole: Hole, labels: LabelPlacer, place: Point, *, each: bool = False) -> None:
    """Mark the pins, the default one with a pennant, and tell how far they are from ``place``.

    One label for all of them beside the green, or one at ``each`` where the map is large enough.
    """
    default = hole.pin()
    for at in hole.pins.values():
        _mark(ax, at, "o", 2.2, open_=at != default)
        labels.block(shapely.Point(at), 2.2)
    _mark(ax, default, _PENNANT, 14)
    labels.block(shapely.Point(default).buffer(0.1), 4.5)
    far = {name: shown(hole, math.dist(place, at)) for name, at in hole.pins.items()}
    if each:
        for name, at in hole.pins.items():
            labels.add(Label(f"{name} {far[name]}", shapely.Point(at), priority=1, reach=60, size=6.5))
        return
    lines = [f"{name} {far[name]}" for name in sorted(hole.pins, key=lambda name: -math.dist(place, hole.pins[name]))]
    labels.add(Label("\n".join(lines), hole.green, priority=1, size=6.5, style=(("weight", "bold"),)))


def draw_spots(ax: Axes, hole: Hole, labels: LabelPlacer) -> None:
    """Mark the named spots and tell how far each is from the default pin."""
    inside = view_box(ax)
    for name, spot in hole.spots.items():
        if inside.contains(shapely.Point(spot.at)):
            _mark(ax, spot.at, "o", 4.6, open_=True)
            _mark(ax, spot.at, "+", 3.4)
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
        _mark(ax, at, "^" if inside else arrow, 5.0 if inside else 6.5, open_=inside)
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
            _mark(ax, (float(x), float(y)), ".", 2.0, colour=_HEIGHT_INK)
            labels.block(shapely.Point(x, y), 1.2)
            labels.add(
                Label(
                    shown(hole, float(height)),
                    shapely.Point(x, y),
                    priority=8,
                    reach=8,
                    size=5.5,
                    colour=_HEIGHT_INK,
                )
            )
