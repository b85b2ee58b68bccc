"""Where a ball finished in a golfer's words, and what that tells."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from helpers import busy_hole, club_golfer

from simcaddie.base.surfaces import NAMES, code
from simcaddie.course.played import Finish
from simcaddie.decision.finishes import finish_of, fitting, own_balls, seen
from simcaddie.decision.ledger import Reckoner
from simcaddie.decision.options import Option
from simcaddie.decision.position import set_position
from simcaddie.decision.targets import aim_at

HOLE = busy_hole()
DRIVE = Option(0, 0.0)


@cache
def reckoner() -> Reckoner:
    return Reckoner(set_position(HOLE, club_golfer()))


@pytest.mark.parametrize(
    ("words", "finish"),
    [
        ("fairway 152", Finish("fairway", to_pin=152.0)),
        ("Right rough 140 yd", Finish("rough", "right", to_pin=140.0)),
        ("rough on the right", Finish("rough", "right")),
        ("bunker", Finish("bunker")),
        ("sand 20", Finish("bunker", to_pin=20.0)),
        ("front bunker", Finish("bunker", area="front bunker")),
        ("right bunker", Finish("bunker", "right")),
        ("green 24 ft", Finish("green", to_pin=8.0)),
        ("green 24", Finish("green", to_pin=8.0)),
        ("green 8 yd", Finish("green", to_pin=8.0)),
        ("semi rough 100 to go", Finish("light_rough", to_pin=100.0)),
        ("fairway 100 m", Finish("fairway", to_pin=100 / 0.9144)),
        ("holed", Finish("holed")),
        ("in the hole", Finish("holed")),
        ("water left", Finish("water", "left")),
        ("pond", Finish("water")),
        ("lost", Finish("lost")),
        ("out of bounds", Finish("out_of_bounds")),
        ("ob", Finish("out_of_bounds")),
        ("unplayable", Finish("unplayable")),
        ("(12, 180.5)", Finish(at=(12.0, 180.5))),
        ("at -3 200", Finish(at=(-3.0, 200.0))),
    ],
)
def test_words_are_read(words, finish):
    found = finish_of(words, HOLE, "yards")
    assert (found.kind, found.side, found.area) == (finish.kind, finish.side, finish.area)
    assert found.to_pin == (None if finish.to_pin is None else pytest.approx(finish.to_pin))
    assert found.at == finish.at


@pytest.mark.parametrize("words", ["fareway 150", "somewhere", "fairway 12 furlongs", "12"])
def test_words_that_mean_nothing_are_refused_with_what_was_expected(words):
    with pytest.raises(ValueError, match=r"a place such as 'fairway 152'"):
        finish_of(words, HOLE, "yards")


def test_a_near_word_is_offered():
    with pytest.raises(ValueError, match="did you mean 'fairway'"):
        finish_of("fareway 150", HOLE, "yards")


def test_metres_of_a_course_in_metres():
    assert finish_of("fairway 100", HOLE, "metres").to_pin == pytest.approx(100 / 0.9144)


def test_the_balls_that_fit_are_those_that_finish_so():
    balls = own_balls(reckoner(), reckoner().start, DRIVE)
    rest, pin = balls.rest, reckoner().position.pins[0]
    fits = fitting(reckoner(), finish_of("right light rough 180", HOLE, "yards"), rest)
    assert fits.sum() > 10
    assert set(np.array(NAMES)[rest.surface[fits]]) == {"light_rough"}
    away = np.hypot(rest.x[fits] - pin[0], rest.y[fits] - pin[1])
    assert np.abs(away - 180.0).max() <= 7.2 + 1e-9


@pytest.mark.parametrize("words", ["fairway 180", "left light rough 190", "right rough 175", "green 30 ft"])
def test_the_next_stroke_is_played_from_ground_that_the_words_fit(words):
    spot = (8.2, 230.7, code("fairway")) if "green" in words else reckoner().start
    option = Option(4, 0.0) if "green" in words else DRIVE
    finish = finish_of(words, HOLE, "yards")
    found = seen(reckoner(), spot, option, finish)
    assert NAMES[found.after[2]] == finish.kind
    assert math.dist(found.after[:2], reckoner().position.pins[0]) == pytest.approx(finish.to_pin, abs=1.0)
    assert (found.added, found.balls > 5) == (1, True)


def test_coordinates_are_taken_as_they_are():
    found = seen(reckoner(), reckoner().start, DRIVE, Finish(at=(3.0, 200.0)))
    assert found.after == (3.0, 200.0, code("fairway"))


def test_ground_that_the_players_balls_never_reach_is_looked_for_on_the_hole():
    found = seen(reckoner(), reckoner().start, DRIVE, finish_of("fairway 50", HOLE, "yards"))
    assert found.balls == 0
    assert NAMES[found.after[2]] == "fairway"
    assert math.dist(found.after[:2], reckoner().position.pins[0]) == pytest.approx(50.0, abs=5.5)


@pytest.mark.parametrize("words", ["heather 20", "path 100", "at 20 330"])
def test_ground_that_the_hole_hasnt_got_is_refused(words):
    finish = Finish(at=(45.0, 320.0)) if words.startswith("at") else finish_of(words, HOLE, "yards")
    with pytest.raises(ValueError, match="ground that Busy"):
        seen(reckoner(), reckoner().start, DRIVE, finish)


def test_water_costs_a_stroke_and_is_played_from_relief_or_from_where_it_was_dropped():
    wide = Option(0, -12.0)
    water, fairway = (finish_of(words, HOLE, "yards") for words in ("water", "fairway 200"))
    found = seen(reckoner(), reckoner().start, wide, water)
    assert found.added == 2
    assert NAMES[found.after[2]] not in ("water", "out_of_bounds")
    assert found.landed is not None
    drop = seen(reckoner(), reckoner().start, wide, water, fairway)
    assert NAMES[drop.after[2]] == "fairway"
    with pytest.raises(ValueError, match="column `drop`"):
        seen(reckoner(), (18.3, 335.0, code("fairway")), Option(11, 0.0), finish_of("left water", HOLE, "yards"))


def test_a_lost_ball_is_played_again_from_where_it_was():
    found = seen(reckoner(), reckoner().start, DRIVE, finish_of("lost right", HOLE, "yards"))
    assert (found.after, found.added) == (reckoner().start, 2)
    again = seen(reckoner(), (8.2, 230.7, code("fairway")), Option(8, 0.0), finish_of("lost", HOLE, "yards"))
    assert (again.after, again.added, again.balls) == ((8.2, 230.7, code("fairway")), 2, 0)


def test_a_good_finish_tells_of_a_good_strike():
    values = [
        seen(reckoner(), reckoner().start, DRIVE, finish_of(words, HOLE, "yards")).strike
        for words in ("fairway 165", "right rough 185", "out of bounds")
    ]
    assert values == sorted(values)


def test_targets_in_words():
    position = reckoner().position
    assert aim_at(position, "pin", 190.0) == pytest.approx(0.0)
    pin_line = math.degrees(position.pin_line)
    pylon = math.degrees(math.atan2(30.0 - 0.5, 430.0 - 0.5)) - pin_line
    assert aim_at(position, "pylon", 190.0) == pytest.approx(pylon)
    assert aim_at(position, "10 yd left of the pylon", 190.0) == pytest.approx(
        pylon - math.degrees(math.asin(10.0 / math.hypot(29.5, 429.5)))
    )
    assert aim_at(position, "3° right", 190.0) == pytest.approx(3.0)
    assert aim_at(position, "12 left", 190.0) == pytest.approx(-math.degrees(math.asin(12.0 / 190.0)))
    assert aim_at(position, "", 190.0) == aim_at(position, "middle", 190.0)
    with pytest.raises(ValueError, match="did you mean 'pylon'"):
        aim_at(position, "pilon", 190.0)
    with pytest.raises(ValueError, match="yards, metres or degrees"):
        aim_at(position, "3 miles left", 190.0)
