"""Golfers of any index: the ladder of carries against published columns, files, day form."""

from __future__ import annotations

import math

import numpy as np
import pytest
from write_players import path_of, text_of

from simcaddie.player.day_form import DayForm, in_form
from simcaddie.player.reference import LONGEST_DRIVER, REFERENCES, SHORTEST_DRIVER, bag_for, carry_of, golfer, reference

# Women's tour averages 2023 (published, second-hand): not used by the ladder, which knows men's and club golfers'
WOMEN = {
    "3 wood": 200, "5 wood": 189, "5 iron": 166, "6 iron": 155, "7 iron": 143, "8 iron": 133, "9 iron": 123,
    "pitching wedge": 111,
}  # fmt: skip
# Course Rating System, seen: what the model golfers reach in two strokes, yd, the drive included
IN_TWO = {"scratch man": 470, "scratch woman": 400, "bogey man": 370, "bogey woman": 280}
DRIVE = {"scratch man": 250, "scratch woman": 210, "bogey man": 200, "bogey woman": 150}


@pytest.mark.parametrize("club", WOMEN)
def test_ladder_against_a_column_it_does_not_know(club):
    assert carry_of(club, 223.0) == pytest.approx(WOMEN[club], rel=0.045)


@pytest.mark.parametrize("name", DRIVE)
def test_model_golfers_drive_and_reach_as_published(name):
    driver, second = reference(name).swings[:2]
    assert driver.total == pytest.approx(DRIVE[name], abs=4.0)
    assert driver.total + second.total == pytest.approx(IN_TWO[name], abs=20.0)


@pytest.mark.parametrize("driver", np.linspace(SHORTEST_DRIVER, LONGEST_DRIVER, 8))
def test_clubs_stand_in_order_of_carry(driver):
    carries = [carry_of(club, driver) for club in bag_for(driver)]
    assert carries == sorted(carries, reverse=True)
    assert len(carries) == 13


def test_longer_drives_never_shorten_a_club():
    for club in bag_for(180.0):
        carries = [carry_of(club, driver) for driver in range(60, 351, 5)]
        assert np.diff(carries).min() > 0


@pytest.mark.parametrize("name", REFERENCES)
def test_reference_files_are_the_reference_golfers(name):
    assert path_of(name).read_text("utf-8") == text_of(name), "python tests/write_players.py writes them anew"


def test_day_form_turns_every_swing_alike_and_leaves_the_average_day_alone():
    player, rng = golfer(18.0, 188.0), np.random.default_rng(4)
    days = [in_form(player, DayForm(1.0, 0.25), rng) for _ in range(4000)]
    turned = np.array([[math.degrees(math.atan(s.side / s.carry)) for s in day.swings] for day in days[:50]])
    assert np.ptp(turned, axis=1).max() < 1e-9
    mishits = np.array([day.swings[0].fat + day.swings[0].thin for day in days])
    mine = player.swings[0].fat + player.swings[0].thin
    assert mishits.mean() == pytest.approx(mine, abs=4 * mishits.std() / math.sqrt(len(days)))
    assert np.log(mishits).std() == pytest.approx(0.25, rel=0.05)


def test_no_day_form_is_the_player_itself():
    player = golfer(18.0, 188.0)
    assert in_form(player, DayForm(0.0, 0.0), np.random.default_rng(1)) == player
