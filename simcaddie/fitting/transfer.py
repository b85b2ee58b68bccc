"""What the range hides: some balls (the first after a change of club, those with a routine) against the rest.

How wide the rest fly is measured without any shrinking, in units of each swing's prior spread, and pooled over swings
as often as the other balls use them: sums of squares, each over its degrees of freedom, so that few balls a swing do
not flatter. The other balls' spread is r times that and their mishits are m times as frequent as the rest's, with
priors about the declared transfer (log r ± 0.27, log m ± 0.5; sd). By Gibbs sampling, one chain for every draw of the
rest's mishits: given the strikes r² is inverse gamma and m is drawn from a grid. The doubt about the rest's spread
comes in as a χ² at the end.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import digamma

from simcaddie.fitting.sampler import SOLID, Problem
from simcaddie.fitting.session import Ball, Key
from simcaddie.fitting.summary import SwingFit, Told, told
from simcaddie.player.pattern import MAX_MISHITS, WILD_SHAPE, WILD_SHARE, mishit_shapes
from simcaddie.player.swing import RangeToCourse

__all__ = ["ENOUGH", "Transfer", "measure_transfer"]

Floats = NDArray[np.float64]
Rest = Mapping[Key, tuple[Problem, SwingFit]]

ENOUGH: Final = 30  # balls: then r is known to ± 10 % (1 sd), and its prior weighs an eighth
FEWEST_SOLID: Final = 3.0  # of a swing's rest, to take part
CHAINS: Final = 400
ROUNDS: Final = 25
KEPT: Final = 5
_SHAPE: Final = 4.0  # of r²'s inverse gamma prior
_GRID: Final = np.exp(np.linspace(np.log(0.2), np.log(6.0), 120))
_LOG_SD: Final = 0.5  # of m


@dataclass(frozen=True, slots=True)
class Transfer:
    """Some balls against the rest: spread and mishits as factors; carry (share of it) and direction (°) as shifts.

    ``balls`` of them, ``rest`` balls beside; ``mishit_rate`` is theirs, ``rest_rate`` the rest's.
    """

    balls: int
    rest: int
    spread: Told
    mishits: Told
    mishit_rate: float
    rest_rate: float
    carry: Told
    direction: Told

    @property
    def enough(self) -> bool:
        """Whether it may replace a declared transfer."""
        return self.balls >= ENOUGH

    @property
    def as_declared(self) -> RangeToCourse:
        """The factors as a player file has them."""
        return RangeToCourse(round(self.spread.mean, 2), round(self.mishits.mean, 2))


@dataclass(frozen=True, slots=True)
class _Own:
    """A swing's rest, nothing shrunk: mean and variance of (carry, side) of ``count`` solid balls."""

    mean: Floats
    variance: Floats
    count: float


@dataclass(frozen=True, slots=True)
class _Against:
    """The other balls against the rest, float64[ball] unless said otherwise.

    ``square`` is the squared distance to the rest's mean in spreads, ``area`` the product of these. ``mishit``
    [kind, ball] has log densities of carry, ``side`` the squared distance to the side in ``wide`` spreads; ``parts``
    [kind, chain, ball] are shares within the mishits, ``share`` [chain, ball] theirs in all. ``off`` [2, ball] is how
    far off the rest's mean: share of the carry, degrees.
    """

    square: Floats
    area: Floats
    mishit: Floats
    side: Floats
    wide: Floats
    parts: Floats
    share: Floats
    off: Floats


def measure_transfer(
    balls: Sequence[Ball], rest: Rest, declared: RangeToCourse, rng: np.random.Generator
) -> Transfer | None:
    """Return how ``balls`` compare with the ``rest``; None where they have no swing in common that can tell."""
    owns = {key: own for key, (problem, fit) in rest.items() if (own := _own(problem, fit))}
    balls = [ball for ball in balls if (ball.club, ball.swing) in owns]
    if not balls:
        return None
    scale, freedom = _pooled(balls, owns, rest)
    columns = [
        _column(ball, owns[ball.club, ball.swing], *rest[ball.club, ball.swing], scale=scale, rng=rng) for ball in balls
    ]
    against = _Against(*(np.stack(part, axis=-1) for part in zip(*columns, strict=True)))
    spread, mishits, solid = _sample(against, declared, rng)
    carry, direction = _shifts(against.off, solid, rng)
    return Transfer(
        balls=len(balls),
        rest=sum(rest[key][0].carry.size for key in {(ball.club, ball.swing) for ball in balls}),
        spread=told(spread * np.sqrt(2.0 * freedom / rng.chisquare(2.0 * freedom, spread.size))),
        mishits=told(mishits),
        mishit_rate=float(1.0 - solid.mean()),
        rest_rate=float(against.share.mean()),
        carry=told(carry),
        direction=told(direction),
    )


def _own(problem: Problem, fit: SwingFit) -> _Own | None:
    weight = fit.strikes[:, SOLID]
    count = float(weight.sum())
    if count < FEWEST_SOLID:
        return None
    places = np.array([problem.carry, problem.side])
    mean = (places * weight).sum(axis=1) / count
    variance = (weight * (places - mean[:, None]) ** 2).sum(axis=1) / (count - 1.0)
    return _Own(mean, variance, count)


def _usual(fit: SwingFit, problem: Problem) -> Floats:
    """Return the prior's variance of (carry, side)."""
    return np.square([problem.prior.carry_sd, problem.prior.side_sd]) * (fit.swing.carry / problem.prior.carry) ** 2


