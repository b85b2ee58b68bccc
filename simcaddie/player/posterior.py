"""Drawing a player from what is known of him: a distribution over his swings' true numbers.

For the solid strike's mean m and covariance Σ of (carry, side), and the shares s of solid, fat and thin:

    Σ ~ inverse Wishart(ν, S),   m | Σ ~ N(m₀, K^-½ Σ K^-½),  K = diag(κ_carry, κ_side),   s ~ Dirichlet(a)

With κ_carry = κ_side that is the normal–inverse-Wishart distribution (A. Gelman et al., Bayesian Data Analysis, 3rd
ed. 2013, section 3.6). A player file holds it readably: m₀ and the means of the two spreads are the swing's carry and
side; κ, ν and Σa stand in ``posterior`` as balls that each number is worth (ν less by one is the degrees of freedom
of each spread). Where the two spreads are not known alike, Σ is drawn with the mean of their ν, and then each variance
is moved to the same quantile of its own law. A swing without ``posterior`` is known as well as its ``shots`` tell.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields, replace
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.player.swing import Player, Posterior, Swing

__all__ = [
    "PRIOR",
    "SwingPosterior",
    "Truths",
    "covariance_of",
    "draw_player",
    "draw_truths",
    "mean_spread",
    "posterior_of",
]  # fmt: skip

Floats = NDArray[np.float64]

# What the usual numbers of a golfer's index and club are worth in balls. Spread: ν = 10 lets a player's spreads
# differ from them by a quarter (1 sd); side: a bias of half a spread; mishits: 12 in a hundred may be 3 or 25.
# Common practice, no source.
PRIOR: Final = Posterior(carry=2.0, side=4.0, spread=10.0, mishits=12.0)
_LEAST: Final = 1e-6  # yd and shares: a spread or a share of nothing has no distribution


@dataclass(frozen=True, slots=True)
class SwingPosterior:
    """The distribution in this module's head.

    ``mean`` m₀ and ``worth`` κ of (carry, side), ``freedom`` ν, ``scale`` S as (carry, both, side), ``strikes`` a of
    (solid, fat, thin), ``own`` ν of the two spreads.
    """

    mean: tuple[float, float]
    worth: tuple[float, float]
    freedom: float
    scale: tuple[float, float, float]
    strikes: tuple[float, float, float]
    own: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Truths:
    """Draws of a swing's true numbers, each float64[n]: yards, chances, a correlation."""

    carry: Floats
    side: Floats
    carry_sd: Floats
    side_sd: Floats
    correlation: Floats
    fat: Floats
    thin: Floats

    @property
    def mishits(self) -> Floats:
        """Chance of any mishit."""
        return self.fat + self.thin


def mean_spread(scale: float, freedom: float) -> float:
    """Return the mean sd under an inverse-Wishart distribution of 2 × 2 matrices, its scale being ``scale``.

    The variance is inverse gamma with shape (ν − 1) / 2 and scale S / 2.
    """
    shape = 0.5 * (freedom - 1.0)
    return float(np.sqrt(0.5 * scale) * np.exp(math.lgamma(shape - 0.5) - math.lgamma(shape)))


def posterior_of(swing: Swing) -> SwingPosterior:
    """Return what is known of a swing: its numbers, and what they are worth."""
    worth = swing.posterior or Posterior(
        PRIOR.carry + swing.shots, PRIOR.side + swing.shots, PRIOR.spread + swing.shots, PRIOR.mishits + swing.shots
    )
    own = worth.spread, worth.side_spread or worth.spread
    freedom = 0.5 * (own[0] + own[1])
    unit = mean_spread(1.0, freedom)
    carry, side = (max(sd, _LEAST) / unit for sd in (swing.carry_sd, swing.side_sd))
    shares = (max(1.0 - swing.fat - swing.thin, _LEAST), max(swing.fat, _LEAST), max(swing.thin, _LEAST))
    solid, fat, thin = (worth.mishits * share for share in shares)
    return SwingPosterior(
        mean=(swing.carry, swing.side),
        worth=(worth.carry, worth.side),
        freedom=freedom,
        scale=(carry * carry, swing.correlation * carry * side, side * side),
        strikes=(solid, fat, thin),
        own=own,
    )


