"""Strokes by part add up to the very scores that sequences have, and are counted under the right part."""

from __future__ import annotations

import math

import numpy as np
import pytest
from helpers import busy_hole, club_golfer

from simcaddie.simulate.parts import APPROACH, PARTS, PENALTIES, PUTTING, TEE, TOUCH, play_parts
from simcaddie.simulate.sequences import play_sequences
from simcaddie.strategy.scene import set_scene
from simcaddie.streams import kernel_key

N = 20_000
KEY = kernel_key(7)


@pytest.fixture(scope="module")
def scene():
    return set_scene(busy_hole(), club_golfer(), then="sound")


@pytest.mark.parametrize("cap", [12, 6, 5])
def test_parts_add_up_to_the_score_of_the_same_sequence(scene, cap):
    solution, policy = scene.solutions[0], scene.policies[0]
    (first,) = scene.first(0, scene.pin_line + math.radians(3.0), KEY, N)
    counts = play_parts(solution.table, policy, solution.value, first, KEY, cap=cap)
    outcome = play_sequences(solution.table, policy, solution.value, first, KEY, cap)
    assert (counts.sum(axis=1) == outcome.score).all()
    assert outcome.picked_up.any()
    whole = outcome.score < cap
    assert (counts[whole, PENALTIES] == outcome.penalties[whole]).all()
    assert outcome.penalties[whole].any()
    assert counts.min() == 0


def test_the_first_stroke_counts_where_it_is_told(scene):
    solution, policy = scene.solutions[0], scene.policies[0]
    (first,) = scene.first(0, scene.pin_line, KEY, N)
    tee, other = (
        play_parts(solution.table, policy, solution.value, first, KEY, part=part) for part in (TEE, APPROACH)
    )
    assert (tee[:, TEE] == 1).all()
    assert (other[:, TEE] == 0).all()
    assert (other[:, APPROACH] == tee[:, APPROACH] + 1).all()
    rest = [PARTS.index(part) for part in ("touch", "putting", "penalties")]
    assert (tee[:, rest] == other[:, rest]).all()


def test_touch_and_putts_are_what_the_policy_says(scene):
    """A policy that never plays a touch shot has none; one that always does has no other after the tee."""
    solution, policy = scene.solutions[0], scene.policies[0]
    (first,) = scene.first(0, scene.pin_line, KEY, 2_000)
    swings = solution.table.swings.table.shape[1]
    for swing, none in ((0, TOUCH), (swings, APPROACH)):
        only = replace_swing(policy, swing)
        counts = play_parts(solution.table, only, solution.value, first, KEY)
        assert not counts[:, none].any()
        down = counts.sum(axis=1) < 12
        assert (counts[down, PUTTING] >= 0).all()


def replace_swing(policy, swing):
    return policy._replace(swing=np.full_like(policy.swing, swing))


def test_the_number_of_threads_changes_nothing(scene, monkeypatch):
    solution, policy = scene.solutions[0], scene.policies[0]
    (first,) = scene.first(0, scene.pin_line, KEY, N)
    found = []
    for threads in ("1", "3"):
        monkeypatch.setenv("SIMCADDIE_THREADS", threads)
        found.append(play_parts(solution.table, policy, solution.value, first, KEY))
    assert (found[0] == found[1]).all()
