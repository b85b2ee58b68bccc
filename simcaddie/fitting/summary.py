"""Posterior draws in few words: mean and interval of each number, and what each is worth in balls.

The worth is matched to the draws' moments, so that drawing from the player file gives about the same again. With
v = (ν − 1) / 2 the log of a variance has variance ψ′(v) under an inverse-Wishart distribution (ψ′: trigamma), which
gives ν; the mean's variance is E[variance] / κ, which gives κ; a share's variance is s (1 − s) / (Σa + 1).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.special import polygamma

from simcaddie.fitting.sampler import RUN_WORTH, SOLID, Draws, Problem
from simcaddie.player.posterior import Truths, mean_spread
from simcaddie.player.swing import Posterior, Swing

__all__ = ["SwingFit", "Told", "summarise", "told", "worth_of"]

Floats = NDArray[np.float64]

NUMBERS: Final = ("carry", "side", "carry_sd", "side_sd", "mishits")
_LEAST_SPREAD: Final = 4.1
_MOST: Final = 1e6


@dataclass(frozen=True, slots=True)
class Told:
    """A number's posterior mean, and the interval that holds it nine times in ten."""

    mean: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class SwingFit:
    """A fitted swing.

    ``swing`` has the posterior means and what they are worth. ``numbers`` tells carry, side, carry_sd, side_sd (yd)
    and mishits (a chance); ``raw`` has plain mean and spread of all its balls by the same names. ``strikes`` is
    float64[ball, 4]: how likely each was solid, fat, thin or wild. ``best`` is the longest carry; ``run_known`` tells
    whether the balls say anything of the run.
    """

    swing: Swing
    numbers: Mapping[str, Told]
    raw: Mapping[str, float]
    strikes: Floats
    truths: Truths
    best: float
    run_known: bool

    @property
    def wild(self) -> float:
        """How many balls flew wild, by expectation."""
        return float(self.strikes[:, 3].sum())


def told(draws: Floats) -> Told:
    """Return mean and 90 % interval of draws."""
    low, high = np.percentile(draws, (5.0, 95.0))
    return Told(float(draws.mean()), float(low), float(high))


def worth_of(truths: Truths) -> Posterior:
    """Return what each number is worth in balls, by the draws' moments."""
    sds = truths.carry_sd, truths.side_sd
    freedoms = [_freedom(4.0 * float(np.log(sd).var())) for sd in sds]
    mean_variances = [
        (float(sd.mean()) / mean_spread(1.0, freedom)) ** 2 / (freedom - 3.0)
        for sd, freedom in zip(sds, freedoms, strict=True)
    ]
    mishits = float(truths.mishits.mean())
    return Posterior(
        carry=_bounded(mean_variances[0] / float(truths.carry.var())),
        side=_bounded(mean_variances[1] / float(truths.side.var())),
        spread=freedoms[0],
        side_spread=freedoms[1],
        mishits=_bounded(mishits * (1.0 - mishits) / float(truths.mishits.var()) - 1.0),
    )


def _bounded(worth: float) -> float:
    return min(max(worth, 0.01), _MOST)


def _freedom(variance: float) -> float:
    """Return ν for the variance of a log variance."""

    def surplus(freedom: float) -> float:
        return float(polygamma(1, 0.5 * (freedom - 1.0))) - variance

    if surplus(_LEAST_SPREAD) <= 0.0:
        return _LEAST_SPREAD
    return float(brentq(surplus, _LEAST_SPREAD, _MOST)) if surplus(_MOST) < 0.0 else _MOST


def summarise(problem: Problem, draws: Draws) -> SwingFit:
    """Return a fitted swing from its balls and posterior draws."""
    truths, prior = draws.truths, problem.prior
    means: dict[str, Any] = {f.name: float(getattr(truths, f.name).mean()) for f in fields(truths)}
    run, run_sd = _run(problem, draws.strikes[:, SOLID] * problem.weight, means["carry"])
    swing = replace(
        prior,
        **means,
        run=run,
        run_sd=run_sd,
        shots=int(problem.carry.size) + problem.mishit,
        posterior=worth_of(truths),
    )
    return SwingFit(
        swing=swing,
        numbers={name: told(getattr(truths, name)) for name in NUMBERS},
        raw=_raw(problem),
        strikes=draws.strikes,
        truths=truths,
        best=float(problem.carry.max()) if problem.carry.size else float("nan"),
        run_known=bool(np.nansum(np.abs(problem.run)) > 0.0),
    )


def _raw(problem: Problem) -> dict[str, float]:
    """Return plain mean and spread (n − 1) of all balls, as many would work them out."""
    many = problem.carry.size > 1
    return {
        "carry": float(problem.carry.mean()) if problem.carry.size else float("nan"),
        "side": float(problem.side.mean()) if problem.carry.size else float("nan"),
        "carry_sd": float(problem.carry.std(ddof=1)) if many else float("nan"),
        "side_sd": float(problem.side.std(ddof=1)) if many else float("nan"),
    }


def _run(problem: Problem, solid: Floats, carry: float) -> tuple[float, float]:
    """Return mean and spread of the solid balls' run, the prior's worth four balls."""
    share = carry / problem.prior.carry
    usual, usual_sd = problem.prior.run * share, problem.prior.run_sd * share
    known = np.isfinite(problem.run)
    weight = np.where(known, solid, 0.0)
    run = np.where(known, problem.run, 0.0)
    if not known.any() or not run.any():
        return usual, usual_sd
    count = RUN_WORTH + float(weight.sum())
    mean = (RUN_WORTH * usual + float((weight * run).sum())) / count
    square = RUN_WORTH * (usual_sd**2 + (usual - mean) ** 2) + float((weight * (run - mean) ** 2).sum())
    return max(mean, 0.0), float(np.sqrt(square / count))
