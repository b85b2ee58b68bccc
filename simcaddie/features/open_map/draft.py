"""A hole on its way from the map to a file, and which green, tees and pins belong to which hole line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np
import shapely
from shapely import LineString, Point, Polygon

from simcaddie.base.surfaces import TEE
from simcaddie.course.hole import Area, Hole
from simcaddie.features.open_map.globe import Frame
from simcaddie.features.open_map.survey import HoleLine, Placed, Survey

__all__ = ["Drawn", "HoleDraft", "Matched", "match_holes"]


@dataclass(frozen=True, slots=True)
class Drawn:
    """An area with the remark that its file gives it, '' for none."""

    area: Area
    remark: str = ""


@dataclass(slots=True)
class HoleDraft:
    """One hole of a map, made or not.

    ``ref`` is its number as text, ``stem`` the name of its file without ending. ``hole`` is None where it can't be
    made. ``remarks`` gives comments by key of the file; ``area_remarks`` by place among the areas. ``decimals`` is how
    finely it is to be written. Lengths are yards, ``length`` along the line.
    """

    ref: str
    stem: str
    label: str
    frame: Frame
    line: LineString
    length: float
    decimals: int = 1
    hole: Hole | None = None
    remarks: dict[str, str] = field(default_factory=dict)
    area_remarks: list[str] = field(default_factory=list)
    found: dict[str, int] = field(default_factory=dict)
    assumed: list[str] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    def assume(self, key: str, text: str) -> None:
        """Note something assumed, for the report and as a comment at ``key`` of the file."""
        self.remarks[key] = f"{self.remarks[key]}; {text}" if key in self.remarks else f"assumed: {text}"
        told = f"{key.replace('_', ' ')}: {text}"
        if told not in self.assumed:
            self.assumed.append(told)

    def say(self, text: str) -> None:
        """Note something for the report only."""
        if text not in self.said:
            self.said.append(text)


# ─── Matching ─────────────────────────────────────────────────────────────────────────────────────────────────────────
#
# A hole line runs from the tee to the green, says OpenStreetMap; where it runs the other way it is turned round. Its
# green is the one it ends on, else the nearest within a few yards. A tee belongs to the hole on whose first part, or
# behind whose start, it lies nearest. The distances are common practice, no source.

GREEN_WITHIN: Final = 30.0  # yd from the line's end
TEE_ASIDE: Final = 25.0  # yd from the line to a tee's edge
TEE_BEHIND: Final = 60.0  # yd behind the line's start
TEE_AHEAD: Final = 150.0  # yd ahead of it, but no more than
TEE_SHARE: Final = 0.35  # of the line
ALONG: Final = 0.3  # a yard along the line from its start counts as much as this aside


@dataclass(frozen=True, slots=True)
class Matched:
    """A hole line, from tee to green, with what belongs to it; ``green`` is None where none lies at its end."""

    hole: HoleLine
    green: Placed | None
    tees: tuple[Placed, ...]
    pins: tuple[Placed, ...]
    turned: bool = False


def match_holes(made: Survey) -> list[Matched]:
    """Return every hole line of a map with its green, tees and pins, in the map's order."""
    greens = made.greens()
    ways = [_way(hole, greens) for hole in made.lines]
    tees = _tees_of(made, [hole for hole, _, _ in ways])
    pins = [point for point in made.points if point.meaning.role == "pin"]
    found = []
    for (hole, green, turned), own in zip(ways, tees, strict=True):
        on = tuple(pin for pin in pins if green is not None and _ours(pin, hole) and green.shape.covers(pin.shape))
        found.append(Matched(hole, green, tuple(own), on, turned))
    return found


def _ours(placed: Placed, hole: HoleLine) -> bool:
    """Tell whether the map doesn't give a feature to other holes."""
    return not placed.holes or hole.ref in placed.holes


def _way(hole: HoleLine, greens: Sequence[Placed]) -> tuple[HoleLine, Placed | None, bool]:
    """Return a hole line from tee to green, the green, and whether it had to be turned round."""
    green = _green_at(hole, greens, Point(hole.line.coords[-1]))
    if green is None and (behind := _green_at(hole, greens, Point(hole.line.coords[0]))) is not None:
        return replace(hole, line=hole.line.reverse()), behind, True
    return hole, green, False


def _green_at(hole: HoleLine, greens: Sequence[Placed], end: Point) -> Placed | None:
    found = [
        (green.shape.distance(end), green.shape.centroid.distance(end), number)
        for number, green in enumerate(greens)
        if _ours(green, hole)
    ]
    far, _, number = min(found, default=(np.inf, 0.0, 0))
    return greens[number] if far <= GREEN_WITHIN else None


def _tees_of(made: Survey, holes: Sequence[HoleLine]) -> list[list[Placed]]:
    """Return each hole's tees, outlines and points, the nearest to the line's start first."""
    scored: list[list[tuple[float, int, Placed]]] = [[] for _ in holes]
    starts = np.array([hole.line.coords[0] for hole in holes]).reshape(-1, 2)
    reach = TEE_BEHIND + TEE_AHEAD + TEE_ASIDE
    tees = [placed for placed in (*made.areas, *made.points) if placed.meaning.kind == TEE]
    for number, tee in enumerate(tees):
        middle = _middle(tee)
        near = [int(i) for i in np.flatnonzero(np.hypot(*(starts - middle).T) <= reach)]
        rated = [(_score(tee, middle, holes[i]), i) for i in near if _ours(tee, holes[i])]
        score, best = min(rated, default=(np.inf, -1))
        if score < np.inf:
            scored[best].append((score, number, tee))
    return [[tee for _, _, tee in sorted(own, key=lambda row: row[:2])] for own in scored]


def _middle(tee: Placed) -> tuple[float, float]:
    centre = tee.shape.centroid
    return centre.x, centre.y


def _score(tee: Placed, middle: tuple[float, float], hole: HoleLine) -> float:
    """Return how far a tee is from being a hole's: yards aside and a share of those along; endless for not at all."""
    line = hole.line
    first = np.array(line.coords[0])
    back = first - np.array(line.coords[1])
    behind = first + TEE_BEHIND * back / np.hypot(*back)
    start = Point(first)
    if isinstance(tee.shape, Polygon) and tee.shape.covers(start):
        return -1.0
    whole = LineString([tuple(behind), *line.coords])
    along = whole.project(Point(middle)) - TEE_BEHIND
    aside = float(shapely.distance(tee.shape, whole))
    if aside > TEE_ASIDE or along > min(TEE_AHEAD, TEE_SHARE * line.length):
        return float("inf")
    return aside + ALONG * abs(float(along))
