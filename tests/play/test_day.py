"""Strokes on a day and on hills: what the kernel makes of wind, heights, slopes, firmness and green speed."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from helpers import box, club_golfer, draws, lane, mirrored_hole, mirrored_player, played, struck
from reference.flight import by_solve_ivp

from simcaddie.base.errors import BadRequest
from simcaddie.base.streams import kernel_key
from simcaddie.base.surfaces import code
from simcaddie.base.units import METRES_PER_YARD
from simcaddie.course.hole import Area, Hole
from simcaddie.model import arrays as r
from simcaddie.model.average import aloft, on_the_day
from simcaddie.model.build import pack
from simcaddie.model.flight import BENDS
from simcaddie.model.heuristics import everyday, guess_to_go
from simcaddie.player.swing import Player
from simcaddie.simulate import first_strokes, play_sequences
from simcaddie.weather.day import STANDARD, Day
from simcaddie.weather.flight import air_density, ball_speed, fly

PLAYER = club_golfer()
TEE, FAIRWAY = code("tee"), code("fairway")
KEY = kernel_key(4)


def tilted(rise_x: float, rise_y: float, kind: str = "fairway") -> Hole:
    """Return a wide, long lawn on a plane that rises by so much a yard, its green far up."""
    corners = np.array([[x, y, rise_x * x + rise_y * y] for x in (-200.0, 200.0) for y in (-50.0, 250.0, 560.0)])
    return Hole(
        "Tilted (invented)",
        5,
        {"t": (0.0, 0.0)},
        {"p": (0.0, 500.0)},
        (Area(kind, box(-190, -40, 190, 480)), Area("green", box(-20, 485, 20, 520))),
        heights=corners if rise_x or rise_y else None,
    )


def table_of(hole: Hole, player: Player = PLAYER, day: Day | None = None) -> r.Problem:
    return pack(hole, player, hole.place(), hole.pin(), day=day)


def strokes(problem: r.Problem, swing: int, n: int = 20_000, lie: int = FAIRWAY) -> r.Rest:
    return first_strokes(problem, guess_to_go(problem), (0.0, 0.0, lie), swing, 0.0, KEY, n)


def same(one: r.Rest, other: r.Rest) -> bool:
    return all((mine == theirs).all() for mine, theirs in zip(one, other, strict=True))


def test_a_standard_day_on_level_ground_is_no_day_at_all():
    flat = replace(lane(), heights=np.array([[0.0, 0.0, 5.0], [0.0, 300.0, 5.0]]))
    plain, day, level = table_of(lane()), table_of(lane(), day=STANDARD), table_of(flat, day=Day())
    for swing in (0, 4, len(PLAYER.swings)):
        assert same(strokes(plain, swing), strokes(day, swing))
        assert same(strokes(plain, swing), strokes(level, swing))


def test_wind_moves_balls_the_way_it_blows():
    calm = strokes(table_of(tilted(0, 0)), 0)
    into, left = (strokes(table_of(tilted(0, 0), day=Day(wind=6.0, wind_from=at)), 0) for at in (0.0, 270.0))
    assert into.landing_y.mean() < calm.landing_y.mean() - 15.0
    assert left.landing_x.mean() > calm.landing_x.mean() + 5.0


def test_a_compass_wind_turns_with_the_hole_and_a_relative_one_does_not():
    hole = replace(tilted(0, 0), bearing=90.0)  # played to the east
    east = strokes(table_of(hole, day=Day(wind=6.0, wind_from=90.0, relative=False)), 0)
    into = strokes(table_of(hole, day=Day(wind=6.0, wind_from=0.0)), 0)
    assert same(east, into)


def test_a_compass_wind_needs_the_holes_bearing():
    with pytest.raises(BadRequest, match="a wind from 90° needs the hole's `bearing`"):
        table_of(replace(tilted(0, 0), bearing=None), day=Day(wind=6.0, wind_from=90.0, relative=False))


def test_a_mirrored_wind_hole_and_player_mirror_every_ball():
    hole, day = tilted(0.03, 0.02), Day(wind=5.0, wind_from=60.0, gust=8.0)
    one = strokes(table_of(hole, day=day), 3)
    other = strokes(table_of(mirrored_hole(hole), mirrored_player(PLAYER), replace(day, wind_from=-60.0)), 3)
    order = np.arange(one.x.size).reshape(-1, 2)[:, ::-1].ravel()  # a pair's two are each other's mirror image
    assert other.landing_x[order] == pytest.approx(-one.landing_x, abs=1e-6)
    assert other.landing_y[order] == pytest.approx(one.landing_y, abs=1e-6)


@pytest.mark.parametrize("rise", [-0.12, -0.04, 0.05, 0.12])
@pytest.mark.parametrize("swing", [0, 4, 9])
def test_a_ball_lands_where_its_flight_meets_the_ground(rise, swing):
    """Against the flight model's equations as scipy solves them down to the plane, within 2.5 % of the carry.

    The swing's landing angle is set to the model's, so that both fly the same way.
    """
    struck, thick = PLAYER.swings[swing], air_density(15.0, 0.0)
    speed = ball_speed(struck.carry * METRES_PER_YARD, struck.launch, struck.spin, density=thick)
    flight = fly(speed, struck.launch, struck.spin, density=thick)
    player = PLAYER.with_swings(lambda s: replace(s, landing=float(flight.landing[0])) if s == struck else s)
    ball = aloft(table_of(tilted(0.0, rise), player), swing, (0.0, 0.0, TEE), 0.0)
    meets, _, _ = by_solve_ivp(float(speed[0]), struck.launch, struck.spin, thick, rise=rise)
    assert ball.carry == pytest.approx(meets / METRES_PER_YARD, rel=0.025)
    assert ball.rise == pytest.approx(rise * ball.carry, abs=0.2)


def flown_on(t: np.ndarray, balls: dict[str, np.ndarray]) -> np.ndarray:
    """Return the kernel's flight shape (``model/flight.py``) at shares ``t`` of the carry, yd, float64[ball, share]."""
    launch, landing, arch = (balls[name][:, None] for name in ("launch", "landing", "arch"))
    q = t * (1 - t)
    on_the_way = q * (launch * (1 - t) + landing * t + arch * q)
    return balls["carry"][:, None] * np.where(t > 1, (1 - t) * landing * (1 + BENDS * (t - 1)), on_the_way)


