"""Trees against the closed form of a straight belt, and the run over the ground."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import numpy as np
import pytest
from helpers import box, club_golfer, draws, lawn, played
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point as GeoPoint

from simcaddie.base.compiled import compiled
from simcaddie.base.surfaces import BY_NAME, code
from simcaddie.base.units import METRES_PER_YARD
from simcaddie.course.hole import Area, Hole
from simcaddie.model import arrays as r
from simcaddie.model import kernel
from simcaddie.model.build import pack

GOLFER = club_golfer()


FAIRWAY = code("fairway")


def packed(name: str, *areas: Area) -> r.Problem:
    """Return the table of a hole of 330 yd whose first swing flies 250 yd, up at 0.3 and down at 0.8 (tangents)."""
    green = Area("green", GeoPoint(0, 330).buffer(12))
    hole = Hole(f"{name} (invented)", 4, {"t": (0.0, 0.0)}, {"p": (0.0, 330.0)}, (*areas, green))
    return flying(pack(hole, GOLFER, hole.place(), hole.pin()), carry=250.0)


def flying(
    problem: r.Problem, *, carry: float, bow: float = 0.0, up: float = 0.3, down: float = 0.8, gap: float = 1.0
) -> r.Problem:
    """Return the table with a first swing that flies so in any air, straight but for its bow, and stops dead."""
    swings = problem.swings.rows.copy()
    first = swings[:, 0]
    first[:, [r.SW_FAIL, r.SW_FAT, r.SW_THIN]] = 0.0
    first[:, r.SW_LAUNCH + 2], first[:, r.SW_LANDING + 2], first[:, r.SW_BOW], first[:, r.SW_GAP] = up, down, bow, gap
    first[:, r.SW_SOLID : r.SW_SOLID + r.STRIKE_COLUMNS] = 0.0
    first[:, r.SW_SOLID + r.STRIKE_CARRY] = carry
    return problem._replace(swings=r.Swings(swings))


@cache
def belt(width: float, density: float, height: float = 900.0) -> r.Problem:
    return packed("Belt", Area("trees", box(-200, 60, 200, 60 + width), height=height, density=density))


def hit(problem: r.Problem, y: Any, bearing: float, u: Any) -> np.ndarray:
    """Tell which flights from (0, y) along a bearing are stopped with the number ``u``, bool[n]."""
    rest = played(problem, 0.0, y, FAIRWAY, 0, bearing, draws(trees=u))
    assert np.isin(rest.event, [r.Event.HIT_TREE, r.Event.PLAYED]).all()
    return rest.event == r.Event.HIT_TREE


def stop_chance(problem: r.Problem, y: Any, bearing: float = 0.0) -> np.ndarray:
    """Return the chances that flights from (0, y) are stopped: so they are for all u below a value."""
    low, high = np.zeros(np.size(y)), np.ones(np.size(y))
    for _ in range(40):
        u = (low + high) / 2
        stopped = hit(problem, y, bearing, u)
        low, high = np.where(stopped, u, low), np.where(stopped, high, u)
    return low


@pytest.mark.parametrize("width", [10.0, 30.0, 60.0])
@pytest.mark.parametrize("density", [0.2, 0.6, 0.9])
@pytest.mark.parametrize("degrees", [0.0, 20.0])
def test_a_straight_belt_stops_the_share_of_its_closed_form(width, density, degrees):
    """1 − (1 − density)^(metres crossed / 10), over starts all along a yard."""
    bearing = math.radians(degrees)
    metres = width / math.cos(bearing) * METRES_PER_YARD
    chance = stop_chance(belt(width, density), np.linspace(-1, 0, 41), bearing)
    exponents = np.log1p(-chance) / math.log1p(-density) * 10
    assert np.abs(exponents - metres).max() < 1.1 * METRES_PER_YARD  # it is looked at every yard
    assert np.mean(exponents) == pytest.approx(metres, abs=0.15)


def test_a_player_among_trees_looks_for_a_gap():
    problem = belt(30.0, 0.6)
    full, gap = (float(stop_chance(flying(problem, carry=250.0, gap=gap), 0.0)[0]) for gap in (1.0, 0.35))
    assert math.log1p(-gap) == pytest.approx(0.35 * math.log1p(-full))


def test_a_ball_above_the_canopy_is_not_stopped():
    # Height at the share t of the carry C: C t (1 − t) [a (1 − t) + b t]; the belt lies 60 to 90 yd out.
    t = np.array([60, 90]) / 250
    low = (250 * t * (1 - t) * (0.3 * (1 - t) + 0.8 * t)).min()
    assert stop_chance(belt(30.0, 0.6, height=low - 0.5), 0.0)[0] == 0.0
    assert stop_chance(belt(30.0, 0.6, height=low + 1.5), 0.0)[0] > 0.0


def test_flight_top_of_a_measured_6_iron():
    """Published radar average, second-hand: 184 yd, up at 14.7°, down at 48°, top 33.8 yd (calibration).

    Found as the height of the lowest trees that could stop it from 108 to 116 yd out, where it is highest.
    """
    up, down = math.tan(math.radians(14.7)), math.tan(math.radians(48.0))
    heights = np.arange(30.0, 38.0, 0.25)
    irons = (flying(belt(8.0, 0.9, height), carry=184.0, up=up, down=down) for height in heights)
    stopped = [bool(hit(problem, -48.0, 0.0, 1e-6)[0]) for problem in irons]
    assert heights[stopped][0] == pytest.approx(33.8, abs=0.75)


def test_a_curve_may_fly_round_a_tree():
    problem = packed("One tree", Area("trees", GeoPoint(0, 104).buffer(8), height=900.0, density=0.9))
    straight, bent = (
        played(flying(problem, carry=200.0, bow=bow), 0.0, 0.0, FAIRWAY, 0, 0.0, draws(trees=0.01))
        for bow in (0.0, 0.4)
    )
    assert straight.event[0] == r.Event.HIT_TREE
    assert straight.landing_y[0] / 200.0 == pytest.approx(0.5, abs=0.05)
    assert bent.event[0] == r.Event.PLAYED
    assert bent.landing_y[0] == 200.0


def walked(problem: r.Problem, x: np.ndarray, y: np.ndarray, bearing: np.ndarray, u: np.ndarray) -> np.ndarray:
    """Return how far along its line each ball is stopped, yd, ∞ where none is: yard by yard, written plainly."""
    g, row = problem.ground, problem.swings.rows[FAIRWAY, 0]
    carry, up, down = row[r.SW_SOLID + r.STRIKE_CARRY], row[r.SW_LAUNCH + 2], row[r.SW_LANDING + 2]
    log_open, stopped = np.zeros(x.size), np.full(x.size, np.inf)
    for along in np.arange(0.5, carry):
        t = along / carry
        aside = row[r.SW_BOW] * carry * t * (1 - t)
        px, py = x + np.sin(bearing) * along + np.cos(bearing) * aside, y + np.cos(bearing) * along
        py -= np.sin(bearing) * aside
        iy = np.clip(np.floor((py - g.y0) / g.cell).astype(int), 0, g.rows - 1)
        ix = np.clip(np.floor((px - g.x0) / g.cell).astype(int), 0, g.columns - 1)
        tree = g.canopy[iy, ix]
        under = (tree >= 0) & (carry * t * (1 - t) * (up * (1 - t) + down * t) < g.areas[tree, r.AREA_HEIGHT])
        log_open += np.where(under, row[r.SW_GAP] * g.areas[tree, r.AREA_LOG_OPEN] * METRES_PER_YARD / 10, 0.0)
        stopped = np.where(np.isinf(stopped) & (log_open < np.log(1 - u)), along, stopped)
    return stopped


@pytest.mark.parametrize(("carry", "bow"), [(150.0, 0.0), (220.0, 0.15)])
def test_strides_pass_by_no_tree_that_a_walk_yard_by_yard_meets(carry, bow):
    """The kernel strides over clear ground, over tops and within one canopy; a step may begin elsewhere in a yard."""
    problem = packed(
        "Woods",
        Area("trees", box(-60, 20, -25, 180), height=8.0, density=0.5),
        Area("trees", box(-30, 150, -10, 300), height=14.0, density=0.2),
        Area("trees", box(10, 60, 14, 280), height=30.0, density=0.8),
        Area("trees", GeoPoint(50, 120).buffer(20), height=20.0, density=0.6),
    )
    problem, rng, n = flying(problem, carry=carry, bow=bow, up=0.2, down=0.6), np.random.default_rng(8), 20_000
    x, y, bearing = rng.uniform(-60, 60, n), rng.uniform(0, 300, n), rng.uniform(-math.pi, math.pi, n)
    u = rng.uniform(0, 1, n)
    rest = played(problem, x, y, FAIRWAY, 0, bearing, draws(trees=u))
    along = (rest.landing_x - x) * np.sin(bearing) + (rest.landing_y - y) * np.cos(bearing)
    found, wanted = np.where(rest.event == r.Event.HIT_TREE, along, np.inf), walked(problem, x, y, bearing, u)
    both = np.isfinite(found) & np.isfinite(wanted)
    assert 0.2 < np.isfinite(wanted).mean() < 0.8
    off = np.abs(found[both] - wanted[both])
    assert np.mean(np.isfinite(found) != np.isfinite(wanted)) < 0.001
    off = np.abs(found[both] - wanted[both])
    assert np.mean(off > 1e-6) < 0.05
    assert np.mean(off > 1.001) < 0.001


@compiled
def _roll(problem: Any, f: Any, w: Any, n: int) -> None:
    kernel.roll(problem, problem.ground.word, f, w, n)


def run_out(problem: r.Problem, x: Any, y: Any, bearing: float, run: Any) -> tuple[np.ndarray, np.ndarray]:
    """Return where balls that land at (x, y) along a bearing stop, before any relief."""
    x, y, run = np.broadcast_arrays(*np.atleast_1d(x, y, run))
    f, w = np.zeros((r.ROOM_NUMBERS, x.size)), np.zeros((r.ROOM_WHOLES, x.size), np.int64)
    f[kernel.X], f[kernel.Y] = x - 9.0 * math.sin(bearing), y - 9.0 * math.cos(bearing)
    f[kernel.LX], f[kernel.LY], f[kernel.RUN] = x, y, run
    _roll(problem, f, w, x.size)
    return f[kernel.EX], f[kernel.EY]


@settings(max_examples=100, deadline=None)
@given(
    st.sampled_from(["fairway", "rough", "light_rough", "bunker", "heather"]),
    st.floats(0, 60),
    st.floats(-3.1, 3.1),
)
def test_on_one_kind_of_ground_the_ball_goes_its_run_times_the_kinds_share(kind, run, bearing):
    x, y = (float(at[0]) for at in run_out(lawn(kind)[1], 10.0, 20.0, bearing, run))
    assert math.dist((x, y), (10.0, 20.0)) == pytest.approx(run * BY_NAME[kind].run, abs=1e-6)
    if math.dist((x, y), (10.0, 20.0)) > 1e-3:
        assert math.remainder(math.atan2(x - 10, y - 20) - bearing, 2 * math.pi) == pytest.approx(0, abs=1e-6)


@cache
def striped() -> r.Problem:
    return packed(
        "Stripes",
        Area("fairway", box(-50, 0, 50, 100)),
        Area("bunker", box(-50, 100, 50, 110)),
        Area("fairway", box(-50, 110, 50, 200)),
        Area("water", box(-50, 200, 50, 250), marking="red"),
    )


def test_each_stripe_takes_its_own_toll():
    problem, sand = striped(), BY_NAME["bunker"].run
    # 20 yd to the sand, then what is left at the sand's share: wherever in a cell it sets out.
    start = np.linspace(78.0, 82.0, 41)
    ran = run_out(problem, 0.0, start, 0.0, 105.0 - start)[1] - (100 + 5 * sand)
    assert np.abs(ran).max() < 1.0  # it is looked at every yard
    assert abs(ran.mean()) < 0.6
    # Out of the fairway on to rough at the side.
    start = np.linspace(38.0, 42.0, 41)
    ran = run_out(problem, start, 50.0, math.pi / 2, 70.0 - start)[0] - (50 + 20 * BY_NAME["rough"].run)
    assert np.abs(ran).max() < 1.0
    assert abs(ran.mean()) < 0.6


def test_water_takes_the_ball_at_its_edge():
    x, y = run_out(striped(), 0.0, np.linspace(150.0, 199.0, 99), 0.0, 60.0)
    assert ((y >= 200.0) & (y < 201.0)).all()
    assert (x == 0.0).all()


@settings(max_examples=60, deadline=None)
@given(st.floats(0, 80), st.floats(0, 80), st.floats(60, 195))
def test_more_run_never_stops_shorter(one, other, y):
    low, high = run_out(striped(), 0.0, y, 0.0, sorted((one, other)))[1]
    assert low <= high + 1e-9


def test_a_block_of_balls_rolls_as_one_ball_does_and_on_beyond_its_strides():
    """Long rolls along an edge, where a stride is a yard: by the toll of what the ball really lies on, yard by yard."""
    problem = striped()
    far = np.linspace(0.0, 80.0, 81)
    along = run_out(problem, 49.9, 20.0, 0.0, far)[1]
    assert along[far < 75] == pytest.approx(20.0 + far[far < 75])
    assert (along[far > 82] < 110.0).all()
    alone = [run_out(problem, 49.9, 20.0, 0.0, run)[1][0] for run in far]
    assert (along == alone).all()
