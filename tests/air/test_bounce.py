"""Bounce and run against worked examples, closed forms and what is usual."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference.flight import FIRST_BOUNCES, TOUR, YARD

from simcaddie.base.errors import BadRequest
from simcaddie.weather.bounce import FAST_GREEN, SLOW_GREEN, first_bounce, run_out
from simcaddie.weather.flight import ball_speed, fly

G, RADIUS = 9.80665, 0.021335
RPM = 30.0 / math.pi


@pytest.mark.parametrize(("speed", "from_vertical", "spin", "height"), FIRST_BOUNCES)
def test_worked_first_bounces(speed, from_vertical, spin, height):
    _, up, _ = first_bounce(speed, 90.0 - from_vertical, spin * RPM)
    assert up[0] ** 2 / (2 * G) == pytest.approx(height, abs=0.03)


def landed(carry_yd, launch, spin):
    """Return (carry, landing speed, angle, spin) of a calm flight."""
    flight = fly(ball_speed(carry_yd * YARD, launch, spin), launch, spin)
    return flight.carry, (flight.landing_speed, flight.landing, flight.landing_spin)


@pytest.mark.parametrize(("firmness", "share"), [(0.0, 0.04), (0.5, 0.09), (1.0, 0.15)])
def test_a_long_drive_runs_as_is_usual(firmness, share):
    """Soft and firm are calibration (common practice, no source); ordinary turf is Penner's, and runs long."""
    _, launch, spin, carry, _, _ = TOUR["driver men"]
    level, impact = landed(carry, launch, spin)
    assert run_out(*impact, firmness=firmness)[0] / level[0] == pytest.approx(share, abs=0.015)


@pytest.mark.parametrize("firmness", [0.0, 0.5, 1.0])
def test_a_wedge_hardly_runs(firmness):
    _, impact = landed(142.0, 23.7, 9316.0)
    assert abs(run_out(*impact, firmness=firmness)[0]) < 3.0


@given(st.floats(15.0, 32.0), st.floats(25.0, 55.0), st.floats(500.0, 9000.0))
@settings(max_examples=60, deadline=None)
def test_firmer_turf_and_a_flatter_landing_run_further(speed, landing, spin):
    runs = run_out(speed, landing, spin, firmness=np.linspace(0.0, 1.0, 5))
    assert (np.diff(runs) > -0.02).all()
    flatter = run_out(speed, landing - np.array([0.0, 5.0, 10.0]), spin)
    assert (np.diff(flatter) > 0.0).all()


def test_spin_pulls_back_and_hills_help_or_hinder():
    assert run_out(25.0, 60.0, 11000.0, firmness=0.0)[0] < 0.0
    runs = run_out(28.0, 38.0, 2500.0, slope=[0.1, 0.05, 0.0, -0.05])
    assert (np.diff(runs) > 0.0).all()
    fast, slow = run_out(28.0, 38.0, 2500.0, rolling=[FAST_GREEN, SLOW_GREEN])
    assert fast > slow


def test_a_rolling_ball_rolls_by_the_closed_form():
    speed = 3.0
    rolled = run_out(speed, 0.0, -speed / RADIUS * RPM, rolling=0.1)
    assert rolled[0] == pytest.approx(speed**2 / (2 * 5 / 7 * 0.1 * G))


@given(st.floats(0.1, 40.0), st.floats(0.0, 90.0), st.floats(-4000.0, 12000.0), st.floats(0.0, 1.0))
@settings(max_examples=100, deadline=None)
def test_no_bounce_gains_energy(speed, landing, spin, firmness):
    vx, vy, after = first_bounce(speed, landing, spin, firmness)

    def energy(v2, w):
        return 0.5 * v2 + 0.2 * (RADIUS * w / RPM) ** 2

    assert energy(vx[0] ** 2 + vy[0] ** 2, after[0]) <= energy(speed**2, spin) * (1 + 1e-9)
    assert vy[0] >= 0.0


@given(
    st.floats(0.0, 90.0), st.floats(0.0, 90.0), st.floats(-4000.0, 14000.0), st.floats(0.0, 1.0), st.floats(-1.0, 1.0)
)
@settings(max_examples=100, deadline=None)
def test_nothing_gives_nan(speed, landing, spin, firmness, slope):
    assert np.isfinite(run_out(speed, landing, spin, firmness=firmness, slope=slope)).all()


@pytest.mark.parametrize("bad", [{"firmness": 1.1}, {"slope": 2.0}, {"rolling": 0.0}, {"firmness": math.nan}])
def test_bad_numbers_are_told(bad):
    with pytest.raises(BadRequest):
        run_out(25.0, 40.0, 3000.0, **bad)
    with pytest.raises(BadRequest):
        first_bounce(25.0, 100.0, 3000.0)