def _pooled(balls: Sequence[Ball], owns: Mapping[Key, _Own], rest: Rest) -> tuple[Floats, float]:
    """Return the rest's variance of (carry, side) in units of the prior's, and its degrees of freedom."""
    use = {key: sum((ball.club, ball.swing) == key for ball in balls) for key in owns}
    total = sum(use.values())
    scale = sum(use[key] * own.variance / _usual(rest[key][1], rest[key][0]) for key, own in owns.items()) / total
    freedom = total**2 / sum(use[key] ** 2 / (own.count - 1.0) for key, own in owns.items())
    return np.asarray(scale), freedom


def _column(
    ball: Ball, own: _Own, problem: Problem, fit: SwingFit, *, scale: Floats, rng: np.random.Generator
) -> tuple[Floats, ...]:
    """Return one ball's part of ``_Against``."""
    sds = np.sqrt(scale * _usual(fit, problem) * (1.0 + 1.0 / own.count))
    far = (np.array([ball.carry, ball.side]) - own.mean) / sds
    fat, thin = mishit_shapes(problem.prior.loft, problem.prior.name)
    shapes = np.array([*((s.carry, s.carry_sd, s.wider) for s in (fat, thin)), WILD_SHAPE]).T
    z = (ball.carry - shapes[0] * own.mean[0]) / (shapes[1] * own.mean[0])
    wide = shapes[2] * sds[1]
    some = rng.integers(0, fit.truths.fat.size, CHAINS)
    both, thins = fit.truths.mishits[some], fit.truths.thin[some]
    parts = np.array([fit.truths.fat[some], thins * (1.0 - WILD_SHARE), thins * WILD_SHARE]) / both
    angles = np.degrees(np.arctan2([ball.side, own.mean[1]], [ball.carry, own.mean[0]]))
    return (
        np.asarray((far * far).sum()),
        np.asarray(sds.prod()),
        -np.log(shapes[1] * own.mean[0]) - 0.5 * z * z,
        ((ball.side - own.mean[1]) / wide) ** 2,
        wide,
        np.maximum(parts, 1e-300),
        both,
        np.array([ball.carry / own.mean[0] - 1.0, angles[0] - angles[1]]),
    )


def _draw_strikes(against: _Against, r: Floats, m: Floats, rng: np.random.Generator) -> NDArray[np.int64]:
    """Draw the strike of each ball, 0 solid: int64[chain, ball]."""
    wide = r[:, None]
    p = np.clip(m[:, None] * against.share, 1e-12, MAX_MISHITS)
    solid = np.log1p(-p) - np.log(against.area * wide * wide) - 0.5 * against.square / wide**2
    logs = np.log(p) + np.log(against.parts) + against.mishit[:, None, :]
    logs += -np.log(against.wide[:, None, :] * wide) - 0.5 * against.side[:, None, :] / wide**2
    both = np.concatenate([solid[None], logs])
    below = np.cumsum(np.exp(both - both.max(axis=0)), axis=0)
    return np.asarray((rng.random(p.shape) * below[-1] > below[:-1]).sum(axis=0))


def _sample(
    against: _Against, declared: RangeToCourse, rng: np.random.Generator
) -> tuple[Floats, Floats, NDArray[np.bool_]]:
    """Return draws of r and m, and whether each ball was solid: [draw], [draw], [draw, ball]."""
    rate = np.exp(2.0 * np.log(declared.spread) + digamma(_SHAPE))
    prior = -0.5 * ((np.log(_GRID) - np.log(max(declared.mishits, 0.05))) / _LOG_SD) ** 2
    factor = np.clip(_GRID[:, None, None] * against.share, 1e-12, MAX_MISHITS)  # [grid, chain, ball]
    as_mishit, as_solid = np.log(factor), np.log1p(-factor)
    r, m = np.full(CHAINS, declared.spread), np.full(CHAINS, declared.mishits)
    kept = []
    for number in range(ROUNDS):
        strike = _draw_strikes(against, r, m, rng)
        solid = strike == 0
        side = np.where(solid, against.square, np.choose(np.maximum(strike - 1, 0), against.side))
        shape = _SHAPE + 0.5 * (1.0 + solid).sum(axis=1)
        r = np.sqrt((rate + 0.5 * side.sum(axis=1)) / rng.standard_gamma(shape))
        m = _draw_factor(prior[:, None] + np.where(solid, as_solid, as_mishit).sum(axis=2), rng)
        if number >= ROUNDS - KEPT:
            kept.append((r, m, solid))
    return tuple(np.concatenate(part) for part in zip(*kept, strict=True))  # type: ignore[return-value]


def _draw_factor(logs: Floats, rng: np.random.Generator) -> Floats:
    """Draw from the grid by log weights [grid, chain]."""
    below = np.cumsum(np.exp(logs - logs.max(axis=0)), axis=0)
    place = (rng.random(logs.shape[1]) * below[-1] > below).sum(axis=0)
    return np.asarray(_GRID[np.minimum(place, _GRID.size - 1)])


def _shifts(off: Floats, solid: NDArray[np.bool_], rng: np.random.Generator) -> tuple[Floats, Floats]:
    """Return draws of how far the solid balls are off the rest's mean: share of the carry, degrees."""
    count = np.maximum(solid.sum(axis=1), 1)
    shifts = []
    for each in off:
        mean = (solid * each).sum(axis=1) / count
        variance = (solid * (each - mean[:, None]) ** 2).sum(axis=1) / np.maximum(count - 1, 1)
        shifts.append(mean + np.sqrt(variance / count) * rng.standard_normal(mean.size))
    return shifts[0], shifts[1]
