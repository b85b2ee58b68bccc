"""Many swings' balls as flat arrays, and how likely each ball is under each strike.

The strikes are those that the program plays with (``golfer/pattern.py``), so that what is fitted is what is played:

* *solid*: bivariate normal in (carry, side), its mean and covariance unknown;
* *fat* and *thin*: carry normal about a fixed share of the solid mean carry, side about the solid mean side, wider;
* *wild*: one thin ball in five. Off toe or heel, of any carry below the solid one, four times as wide to the side. It
  catches the ball that isn't short but flies nowhere near the line, and counts as thin. Common practice, no source.

Where a ball's run (total less carry) is known it tells as well, by fixed densities: thin balls run, fat ones don't.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.fitting.session import Ball
from simcaddie.golfer.pattern import mishit_shapes
from simcaddie.golfer.player import Swing
from simcaddie.golfer.redraw import belief_of

__all__ = ["FAT", "SOLID", "THIN", "WILD", "Batch", "Guess", "Problem", "batch_of", "problem_of", "strike_logs"]

Floats = NDArray[np.float64]

SOLID, FAT, THIN, WILD = range(4)
WILD_SHARE: Final = 0.2  # of thin balls
WILD_SHAPE: Final = (0.75, 0.2, 4.0)  # carry and its sd as shares of the solid carry; times the solid spread of side
WILD_RUN: Final = 0.1
_RUN_WORTH: Final = 4.0  # balls, of the usual run against the swing's own


@dataclass(frozen=True, slots=True)
class Problem:
    """One swing to fit: its prior, and its balls as float64[n]: carry, side, run (nan: not known), weight."""

    prior: Swing
    carry: Floats
    side: Floats
    run: Floats
    weight: Floats


@dataclass(frozen=True, slots=True)
class Batch:
    """Problems side by side: per ball float64[m] (``tells`` [strike, m]), per problem float64[p].

    ``owner`` is a ball's problem. ``share``, ``sd``, ``wider``: [fat, thin, wild] by problem.
    """

    owner: NDArray[np.int64]
    carry: Floats
    side: Floats
    weight: Floats
    tells: Floats
    mean: Floats  # [2, p]: carry, side
    worth: Floats  # [2, p]
    freedom: Floats
    scale: Floats  # [3, p]
    strikes: Floats  # [3, p]
    share: Floats  # [3, p]
    sd: Floats
    wider: Floats

    @property
    def size(self) -> int:
        """Number of problems."""
        return int(self.freedom.size)

    def sums(self, values: Floats) -> Floats:
        """Return the sum of ``values``, one per ball, by problem."""
        return np.asarray(np.bincount(self.owner, values, self.size), float)


@dataclass(slots=True)
class Guess:
    """Current numbers of every problem: mean [2, p], covariance [3, p] (carry, both, side), shares [3, p]."""

    mean: Floats
    covariance: Floats
    shares: Floats


def problem_of(prior: Swing, balls: Sequence[Ball], weight: Floats | None = None) -> Problem:
    """Return a problem from a swing's prior and balls; every ball weighs one unless ``weight`` says otherwise."""
    run = [np.nan if ball.total is None else ball.total - ball.carry for ball in balls]
    return Problem(
        prior=prior,
        carry=np.array([ball.carry for ball in balls], float),
        side=np.array([ball.side for ball in balls], float),
        run=np.array(run, float),
        weight=np.ones(len(balls)) if weight is None else weight,
    )


def _run_tells(problem: Problem) -> Floats:
    """Return log densities [strike, n] of the balls' runs, zero where it isn't known."""
    prior, known = problem.prior, np.isfinite(problem.run)
    tells = np.zeros((4, problem.run.size))
    if not known.any() or not problem.run[known].any():  # a device that gives the carry as total knows no run
        return tells
    fat, thin = mishit_shapes(prior.loft, prior.name)
    count = float(known.sum())
    own = (count * float(np.median(problem.run[known])) + _RUN_WORTH * prior.run) / (count + _RUN_WORTH)
    middles = (own, fat.run * prior.carry, thin.run * prior.carry, WILD_RUN * prior.carry)
    for row, middle in zip(tells, middles, strict=True):
        sd = 3.0 + 0.6 * max(middle, 0.0)
        row[known] = -np.log(sd) - 0.5 * ((problem.run[known] - middle) / sd) ** 2
    return tells


