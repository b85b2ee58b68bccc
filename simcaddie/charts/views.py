"""What a map shows of a hole; without any drawing."""

from __future__ import annotations

import math
from typing import Final

import shapely

from simcaddie.course.hole import Hole, Point

__all__ = ["in_view", "view_from"]

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
