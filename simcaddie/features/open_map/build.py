"""One hole line of a map to a hole record: ground, points, par; what was assumed; what is missing."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon, box
from shapely.ops import polylabel

from simcaddie.base.surfaces import BY_NAME, GROUND, TEE, code
from simcaddie.base.units import METRES_PER_YARD
from simcaddie.course.hole import Area, Hole, Landmark, Point, Spot
from simcaddie.features.open_map.areas import CORRIDOR, REACH, Wishes, boundary_of, clean_name, drawn_areas
from simcaddie.features.open_map.draft import Drawn, HoleDraft, Matched
from simcaddie.features.open_map.globe import Frame, geodesic_bearing, geodesic_length
from simcaddie.features.open_map.survey import HoleLine, Placed, Survey, polygons_in
from simcaddie.features.open_map.tags import number_in, yards_in

__all__ = ["build", "start_draft"]

# ─── The points: tees and their names, pins, landmarks, spots, spot heights ───────────────────────────────────────────

AT_START: Final = 12.0  # yd: a tee this near the line's start is the one that the line was drawn from
MARKS: Final = 400.0  # yd: landmarks further off the line belong to other holes
FEWEST: Final = 3  # spot heights: fewer tell of no slope
GRID: Final = 20.0  # yd between spot heights; a map may have one on every corner

_NAMES: Final = ("tee", "tees", "golf:tee", "colour", "color", "name", "ref")


def rounded(xy: Iterable[float], draft: HoleDraft, step: float) -> Point:
    """Return a point on multiples of ``step``."""
    x, y = (round(round(float(v) / step) * step, draft.decimals + 6) + 0.0 for v in xy)
    return x, y


def _at(made: Survey, draft: HoleDraft, placed: Placed) -> Point:
    """Return a point feature, or the middle of an outline, in the hole's frame."""
    shape = placed.shape
    inside = shape.centroid if shape.covers(shape.centroid) else shape.representative_point()
    x, y = shapely.get_coordinates(draft.frame.shape_from(made.frame, inside))[0]
    return float(x), float(y)


def _given_names(tee: Placed) -> list[str]:
    """Return the tee's names on the map, perhaps several: "white;yellow"."""
    for key in _NAMES:
        names = [clean_name(name, 30) for name in re.split(r"[;,/]", tee.tags.get(key, ""))]
        if found := [name for name in names if name and name.lower() not in ("yes", "tee")]:
            return found
    return []


def _free(name: str, taken: Iterable[str]) -> str:
    """Return a name, with a number behind it where it is taken."""
    known = set(taken)
    return name if name not in known else next(f"{name} {n}" for n in range(2, 1000) if f"{name} {n}" not in known)


def tees_of(made: Survey, matched: Matched, draft: HoleDraft, step: float) -> dict[str, Point]:
    """Return the tees by name, the one at the line's start first; where the map has none, the start itself."""
    outlines = [tee for tee in matched.tees if isinstance(tee.shape, Polygon)]
    points = [tee for tee in matched.tees if not isinstance(tee.shape, Polygon)]
    bare = [tee for tee in outlines if not any(tee.shape.covers(point.shape) for point in points)]
    start = shapely.Point(matched.hole.line.coords[0])
    ordered = sorted([*points, *bare], key=lambda tee: (tee.shape.distance(start), tee.number))
    tees: dict[str, Point] = {}
    if not ordered or ordered[0].shape.distance(start) > AT_START:
        tees["main"] = (0.0, 0.0)
        draft.assume("tees", "a tee at the start of the hole line, where the map has none")
    for tee in ordered:
        at = (0.0, 0.0) if isinstance(tee.shape, Polygon) and tee.shape.covers(start) else _at(made, draft, tee)
        for name in _given_names(tee) or [_plain_name(tees, at)]:
            tees[_free(name, tees)] = rounded(at, draft, step)
    unnamed = sum(not _given_names(tee) for tee in ordered)
    if unnamed and len(tees) > 1:
        draft.assume("tees", "names by where they stand, the map has none")
    return tees


def _plain_name(tees: dict[str, Point], at: Point) -> str:
    """Return a name for a tee that has none on the map."""
    if not tees:
        return "main"
    first = next(iter(tees.values()))
    return "forward" if at[1] > first[1] + 1.0 else "back" if at[1] < first[1] - 1.0 else "other"


def pins_of(made: Survey, matched: Matched, draft: HoleDraft, greens: list[Polygon], step: float) -> dict[str, Point]:
    """Return the pins by name, those of the map or else the green's most inward point."""
    pins: dict[str, Point] = {}
    for pin in matched.pins:
        name = clean_name(pin.tags.get("name", ""), 30) or ("middle" if not pins else "pin")
        pins[_free(name, pins)] = rounded(_at(made, draft, pin), draft, step)
    if not pins:
        largest = max(greens, key=lambda green: float(green.area))
        pins["middle"] = rounded(shapely.get_coordinates(polylabel(largest, 0.05))[0], draft, step)
        draft.assume("pins", "the green's most inward point, the map has no pin")
    return pins


