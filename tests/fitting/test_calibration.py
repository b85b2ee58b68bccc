"""The posterior is calibrated: simulation-based calibration, and truths off the prior.

S. Talts, M. Betancourt, D. Simpson, A. Vehtari and A. Gelman, Validating Bayesian Inference Algorithms with
Simulation-Based Calibration, arXiv:1804.06788 (2018): draw truths from the prior, balls from the truths, and the
posterior from the balls; a truth's rank among its posterior draws is uniform.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from fitting.invented import NUMBERS, one, prior, problem
from scipy import stats

from simcaddie.fitting.sampler import sample
from simcaddie.player.posterior import draw_truths, posterior_of
from simcaddie.player.swing import Swing

DRAWS, BINS, CHAINS = 399, 10, 4
SIZES = [  # balls, repetitions
    pytest.param(balls, repetitions, marks=() if repetitions == 200 and balls in (5, 30) else pytest.mark.slow)
    for repetitions in (200, 1000)
    for balls in (5, 10, 30, 300)
]


@cache
def ranks(balls: int, repetitions: int) -> dict[str, np.ndarray]:
    """Return each truth's rank among thinned posterior draws, 0 … DRAWS, by number."""
    rng = np.random.default_rng([2018, balls, repetitions])
    priors = [prior(mishits=m) for m in rng.uniform(0.02, 0.2, repetitions)]
    truths = [one(draw_truths(posterior_of(before), rng, 1)) for before in priors]
    found = []
    for first in range(0, repetitions, 200):
        some = slice(first, first + 200)
        problems = [problem(b, t, balls, rng) for b, t in zip(priors[some], truths[some], strict=True)]
        found += sample(problems, rng, draws=2 * (DRAWS + 1), chains=CHAINS)
    below = {name: np.empty(repetitions, int) for name in NUMBERS}
    for number, (truth, draws) in enumerate(zip(truths, found, strict=True)):
        for name in NUMBERS:
            below[name][number] = (getattr(draws.truths, name)[1::2][:DRAWS] < truth[name]).sum()
    return below


@pytest.mark.parametrize(("balls", "repetitions"), SIZES)
@pytest.mark.parametrize("name", NUMBERS)
def test_ranks_are_flat(name, balls, repetitions):
    counts = np.bincount(ranks(balls, repetitions)[name] * BINS // (DRAWS + 1), minlength=BINS)
    assert stats.chisquare(counts).pvalue > 1e-4


@pytest.mark.parametrize(("balls", "repetitions"), SIZES)
@pytest.mark.parametrize("name", NUMBERS)
def test_nine_in_ten_intervals_hold_nine_truths_in_ten(name, balls, repetitions):
    rank = ranks(balls, repetitions)[name]
    inside = int(((rank >= 0.05 * (DRAWS + 1)) & (rank < 0.95 * (DRAWS + 1))).sum())
    assert stats.binomtest(inside, repetitions, 0.9).pvalue > 1e-4


def off_prior(before: Swing, signs: tuple[float, ...]) -> dict[str, float]:
    """Return truths one prior standard deviation off in every number, as ``signs`` say."""
    drawn = draw_truths(posterior_of(before), np.random.default_rng(0), 20_000)
    truth = {
        name: float(getattr(drawn, name).mean() + sign * getattr(drawn, name).std())
        for name, sign in zip(NUMBERS, signs, strict=True)
    }
    truth["mishits"] = max(truth["mishits"], 0.005)
    share = before.fat / (before.fat + before.thin)
    return truth | {
        "correlation": float(signs[0] * drawn.correlation.std()),
        "fat": share * truth["mishits"],
        "thin": (1 - share) * truth["mishits"],
    }


SIGNS = [(1, -1, 1, -1, 1), *(pytest.param(signs, marks=pytest.mark.slow) for signs in (
    (1,) * 5, (-1,) * 5, (-1, 1, -1, 1, -1)
))]  # fmt: skip


@cache
def coverage(balls: int, signs: tuple[float, ...], repetitions: int = 400) -> dict[str, float]:
    """Return how often 90 % intervals hold such truths."""
    rng = np.random.default_rng([85, balls])
    before = prior()
    truth = off_prior(before, signs)
    found = sample([problem(before, truth, balls, rng) for _ in range(repetitions)], rng, draws=800, chains=2)
    inside = dict.fromkeys(NUMBERS, 0)
    for draws in found:
        for name in NUMBERS:
            low, high = np.percentile(getattr(draws.truths, name), (5, 95))
            inside[name] += low <= truth[name] <= high
    return {name: count / repetitions for name, count in inside.items()}


@pytest.mark.parametrize("signs", SIGNS, ids=str)
@pytest.mark.parametrize("balls", [30, pytest.param(300, marks=pytest.mark.slow)])
def test_truths_one_prior_deviation_off_are_still_held(balls, signs):
    assert min(coverage(balls, signs).values()) >= 0.85
