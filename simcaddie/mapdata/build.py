"""One hole line of a map to a hole record: frame, ground, points, par; what was assumed; what is missing."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

import shapely
from shapely import Polygon, box

from simcaddie.ground.hole import Area, Hole, Spot
from simcaddie.mapdata.areas import Wishes, clean_name, drawn_areas
from simcaddie.mapdata.bounds import boundary_of
from simcaddie.mapdata.draft import Drawn, HoleDraft
from simcaddie.mapdata.globe import Frame, geodesic_bearing, geodesic_length
from simcaddie.mapdata.match import Matched
from simcaddie.mapdata.meaning import number_in, yards_in
from simcaddie.mapdata.outlines import polygons_in
from simcaddie.mapdata.places import heights_of, landmarks_of, pins_of, rounded, spots_of, tees_of
from simcaddie.mapdata.survey import HoleLine, Survey
from simcaddie.surfaces import code

__all__ = ["build", "file_stem", "par_by_length"]

# R&A and USGA, Rules of Handicapping, Appendix F, men, sea level: par 3 up to 260 yd, 4 from 240 to 490, 5 from 450 to
# 710, 6 from 670. Where two overlap, half-way.
_PARS: Final = ((250.0, 3), (470.0, 4), (690.0, 5))
SHORTEST, LONGEST = 30.0, 1200.0  # yd; what a hole line may measure
TEE_HALF: Final = 4.0  # yd: half the side of a tee drawn where the map has none
_STANDS: Final = ("rough", "light_rough", "fairway", "tee", "path", "heather")  # where a tee can stand


def par_by_length(yards: float) -> int:
    """Return the par of a hole by its length.

    >>> [par_by_length(yards) for yards in (170, 330, 520, 720)]
    [3, 4, 5, 6]
    """
    return next((par for most, par in _PARS if yards <= most), 6)


def file_stem(ref: str) -> str:
    """Return the name of a hole's file by its number: ``hole-07``."""
    number = re.fullmatch(r"0*(\d{1,3})", ref)
    return f"hole-{int(number[1]):02d}" if number else f"hole-{ref}"


def frame_of(made: Survey, hole: HoleLine) -> Frame:
    """Return the frame of a hole line: its start the origin, its first piece +y; on numbers as a file has them."""
    (lon, lat), second = made.frame.to_globe(hole.line.coords[:2])
    origin = (round(float(lon), 7), round(float(lat), 7))
    bearing = round(geodesic_bearing(origin, (float(second[0]), float(second[1]))), 2) % 360.0
    return Frame(*origin, bearing)


def start_draft(made: Survey, hole: HoleLine, ref: str, frame: Frame) -> HoleDraft:
    """Return the draft of a hole with nothing in it yet."""
    line = frame.shape_from(made.frame, hole.line)
    length = geodesic_length(made.frame.to_globe(hole.line.coords))
    return HoleDraft(ref, file_stem(ref), hole.label, frame, line, length)


def build(made: Survey, matched: Matched, ref: str, wishes: Wishes) -> HoleDraft:
    """Return the draft of a hole, its record in it where there is a green and a line to play."""
    draft = start_draft(made, matched.hole, ref, frame_of(made, matched.hole))
    if matched.turned:
        draft.say("the hole line ran from green to tee: turned round")
    if not SHORTEST <= draft.length <= LONGEST:
        draft.missing.append(f"a hole line of {SHORTEST:g} to {LONGEST:g} yd; this one has {draft.length:.0f}")
        return draft
    boundary, inside = boundary_of(made, matched, draft, wishes)
    drawn = drawn_areas(made, matched, draft, wishes, boundary)
    greens = [item.area.outline for item in drawn if item.area.kind == "green"]
    if not greens:
        draft.missing.append("a green at either end of the hole line")
        return draft
    drawn = [*drawn, *inside]
    tees = tees_of(made, matched, draft, wishes.step)
    drawn = _standing(drawn, tees, draft)
    if (heights := heights_of(made, draft, wishes.step)) is not None:
        draft.found["spot height"] = len(heights)
    hole = Hole(
        name=_name(matched.hole, ref),
        par=_par(matched.hole, draft),
        stroke_index=_stroke_index(matched.hole, draft),
        tees=tees,
        pins=pins_of(made, matched, draft, greens, wishes.step),
        areas=tuple(item.area for item in drawn),
        bearing=draft.frame.bearing,
        line=tuple(rounded(at, draft, wishes.step) for at in draft.line.coords),
        boundary=boundary,
        heights=heights,
        landmarks=landmarks_of(made, matched, draft, wishes.step),
        spots=spots_of(made, matched, draft, wishes.step),
        origin=(draft.frame.lon, draft.frame.lat),
        units=wishes.units,
    )
    draft.area_remarks = [item.remark for item in drawn]
    draft.hole = replace(hole, spots=_with_lies(hole))
    draft.assume("surround", "rough outside every area")
    _look_over(matched, draft)
    return draft


