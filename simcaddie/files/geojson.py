"""Reading GeoJSON (RFC 7946): features that mean something to us, as shapes in degrees.

Positions are longitude, then latitude, then perhaps a height in metres. What a feature is comes from its properties,
flat or as some programs nest OpenStreetMap's tags: ``tags: {...}`` or ``other_tags: "golf"=>"tee"``. Features that are
nothing to us are passed over unseen, so that a map of a whole county may be read.
"""

from __future__ import annotations

import json
import os
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final, NoReturn

from simcaddie.errors import BadFile, Fault
from simcaddie.files.geojson_shapes import TooSmall, Unusable, shapes_of, turned_round
from simcaddie.files.nodes import PathLike, read_text, shown
from simcaddie.files.told import MAX_FAULTS, describe, near
from simcaddie.mapdata.features import MapData, MapFeature, Tags
from simcaddie.mapdata.meaning import ROLES, meaning_of
from simcaddie.surfaces import NAMES

__all__ = ["MAX_MAP_BYTES", "OSM_SOURCE", "map_of", "read_geojson"]

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
        str(key): _text(value)
        for key, value in _pairs(item)
        if isinstance(value, str | int | float) and _text(value)
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
