"""Where the answer is known in closed form, or another library has it, the sampler gives the same."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from fitting.invented import one, prior, problem
from scipy import stats

from simcaddie.fitting.sampler import Problem, batch_of, expectation_maximisation, sample, start
from simcaddie.player.posterior import draw_truths, posterior_of
from simcaddie.player.swing import Posterior

NO_MISHITS = 1e9  # balls: the prior's shares are then fixed


def solid_balls(count: int, seed: int = 3, **keys: object) -> Problem:
    rng = np.random.default_rng(seed)
    x, y = rng.multivariate_normal((131.0, 4.0), [[80.0, -20.0], [-20.0, 60.0]], count).T
    before = replace(prior(**keys), fat=0.0, thin=0.0)
    return Problem(before, x, y, np.full(count, np.nan), np.ones(count))


@pytest.mark.parametrize("count", [1, 4, 12, 200])
def test_without_mishits_the_posterior_is_normal_inverse_wishart(count):
    """Gelman et al., Bayesian Data Analysis, 3rd ed. 2013, section 3.6: κₙ, νₙ, mₙ and Sₙ, and their means."""
    posterior = Posterior(carry=3.0, side=3.0, spread=10.0, mishits=NO_MISHITS)
    asked = solid_balls(count, posterior=posterior)
    (draws,) = sample([asked], np.random.default_rng(1), draws=40_000, chains=40)
    belief = posterior_of(asked.prior)
    x = np.array([asked.carry, asked.side])
    mean, n = x.mean(axis=1), count
    k, v = 3.0 + n, 10.0 + n
    s11, s12, s22 = belief.scale
    scatter = (x - mean[:, None]) @ (x - mean[:, None]).T
    off = mean - belief.mean
    scale = np.array([[s11, s12], [s12, s22]]) + scatter + 3.0 * n / k * np.outer(off, off)
    expected = (3.0 * np.array(belief.mean) + n * mean) / k
    truths = draws.truths
    covariance = scale / (v - 3.0)
    for drawn, at, var in (
        (truths.carry, expected[0], covariance[0, 0] / k),
        (truths.side, expected[1], covariance[1, 1] / k),
    ):
        assert drawn.mean() == pytest.approx(at, abs=5 * np.sqrt(var / drawn.size))
        assert drawn.var() == pytest.approx(var, rel=0.06)
    for drawn, entry in ((truths.carry_sd, scale[0, 0]), (truths.side_sd, scale[1, 1])):
        pmf = stats.invgamma((v - 1.0) / 2.0, scale=entry / 2.0)  # of the variance
        places = (0.05, 0.25, 0.5, 0.75, 0.95)
        assert np.quantile(drawn**2, places) == pytest.approx(pmf.ppf(places), rel=0.03)
    both = truths.correlation * truths.carry_sd * truths.side_sd
    assert both.mean() == pytest.approx(covariance[0, 1], abs=0.03 * np.sqrt(covariance[0, 0] * covariance[1, 1]))


def test_mishits_told_in_words_count_as_what_they_are():
    """Shares are Dirichlet: (a + told) / (Σa + n + told), solid balls seen as such."""
    asked = replace(solid_balls(20, posterior=Posterior(carry=3.0, side=3.0, spread=10.0, mishits=12.0)))
    before = replace(asked.prior, fat=0.1, thin=0.1)
    told = replace(asked, prior=before, struck=("solid",) * 20, told=(3.0, 2.0), mishit=5)
    (draws,) = sample([told], np.random.default_rng(4), draws=8000, chains=16)
    assert draws.truths.fat.mean() == pytest.approx((1.2 + 3.0) / 37.0, abs=0.004)
    assert draws.truths.thin.mean() == pytest.approx((1.2 + 2.0) / 37.0, abs=0.004)
    assert draws.strikes[:, 0] == pytest.approx(1.0)


def test_with_a_flat_prior_and_no_mishits_mean_and_covariance_are_numpys():
    flat = Posterior(carry=1e-6, side=1e-6, spread=4.0 + 1e-9, mishits=NO_MISHITS)
    asked = solid_balls(4000, posterior=flat)
    (draws,) = sample([asked], np.random.default_rng(2), draws=4000, chains=4)
    truths, x = draws.truths, np.array([asked.carry, asked.side])
    covariance = np.cov(x)
    se = np.sqrt(np.diag(covariance) / x.shape[1])
    assert [truths.carry.mean(), truths.side.mean()] == pytest.approx(x.mean(axis=1), abs=0.1 * se.max())
    assert (truths.carry_sd**2).mean() == pytest.approx(covariance[0, 0], rel=0.005)
    assert (truths.side_sd**2).mean() == pytest.approx(covariance[1, 1], rel=0.005)
    assert truths.correlation.mean() == pytest.approx(np.corrcoef(x)[0, 1], abs=0.003)
    assert [truths.carry.std(), truths.side.std()] == pytest.approx(se, rel=0.05)


def test_shares_are_dirichlet_where_strikes_are_plain():
    """Balls that can't be taken for another strike: Dirichlet with prior counts plus balls."""
    rng = np.random.default_rng(4)
    carry = np.concatenate([rng.normal(126, 2, 60), rng.normal(40, 3, 12)])
    before = replace(prior(), carry_sd=2.0)
    asked = Problem(before, carry, rng.normal(0, 7, 72), np.full(72, np.nan), np.ones(72))
    (draws,) = sample([asked], rng, draws=20_000)
    solid, fat, thin = posterior_of(before).strikes
    pmf = stats.beta(fat + thin + 12, solid + 60)
    assert draws.truths.mishits.mean() == pytest.approx(pmf.mean(), abs=0.003)
    assert draws.truths.mishits.std() == pytest.approx(pmf.std(), rel=0.05)


