"""Outlines fit for a hole file: mended where they cross, with few points, on round numbers.

The points that stay are chosen by D. H. Douglas and T. K. Peucker, "Algorithms for the reduction of the number of
points required to represent a digitized line or its caricature", Cartographica 10, 1973: what is left out lies within a
tolerance of the straight line drawn instead. Rounding moves a point by half a step at most each way, so the choice gets

    tolerance of the choice = TOLERANCE − step / √2

A choice that keeps rings from crossing can leave its tolerance where a ring begins, so what comes out is measured, and
chosen again with less until no place of the new outline is further than TOLERANCE from the old one, nor the other way
round. Where rings touch, all points stay and inner rings are drawn in by a step instead.
"""

from __future__ import annotations

import math
from typing import Final

import shapely
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

__all__ = ["TOLERANCE", "mended", "polygons_in", "readable", "sound", "widened"]

TOLERANCE: Final = 0.25  # yd between an outline and what is written of it
SHARES: Final = (1.0, 0.7, 0.4, 0.2)  # of the tolerance of the choice, tried in turn
LEAST: Final = 0.25  # yd²: what is smaller is not ground but an accident of drawing


def polygons_in(shape: BaseGeometry) -> list[Polygon]:
    """Return the polygons among the parts of a shape, slivers left out."""
    parts = shapely.get_parts(shapely.get_parts(shape))  # a collection may hold a multipolygon
    return [part for part in parts if isinstance(part, Polygon) and part.area > LEAST]


def mended(shape: BaseGeometry) -> tuple[list[Polygon], bool]:
    """Return the polygons of a shape, and whether its outline crossed itself and had to be mended.

    A crossing ring becomes what is inside it by the even-odd rule (shapely's ``make_valid``).
    """
    valid = bool(shape.is_valid)
    return polygons_in(shape if valid else shapely.make_valid(shape)), not valid


def sound(polygon: Polygon) -> bool:
    """Tell whether no ring of a polygon crosses or touches itself or another."""
    if not Polygon(polygon.exterior).is_valid:
        return False
    before: list[LineString] = []
    for ring in polygon.interiors:
        if not Polygon(ring).is_valid or not Polygon(polygon.exterior, before).contains_properly(Polygon(ring)):
            return False
        before.append(ring)
    return True


def readable(polygon: Polygon, step: float, tolerance: float = TOLERANCE) -> list[Polygon]:
    """Return a polygon with few points on multiples of ``step`` (yd), everywhere within ``tolerance`` of the old one.

    It may fall into several pieces where it is narrow, and vanish where it is nowhere a step wide. With a tolerance of
    0 nothing but rounding is done.
    """
    slack = tolerance - step / math.sqrt(2.0)
    for share in SHARES if slack > 0.0 else ():
        pieces = polygons_in(shapely.set_precision(polygon.simplify(share * slack), step))
        if all(sound(piece) for piece in pieces) and _near(polygon, pieces, tolerance):
            return pieces
    pieces = polygons_in(shapely.set_precision(polygon, step))
    return [good for piece in pieces for good in ([piece] if sound(piece) else _apart(piece, step))]


def _near(polygon: Polygon, pieces: list[Polygon], tolerance: float) -> bool:
    """Tell whether no place of the old outline is further than ``tolerance`` (yd) from the new one, nor back."""
    old, new = polygon.boundary, shapely.union_all([piece.boundary for piece in pieces])
    return bool(old.buffer(tolerance).covers(new) and new.buffer(tolerance).covers(old))


def _apart(polygon: Polygon, step: float) -> list[Polygon]:
    """Return a polygon whose inner rings touch nothing: drawn in by a step, or cut through to the outside."""
    drawn_in = [part for ring in polygon.interiors for part in polygons_in(Polygon(ring).buffer(-step))]
    for hole in (MultiPolygon(drawn_in), shapely.union_all([Polygon(ring) for ring in polygon.interiors]).buffer(step)):
        cut = shapely.set_precision(Polygon(polygon.exterior).difference(hole), step)
        pieces = polygons_in(cut)
        if pieces and all(sound(piece) for piece in pieces):
            return pieces
    return [Polygon(polygon.exterior)]


def widened(line: BaseGeometry, width: float) -> list[Polygon]:
    """Return the ground that a line of a width (yd) stands for, its ends flat; few points at its bends."""
    simple = line.simplify(min(0.1, width / 10.0))
    return polygons_in(simple.buffer(width / 2.0, cap_style="flat", join_style="round", quad_segs=2))
