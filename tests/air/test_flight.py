"""Ball flight against published tables, closed forms and an independent solver."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference.flight import DISTANCE_STANDARD, MOST_TOTAL, MPH, SIX_IRON, SIX_IRON_IN_WIND, TOUR, YARD, by_solve_ivp

from simcaddie.base.errors import BadRequest
from simcaddie.weather.bounce import run_out
from simcaddie.weather.flight import FASTEST, air_density, ball_speed, fly

G = 9.80665
DRIVER = (171.0 * MPH, 10.4, 2545.0)


@pytest.mark.parametrize("wind", SIX_IRON_IN_WIND)
def test_a_six_iron_in_wind_flies_as_published(wind):
    speed, launch, spin = SIX_IRON
    flight = fly(speed * MPH, launch, spin, tail=wind * MPH)
    carry, apex, landing = SIX_IRON_IN_WIND[wind]
    assert flight.carry[0] / YARD == pytest.approx(carry, abs=3.0)
    assert flight.apex[0] / YARD == pytest.approx(apex, abs=2.0)
    assert flight.landing[0] == pytest.approx(landing, abs=2.0)


@pytest.mark.parametrize(
    ("case", "least", "most"),
    [
        ("driver men", 0.96, 1.04),
        ("driver women", 0.96, 1.04),
        ("7 iron women", 0.96, 1.04),
        ("7 iron men", 0.94, 0.96),
    ],
)
def test_tour_averages_to_which_the_model_was_fitted(case, least, most):
    """The tour man's 7 iron comes out 4 to 6 % short: a known fault of the fit, held here so that it stays known."""
    speed, launch, spin, carry, apex, landing = TOUR[case]
    flight = fly(speed * MPH, launch, spin)
    assert least <= flight.carry[0] / YARD / carry <= most
    assert flight.apex[0] / YARD == pytest.approx(apex, abs=2.0)
    assert flight.landing[0] == pytest.approx(landing, abs=4.0)


def test_the_longest_ball_allowed_comes_near_the_limit_and_stays_below():
    speed, launch, spin = DISTANCE_STANDARD
    flight = fly(speed * MPH, launch, spin)
    run = run_out(flight.landing_speed, flight.landing, flight.landing_spin)
    assert 0.94 * MOST_TOTAL < (flight.carry[0] + run[0]) / YARD < MOST_TOTAL


@given(st.floats(1.0, 90.0), st.floats(2.0, 85.0), st.floats(0.0, 12000.0))
@settings(max_examples=40, deadline=None)
def test_in_a_vacuum_it_is_a_parabola(speed, launch, spin):
    flight = fly(speed, launch, spin, density=0.0)
    angle = math.radians(launch)
    up = speed * math.sin(angle)
    assert flight.carry[0] == pytest.approx(speed**2 * math.sin(2 * angle) / G, rel=1e-6)
    assert flight.apex[0] == pytest.approx(up**2 / (2 * G), rel=1e-6)
    assert flight.time[0] == pytest.approx(2 * up / G, rel=1e-6)
    assert flight.landing[0] == pytest.approx(launch, abs=1e-6)
    assert flight.landing_speed[0] == pytest.approx(speed, rel=1e-6)
    assert flight.landing_spin[0] == pytest.approx(spin)


@pytest.mark.parametrize(
    "case",
    [
        (*DRIVER, 1.184, 0.0, 0.0),
        (*DRIVER, 1.0, -8.0, 5.0),
        (55.0, 16.0, 7000.0, 1.225, 6.0, -7.0),
        (35.0, 33.0, 10000.0, 1.184, -9.0, 3.0),
        (6.0, 28.0, 1500.0, 1.184, 2.0, 1.0),
    ],
)
def test_an_independent_solver_flies_as_far(case):
    speed, launch, spin, density, tail, across = case
    flight = fly(speed, launch, spin, density=density, tail=tail, across=across)
    carry, side, apex = by_solve_ivp(*case)
    assert flight.carry[0] == pytest.approx(carry, abs=0.01 * YARD)
    assert flight.side[0] == pytest.approx(side, abs=0.01 * YARD)
    assert flight.apex[0] == pytest.approx(apex, abs=0.01 * YARD)


