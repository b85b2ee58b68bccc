"""Fifteen days stand for all: their moments, and what a day does to a player."""

from __future__ import annotations

import math

import numpy as np
import pytest

from simcaddie.player.day_form import DayForm, FormDay, day_form, form_days, on_day
from simcaddie.player.reference import golfer


def test_the_days_have_the_moments_of_the_form():
    days = form_days(DayForm(1.5, 0.3))
    weight = np.array([day.weight for day in days])
    bias = np.array([day.bias for day in days])
    log = np.log([day.mishits for day in days])
    assert weight.sum() == pytest.approx(1.0)
    for power, moment in ((1, 0.0), (2, 1.0), (3, 0.0), (4, 3.0), (6, 15.0), (8, 105.0)):  # of the standard normal
        assert weight @ (bias / 1.5) ** power == pytest.approx(moment, abs=1e-9)
    assert weight @ log == pytest.approx(-0.045)
    assert weight @ (log + 0.045) ** 2 == pytest.approx(0.09)
    assert weight @ np.exp(log) == pytest.approx(1.0, abs=2e-4)  # the average day is the player's own
    assert weight @ (bias * log) == pytest.approx(0.0, abs=1e-12)


def test_without_form_all_days_are_the_player():
    player = golfer(18.0, 188.0)
    assert {(day.bias, day.mishits) for day in form_days(DayForm(0.0, 0.0))} == {(0.0, 1.0)}
    assert on_day(player, FormDay(0.0, 1.0)) == player


def test_a_day_turns_and_spoils_every_swing():
    player = golfer(18.0, 188.0)
    today = on_day(player, FormDay(2.0, 1.5))
    for swing, mine in zip(today.swings, player.swings, strict=True):
        assert swing.side - mine.side == pytest.approx(mine.carry * math.tan(math.radians(2.0)))
        assert (swing.fat, swing.thin) == pytest.approx((1.5 * mine.fat, 1.5 * mine.thin))
    assert len(form_days(day_form(18.0))) == 15


def test_form_grows_with_the_index():
    forms = [day_form(index) for index in (-4.0, 0.0, 10.0, 34.0)]
    assert forms[0] == forms[1] == DayForm(0.0, 0.0)
    assert forms[1].direction < forms[2].direction < forms[3].direction
    assert forms[1].mishits < forms[2].mishits < forms[3].mishits
    assert day_form(None) == day_form(18.0)
