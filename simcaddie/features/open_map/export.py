"""Hole records to GeoJSON (RFC 7946), to be looked at over a photograph in any map editor, and to come back.

Positions have nine decimals, a tenth of a millimetre: what comes back by ``import-map`` is the same hole. Outer rings
run counterclockwise, inner ones clockwise; what crosses the 180th meridian is cut there (3.1.9).
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, Final

import shapely
from shapely import LineString, MultiLineString, MultiPolygon, Polygon, box
from shapely.affinity import translate
from shapely.geometry import mapping
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from simcaddie.base.errors import BadRequest
from simcaddie.base.surfaces import TEE
from simcaddie.base.units import METRES_PER_YARD
from simcaddie.course.hole import Area, Hole
from simcaddie.course.route import line_of_play
from simcaddie.features.open_map.globe import Frame

__all__ = ["geojson_text"]

DIGITS: Final = 9
_WEST, _EAST = box(-180.0, -90.0, 180.0, 90.0), box(180.0, -90.0, 540.0, 90.0)

Feature = dict[str, Any]


def geojson_text(holes: Mapping[str, Hole]) -> str:
    """Return a FeatureCollection of holes by number; one feature a line.

    Raises
    ------
    BadRequest
        Where a hole's place on Earth isn't known.

    """
    features = [feature for ref, hole in holes.items() for feature in _features(ref, hole)]
    sources = dict.fromkeys(hole.source for hole in holes.values() if hole.source)
    head = {"type": "FeatureCollection"} | ({"attribution": "; ".join(sources)} if sources else {})
    opening = json.dumps(head, ensure_ascii=False)[:-1]
    rows = ",\n".join(json.dumps(feature, ensure_ascii=False, allow_nan=False) for feature in features)
    return f'{opening}, "features": [\n{rows}\n]}}\n'


def _features(ref: str, hole: Hole) -> Iterator[Feature]:
    if hole.origin is None or hole.bearing is None:
        raise BadRequest(
            f"{hole.name} doesn't say where and how it lies on Earth: add `origin: {{lon: …, lat: …}}`, the longitude "
            "and latitude of its point [0, 0], to its file, and `bearing`, the compass direction of +y"
        )
    frame = Frame(*hole.origin, hole.bearing)
    yield _feature(_on_globe(frame, _line(hole)), _hole_tags(ref, hole))
    for area in hole.areas:
        yield _feature(_on_globe(frame, area.outline), _area_tags(hole, area) | {"hole": ref})
    if hole.boundary is not None:
        yield _feature(_on_globe(frame, hole.boundary), {"kind": "boundary", "hole": ref})
    for at, tags, high in _points(hole):
        lon, lat = (round(float(v), DIGITS) for v in frame.to_globe([at])[0])
        place = [lon, lat] if high is None else [lon, lat, high]
        point = {"type": "Point", "coordinates": place}
        yield {"type": "Feature", "properties": tags | {"hole": ref}, "geometry": point}


def _line(hole: Hole) -> LineString:
    """Return the hole's line, else the line of play from the first tee."""
    if hole.line:
        return LineString(hole.line)
    tee = next(iter(hole.tees.values()))
    return LineString(line_of_play(hole, tee))


def _hole_tags(ref: str, hole: Hole) -> dict[str, Any]:
    tags: dict[str, Any] = {"kind": "hole", "ref": ref, "name": hole.name, "par": hole.par}
    if hole.stroke_index is not None:
        tags["stroke_index"] = hole.stroke_index
    lon, lat = hole.origin or (0.0, 0.0)
    tags |= {"units": hole.units, "surround": hole.surround}
    tags |= {"origin_lon": lon, "origin_lat": lat, "bearing": hole.bearing}
    if not hole.line:
        tags["line"] = "found"  # not drawn by anybody, so no part of what comes back
    if hole.local_rules:
        tags["local_rules"] = ";".join(sorted(hole.local_rules))
    return tags | ({"attribution": hole.source} if hole.source else {})


def _area_tags(hole: Hole, area: Area) -> dict[str, Any]:
    """Return the properties of an area: lengths in metres, directions by the compass, as maps have them."""
    tags: dict[str, Any] = {"kind": area.kind}
    if area.name:
        tags["name"] = area.name
    if area.marking:
        tags["marking"] = area.marking
    if area.surface.canopy:
        tags |= {"height": round(area.height * METRES_PER_YARD, 6), "density": area.density}
    if area.tilt:
        toward = (math.degrees(area.tilt[1]) + (hole.bearing or 0.0)) % 360.0
        tags |= {"tilt": area.tilt[0], "tilt_toward": round(toward, 9)}
    return tags


def _points(hole: Hole) -> Iterable[tuple[Sequence[float], dict[str, Any], float | None]]:
    for kind, named in ((TEE, hole.tees), ("pin", hole.pins)):
        yield from ((at, {"kind": kind, "name": name}, None) for name, at in named.items())
    yield from ((mark.at, {"kind": "landmark", "name": mark.name}, None) for mark in hole.landmarks)
    yield from ((spot.at, {"kind": "spot", "name": name, "lie": spot.lie}, None) for name, spot in hole.spots.items())
    for x, y, high in hole.heights if hole.heights is not None else ():
        metres = round(float(high) * METRES_PER_YARD, 6)
        yield (float(x), float(y)), {"kind": "height", "height": metres}, metres


def _on_globe(frame: Frame, shape: BaseGeometry) -> BaseGeometry:
    """Return a shape in degrees, cut where it crosses the 180th meridian."""
    round_earth = frame.shape_to_globe(shape)
    west, _, east, _ = round_earth.bounds
    if east - west <= 180.0:
        return round_earth
    unrolled = shapely.transform(round_earth, lambda p: p + (p[:, :1] < 0.0) * [[360.0, 0.0]])
    here = shapely.get_parts(unrolled.intersection(_WEST))
    there = [translate(part, -360.0) for part in shapely.get_parts(unrolled.intersection(_EAST))]
    parts = [part for part in (*here, *there) if part.geom_type == shape.geom_type]
    return MultiPolygon(parts) if isinstance(shape, Polygon) else MultiLineString(parts)


def _feature(shape: BaseGeometry, tags: dict[str, Any]) -> Feature:
    if isinstance(shape, Polygon):
        shape = orient(shape)
    elif isinstance(shape, MultiPolygon):
        shape = MultiPolygon([orient(part) for part in shape.geoms])
    rounded = shapely.transform(shape, lambda p: p.round(DIGITS))
    return {"type": "Feature", "properties": tags, "geometry": mapping(rounded)}
