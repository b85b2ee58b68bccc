"""What is drawn is what is there: ellipses, textures, numbers, scale bar, north, bars."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from helpers import busy_hole, club_golfer
from matplotlib.collections import PathCollection
from scipy.stats import chi2

from simcaddie.base.surfaces import BY_NAME, SURFACES
from simcaddie.charts.ground_fill import paint_hole, paint_kind, points_in, view_box, yards_per_point
from simcaddie.charts.maps import ellipse, fit_view, in_view, view_from
from simcaddie.charts.marks import draw_north, draw_scale_bar, reach_and_carry
from simcaddie.charts.page import hole_figure, kinds_on
from simcaddie.charts.style import new_figure, styled
from simcaddie.charts.text import credit
from simcaddie.course.hole import Area, Hole
from simcaddie.features.compare.figure import OptionView, draw_scores
from simcaddie.player.pattern import course_pattern

SOLID = course_pattern(club_golfer(), club_golfer().swings[0], club_golfer().lies["tee"]).solid


@pytest.fixture(autouse=True)
def _style():
    with styled():
        yield


def axes(width=4.0, height=8.0):
    figure = new_figure(width, height)
    return figure.add_axes((0.0, 0.0, 1.0, 1.0))


def plain(*areas):
    return Hole(
        "Plain (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"middle": (0.0, 300.0)},
        (*areas, Area("green", shapely.box(-12, 288, 12, 312))),
    )


@pytest.mark.parametrize("share", [0.5, 0.9])
def test_an_ellipse_holds_its_share_of_drawn_balls(share):
    # outside check: chi-squared with two degrees of freedom, scipy.stats, and balls drawn by numpy
    r = SOLID.correlation
    assert r != 0.0
    outline = ellipse((3.0, 4.0), 0.3, SOLID, share, points=720)
    covariance = [
        [SOLID.carry_sd**2, r * SOLID.carry_sd * SOLID.side_sd],
        [r * SOLID.carry_sd * SOLID.side_sd, SOLID.side_sd**2],
    ]
    carry, side = np.random.default_rng(5).multivariate_normal([SOLID.carry, SOLID.side], covariance, 200_000).T
    x = 3.0 + carry * math.sin(0.3) + side * math.cos(0.3)
    y = 4.0 + carry * math.cos(0.3) - side * math.sin(0.3)
    inside = shapely.contains_xy(shapely.Polygon(outline), x, y).mean()
    assert inside == pytest.approx(share, abs=0.004)
    area = math.pi * chi2.ppf(share, 2) * SOLID.carry_sd * SOLID.side_sd * math.sqrt(1 - r * r)
    assert shapely.Polygon(outline).area == pytest.approx(area, rel=1e-3)


def test_side_is_positive_to_the_right():
    right = replace(SOLID, side=20.0)
    assert ellipse((0, 0), 0.0, right, 0.5).mean(axis=0) == pytest.approx([20.0, right.carry])
    assert ellipse((0, 0), math.pi / 2, right, 0.5).mean(axis=0) == pytest.approx([right.carry, -20.0])


def test_reach_and_carry_on_and_beside_the_line():
    belt = Area("heather", shapely.box(-60, 200, 60, 225))
    side = Area("bunker", shapely.Point(30, 160).buffer(6, quad_segs=64))
    behind = Area("bunker", shapely.Point(0, -30).buffer(6))
    hole, line = plain(belt, side, behind), [(0.0, 0.0), (0.0, 300.0)]
    assert reach_and_carry(hole, 0, line) == pytest.approx((200.0, 225.0))
    away = math.hypot(30, 160)
    assert reach_and_carry(hole, 1, line) == pytest.approx((away - 6, away + 6), abs=0.01)
    assert reach_and_carry(hole, 2, line) is None


def test_reach_and_carry_follow_the_bend():
    belt = Area("heather", shapely.box(50, 180, 80, 260))
    line = [(0.0, 0.0), (0.0, 200.0), (100.0, 200.0)]
    ray = math.hypot(65, 200)  # to the middle of where the line of play crosses; in at y = 180, out at x = 80
    assert reach_and_carry(plain(belt), 0, line) == pytest.approx((ray * 180 / 200, ray * 80 / 65))


@pytest.mark.parametrize("bounds", [(0, 0, 10, 400), (-50, 0, 50, 60), (0, 0, 1, 1)])
def test_the_view_has_one_scale_and_shows_all(bounds):
    ax = axes()
    fit_view(ax, bounds, foot=20.0)
    (x0, y0), (x1, y1) = ax.transData.transform([(0, 0), (1, 1)])
    assert x1 - x0 == pytest.approx(y1 - y0)
    scale = yards_per_point(ax)
    assert view_box(ax).buffer(-13.9 * scale, join_style="mitre").contains(shapely.box(*bounds))
    assert bounds[1] - ax.get_ylim()[0] >= 33.9 * scale


def test_the_view_takes_in_near_landmarks_only():
    hole = plain()
    near = replace(busy_hole().landmarks[0], at=(0.0, 350.0))
    far = replace(near, at=(0.0, 900.0))
    assert in_view(replace(hole, landmarks=(near, far)))[3] == 350.0


def test_a_late_stroke_is_shown_larger():
    hole = busy_hole()
    assert view_from(hole, hole.place().at) == in_view(hole)
    left, low, right, high = view_from(hole, (8.0, 290.0))
    assert low < 290.0 < hole.green.bounds[3] < high
    assert high - low < 130.0
    assert left < hole.green.bounds[0] < hole.green.bounds[2] < right


@pytest.mark.parametrize("sign", ["o", "+", "x", "."])
def test_texture_points_lie_inside_and_never_change(sign):
    shape = shapely.Point(0, 0).buffer(40).difference(shapely.Point(5, 5).buffer(12))
    points = points_in(shape, 4.0)
    assert shapely.contains_xy(shape, *points.T).all()
    assert len(points) == pytest.approx(shape.area / (4.0 * 4.0 * 0.87), rel=0.08)
    np.testing.assert_array_equal(points, points_in(shape, 4.0))
    assert points_in(shapely.Polygon(), 4.0).shape == (0, 2)


@pytest.mark.parametrize("surface", SURFACES, ids=lambda surface: surface.name)
def test_a_kind_with_a_hatch_has_a_texture(surface):
    ax = axes()
    fit_view(ax, (0, 0, 50, 50))
    paint_kind(ax, shapely.box(10, 10, 40, 40), surface, yards_per_point(ax))
    marks = sum(len(c.get_offsets()) if isinstance(c, PathCollection) else len(c.get_paths()) for c in ax.collections)
    assert (marks > 10) == bool(surface.drawing.hatch)


def test_painted_ground_covers_the_view_once():
    ax = axes()
    hole = busy_hole()
    fit_view(ax, in_view(hole))
    seen = paint_hole(ax, hole)
    view = view_box(ax)
    within = [shape.intersection(view).area for shape in seen.values()]
    assert sum(within) == pytest.approx(view.area)
    assert set(seen) == set(kinds_on(hole))


@pytest.mark.parametrize(("units", "yards"), [("yards", 1.0), ("metres", 1 / 0.9144)])
def test_the_scale_bar_is_as_long_as_it_says(units, yards):
    ax = axes()
    fit_view(ax, (0, 0, 100, 300))
    draw_scale_bar(ax, replace(plain(), units=units))
    told = float(ax.texts[-1].get_text().split()[0])
    assert sum(patch.get_width() for patch in ax.patches) == pytest.approx(told * yards)


@pytest.mark.parametrize(("bearing", "direction"), [(0, (0, 1)), (90, (-1, 0)), (180, (0, -1)), (270, (1, 0))])
def test_north_points_north(bearing, direction):
    # a hole that plays to the east (bearing 90) has north on its left
    ax = axes()
    fit_view(ax, (0, 0, 100, 300))
    draw_north(ax, replace(plain(), bearing=bearing))
    tip = ax.patches[0].get_xy()[0]
    north = np.array(ax.texts[0].get_position()) - tip
    np.testing.assert_allclose(north / np.linalg.norm(north), direction, atol=1e-9)


def test_no_arrow_where_nobody_said_how_the_hole_lies():
    ax = axes()
    fit_view(ax, (0, 0, 100, 300))
    draw_north(ax, replace(plain(), bearing=None))
    assert not ax.patches
    assert not ax.texts


def test_a_page_names_whose_drawing_it_shows_once():
    figure = new_figure(4.0, 7.0)
    credit(figure, ["© Invented mappers", "", "© Invented mappers", "A survey"])
    (text,) = figure.texts
    assert text.get_text() == "© Invented mappers; A survey"
    figure.canvas.draw()
    box = text.get_window_extent()
    assert box.x0 > 0.97 * figure.bbox.width
    assert box.x1 <= figure.bbox.width
    drawn = hole_figure(replace(plain(), source="© Invented mappers"))
    assert [text.get_text() for text in drawn.texts].count("© Invented mappers") == 1


def option(pmf, net_par=5):
    pattern = course_pattern(club_golfer(), club_golfer().swings[0], club_golfer().lies["tee"])
    return OptionView("driver", (0.0, 0.0), 0.0, pattern, pmf, net_par, sum(k * p for k, p in pmf.items()))


def test_bars_hold_the_whole_law_beside_each_other():
    pmf, other = {1: 0.01, 2: 0.02, 4: 0.3, 5: 0.4, 7: 0.17, 12: 0.1}, {5: 1.0}
    ax = axes()
    draw_scores(ax, [option(pmf), option(other)])
    heights = [patch.get_height() for patch in ax.patches if patch.get_width() == pytest.approx(0.88 * 0.42)]
    assert heights[:8] == pytest.approx([0.03, 0.3, 0.4, 0.0, 0.17, 0.0, 0.0, 0.1])
    assert heights[8:] == pytest.approx([0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0])
    assert {"3", "30", "40", "17", "10", "100"} <= {text.get_text() for text in ax.texts}
    assert [tick.get_text() for tick in ax.get_xticklabels()][2] == "net par\n5"


def test_kinds_on_lists_each_once_in_the_tables_order():
    kinds = kinds_on(busy_hole())
    assert kinds == [surface.name for surface in SURFACES if surface.name in kinds]
    assert {"rough", "green", "out_of_bounds"} <= set(kinds)
    assert BY_NAME["path"].name not in kinds
