"""A sequence that isn't in the hole at the cap is picked up, wherever the ball lies."""

from __future__ import annotations

import numpy as np
from helpers import box, club_golfer

from simcaddie.base.streams import kernel_key
from simcaddie.base.surfaces import code
from simcaddie.course.hole import Area, Hole
from simcaddie.model import arrays as r
from simcaddie.model.build import pack
from simcaddie.model.heuristics import everyday, guess_to_go
from simcaddie.simulate import first_strokes, play_sequences


def test_a_ball_on_the_green_at_the_cap_is_not_in_the_hole():
    golfer = club_golfer()
    hole = Hole(
        "Cap (invented)",
        3,
        {"t": (0.0, 0.0)},
        {"p": (0.0, 130.0)},
        (Area("fairway", box(-60, 20, 60, 180)), Area("green", box(-20, 110, 20, 150))),
    )
    problem = pack(hole, golfer, hole.place(), hole.pin())
    value, key = guess_to_go(problem), kernel_key(8)
    policy = everyday(problem, golfer, "sound", (0.0, 130.0))
    number = [swing.title for swing in golfer.swings].index("7 iron")
    first = first_strokes(problem, value, (0.0, 0.0, code("tee")), number, 0.0, key, 4000)
    on_green = (first.surface == code("green")) & (first.event != r.Event.HOLED)
    assert on_green.mean() > 0.3
    one = play_sequences(problem, policy, value, first, key, cap=1)
    assert one.picked_up[on_green].all()
    assert (one.score == 1).all()
    # With room to putt the same balls are holed, and a score of exactly the cap may be a ball in the hole.
    many = play_sequences(problem, policy, value, first, key, cap=12)
    assert not many.picked_up[on_green].any()
    two = play_sequences(problem, policy, value, first, key, cap=3)
    assert np.array_equal(two.picked_up[on_green], many.score[on_green] > 3)
