"""Every sheet of every demo hole: no text on another, none cut off, no label left out."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from helpers import busy_hole

from simcaddie.base.units import angle_between
from simcaddie.charts.labels import clipped, overlaps, shown_texts
from simcaddie.charts.maps import draw_hole, draw_pattern
from simcaddie.charts.page import CAUTIONS, PatternView, hole_figure
from simcaddie.charts.style import new_figure, styled
from simcaddie.course.route import line_of_play, point_along
from simcaddie.features.compare.figure import OptionView, compare_figure
from simcaddie.io.course import read_course
from simcaddie.io.find import demo_files, find_course
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player
from simcaddie.player.pattern import course_pattern

HOLES = demo_files("holes")
PLAYERS = demo_files("players")
BUSY = ("signal-halt", "weir-lawn")  # most to be named; the other holes in the slow form
SOME = [pytest.param(name, marks=() if name in BUSY else pytest.mark.slow) for name in HOLES]
LAW = {3: 0.03, 4: 0.14, 5: 0.33, 6: 0.26, 7: 0.13, 8: 0.06, 9: 0.03, 10: 0.01, 12: 0.01}


def patterns(hole, player, clubs, tee=None):
    """Return patterns of a player's clubs from a tee, each aimed along the line of play."""
    place = hole.place(tee).at
    line = line_of_play(hole, place)
    views = []
    for swing in player.swings:
        if swing.title in clubs:
            aim = angle_between(place, point_along(line, swing.carry))
            views.append(PatternView(swing.title, place, aim, course_pattern(player, swing, player.lies["tee"])))
    return views


def options(views):
    mean = sum(strokes * share for strokes, share in LAW.items())
    return [
        OptionView(
            f"{view.title}, 11 yd left of the mill",
            view.place,
            view.bearing,
            view.pattern,
            LAW,
            5,
            mean,
            "close",
        )
        for view in views
    ]


def texts(figure):
    return [text.get_text() for text, _ in shown_texts(figure)]


def test_there_are_demo_holes():
    assert {"curlew-inlet", "long-acre", "millpond", "kettle-drain", "signal-halt", "weir-lawn"} <= set(HOLES)


@pytest.mark.parametrize("name", SOME)
def test_a_map_leaves_out_no_label(name):
    leaves_out_none(read_hole(HOLES[name]))


@pytest.mark.slow
def test_maps_of_the_demo_course_leave_out_no_label():
    for hole in read_course(find_course("tansywick-heath")).holes:
        leaves_out_none(hole)
        figure = hole_figure(hole, place=hole.place().at)
        assert overlaps(figure) == []
        assert clipped(figure) == []


def leaves_out_none(hole):
    with styled():
        figure = new_figure(5.4, 10.4)
        labels = draw_hole(figure.add_axes((0.02, 0.01, 0.96, 0.98)), hole)
        dropped = labels.place()
    assert [label.text for label in dropped] == []
    written = " ".join(texts(figure))
    for area in hole.areas:
        assert area.name in written
    for landmark in hole.landmarks:
        assert landmark.name in written


def pairs():
    """Return each hole with the longest-named player, another on one hole; all other pairs in the slow form."""
    longest = max(PLAYERS, key=lambda player: len(read_player(PLAYERS[player]).name))
    fast = {*((hole, longest) for hole in BUSY), ("millpond", "wren")}
    every = [(hole, player) for hole in HOLES for player in PLAYERS]
    return [pytest.param(*pair, marks=() if pair in fast else pytest.mark.slow) for pair in every]


@pytest.mark.parametrize(("name", "player"), pairs())
def test_texts_of_a_sheet_stand_free(name, player):
    hole, golfer = read_hole(HOLES[name]), read_player(PLAYERS[player])
    woods = [swing.title for swing in golfer.swings[:2]]
    for tee in hole.tees:
        figure = hole_figure(
            hole, place=hole.place(tee).at, patterns=patterns(hole, golfer, woods, tee), note=golfer.name
        )
        assert overlaps(figure) == []
        assert clipped(figure) == []