@pytest.mark.parametrize("rise", [-0.15, -0.05, 0.0, 0.06, 0.15])
@pytest.mark.parametrize("day", [None, Day(wind=8.0, wind_from=30.0)])
def test_strokes_land_where_the_shape_of_their_flight_meets_a_plane(rise, day):
    """Against the shape looked at every 0.0005 of the carry: solid and fat balls within a yard, thin ones within 4.5.

    A thin ball that starts below the slope never leaves it; the kernel lets it go a tenth of its carry at most.
    """
    problem, rng = table_of(tilted(0.02, rise), day=day), np.random.default_rng(6)
    for swing in (0, 4, 9):
        z = draws(carry=rng.standard_normal(300), strike=rng.uniform(0, 1, 300))
        balls, rest = struck(problem, 0.0, 0.0, FAIRWAY, swing, z), played(problem, 0.0, 0.0, FAIRWAY, swing, 0.0, z)
        t = np.arange(1, 3401) / 2000
        above = flown_on(t, balls) - t * (rise * balls["carry"] + 0.02 * balls["side"])[:, None]
        meets = np.where((above < 0.0).any(axis=1), t[np.argmax(above < 0.0, axis=1)], 1.7)
        off = np.abs(rest.landing_y - meets * balls["carry"])
        row = problem.swings.rows[FAIRWAY, swing]
        flew, thin = ~balls["failed"], balls["launch"] == row[r.SW_LAUNCH + 1]
        grounded = balls["launch"] < 1.05 * rise
        assert off[flew & ~thin].max() < 1.0
        assert np.median(off[flew & ~thin]) < 0.6
        assert off[flew & thin & ~grounded].max(initial=0.0) < 4.5
        assert (rest.landing_y <= 0.1001 * balls["carry"])[flew & grounded].all()


def test_thin_strikes_fly_as_they_do_whatever_the_day():
    still, wind = table_of(tilted(0, 0)), table_of(tilted(0, 0), day=Day(wind=9.0))
    z = draws(strike=still.swings.rows[FAIRWAY, 0, r.SW_THIN] - 1e-6)
    calm, windy = struck(still, 0.0, 0.0, FAIRWAY, 0, z), struck(wind, 0.0, 0.0, FAIRWAY, 0, z)
    assert windy["landing"] == calm["landing"]
    assert windy["arch"] == 0.0
    assert windy["carry"] < calm["carry"]
    assert struck(wind, 0.0, 0.0, FAIRWAY, 0, draws())["arch"] != 0.0


def test_a_low_ball_to_a_green_thirty_yards_up_ends_in_the_bank():
    spots = np.array([[x, y, h] for x in (-60.0, 60.0) for y, h in ((-40, 0), (60, 0), (90, 30), (200, 30))], float)
    hole = replace(tilted(0, 0), heights=spots)
    rest = strokes(table_of(hole), 0, n=4000, lie=TEE)
    assert np.isfinite(rest.x).all()
    assert np.isfinite(rest.y).all()
    assert 40.0 < np.median(rest.landing_y) < 110.0
    wedge = strokes(table_of(hole), 11, n=4000)
    assert np.median(wedge.landing_y) < np.median(strokes(table_of(tilted(0, 0)), 11, n=4000).landing_y)


def test_runs_are_longer_downhill_and_on_firm_turf():
    def run(problem: r.Problem) -> float:
        rest = strokes(problem, 0)
        return float(np.mean(rest.y - rest.landing_y))

    up, level, down = (run(table_of(tilted(0.0, rise))) for rise in (0.04, 0.0, -0.04))
    soft, firm = (run(table_of(tilted(0, 0), day=replace(STANDARD, firmness=at))) for at in (0.0, 1.0))
    assert up < 0.85 * level < level < 0.85 * down
    assert soft < 0.8 * level < level < 0.8 * firm


