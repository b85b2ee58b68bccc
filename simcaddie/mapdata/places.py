"""The points of one hole: tees and their names, pins, landmarks, spots, spot heights."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.ops import polylabel

from simcaddie.ground.hole import Landmark, Point, Spot
from simcaddie.mapdata.areas import CORRIDOR, REACH, clean_name
from simcaddie.mapdata.draft import HoleDraft
from simcaddie.mapdata.match import Matched
from simcaddie.mapdata.survey import Placed, Survey
from simcaddie.units import METRES_PER_YARD

__all__ = ["heights_of", "landmarks_of", "pins_of", "rounded", "spots_of", "tees_of"]

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