def counts():
    """Return each hole with one to three options; most of them in the slow form."""
    fast = {*((hole, 3) for hole in BUSY), ("millpond", 1)}
    every = [(hole, many) for hole in HOLES for many in (1, 2, 3)]
    return [pytest.param(*pair, marks=() if pair in fast else pytest.mark.slow) for pair in every]


@pytest.mark.parametrize(("name", "many"), counts())
def test_texts_of_a_comparison_stand_free(name, many):
    hole, golfer = read_hole(HOLES[name]), read_player(PLAYERS["wren"])
    views = options(patterns(hole, golfer, ("driver", "5 wood", "7 iron")))
    figure = compare_figure(hole, views[:many], note=golfer.name)
    assert overlaps(figure) == []
    assert clipped(figure) == []


def test_a_pitch_with_a_touch_shot():
    hole, golfer = read_hole(HOLES["weir-lawn"]), read_player(PLAYERS["wren"])
    spot = hole.place(spot="hillside")
    aim = angle_between(spot.at, hole.pin())
    views = [
        replace(option, place=spot.at, bearing=aim)
        for option in options(patterns(hole, golfer, ("sand wedge", "half 9 iron")))
    ]
    views.append(replace(views[0], title="touch shot, at the pin", pattern=None))
    figure = compare_figure(hole, views)
    assert overlaps(figure) == []
    assert clipped(figure) == []
    assert "touch shot" in texts(figure)
    assert "the spot" in " ".join(texts(hole_figure(hole, place=spot.at)))


@pytest.mark.parametrize("units", ["yards", "metres"])
def test_a_hole_with_everything(units):
    hole = replace(busy_hole(), units=units)
    figure = hole_figure(hole)
    assert overlaps(figure) == []
    assert clipped(figure) == []
    written = texts(figure)
    assert f"50 {'yd' if units == 'yards' else 'm'}" in " ".join(written)
    middle = math.dist(hole.place().at, hole.pin()) * (1.0 if units == "yards" else 0.9144)
    assert f"middle {middle:.0f}" in " ".join(written)


def test_sheets_carry_the_cautions():
    hole, golfer = read_hole(HOLES["millpond"]), read_player(PLAYERS["wren"])
    views = patterns(hole, golfer, ("5 wood",))
    for figure in (hole_figure(hole), compare_figure(hole, options(views))):
        assert CAUTIONS in texts(figure)
    for word in (
        "Rule 4.3",
        "reach of your longest likely shot",
        "shout",
        "lightning",
        "Committee",
        "coaches",
    ):
        assert word in CAUTIONS


def test_a_comparison_shows_three_options_and_no_more():
    hole, golfer = read_hole(HOLES["long-acre"]), read_player(PLAYERS["wren"])
    views = options(patterns(hole, golfer, ("driver", "3 wood", "5 wood", "7 wood")))
    assert len(views) == 4
    written = " ".join(texts(compare_figure(hole, views)))
    assert views[2].title in written
    assert views[3].title not in written


def test_a_pattern_is_named_outside_its_middle():
    hole, golfer = read_hole(HOLES["long-acre"]), read_player(PLAYERS["wren"])
    (view,) = patterns(hole, golfer, ("driver",))
    with styled():
        figure = new_figure(5.4, 10.4)
        ax = figure.add_axes((0.02, 0.01, 0.96, 0.98))
        labels = draw_hole(ax, hole)
        draw_pattern(ax, view.place, view.bearing, view.pattern, title="driver", labels=labels)
        labels.place()
    (name,) = [text for text in ax.texts if text.get_text() == "driver"]
    solid = view.pattern.solid
    middle = shapely.Point(0.0, solid.carry)
    assert shapely.Point(name.get_position()).distance(middle) > solid.side_sd
