"""What a player file keeps of the posterior gives about the same draws again."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from fitting.invented import NUMBERS, one, prior, problem

from simcaddie.fitting.sampler import sample
from simcaddie.fitting.summary import summarise, told, worth_of
from simcaddie.io.player import player_of
from simcaddie.io.player_writer import player_text
from simcaddie.io.yaml_reader import parse
from simcaddie.player.posterior import draw_truths, posterior_of
from simcaddie.player.swing import Club, Player, Posterior


@pytest.mark.parametrize("balls", [3, 10, 30, 300])
@pytest.mark.parametrize("carry_worth", [2.0, 0.05])
def test_draws_from_the_player_file_agree_with_the_sampler(balls, carry_worth):
    """Means within a tenth of a deviation, deviations within an eighth, ends of 90 % intervals within two fifths."""
    rng = np.random.default_rng([21, balls])
    before = prior()
    asked = problem(before, one(draw_truths(posterior_of(before), rng, 1)), balls, rng)
    asked = replace(asked, prior=replace(before, posterior=replace(before.posterior, carry=carry_worth)))
    (draws,) = sample([asked], rng, draws=8000)
    player = Player("One (invented)", (Club("7 iron", 33.0, (summarise(asked, draws).swing,)),))
    (kept,) = player_of(parse(player_text(player), "written.yaml")).swings
    again = draw_truths(posterior_of(kept), rng, 8000)
    for name in NUMBERS:
        ours, theirs = getattr(draws.truths, name), getattr(again, name)
        assert theirs.mean() == pytest.approx(ours.mean(), abs=0.1 * ours.std())
        assert theirs.std() == pytest.approx(ours.std(), rel=0.125)
        ends = np.percentile(ours, (5, 95))
        assert np.percentile(theirs, (5, 95)) == pytest.approx(ends, abs=0.4 * ours.std())


@pytest.mark.parametrize(
    "posterior",
    [
        Posterior(3.0, 7.0, 12.0, 14.0, 12.0),
        Posterior(0.3, 5.0, 8.0, 4.0, 20.0),
        Posterior(250.0, 290.0, 300.0, 310.0, 200.0),
    ],
)
def test_worth_is_read_back_from_exact_draws(posterior):
    swing = replace(prior(), posterior=posterior)
    found = worth_of(draw_truths(posterior_of(swing), np.random.default_rng(22), 200_000))
    for name in ("carry", "side", "spread", "side_spread", "mishits"):
        assert getattr(found, name) == pytest.approx(getattr(posterior, name), rel=0.03)


def test_an_interval_holds_nine_in_ten():
    number = told(np.arange(1001.0))
    assert (number.mean, number.low, number.high) == (500.0, 50.0, 950.0)


def test_the_run_is_that_of_solid_balls_drawn_to_the_usual():
    rng = np.random.default_rng(23)
    before = prior()
    asked = problem(before, {"carry": 126.0, "side": 0.0, "carry_sd": 5.0, "side_sd": 6.0, "correlation": 0.0,
                             "mishits": 0.0, "fat": 0.0, "thin": 0.0}, 36, rng)  # fmt: skip
    asked = replace(asked, run=np.full(36, 4.0))
    (draws,) = sample([asked], rng)
    found = summarise(asked, draws)
    usual = before.run * found.swing.carry / before.carry
    solid = draws.strikes[:, 0].sum()
    assert found.swing.run == pytest.approx((4.0 * solid + 4.0 * usual) / (solid + 4.0))
    assert found.run_known
