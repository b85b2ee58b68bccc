"""Distances to reach and to carry: what a player would write in a notebook.

Along an aim line a piece of ground is *reached* where the line enters its outline and *carried* where it
leaves it; a line may cross one outline several times. As the crow flies its nearest and farthest points
count. All of it is exact geometry on the outlines (yards), not on the grid.

Where areas overlap, what counts is the part that the ball would find there: the outline less every area
that lies over it (the precedence of ``surfaces``; among equals the later one). Trees stand over everything
and keep their whole outline.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import shapely
from shapely import LineString, Polygon
from shapely import Point as GeoPoint
from shapely.geometry.base import BaseGeometry

from simcaddie.base.surfaces import code
from simcaddie.base.units import angle_between, unit_vector
from simcaddie.course.hole import Area, Hole, Point

__all__ = ["Crossing", "GreenDistances", "HazardDistance", "Side", "Yardages", "crossings", "visible", "yardages"]

Side = Literal["left", "right", "across", "behind"]
Crossing = tuple[float, float]

SLIVER = 1e-6  # yd: a line that only touches an outline doesn't cross it


@dataclass(frozen=True, slots=True)
class HazardDistance:
    """How far a hazard is, in yards from the place.

    ``reach`` and ``carry`` are the first entry and the last exit on the line, None where the line misses
    it; ``crossings`` are all (entry, exit) pairs, nearest first. ``near`` and ``far`` are as the crow
    flies. ``side`` tells where it lies: on the line, to its left or right (by the nearest point), or wholly
    behind the place.
    """

    area: Area
    reach: float | None
    carry: float | None
    near: float
    far: float
    side: Side
    crossings: tuple[Crossing, ...] = ()


@dataclass(frozen=True, slots=True)
class GreenDistances:
    """Front, middle and back of the green on the line through its middle; pins as the crow flies; yards."""

    front: float
    middle: float
    back: float
    pins: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Yardages:
    """All distances from one place along one line.

    ``bearing`` in radians; ``fairway`` holds the (entry, exit) pairs of the line and the fairways;
    ``boundary`` is where the line first leaves the course, ``boundary_near`` the nearest out of bounds any
    way, None where there is none.
    """

    place: Point
    bearing: float
    hazards: tuple[HazardDistance, ...]
    green: GreenDistances
    fairway: tuple[Crossing, ...]
    boundary: float | None
    boundary_near: float | None


def visible(hole: Hole, number: int) -> BaseGeometry:
    """Return the part of area ``number`` that no other area lies over; all of it for trees."""
    area = hole.areas[number]
    if area.surface.canopy:
        return area.outline
    rank = (code(area.kind), number)
    over = [other.outline for i, other in enumerate(hole.areas) if (code(other.kind), i) > rank]
    over = [outline for outline in over if outline.intersects(area.outline)]
    return area.outline.difference(shapely.union_all(over)) if over else area.outline


def _pieces(geometry: BaseGeometry) -> list[BaseGeometry]:
    return list(shapely.get_parts(geometry))


def _ray(place: Point, bearing: float, length: float) -> LineString:
    dx, dy = unit_vector(bearing)
    return LineString([place, (place[0] + dx * length, place[1] + dy * length)])


def crossings(ground: BaseGeometry, place: Point, bearing: float) -> tuple[Crossing, ...]:
    """Return the (entry, exit) distances (yd) of the ray from ``place`` through ``ground``, nearest first.

    A place inside it enters at 0. Crossings that meet count as one.
    """
    if ground.is_empty:
        return ()
    here = GeoPoint(place)
    ray = _ray(place, bearing, here.hausdorff_distance(ground) + 1.0)
    found: list[Crossing] = []
    for piece in _pieces(ray.intersection(ground)):
        if piece.length > SLIVER:
            ends = [here.distance(GeoPoint(end)) for end in (piece.coords[0], piece.coords[-1])]
            found.append((min(ends), max(ends)))
    merged: list[Crossing] = []
    for entry, leave in sorted(found):
        if merged and entry - merged[-1][1] < SLIVER:
            merged[-1] = (merged[-1][0], max(leave, merged[-1][1]))
        else:
            merged.append((entry, leave))
    return tuple(merged)


def _side(ground: BaseGeometry, place: Point, bearing: float) -> Side:
    """Tell on which side of the line ground that it misses lies, by the point nearest to the line."""
    dx, dy = unit_vector(bearing)
    corners = shapely.get_coordinates(ground) - place
    if (corners[:, 0] * dx + corners[:, 1] * dy).max() <= 0.0:
        return "behind"
    ray = _ray(place, bearing, GeoPoint(place).hausdorff_distance(ground) + 1.0)
    x, y = shapely.shortest_line(ray, ground).coords[-1]
    aside = (x - place[0]) * dy - (y - place[1]) * dx
    return "right" if aside > 0.0 else "left"


def _hazard(area: Area, ground: BaseGeometry, place: Point, bearing: float) -> HazardDistance:
    here, on_line = GeoPoint(place), crossings(ground, place, bearing)
    return HazardDistance(
        area=area,
        reach=on_line[0][0] if on_line else None,
        carry=on_line[-1][1] if on_line else None,
        near=here.distance(ground),
        far=here.hausdorff_distance(ground),
        side="across" if on_line else _side(ground, place, bearing),
        crossings=on_line,
    )


def _green(hole: Hole, place: Point) -> GreenDistances:
    green, here = hole.green, GeoPoint(place)
    middle = (green.centroid.x, green.centroid.y)
    on_line = crossings(green, place, angle_between(place, middle))
    front, back = here.distance(green), here.hausdorff_distance(green)
    if on_line:
        front, back = on_line[0][0], on_line[-1][1]
    pins = {name: math.dist(place, pin) for name, pin in hole.pins.items()}
    return GreenDistances(front, math.dist(place, middle), back, pins)


def _out(hole: Hole) -> list[BaseGeometry]:
    """Return all ground that is out of bounds, the world outside the boundary as a wide frame around it."""
    out: list[BaseGeometry] = [area.outline for area in hole.areas if area.surface.out]
    if hole.boundary is not None:
        left, bottom, right, top = hole.boundary.bounds
        world = shapely.box(left - 2000.0, bottom - 2000.0, right + 2000.0, top + 2000.0)
        out.append(world.difference(Polygon(hole.boundary.exterior)))
    return out


def yardages(hole: Hole, place: Point, bearing: float | None, *, trees: bool = False) -> Yardages:
    """Return the distances from a place along an aim line.

    Parameters
    ----------
    hole : the hole
    place : (x, y) in yards
    bearing : radians clockwise from +y; None for the line to the default pin
    trees : list stands of trees among the hazards too

    Returns
    -------
    Yardages, the hazards in order of their nearest point
    """
    line = angle_between(place, hole.pin()) if bearing is None else bearing
    listed = []
    for number, area in enumerate(hole.areas):
        if area.surface.hazard or (trees and area.surface.canopy):
            ground = visible(hole, number)
            if not ground.is_empty:
                listed.append(_hazard(area, ground, place, line))
    fairways = [visible(hole, number) for number, area in enumerate(hole.areas) if area.surface.fairway]
    out = _out(hole)
    leaves = [crossing[0] for ground in out for crossing in crossings(ground, place, line)]
    return Yardages(
        place=place,
        bearing=line,
        hazards=tuple(sorted(listed, key=lambda hazard: (hazard.near, hazard.far))),
        green=_green(hole, place),
        fairway=crossings(shapely.union_all(fairways), place, line) if fairways else (),
        boundary=min(leaves, default=None),
        boundary_near=min((GeoPoint(place).distance(ground) for ground in out), default=None),
    )