def test_a_slope_across_the_stance_sends_the_ball_downhill_of_a_lofted_face_and_a_tee_is_level():
    """Ground that rises to the right is above a right-hander's feet and below a left-hander's: both go left."""
    wedge = 10
    level, right = (strokes(table_of(tilted(rise, 0.0)), wedge).landing_x.mean() for rise in (0.0, 0.05))
    assert right < level - 2.0
    from_tee = strokes(table_of(tilted(0.05, 0.0)), wedge, lie=TEE).landing_x.mean()
    assert from_tee == pytest.approx(strokes(table_of(tilted(0, 0)), wedge, lie=TEE).landing_x.mean(), abs=0.3)


def test_slopes_underfoot_bring_mishits():
    short = [
        np.mean(strokes(table_of(tilted(rise, 0.0)), 5).landing_y < 0.7 * PLAYER.swings[5].carry)
        for rise in (0.0, 0.1)
    ]
    assert 1.3 * short[0] < short[1] < 1.8 * short[0]


def test_gusts_spread_carries_but_hardly_move_their_mean():
    steady, gusty = (table_of(tilted(0, 0), day=Day(wind=5.0, gust=gust)) for gust in (5.0, 11.0))
    one, other = strokes(steady, 0), strokes(gusty, 0)
    assert (other.landing_y - one.landing_y).std() > 3.0
    assert other.landing_y.mean() == pytest.approx(one.landing_y.mean(), abs=2.0)
    calm = strokes(table_of(tilted(0, 0)), 0)
    assert (calm.surface == strokes(table_of(tilted(0, 0), day=Day()), 0).surface).all()


def test_faster_greens_run_on_and_cost_putts():
    hole = Hole("Green (invented)", 3, {"t": (0.0, 0.0)}, {"p": (0.0, 140.0)}, (Area("green", box(-60, 90, 60, 260)),))
    slow, usual, fast = (table_of(hole, day=replace(STANDARD, greens=at)) for at in (7.0, 9.0, 12.0))
    ran = [float(np.mean((rest := strokes(t, 4, lie=TEE)).y - rest.landing_y)) for t in (slow, usual, fast)]
    assert ran[0] < ran[1] < ran[2]
    putts = [t.putting.expected[0, 40] for t in (slow, usual, fast)]
    assert putts[0] < putts[1] < putts[2]
    near = replace(hole, pins={"p": (0.0, 40.0)}, areas=(Area("green", box(-60, 10, 60, 260)),))
    chips = [strokes(table_of(near, day=replace(STANDARD, greens=at)), len(PLAYER.swings)).y for at in (9.0, 12.0)]
    assert np.median(np.abs(chips[1] - chips[0])) < 1e-9  # feel allows for the speed
    assert chips[1].mean() == pytest.approx(chips[0].mean(), abs=0.3)


def test_sound_play_allows_for_wind_and_height():
    hole = tilted(0.0, 0.0)
    near = replace(hole, pins={"p": (0.0, 130.0)}, areas=(*hole.areas, Area("green", box(-15, 115, 15, 145))))
    up = replace(near, heights=np.array([[-90.0, -40.0, 0], [90, -40, 0], [-90, 60, 0], [90, 60, 0], [0, 130, 14.0]]))
    chosen = []
    for case, day in ((near, None), (near, Day(wind=8.0)), (up, None)):
        problem = table_of(case, day=day)
        policy = everyday(problem, PLAYER, "sound", (0.0, 130.0))
        chosen.append(PLAYER.swings[policy.swing[problem.states.start]].carry)
    assert chosen[1] > chosen[0]
    assert chosen[2] > chosen[0]


def test_a_pattern_on_the_day_is_where_the_balls_land():
    from simcaddie.player.pattern import course_pattern

    problem = table_of(tilted(0.0, -0.05), day=Day(wind=6.0, wind_from=250.0))
    usual = course_pattern(PLAYER, PLAYER.swings[4], PLAYER.lies["fairway"])
    solid = on_the_day(problem, usual, 4, (0.0, 0.0, FAIRWAY), 0.0).solid
    rest = strokes(problem, 4)
    assert np.median(rest.landing_y) == pytest.approx(solid.carry, abs=4.0)
    assert np.median(rest.landing_x) == pytest.approx(solid.side, abs=1.5)


def test_whole_sequences_on_a_gusty_hilly_day_end():
    problem = table_of(tilted(0.02, -0.03), day=Day(wind=9.0, gust=14.0, wind_from=200.0, temperature=3.0))
    policy, value = everyday(problem, PLAYER, "sound", (0.0, 500.0)), guess_to_go(problem)
    first = strokes(problem, 0, n=4000, lie=TEE)
    score = play_sequences(problem, policy, value, first, KEY).score
    assert 4.0 < score.mean() < 9.0
    assert math.isfinite(score.std())
