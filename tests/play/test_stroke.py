"""Strikes against their patterns, drawn balls against closed forms, and the best of ten balls."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from helpers import busy_hole, club_golfer, draws, lawn, played, struck

from simcaddie.base.streams import kernel_key
from simcaddie.base.surfaces import BY_NAME, code, default_lies, default_touch
from simcaddie.model import arrays as r
from simcaddie.model.batch import asked, play
from simcaddie.model.build import TOUCH_REACH, pack
from simcaddie.model.heuristics import guess_to_go
from simcaddie.player.defaults import make_swing
from simcaddie.player.pattern import course_pattern
from simcaddie.player.swing import Club, Player
from simcaddie.simulate import first_strokes

GOLFER = club_golfer()
N = 400_000


@pytest.mark.parametrize("lie", ["tee", "rough", "bunker"])
@pytest.mark.parametrize("number", [0, 4, 7])
def test_strikes_come_with_their_shares_and_means(lie, number):
    problem = lawn()[1]
    pattern = course_pattern(GOLFER, GOLFER.swings[number], BY_NAME[lie].lie)
    wanted = {
        round(strike.carry, 6): (1 - pattern.fail) * strike.share
        for strike in (pattern.solid, pattern.fat, pattern.thin)
    }
    n = 20_000
    z = draws(strike=(np.arange(n) + 0.5) / n)
    balls = struck(problem, 0.0, 0.0, code(lie), number, z)
    rest = played(problem, 0.0, 0.0, code(lie), number, 0.0, z)
    assert (rest.landing_y == balls["carry"]).all()  # on a calm, flat lawn it lands where it was struck to
    failed = rest.event == r.Event.FAILED
    assert (failed == balls["failed"]).all()
    assert failed.mean() == pytest.approx(pattern.fail, abs=1.5 / n)
    carries, counts = np.unique(rest.landing_y[~failed].round(6), return_counts=True)
    assert dict(zip(carries, counts / n, strict=True)) == pytest.approx(wanted, abs=1.5 / n)


def test_thinned_balls_fly_lower_and_run_further_than_fat_ones():
    problem = lawn()[1]
    row = problem.swings.rows[code("tee"), 6]
    z = draws(strike=np.array([row[r.SW_FAT], row[r.SW_THIN], 1.0]) - 1e-6)
    balls = struck(problem, 0.0, 0.0, code("tee"), 6, z)
    _, thin, solid = balls["launch"]
    assert thin < solid
    assert balls["landing"][1] < math.tan(math.radians(20))
    assert balls["run"][0] < balls["run"][1]
    rest = played(problem, 0.0, 0.0, code("tee"), 6, 0.0, z)
    assert np.hypot(rest.x - rest.landing_x, rest.y - rest.landing_y) == pytest.approx(balls["run"])
    assert rest.landing_y[0] < rest.landing_y[1] < rest.landing_y[2]


def pure(**keys: float) -> Player:
    swing = make_swing(
        "6 iron", "full", 150.0, loft=29.5, fat=0.0, thin=0.0, run=0.0, run_sd=0.0, source="course", **keys
    )
    return replace(
        GOLFER, bag=(Club("6 iron", 29.5, (swing,)),), lies=default_lies(), touch=default_touch()
    )


def landed(player: Player, bearing: float, seed: int, n: int = N) -> r.Rest:
    hole = lawn()[0]
    problem = pack(hole, player, hole.place(), hole.pin())
    return first_strokes(
        problem, guess_to_go(problem), (0.0, 0.0, code("tee")), 0, bearing, kernel_key(seed), n
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
    _, problem = lawn()
    n = 2_200_000
    rest = first_strokes(problem, guess_to_go(problem), (0.0, 0.0, code("tee")), 0, 0.0, kernel_key(13), n)
    total = np.hypot(rest.x, rest.y)[::2]  # one of each mirrored pair: the two share their length
    eleven = total[: total.size // 11 * 11].reshape(-1, 11)
    beaten = np.mean(eleven[:, 10] > eleven[:, :10].max(axis=1))
    assert beaten == pytest.approx(1 / 11, abs=4 * math.sqrt(1 / 11 * 10 / 11 / len(eleven)))
    assert np.mean(eleven[:, 10] < eleven[:, :10].max(axis=1)) == pytest.approx(10 / 11, abs=0.004)


def test_a_failed_ball_hardly_moves():
    problem = lawn()[1]
    row = problem.swings.rows[code("heather"), 8]
    assert row[r.SW_FAIL] > 0
    rest = played(problem, 0.0, 0.0, code("heather"), 8, 0.0, draws(strike=1e-9, trees=np.linspace(0, 1, 101)))
    assert (rest.event == r.Event.FAILED).all()
    assert rest.landing_y.mean() == pytest.approx(row[r.SW_FAIL_CARRY])
    assert rest.landing_y.max() <= 2 * row[r.SW_FAIL_CARRY]
    assert (rest.y == rest.landing_y).all()


def test_a_stroke_depends_on_its_own_row_and_numbers_alone():
    """Rows of several balls, blocks, order and threads change no bit: each ball is as it is played by itself."""
    hole = busy_hole()
    problem = pack(hole, GOLFER, hole.place(), hole.pin())
    rng = np.random.default_rng(3)
    n, count = 700, 7  # rows that begin and end anywhere in a block, enough for two threads
    z = np.vstack([rng.standard_normal((3, n)), rng.uniform(0, 1, (3, n)), np.zeros(n)])
    x, y, bearing = rng.uniform(-60, 60, n), rng.uniform(-20, 380, n), rng.uniform(-math.pi, math.pi, n)
    lie = rng.choice([code("fairway"), code("rough"), code("trees")], n)
    swing, first = rng.integers(0, len(GOLFER.swings) + len(TOUCH_REACH), n), rng.integers(0, n - count, n)
    to_go = guess_to_go(problem).to_go
    together = play(problem, to_go, asked(x, y, lie, swing, bearing, first), z, count)
    row = np.repeat(np.arange(n), count)
    columns = (column[row] for column in (x, y, lie, swing, bearing))
    alone = play(problem, to_go, asked(*columns, (first[:, None] + np.arange(count)).ravel()), z, 1)
    assert set(np.unique(together.event)) >= {r.Event.PLAYED, r.Event.PENALTY_AREA, r.Event.HIT_TREE, r.Event.FAILED}
    assert all((one == other).all() for one, other in zip(together, alone, strict=True))
    turned = r.Asked._make(c[::-1].copy() for c in asked(x, y, lie, swing, bearing, first))
    backward = play(problem, to_go, turned, z, 1)
    assert all((one[::count] == other[::-1]).all() for one, other in zip(together, backward, strict=True))
