"""Heights between spot heights."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from helpers import lane
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import RBFInterpolator

from simcaddie.course.grid import area_grid
from simcaddie.course.heights import HEIGHT_CELL, NEIGHBOURS, SPREAD, WIDE, height_at, height_grid

SPOTS = np.array([[0.0, 0.0, 12.0], [-30.0, 150.0, 6.0], [20.0, 200.0, 4.0], [5.0, 300.0, 9.0], [-20.0, 330.0, 11.0]])


def test_a_hole_without_heights_or_with_all_alike_is_flat():
    for heights in (None, np.array([[0.0, 0.0, 7.0], [0.0, 300.0, 7.0]])):
        hole = replace(lane(), heights=heights)
        assert height_grid(hole, area_grid(hole)).shape == (1, 1)


def test_the_spots_keep_their_heights():
    hole = replace(lane(), heights=SPOTS)
    assert height_at(hole, SPOTS[:, :2]) == pytest.approx(SPOTS[:, 2], abs=1e-6)


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10**6), st.integers(3, 20), st.booleans())
def test_heights_are_those_of_scipys_interpolator(seed, count, narrow):
    """Thin plate splines over the hole, multiquadrics down a narrow band: scipy's RBFInterpolator through all spots."""
    rng, half = np.random.default_rng(seed), 4.0 if narrow else 150.0
    y = (np.arange(count) + rng.uniform(-0.3, 0.3, count)) * 400.0 / count  # spots at one place ask for nonsense
    spots = np.column_stack([rng.uniform(-half, half, count), y, rng.uniform(0.0, 20.0, count)])
    places = rng.uniform((-60.0, -20.0), (60.0, 420.0), (50, 2))
    spread = np.linalg.svd(spots[:, :2] - spots[:, :2].mean(axis=0), compute_uv=False)
    plate = spread[1] > SPREAD * spread[0]
    shape = {"kernel": "thin_plate_spline", "degree": 1} if plate else {"kernel": "multiquadric", "degree": 0}
    low, high = spots[:, 2].min(), spots[:, 2].max()
    slack = 0.25 * (high - low)
    wanted = RBFInterpolator(spots[:, :2], spots[:, 2], epsilon=1 / WIDE, **shape)(places)
    found = height_at(replace(lane(), heights=spots), places)
    assert found == pytest.approx(wanted.clip(low - slack, high + slack), abs=1e-6)


def test_many_spots_give_nearly_the_surface_through_all_of_them():
    """Beyond ``NEIGHBOURS`` only the nearest count: of a plane that is the plane still."""
    rng = np.random.default_rng(9)
    spots = rng.uniform((-150.0, 0.0, 0.0), (150.0, 400.0, 1.0), (NEIGHBOURS + 30, 3))
    spots[:, 2] = 3.0 + 0.02 * spots[:, 0] - 0.01 * spots[:, 1]
    places = rng.uniform((-60.0, 60.0), (60.0, 340.0), (40, 2))
    plane = 3.0 + 0.02 * places[:, 0] - 0.01 * places[:, 1]
    assert height_at(replace(lane(), heights=spots), places) == pytest.approx(plane, abs=1e-6)


def test_a_plane_stays_a_plane():
    """A thin plate spline through points of a plane is that plane (J. Duchon, 1977)."""
    places = np.random.default_rng(5).uniform(-60, 360, (40, 2))
    wide = np.array([[-80.0, 0.0], [90.0, 20.0], [-70.0, 160.0], [85.0, 200.0], [0.0, 330.0]])
    spots = np.column_stack([wide, 3.0 + 0.02 * wide[:, 0] - 0.01 * wide[:, 1]])
    hole = replace(lane(), heights=spots)
    low, high = spots[:, 2].min(), spots[:, 2].max()
    plane = 3.0 + 0.02 * places[:, 0] - 0.01 * places[:, 1]
    slack = 0.25 * (high - low)
    assert height_at(hole, places) == pytest.approx(np.clip(plane, low - slack, high + slack), abs=1e-6)


@pytest.mark.parametrize("spots", [SPOTS[:2], np.column_stack([[0.0, 0.0, 0.0], [0.0, 100.0, 300.0], [2.0, 9.0, 4.0]])])
def test_two_spots_or_spots_on_a_line_give_sane_heights(spots):
    hole = replace(lane(), heights=spots)
    grid = height_grid(hole, area_grid(hole))
    slack = 0.25 * np.ptp(spots[:, 2])
    assert np.isfinite(grid).all()
    assert spots[:, 2].min() - slack <= grid.min() <= grid.max() <= spots[:, 2].max() + slack


def test_spots_along_the_line_of_play_invent_no_slope_across():
    """Four spots within 6 yards of a line: the slope across stays below the steepest one along them."""
    spots = np.array([[0.0, 0.0, 6.0], [5.0, 180.0, 5.0], [6.0, 270.0, 5.0], [2.0, 360.0, 6.0]])
    hole = replace(lane(), heights=spots)
    line = np.column_stack([np.full(60, 3.0), np.linspace(0.0, 360.0, 60)])
    aside = np.array([5.0, 0.0])
    across = (height_at(hole, line + aside) - height_at(hole, line - aside)) / 10.0
    assert np.abs(across).max() < 0.012


def test_the_grid_covers_the_hole():
    hole = replace(lane(), heights=SPOTS)
    areas = area_grid(hole)
    grid = height_grid(hole, areas)
    assert (grid.shape[0] - 1) * HEIGHT_CELL >= areas.surface.shape[0] * areas.cell
    row, column = 30, 12
    place = np.array([[areas.x0 + HEIGHT_CELL * column, areas.y0 + HEIGHT_CELL * row]])
    assert grid[row, column] == pytest.approx(height_at(hole, place)[0])
