"""The best club by place: along the fairway, and over the whole hole on a coarse grid."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString

from simcaddie.base.streams import Purpose
from simcaddie.base.surfaces import NAMES, code
from simcaddie.base.units import angle_between
from simcaddie.course.route import line_of_play
from simcaddie.decision.line_of_play import Plan
from simcaddie.decision.options import swing_title

__all__ = ["COARSE", "ClubAt", "FairwayClub", "coarse_clubs", "fairway_clubs", "prevailing"]

COARSE: Final = 10.0  # yd
BESIDE: Final = 20.0  # yd: fairway this near the line of play counts
BAND: Final = 10.0  # yd of distance to the pin
ACROSS, NEARBY, SETS = 3, 2, 4  # places across a band; bands whose clubs are tried; sets of balls
CHANGE: Final = 0.03  # strokes that another club must gain
AS_GOOD: Final = 0.02  # strokes: clubs this near are as good
NEVER: Final = 9.0  # strokes, of a club that isn't tried there


class FairwayClub(NamedTuple):
    """The club to play on the fairway from ``far`` to ``near`` yards from the pin.

    ``others`` are the clubs that are better somewhere between by more than ``AS_GOOD``.
    """

    far: float
    near: float
    title: str
    others: tuple[str, ...] = ()


class ClubAt(NamedTuple):
    """A coarse cell: its middle (yd), the commonest lie, the club that most of it calls for, mean strokes to go."""

    x: float
    y: float
    lie: str
    club: str
    to_go: float


def _commonest(numbers: NDArray[np.integer]) -> int:
    return int(np.argmax(np.bincount(numbers)))


def _fairway_costs(plan: Plan) -> tuple[NDArray[np.int64], list[int], NDArray[np.float64]]:
    """Return bands of distance to the pin, swings, and what each costs there over the best, float64[band, swing].

    A band's costs are means over places across the fairway; swings are those that best play has near them.
    """
    solution, reach = plan.solution, len(plan.player.swings)
    states, policy = solution.problem.states, solution.policy
    line = LineString(line_of_play(plan.hole, plan.place.at, plan.pin))
    here = np.flatnonzero(
        (states.lie == code("fairway")) & (shapely.distance(shapely.points(states.xy), line) <= BESIDE)
    )
    band = (np.hypot(*(states.xy[here] - plan.pin).T) / BAND).astype(int)
    bands, swing = np.unique(band), policy.swing[here]
    swings = sorted({int(one) for one in swing if one < reach})
    costs = np.full((bands.size, len(swings)), np.inf)
    for row, number in enumerate(bands):
        across = here[band == number][:: max(1, np.count_nonzero(band == number) // ACROSS)][:ACROSS]
        near = sorted({int(one) for one in swing[abs(band - number) <= NEARBY] if one < reach})
        if near:
            costs[row, [swings.index(one) for one in near]] = _costs_at(plan, across, near)
    if not costs.size:
        return bands, swings, costs
    known = np.isfinite(costs).any(axis=1)
    return bands[known], swings, costs[known] - costs[known].min(axis=1, keepdims=True)


def _costs_at(plan: Plan, places: NDArray[np.int64], swings: list[int]) -> NDArray[np.float64]:
    """Return the mean strokes of swings from the middles of states, along best play's line there and at the pin."""
    states, policy = plan.solution.problem.states, plan.solution.policy
    total = np.zeros(len(swings))
    for state in places:
        x, y = states.xy[state]
        pin = angle_between((x, y), plan.pin)
        aims = np.unique([pin, pin + policy.bearing[state]])
        rows = np.repeat(swings, aims.size)
        means = plan.on.look((x, y, code("fairway")), rows, np.tile(aims, len(swings)), sets=SETS, purpose=Purpose.LOOK)
        total += means.reshape(len(swings), -1).min(axis=1)
    return total / places.size


