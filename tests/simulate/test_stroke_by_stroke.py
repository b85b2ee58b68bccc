"""Playing balls on stroke by stroke plays the same sequences as playing them out."""

from __future__ import annotations

import numpy as np
import pytest
from helpers import busy_hole, club_golfer

from simcaddie.base.streams import kernel_key
from simcaddie.base.surfaces import SURFACES, code
from simcaddie.course.grid import area_grid
from simcaddie.model.arrays import Event
from simcaddie.model.build import pack
from simcaddie.model.heuristics import everyday, guess_to_go
from simcaddie.model.left import strokes_left
from simcaddie.simulate import first_strokes, next_strokes, play_sequences

KEY = kernel_key(4)
PUTTING = np.array([kind.putting for kind in SURFACES])


@pytest.fixture(scope="module")
def played():
    hole, player = busy_hole(), club_golfer()
    problem = pack(hole, player, hole.place(), hole.pin(), grid=area_grid(hole))
    policy, value = everyday(problem, player, "sound", (18.0, 360.0)), guess_to_go(problem)
    first = first_strokes(problem, value, (0.5, 0.5, code("tee")), 0, 0.05, KEY, 2_000)
    return problem, policy, value, first


def followed(played, strokes):
    problem, policy, value, rest = played
    balls = [rest]
    for stroke in range(1, strokes):
        rest = next_strokes(problem, policy, value, rest, KEY, stroke)
        balls.append(rest)
    return balls


def test_penalties_and_scores_are_those_of_whole_sequences(played):
    problem, policy, value, first = played
    outcome = play_sequences(problem, policy, value, first, KEY, 30)
    balls = followed(played, 30)
    added = np.sum([rest.added for rest in balls], axis=0)
    np.testing.assert_array_equal(np.sum([np.maximum(rest.added - 1, 0) for rest in balls], axis=0), outcome.penalties)
    assert outcome.penalties.any()
    putts = outcome.score - added
    np.testing.assert_array_equal(putts, outcome.parts[:, 3])
    holed = balls[-1].event == Event.HOLED
    assert (putts[holed] == 0).all()
    assert ((putts[~holed] >= 1) & (putts[~holed] <= 5)).all()


def test_balls_on_the_green_stay_there(played):
    problem, policy, value, _ = played
    rest = followed(played, 3)[-1]
    done = PUTTING[rest.surface] | (rest.event == Event.HOLED)
    new = next_strokes(problem, policy, value, rest, KEY, 3)
    assert done.any()
    assert (~done).any()
    assert (new.added[done] == 0).all()
    assert (new.added[~done] > 0).all()
    np.testing.assert_array_equal(new.x[done], rest.x[done])


def test_strokes_left_are_the_states_own_off_the_green(played):
    problem, _, value, first = played
    left = strokes_left(problem, value.to_go, first)
    here = problem.states.of_cell[
        first.surface,
        ((first.y - problem.states.y0) / problem.states.cell).astype(int),
        ((first.x - problem.states.x0) / problem.states.cell).astype(int),
    ]
    off = ~PUTTING[first.surface]
    assert off.any()
    np.testing.assert_array_equal(left[off], value.to_go[here[off]])


def test_strokes_left_on_the_green_are_the_mean_of_the_putts_that_sequences_take(played):
    problem, policy, value, _ = played
    rest = followed(played, 6)[-1]
    on = np.flatnonzero(PUTTING[rest.surface] & (rest.event != Event.HOLED))
    many = type(rest)(*(column[np.repeat(on, 40)] for column in rest))
    many.added[:] = 0
    score = play_sequences(problem, policy, value, many, KEY, 12).score
    error = score.std() / np.sqrt(score.size)
    assert score.mean() == pytest.approx(strokes_left(problem, value.to_go, many).mean(), abs=4 * error)


def test_a_ball_in_the_hole_needs_no_more(played):
    problem, policy, value, first = played
    down = first._replace(event=np.full_like(first.event, Event.HOLED))
    assert (strokes_left(problem, value.to_go, down) == 0.0).all()
    outcome = play_sequences(problem, policy, value, down, KEY, 12)
    np.testing.assert_array_equal(outcome.score, first.added)
    assert not outcome.picked_up.any()
