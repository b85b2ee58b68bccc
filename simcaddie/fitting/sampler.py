"""The posterior of many swings at once: Gibbs sampling with data augmentation, started by EM.

Each round draws every ball's strike given the numbers, then the numbers given the strikes (J. Diebolt and C. P. Robert,
J. R. Stat. Soc. B 56, 1994). Given the strikes the shares are Dirichlet, the covariance inverse Wishart and the mean
normal, by the solid balls. Fat and thin balls tell of mean and spread too, since their shapes are shares of the
solid one: both draws are proposals, accepted by how much likelier they make the mishits (Metropolis within Gibbs,
exact). EM (A. P. Dempster, N. M. Laird and D. B. Rubin, J. R. Stat. Soc. B 39, 1977) starts it, without that last term.

A ball of weight w counts as w balls in all sums; which strike it was is judged as for any other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.fitting.batch import FAT, SOLID, WILD, Batch, Guess, Problem, batch_of, mishit_logs, strike_logs
from simcaddie.golfer.redraw import Truths, covariance_of

__all__ = ["Draws", "expectation_maximisation", "sample", "start"]

Floats = NDArray[np.float64]

BURN_IN: Final = 50
SHORTEST: Final = 1.0  # yd: no swing carries less on average


@dataclass(frozen=True, slots=True)
class Draws:
    """Posterior draws of one problem, and float64[n, 4]: how likely each ball was solid, fat, thin, wild."""

    truths: Truths
    strikes: Floats


def start(batch: Batch) -> Guess:
    """Return a rough first guess: the carry that two balls in five beat, the middle side, the prior's spread."""
    mean = batch.mean.copy()
    for problem in range(batch.size):
        mine = batch.owner == problem
        count = mine.sum()
        if count:
            found = np.array([np.percentile(batch.carry[mine], 60), np.median(batch.side[mine])])
            worth = batch.worth[:, problem]
            mean[:, problem] = (worth * mean[:, problem] + count * found) / (worth + count)
    covariance = batch.scale / np.maximum(batch.freedom - 3.0, 1.0)
    return Guess(np.maximum(mean, [[SHORTEST], [-np.inf]]), covariance, batch.strikes / batch.strikes.sum(axis=0))


def _chances(logs: Floats) -> Floats:
    chances = np.exp(logs - logs.max(axis=0))
    return np.asarray(chances / chances.sum(axis=0))


def expectation_maximisation(batch: Batch, guess: Guess, rounds: int = 20) -> Guess:
    """Return the guess after some rounds of EM towards the posterior's mode."""
    for _ in range(rounds):
        chances = _chances(strike_logs(batch, guess)) * batch.weight
        solid = chances[SOLID]
        count, mean = _weighted_mean(batch, solid)
        mean = (batch.worth * batch.mean + count * mean) / (batch.worth + count)
        scatter = _scatter(batch, solid, mean)
        counts = batch.strikes + np.array([count, *(batch.sums(c) for c in (chances[FAT], chances[2] + chances[WILD]))])
        covariance = scatter / (batch.freedom + count + 3.0)
        guess = Guess(np.maximum(mean, [[SHORTEST], [-np.inf]]), covariance, counts / counts.sum(axis=0))
    return guess


def _weighted_mean(batch: Batch, weight: Floats) -> tuple[Floats, Floats]:
    """Return (count, mean [2, p]) of the balls, the prior's mean where there are none."""
    count = batch.sums(weight)
    some = np.where(count > 0, count, 1.0)
    mean = np.array([batch.sums(weight * batch.carry), batch.sums(weight * batch.side)]) / some
    return count, np.where(count > 0, mean, batch.mean)


def _scatter(batch: Batch, weight: Floats, mean: Floats) -> Floats:
    """Return [3, p]: the prior's scale, squares and products about ``mean``, also of the prior's mean by its worth."""
    x, y = batch.carry - mean[0][batch.owner], batch.side - mean[1][batch.owner]
    u, v = np.sqrt(batch.worth) * (mean - batch.mean)
    wx, wy = weight * x, weight * y
    here = np.array([batch.sums(wx * x) + u * u, batch.sums(wx * y) + u * v, batch.sums(wy * y) + v * v])
    return np.asarray(batch.scale + here)


def _draw_strikes(logs: Floats, rng: np.random.Generator) -> tuple[NDArray[np.int64], Floats]:
    """Return (strike of each ball, its chances)."""
    chances = _chances(logs)
    below = np.cumsum(chances[:-1], axis=0)
    return (rng.random(below.shape[1]) > below).sum(axis=0), chances


def _draw_covariance(batch: Batch, solid: Floats, guess: Guess, rng: np.random.Generator) -> Guess:
    count = batch.sums(solid)
    scale = _scatter(batch, solid, guess.mean)
    drawn = covariance_of(batch.freedom + count + 1.0, (scale[0], scale[1], scale[2]), rng)
    return Guess(guess.mean, np.array(drawn), guess.shares)