def _near(made: Survey, matched: Matched, role: str, within: float) -> list[Placed]:
    line, ref = matched.hole.line, matched.hole.ref
    return [
        point
        for point in made.points
        if point.meaning.role == role
        and (ref in point.holes if point.holes else line.distance(point.shape) <= within)
        and clean_name(point.tags.get("name", ""))
    ]


def landmarks_of(made: Survey, matched: Matched, draft: HoleDraft, step: float) -> tuple[Landmark, ...]:
    """Return the named things to aim at."""
    marks = _near(made, matched, "landmark", MARKS)
    return tuple(Landmark(clean_name(m.tags["name"]), rounded(_at(made, draft, m), draft, step)) for m in marks)


def spots_of(made: Survey, matched: Matched, draft: HoleDraft, step: float) -> dict[str, Spot]:
    """Return the named places to ask from; a lie of '' is what is drawn there."""
    spots: dict[str, Spot] = {}
    for spot in _near(made, matched, "spot", REACH):
        at = rounded(_at(made, draft, spot), draft, step)
        spots[_free(clean_name(spot.tags["name"]), spots)] = Spot(at, spot.tags.get("lie", "").replace(" ", "_"))
    return spots


def heights_of(made: Survey, draft: HoleDraft, step: float) -> NDArray[np.float64] | None:
    """Return spot heights above the place nearest the tee, float64[n, 3], None for a flat or bare map."""
    if not len(made.heights):
        return None
    xy = draft.frame.to_plane(made.heights[:, :2])
    inside = shapely.dwithin(shapely.points(xy), draft.line, CORRIDOR)
    xy, high = xy[inside], made.heights[inside, 2]
    if not len(high) or np.ptp(high) < 0.05:
        return None
    high = (high - high[np.argmin(np.hypot(*xy.T))]) / METRES_PER_YARD
    cells = np.unique(np.floor(xy / GRID), axis=0, return_index=True)[1]
    at = np.round(xy[cells] / step) * step
    kept = np.unique(np.round(at / step), axis=0, return_index=True)[1]
    if len(kept) < FEWEST:
        return None
    draft.remarks["heights"] = "from the map's third coordinates, above the one nearest the tee"
    return np.column_stack([at, high[cells]])[kept]


# ─── The record ───────────────────────────────────────────────────────────────────────────────────────────────────────

# R&A and USGA, Rules of Handicapping, Appendix F, men, sea level: par 3 up to 260 yd, 4 from 240 to 490, 5 from 450 to
# 710, 6 from 670. Where two overlap, half-way.
_PARS: Final = ((250.0, 3), (470.0, 4), (690.0, 5))
SHORTEST, LONGEST = 30.0, 1200.0  # yd; what a hole line may measure
TEE_HALF: Final = 4.0  # yd: half the side of a tee drawn where the map has none


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
    greens = [item.area.outline for item in drawn if item.area.surface.putting]
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
    return max(kinds, key=code, default=GROUND)


def _standing(drawn: list[Drawn], tees: dict[str, tuple[float, float]], draft: HoleDraft) -> list[Drawn]:
    """Return the areas with solid ground under every tee: cut free where something lies over it, else drawn."""
    for name, at in tees.items():
        place = shapely.Point(at)
        kind = _ground(drawn, place)
        if BY_NAME[kind].stands:
            continue
        plot = box(at[0] - TEE_HALF, at[1] - TEE_HALF, at[0] + TEE_HALF, at[1] + TEE_HALF)
        under = code(kind) > code(TEE)
        drawn = [part for item in drawn for part in (_cut(item, plot) if under else [item])]
        drawn = sorted([*drawn, Drawn(Area(TEE, plot), "assumed: a tee here, where the map has none")],
                       key=lambda item: code(item.area.kind))  # fmt: skip
        draft.assume("tees", f"ground for the {name} tee in the {BY_NAME[kind].title}")
    return drawn


def _cut(item: Drawn, plot: Polygon) -> list[Drawn]:
    """Return an area that lies over tees without a plot of ground."""
    if code(item.area.kind) <= code(TEE) or item.area.surface.putting or not item.area.outline.intersects(plot):
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
    if TEE not in draft.found:
        draft.missing.append("an outlined tee")
    said = yards_in(matched.hole.tags.get("dist"))
    if said and abs(said - draft.length) > 0.1 * said:
        draft.say(f"the map says {said:.0f} yd, its line measures {draft.length:.0f}")
    if not draft.line.is_simple:
        draft.say("the hole line crosses itself")
