"""The line of play, and landmarks that mark a line."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from helpers import box, busy_hole, mirrored_hole, turned_hole
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely import Point as GeoPoint

from simcaddie.course.hole import Area, Hole, Landmark
from simcaddie.course.route import line_of_play, nearest_landmark, point_along
from simcaddie.decision.phrases import target_words


def elbow(width: float = 30.0, turn: float = 1.0, par: int = 4) -> Hole:
    """Return a hole that goes up 230 yd and then turns square to one side for 150."""
    half = width / 2
    corners = [
        (-half, 60),
        (-half, 230 + half),
        (150, 230 + half),
        (150, 230 - half),
        (half, 230 - half),
        (half, 60),
    ]
    return Hole(
        "Elbow (invented)",
        par,
        {"t": (0.0, 0.0)},
        {"p": (turn * 165.0, 230.0)},
        (
            Area("fairway", Polygon([(turn * x, y) for x, y in corners])),
            Area("green", GeoPoint(turn * 165, 230).buffer(12)),
        ),
    )


def test_the_line_follows_the_middle_of_a_square_elbow():
    line = line_of_play(elbow(), (0.0, 0.0))
    assert line[0] == (0.0, 0.0)
    assert line[-1] == (165.0, 230.0)
    middle = LineString([(0, 0), (0, 230), (165, 230)])
    assert max(middle.distance(GeoPoint(at)) for at in line) < 6.0
    assert LineString(line).distance(GeoPoint(0, 230)) < 12.0  # it turns at the elbow, a little inside
    assert middle.hausdorff_distance(LineString(line)) < 12.0


def test_at_a_driving_distance_the_target_is_the_middle_of_the_fairway():
    x, y = point_along(line_of_play(elbow(), (0.0, 0.0)), 180.0)
    assert math.hypot(x, y) == pytest.approx(180.0)
    assert abs(x) < 3.0


def test_a_straight_hole_is_played_straight():
    hole = Hole(
        "Straight (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"p": (0.0, 350.0)},
        (Area("fairway", box(-14, 90, 14, 330)), Area("green", GeoPoint(0, 350).buffer(12))),
    )
    assert line_of_play(hole, (0.0, 0.0)) == [(0.0, 0.0), (0.0, 350.0)]


def test_a_belt_across_the_fairway_makes_no_kink():
    hole = Hole(
        "Belt (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"p": (0.0, 350.0)},
        (
            Area("fairway", box(-14, 90, 14, 330)),
            Area("green", GeoPoint(0, 350).buffer(12)),
            Area("heather", Polygon([(-60, 190), (60, 215), (60, 235), (-60, 210)])),
        ),
    )
    assert line_of_play(hole, (0.0, 0.0)) == [(0.0, 0.0), (0.0, 350.0)]


@pytest.mark.parametrize("par", [3])
def test_a_par_3_is_played_at_the_pin(par):
    assert line_of_play(elbow(par=par), (0.0, 0.0)) == [(0.0, 0.0), (165.0, 230.0)]


def test_without_a_fairway_the_line_is_straight():
    hole = Hole(
        "Bare (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"p": (10.0, 300.0)},
        (Area("green", box(0, 290, 20, 310)),),
    )
    assert line_of_play(hole, (0.0, 0.0)) == [(0.0, 0.0), (10.0, 300.0)]


def test_from_a_spot_past_the_elbow_the_line_does_not_go_back():
    line = line_of_play(elbow(), (60.0, 232.0))
    assert min(x for x, _ in line) == 60.0


def test_a_fairway_beyond_the_green_is_not_on_the_way():
    hole = elbow()
    other = Area("fairway", box(250, 100, 280, 400))
    more = Hole(hole.name, 4, hole.tees, hole.pins, (*hole.areas, other))
    assert max(x for x, _ in line_of_play(more, (0.0, 0.0))) == 165.0


def test_a_mirrored_hole_has_a_mirrored_line():
    right, left = line_of_play(elbow(), (0.0, 0.0)), line_of_play(elbow(turn=-1.0), (0.0, 0.0))
    assert np.array(left) * [-1, 1] == pytest.approx(np.array(right), abs=1e-6)
    hole, other = busy_hole(), mirrored_hole(busy_hole())
    one, two = (line_of_play(h, h.place().at) for h in (hole, other))
    assert np.array(two) * [-1, 1] == pytest.approx(np.array(one), abs=1e-6)


def test_a_hole_turned_a_quarter_has_a_turned_line():
    hole, turned = busy_hole(), turned_hole(busy_hole(), 90)
    one, two = (np.array(line_of_play(h, h.place().at)) for h in (hole, turned))
    assert np.column_stack([one[:, 1], -one[:, 0]]) == pytest.approx(two, abs=1e-6)


@settings(deadline=None)
@given(st.floats(1.0, 600.0))
def test_a_point_along_the_line_is_that_far_away_or_the_end(distance):
    line = [(3.0, 1.0), (3.0, 200.0), (120.0, 260.0), (130.0, 400.0)]
    at = point_along(line, distance)
    assert LineString(line).distance(GeoPoint(at)) < 1e-9
    far = math.dist(line[0], at)
    assert far == pytest.approx(min(distance, math.dist(line[0], line[-1])))


PINE, BARN, GATE = (
    Landmark("tall mast", (10.0, 400.0)),
    Landmark("barn", (-60.0, 380.0)),
    Landmark("gate", (1.0, 120.0)),
)


def marked(*landmarks: Landmark) -> Hole:
    hole = elbow()
    return Hole(hole.name, 4, hole.tees, hole.pins, hole.areas, landmarks=landmarks)


def test_the_offset_is_measured_at_the_landing():
    # Straight up the hole the pine, 10 yd right of the line at 400, leaves the line 5 yd to its left at 200.
    mark, aside = nearest_landmark(marked(PINE, BARN), (0.0, 0.0), 0.0, 200.0)
    assert mark is PINE
    assert aside == pytest.approx(-5.0, abs=0.01)
    assert nearest_landmark(marked(PINE), (0.0, 0.0), math.atan2(14.0, 400.0), 400.0)[1] == pytest.approx(4.0, abs=0.01)


def test_at_the_landmark_there_is_no_offset():
    at = nearest_landmark(marked(BARN), (0.0, 0.0), math.atan2(-60, 380), 180.0)
    assert at[1] == pytest.approx(0.0, abs=1e-9)


def test_landmarks_beyond_the_landing_are_preferred():
    assert nearest_landmark(marked(PINE, GATE), (0.0, 0.0), 0.0, 100.0)[0] is GATE
    assert nearest_landmark(marked(PINE, GATE), (0.0, 0.0), 0.0, 200.0)[0] is PINE
    assert nearest_landmark(marked(GATE), (0.0, 0.0), 0.0, 200.0)[0] is GATE


def test_nothing_ahead_marks_nothing():
    assert nearest_landmark(marked(), (0.0, 0.0), 0.0, 150.0) is None
    assert nearest_landmark(marked(PINE, BARN), (0.0, 0.0), math.pi, 150.0) is None
    assert nearest_landmark(marked(PINE), (10.0, 400.0), 0.0, 150.0) is None


@settings(deadline=None)
@given(st.floats(-math.pi, math.pi), st.floats(-0.5, 0.5), st.floats(50, 400), st.floats(50, 250))
def test_a_landmark_is_one_within_12_degrees_and_25_yards_at_the_landing(mark_bearing, turn, away, far):
    mark = Landmark("mark", (away * math.sin(mark_bearing), away * math.cos(mark_bearing)))
    found = nearest_landmark(marked(mark), (0.0, 0.0), mark_bearing + turn, far)
    aside = far * math.sin(turn)
    if abs(turn) > math.radians(12.001) or abs(aside) > 25.001:
        assert found is None
    elif abs(turn) < math.radians(11.999) and abs(aside) < 24.999:
        assert found[1] == pytest.approx(aside, abs=1e-6)  # positive where the line passes to its right


@pytest.mark.parametrize(
    ("bearing", "far", "wide", "words"),
    [
        (0.0, 200.0, 18.0, "at the mast"),  # 5 yd off, within a third of 18
        (0.0, 200.0, 12.0, "20 yd right of the flag"),  # no longer
        (0.0, 380.0, 150.0, "at the flag"),  # a stroke that gets there goes by the flag
        (0.4, 200.0, 12.0, "96 yd right of the flag"),  # no landmark near: never degrees
    ],
)
def test_a_target_is_told_as_a_player_can_use_it(bearing, far, wide, words):
    hole = marked(Landmark("mast", (10.0, 400.0)))
    assert target_words(hole, (0.0, 0.0), bearing, far, wide, (-40.0, 398.0)) == words


# ── a line that the hole's file draws ─────────────────────────────────────────────────────────────


def with_line(*line: tuple[float, float]) -> Hole:
    pin = line[-1]
    green = Area("green", GeoPoint(pin).buffer(12))
    elsewhere = Area("fairway", box(-80, 50, -50, 330))  # a neighbour's, which would draw the line aside
    return Hole("Drawn (invented)", 4, {"t": (0.0, 0.0)}, {"p": pin}, (green, elsewhere), line=line)


def test_a_drawn_line_is_the_line_of_play():
    hole = with_line((0.0, 0.0), (0.0, 200.0), (60.0, 340.0))
    assert line_of_play(hole, (0.0, 0.0)) == [(0.0, 0.0), (0.0, 200.0), (60.0, 340.0)]
    undrawn = replace(hole, line=())
    assert line_of_play(undrawn, (0.0, 0.0)) != line_of_play(hole, (0.0, 0.0))


def test_corners_of_a_drawn_line_that_are_passed_or_near_drop_out():
    hole = with_line((0.0, 0.0), (0.0, 200.0), (60.0, 340.0))
    assert line_of_play(hole, (5.0, 120.0)) == [(5.0, 120.0), (0.0, 200.0), (60.0, 340.0)]
    assert line_of_play(hole, (5.0, 195.0)) == [(5.0, 195.0), (60.0, 340.0)]
    assert line_of_play(hole, (20.0, 250.0)) == [(20.0, 250.0), (60.0, 340.0)]


def test_a_drawn_line_ends_at_whatever_pin_is_asked_for():
    hole = with_line((0.0, 0.0), (0.0, 200.0), (60.0, 340.0))
    assert line_of_play(hole, (0.0, 0.0), (50.0, 350.0))[-1] == (50.0, 350.0)