def _draw_mean(batch: Batch, solid: Floats, guess: Guess, rng: np.random.Generator) -> Guess:
    """Draw the means: precision n Σ⁻¹ + K^½ Σ⁻¹ K^½."""
    count, mean = _weighted_mean(batch, solid)
    s11, s12, s22 = guess.covariance
    det = s11 * s22 - s12 * s12
    i11, i12, i22 = s22 / det, -s12 / det, s11 / det
    k1, k2 = batch.worth
    k12 = np.sqrt(k1 * k2)
    m1, m2 = batch.mean
    p11, p12, p22 = (count + k1) * i11, (count + k12) * i12, (count + k2) * i22
    h1 = count * (i11 * mean[0] + i12 * mean[1]) + k1 * i11 * m1 + k12 * i12 * m2
    h2 = count * (i12 * mean[0] + i22 * mean[1]) + k12 * i12 * m1 + k2 * i22 * m2
    # Cholesky of the precision: solve L Lᵀ m = h, then add L⁻ᵀ ε.
    l11 = np.sqrt(p11)
    l21 = p12 / l11
    l22 = np.sqrt(np.maximum(p22 - l21 * l21, 1e-300))
    e1, e2 = rng.standard_normal((2, count.size))
    f1 = h1 / l11 + e1
    f2 = (h2 - l21 * (h1 / l11)) / l22 + e2
    second = f2 / l22
    return Guess(np.array([(f1 - l21 * second) / l11, second]), guess.covariance, guess.shares)


def _mishits_log(batch: Batch, picked: list[NDArray[np.int64]], guess: Guess) -> Floats:
    total = np.zeros(batch.size)
    for kind, balls in enumerate(picked, start=FAT):
        if balls.size:
            logs = mishit_logs(batch, guess, kind, balls) * batch.weight[balls]
            total += np.bincount(batch.owner[balls], logs, batch.size)
    return total


def _accepted(new: Guess, old: Guess, gain: Floats, rng: np.random.Generator) -> Guess:
    """Return ``new`` where it is accepted; ``gain`` is how much likelier it makes the mishits, as a log."""
    yes = np.log(rng.random(gain.size)) < gain
    return Guess(np.where(yes, new.mean, old.mean), np.where(yes, new.covariance, old.covariance), old.shares)


def _round(batch: Batch, guess: Guess, rng: np.random.Generator) -> tuple[Guess, Floats]:
    """Return the numbers after one round, and the strikes' chances before it."""
    strike, chances = _draw_strikes(strike_logs(batch, guess), rng)
    picked = [np.flatnonzero(strike == kind) for kind in range(FAT, WILD + 1)]
    solid = batch.weight * (strike == SOLID)
    counts = [solid, batch.weight * (strike == FAT), batch.weight * (strike > FAT)]
    shares = rng.standard_gamma(batch.strikes + np.array([batch.sums(count) for count in counts]))
    guess = Guess(guess.mean, guess.covariance, shares / shares.sum(axis=0))
    before = _mishits_log(batch, picked, guess)
    for draw in (_draw_covariance, _draw_mean):
        new = draw(batch, solid, guess, rng)
        possible = new.mean[0] >= SHORTEST
        new.mean = np.where(possible, new.mean, guess.mean)
        after = _mishits_log(batch, picked, new)
        guess = _accepted(new, guess, np.where(possible, after - before, -np.inf), rng)
        before = _mishits_log(batch, picked, guess)
    return guess, chances


def sample(
    problems: Sequence[Problem], rng: np.random.Generator, *, draws: int = 2000, chains: int = 8, burn_in: int = BURN_IN
) -> tuple[Draws, ...]:
    """Return about ``draws`` posterior draws of each problem, from ``chains`` chains that start where EM ends."""
    each = -(-draws // chains)
    batch = batch_of(problems, chains)
    guess = expectation_maximisation(batch, start(batch))
    chances = np.zeros((4, batch.carry.size))
    kept = np.empty((each, 7, batch.size))
    for number in range(-burn_in, each):
        guess, now = _round(batch, guess, rng)
        if number >= 0:
            chances += now
            sds = np.sqrt(guess.covariance[::2])
            kept[number] = (*guess.mean, *sds, guess.covariance[1] / (sds[0] * sds[1]), *guess.shares[1:])
    # [draw, number, chain, problem] → [problem, number, chain and draw]
    by_problem = kept.reshape(each, 7, chains, -1).transpose(3, 1, 2, 0).reshape(len(problems), 7, -1)
    strikes = chances.reshape(4, chains, -1).sum(axis=1).T / (each * chains)
    ends = np.cumsum([problem.carry.size for problem in problems])
    return tuple(
        Draws(Truths(*numbers), balls)
        for numbers, balls in zip(by_problem, np.split(strikes, ends[:-1]), strict=True)
    )
