"""Frames on the globe, against PROJ's own projection and geodesics."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyproj import Geod, Transformer
from shapely import LineString

from simcaddie.features.open_map.globe import Frame, geodesic_bearing, geodesic_length

YARD = 0.9144
PLACES = st.tuples(st.floats(-180, 180), st.floats(-89, 89))
POINTS = st.lists(st.tuples(st.floats(-900, 900), st.floats(-900, 900)), min_size=1, max_size=8)


@given(PLACES, st.floats(0, 360), POINTS)
def test_there_and_back_again(place, bearing, points):
    frame = Frame(*place, bearing)
    assert frame.to_plane(frame.to_globe(points)) == pytest.approx(np.array(points), abs=1e-5)


@pytest.mark.parametrize("lat", [-60.0, -12.5, 0.0, 37.0, 54.1, 70.0])
def test_the_plane_is_proj_s_azimuthal_equidistant_one(lat):
    """An independent implementation of the same projection: PROJ's aeqd."""
    lon = 11.25
    aeqd = Transformer.from_crs("EPSG:4326", f"+proj=aeqd +lat_0={lat} +lon_0={lon} +datum=WGS84", always_xy=True)
    rng = np.random.default_rng(3)
    degrees = np.column_stack([lon + rng.uniform(-0.01, 0.01, 50), lat + rng.uniform(-0.008, 0.008, 50)])
    wanted = np.column_stack(aeqd.transform(*degrees.T)) / YARD
    assert Frame(lon, lat).to_plane(degrees) == pytest.approx(wanted, abs=1e-4)


@given(PLACES, st.floats(0, 359), st.floats(50, 700))
def test_up_the_hole_is_the_bearing(place, bearing, far):
    (end,) = Frame(*place, bearing).to_globe([(0.0, far)])
    assert abs(math.remainder(geodesic_bearing(place, tuple(end)) - bearing, 360.0)) < 1e-6


@given(PLACES, POINTS)
def test_lengths_on_the_plane_are_geodesic(place, points):
    """Within 0.1 per cent is asked for; a course is so small that it is within a hundred thousandth."""
    line = [(0.0, 0.0), *points]
    degrees = Frame(*place, 30.0).to_globe(line)
    geodesic = Geod(ellps="WGS84").line_length(*degrees.T) / YARD
    assert LineString(line).length == pytest.approx(geodesic, rel=1e-5, abs=1e-4)
    assert geodesic_length(degrees) == pytest.approx(geodesic, rel=1e-12)


def test_a_degree_of_latitude():
    """From the WGS 84 ellipsoid, a = 6378137 m, 1/f = 298.257223563: the meridian at 45° bends with radius M."""
    e2 = (2 - 1 / 298.257223563) / 298.257223563
    radius = 6378137 * (1 - e2) / (1 - e2 * 0.5) ** 1.5
    ((x, y),) = Frame(5.0, 45.0).to_plane([(5.0, 45.001)])
    assert x == pytest.approx(0.0, abs=1e-6)
    assert y == pytest.approx(radius * math.radians(0.001) / YARD, rel=1e-6)


def test_across_the_180th_meridian_and_at_the_pole():
    frame = Frame(179.999, -17.0)
    ((x, _),) = frame.to_plane([(-179.999, -17.0)])
    assert x == pytest.approx(frame.to_plane([(179.997, -17.0)])[0][0] * -1, rel=1e-9)
    assert frame.to_plane(Frame(0.0, 90.0).to_globe([(0, 300)])).shape == (1, 2)
    pole = Frame(0.0, 90.0)
    assert pole.to_plane(pole.to_globe([(120.0, 340.0)])) == pytest.approx(np.array([(120.0, 340.0)]), abs=1e-5)
