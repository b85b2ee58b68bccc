"""What a golfer's strokes come to on neutral holes: fairways, greens, recoveries, penalties, putts, by playing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from validation.neutral import Played, played
from validation.rounds import PARS, lengths

from simcaddie.base.surfaces import code
from simcaddie.base.units import FEET_PER_YARD
from simcaddie.model.arrays import Event, Rest
from simcaddie.player.putting import PUTT_FEET, putt_law
from simcaddie.player.swing import Player
from simcaddie.simulate import first_strokes, next_strokes

KEY = np.uint64(20120626)
MOST_STROKES = 14

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Counts:
    """Shares of tee shots on par 4s and 5s; greens in regulation and three-putts (or worse) per hole; penalties."""

    fairway: float  # first cut included
    rough_or_sand: float
    recovery: float
    penalised: float
    greens: float
    three_putts: float
    putts: float


def shots_from(there: Played, place: tuple[float, float], lie: str, n: int) -> Rest:
    """Return ``n`` balls played from a place as best play has it."""
    problem, solution = there.solution.problem, there.solution
    states = problem.states
    column, row = int((place[0] - states.x0) // states.cell), int((place[1] - states.y0) // states.cell)
    state = states.of_cell[code(lie), row, column]
    pin = there.hole.pins["pin"]
    line = np.arctan2(pin[0] - place[0], pin[1] - place[1])
    start, swing = (*place, code(lie)), int(solution.policy.swing[state])
    return first_strokes(problem, solution.value, start, swing, float(line + solution.policy.bearing[state]), KEY, n)


def feet_left(there: Played, balls: Rest) -> Floats:
    """Return the distance to the pin, float64[n], in feet."""
    x, y = there.hole.pins["pin"]
    return np.asarray(np.hypot(balls.x - x, balls.y - y)) * FEET_PER_YARD


def on_green(balls: Rest) -> NDArray[np.bool_]:
    """Tell which balls are on the green, or down."""
    return np.asarray((balls.surface == code("green")) | (balls.event == Event.HOLED))


def _hole(player: Player, length: float, par: int, n: int) -> tuple[Floats, Floats]:
    there = played(player, length)
    solution, problem = there.solution, there.solution.problem
    balls = shots_from(there, (0.0, 0.0), "tee", n)
    first = np.array([
        np.isin(balls.finish, [code("fairway"), code("light_rough"), code("green")]).mean(),
        np.isin(balls.finish, [code("rough"), code("bunker")]).mean(),
        (balls.surface == code("trees")).mean(),
        (balls.added > 1).mean(),
    ])
    used, greens, done = balls.added.astype(float), np.zeros(n, bool), on_green(balls)
    greens |= done & (used <= par - 2)
    for stroke in range(1, MOST_STROKES):
        if done.all():
            break
        balls = next_strokes(problem, solution.policy, solution.value, balls, KEY, stroke)
        used += np.where(done, 0, balls.added)
        done = on_green(balls)
        greens |= done & (used <= par - 2)
    pmf = putt_law(player.putting)
    far = np.where(balls.event == Event.HOLED, 0.0, feet_left(there, balls))
    three = np.interp(far, PUTT_FEET, pmf[:, 2:].sum(axis=1)) * done
    putts = np.interp(far, PUTT_FEET, pmf @ np.arange(1.0, 6.0)) * done * (far > 0)
    return first, np.array([greens.mean(), three.mean(), putts.mean()])


def counted(player: Player, total: float, holes: Sequence[int] = tuple(range(18)), n: int = 4000) -> Counts:
    """Return the counts over the holes numbered ``holes`` (from 0) of a neutral course of ``total`` yd."""
    firsts, rest = [], []
    for hole in holes:
        first, after = _hole(player, float(lengths(total)[hole]), int(PARS[hole]), n)
        if PARS[hole] > 3:
            firsts.append(first)
        rest.append(after)
    return Counts(*np.mean(firsts, axis=0).tolist(), *np.mean(rest, axis=0).tolist())
