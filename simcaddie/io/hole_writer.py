"""A hole record to the text of a hole file: what ``read_hole`` reads, in the layout of the demo holes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import shapely
from shapely import LinearRing

from simcaddie.base.units import YARDS_PER
from simcaddie.course.hole import TREE_DENSITY, TREE_HEIGHT, Area, Hole
from simcaddie.io.yaml_writer import comment, flow, number, word, wrapped

__all__ = ["hole_text"]


def hole_text(
    hole: Hole,
    *,
    head: Sequence[str] = (),
    remarks: Mapping[str, str] | None = None,
    area_remarks: Sequence[str] = (),
    decimals: int = 1,
) -> str:
    """Return the text of a hole's file, in the units that the record names.

    Parameters
    ----------
    hole : the hole; smooth outlines come out as the points that they were drawn with
    head : comments above everything
    remarks : comments by key of the file
    area_remarks : comments by area, '' for none
    decimals : places of lengths; a yard's tenth is enough for any map

    """
    notes = remarks or {}
    scale = 1.0 / YARDS_PER[hole.units]
    lines = [comment(text) for text in head]
    for key, value in _plain_keys(hole, scale, decimals):
        lines.append(comment(notes.get(key, "")) + f"{key}: {value}\n")
    lines.append(comment(notes.get("areas", "")) + "areas:\n")
    padded = [*area_remarks, *[""] * (len(hole.areas) - len(area_remarks))]
    lines += [
        comment(remark, 2) + _area(area, scale, decimals) for area, remark in zip(hole.areas, padded, strict=True)
    ]
    for key, head_text, items, tail in _long_keys(hole, scale, decimals):
        lines.append(comment(notes.get(key, "")) + wrapped(f"{key}: {head_text}", items, tail, len(key) + 3) + "\n")
    if hole.origin is not None:
        lines.append(f"origin: {flow({'lon': hole.origin[0], 'lat': hole.origin[1]}, 9)}\n")
    if hole.source:
        lines.append(comment(notes.get("source", "")) + f"source: {word(hole.source)}\n")
    return "".join(lines)


def _places(places: Mapping[str, Sequence[float]], scale: float, decimals: int) -> str:
    return flow({name: [v * scale for v in at] for name, at in places.items()}, decimals)


def _plain_keys(hole: Hole, scale: float, decimals: int) -> Iterable[tuple[str, str]]:
    yield "format", "1"
    yield "name", word(hole.name)
    yield "par", str(hole.par)
    if hole.stroke_index is not None:
        yield "stroke_index", str(hole.stroke_index)
    yield "units", hole.units
    if hole.bearing is not None:
        yield "bearing", number(hole.bearing, 6)
    yield "tees", _places(hole.tees, scale, decimals)
    yield "pins", _places(hole.pins, scale, decimals)
    yield "surround", hole.surround


def _points(ring: LinearRing, scale: float, decimals: int) -> list[str]:
    """Return the points of a ring, the closing one left out."""
    return [flow(list(point), decimals) for point in shapely.get_coordinates(ring)[:-1] * scale]


def _area(area: Area, scale: float, decimals: int) -> str:
    keys: dict[str, Any] = {"kind": area.kind}
    if area.name:
        keys["name"] = area.name
    if area.marking:
        keys["marking"] = area.marking
    if area.surface.canopy:
        if not math.isclose(area.height, TREE_HEIGHT):
            keys["height"] = area.height * scale
        if not math.isclose(area.density, TREE_DENSITY):
            keys["density"] = area.density
    if area.tilt:
        keys["tilt"] = {"percent": area.tilt[0], "toward": math.degrees(area.tilt[1])}
    opening = "  - " + flow(keys, 6)[:-1] + ","
    rings = [_points(ring, scale, decimals) for ring in (area.outline.exterior, *area.outline.interiors)]
    last = len(rings) == 1
    text = opening + "\n" + wrapped("     outline: [", rings[0], "]}\n" if last else "],\n", 15)
    if last:
        return text + "\n"
    inner = [wrapped("[" if n else "     inner: [[", ring, "]", 14) for n, ring in enumerate(rings[1:])]
    return text + "\n" + (",\n" + " " * 13).join(inner) + "]}\n"


def _long_keys(hole: Hole, scale: float, decimals: int) -> Iterable[tuple[str, str, list[str], str]]:
    """Yield (key, opening, items, closing) of the keys that may need several lines."""
    if hole.line:
        yield "line", "[", [flow([v * scale for v in at], decimals) for at in hole.line], "]"
    if hole.boundary is not None:
        yield "boundary", "[", _points(hole.boundary.exterior, scale, decimals), "]"
    if hole.heights is not None:
        yield "heights", "[", [flow(list(row), decimals) for row in hole.heights * scale], "]"
    if hole.landmarks:
        marks = [{"name": mark.name, "at": [v * scale for v in mark.at]} for mark in hole.landmarks]
        yield "landmarks", "[", [flow(mark, decimals) for mark in marks], "]"
    if hole.spots:
        spots = {name: {"at": [v * scale for v in spot.at], "lie": spot.lie} for name, spot in hole.spots.items()}
        yield "spots", "{", [f"{word(name)}: {flow(spot, decimals)}" for name, spot in spots.items()], "}"
    if hole.local_rules:
        yield "local_rules", "[", sorted(hole.local_rules), "]"
