"""What to avoid: the areas that cost most strokes under best play, and how often balls get there.

Thousands of balls are followed from the first stroke to the green. A ball that finishes in a hazard, among trees or out
of bounds costs, against one that lies on the fairway beside that place and no nearer the pin,

    (strokes counted + mean strokes to go) − (1 + mean strokes to go from the fairway),

averaged per area. An area's loss is that cost times how often a ball gets there.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString

from simcaddie.base.surfaces import SURFACES, code
from simcaddie.course.distances import visible
from simcaddie.course.grid import AreaGrid
from simcaddie.course.hole import Hole, Point
from simcaddie.course.route import line_of_play
from simcaddie.model import arrays as r
from simcaddie.model.arrays import Event
from simcaddie.model.left import strokes_left
from simcaddie.simulate import first_strokes, next_strokes
from simcaddie.solve.solution import Solution

__all__ = ["Danger", "dangers", "in_trouble"]

BALLS: Final = 6_000
MOST_STROKES: Final = 7
MOST: Final = 3
LEAST_COST, LEAST_LOSS = 0.05, 0.004  # strokes: smaller ones aren't worth a word
BESIDE: Final = 40.0  # yd: fairway farther off is not beside a place
AVERAGED: Final = 5  # fairway cells to compare with, since each has an error of its own
FAR: Final = 290.0  # yd: an area beyond this is told by its distance from the pin
MOST_COMPARED: Final = 400  # balls per area that are compared with the fairway
OUT: Final = -1  # in place of an area's number

_TROUBLE: Final = np.array([kind.trouble for kind in SURFACES])
_ORDINARY: Final = tuple(kind.name for kind in reversed(SURFACES) if kind.turf)

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Danger:
    """An area to avoid.

    ``cost`` is how many strokes dearer it is than ``beside`` (a surface kind) ``where`` ("short of it", "beside it");
    ``often`` how many balls per hole get there; ``near`` and ``far`` are yards from the place asked, or from the pin
    where ``from_pin``, None for out of bounds. ``area`` numbers ``hole.areas``, −1 for out of bounds; ``stroke`` is the
    stroke, from 1, that finds it most often.
    """

    area: int
    title: str
    cost: float
    often: float
    near: float | None
    far: float | None
    from_pin: bool
    beside: str
    where: str
    stroke: int

    @property
    def loss(self) -> float:
        """Strokes per hole that the area costs."""
        return self.cost * self.often


def in_trouble(rest: r.Rest) -> NDArray[np.bool_]:
    """Return which balls finished in a hazard or among trees, or were lost: bool[ball]."""
    lost = np.isin(rest.event, [Event.LOST, Event.OUT_OF_BOUNDS, Event.PENALTY_AREA, Event.UNPLAYABLE])
    return np.asarray(lost | _TROUBLE[rest.finish])


@dataclass(frozen=True, slots=True)
class _Visits:
    """Balls in trouble: area (or −1), side (−1 left, 1 right; out of bounds only), stroke, place (yd), price."""

    area: NDArray[np.int64]
    side: NDArray[np.int64]
    stroke: NDArray[np.int64]
    xy: Floats
    price: Floats


def _area_of(hole: Hole, grid: AreaGrid, rest: r.Rest, xy: Floats) -> NDArray[np.int64]:
    """Return the area that each ball finished in: where it lies, or the nearest of its kind for balls that moved on."""
    rows, columns = grid.surface.shape
    iy = np.clip(((xy[:, 1] - grid.y0) / grid.cell).astype(int), 0, rows - 1)
    ix = np.clip(((xy[:, 0] - grid.x0) / grid.cell).astype(int), 0, columns - 1)
    area = grid.area[iy, ix].astype(np.int64)
    for kind in np.unique(rest.finish):
        numbers = [i for i, each in enumerate(hole.areas) if code(each.kind) == kind]
        unsure = np.flatnonzero((rest.finish == kind) & (grid.surface[iy, ix] != kind))
        if numbers and unsure.size:
            points = shapely.points(xy[unsure])
            away = np.array([shapely.distance(points, hole.areas[i].outline) for i in numbers])
            area[unsure] = np.array(numbers)[np.argmin(away, axis=0)]
        if SURFACES[kind].out or not numbers:
            area[rest.finish == kind] = OUT
    return np.asarray(area)


def _visits(
    hole: Hole,
    grid: AreaGrid,
    solution: Solution,
    place: tuple[float, float, int],
    first: tuple[int, float],
    key: np.uint64,
) -> _Visits:
    """Follow balls to the green and return those that got into trouble, once per visit."""
    problem, found = solution.problem, []
    rest = first_strokes(problem, solution.value, place, *first, key, BALLS)
    start = np.tile(np.array(place[:2]), (BALLS, 1))
    before = np.full(BALLS, -2)
    for stroke in range(1, MOST_STROKES + 1):
        moved = np.isin(rest.event, [Event.PLAYED, Event.HIT_TREE, Event.FAILED])
        xy = np.column_stack([np.where(moved, rest.x, rest.landing_x), np.where(moved, rest.y, rest.landing_y)])
        area = np.where(in_trouble(rest), _area_of(hole, grid, rest, xy), -2)
        new = (rest.added > 0) & (area > -2) & ((area != before) | (area == OUT))
        turn = (xy[:, 0] - start[:, 0]) * (problem.ground.pin_y - start[:, 1])
        turn -= (xy[:, 1] - start[:, 1]) * (problem.ground.pin_x - start[:, 0])
        side = np.where(area == OUT, np.where(turn > 0.0, 1, -1), 0)
        price = rest.added + strokes_left(problem, solution.to_go, rest)
        found.append((area[new], side[new], np.full(np.count_nonzero(new), stroke), xy[new], price[new]))
        start, before = np.column_stack([rest.x, rest.y]), area
        rest = next_strokes(problem, solution.policy, solution.value, rest, key, stroke)
    return _Visits(*(np.concatenate(column) for column in zip(*found, strict=True)))


def _beside(solution: Solution, xy: Floats) -> tuple[Floats, str]:
    """Return what a stroke to the fairway beside each place costs in all, and the kind of ground compared with.

    The nearest fairway no nearer the pin; ground of the next kind where no fairway is near.
    """
    states, ground = solution.problem.states, solution.problem.ground
    pin = np.array([ground.pin_x, ground.pin_y])
    to_pin = np.hypot(*(states.xy - pin).T)
    for kind in _ORDINARY:
        which = np.flatnonzero(states.lie == code(kind))
        if which.size < AVERAGED:
            continue
        away = np.hypot(*(states.xy[which][None, :, :] - xy[:, None, :]).transpose(2, 0, 1))
        away[to_pin[which][None, :] < np.hypot(*(xy - pin).T)[:, None] - states.cell] = np.inf
        near = np.argpartition(away, AVERAGED - 1, axis=1)[:, :AVERAGED]
        far = np.take_along_axis(away, near, axis=1).max(axis=1)
        if np.median(far) <= BESIDE or kind == _ORDINARY[-1]:
            return 1.0 + np.where(np.isfinite(far), solution.to_go[which[near]].mean(axis=1), np.nan), kind
    return np.full(len(xy), np.nan), _ORDINARY[-1]


def _reach(hole: Hole, number: int, place: Point, pin: Point, line: LineString) -> tuple[float, float, bool]:
    """Return (near, far, from the pin) of an area in yards, along the line of play where that crosses it."""
    ground = visible(hole, number)
    meets = shapely.get_parts(line.intersection(ground))
    ends = meets[0] if meets.size and meets[0].length > 0.0 else ground
    from_pin = shapely.Point(place).distance(ends) > FAR
    here = shapely.Point(pin if from_pin else place)
    return float(here.distance(ends)), float(here.hausdorff_distance(ends)), from_pin


def _danger(
    hole: Hole, number: int, side: int, compared: tuple[float, str], often: float, line: list[Point], stroke: int
) -> Danger:
    cost, kind = compared
    if number == OUT:
        title = f"out of bounds on the {'right' if side > 0 else 'left'}"
        return Danger(number, title, cost, often, None, None, False, kind, "inside it", stroke)
    path = LineString(line)
    where = "short of it" if path.intersects(hole.areas[number].outline) else "beside it"
    reach = _reach(hole, number, line[0], line[-1], path)
    return Danger(number, hole.areas[number].title, cost, often, *reach, kind, where, stroke)


def dangers(
    hole: Hole,
    grid: AreaGrid,
    solution: Solution,
    place: tuple[float, float, int],
    first: tuple[int, float],
    key: np.uint64,
) -> tuple[Danger, ...]:
    """Return the areas that cost most, dearest first, three at most.

    ``first`` is (swing, bearing in radians) of the first stroke from ``place``, (x, y, lie); best play follows.
    """
    visits = _visits(hole, grid, solution, place, first, key)
    ground = solution.problem.ground
    line = line_of_play(hole, place[:2], (ground.pin_x, ground.pin_y))
    found = []
    for number, side in np.unique(np.column_stack([visits.area, visits.side]), axis=0):
        here = np.flatnonzero((visits.area == number) & (visits.side == side))
        some = here[:: max(1, here.size // MOST_COMPARED)]
        beside, kind = _beside(solution, visits.xy[some])
        cost = visits.price[some] - beside
        if np.isfinite(cost).any():
            compared = (float(np.nanmean(cost)), kind)
            stroke = int(np.argmax(np.bincount(visits.stroke[here])))
            found.append(_danger(hole, int(number), int(side), compared, here.size / BALLS, line, stroke))
    worth = [danger for danger in found if danger.cost >= LEAST_COST and danger.loss >= LEAST_LOSS]
    return tuple(sorted(worth, key=lambda danger: -danger.loss)[:MOST])
