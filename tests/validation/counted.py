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
from simcaddie.model.arrays import Event, Policy, Problem, Rest, Value
from simcaddie.player.putting import MAX_PUTTS, PUTT_FEET, putt_law
from simcaddie.player.swing import Player, Putting
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


@dataclass(frozen=True)
class PlayedOut:
    """Balls of a hole until they lie on the green: the first stroke, strokes used, feet left (0 holed, nan never)."""

    first: Rest
    used: Floats
    feet: Floats

    def pmf(self, putting: Putting) -> Floats:
        """Return the law of strokes, float64[cap + 1], the putts' part of it exactly."""
        pmf, there = np.zeros(MOST_STROKES + MAX_PUTTS + 1), ~np.isnan(self.feet)
        down, used = there & (self.feet == 0.0), self.used.astype(int)
        pmf[: MOST_STROKES + 1] = np.bincount(np.minimum(used[down | ~there], MOST_STROKES), minlength=MOST_STROKES + 1)
        on = np.minimum(used[there & ~down], MOST_STROKES)
        for k, share in enumerate(putts_from(self.feet[there & ~down], putting).T, 1):
            pmf[k : k + MOST_STROKES + 1] += np.bincount(on, share, MOST_STROKES + 1)
        return np.asarray(pmf / self.used.size)

    def three_putts(self, putting: Putting) -> float:
        """Return the share of balls that take three putts or more."""
        on = self.feet > 0.0
        return float(putts_from(self.feet[on], putting)[:, 2:].sum() / self.used.size)


def putts_from(feet: Floats, putting: Putting) -> Floats:
    """Return P(1 … 5 putts), float64[n, 5]."""
    pmf = putt_law(putting)
    return np.array([np.interp(feet, PUTT_FEET, column) for column in pmf.T]).T


def played_out(problem: Problem, policy: Policy, value: Value, balls: Rest, pin: tuple[float, float]) -> PlayedOut:
    """Play on from first strokes until every ball is on the green, or to ``MOST_STROKES``."""
    first, used = balls, balls.added.astype(float)
    for stroke in range(1, MOST_STROKES):
        done = on_green(balls)
        if done.all():
            break
        balls = next_strokes(problem, policy, value, balls, KEY, stroke)
        used += np.where(done, 0, balls.added)
    feet = np.hypot(balls.x - pin[0], balls.y - pin[1]) * FEET_PER_YARD
    feet = np.where(balls.event == Event.HOLED, 0.0, np.where(on_green(balls), np.maximum(feet, 1e-6), np.nan))
    return PlayedOut(first, used, np.asarray(feet))


def tee_shots(balls: Rest) -> Floats:
    """Return the shares of first strokes in fairway or first cut, rough or sand, trees, and penalised."""
    return np.array([
        np.isin(balls.finish, [code("fairway"), code("light_rough"), code("green")]).mean(),
        np.isin(balls.finish, [code("rough"), code("bunker")]).mean(),
        (balls.surface == code("trees")).mean(),
        (balls.added > 1).mean(),
    ])


def _hole(player: Player, length: float, par: int, n: int) -> tuple[Floats, Floats]:
    there = played(player, length)
    solution = there.solution
    out = played_out(
        solution.problem, solution.policy, solution.value, shots_from(there, (0.0, 0.0), "tee", n), there.hole.pin()
    )
    greens = (~np.isnan(out.feet) & (out.used <= par - 2)).mean()
    on = out.feet > 0.0
    putts = putts_from(out.feet[on], player.putting) @ np.arange(1.0, MAX_PUTTS + 1.0)
    return tee_shots(out.first), np.array([greens, out.three_putts(player.putting), putts.sum() / n])


def counted(player: Player, total: float, holes: Sequence[int] = tuple(range(18)), n: int = 4000) -> Counts:
    """Return the counts over the holes numbered ``holes`` (from 0) of a neutral course of ``total`` yd."""
    firsts, rest = [], []
    for hole in holes:
        first, after = _hole(player, float(lengths(total)[hole]), int(PARS[hole]), n)
        if PARS[hole] > 3:
            firsts.append(first)
        rest.append(after)
    return Counts(*np.mean(firsts, axis=0).tolist(), *np.mean(rest, axis=0).tolist())
