"""Touch shots, putts and the table of the day, as the kernel reads them."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import numpy as np
import pytest
from helpers import box, club_golfer, draws, lawn, played, struck

from simcaddie.base.compiled import compiled
from simcaddie.base.surfaces import BY_NAME, code
from simcaddie.course.hole import Area, Hole
from simcaddie.model import arrays as r
from simcaddie.model.build import TOUCH_REACH, pack
from simcaddie.model.flight import through_air
from simcaddie.model.kernel import HOLED_WITHIN, mean_putts, putts
from simcaddie.player.putting import MAX_PUTTS, expected_putts, putt_law
from simcaddie.weather.table import DAY_CARRY, DAY_COLUMNS

GOLFER = club_golfer()


@compiled
def _putts(g: Any, p: Any, x: float, y: float, u: Any, taken: Any, mean: Any) -> None:
    for i in range(u.size):
        taken[i] = putts(g, p, x, y, u[i])
        mean[i] = mean_putts(g, p, x, y)


@compiled
def _carry_factor(d: Any, dx: float, dy: float, gust: float) -> float:
    return float(through_air(d, 0, dx, dy, gust)[DAY_CARRY])


@cache
def apron(room: float) -> r.Problem:
    """Return a hole with a green that begins ``room`` yards before the pin."""
    hole = Hole(
        "Apron (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"p": (0.0, 330.0)},
        (Area("fairway", box(-60, 100, 60, 400)), Area("green", box(-20, 330 - room, 20, 350))),
    )
    return pack(hole, GOLFER, hole.place(), hole.pin())


def touch(problem: r.Problem, length: float, ahead: float, u: float = 0.9, reach: int = 0) -> tuple[float, float, bool]:
    """Return (carry, run, failed) of a feel shot at the pin, ``length`` yards away, or short of it."""
    swing = len(GOLFER.swings) + reach
    ball = struck(problem, 0.0, 330.0 - length, code("fairway"), swing, draws(carry=ahead, strike=u))
    return float(ball["carry"][0]), float(ball["run"][0]), bool(ball["failed"][0])


def test_a_touch_shot_without_error_finishes_at_its_length():
    for room in (3.0, 20.0):
        for reach, share in enumerate(TOUCH_REACH):
            carry, run, failed = touch(apron(room), 30.0, 0.0, reach=reach)
            assert carry + run == pytest.approx(30.0 * share)
            assert not failed


def test_touch_distance_error_is_near_plus_far_times_length():
    stock = BY_NAME["fairway"].touch
    carry, run, _ = touch(apron(20.0), 30.0, 1.0)
    assert carry + run - 30.0 == pytest.approx(stock.near + stock.far * 30.0)


def test_on_the_short_side_the_error_grows_and_the_ball_runs_less():
    long, short = (touch(apron(room), 30.0, 1.0) for room in (20.0, 4.0))
    assert sum(short[:2]) - 30.0 > 1.2 * (sum(long[:2]) - 30.0)
    assert short[1] < long[1]


def test_a_fat_touch_falls_short_and_a_thin_one_goes_through():
    stock = BY_NAME["fairway"].touch
    fat = touch(apron(20.0), 30.0, 0.0, stock.fail + stock.fat / 2)
    thin = touch(apron(20.0), 30.0, 0.0, stock.fail + stock.fat + stock.thin / 2)
    assert sum(fat[:2]) < 15.0
    assert sum(thin[:2]) > 40.0


def test_a_touch_shot_at_the_pin_is_holed_within_the_circle_of_a_ball_at_holing_speed():
    """The hole's 4¼ in by three feet past it (common practice, no source), as a circle: 0.193 yd."""
    assert pytest.approx(math.sqrt(4.25 / 36 / math.pi), abs=0.001) == HOLED_WITHIN
    problem = apron(20.0)
    carry, run, _ = touch(problem, 30.0, 0.0)
    short = run * (1.0 - BY_NAME["green"].run)  # the ball runs over the green, which is slower than a fairway
    shares = (np.array([-0.25, -0.15, 0.0, 0.15, 0.25]) + short) / (carry + run)
    stock = BY_NAME["fairway"].touch
    z = draws(carry=shares * 30.0 / (stock.near + stock.far * 30.0))
    rest = played(problem, 0.0, 300.0, code("fairway"), len(GOLFER.swings), 0.0, z)
    assert (rest.event == r.Event.HOLED).tolist() == [False, True, True, True, False]
    assert (rest.y[1:4] == 330.0).all()


@pytest.mark.parametrize("yards", [0.5, 2.0, 5.0, 12.0])
def test_putts_follow_the_law(yards):
    """At a distance on the table's steps the kernel inverts exactly the law it was given."""
    _, problem = lawn()
    n, taken, mean = 20_000, np.zeros(20_000, np.int64), np.zeros(20_000)
    _putts(problem.ground, problem.putting, 0.0, 520.0 - yards, (np.arange(n) + 0.5) / n, taken, mean)
    pmf = putt_law(GOLFER.putting)[round(yards * 10)]
    assert np.bincount(taken, minlength=MAX_PUTTS + 1)[1:] / n == pytest.approx(pmf, abs=1.5 / n)
    assert mean == pytest.approx(float(expected_putts(3 * yards, GOLFER.putting)))


def test_a_table_of_the_day_is_read_between_its_angles_and_strengths_and_round_the_circle():
    problem = np.zeros((1, 4, 3, DAY_COLUMNS))
    problem[0, :, :, DAY_CARRY] = np.array([1.0, 2.0, 3.0, 4.0])[:, None] + np.array([-0.5, 0.0, 1.0])
    day = r.DayTable(problem, 0.0)
    for turn, gust, value in (
        (0.0, 0.0, 1.0),
        (0.25, 0.0, 2.0),
        (0.125, 0.0, 1.5),
        (0.875, 0.0, 2.5),
        (1.0, 0.0, 1.0),
        (-0.25, 0.0, 4.0),
        (0.25, 2.0, 3.0),
        (0.25, 5.0, 3.0),
        (0.25, 1.0, 2.5),
        (0.25, -1.0, 1.75),
    ):
        bearing = 2.0 * math.pi * turn
        assert _carry_factor(day, math.sin(bearing), math.cos(bearing), gust) == pytest.approx(value)
