"""What a strategy sheet says beside the strokes: what to carry, the way out of trouble, the side to miss on."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from simcaddie.golfer.pattern import Pattern, course_pattern
from simcaddie.ground.distances import visible
from simcaddie.ground.hole import Hole, Point
from simcaddie.play import records as r
from simcaddie.play.aloft import on_the_day
from simcaddie.play.states import states_at
from simcaddie.simulate import next_strokes
from simcaddie.strategy.dangers import in_trouble
from simcaddie.strategy.measure import finish_names
from simcaddie.strategy.options import swing_title
from simcaddie.strategy.sheet_stroke import Ready, Stroke
from simcaddie.surfaces import BY_NAME, SURFACES, code
from simcaddie.units import unit_vector

__all__ = ["Miss", "Number", "Trouble", "miss_of", "numbers_of", "pattern_of", "trouble_of"]

BESIDE: Final = 0.7  # sd to either side of the line: a hazard within that is in the way
LEAST_BESIDE: Final = 5.0  # yd
REACH: Final = 70.0  # yd beyond the carry: a hazard farther off is of no concern
SHORT: Final = 0.45  # of the carry: a hazard that ends nearer than that is of no concern
OFTEN: Final = 0.02  # of balls: trouble that comes more seldom isn't told
RING: Final = (2.0, 14.0)  # yd off the green: where balls lie that just miss it
DEARER: Final = 0.12  # strokes: a side that costs so much more than the best one is told
SIDES: Final = ("long", "right", "short", "left")  # clockwise from straight on

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Number:
    """A distance from the tee in yards, and what lies there."""

    yards: float
    title: str


@dataclass(frozen=True, slots=True)
class Trouble:
    """The trouble that a stroke finds most often: its finish, how often, what to play from there, what that leaves."""

    finish: str
    often: float
    title: str
    leaves: float


@dataclass(frozen=True, slots=True)
class Miss:
    """The side of the green to miss on, and the one that costs ``dearer`` strokes more; None where all are alike."""

    best: str | None
    worst: str | None
    dearer: float


def pattern_of(on: Ready, stroke: Stroke) -> Pattern | None:
    """Return the pattern of a stroke on the day, None for a touch shot."""
    swings = on.player.swings
    if stroke.swing >= len(swings):
        return None
    pattern = course_pattern(on.player, swings[stroke.swing], on.player.lies[stroke.lie])
    return on_the_day(on.middle, pattern, stroke.swing, (*stroke.start, code(stroke.lie)), stroke.bearing)


def _along(ground: BaseGeometry, start: Point, bearing: float, wide: float) -> tuple[float, float] | None:
    """Return where ground within ``wide`` yards of a line begins and ends along it, yards; None where there is none."""
    dx, dy = unit_vector(bearing)
    way = LineString([start, (start[0] + 600.0 * dx, start[1] + 600.0 * dy)]).buffer(wide, cap_style="flat")
    part = ground.intersection(way)
    if part.is_empty:
        return None
    along = (shapely.get_coordinates(part) - start) @ np.array([dx, dy])
    return float(along.min()), float(along.max())


def _in_the_way(hole: Hole, start: Point, bearing: float, wide: float) -> list[tuple[float, float, str]]:
    """Return (near, far, title) in yards along a line of the hazards within ``wide`` yards of it."""
    found = []
    for number, area in enumerate(hole.areas):
        if BY_NAME[area.kind].hazard or area.kind == "trees":
            reach = _along(visible(hole, number), start, bearing, wide)
            if reach is not None:
                found.append((*reach, area.title))
    return found


def numbers_of(on: Ready, stroke: Stroke) -> tuple[Number | None, Number | None]:
    """Return what a tee shot must carry and must not reach; None where there is nothing.

    A stroke to the green carries the last hazard before it, else its front, and must not reach what lies beyond it.
    """
    hole, pattern = on.hole, pattern_of(on, stroke)
    if pattern is None:
        return None, None
    carry, wide = pattern.solid.carry, max(LEAST_BESIDE, BESIDE * pattern.solid.side_sd)
    near = _in_the_way(hole, stroke.start, stroke.bearing, wide)
    over = [(far, title) for low, far, title in near if SHORT * carry < far <= carry and low < carry]
    beyond = [(low, title) for low, far, title in near if far > carry and SHORT * carry < low < carry + REACH]
    green = _along(hole.green, stroke.start, stroke.bearing, wide)
    if green is not None and green[0] < carry + REACH:
        over = [row for row in over if row[0] <= green[0]]
        over = over or [(green[0], "front of the green")]
        beyond = [row for row in beyond if row[0] >= green[1] - 1.0] or [(green[1], "back of the green")]
    carried = Number(*max(over)) if over else None
    return carried, Number(*min(beyond)) if beyond else None


def trouble_of(on: Ready, stroke: Stroke) -> Trouble | None:
    """Return the trouble that a stroke finds most often and the way out of it; None where it hardly finds any."""
    rest, names = stroke.rest, finish_names(stroke.rest)
    bad = in_trouble(rest)
    kinds, counts = np.unique(names[bad], return_counts=True)
    if not kinds.size or counts.max() < OFTEN * names.size:
        return None
    finish = str(kinds[np.argmax(counts)])
    here = np.flatnonzero(bad & (names == finish))
    table = on.middle
    number = states_at(table.states, rest.surface[here], rest.x[here], rest.y[here])
    swing = np.minimum(on.policy.swing[number[number >= 0]], len(on.player.swings))
    if not swing.size:
        return None
    balls = r.Rest._make(column[here] for column in rest)
    after = next_strokes(table, on.policy, on.value, balls, on.key, 1)
    leaves = np.hypot(after.x - table.ground.pin_x, after.y - table.ground.pin_y)
    often = here.size / names.size
    return Trouble(finish, often, swing_title(on.player, int(np.argmax(np.bincount(swing)))), float(np.median(leaves)))


def _ring(on: Ready) -> tuple[Floats, NDArray[np.int8]]:
    """Return points (yd) that lie just off the green, float64[n, 2], and the kind of ground at each."""
    ring = on.hole.green.buffer(RING[1]).difference(on.hole.green.buffer(RING[0]))
    left, low, right, high = ring.bounds
    xs, ys = np.meshgrid(np.arange(left, right, 2.0), np.arange(low, high, 2.0))
    inside = shapely.contains_xy(ring, xs, ys)
    xy, grid = np.column_stack([xs[inside], ys[inside]]), on.grid
    iy = np.clip(((xy[:, 1] - grid.y0) / grid.cell).astype(int), 0, grid.surface.shape[0] - 1)
    ix = np.clip(((xy[:, 0] - grid.x0) / grid.cell).astype(int), 0, grid.surface.shape[1] - 1)
    return xy, grid.surface[iy, ix]


def _prices(on: Ready, xy: Floats, kinds: NDArray[np.int8]) -> Floats:
    """Return what a ball at each place costs to the middle pin, float64[n]: relief counted, nan for unknown."""
    number = states_at(on.middle.states, kinds, xy[:, 0], xy[:, 1])
    price = np.where(number >= 0, on.solution.to_go[np.maximum(number, 0)], np.nan)
    usual = float(np.nanmean(price)) if np.isfinite(price).any() else math.nan
    penalty = np.array([1.0 if kind.penalty else 2.0 if kind.out else 0.0 for kind in SURFACES])[kinds]
    return np.where(penalty > 0.0, usual + penalty, price)


def miss_of(on: Ready, stroke: Stroke) -> Miss:
    """Return the side of the green to miss on, seen along the approach ``stroke``."""
    xy, kinds = _ring(on)
    price, centre = _prices(on, xy, kinds), on.hole.green.centroid
    turn = np.arctan2(xy[:, 0] - centre.x, xy[:, 1] - centre.y) - stroke.bearing
    side = np.round(turn / (math.pi / 2)).astype(int) % 4
    means = {}
    for number, name in enumerate(SIDES):
        here = price[(side == number) & np.isfinite(price)]
        if here.size:
            means[name] = float(here.mean())
    if not means:
        return Miss(None, None, 0.0)
    best, worst = min(means, key=lambda name: means[name]), max(means, key=lambda name: means[name])
    dearer = means[worst] - means[best]
    return Miss(best, worst, dearer) if dearer >= DEARER else Miss(None, None, dearer)