def _name(hole: HoleLine, ref: str) -> str:
    course = clean_name(hole.course, 60)
    name = clean_name(hole.tags.get("name", ""))
    return name or (f"{course}, hole {ref}" if course else f"Hole {ref}")


def _par(hole: HoleLine, draft: HoleDraft) -> int:
    par = number_in(hole.tags.get("par"))
    if par in (3, 4, 5, 6):
        return int(par)
    if par is not None:
        draft.say(f"par {par:g} on the map, which no hole file can have")
    assumed = par_by_length(draft.length)
    draft.assume("par", f"{assumed}, by the length of {draft.length:.0f} yd, the map has no par")
    return assumed


def _stroke_index(hole: HoleLine, draft: HoleDraft) -> int | None:
    index = number_in(hole.tags.get("stroke_index", hole.tags.get("handicap")))
    if index is not None and index in range(1, 19):
        return int(index)
    draft.missing.append("stroke index")
    return None


def _ground(drawn: list[Drawn], place: shapely.Point) -> str:
    kinds = [item.area.kind for item in drawn if item.area.outline.covers(place)]
    return max(kinds, key=code, default="rough")


def _standing(drawn: list[Drawn], tees: dict[str, tuple[float, float]], draft: HoleDraft) -> list[Drawn]:
    """Return the areas with solid ground under every tee: cut free where something lies over it, else drawn."""
    for name, at in tees.items():
        place = shapely.Point(at)
        kind = _ground(drawn, place)
        if kind in _STANDS:
            continue
        plot = box(at[0] - TEE_HALF, at[1] - TEE_HALF, at[0] + TEE_HALF, at[1] + TEE_HALF)
        under = code(kind) > code("tee")
        drawn = [part for item in drawn for part in (_cut(item, plot) if under else [item])]
        drawn = sorted([*drawn, Drawn(Area("tee", plot), "assumed: a tee here, where the map has none")],
                       key=lambda item: code(item.area.kind))  # fmt: skip
        draft.assume("tees", f"ground for the {name} tee in the {kind.replace('_', ' ')}")
    return drawn


def _cut(item: Drawn, plot: Polygon) -> list[Drawn]:
    """Return an area that lies over tees without a plot of ground."""
    if code(item.area.kind) <= code("tee") or item.area.kind == "green" or not item.area.outline.intersects(plot):
        return [item]
    remark = "; ".join(part for part in (item.remark, "cut out under a tee") if part)
    pieces = polygons_in(item.area.outline.difference(plot))
    return [Drawn(replace(item.area, outline=piece), remark) for piece in pieces]


def _with_lies(hole: Hole) -> dict[str, Spot]:
    """Return the spots, each with a lie: what is drawn there where none is given."""
    drawn = [Drawn(area) for area in hole.areas]
    return {name: Spot(s.at, s.lie or _ground(drawn, shapely.Point(s.at))) for name, s in hole.spots.items()}


def _look_over(matched: Matched, draft: HoleDraft) -> None:
    """Note what is missing, and what the map says that doesn't fit what it draws."""
    hole = draft.hole
    if hole is not None and hole.par > 3 and "fairway" not in draft.found:
        draft.missing.append("a fairway")
    if "tee" not in draft.found:
        draft.missing.append("an outlined tee")
    said = yards_in(matched.hole.tags.get("dist"))
    if said and abs(said - draft.length) > 0.1 * said:
        draft.say(f"the map says {said:.0f} yd, its line measures {draft.length:.0f}")
    if not draft.line.is_simple:
        draft.say("the hole line crosses itself")
