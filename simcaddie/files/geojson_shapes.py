"""GeoJSON geometry to shapes: every position looked at before it becomes one."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from shapely import LineString, MultiLineString, MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from simcaddie.files.told import describe

__all__ = ["TooSmall", "Unusable", "shapes_of", "turned_round"]

Floats = NDArray[np.float64]

_DEEPEST: Final = 8  # collections inside collections


class Unusable(Exception):
    """A geometry that can't be right: what was expected, what was found."""

    def __init__(self, expected: str, found: str) -> None:
        super().__init__(expected, found)
        self.expected, self.found = expected, found


class TooSmall(Exception):
    """An outline or line that stands for nothing: too few different positions."""


def turned_round(geometry: Any) -> Any:
    """Return a geometry with the first two numbers of every position changed over."""
    if isinstance(geometry, Mapping):
        return {key: turned_round(value) if key in ("coordinates", "geometries") else value for key, value in
                geometry.items()}  # fmt: skip
    if not isinstance(geometry, list):
        return geometry
    if len(geometry) > 1 and not isinstance(geometry[0], list | Mapping):
        return [geometry[1], geometry[0], *geometry[2:]]
    return [turned_round(item) for item in geometry]


def _positions(items: Any) -> Floats:
    """Return float64[n, 3] of longitude, latitude and height, the height nan where there is none."""
    if not isinstance(items, list):
        raise Unusable("a list of positions [longitude, latitude]", describe(items))
    rows = [_position(item) for item in items]
    return np.array(rows, np.float64).reshape(-1, 3)


def _position(item: Any) -> tuple[float, float, float]:
    numbers = item[:3] if isinstance(item, list) else []
    if len(numbers) < 2 or any(type(number) not in (int, float) for number in numbers):
        raise Unusable("a position [longitude, latitude] of two numbers, a height perhaps after them", describe(item))
    lon, lat = numbers[:2]
    high = float(numbers[2]) if len(numbers) > 2 and abs(numbers[2]) < 1e5 else math.nan
    if abs(lon) <= 180 and 90 < abs(lat) <= 180 and abs(lon) <= 90:
        expected = "longitude first, then latitude from −90 to 90"
        raise Unusable(expected, f"[{lon:g}, {lat:g}]: swapped? `--order lat-lon` reads them so")
    if abs(lon) <= 180 and abs(lat) <= 90:
        return float(lon), float(lat), high
    expected = "degrees: longitude from −180 to 180, then latitude from −90 to 90"
    raise Unusable(expected, f"[{_short(lon)}, {_short(lat)}], which may belong to another projection")


def _short(number: float) -> str:
    return f"{number:.6g}" if abs(number) < 1e300 else "a number without end"


def _ring(items: Any) -> Floats:
    """Return a ring's positions, closed; what repeats counts once."""
    ring = _positions(items)
    if len(ring) > 1 and not np.array_equal(ring[0, :2], ring[-1, :2]):
        ring = np.vstack([ring, ring[:1]])
    if len(np.unique(ring[:, :2], axis=0)) < 3:
        raise TooSmall("an outline of fewer than 3 different places")
    return ring


def _polygon(items: Any) -> tuple[Polygon, Floats]:
    if not isinstance(items, list) or not items:
        raise Unusable("a list of rings", describe(items))
    rings = [_ring(item) for item in items]
    return Polygon(rings[0][:, :2], [ring[:, :2] for ring in rings[1:]]), np.vstack(rings)


def _line(items: Any) -> tuple[LineString, Floats]:
    line = _positions(items)
    if len(np.unique(line[:, :2], axis=0)) < 2:
        raise TooSmall("a line without length")
    return LineString(line[:, :2]), line


def _point(item: Any) -> tuple[Point, Floats]:
    place = _positions([item])
    return Point(place[0, :2]), place


_BUILD: Final = {"Point": _point, "LineString": _line, "Polygon": _polygon}
_MULTI: Final = {"LineString": MultiLineString, "Polygon": MultiPolygon}


def shapes_of(geometry: Any, depth: int = 0) -> Iterator[tuple[BaseGeometry, Floats]]:
    """Yield the shapes of a GeoJSON geometry in degrees, each with its heights, float64[n, 3]; none for null.

    A MultiPolygon or MultiLineString comes as one shape; a collection, and a MultiPoint, as several.

    Raises
    ------
    Unusable
        Where it is no geometry, or has positions that can't be longitude and latitude.
    TooSmall
        Where its positions are too few to stand for anything.

    """
    if geometry is None:
        return
    kind = geometry.get("type") if isinstance(geometry, Mapping) else None
    if kind == "GeometryCollection" and isinstance(geometry.get("geometries"), list) and depth < _DEEPEST:
        for part in geometry["geometries"]:
            yield from shapes_of(part, depth + 1)
        return
    single = str(kind).removeprefix("Multi")
    if not isinstance(kind, str) or single not in _BUILD:
        raise Unusable("a geometry: Point, LineString, Polygon or several of one", describe(kind or geometry))
    items = geometry.get("coordinates")
    if not isinstance(items, list):
        raise Unusable("`coordinates`", describe(items))
    if items:
        yield from _built(single, items if kind != single else [items])


def _built(single: str, items: list[Any]) -> Iterator[tuple[BaseGeometry, Floats]]:
    built = [_BUILD[single](item) for item in items]
    if single == "Point" or len(built) == 1:
        yield from ((shape, _high(places)) for shape, places in built)
    else:
        yield _MULTI[single]([shape for shape, _ in built]), _high(np.vstack([places for _, places in built]))


def _high(places: Floats) -> Floats:
    return places[~np.isnan(places[:, 2])]
