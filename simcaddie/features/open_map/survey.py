"""A map laid out on one plane: hole lines, ground, pins and the rest, each with its meaning, its outlines mended.

The plane serves to find what lies near what. A hole's own outlines are computed anew in its own frame.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np
import shapely
from shapely import LineString, MultiPolygon, Point, Polygon, STRtree
from shapely.geometry.base import BaseGeometry

from simcaddie.base.surfaces import GREEN, OUT, TEE
from simcaddie.features.open_map.globe import Frame, joined
from simcaddie.features.open_map.tags import MapData, MapFeature, Meaning, Tags, meaning_of

__all__ = [
    "TOLERANCE",
    "HoleLine",
    "Placed",
    "Survey",
    "mended",
    "polygons_in",
    "readable",
    "sound",
    "survey",
    "widened",
]

# ─── Outlines fit for a hole file: mended where they cross, with few points, on round numbers ─────────────────────────
#
# The points that stay are chosen by D. H. Douglas and T. K. Peucker, "Algorithms for the reduction of the number of
# points required to represent a digitized line or its caricature", Cartographica 10, 1973: what is left out lies within
# a tolerance of the straight line drawn instead. Rounding moves a point by half a step at most each way, so the choice
# gets
#
#     tolerance of the choice = TOLERANCE − step / √2
#
# A choice that keeps rings from crossing can leave its tolerance where a ring begins, so what comes out is measured,
# and chosen again with less until no place of the new outline is further than TOLERANCE from the old one, nor the other
# way round. Where rings touch, all points stay and inner rings are drawn in by a step instead.

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


# ─── The plane ────────────────────────────────────────────────────────────────────────────────────────────────────────

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
        return [area for area in self.areas if area.meaning.kind == GREEN]


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
        elif meaning.kind == OUT and line:
            made.stakes.append(placed)
        elif meaning.role in ("course", "boundary") and flat:
            (made.courses if meaning.role == "course" else made.boundaries).append(placed)
        elif isinstance(shape, Point) and (meaning.role in _POINTS or meaning.kind == TEE):
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
