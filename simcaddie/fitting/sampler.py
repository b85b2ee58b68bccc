"""The posterior of many swings at once, by Gibbs sampling over their balls as flat arrays.

The strikes are those that the program plays with (``player/pattern.py``), so that what is fitted is what is played:

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
from simcaddie.player.pattern import WILD_SHAPE, WILD_SHARE, mishit_shapes
from simcaddie.player.posterior import Truths, covariance_of, posterior_of
from simcaddie.player.swing import Swing

__all__ = [
    "RUN_WORTH",
    "SOLID",
    "Draws",
    "Problem",
    "batch_of",
    "expectation_maximisation",
    "problem_of",
    "sample",
    "start",
]

Floats = NDArray[np.float64]

SOLID, FAT, THIN, WILD = range(4)
WILD_RUN: Final = 0.1
RUN_WORTH: Final = 4.0  # balls, of the usual run against the swing's own


@dataclass(frozen=True, slots=True)
class Problem:
    """One swing to fit: its prior, and its balls as float64[n]: carry, side, run (nan: not known), weight.

    ``struck`` says by ball how it was struck (of ``STRIKES``, "" for not known). ``told`` has the weight of the fat and
    of the thin balls of which no more is known, ``mishit`` their number.
    """

    prior: Swing
    carry: Floats
    side: Floats
    run: Floats
    weight: Floats
    struck: tuple[str, ...] = ()
    told: tuple[float, float] = (0.0, 0.0)
    mishit: int = 0


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


def problem_of(
    prior: Swing, balls: Sequence[Ball], weight: Floats | None = None, mishit: Sequence[tuple[Ball, float]] = ()
) -> Problem:
    """Return a problem from a swing's prior and balls; every ball weighs one unless ``weight`` says otherwise.

    ``mishit`` are those told in words alone, each with its weight.
    """
    fat, thin = (sum(w for ball, w in mishit if (ball.strike == "fat") == fat) for fat in (True, False))
    run = [np.nan if ball.total is None else ball.total - ball.carry for ball in balls]
    return Problem(
        prior=prior,
        carry=np.array([ball.carry for ball in balls], float),
        side=np.array([ball.side for ball in balls], float),
        run=np.array(run, float),
        weight=np.ones(len(balls)) if weight is None else weight,
        struck=tuple(ball.strike for ball in balls),
        told=(fat, thin),
        mishit=len(mishit),
    )


_AS_STRUCK: Final = {"solid": (SOLID,), "fat": (FAT,), "thin": (THIN, WILD)}
_NEVER: Final = -1e4  # log density of a strike that somebody saw it wasn't


def _struck_tells(problem: Problem) -> Floats:
    """Return log densities [strike, n] of what was seen of the balls' strikes."""
    tells = np.zeros((4, problem.carry.size))
    for ball, strike in enumerate(problem.struck):
        if strike:
            tells[[row for row in range(4) if row not in _AS_STRUCK[strike]], ball] = _NEVER
    return tells


def _run_tells(problem: Problem) -> Floats:
    """Return log densities [strike, n] of the balls' runs, zero where it isn't known."""
    prior, known = problem.prior, np.isfinite(problem.run)
    tells = np.zeros((4, problem.run.size))
    if not known.any() or not problem.run[known].any():  # a device that gives the carry as total knows no run
        return tells
    fat, thin = mishit_shapes(prior.loft, prior.name)
    count = float(known.sum())
    own = (count * float(np.median(problem.run[known])) + RUN_WORTH * prior.run) / (count + RUN_WORTH)
    middles = (own, fat.run * prior.carry, thin.run * prior.carry, WILD_RUN * prior.carry)
    for row, middle in zip(tells, middles, strict=True):
        sd = 3.0 + 0.6 * max(middle, 0.0)
        row[known] = -np.log(sd) - 0.5 * ((problem.run[known] - middle) / sd) ** 2
    return tells


def batch_of(problems: Sequence[Problem], chains: int = 1) -> Batch:
    """Return problems as flat arrays, the whole of them ``chains`` times over."""
    beliefs = [posterior_of(problem.prior) for problem in problems]
    strikes = [belief.strikes for belief in beliefs]
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
        tells=np.tile(np.concatenate([_run_tells(p) + _struck_tells(p) for p in problems], axis=1), (1, chains)),
        mean=by_problem([belief.mean for belief in beliefs]),
        worth=by_problem([belief.worth for belief in beliefs]),
        freedom=by_problem([(belief.freedom,) for belief in beliefs])[0],
        scale=by_problem([belief.scale for belief in beliefs]),
        strikes=by_problem([(s, f + p.told[0], t + p.told[1]) for p, (s, f, t) in zip(problems, strikes, strict=True)]),
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


# ─── Gibbs sampling with data augmentation, started by EM ─────────────────────────────────────────────────────────────
#
# Each round draws every ball's strike given the numbers, then the numbers given the strikes (J. Diebolt and C. P.
# Robert, J. R. Stat. Soc. B 56, 1994). Given the strikes the shares are Dirichlet, the covariance inverse Wishart and
# the mean normal, by the solid balls. Fat and thin balls tell of mean and spread too, since their shapes are shares of
# the solid one: both draws are proposals, accepted by how much likelier they make the mishits (Metropolis within Gibbs,
# exact). EM (A. P. Dempster, N. M. Laird and D. B. Rubin, J. R. Stat. Soc. B 39, 1977) starts it, without that last
# term.
#
# A ball of weight w counts as w balls in all sums; which strike it was is judged as for any other.

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
        Draws(Truths(*numbers), balls) for numbers, balls in zip(by_problem, np.split(strikes, ends[:-1]), strict=True)
    )
