"""Trees against the closed form of a straight belt, and the run over the ground."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from helpers import box, club_golfer
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point as GeoPoint

from simcaddie.ground.hole import Area, Hole
from simcaddie.play import kernel as k
from simcaddie.play import records as r
from simcaddie.play.pack import pack
from simcaddie.surfaces import BY_NAME
from simcaddie.units import METRES_PER_YARD

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
def belt(width: float, density: float, height: float = 900.0) -> r.Ground:
    hole = Hole(
        "Belt (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"p": (0.0, 330.0)},
        (
            Area("trees", box(-200, 60, 200, 60 + width), height=height, density=density),
            Area("green", GeoPoint(0, 330).buffer(12)),
        ),
    )
    return pack(hole, GOLFER, hole.place(), hole.pin()).ground


def stop_chance(g: r.Ground, y: float, bearing: float = 0.0, gap: float = 1.0) -> float:
    """Return the chance that a flight of 250 yd from (0, y) is stopped: so it is for all u below a value."""
    low, high = 0.0, 1.0
    for _ in range(40):
        u = (low + high) / 2
        hit = k.stopped_by_trees(
            g, 0.0, y, math.sin(bearing), math.cos(bearing), 250.0, 0.0, 0.0, 0.3, 0.8, 0.0, 1.0, 0.0, gap, u
        )
        low, high = (u, high) if hit >= 0 else (low, u)
    return low


@pytest.mark.parametrize("width", [10.0, 30.0, 60.0])
@pytest.mark.parametrize("density", [0.2, 0.6, 0.9])
@pytest.mark.parametrize("degrees", [0.0, 20.0])
def test_a_straight_belt_stops_the_share_of_its_closed_form(width, density, degrees):
    """1 − (1 − density)^(metres crossed / 10), over starts all along a yard."""
    bearing = math.radians(degrees)
    metres = width / math.cos(bearing) * METRES_PER_YARD
    exponents = []
    for y in np.linspace(-1, 0, 41):
        chance = stop_chance(belt(width, density), float(y), bearing)
        exponents.append(math.log1p(-chance) / math.log1p(-density) * 10)
    assert np.abs(np.array(exponents) - metres).max() < 1.1 * METRES_PER_YARD  # it is looked at every yard
    assert np.mean(exponents) == pytest.approx(metres, abs=0.15)


def test_a_player_among_trees_looks_for_a_gap():
    full, gap = stop_chance(belt(30.0, 0.6), 0.0), stop_chance(belt(30.0, 0.6), 0.0, gap=0.35)
    assert math.log1p(-gap) == pytest.approx(0.35 * math.log1p(-full))


def test_a_ball_above_the_canopy_is_not_stopped():
    # Height at the share t of the carry C: C t (1 − t) [a (1 − t) + b t]; the belt lies 60 to 90 yd out.
    t = np.array([60, 90]) / 250
    low = (250 * t * (1 - t) * (0.3 * (1 - t) + 0.8 * t)).min()
    assert stop_chance(belt(30.0, 0.6, height=low - 0.5), 0.0) == 0.0
    assert stop_chance(belt(30.0, 0.6, height=low + 1.5), 0.0) > 0.0


def test_flight_top_of_a_measured_6_iron():
    """Published radar average, second-hand: 184 yd, up at 14.7°, down at 48°, top 33.8 yd (calibration).

    Found as the height of the lowest trees that could stop it from 108 to 116 yd out, where it is highest.
    """
    up, down = math.tan(math.radians(14.7)), math.tan(math.radians(48.0))

    def stopped(height: float) -> bool:
        g = belt(8.0, 0.9, height)
        return k.stopped_by_trees(g, 0.0, -48.0, 0.0, 1.0, 184.0, 0.0, 0.0, up, down, 0.0, 1.0, 0.0, 1.0, 1e-6) >= 0

    heights = np.arange(30.0, 38.0, 0.25)
    assert heights[[stopped(height) for height in heights]][0] == pytest.approx(33.8, abs=0.75)


def test_a_curve_may_fly_round_a_tree():
    g = belt_of_one()
    straight = k.stopped_by_trees(g, 0.0, 0.0, 0.0, 1.0, 200.0, 0.0, 0.0, 0.3, 0.8, 0.0, 1.0, 0.0, 1.0, 0.01)
    bent = k.stopped_by_trees(g, 0.0, 0.0, 0.0, 1.0, 200.0, 0.0, 0.4, 0.3, 0.8, 0.0, 1.0, 0.0, 1.0, 0.01)
    assert straight == pytest.approx(0.5, abs=0.05)
    assert bent == -1.0


@cache
def belt_of_one() -> r.Ground:
    hole = Hole(
        "One tree (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"p": (0.0, 330.0)},
        (
            Area("trees", GeoPoint(0, 104).buffer(8), height=900.0, density=0.9),
            Area("green", GeoPoint(0, 330).buffer(12)),
        ),
    )
    return pack(hole, GOLFER, hole.place(), hole.pin()).ground


@settings(max_examples=100, deadline=None)
@given(
    st.sampled_from(["fairway", "rough", "light_rough", "bunker", "heather"]),
    st.floats(0, 60),
    st.floats(-3.1, 3.1),
)
def test_on_one_kind_of_ground_the_ball_goes_its_run_times_the_kinds_share(kind, run, bearing):
    g = lawn(kind)[1].ground
    x, y = k.run_out(g, 10.0, 20.0, math.sin(bearing), math.cos(bearing), run)
    assert math.dist((x, y), (10.0, 20.0)) == pytest.approx(run * BY_NAME[kind].run, abs=1e-6)
    if math.dist((x, y), (10.0, 20.0)) > 1e-3:
        assert math.remainder(math.atan2(x - 10, y - 20) - bearing, 2 * math.pi) == pytest.approx(
            0, abs=1e-6
        )


@cache
def striped() -> r.Ground:
    hole = Hole(
        "Stripes (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"p": (0.0, 330.0)},
        (
            Area("fairway", box(-50, 0, 50, 100)),
            Area("bunker", box(-50, 100, 50, 110)),
            Area("fairway", box(-50, 110, 50, 200)),
            Area("water", box(-50, 200, 50, 250), marking="red"),
            Area("green", GeoPoint(0, 330).buffer(12)),
        ),
    )
    return pack(hole, GOLFER, hole.place(), hole.pin()).ground


def test_each_stripe_takes_its_own_toll():
    g, sand = striped(), BY_NAME["bunker"].run
    # 20 yd to the sand, then what is left at the sand's share.
    assert k.run_out(g, 0.0, 80.0, 0.0, 1.0, 25.0)[1] == pytest.approx(100 + 5 * sand, abs=1.0)
    # Out of the fairway on to rough at the side.
    assert k.run_out(g, 40.0, 50.0, 1.0, 0.0, 30.0)[0] == pytest.approx(
        50 + 20 * BY_NAME["rough"].run, abs=1.0
    )


def test_water_takes_the_ball_at_its_edge():
    x, y = k.run_out(striped(), 0.0, 180.0, 0.0, 1.0, 60.0)
    assert 200.0 <= y < 201.0
    assert x == 0.0


@settings(max_examples=60, deadline=None)
@given(st.floats(0, 80), st.floats(0, 80), st.floats(60, 195))
def test_more_run_never_stops_shorter(one, other, y):
    g = striped()
    low, high = sorted((one, other))
    assert k.run_out(g, 0.0, y, 0.0, 1.0, low)[1] <= k.run_out(g, 0.0, y, 0.0, 1.0, high)[1] + 1e-9
