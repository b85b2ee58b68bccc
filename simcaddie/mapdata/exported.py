"""Holes that ``export-map`` wrote, taken back as they were: same frame, same outlines, nothing simplified or guessed.

Such a hole's line carries its frame (``origin_lon``, ``origin_lat``, ``bearing``), and every feature the number of its
hole (``hole``). What was drawn on top of it in a map editor carries none, and comes in as from any other map.
"""

from __future__ import annotations

import math
import re
from typing import Any, Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from simcaddie.ground.hole import Area, Hole, Landmark, Point, Spot
from simcaddie.mapdata.areas import Wishes, area_of, clean_name, drawn_areas
from simcaddie.mapdata.build import start_draft
from simcaddie.mapdata.draft import Drawn, HoleDraft
from simcaddie.mapdata.features import Tags
from simcaddie.mapdata.globe import Frame
from simcaddie.mapdata.match import Matched
from simcaddie.mapdata.meaning import number_in
from simcaddie.mapdata.survey import Placed, Survey
from simcaddie.units import METRES_PER_YARD, YARDS_PER

__all__ = ["DECIMALS", "build_exported", "was_exported"]

DECIMALS: Final = 3  # places of lengths: what comes back differs by no more than half of one
_FRAME: Final = ("origin_lon", "origin_lat", "bearing")


def was_exported(tags: Tags) -> bool:
    """Tell whether a hole line comes from ``export-map``."""
    return all(number_in(tags.get(key)) is not None for key in _FRAME)


def build_exported(made: Survey, matched: Matched, ref: str, wishes: Wishes) -> HoleDraft:
    """Return the draft of a hole that was exported."""
    tags = matched.hole.tags
    lon, lat, bearing = (float(tags[key]) for key in _FRAME)
    draft = start_draft(made, matched.hole, ref, Frame(lon, lat, bearing))
    draft.decimals = DECIMALS
    mine = [placed for placed in made.areas if ref in placed.holes]
    extra = _extra_areas(made, matched, draft, wishes)
    drawn = [*(d for placed in mine for d in _areas(made, draft, placed)), *extra]
    draft.area_remarks = [item.remark for item in drawn]
    points = {role: _points(made, draft, ref, role) for role in ("pin", "landmark", "spot", "height", "tee")}
    for what in ("tee", "pin"):
        if not points[what]:
            draft.missing.append(f"a {what} with `hole: {ref}`")
    if not any(item.area.kind == "green" for item in drawn):
        draft.missing.append(f"a green with `hole: {ref}`")
    for item in drawn:
        draft.found[item.area.kind] = draft.found.get(item.area.kind, 0) + 1
    if not draft.missing:
        draft.hole = _hole(made, matched, draft, tuple(item.area for item in drawn), points)
    return draft


def _extra_areas(made: Survey, matched: Matched, draft: HoleDraft, wishes: Wishes) -> list[Drawn]:
    """Return what lies near the hole without belonging to any exported one."""
    free = Survey(made.frame, areas=[placed for placed in made.areas if not placed.holes])
    others = Matched(matched.hole, None, (), ())
    return drawn_areas(free, others, draft, wishes) if free.areas else []


def _areas(made: Survey, draft: HoleDraft, placed: Placed) -> list[Drawn]:
    shape = draft.frame.shape_from(made.frame, placed.shape)
    if not isinstance(shape, Polygon):  # unreachable: the survey keeps polygons only
        return []
    percent, toward = number_in(placed.tags.get("tilt")), number_in(placed.tags.get("tilt_toward"))
    area = area_of(placed, shape, Wishes())
    if placed.meaning.kind == "green" and percent is not None and toward is not None:
        turn = math.remainder(toward - draft.frame.bearing, 360.0)
        area = Area(area.kind, area.outline, area.name, tilt=(percent, math.radians(turn)))
    return [Drawn(area, "mended: the outline crossed itself" if placed.crossed else "")]


def _points(made: Survey, draft: HoleDraft, ref: str, role: str) -> list[tuple[Placed, Point]]:
    """Return the points of a hole with a role, in its frame."""
    placed = [p for p in made.points if ref in p.holes and role in {p.meaning.role, p.meaning.kind}]
    at = [shapely.get_coordinates(draft.frame.shape_from(made.frame, p.shape))[0] for p in placed]
    return [(p, (float(x), float(y))) for p, (x, y) in zip(placed, at, strict=True)]


def _name(placed: Placed) -> str:
    return clean_name(placed.tags.get("name", "")) or "unnamed"


def _heights(points: list[tuple[Placed, Point]]) -> NDArray[np.float64] | None:
    rows = [(*at, number_in(placed.tags.get("height"))) for placed, at in points]
    known = [(x, y, high / METRES_PER_YARD) for x, y, high in rows if high is not None]
    return np.array(known) if known else None


def _hole(
    made: Survey, matched: Matched, draft: HoleDraft, areas: tuple[Area, ...], points: dict[str, Any]
) -> Hole:
    tags = matched.hole.tags
    index, par = number_in(tags.get("stroke_index")), number_in(tags.get("par"))
    limit = next((b for b in made.boundaries if draft.ref in b.holes), None)
    boundary = draft.frame.shape_from(made.frame, limit.shape) if limit else None
    units = tags.get("units", "yards")
    return Hole(
        name=clean_name(tags.get("name", "")) or f"Hole {draft.ref}",
        par=int(par) if par in (3, 4, 5, 6) else 4,
        stroke_index=int(index) if index is not None else None,
        tees={_name(placed): at for placed, at in points["tee"]},
        pins={_name(placed): at for placed, at in points["pin"]},
        areas=areas,
        bearing=draft.frame.bearing,
        line=() if tags.get("line") == "found" else tuple((float(x), float(y)) for x, y in draft.line.coords),
        surround=tags.get("surround", "rough"),
        boundary=Polygon(boundary.exterior) if isinstance(boundary, Polygon) else None,
        heights=_heights(points["height"]),
        landmarks=tuple(Landmark(_name(placed), at) for placed, at in points["landmark"]),
        spots={_name(placed): Spot(at, placed.tags.get("lie", "rough")) for placed, at in points["spot"]},
        local_rules=frozenset(rule for rule in re.split(r"[;\s]+", tags.get("local_rules", "")) if rule),
        origin=(draft.frame.lon, draft.frame.lat),
        source=clean_name(tags.get("attribution", ""), 500),
        units=units if units in YARDS_PER else "yards",
    )
