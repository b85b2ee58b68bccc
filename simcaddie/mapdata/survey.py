"""A map laid out on one plane: hole lines, ground, pins and the rest, each with its meaning.

The plane serves to find what lies near what. A hole's own outlines are computed anew in its own frame.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np
import shapely
from shapely import LineString, Point, Polygon, STRtree
from shapely.geometry.base import BaseGeometry

from simcaddie.mapdata.features import MapData, MapFeature, Tags
from simcaddie.mapdata.globe import Frame
from simcaddie.mapdata.meaning import Meaning, meaning_of
from simcaddie.mapdata.outlines import mended, widened
from simcaddie.mapdata.seam import joined

__all__ = ["HoleLine", "Placed", "Survey", "survey"]

_POINTS: Final = ("pin", "landmark", "spot", "height")


@dataclass(frozen=True, slots=True)
class Placed:
    """A feature on the plane: a polygon, line or point in yards.

    ``crossed`` tells that the outline crossed itself and was mended, ``widened`` that the map has a line only;
    ``number`` is its place in the map.
    """

    meaning: Meaning
    shape: BaseGeometry
    tags: Tags
    label: str
    number: int
    crossed: bool = False
    widened: bool = False

    @property
    def holes(self) -> tuple[str, ...]:
        """The numbers of the holes that the map itself says it belongs to."""
        return tuple(ref.strip() for ref in self.tags.get("hole", "").split(";") if ref.strip())


@dataclass(frozen=True, slots=True)
class HoleLine:
    """A line of play, tee to green, in yards on the plane; ``ref`` is the hole's number as text, '' for none."""

    line: LineString
    ref: str
    tags: Tags
    label: str
    course: str = ""


@dataclass(slots=True)
class Survey:
    """All of a map on one plane. ``areas`` are polygons; ``stakes`` open lines of out of bounds; ``points`` the rest.

    ``heights`` is float64[n, 3] of longitude, latitude and metres.
    """

    frame: Frame
    lines: list[HoleLine] = field(default_factory=list)
    areas: list[Placed] = field(default_factory=list)
    stakes: list[Placed] = field(default_factory=list)
    points: list[Placed] = field(default_factory=list)
    courses: list[Placed] = field(default_factory=list)
    boundaries: list[Placed] = field(default_factory=list)
    heights: np.ndarray = field(default_factory=lambda: np.empty((0, 3)))
    left_out: Counter[str] = field(default_factory=Counter)
    _tree: STRtree | None = None

    def near(self, shape: BaseGeometry, distance: float) -> list[Placed]:
        """Return the areas within a distance of a shape, in the map's order."""
        if self._tree is None:
            self._tree = STRtree([area.shape for area in self.areas])
        found = self._tree.query(shape, predicate="dwithin", distance=distance)
        return [self.areas[number] for number in sorted(int(number) for number in found)]

    def greens(self) -> list[Placed]:
        """Return the greens."""
        return [area for area in self.areas if area.meaning.kind == "green"]


def survey(data: MapData) -> Survey:
    """Return a map laid out on a plane about its first hole line, or about its first feature where there is none."""
    known = [(meaning_of(feature.tags), feature) for feature in data.features]
    first = next((f for meaning, f in known if meaning and meaning.role == "hole"), None) or data.features[0]
    lon, lat = shapely.get_coordinates(first.shape)[0]
    made = Survey(Frame(float(lon), float(lat)), left_out=Counter(data.left_out))
    for number, (meaning, feature) in enumerate(known):
        if meaning is not None:
            _place(made, meaning, feature, number)
    heights = [feature.heights for feature in data.features if len(feature.heights)]
    if heights:
        made.heights = np.vstack(heights)
    _name_courses(made)
    return made


def _place(made: Survey, meaning: Meaning, feature: MapFeature, number: int) -> None:
    for shape, crossed, wide in _shapes(made.frame, meaning, feature.shape):
        placed = Placed(meaning, shape, feature.tags, feature.label, number, crossed, wide)
        flat, line = isinstance(shape, Polygon), isinstance(shape, LineString)
        if meaning.role == "hole" and line:
            made.lines.append(HoleLine(shape, feature.tags.get("ref", ""), feature.tags, feature.label))
        elif meaning.role == "area" and flat:
            made.areas.append(placed)
        elif meaning.kind == "out_of_bounds" and line:
            made.stakes.append(placed)
        elif meaning.role in ("course", "boundary") and flat:
            (made.courses if meaning.role == "course" else made.boundaries).append(placed)
        elif isinstance(shape, Point) and (meaning.role in _POINTS or meaning.kind == "tee"):
            made.points.append(placed)
        else:
            what = (meaning.kind or meaning.role).replace("_", " ")
            drawn = "a line" if line else "an outline" if flat else "a point"
            made.left_out[f"{what} drawn as {drawn}"] += 1


def _shapes(frame: Frame, meaning: Meaning, shape: BaseGeometry) -> Iterable[tuple[BaseGeometry, bool, bool]]:
    """Yield the parts of a shape on the plane: polygons mended, closed lines filled, lines given their width."""
    flat = joined(frame.shape_to_plane(shape), shape)
    for part in shapely.get_parts(flat):
        if isinstance(part, Polygon) or (meaning.closed_is_area and _is_closed(part)):
            pieces, crossed = mended(part if isinstance(part, Polygon) else Polygon(part))
            yield from ((piece, crossed, False) for piece in pieces)
        elif isinstance(part, LineString) and meaning.role == "area" and meaning.width > 0.0:
            yield from ((piece, False, True) for piece in widened(part, meaning.width))
        else:
            yield part, False, False


def _is_closed(part: BaseGeometry) -> bool:
    return isinstance(part, LineString) and len(part.coords) > 3 and part.is_closed


def _name_courses(made: Survey) -> None:
    """Note for each hole line the course whose outline holds most of it."""
    for place, hole in enumerate(made.lines):
        shares = [(course.shape.intersection(hole.line).length, -n) for n, course in enumerate(made.courses)]
        share, first = max(shares, default=(0.0, 0))
        if share > 0.0:
            name = made.courses[-first].tags.get("name", "")
            made.lines[place] = replace(hole, course=name)
