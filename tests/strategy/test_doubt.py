"""Doubt about the player in the choice: nothing where all is known, the vague club named where one is not."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from helpers import club, club_golfer, lane

from simcaddie.base.errors import BadRequest
from simcaddie.base.streams import generator
from simcaddie.decision.compare import compare
from simcaddie.decision.position import set_position
from simcaddie.decision.request import Comparison, Request
from simcaddie.features.compare.analysis import best_ball_cost, doubt, doubtful, redrawn_worths, telling
from simcaddie.features.compare.present import best_ball_words, doubt_words
from simcaddie.player.posterior import draw_player
from simcaddie.player.swing import Player, Posterior

REQUEST = Request(sequences=2_000, aims=(0.0, 0.0, 1.0), then="sound", robust=False)
SURE = Posterior(carry=1e9, side=1e9, spread=1e9, mishits=1e9)
VAGUE = Posterior(carry=2.0, side=2.0, spread=8.0, mishits=6.0)
PLAYER = club_golfer()
LANE = lane()


def known(player: Player, *vague: str) -> Player:
    """Return the player with every swing surely known but those of the clubs named."""
    return player.with_swings(lambda s: replace(s, posterior=VAGUE if s.club in vague else SURE))


@pytest.fixture(scope="module")
def asked() -> Comparison:
    return compare(LANE, PLAYER, REQUEST)


def believed(asked: Comparison, player: Player) -> Comparison:
    """Return the comparison with the same numbers, otherwise known."""
    return replace(asked, position=replace(asked.position, player=player))


def test_same_seed_same_answer_whatever_the_threads(asked, monkeypatch):
    monkeypatch.setenv("SIMCADDIE_THREADS", "1")
    alone = doubt(asked, 20)
    monkeypatch.setenv("SIMCADDIE_THREADS", "3")
    assert doubt(asked, 20) == alone
    assert doubt(replace(asked, request=replace(REQUEST, seed=2)), 20).worth != alone.worth


def test_shares_sum_to_one_and_stand_in_the_order_of_the_table(asked):
    found = doubt(asked, 50)
    assert sum(found.best) == pytest.approx(1.0)
    assert max(found.best) < 1.0
    assert found.options == doubtful(asked)
    assert found.options[0] is asked.best
    assert len({m.option.swing for m in found.options}) == len(found.options)
    assert found.loss > 0.0


def test_a_player_surely_known_loses_nothing_by_the_table(asked):
    sure = believed(asked, known(PLAYER))
    lowest = min(doubtful(sure), key=lambda m: sure.position.worths(m.option.swing, m.option.aim, 8)[0])
    others = [m for m in sure.options if m is not lowest]
    found = doubt(replace(sure, options=(lowest, *others)), 30)
    assert found.best[0] == 1.0
    assert found.loss == pytest.approx(0.0, abs=1e-9)
    assert "hardly" in doubt_words(sure, found)[2]


@pytest.mark.parametrize("vague", ["5 wood", "hybrid", "driver"])
def test_the_club_named_is_the_one_that_is_vague(asked, vague):
    one = believed(asked, known(PLAYER, vague))
    found = doubt(one, 100)
    assert found.swings[0].title == vague
    assert found.swings[0].value > 5.0 * found.swings[1].value
    # with one swing unknown its truth is all there is to know
    behind = found.worth[0] - min(found.worth)
    assert found.loss == pytest.approx(found.swings[0].value + behind, abs=1e-3)
    assert found.swings[0].balls % 5 == 0
    assert found.swings[0].told >= 0.5 * found.swings[0].value or found.swings[0].balls == 100


def test_what_balls_tell_follows_the_closed_form():
    """A worth ~ N(0, sd²) against a known 0: sd / √(2π) for its truth, √(n / (n + κ)) of it for n balls.

    That is half at n = κ / 3. Unit normal loss at 0, 0.3989: Raiffa and Schlaifer 1961, table of the function.
    """
    swing = replace(club("5 wood", 165.0).swings[0], posterior=Posterior(30.0, 12.0, 20.0, 25.0))
    worths = np.zeros((20_000, 2))
    worths[:, 1] = 0.1 * np.random.default_rng(5).standard_normal(20_000)
    worths[:, 1] -= worths[:, 1].mean()
    found = telling(swing, worths, np.array([False, True]))
    assert found.value == pytest.approx(0.1 * 0.3989, rel=0.02)
    assert found.balls in (10, 15)  # 10 stands on the edge
    share = math.sqrt(found.balls / (found.balls + 30.0))
    assert found.told == pytest.approx(share * found.value, rel=1e-6)


def test_play_to_follow_of_the_mean_player_makes_little_difference():
    """Three redraws solved anew, six clubs of twenty balls each.

    Seen over eight redraws: gaps between the three leading options move by 0.025 strokes (root mean square; 0.05 with
    no balls at all), the best option is the same in eight, the expected loss 0.0018 against 0.0024.
    """
    six = replace(PLAYER, bag=tuple(PLAYER.bag[i] for i in (0, 1, 3, 5, 7, 9)))
    few = six.with_swings(lambda s: replace(s, shots=20))
    asked = compare(LANE, few, replace(REQUEST, then="best"))
    options = doubtful(asked)[:3]
    quick, level = redrawn_worths(asked, options, 3), asked.objective.level
    scenes = [set_position(LANE, draw_player(few, rng)) for rng in generator(REQUEST.seed).spawn(3)]
    swings, aims = [m.option.swing for m in options], [m.option.aim for m in options]
    anew = np.array([own.worths(swings, aims, 8) for own in scenes])
    moved = (anew - anew[:, :1]) - (quick - quick[:, :1])
    assert float(np.sqrt((moved[:, 1:] ** 2).mean())) < level
    chosen = anew[np.arange(3), quick.argmin(axis=1)]
    assert (chosen - anew.min(axis=1)).max() < 0.5 * level


@pytest.mark.parametrize("redraws", [0, 1, 10_001])
def test_too_few_or_too_many_redraws_are_refused(asked, redraws):
    with pytest.raises(BadRequest, match="from 2 to 10000 times"):
        doubt(asked, redraws)


def test_choosing_by_the_best_ball_costs_strokes_where_the_way_is_narrow(asked):
    cost = best_ball_cost(asked.position)
    assert cost.usual == "driver"
    assert cost.strokes > 5.0 * cost.se > 0.0
    assert f"costs {cost.strokes:.2f} strokes from here" in best_ball_words(cost)
