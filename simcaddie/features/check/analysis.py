"""What a hole file was understood to say, and what in it can't be meant.

Lengths along the line of play from the first tee. What is doubted: a boundary across the green; a green to the side of
straight up the hole; a length that no hole of its par has (R&A and USGA, Rules of Handicapping, Appendix F, men and
women together, a tenth granted); a green that is no green's size (common practice, no source).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely import LineString, Point
from shapely.geometry.base import BaseGeometry

from simcaddie.base.surfaces import code
from simcaddie.base.units import SHORT, YARDS_PER, angle_between, unit_vector
from simcaddie.course.distances import visible
from simcaddie.course.hole import Hole
from simcaddie.course.route import length_from, line_of_play

__all__ = ["WIDTHS", "Stretch", "along", "beside", "doubts", "fairway_widths"]

WIDTHS: Final = (150, 200, 250)  # units of the file, from the first tee
NEAR: Final = 35.0  # yd aside: hazards further off the line aren't told
ACROSS: Final = 120.0  # yd to either side, to measure a fairway
SIDEWAYS: Final = 60.0  # degrees off straight up the hole
LENGTHS: Final = {3: (40.0, 290.0), 4: (180.0, 540.0), 5: (330.0, 780.0), 6: (560.0, 1200.0)}  # yd
GREEN: Final = (50.0, 3000.0)  # square yards


@dataclass(frozen=True, slots=True)
class Stretch:
    """What lies from one distance to another along the line, yards; ``aside`` is how far off it, to the right.

    ``aside`` is 0 for what the line crosses.
    """

    title: str
    near: float
    far: float
    aside: float = 0.0


def _line(hole: Hole) -> LineString:
    return LineString(line_of_play(hole, next(iter(hole.tees.values()))))


def fairway_widths(hole: Hole) -> tuple[float | None, ...]:
    """Return how wide the fairway is across the line at ``WIDTHS`` (of the file's units), yards; None where none is."""
    line, unit = _line(hole), YARDS_PER[hole.units]
    ground = shapely.union_all([visible(hole, i) for i, area in enumerate(hole.areas) if area.surface.fairway])
    return tuple(_width(ground, line, far * unit) for far in WIDTHS)


def _width(ground: BaseGeometry, line: LineString, far: float) -> float | None:
    if far + 1.0 >= line.length or ground.is_empty:
        return None
    (x, y), (ahead_x, ahead_y) = (line.interpolate(at).coords[0] for at in (far, far + 1.0))
    dx, dy = unit_vector(angle_between((x, y), (ahead_x, ahead_y)) + math.pi / 2)
    across = LineString([(x - ACROSS * dx, y - ACROSS * dy), (x + ACROSS * dx, y + ACROSS * dy)]).intersection(ground)
    here = [piece.length for piece in shapely.get_parts(across) if piece.distance(Point(x, y)) < 1.0]
    return max(here) if here else None


def along(hole: Hole) -> tuple[Stretch, ...]:
    """Return the ground that the line of play runs over, from the first tee to the pin."""
    line, found = _line(hole), list[Stretch]()
    steps = np.arange(0.5, line.length, 1.0)
    x, y = shapely.get_coordinates(shapely.line_interpolate_point(line, steps)).T
    titles, over = np.full(steps.size, hole.surround.replace("_", " "), object), np.full(steps.size, -1)
    for area in hole.areas:
        here = shapely.contains_xy(area.outline, x, y) & (over <= code(area.kind))
        titles[here], over[here] = area.title, code(area.kind)
    if hole.boundary is not None:
        titles[~shapely.contains_xy(hole.boundary, x, y)] = "out of bounds"
    for at, title in zip(steps - 0.5, titles, strict=True):
        if found and found[-1].title == title:
            found[-1] = Stretch(title, found[-1].near, at + 1.0)
        else:
            found.append(Stretch(str(title), float(at), float(at) + 1.0))
    return tuple(found)


def beside(hole: Hole) -> tuple[Stretch, ...]:
    """Return the hazards and trees within ``NEAR`` yards of the line that it doesn't cross, from the tee on."""
    line, found = _line(hole), []
    for number, area in enumerate(hole.areas):
        ground = visible(hole, number)
        if not area.surface.trouble or ground.is_empty or not 0.0 < (off := line.distance(ground)) <= NEAR:
            continue
        places = shapely.get_coordinates(ground)
        far = shapely.line_locate_point(line, shapely.points(places))
        on, there = (np.array(end) for end in shapely.shortest_line(line, ground).coords)
        here = line.project(Point(on))
        ends = (line.interpolate(at).coords[0] for at in (max(here - 1.0, 0.0), min(here + 1.0, line.length)))
        (dx, dy), (x, y) = np.subtract(*reversed([*ends])), there - on
        right = x * dy - y * dx
        found.append(Stretch(area.title, float(far.min()), float(far.max()), math.copysign(off, right)))
    return tuple(sorted(found, key=lambda one: one.near))


def doubts(hole: Hole) -> list[str]:
    """Return what can hardly be meant, in sentences."""
    found, (name, tee) = [], next(iter(hole.tees.items()))
    if hole.boundary is not None and (out := hole.green.difference(hole.boundary).area) > 1.0:
        found.append(f"the boundary cuts the green: {out / hole.green.area:.0%} of it is out of bounds")
    turn = math.degrees(math.remainder(angle_between(tee, hole.pin()), 2.0 * math.pi))
    if abs(turn) > SIDEWAYS:
        way = "to the right of" if turn > 0 else "to the left of"
        where = "behind the tee" if abs(turn) > 120.0 else f"{abs(turn):.0f}° {way} straight up the hole"
        found.append(f"the pin lies {where}, seen from {name}: are x and y changed over?")
    length, unit, sign = length_from(hole, tee), YARDS_PER[hole.units], SHORT[hole.units]
    low, high = LENGTHS.get(hole.par, (0.0, math.inf))
    if not low <= length <= high:
        found.append(f"{length / unit:.0f} {sign} from {name} is no length of a par {hole.par}: are the units right?")
    if not GREEN[0] <= hole.green.area <= GREEN[1]:
        found.append(f"a green of {hole.green.area / unit**2:.0f} square {hole.units}: are the units right?")
    return found
