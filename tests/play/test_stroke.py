"""Strikes against their patterns, drawn balls against closed forms, and the best of ten balls."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from helpers import box, club_golfer
from shapely import Point as GeoPoint

from simcaddie.golfer.defaults import make_swing
from simcaddie.golfer.pattern import course_pattern
from simcaddie.golfer.player import Club, Player
from simcaddie.ground.hole import Area, Hole
from simcaddie.play import kernel as k
from simcaddie.play import records as r
from simcaddie.play.everyday import guess_to_go
from simcaddie.play.pack import pack
from simcaddie.simulate import first_strokes
from simcaddie.streams import kernel_key
from simcaddie.surfaces import BY_NAME, code, default_lies, default_touch

GOLFER = club_golfer()
N = 400_000


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


@pytest.mark.parametrize("lie", ["tee", "rough", "bunker"])
@pytest.mark.parametrize("number", [0, 4, 7])
def test_strikes_come_with_their_shares_and_means(lie, number):
    table = lawn()[1].swings
    pattern = course_pattern(GOLFER, GOLFER.swings[number], BY_NAME[lie].lie)
    wanted = {
        round(strike.carry, 6): (1 - pattern.fail) * strike.share
        for strike in (pattern.solid, pattern.fat, pattern.thin)
    }
    n = 20_000
    found: dict[float, float] = {}
    failed = 0
    for i in range(n):
        carry, _, _, _, _, fail = k.struck(
            table, code(lie), number, (0.0, 0.0, 0.0, (i + 0.5) / n, 0.5, 0.5, 0.0), 1.0, 0.0
        )
        failed += fail
        if not fail:
            found[round(carry, 6)] = found.get(round(carry, 6), 0.0) + 1 / n
    assert failed / n == pytest.approx(pattern.fail, abs=1.5 / n)
    assert found == pytest.approx(wanted, abs=1.5 / n)


def test_thinned_balls_fly_lower_and_run_further_than_fat_ones():
    table = lawn()[1].swings
    row = table.table[code("tee"), 6]
    strikes = {}
    for name, u in (("fat", row[r.SW_FAT] - 1e-6), ("thin", row[r.SW_THIN] - 1e-6), ("solid", 1 - 1e-6)):
        strikes[name] = k.struck(table, code("tee"), 6, (0.0, 0.0, 0.0, u, 0.5, 0.5, 0.0), 1.0, 0.0)
    assert strikes["thin"][3] < strikes["solid"][3]
    assert strikes["thin"][4] < math.tan(math.radians(20))
    assert strikes["fat"][2] < strikes["thin"][2]
    assert strikes["fat"][0] < strikes["thin"][0] < strikes["solid"][0]


def pure(**keys: float) -> Player:
    swing = make_swing(
        "6 iron", "full", 150.0, loft=29.5, fat=0.0, thin=0.0, run=0.0, run_sd=0.0, source="course", **keys
    )
    return replace(
        GOLFER, bag=(Club("6 iron", 29.5, (swing,)),), lies=default_lies(), touch=default_touch()
    )


def landed(player: Player, bearing: float, seed: int, n: int = N) -> r.Rest:
    hole = lawn()[0]
    table = pack(hole, player, hole.place(), hole.pin())
    return first_strokes(
        table, guess_to_go(table), (0.0, 0.0, code("tee")), 0, bearing, kernel_key(seed), n
    )


@pytest.mark.parametrize(("rho", "bearing"), [(-0.6, 0.0), (0.0, 0.7), (0.45, -1.2)])
def test_drawn_balls_have_the_moments_of_the_pattern(rho, bearing):
    rest = landed(pure(carry_sd=9.0, side=4.0, side_sd=12.0, correlation=rho), bearing, 11)
    sin, cos = math.sin(bearing), math.cos(bearing)
    carry, side = rest.landing_x * sin + rest.landing_y * cos, rest.landing_x * cos - rest.landing_y * sin
    assert carry.mean() == pytest.approx(150.0, abs=5 * 9 * math.sqrt(2 / N))
    assert side.mean() == pytest.approx(4.0, abs=5 * 12 * math.sqrt(2 / N))
    assert (carry.std(), side.std()) == pytest.approx((9.0, 12.0), rel=0.01)
    assert np.corrcoef(carry, side)[0, 1] == pytest.approx(rho * 1.0, abs=0.01)


def test_a_circle_about_the_mean_holds_its_rayleigh_share():
    """1 − exp(−r²/2σ²): 0.393469, 0.864665, 0.988891 within 1, 2, 3 σ."""
    rest = landed(pure(carry_sd=8.0, side_sd=8.0), 0.0, 12)
    away = np.hypot(rest.landing_x, rest.landing_y - 150.0) / 8.0
    for within, share in ((1, 0.393469), (2, 0.864665), (3, 0.988891)):
        assert np.mean(away < within) == pytest.approx(
            share, abs=4 * math.sqrt(2 * share * (1 - share) / N)
        )


def test_the_best_of_ten_balls_is_beaten_by_the_next_once_in_eleven():
    """Common practice, no source: the best ball is no guide, the next is shorter ten times in eleven."""
    _, table = lawn()
    n = 2_200_000
    rest = first_strokes(table, guess_to_go(table), (0.0, 0.0, code("tee")), 0, 0.0, kernel_key(13), n)
    total = np.hypot(rest.x, rest.y)[::2]  # one of each mirrored pair: the two share their length
    eleven = total[: total.size // 11 * 11].reshape(-1, 11)
    beaten = np.mean(eleven[:, 10] > eleven[:, :10].max(axis=1))
    assert beaten == pytest.approx(1 / 11, abs=4 * math.sqrt(1 / 11 * 10 / 11 / len(eleven)))
    assert np.mean(eleven[:, 10] < eleven[:, :10].max(axis=1)) == pytest.approx(10 / 11, abs=0.004)


def test_a_failed_ball_hardly_moves():
    table = lawn()[1].swings
    row = table.table[code("heather"), 8]
    assert row[r.SW_FAIL] > 0
    carries = [
        k.struck(table, code("heather"), 8, (0.0, 0.0, 0.0, 1e-9, u, 0.5, 0.0), 1.0, 0.0)[0]
        for u in np.linspace(0, 1, 101)
    ]
    assert np.mean(carries) == pytest.approx(row[r.SW_FAIL_CARRY])
    assert max(carries) <= 2 * row[r.SW_FAIL_CARRY]
