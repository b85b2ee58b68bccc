"""The best club by place: along the fairway, and over the whole hole on a coarse grid."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString

from simcaddie.base.surfaces import NAMES, code
from simcaddie.course.route import line_of_play
from simcaddie.decision.line_of_play import Plan
from simcaddie.decision.options import swing_title

__all__ = ["COARSE", "ClubAt", "FairwayClub", "coarse_clubs", "fairway_clubs", "prevailing"]

COARSE: Final = 10.0  # yd
BESIDE: Final = 20.0  # yd: fairway this near the line of play counts
BAND: Final = 10.0  # yd of distance to the pin


class FairwayClub(NamedTuple):
    """The club that most of the fairway from ``far`` to ``near`` yards from the pin calls for."""

    far: float
    near: float
    title: str


class ClubAt(NamedTuple):
    """A coarse cell: its middle (yd), the commonest lie, the club that most of it calls for, mean strokes to go."""

    x: float
    y: float
    lie: str
    club: str
    to_go: float


def _commonest(numbers: NDArray[np.integer]) -> int:
    return int(np.argmax(np.bincount(numbers)))


def fairway_clubs(plan: Plan) -> tuple[FairwayClub, ...]:
    """Return the best club from the fairway along the line of play, farthest from the pin first."""
    states, reach = plan.solution.problem.states, len(plan.player.swings)
    line = LineString(line_of_play(plan.hole, plan.place.at, plan.pin))
    here = (states.lie == code("fairway")) & (shapely.distance(shapely.points(states.xy), line) <= BESIDE)
    band = (np.hypot(*(states.xy - plan.pin).T) / BAND).astype(int)
    swing = np.minimum(plan.solution.policy.swing, reach)  # touch actions are one club
    found: list[FairwayClub] = []
    for number in np.unique(band[here])[::-1]:
        title = swing_title(plan.player, _commonest(swing[here & (abs(band - number) <= 1)]))
        far, near = BAND * (number + 1), BAND * number
        if found and found[-1].title == title and found[-1].near == far:
            far = found.pop().far
        found.append(FairwayClub(float(far), float(near), title))
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