def test_half_the_time_step_changes_little():
    speeds = np.array([76.0, 58.0, 35.0, 12.0, 5.0])
    launches, spins = np.array([10.4, 15.0, 33.0, 28.0, 20.0]), np.array([2545.0, 6088.0, 10000.0, 3500.0, 1000.0])
    coarse = fly(speeds, launches, spins, tail=-5.0, across=4.0, step=0.05)
    fine = fly(speeds, launches, spins, tail=-5.0, across=4.0, step=0.025)
    for a, b in ((coarse.carry, fine.carry), (coarse.side, fine.side)):
        assert np.abs(a - b).max() < 0.02 * YARD


@given(st.floats(5.0, 85.0), st.floats(5.0, 50.0), st.floats(0.0, 11000.0), st.floats(0.5, 1.4))
@settings(max_examples=40, deadline=None)
def test_without_wind_no_energy_is_gained(speed, launch, spin, density):
    flight = fly(speed, launch, spin, density=density)
    assert flight.landing_speed[0] < speed
    assert G * flight.apex[0] < 0.5 * speed**2
    assert 0.0 <= flight.landing_spin[0] <= spin
    assert flight.side[0] == 0.0


def test_a_mirrored_wind_mirrors_the_drift():
    left, right = fly(*DRIVER, tail=-3.0, across=-6.0), fly(*DRIVER, tail=-3.0, across=6.0)
    assert left.side[0] == -right.side[0] < 0.0
    assert left.carry[0] == right.carry[0]


@pytest.mark.parametrize("carry", [2.0, 60.0, 250.0])
def test_the_ball_speed_of_a_carry_carries_it(carry):
    launch, spin = np.array([11.0, 16.0, 20.0]), np.array([2500.0, 5000.0, 2000.0])
    speed = ball_speed(carry, launch, spin, density=1.1)
    np.testing.assert_allclose(fly(speed, launch, spin, density=1.1).carry, carry, rtol=1e-6)


def test_of_two_ball_speeds_the_slower_is_found():
    speeds = np.linspace(5.0, FASTEST, 200)
    carries = fly(speeds, 60.0, 12000.0).carry
    best = int(carries.argmax())
    assert best < 150  # harder struck, it climbs and comes down shorter
    assert ball_speed(0.9 * carries[best], 60.0, 12000.0)[0] < speeds[best]


@pytest.mark.parametrize(("carry", "words"), [(600.0, "600.0 m"), (0.0, "above 0"), (math.nan, "finite")])
def test_a_carry_out_of_reach_is_told_with_numbers(carry, words):
    with pytest.raises(BadRequest, match=words):
        ball_speed([150.0, carry], 12.0, 3000.0)


@pytest.mark.parametrize(
    "bad", [{"speed": -1.0}, {"speed": math.inf}, {"density": -1.0}, {"step": 0.0}, {"tail": math.nan}]
)
def test_bad_numbers_are_told(bad):
    with pytest.raises(BadRequest):
        fly(**{"speed": 50.0, "launch": 10.0, "spin": 3000.0, **bad})


@given(
    st.floats(0.0, 100.0), st.floats(-20.0, 90.0), st.floats(-3000.0, 14000.0), st.floats(-30.0, 30.0),
    st.floats(-30.0, 30.0), st.sampled_from([air_density(-40.0, 9000.0), 1.184, air_density(-40.0, 0.0)]),
)  # fmt: skip
@settings(max_examples=150, deadline=None)
def test_nothing_gives_nan(speed, launch, spin, tail, across, density):
    flight = fly(speed, launch, spin, tail=tail, across=across, density=density)
    assert np.isfinite(flight).all()
    assert flight.time[0] < 60.0


def test_a_gale_blows_a_wedge_back():
    flight = fly(30.0, 40.0, 9000.0, tail=-60.0 * MPH)
    assert flight.carry[0] < 0.0
    assert flight.apex[0] > 10.0


def test_shapes_broadcast_and_may_be_empty():
    assert fly(np.full((2, 1), 50.0), 12.0, np.full(3, 4000.0)).carry.shape == (6,)
    assert fly([], 12.0, 4000.0).carry.shape == (0,)
    assert ball_speed([], 12.0, 4000.0).shape == (0,)