def batch_of(problems: Sequence[Problem], chains: int = 1) -> Batch:
    """Return problems as flat arrays, the whole of them ``chains`` times over."""
    beliefs = [belief_of(problem.prior) for problem in problems]
    shapes = [mishit_shapes(problem.prior.loft, problem.prior.name) for problem in problems]
    count = len(problems)
    sizes = np.array([problem.carry.size for problem in problems])
    owner = np.repeat(np.arange(count), sizes)

    def balls(name: str) -> Floats:
        return np.tile(np.concatenate([getattr(problem, name) for problem in problems]), chains)

    def by_problem(rows: Sequence[Sequence[float]]) -> Floats:
        return np.tile(np.array(rows, float).reshape(count, -1).T, (1, chains))

    wild = (WILD_SHAPE,) * count
    return Batch(
        owner=np.concatenate([owner + chain * count for chain in range(chains)]),
        carry=balls("carry"),
        side=balls("side"),
        weight=balls("weight"),
        tells=np.tile(np.concatenate([_run_tells(problem) for problem in problems], axis=1), (1, chains)),
        mean=by_problem([belief.mean for belief in beliefs]),
        worth=by_problem([belief.worth for belief in beliefs]),
        freedom=by_problem([(belief.freedom,) for belief in beliefs])[0],
        scale=by_problem([belief.scale for belief in beliefs]),
        strikes=by_problem([belief.strikes for belief in beliefs]),
        share=by_problem([(f.carry, t.carry, w[0]) for (f, t), w in zip(shapes, wild, strict=True)]),
        sd=by_problem([(f.carry_sd, t.carry_sd, w[1]) for (f, t), w in zip(shapes, wild, strict=True)]),
        wider=by_problem([(f.wider, t.wider, w[2]) for (f, t), w in zip(shapes, wild, strict=True)]),
    )


def mishit_logs(batch: Batch, guess: Guess, kind: int, picked: NDArray[np.int64] | slice = slice(None)) -> Floats:
    """Return log densities of the ``picked`` balls as mishits of ``kind`` (FAT, THIN or WILD), runs left out."""
    owner, row = batch.owner[picked], kind - 1
    carry, side_sd = guess.mean[0], np.sqrt(guess.covariance[2])
    spread, wide = (batch.sd[row] * carry)[owner], (batch.wider[row] * side_sd)[owner]
    u = (batch.carry[picked] - (batch.share[row] * carry)[owner]) / spread
    v = (batch.side[picked] - guess.mean[1][owner]) / wide
    return np.asarray(-np.log(spread * wide) - 0.5 * (u * u + v * v))


def solid_logs(batch: Batch, guess: Guess) -> Floats:
    """Return log densities of all balls as solid strikes, runs left out."""
    s11, s12, s22 = guess.covariance
    det = s11 * s22 - s12 * s12
    owner = batch.owner
    x, y = batch.carry - guess.mean[0][owner], batch.side - guess.mean[1][owner]
    quad = x * x * (s22 / det)[owner] - 2.0 * x * y * (s12 / det)[owner] + y * y * (s11 / det)[owner]
    return np.asarray(-0.5 * (np.log(det)[owner] + quad))


def strike_logs(batch: Batch, guess: Guess) -> Floats:
    """Return float64[strike, ball]: log of share times density of every ball under every strike, but for 2π."""
    shares = np.log(np.maximum(guess.shares, 1e-300))
    thin = shares[2] + np.log1p(-WILD_SHARE), shares[2] + np.log(WILD_SHARE)
    logs = batch.tells.copy()
    logs[SOLID] += solid_logs(batch, guess) + shares[0][batch.owner]
    for kind, share in ((FAT, shares[1]), (THIN, thin[0]), (WILD, thin[1])):
        logs[kind] += mishit_logs(batch, guess, kind) + share[batch.owner]
    return logs
