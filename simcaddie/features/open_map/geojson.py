"""Reading GeoJSON (RFC 7946): features that mean something to us, as shapes in degrees.

Positions are longitude, then latitude, then perhaps a height in metres. What a feature is comes from its properties,
flat or as some programs nest OpenStreetMap's tags: ``tags: {...}`` or ``other_tags: "golf"=>"tee"``. Features that
are nothing to us are passed over unseen, so that a map of a whole county may be read.
"""

from __future__ import annotations

import json
import math
import os
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final, NoReturn

import numpy as np
from numpy.typing import NDArray
from shapely import LineString, MultiLineString, MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from simcaddie.base.errors import BadFile, Fault
from simcaddie.base.surfaces import NAMES
from simcaddie.features.open_map.tags import ROLES, MapData, MapFeature, Tags, meaning_of
from simcaddie.io.faults import MAX_FAULTS, describe, near
from simcaddie.io.yaml_reader import PathLike, read_text, shown

__all__ = ["MAX_MAP_BYTES", "read_geojson"]

Floats = NDArray[np.float64]

# ─── Geometry: every position looked at before it becomes a shape ─────────────────────────────────────────────────────

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


# ─── Features ─────────────────────────────────────────────────────────────────────────────────────────────────────────

MAX_MAP_BYTES: Final = 100_000_000
OSM_SOURCE: Final = "© OpenStreetMap contributors, ODbL 1.0 (openstreetmap.org/copyright)"

_HSTORE: Final = re.compile(r'"((?:[^"\\]|\\.)*)"\s*=>\s*"((?:[^"\\]|\\.)*)"')
_OSM_ID: Final = re.compile(r"(node|way|relation)/\d+")
_CRS: Final = re.compile(r"CRS84|EPSG:+4326$|WGS ?84", re.IGNORECASE)
_GEOMETRIES: Final = (
    "Point", "MultiPoint", "LineString", "MultiLineString", "Polygon", "MultiPolygon", "GeometryCollection",
)  # fmt: skip


def read_geojson(path: PathLike, *, swap: bool = False) -> MapData:
    """Return what a GeoJSON file of at most 100 MB holds for us; ``swap`` reads latitude first.

    Raises
    ------
    BadFile
        Where it isn't GeoJSON, isn't in degrees of WGS 84, or holds features that can't be right.

    """
    file = shown(os.fsdecode(path), 200)
    text = read_text(path, limit=MAX_MAP_BYTES)

    def refuse(word: str) -> NoReturn:
        raise ValueError(word)

    try:
        data = json.loads(text, parse_constant=refuse)
    except json.JSONDecodeError as error:
        rows = text.splitlines() or [""]
        row = rows[min(error.lineno, len(rows)) - 1]
        place = shown(row[max(0, error.colno - 10) :].strip(), 30)
        raise BadFile([Fault(file, error.lineno, "", "GeoJSON", f"something else near '{place}'")]) from None
    except (ValueError, RecursionError) as error:
        found = f"`{shown(str(error))}`" if isinstance(error, ValueError) else "brackets nested without end"
        raise BadFile([Fault(file, 0, "", "GeoJSON", found)]) from None
    return map_of(data, file, swap=swap)


def map_of(data: Any, file: str, *, swap: bool = False) -> MapData:
    """Return what parsed GeoJSON holds for us; see ``read_geojson``."""
    items = _items(data, file)
    _check_system(data, file)
    features: list[MapFeature] = []
    faults: list[Fault] = []
    left_out: Counter[str] = Counter()
    from_osm = False
    for number, item in enumerate(items, start=1):
        if not isinstance(item, Mapping) or item.get("type") != "Feature":
            faults.append(Fault(file, 0, f"features > no. {number}", '`"type": "Feature"`', describe(item)))
            continue
        tags = _tags(item)
        from_osm |= bool(_OSM_ID.fullmatch(str(item.get("id", tags.get("@id", "")))))
        if meaning_of(tags) is None:
            left_out.update(_passed_over(tags))
            continue
        label = _label(item, tags, number)
        geometry = turned_round(item.get("geometry")) if swap else item.get("geometry")
        try:
            features += (MapFeature(shape, tags, label, high) for shape, high in shapes_of(geometry))
        except TooSmall as error:
            left_out[str(error)] += 1
        except Unusable as error:
            faults.append(Fault(file, 0, f"features > {label}", error.expected, error.found))
    if faults:
        raise BadFile(faults[:MAX_FAULTS])
    source, assumed = _source(data, file, from_osm)
    name = data.get("name")
    return MapData(tuple(features), name if isinstance(name, str) else "", source, assumed, dict(left_out))