def _own_law(variance: Floats, scale: float, freedom: float, own: float) -> Floats:
    """Return draws of a variance moved from the law of ``freedom`` to that of ``own``, the mean spread kept."""
    if own == freedom:
        return variance
    from scipy.special import gammainc, gammaincinv  # noqa: PLC0415 (a quarter of a second that few questions need)

    quantile = gammainc(0.5 * (freedom - 1.0), 0.5 * scale / variance)
    mean = mean_spread(scale, freedom)
    return np.asarray(0.5 * (mean / mean_spread(1.0, own)) ** 2 / gammaincinv(0.5 * (own - 1.0), quantile))


def covariance_of(
    freedom: Floats | float, scale: tuple[Floats, Floats, Floats], rng: np.random.Generator
) -> tuple[Floats, Floats, Floats]:
    """Return draws of (variance of carry, covariance, variance of side) ~ inverse Wishart(``freedom``, ``scale``).

    By Bartlett's decomposition (M. S. Bartlett, Proc. R. Soc. Edinburgh 53, 1933), one draw per entry of ``scale``.
    """
    first = np.sqrt(scale[0])
    below = scale[1] / first
    second = np.sqrt(np.maximum(scale[2] - below * below, 1e-12 * scale[2]))
    a = np.sqrt(rng.chisquare(freedom, first.shape))
    c = np.sqrt(rng.chisquare(np.asarray(freedom) - 1.0, first.shape))
    b = rng.standard_normal(first.shape)
    m11, m12 = first / a, -first * b / (a * c)
    m21, m22 = below / a, -below * b / (a * c) + second / c
    return m11 * m11 + m12 * m12, m11 * m21 + m12 * m22, m21 * m21 + m22 * m22


def draw_truths(belief: SwingPosterior, rng: np.random.Generator, size: int) -> Truths:
    """Return ``size`` draws from ``belief``."""
    one = np.ones(size)
    carry_var, both, side_var = covariance_of(
        belief.freedom, (belief.scale[0] * one, belief.scale[1] * one, belief.scale[2] * one), rng
    )
    correlation = np.clip(both / np.sqrt(carry_var * side_var), -0.999, 0.999)
    carry_sd = np.sqrt(_own_law(carry_var, belief.scale[0], belief.freedom, belief.own[0]))
    side_sd = np.sqrt(_own_law(side_var, belief.scale[2], belief.freedom, belief.own[1]))
    e, f = rng.standard_normal((2, size))
    f = correlation * e + np.sqrt(1.0 - correlation**2) * f
    shares = rng.dirichlet(belief.strikes, size)
    return Truths(
        carry=belief.mean[0] + carry_sd * e / np.sqrt(belief.worth[0]),
        side=belief.mean[1] + side_sd * f / np.sqrt(belief.worth[1]),
        carry_sd=carry_sd,
        side_sd=side_sd,
        correlation=correlation,
        fat=shares[:, 1],
        thin=shares[:, 2],
    )


def draw_player(player: Player, rng: np.random.Generator) -> Player:
    """Return a player that ``player`` may truly be: every swing drawn anew from what is known of it.

    The run keeps its share of the carry. Everything else stays.
    """
    return player.with_swings(lambda swing: _drawn(swing, rng))


def _drawn(swing: Swing, rng: np.random.Generator) -> Swing:
    drawn = draw_truths(posterior_of(swing), rng, 1)
    truth: dict[str, Any] = {field.name: float(getattr(drawn, field.name)[0]) for field in fields(drawn)}
    carry = truth["carry"] = max(1.0, truth["carry"])
    return replace(swing, run=swing.run * carry / swing.carry, **truth)
