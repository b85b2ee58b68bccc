"""Smooth outlines: through the points, round as a circle is, the same in any frame."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.interpolate import CubicSpline

from simcaddie.course.outlines import TOLERANCE, distinct_ring, smooth_ring

FAIRWAY = np.array([[-16, 120], [14, 118], [22, 200], [60, 290], [48, 310], [10, 250], [-14, 190.0]])

rings = st.lists(
    st.tuples(st.integers(-500, 500), st.integers(-500, 500)), min_size=3, max_size=12, unique=True
).map(lambda points: np.array(points, dtype=float) / 2)


def test_goes_through_every_point():
    ring = smooth_ring(FAIRWAY)
    for point in FAIRWAY:
        assert (ring == point).all(axis=1).any()


@pytest.mark.parametrize("count", [8, 12, 30])
def test_points_on_a_circle_give_the_circle(count):
    # Error of a cubic spline through points h apart: at most 5/384 h⁴ max |4th derivative| in each coordinate
    # (C. Hall, W. Meyer, Optimal error bounds for cubic spline interpolation, 1976; from memory).
    angle = 2 * math.pi * np.arange(count) / count
    ring = smooth_ring(50 * np.column_stack([np.cos(angle), np.sin(angle)]), tolerance=1e-4)
    bound = math.sqrt(2) * 5 / 384 * (2 * math.pi / count) ** 4 * 50
    assert np.abs(np.hypot(*ring.T) - 50).max() < bound
    assert shapely.Polygon(ring).area == pytest.approx(math.pi * 2500, rel=8e-3)


@pytest.mark.parametrize("tolerance", [1.0, 0.1, 0.02])
def test_stays_within_the_tolerance_of_the_curve(tolerance):
    closed = np.vstack([FAIRWAY, FAIRWAY[:1]])
    at = np.concatenate([[0], np.cumsum(np.sqrt(np.hypot(*np.diff(closed, axis=0).T)))])
    curve = CubicSpline(at, closed, bc_type="periodic")(np.linspace(0, at[-1], 20_000))
    drawn = shapely.LinearRing(smooth_ring(FAIRWAY, tolerance))
    assert shapely.distance(drawn, shapely.points(curve)).max() <= tolerance


def test_a_thin_outline_neither_bulges_nor_loops():
    path = np.array([[-44, 60], [-42, 60], [-38, 110], [-40, 160], [-42, 160], [-40, 110.0]])
    ring = shapely.Polygon(smooth_ring(path))
    assert ring.is_valid
    assert shapely.hausdorff_distance(ring, shapely.Polygon(path)) < 3.0


def test_the_closing_point_and_repeated_points_change_nothing():
    again = np.vstack([FAIRWAY[:3], FAIRWAY[2:3], FAIRWAY[3:], FAIRWAY[:1], FAIRWAY[:1]])
    assert np.array_equal(smooth_ring(again), smooth_ring(FAIRWAY))
    assert np.array_equal(distinct_ring(again), FAIRWAY)


def test_too_few_points_come_back():
    assert smooth_ring([]).shape == (0, 2)
    assert smooth_ring([[1, 2], [1, 2]]).tolist() == [[1, 2]]
    assert smooth_ring([[1, 2], [3, 4], [1, 2]]).tolist() == [[1, 2], [3, 4]]


@given(rings)
def test_mirrored_points_give_the_mirrored_outline(points):
    mirrored = smooth_ring(points * [-1, 1]) * [-1, 1]
    assert np.array_equal(mirrored, smooth_ring(points))  # to the last bit about x = 0


@given(rings, st.integers(-300, 300))
def test_mirrored_about_any_line(points, axis):
    mirrored = [2 * axis, 0] + smooth_ring([2 * axis, 0] + points * [-1, 1]) * [-1, 1]
    assert np.allclose(mirrored, smooth_ring(points), rtol=0, atol=1e-9)


@given(rings, st.floats(0, 2 * math.pi))
def test_turned_points_give_the_turned_outline(points, angle):
    turn = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
    plain, turned = smooth_ring(points), smooth_ring(points @ turn.T)
    assume(plain.shape == turned.shape)  # a count on the edge may flip by rounding, the curve doesn't
    assert np.allclose(turned, plain @ turn.T, rtol=0, atol=1e-9)


@given(rings)
def test_a_quarter_turn_is_exact_in_shape(points):
    quarter = smooth_ring(np.column_stack([points[:, 1], -points[:, 0]]))
    plain = smooth_ring(points)
    assert np.allclose(quarter, np.column_stack([plain[:, 1], -plain[:, 0]]), rtol=0, atol=1e-9)


@given(rings, st.integers(1, 11))
def test_where_the_list_begins_changes_nothing(points, start):
    rolled = smooth_ring(np.roll(points, start, axis=0))
    plain = smooth_ring(points)
    assert shapely.hausdorff_distance(shapely.LinearRing(rolled), shapely.LinearRing(plain)) < 2 * TOLERANCE