def test_a_ball_of_weight_two_counts_as_two_balls():
    before, rng = prior(), np.random.default_rng(5)
    asked = problem(before, one(draw_truths(posterior_of(before), rng, 1)), 40, rng)
    twice = Problem(before, *(np.repeat(x, 2) for x in (asked.carry, asked.side, asked.run)), np.ones(80))
    weighed = replace(asked, weight=np.full(40, 2.0))
    a, b = sample([twice, weighed], rng, draws=20_000)
    for name in ("carry", "side", "carry_sd", "side_sd"):
        x, y = getattr(a.truths, name), getattr(b.truths, name)
        assert x.mean() == pytest.approx(y.mean(), abs=0.15 * x.std())
        assert x.std() == pytest.approx(y.std(), rel=0.1)


def test_a_clear_mixture_agrees_with_scikit_learn():
    """Two clouds: the same labels, and the same mean and covariance of the solid one."""
    mixture = pytest.importorskip("sklearn.mixture")
    rng = np.random.default_rng(6)
    solid = rng.multivariate_normal((130.0, 3.0), [[49.0, 10.0], [10.0, 64.0]], 400)
    fat = np.array([rng.normal(71.5, 8.0, 60), rng.normal(3.0, 9.2, 60)]).T
    x = np.concatenate([solid, fat])
    theirs = mixture.GaussianMixture(2, means_init=[[130, 0], [70, 0]], random_state=0, tol=1e-8).fit(x)
    flat = Posterior(carry=1e-3, side=1e-3, spread=4.1, mishits=1.0)
    asked = Problem(prior(posterior=flat), *x.T, np.full(460, np.nan), np.ones(460))
    (draws,) = sample([asked], rng, draws=4000, chains=4)
    assert ((draws.strikes[:, 0] > 0.5) == (theirs.predict(x) == 0)).mean() > 0.995
    truths = draws.truths
    assert [truths.carry.mean(), truths.side.mean()] == pytest.approx(theirs.means_[0], abs=0.5)
    ours = [(truths.carry_sd**2).mean(), (truths.side_sd**2).mean()]
    assert ours == pytest.approx(np.diag(theirs.covariances_[0]), rel=0.08)
    assert truths.mishits.mean() == pytest.approx(theirs.weights_[1], abs=0.01)
    batch = batch_of([asked])
    mode = expectation_maximisation(batch, start(batch), rounds=200)
    assert mode.mean[:, 0] == pytest.approx(theirs.means_[0], abs=0.5)
    assert mode.shares[0, 0] == pytest.approx(theirs.weights_[0], abs=0.01)