def _items(data: Any, file: str) -> list[Any]:
    """Return the features of a file, whatever of GeoJSON it begins with."""
    kind = data.get("type") if isinstance(data, Mapping) else None
    if kind == "FeatureCollection" and isinstance(data.get("features"), list):
        return list(data["features"])
    if kind == "Feature":
        return [data]
    if kind in _GEOMETRIES:
        expected = "features with properties, which say what is what"
        raise BadFile([Fault(file, 0, "", expected, f"a bare {kind}")])
    found = f'`"type": {json.dumps(kind)}`' if isinstance(kind, str) else describe(data)
    raise BadFile([Fault(file, 0, "", "GeoJSON: a FeatureCollection", shown(found))])


def _check_system(data: Mapping[str, Any], file: str) -> None:
    """Refuse coordinates that the file itself says aren't WGS 84 (the `crs` of GeoJSON before RFC 7946)."""
    crs = data.get("crs")
    name = crs.get("properties", {}).get("name") if isinstance(crs, Mapping) else None
    if isinstance(name, str) and not _CRS.search(name):
        expected = "longitude and latitude in degrees (WGS 84, as RFC 7946 has it)"
        raise BadFile([Fault(file, 0, "crs", expected, shown(name))])


def _text(value: Any) -> str:
    """Return a property as a tag is written: OpenStreetMap's are all text."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return str(value).strip()


def _pairs(item: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    given = item.get("properties")
    properties = given if isinstance(given, Mapping) else {}
    other = properties.get("other_tags")
    if isinstance(other, str):
        yield from _HSTORE.findall(other)
    nested = properties.get("tags")
    if isinstance(nested, Mapping):
        yield from nested.items()
    yield from properties.items()


def _tags(item: Mapping[str, Any]) -> Tags:
    return {
        str(key): _text(value) for key, value in _pairs(item) if isinstance(value, str | int | float) and _text(value)
    }


def _label(item: Mapping[str, Any], tags: Tags, number: int) -> str:
    name = str(item.get("id", "")) or tags.get("@id", "") or tags.get("name", "")
    return f"no. {number} ({shown(name, 40)})" if name else f"no. {number}"


def _passed_over(tags: Tags) -> Iterator[str]:
    """Tell what golf things, and what words of ours misspelt, a feature is that means nothing to us."""
    if "golf" in tags:
        yield f"golf={shown(tags['golf'], 40)}"
    elif "kind" in tags:
        close = near(tags["kind"], (*NAMES, *ROLES))
        yield f"kind: {shown(tags['kind'], 40)}" + (f" (did you mean {close}?)" if close else "")
    elif "waterway" in tags and "tunnel" in tags:
        yield f"waterway={shown(tags['waterway'], 40)} under the ground"


def _source(data: Mapping[str, Any], file: str, from_osm: bool) -> tuple[str, bool]:
    """Return whose map it is and under which licence, and whether that is a guess."""
    for key in ("attribution", "copyright", "license", "licence", "source"):
        given = data.get(key)
        if isinstance(given, str) and given.strip():
            said = shown(given.strip(), 400)
            known = "openstreetmap" not in said.lower() or "odbl" in said.lower()
            return (said if known else f"{said} – ODbL 1.0 (openstreetmap.org/copyright)"), False
    if from_osm or "overpass" in str(data.get("generator", "")).lower():
        return OSM_SOURCE, True
    return f"drawn by hand or of unknown source: {shown(Path(file).name, 100)}", True
