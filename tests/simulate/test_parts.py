"""Strokes by part add up to the very scores that sequences have, and are counted under the right part."""

from __future__ import annotations

import math

import numpy as np
import pytest
from helpers import busy_hole, club_golfer

from simcaddie.base.streams import kernel_key
from simcaddie.decision.position import set_position
from simcaddie.simulate import APPROACH, BY_SWING, PARTS, PENALTIES, PUTTING, TEE, TOUCH, play_sequences

N = 20_000
KEY = kernel_key(7)


@pytest.fixture(scope="module")
def position():
    return set_position(busy_hole(), club_golfer(), then="sound")


def played(position, aim=0.0, n=N, policy=None, **keys):
    solution = position.solutions[0]
    (first,) = position.first(0, position.pin_line + math.radians(aim), KEY, n)
    return play_sequences(solution.problem, policy or position.policies[0], solution.value, first, KEY, **keys)


@pytest.mark.parametrize("cap", [12, 6, 5])
def test_parts_add_up_to_the_score_of_the_same_sequence(position, cap):
    outcome, whole = played(position, 3.0, cap=cap), played(position, 3.0, cap=60)
    assert outcome.parts.shape == (N, len(PARTS))
    assert (outcome.parts.sum(axis=1) == outcome.score).all()
    assert outcome.picked_up.any()
    assert outcome.parts.min() == 0
    assert (outcome.parts.max(axis=0) > 0).all()
    # where the ball is picked up at the cap strokes beyond it are left out, and nothing else changes
    assert (outcome.score == np.minimum(whole.score, cap)).all()
    assert (outcome.picked_up == (whole.score > cap)).all()
    under = outcome.score < cap
    assert (outcome.parts[under] == whole.parts[under]).all()
    assert outcome.penalties[under].any()
    assert (outcome.parts <= whole.parts).all()


def test_the_first_stroke_counts_where_it_is_told(position):
    tee, other = (played(position, part=part).parts for part in (TEE, APPROACH))
    assert (tee[:, TEE] == 1).all()
    assert (other[:, TEE] == 0).all()
    assert (other[:, APPROACH] == tee[:, APPROACH] + 1).all()
    rest = [PARTS.index(part) for part in ("touch", "putting", "penalties")]
    assert (tee[:, rest] == other[:, rest]).all()


def test_touch_and_putts_are_what_the_policy_says(position):
    """A policy that never plays a touch shot has none; one that always does has no other after the tee."""
    policy, swings = position.policies[0], position.solutions[0].problem.swings.rows.shape[1]
    for swing, none in ((0, TOUCH), (swings, APPROACH)):
        only = policy._replace(swing=np.full_like(policy.swing, swing))
        outcome = played(position, n=2_000, policy=only)
        assert not outcome.parts[:, none].any()
        down = ~outcome.picked_up
        on_green = outcome.parts[down, PUTTING]
        assert (on_green >= 0).all()
        assert on_green.any()


def test_strokes_by_swing_are_all_strokes_but_putts_and_penalties(position):
    plain, told = played(position), played(position, swing=0)
    swings = position.solutions[0].problem.swings.rows.shape[1]
    assert told.parts.shape == (N, BY_SWING + swings + 1)
    assert (told.parts[:, :BY_SWING] == plain.parts).all()
    by_swing = told.parts[:, BY_SWING:]
    assert (by_swing.sum(axis=1) == plain.parts[:, [TEE, APPROACH, TOUCH]].sum(axis=1)).all()
    assert (by_swing[:, -1] == plain.parts[:, TOUCH]).all()
    assert (by_swing[:, 0] >= 1).all()  # the first stroke was the driver
    assert (by_swing.any(axis=0)).sum() > 4


def test_strokes_count_for_the_swing_that_made_them(position):
    """With a policy that plays one swing for ever all strokes after the first are that swing's."""
    policy = position.policies[0]
    only = policy._replace(swing=np.full_like(policy.swing, 4))
    outcome = played(position, n=2_000, policy=only, swing=0)
    by_swing = outcome.parts[:, BY_SWING:]
    assert (by_swing[:, 0] == 1).all()
    assert (by_swing[:, 4] == outcome.parts[:, APPROACH]).all()
    assert (by_swing.sum(axis=1) == 1 + by_swing[:, 4]).all()
    assert by_swing[:, 4].any()


def test_a_first_touch_shot_counts_by_swing_as_one(position):
    solution, swings = position.solutions[0], position.solutions[0].problem.swings.rows.shape[1]
    (first,) = position.first(swings + 1, position.pin_line, KEY, 2_000)
    outcome = play_sequences(
        solution.problem, position.policies[0], solution.value, first, KEY, part=TOUCH, swing=swings + 1
    )
    assert (outcome.parts[:, BY_SWING + swings] == outcome.parts[:, TOUCH]).all()
    assert (outcome.parts[:, TOUCH] >= 1).all()


def test_penalties_are_the_strokes_that_no_swing_made(position):
    outcome = played(position, 3.0, cap=60)
    made = outcome.parts[:, [TEE, APPROACH, TOUCH, PUTTING]].sum(axis=1)
    assert (outcome.penalties == outcome.score - made).all()
    assert (outcome.penalties == outcome.parts[:, PENALTIES]).all()
    assert outcome.penalties.max() >= 2


def test_the_number_of_threads_changes_nothing(position, monkeypatch):
    found = []
    for threads in ("1", "3"):
        monkeypatch.setenv("SIMCADDIE_THREADS", threads)
        found.append(played(position, swing=0).parts)
    assert (found[0] == found[1]).all()
