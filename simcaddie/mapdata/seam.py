"""Joining what was cut at the 180th meridian (RFC 7946, 3.1.9).

The pieces meet in places of longitude ±180 that were no corners before. Straight in degrees is not quite straight on
the ground, by L² tan φ / 8R for a side of length L: 8 mm for 450 yd at 68°. So those places are taken out again where
the outline is as good as straight there.
"""

from __future__ import annotations

from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiLineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

__all__ = ["joined"]

SNAP: Final = 1e-4  # yd: pieces are joined where they are as near as this
STRAIGHT: Final = 0.05  # yd

Floats = NDArray[np.float64]


def joined(flat: BaseGeometry, degrees: BaseGeometry) -> BaseGeometry:
    """Return a shape on a plane whose pieces, cut at the meridian, are one again; others as they are.

    ``degrees`` is the same shape, corner by corner, in longitude and latitude.
    """
    at_seam = np.abs(shapely.get_coordinates(degrees)[:, 0]) == 180.0
    if not at_seam.any() or not isinstance(flat, MultiPolygon | MultiLineString):
        return flat
    seam = shapely.get_coordinates(flat)[at_seam]
    if isinstance(flat, MultiLineString):
        return _each(shapely.line_merge(shapely.set_precision(flat, SNAP), directed=True), seam)
    return _each(shapely.union_all(shapely.get_parts(flat), grid_size=SNAP), seam)


def _each(shape: BaseGeometry, seam: Floats) -> BaseGeometry:
    """Return a shape, its parts one by one, without places of the seam that are no corners."""
    if isinstance(shape, LineString):
        return LineString(_corners(shapely.get_coordinates(shape), seam, closed=False))
    if isinstance(shape, Polygon):
        rings = [shapely.get_coordinates(ring)[:-1] for ring in (shape.exterior, *shape.interiors)]
        shell, *inner = (_corners(ring, seam, closed=True) for ring in rings)
        return Polygon(shell, inner)
    parts = [_each(part, seam) for part in shapely.get_parts(shape)]
    return MultiPolygon(parts) if isinstance(shape, MultiPolygon) else MultiLineString(parts)


def _corners(points: Floats, seam: Floats, *, closed: bool) -> Floats:
    """Return points, float64[n, 2], without those of the seam between two others in line with them."""
    kept = list(range(len(points)))
    for place, point in enumerate(points):
        if len(kept) <= 3 or (not closed and place in (0, len(points) - 1)):
            continue
        if np.hypot(*(seam - point).T).min() > 10.0 * SNAP:
            continue
        at = kept.index(place)
        side = LineString([points[kept[at - 1]], points[kept[(at + 1) % len(kept)]]])
        if side.distance(shapely.Point(point)) < STRAIGHT:
            kept.remove(place)
    return points[kept]
