"""From coarse cells to those inside: what was hopeless isn't tried again, and lines that are alike are tried as one."""

from __future__ import annotations

import numpy as np
import pytest
from solving import Question, short_question

from simcaddie.model import arrays as r
from simcaddie.solve.actions import ALIKE, FAN, HOPELESS, Choice, Tried, all_actions, handed_on, in_play, parents


@pytest.fixture(scope="module")
def question() -> Question:
    return short_question()


@pytest.fixture(scope="module")
def coarse(question) -> r.Problem:
    return question.on_cells(8.0).problem


def test_only_what_was_far_behind_in_the_coarse_cell_is_left_out(question, coarse):
    fine = question.problem
    tried = all_actions(coarse, np.arange(coarse.states.lie.size))
    actions = all_actions(fine, np.arange(fine.states.lie.size))
    straight = np.abs(tried.bearing) < 1e-9
    behind = np.where(straight, 0.5 * HOPELESS, 2.0 * HOPELESS)
    kept = in_play(coarse, Tried(tried, behind), fine, actions)
    above = parents(coarse, fine)
    known = {(s, w, round(b, 6)) for s, w, b in zip(*(column.tolist() for column in tried), strict=True)}
    wanted = [
        (s, w, b)
        for s, w, b in zip(*(column.tolist() for column in actions), strict=True)
        if abs(b) < 1e-9 or (int(above[s]), w, round(b, 6)) not in known
    ]
    assert list(zip(*(column.tolist() for column in kept), strict=True)) == wanted
    assert 0 < kept.state.size < actions.state.size
    assert any(abs(b) > 0.1 for _, _, b in wanted)  # some are tried in the finer cell alone


def test_lines_that_are_alike_are_handed_on_as_their_mean(question, coarse):
    states = coarse.states.lie.size
    turn = np.where(np.arange(states) % 2, 0.2 * ALIKE, -0.2 * ALIKE)
    choice = Choice(np.zeros(states, np.int16), FAN[4] + turn, np.full(states, 4.0))
    which = np.arange(question.problem.states.lie.size)
    first, actions = handed_on(coarse, choice, question.problem, which)
    assert np.array_equal(first.bearing, choice.bearing[parents(coarse, question.problem)])
    assert np.array_equal(actions.state, which)  # one swing and lines alike: one action a state
    assert (np.abs(actions.bearing - FAN[4]) <= 0.2 * ALIKE + 1e-12).all()
    assert (np.abs(actions.bearing - FAN[4]) < 0.1 * ALIKE).any()


def test_lines_apart_and_other_swings_stay_apart(question, coarse):
    states = coarse.states.lie.size
    odd = np.arange(states) % 2
    choice = Choice(odd.astype(np.int16), np.where(odd, FAN[2], FAN[5]), np.full(states, 4.0))
    _, actions = handed_on(coarse, choice, question.problem, np.arange(question.problem.states.lie.size))
    assert set(zip(actions.swing.tolist(), np.round(actions.bearing, 9).tolist(), strict=True)) == {
        (0, round(FAN[5], 9)), (1, round(FAN[2], 9)),
    }  # fmt: skip
    assert np.bincount(actions.state).max() == 2
