"""Touch shots, putts and the table of the day, as the kernel reads them."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from helpers import box, club_golfer
from shapely import Point as GeoPoint

from simcaddie.air.table import DAY_CARRY, DAY_COLUMNS
from simcaddie.golfer.putting import MAX_PUTTS, expected_putts, putt_law
from simcaddie.ground.hole import Area, Hole
from simcaddie.play import kernel as k
from simcaddie.play import records as r
from simcaddie.play.pack import pack
from simcaddie.surfaces import BY_NAME, code

GOLFER = club_golfer()


@cache
def lawn(kind: str = "fairway", size: float = 300.0) -> tuple[Hole, r.Table]:
    """Return a hole that is all of one kind, but for a large green far up."""
    hole = Hole(
        "Lawn (invented)",
        5,
        {"t": (0.0, 0.0)},
        {"p": (0.0, 520.0)},
        (Area(kind, box(-size, -size, size, 490)), Area("green", GeoPoint(0, 520).buffer(25))),
    )
    return hole, pack(hole, GOLFER, hole.place(), hole.pin())


@cache
def apron(room: float) -> r.Table:
    """Return a hole with a green that begins ``room`` yards before the pin."""
    hole = Hole(
        "Apron (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"p": (0.0, 330.0)},
        (Area("fairway", box(-60, 100, 60, 400)), Area("green", box(-20, 330 - room, 20, 350))),
    )
    return pack(hole, GOLFER, hole.place(), hole.pin())


def touch(table: r.Table, length: float, z: float, u: float = 0.9) -> tuple[float, float, float, bool]:
    draws = (z, 0.5, 0.0, u, 0.5, 0.5)
    return k.touch_shot(
        table.touch, table.ground, 0.0, 330.0 - length, code("fairway"), 0.0, 1.0, length, draws
    )


def test_a_touch_shot_without_error_finishes_at_its_length():
    for room in (3.0, 20.0):
        carry, _, run, failed = touch(apron(room), 30.0, 0.0)
        assert carry + run == pytest.approx(30.0)
        assert not failed


def test_touch_distance_error_is_near_plus_far_times_length():
    stock = BY_NAME["fairway"].touch
    carry, _, run, _ = touch(apron(20.0), 30.0, 1.0)
    assert carry + run - 30.0 == pytest.approx(stock.near + stock.far * 30.0)


def test_on_the_short_side_the_error_grows_and_the_ball_runs_less():
    long, short = (touch(apron(room), 30.0, 1.0) for room in (20.0, 4.0))
    assert short[0] + short[2] - 30.0 > 1.2 * (long[0] + long[2] - 30.0)
    assert short[2] < long[2]


def test_a_fat_touch_falls_short_and_a_thin_one_goes_through():
    stock = BY_NAME["fairway"].touch
    fat = touch(apron(20.0), 30.0, 0.0, stock.fail + stock.fat / 2)
    thin = touch(apron(20.0), 30.0, 0.0, stock.fail + stock.fat + stock.thin / 2)
    assert fat[0] + fat[2] < 15.0
    assert thin[0] + thin[2] > 40.0


@pytest.mark.parametrize("yards", [0.5, 2.0, 5.0, 12.0])
def test_putts_follow_the_law(yards):
    """At a distance on the table's steps the kernel inverts exactly the law it was given."""
    _, table = lawn()
    n = 20_000
    counts = np.bincount(
        [k.putts(table.ground, table.putting, 0.0, 520.0 - yards, (i + 0.5) / n) for i in range(n)],
        minlength=MAX_PUTTS + 1,
    )
    law = putt_law(GOLFER.putting)[round(yards * 10)]
    assert counts[1:] / n == pytest.approx(law, abs=1.5 / n)
    assert k.mean_putts(table.ground, table.putting, 0.0, 520.0 - yards) == pytest.approx(
        float(expected_putts(3 * yards, GOLFER.putting))
    )


def test_a_table_of_the_day_is_read_between_its_angles_and_strengths_and_round_the_circle():
    table = np.zeros((1, 4, 3, DAY_COLUMNS))
    table[0, :, :, DAY_CARRY] = np.array([1.0, 2.0, 3.0, 4.0])[:, None] + np.array([-0.5, 0.0, 1.0])
    day = r.DayTable(table, 0.0)
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
        assert k.through_air(day, 0, math.sin(bearing), math.cos(bearing), gust)[DAY_CARRY] == pytest.approx(value)
