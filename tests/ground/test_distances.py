"""Distances to reach and to carry, against sums done by hand and against shapely point by point."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from helpers import box, busy_hole, mirrored_hole, turned_hole
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely import Point as GeoPoint

from simcaddie.course.distances import crossings, visible, yardages
from simcaddie.course.hole import Area, Hole

GREEN = Area("green", Polygon([(-12, 288), (12, 288), (12, 312), (-12, 312)]))


def plain(*areas: Area, **keys: object) -> Hole:
    return Hole(
        "Plain (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"front": (-9.0, 292.0), "middle": (0.0, 300.0)},
        (*areas, GREEN),
        **keys,
    )


def only(hole: Hole, bearing: float | None = None, place: tuple[float, float] = (0.0, 0.0), **keys: bool):
    (hazard,) = yardages(hole, place, bearing, **keys).hazards
    return hazard


def test_a_box_across_the_line():
    hazard = only(plain(Area("bunker", box(-10, 150, 20, 162))))
    assert (hazard.reach, hazard.carry) == pytest.approx((150, 162))
    assert (hazard.near, hazard.far) == pytest.approx((150, math.hypot(20, 162)))
    assert hazard.side == "across"


def test_a_slanting_line_meets_it_further_out():
    # At 30° the ray is at x = y tan 30°; a belt 100 to 110 yd up is entered at 100 / cos 30°.
    hazard = only(plain(Area("heather", box(-200, 100, 200, 110))), math.radians(30))
    assert (hazard.reach, hazard.carry) == pytest.approx(
        (100 / math.cos(math.pi / 6), 110 / math.cos(math.pi / 6))
    )
    assert (hazard.near, hazard.far) == pytest.approx((100, math.hypot(200, 110)))


def test_missed_hazards_lie_left_right_or_behind():
    hole = plain(
        Area("bunker", box(20, 190, 30, 200), name="right"),
        Area("bunker", box(-30, 150, -20, 160), name="left"),
        Area("water", box(-30, -40, 40, -20), name="behind", marking="red"),
    )
    found = {hazard.area.name: hazard for hazard in yardages(hole, (0.0, 0.0), None).hazards}
    assert {name: hazard.side for name, hazard in found.items()} == {
        name: name for name in ("left", "right", "behind")
    }
    assert all(
        hazard.reach is None and hazard.carry is None and not hazard.crossings for hazard in found.values()
    )
    assert found["right"].near == pytest.approx(math.hypot(20, 190))
    assert found["right"].far == pytest.approx(math.hypot(30, 200))
    assert [hazard.area.name for hazard in yardages(hole, (0.0, 0.0), None).hazards] == [
        "behind",
        "left",
        "right",
    ]


def test_sides_turn_with_the_line():
    hole = plain(Area("bunker", box(-5, 150, 5, 160)))
    assert only(hole, math.radians(10)).side == "left"
    assert only(hole, math.radians(-10)).side == "right"


def test_a_horseshoe_is_crossed_twice():
    horseshoe = Polygon(
        [(-20, 100), (20, 100), (20, 110), (-10, 110), (-10, 130), (20, 130), (20, 140), (-20, 140)]
    )
    hazard = only(plain(Area("water", horseshoe, marking="yellow")))
    assert hazard.crossings == (pytest.approx((100, 110)), pytest.approx((130, 140)))
    assert (hazard.reach, hazard.carry) == pytest.approx((100, 140))


def test_from_inside_the_reach_is_nothing():
    hazard = only(plain(Area("bunker", box(-5, 90, 5, 110))), place=(0.0, 100.0))
    assert (hazard.reach, hazard.carry, hazard.near) == pytest.approx((0, 10, 0))


def test_an_island_green_leaves_the_water_around_it():
    hole = plain(Area("water", box(-60, 250, 60, 350), marking="yellow"))
    hazard = only(hole)
    assert hazard.crossings == (pytest.approx((250, 288)), pytest.approx((312, 350)))
    assert visible(hole, 0).area == pytest.approx(120 * 100 - 24 * 24)


def test_a_hidden_hazard_is_not_listed():
    hole = plain(
        Area("heather", box(-5, 100, 5, 110)),
        Area("path", box(-9, 90, 9, 120)),
        Area("bunker", box(-9, 90, 9, 120)),
    )
    assert [hazard.area.kind for hazard in yardages(hole, (0.0, 0.0), None).hazards] == ["bunker"]


def test_trees_are_listed_when_asked_for_and_stand_over_the_rest():
    hole = plain(
        Area("trees", box(-5, 100, 5, 120), height=12.0, density=0.5),
        Area("fairway", box(-20, 90, 20, 200)),
    )
    assert yardages(hole, (0.0, 0.0), None).hazards == ()
    assert only(hole, trees=True).crossings == (pytest.approx((100, 120)),)


def test_green_front_middle_back_and_pins():
    green = yardages(plain(), (0.0, 0.0), math.radians(25)).green  # whatever the aim
    assert (green.front, green.middle, green.back) == pytest.approx((288, 300, 312))
    assert dict(green.pins) == pytest.approx({"front": math.hypot(9, 292), "middle": 300})


def test_on_the_green_the_front_is_behind():
    green = yardages(plain(), (0.0, 295.0), None).green
    assert (green.front, green.middle, green.back) == pytest.approx((0, 5, 17))


def test_the_boundary_on_the_line_and_the_nearest():
    hole = plain(boundary=box(-50, -30, 70, 400))
    found = yardages(hole, (0.0, 0.0), math.radians(90))
    assert (found.boundary, found.boundary_near) == pytest.approx((70, 30))
    assert yardages(plain(), (0.0, 0.0), None).boundary is None
    garden = plain(Area("out_of_bounds", box(30, 150, 60, 200)), boundary=box(-50, -30, 70, 400))
    assert yardages(garden, (0.0, 0.0), math.atan2(30, 160)).boundary == pytest.approx(math.hypot(30, 160))


def test_fairway_crossings():
    hole = plain(
        Area("fairway", box(-15, 110, 15, 260)), Area("water", box(-60, 180, 60, 190), marking="red")
    )
    assert yardages(hole, (0.0, 0.0), None).fairway == (
        pytest.approx((110, 180)),
        pytest.approx((190, 260)),
    )


def test_a_mirrored_hole_swaps_left_and_right():
    one = yardages(busy_hole(), busy_hole().place().at, 0.05)
    other = yardages(mirrored_hole(busy_hole()), mirrored_hole(busy_hole()).place().at, -0.05)
    swap = {"left": "right", "right": "left", "across": "across", "behind": "behind"}
    assert [swap[hazard.side] for hazard in one.hazards] == [hazard.side for hazard in other.hazards]
    assert [hazard.near for hazard in one.hazards] == pytest.approx(
        [hazard.near for hazard in other.hazards]
    )


@settings(deadline=None)
@given(st.floats(0, 360), st.floats(-0.6, 0.6))
def test_turning_the_hole_changes_no_distance(degrees, bearing):
    hole, turned = busy_hole(), turned_hole(busy_hole(), degrees)
    one = yardages(hole, hole.place().at, bearing)
    other = yardages(turned, turned.place().at, bearing + math.radians(degrees))
    assert [hazard.far for hazard in one.hazards] == pytest.approx(
        [hazard.far for hazard in other.hazards], abs=1e-6
    )
    # A line that grazes a corner may meet it in one and miss it in the other: compare crossings of a yard.
    for here, there in zip(one.hazards, other.hazards, strict=True):
        wide = [[pair for pair in hazard.crossings if pair[1] - pair[0] > 1] for hazard in (here, there)]
        assert np.allclose(wide[0], wide[1], atol=1e-6)


def blob(seed: int) -> Polygon:
    """Return a lopsided closed outline about (0, 150), not convex."""
    rng = np.random.default_rng(seed)
    angle = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    radius = 20 + sum(rng.normal(0, 6 / k) * np.cos(k * angle + rng.uniform(0, 6)) for k in range(1, 6))
    return Polygon(
        np.column_stack(
            [np.maximum(radius, 3) * np.cos(angle), 150 + np.maximum(radius, 3) * np.sin(angle)]
        )
    )


@settings(deadline=None)
@given(st.integers(0, 10_000), st.floats(-math.pi, math.pi), st.floats(-40, 40), st.floats(80, 220))
def test_crossings_hold_exactly_the_points_of_the_ray_inside(seed, bearing, x, y):
    ground = blob(seed)
    pairs = crossings(ground, (x, y), bearing)
    assert list(pairs) == sorted(pairs)
    far = np.linspace(0.05, 200, 700)
    inside = shapely.contains_xy(ground, x + far * math.sin(bearing), y + far * math.cos(bearing))
    between = np.any(
        [(far > entry) & (far < leave) for entry, leave in pairs] or [np.zeros(far.size, bool)], axis=0
    )
    close = np.any(
        [np.abs(far - end) < 1e-3 for pair in pairs for end in pair] or [np.zeros(far.size, bool)], axis=0
    )
    assert ((inside == between) | close).all()


@settings(deadline=None)
@given(st.integers(0, 10_000), st.floats(-60, 60), st.floats(0, 300), st.floats(-math.pi, math.pi))
def test_near_and_far_bound_every_crossing_and_every_corner(seed, x, y, bearing):
    ground = blob(seed)
    hazard = only(plain(Area("bunker", ground)), bearing, (x, y))
    corners = np.hypot(*(shapely.get_coordinates(ground) - (x, y)).T)
    assert hazard.far == pytest.approx(corners.max())
    assert hazard.near <= corners.min() + 1e-9
    assert all(hazard.near - 1e-9 <= end <= hazard.far + 1e-9 for pair in hazard.crossings for end in pair)
    ray = LineString([(x, y), (x + 999 * math.sin(bearing), y + 999 * math.cos(bearing))])
    assert sum(leave - entry for entry, leave in hazard.crossings) == pytest.approx(
        ray.intersection(ground).length, abs=1e-5
    )
    assert (hazard.near == 0) == ground.intersects(GeoPoint(x, y))
