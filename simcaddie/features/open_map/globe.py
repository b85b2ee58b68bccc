"""Between longitude and latitude and a hole's own frame.

The projection is azimuthal equidistant on the WGS 84 ellipsoid, its centre the frame's origin:

    x = d sin(a − b),   y = d cos(a − b)

with d and a the length and azimuth of the geodesic from the origin (C. F. F. Karney, "Algorithms for geodesics",
Journal of Geodesy 87, 2013, as pyproj has them) and b the frame's bearing. Distances from the origin are exact; across
them the scale is off by d² / 6R², 4 in a billion at 1 km. It works at the poles and across the 180th meridian.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any, Final

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray
from shapely import LineString, MultiLineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from simcaddie.base.units import METRES_PER_YARD

__all__ = ["Frame", "geodesic_bearing", "geodesic_length", "joined"]

Floats = NDArray[np.float64]


@cache
def _geod() -> Any:
    from pyproj import Geod

    return Geod(ellps="WGS84")


def geodesic_length(lonlat: ArrayLike) -> float:
    """Return the length in yards of a line through float64[n, 2] degrees, piece by piece along geodesics."""
    lon, lat = np.asarray(lonlat, np.float64).T
    return float(_geod().line_length(lon, lat)) / METRES_PER_YARD


def geodesic_bearing(start: tuple[float, float], end: tuple[float, float]) -> float:
    """Return the compass direction in degrees, 0 to 360, in which ``end`` lies from ``start`` (lon, lat)."""
    azimuth, _, _ = _geod().inv(*start, *end)
    return float(azimuth) % 360.0


@dataclass(frozen=True, slots=True)
class Frame:
    """A plane in yards: (``lon``, ``lat``) at (0, 0), +y towards the compass direction ``bearing``; degrees."""

    lon: float
    lat: float
    bearing: float = 0.0

    def to_plane(self, lonlat: ArrayLike) -> Floats:
        """Return float64[n, 2] yards for float64[n, 2] degrees."""
        points = np.asarray(lonlat, np.float64).reshape(-1, 2)
        lon, lat = np.full(len(points), self.lon), np.full(len(points), self.lat)
        azimuth, _, far = _geod().inv(lon, lat, points[:, 0], points[:, 1])
        angle, yards = np.radians(np.asarray(azimuth) - self.bearing), np.asarray(far) / METRES_PER_YARD
        return np.column_stack([yards * np.sin(angle), yards * np.cos(angle)])

    def to_globe(self, xy: ArrayLike) -> Floats:
        """Return float64[n, 2] degrees, longitude from −180 to 180, for float64[n, 2] yards."""
        points = np.asarray(xy, np.float64).reshape(-1, 2)
        azimuth = np.degrees(np.arctan2(points[:, 0], points[:, 1])) + self.bearing
        far = np.hypot(points[:, 0], points[:, 1]) * METRES_PER_YARD
        lon, lat, _ = _geod().fwd(np.full(len(points), self.lon), np.full(len(points), self.lat), azimuth, far)
        return np.column_stack([lon, lat])

    def shape_to_plane(self, shape: BaseGeometry) -> BaseGeometry:
        """Return a shape in degrees as one in yards, corner by corner."""
        return shapely.transform(shape, self.to_plane)

    def shape_to_globe(self, shape: BaseGeometry) -> BaseGeometry:
        """Return a shape in yards as one in degrees, corner by corner."""
        return shapely.transform(shape, self.to_globe)

    def shape_from(self, other: Frame, shape: BaseGeometry) -> BaseGeometry:
        """Return a shape of another frame as one of this."""
        return self.shape_to_plane(other.shape_to_globe(shape))


# ─── Joining what was cut at the 180th meridian (RFC 7946, 3.1.9) ───────────────────────────────────────────────────
#
# The pieces meet in places of longitude ±180 that were no corners before. Straight in degrees is not quite straight on
# the ground, by L² tan φ / 8R for a side of length L: 8 mm for 450 yd at 68°. So those places are taken out again where
# the outline is as good as straight there.

SNAP: Final = 1e-4  # yd: pieces are joined where they are as near as this
STRAIGHT: Final = 0.05  # yd


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
