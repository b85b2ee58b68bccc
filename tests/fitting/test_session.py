"""What of a session goes together, what is left out, and what no golfer hit."""

from __future__ import annotations

import random

import pytest

from simcaddie.fitting.session import Ball, by_swing, first_balls, misread, without_warm_up

IRON = Ball("7 iron", "full", 126.0, 3.0, 133.0, line=1)


def ball(order: float | None, club: str = "7 iron", session: int = 0, **keys: object) -> Ball:
    return Ball(club, keys.pop("swing", "full"), 120.0, 0.0, order=order, session=session, line=int(order or 0) + 1)


@pytest.mark.parametrize(
    ("carry", "side", "total", "where"),
    [
        (0.0, 0.0, None, "carry"), (999.0, 0.0, None, "carry"), (-12.0, 1.0, None, "carry"),
        (401.0, 0.0, None, "carry"),
        (180.0, 400.0, None, "side"), (180.0, -151.0, None, "side"), (20.0, 60.0, None, "side"),
        (120.0, 0.0, 100.0, "total"), (120.0, 0.0, 280.0, "total"),
    ],
)  # fmt: skip
def test_balls_that_no_golfer_hit_are_refused_and_shown(carry, side, total, where):
    (wrong,) = misread([IRON, Ball("7 iron", "full", carry, side, total, line=2)])
    assert (wrong.ball.line, wrong.where) == (2, where)
    assert wrong.expected
    assert wrong.found


@pytest.mark.parametrize(
    ("carry", "side", "total"),
    [(2.0, 0.0, None), (8.0, 14.0, 9.0), (400.0, 0.0, 430.0), (60.0, 100.0, None), (126.0, 0.0, 112.0)],
)
def test_bad_shots_are_not_misread(carry, side, total):
    assert misread([Ball("driver", "full", carry, side, total)]) == ()


def test_a_wedge_that_flew_like_a_driver_is_refused_once_there_are_enough_others():
    wedges = [Ball("sand wedge", "full", 70.0 + i, 0.0, line=i) for i in range(7)]
    far = Ball("sand wedge", "full", 230.0, 2.0, line=99)
    assert [wrong.ball for wrong in misread([*wedges, far])] == [far]
    assert misread([*wedges[:5], far]) == ()


def test_solid_balls_among_many_topped_ones_are_kept():
    balls = [Ball("3 wood", "full", carry, 0.0) for carry in (20, 25, 30, 40, 45, 60, 150, 160, 165, 170)]
    assert misread(balls) == ()


def test_groups_do_not_know_the_order_of_rows():
    balls = [Ball(club, "full", 100.0 + i, i % 3, line=0) for i in range(20) for club in ("7 iron", "driver")]
    shuffled = balls[:]
    random.Random(1).shuffle(shuffled)
    assert by_swing(balls) == by_swing(shuffled)
    assert [*by_swing(shuffled)] == [("7 iron", "full"), ("driver", "full")]


def test_first_balls_follow_a_change_of_club_or_begin_a_session():
    clubs = ["7 iron", "7 iron", "driver", "driver", "7 iron"]
    one = [ball(i, club) for i, club in enumerate(clubs)]
    two = [ball(i, "7 iron", session=1) for i in range(2)]
    unknown = ball(None, "driver")
    random.Random(2).shuffle(one)
    firsts = first_balls([unknown, *two, *one])
    assert sorted((b.session, b.order) for b in firsts) == [(0, 0), (0, 2), (0, 4), (1, 0)]


def test_another_swing_of_the_same_club_is_no_change_of_club():
    balls = [ball(0), ball(1, swing="half")]
    assert first_balls(balls) == {balls[0]}


def test_the_warm_up_goes_by_order_and_by_line_where_that_is_not_known():
    balls = [ball(order) for order in (3, 1, 2, 4)]
    assert [b.order for b in without_warm_up(balls, 2)] == [3, 4]
    rows = [Ball("7 iron", "full", 120.0, 0.0, line=line, session=s) for s in (0, 1) for line in (5, 4, 6)]
    assert [(b.session, b.line) for b in without_warm_up(rows, 1)] == [(0, 5), (0, 6), (1, 5), (1, 6)]
    assert len(without_warm_up(rows, 0)) == 6
