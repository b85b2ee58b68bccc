"""Multiple comparisons with the best: the intervals cover, on synthetic normals with known means."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from simcaddie.decision.intervals import CONFIDENCE, behind_best, together

RUNS, DRAWS = 400, 300


def behind(means: np.ndarray) -> np.ndarray:
    """Return how far each mean is behind the best of the others."""
    return np.array([m - np.delete(means, i).min() for i, m in enumerate(means)])


def paired(means: np.ndarray, shared: float, rng: np.random.Generator) -> np.ndarray:
    """Return draws with common random numbers: a shared part and one of each option's own."""
    common = shared * rng.standard_normal(DRAWS)
    return (
        means[:, None] + common + rng.standard_normal((means.size, DRAWS)) * np.linspace(0.4, 1.0, means.size)[:, None]
    )


@pytest.mark.parametrize(
    "means",
    [
        [4.80, 4.83, 4.90, 5.3],
        [4.0, 4.05],
        pytest.param([4.9, 4.9, 4.9, 4.9], marks=pytest.mark.slow),
        pytest.param([4.8, 4.8, 5.5, 5.5, 5.5], marks=pytest.mark.slow),
    ],
)
@pytest.mark.parametrize("shared", [pytest.param(0.0, marks=pytest.mark.slow), 2.0])
def test_all_intervals_cover_together_as_often_as_they_say(means, shared):
    rng, truth = np.random.default_rng(5), np.array(means)
    covered = 0
    for _ in range(RUNS):
        found = behind_best(paired(truth, shared, rng))
        covered += bool(((found[:, 0] <= behind(truth) + 1e-9) & (behind(truth) <= found[:, 1] + 1e-9)).all())
    # constrained intervals cover at least as often as they say; binomial limit at 1e-4
    assert covered >= stats.binom.ppf(1e-4, RUNS, CONFIDENCE)


def test_the_intervals_are_not_wider_than_they_need_be():
    """With all means equal coverage is near what is said: below it plus 4 points."""
    rng, truth = np.random.default_rng(6), np.full(4, 4.9)
    hit = np.mean([bool((behind_best(paired(truth, 1.0, rng))[:, 0] <= 1e-9).all()) for _ in range(RUNS)])
    assert 0.9 < hit <= 1.0
    lows = [behind_best(paired(np.array([4.8, 4.9]), 1.0, rng))[1, 0] for _ in range(RUNS)]
    assert np.mean(np.array(lows) == 0.0) > 0.2  # an option that is behind is ruled out often enough to be of use


def test_a_clear_winner_is_told_from_the_rest():
    found = behind_best(paired(np.array([4.0, 5.0, 6.0]), 1.0, np.random.default_rng(1)))
    assert found[0, 1] == 0.0
    assert found[1, 0] == 0.0
    assert found[1, 1] == pytest.approx(1.0, abs=0.2)


def test_pairing_sharpens_the_intervals():
    rng = np.random.default_rng(2)
    draws = paired(np.array([4.80, 4.95]), 3.0, rng)
    alone = draws.copy()
    alone[1] = np.roll(alone[1], 7)  # the same numbers, no longer paired
    assert np.ptp(behind_best(draws)[1]) < np.ptp(behind_best(alone)[1]) / 2


def test_one_option_and_equal_options_have_nothing_to_be_behind():
    assert behind_best(np.ones((1, 10))).tolist() == [[0.0, 0.0]]
    same = np.tile(np.random.default_rng(0).normal(size=50), (3, 1))
    assert behind_best(same).tolist() == [[0.0, 0.0]] * 3


@pytest.mark.parametrize("many", [1, 2, 5, 40])
def test_independent_estimates_have_sidaks_point(many):
    """Šidák, JASA 62 (1967): for independent normals the bound is exact, Φ(c) = (1 + 0.95^(1/n)) / 2."""
    point = float(stats.norm.ppf((1.0 + 0.95 ** (1.0 / many)) / 2.0))
    assert together(np.diag(np.arange(1.0, many + 1))) == pytest.approx(point, abs=0.04)


@pytest.mark.parametrize("many", [2, 3, 6])
def test_differences_to_one_base_have_dunnetts_point(many):
    """Dunnett's problem (correlation one half), by scipy's multivariate normal law."""
    covariance = 0.5 * (np.eye(many) + np.ones((many, many)))
    point, box = together(covariance), np.ones(many)
    inside = stats.multivariate_normal(np.zeros(many), covariance).cdf(point * box, lower_limit=-point * box)
    assert inside == pytest.approx(0.95, abs=0.005)


def test_what_never_varies_needs_no_room():
    assert together(np.zeros((3, 3))) == 0.0
    assert together(np.diag([0.0, 1.0])) == pytest.approx(together(np.eye(1)), abs=0.02)
