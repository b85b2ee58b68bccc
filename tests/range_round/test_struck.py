"""A ball hit on the range flies on the hole as the kernel's own balls do."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from helpers import busy_hole, club_golfer, lawn

from simcaddie.base.surfaces import code
from simcaddie.course.hole import Spot
from simcaddie.decision.ledger import Reckoner, stroke_values
from simcaddie.decision.options import Option
from simcaddie.decision.position import set_position
from simcaddie.decision.struck import KINDS, Struck, likeliest, play_struck, touch_carry
from simcaddie.model import arrays as r
from simcaddie.weather.day import Day

AVERAGE = np.array([0.0, 0.0, 0.0, 1 - 1e-9, 0.5, 1 - 1e-9, 0.0])


@cache
def lawn_reckoner(day: Day | None = None) -> Reckoner:
    return Reckoner(set_position(lawn()[0], club_golfer(), day=day))


@cache
def busy() -> Reckoner:
    return Reckoner(set_position(busy_hole(), club_golfer()))


def test_a_ball_lands_where_it_was_typed_on_a_calm_lawn():
    reckoner = lawn_reckoner()
    for carry, side in ((190.0, 0.0), (172.0, -9.0), (120.0, 14.0)):
        played = play_struck(reckoner, reckoner.start, Option(0, 0.0), Struck(carry, side), AVERAGE)
        assert played.rest.landing_y[0] == pytest.approx(carry, abs=1e-6)
        assert played.rest.landing_x[0] == pytest.approx(side, abs=1e-6)
        assert played.rest.y[0] > carry
        assert played.kind == "solid"


def test_along_another_line_the_side_is_to_its_right():
    reckoner, turn = lawn_reckoner(), math.radians(20.0)
    rest = play_struck(reckoner, reckoner.start, Option(0, 20.0), Struck(150.0, 10.0), AVERAGE).rest
    assert rest.landing_x[0] == pytest.approx(150 * math.sin(turn) + 10 * math.cos(turn), abs=1e-6)
    assert rest.landing_y[0] == pytest.approx(150 * math.cos(turn) - 10 * math.sin(turn), abs=1e-6)


def test_the_wind_of_the_day_takes_it():
    into = lawn_reckoner(Day(wind=7.0, wind_from=0.0, relative=True))
    calm = play_struck(lawn_reckoner(), (0.0, 0.0, code("tee")), Option(0, 0.0), Struck(180.0, 0.0), AVERAGE)
    windy = play_struck(into, into.start, Option(0, 0.0), Struck(180.0, 0.0), AVERAGE)
    assert windy.rest.landing_y[0] < calm.rest.landing_y[0] - 8.0


def test_the_lie_shortens_and_widens_it():
    """In the rough a ball of the range is off the mean by as many spreads, of a wider pattern."""
    reckoner, place = lawn_reckoner(), (0.0, 100.0, code("rough"))
    rows = reckoner.ahead.problem.swings.rows
    tee, rough = (rows[code(lie), 4, r.SW_SOLID :] for lie in ("tee", "rough"))
    luck = AVERAGE.copy()
    for spreads in (-1.0, 0.0, 2.0):
        ball = Struck(tee[r.STRIKE_CARRY] + spreads * tee[r.STRIKE_CARRY_SD], tee[r.STRIKE_SIDE])
        at = play_struck(reckoner, place, Option(4, 0.0), ball, luck).rest.landing_y[0] - 100.0
        assert at == pytest.approx(rough[r.STRIKE_CARRY] + spreads * rough[r.STRIKE_CARRY_SD], abs=1e-6)


def test_what_was_told_of_the_strike_holds_and_else_the_likeliest_is_taken():
    reckoner = lawn_reckoner()
    carry = club_golfer().swings[4].carry
    assert likeliest(reckoner, 4, carry, 2.0) == "solid"
    assert likeliest(reckoner, 4, 0.5 * carry, 2.0) == "fat"
    fat, thin, solid = (
        play_struck(reckoner, reckoner.start, Option(4, 0.0), Struck(100.0, 0.0, kind), AVERAGE).rest for kind in KINDS
    )
    runs = [float(rest.y[0] - rest.landing_y[0]) for rest in (fat, solid, thin)]
    assert runs == sorted(runs)
    assert thin.landing_y[0] == pytest.approx(100.0, abs=1e-6)


def test_a_touch_shot_lands_at_its_carry_and_the_one_that_is_meant_goes_to_the_pin():
    reckoner, place = busy(), (18.3, 335.0, code("fairway"))
    touch = Option(len(club_golfer().swings), 0.0)
    meant = touch_carry(reckoner, place, touch)
    played = play_struck(reckoner, place, touch, Struck(meant, 0.0), AVERAGE)
    assert math.hypot(played.rest.x[0] - 18.3, played.rest.y[0] - 361.2) < 2.5
    longer = play_struck(reckoner, place, touch, Struck(meant + 5.0, 1.5), AVERAGE)
    assert longer.rest.landing_y[0] - played.rest.landing_y[0] == pytest.approx(5.0, abs=0.05)
    assert longer.rest.landing_x[0] - played.rest.landing_x[0] == pytest.approx(1.5, abs=0.05)


@pytest.mark.parametrize(("lie", "swing"), [("fairway", 4), ("rough", 4), ("bunker", 7)])
def test_balls_of_the_players_own_pattern_score_as_whole_strokes_do(lie, swing):
    """Typed balls that are drawn as the pattern on a tee is come to Q, lies that make more mishits included."""
    reckoner, place, rng = busy(), (5.0, 200.0, code(lie)), np.random.default_rng(4)
    problem = reckoner.ahead.problem
    tee = problem.swings.rows[code("tee"), swing]
    option, worth, values = Option(swing, 0.0), [], []
    for _ in range(600):
        u, x, y = rng.random(), *rng.standard_normal(2)
        kind = int(np.searchsorted(tee[[r.SW_FAT, r.SW_THIN]], u, side="right"))
        row = tee[r.SW_STRIKE + kind * r.STRIKE_COLUMNS :]
        carry = row[r.STRIKE_CARRY] + row[r.STRIKE_CARRY_SD] * x
        side = row[r.STRIKE_SIDE] + row[r.STRIKE_SIDE_ON_CARRY] * x + row[r.STRIKE_SIDE_SD] * y
        luck = np.concatenate([rng.standard_normal(3), rng.random(3), rng.standard_normal(1)])
        played = play_struck(reckoner, place, option, Struck(carry, side, KINDS[kind]), luck)
        after = None if played.rest.event[0] == r.Event.HOLED else played.rest
        left = 0.0 if after is None else float(_left(reckoner, after))
        worth.append(played.rest.added[0] + left)
        values.append(played.value)
    q = stroke_values(reckoner.ahead, reckoner.rows(place, swing, reckoner.at(place).pin_line))[0]
    for found in (np.array(worth), np.array(values)):
        assert abs(found.mean() - q) < 3.5 * found.std() / math.sqrt(found.size)


def _left(reckoner: Reckoner, rest: r.Rest) -> float:
    from simcaddie.model.left import strokes_left

    return strokes_left(reckoner.ahead.problem, reckoner.ahead.mean_to_go, rest)[0]


def test_a_place_of_the_scene_keeps_its_name():
    assert busy().at((1.0, 2.0, code("rough"))).place == Spot((1.0, 2.0), "rough")
