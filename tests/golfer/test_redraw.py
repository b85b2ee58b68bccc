"""Players drawn from what is known of them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from helpers import club_golfer
from scipy import stats

from simcaddie.player.posterior import PRIOR, covariance_of, draw_player, draw_truths, mean_spread, posterior_of
from simcaddie.player.swing import Posterior

GOLFER = club_golfer()
POSTERIOR = Posterior(12.0, 15.0, 22.0, 30.0)


def test_covariances_are_inverse_wishart():
    """Against scipy's law: mean and variance of every entry (both from 100,000 draws or in closed form)."""
    scale = np.array([[90.0, -30.0], [-30.0, 140.0]])
    rng = np.random.default_rng(1)
    one = np.ones(100_000)
    ours = covariance_of(14.0, (90.0 * one, -30.0 * one, 140.0 * one), rng)
    pmf = stats.invwishart(14, scale)
    theirs = pmf.rvs(100_000, random_state=2)
    for drawn, (i, j) in zip(ours, ((0, 0), (0, 1), (1, 1)), strict=True):
        assert drawn.mean() == pytest.approx(pmf.mean()[i, j], abs=5 * drawn.std() / 300)
        assert drawn.std() == pytest.approx(np.sqrt(pmf.var()[i, j]), rel=0.05)
        assert stats.ks_2samp(drawn, theirs[:, i, j]).pvalue > 1e-4
    product = ours[0] * ours[2] - ours[1] ** 2
    assert stats.ks_2samp(product, np.linalg.det(theirs)).pvalue > 1e-4


def test_the_mean_spread_is_that_of_the_law():
    pmf = stats.invgamma((14 - 1) / 2, scale=90 / 2)
    assert mean_spread(90.0, 14.0) == pytest.approx(pmf.expect(np.sqrt))


def test_draws_have_the_means_of_the_file():
    swing = replace(GOLFER.swings[3], posterior=POSTERIOR)
    truths = draw_truths(posterior_of(swing), np.random.default_rng(3), 100_000)
    for name in ("carry", "side", "carry_sd", "side_sd", "fat", "thin"):
        drawn = getattr(truths, name)
        assert drawn.mean() == pytest.approx(getattr(swing, name), abs=5 * drawn.std() / np.sqrt(drawn.size))
    assert truths.correlation.mean() == pytest.approx(swing.correlation, abs=0.03)
    mishits = swing.fat + swing.thin
    assert truths.mishits.std() == pytest.approx(np.sqrt(mishits * (1.0 - mishits) / 31.0), rel=0.02)


def test_a_swing_without_posterior_is_known_as_its_shots_tell():
    swing = replace(GOLFER.swings[3], shots=40, posterior=None)
    same = replace(swing, posterior=Posterior(PRIOR.carry + 40, PRIOR.side + 40, PRIOR.spread + 40, PRIOR.mishits + 40))
    assert posterior_of(swing) == posterior_of(same)
    few, many = (
        draw_truths(posterior_of(replace(swing, shots=shots)), np.random.default_rng(4), 4000) for shots in (0, 400)
    )
    assert few.carry.std() > 5 * many.carry.std()


def test_a_drawn_player_differs_in_every_swing_and_in_nothing_else():
    drawn = draw_player(GOLFER, np.random.default_rng(5))
    again = draw_player(GOLFER, np.random.default_rng(5))
    assert drawn == again
    assert drawn != draw_player(GOLFER, np.random.default_rng(6))
    assert replace(drawn, bag=GOLFER.bag) == GOLFER
    for before, after in zip(GOLFER.swings, drawn.swings, strict=True):
        assert after.title == before.title
        assert after.carry != before.carry
        assert after.run / after.carry == pytest.approx(before.run / before.carry)
        assert 0.0 < after.fat + after.thin < 1.0


def test_swings_without_spread_or_mishits_can_be_drawn():
    swing = replace(GOLFER.swings[3], carry_sd=0.0, side_sd=0.0, fat=0.0, thin=0.0, posterior=POSTERIOR)
    truths = draw_truths(posterior_of(swing), np.random.default_rng(7), 100)
    assert np.abs(truths.carry - swing.carry).max() < 1e-3
    assert truths.mishits.max() < 0.01