def _cheapest(costs: NDArray[np.float64], *, falling: bool) -> NDArray[np.int64]:
    """Return the swing of each band, farthest first, that costs least in all; a change costs ``CHANGE``.

    ``costs`` float64[band, swing], swings from the longest; with ``falling`` no longer club follows a shorter one.
    """
    count = costs.shape[1]
    change = np.where(np.eye(count) > 0, 0.0, CHANGE)
    if falling:
        change[np.tril_indices(count, -1)] = np.inf
    best, came = costs[0], []
    for row in costs[1:]:
        ways = best[:, None] + change
        came.append(ways.argmin(axis=0))
        best = ways.min(axis=0) + row
    path = [int(best.argmin())]
    for back in reversed(came):
        path.append(int(back[path[-1]]))
    return np.array(path[::-1])


def fairway_clubs(plan: Plan) -> tuple[FairwayClub, ...]:
    """Return the club for each stretch of fairway along the line of play, farthest from the pin first.

    A club changes only where that gains ``CHANGE``, and only to shorter ones nearer the pin unless a hazard makes more
    than ``AS_GOOD`` of it.
    """
    bands, swings, costs = _fairway_costs(plan)
    if not costs.size:
        return ()
    order = np.argsort([-plan.player.swings[swing].carry for swing in swings], kind="stable")
    swings, costs = [swings[i] for i in order], costs[::-1][:, order]  # from the longest, farthest first
    rows, finite = np.arange(len(costs)), np.minimum(costs, NEVER)
    path = _cheapest(finite, falling=True)
    if finite[rows, path].max() > AS_GOOD:
        path = _cheapest(finite, falling=False)
    found: list[FairwayClub] = []
    for number, row, swing in zip(bands[::-1], finite, path, strict=True):
        title, far = swing_title(plan.player, swings[swing]), BAND * (number + 1)
        better = () if row[swing] <= AS_GOOD else (swing_title(plan.player, swings[int(row.argmin())]),)
        if found and found[-1].title == title and found[-1].near == far:
            last = found.pop()
            far, better = last.far, tuple(dict.fromkeys((*last.others, *better)))
        found.append(FairwayClub(float(far), float(BAND * number), title, better))
    return tuple(found)


def prevailing(plan: Plan) -> tuple[NDArray[np.int8], NDArray[np.int32]]:
    """Return, per cell of the solver, the lie at its middle and the state of a ball that lies so, −1 for none."""
    states, surface = plan.solution.problem.states, plan.grid.surface
    block = round(states.cell / plan.grid.cell)
    middle = (np.arange(many) * block + block // 2 for many in states.of_cell.shape[1:])
    lie = surface[np.ix_(*(np.minimum(at, many - 1) for at, many in zip(middle, surface.shape, strict=True)))]
    return lie, np.take_along_axis(states.of_cell, lie[None].astype(np.int64), axis=0)[0]


def coarse_clubs(plan: Plan) -> tuple[ClubAt, ...]:
    """Return the best club of each ``COARSE`` cell from its commonest lie, in rows from the tee's end."""
    states, there = plan.solution.problem.states, prevailing(plan)[1]
    to_go, swing = plan.solution.to_go, np.minimum(plan.solution.policy.swing, len(plan.player.swings))
    real = np.sort(there[there >= 0])
    cell = np.floor(states.xy[real] / COARSE).astype(np.int64)
    order = np.lexsort(cell.T)
    edges = np.flatnonzero((np.diff(cell[order], axis=0) != 0).any(axis=1)) + 1
    found = []
    for group in np.split(real[order], edges):
        lie = _commonest(states.lie[group])
        same = group[states.lie[group] == lie]
        x, y = (np.floor(states.xy[group[0]] / COARSE) + 0.5) * COARSE
        club = swing_title(plan.player, _commonest(swing[same]))
        found.append(ClubAt(float(x), float(y), NAMES[lie], club, float(to_go[same].mean())))
    return tuple(found)
