"""The best club by place: along the fairway, and over the whole hole on a coarse grid."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString

from simcaddie.ground.targets import line_of_play
from simcaddie.play import records as r
from simcaddie.strategy.options import swing_title
from simcaddie.strategy.plan import Plan
from simcaddie.surfaces import NAMES, code

__all__ = ["COARSE", "ClubAt", "FairwayClub", "coarse_clubs", "fairway_clubs"]

COARSE: Final = 10.0  # yd
BESIDE: Final = 20.0  # yd: fairway this near the line of play counts
BAND: Final = 10.0  # yd of distance to the pin


@dataclass(frozen=True, slots=True)
class FairwayClub:
    """The club that most of the fairway from ``far`` to ``near`` yards from the pin calls for."""

    far: float
    near: float
    title: str


@dataclass(frozen=True, slots=True)
class ClubAt:
    """A coarse cell: its middle (yd), the commonest lie, the club that most of it calls for, mean strokes to go."""

    x: float
    y: float
    lie: str
    title: str
    to_go: float


def _commonest(numbers: NDArray[np.integer]) -> int:
    return int(np.argmax(np.bincount(numbers)))


def fairway_clubs(plan: Plan) -> tuple[FairwayClub, ...]:
    """Return the best club from the fairway along the line of play, farthest from the pin first."""
    table, policy = plan.solution.table, plan.solution.policy
    xy, reach = table.states.xy, len(plan.player.swings)
    line = LineString(line_of_play(plan.hole, plan.place.at, plan.pin))
    here = (table.states.lie == code("fairway")) & (shapely.distance(shapely.points(xy), line) <= BESIDE)
    band = (np.hypot(xy[:, 0] - plan.pin[0], xy[:, 1] - plan.pin[1]) / BAND).astype(int)
    swing = np.minimum(policy.swing, reach)  # touch actions are one club
    found: list[FairwayClub] = []
    for number in np.unique(band[here])[::-1]:
        title = swing_title(plan.player, _commonest(swing[here & (abs(band - number) <= 1)]))
        far, near = BAND * (number + 1), BAND * number
        if found and found[-1].title == title and found[-1].near == far:
            far = found.pop().far
        found.append(FairwayClub(float(far), float(near), title))
    return tuple(found)


def _prevailing(plan: Plan) -> NDArray[np.int8]:
    """Return the lie at the middle of each state, as the ground grid has it."""
    grid, states = plan.grid, plan.solution.table.states
    iy = ((states.xy[:, 1] - grid.y0) / grid.cell).astype(int)
    ix = ((states.xy[:, 0] - grid.x0) / grid.cell).astype(int)
    rows, columns = grid.surface.shape
    return np.asarray(grid.surface[np.minimum(iy, rows - 1), np.minimum(ix, columns - 1)])


def coarse_clubs(plan: Plan, step: float = COARSE) -> tuple[ClubAt, ...]:
    """Return the best club of each ``step``-yard cell from its commonest lie, in rows from the tee's end."""
    states: r.States = plan.solution.table.states
    to_go, swing = plan.solution.to_go, np.minimum(plan.solution.policy.swing, len(plan.player.swings))
    real = np.flatnonzero(states.lie == _prevailing(plan))
    cell = np.floor(states.xy[real] / step).astype(np.int64)
    order = np.lexsort((cell[:, 0], cell[:, 1]))
    ordered = cell[order]
    edges = np.flatnonzero((np.diff(ordered, axis=0) != 0).any(axis=1)) + 1
    found = []
    for group in np.split(real[order], edges):
        lie = _commonest(states.lie[group])
        same = group[states.lie[group] == lie]
        x, y = (np.floor(states.xy[group[0]] / step) + 0.5) * step
        title = swing_title(plan.player, _commonest(swing[same]))
        found.append(ClubAt(float(x), float(y), NAMES[lie], title, float(to_go[same].mean())))
    return tuple(found)
