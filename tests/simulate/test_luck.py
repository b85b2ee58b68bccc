"""Taking luck out of whole sequences leaves their mean alone and most of their spread away.

Luck is a sum of terms that have the mean 0 whatever the values they are made of (Burch, Schmid, Moravčík, Morrill and
Bowling, AIVAT, AAAI 2018): good values only make them take more of the spread away.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from helpers import busy_hole, club_golfer

from simcaddie.base.streams import Purpose, kernel_key
from simcaddie.decision.measure import pair_means, standard_error
from simcaddie.decision.position import LUCK_NODES, LUCK_SETS, Position, set_position
from simcaddie.model.left import strokes_left
from simcaddie.simulate import Luck, play_sequences
from simcaddie.solve.quadrature import node_sets

N = 60_000
KEY = kernel_key(9)


@pytest.fixture(scope="module", params=["best", "sound"])
def position(request) -> Position:
    return set_position(busy_hole(), club_golfer(), then=request.param)


def lucky(position: Position, n: int = N, to_go: np.ndarray | None = None, aim: float = -3.0, **keys):
    """Return the outcome of sequences after a drive, with what later strokes owe to luck."""
    solution, ahead = position.solutions[0], position.aheads[0]
    (first,) = position.first(0, position.pin_line + math.radians(aim), KEY, n)
    nodes = node_sets(LUCK_NODES, Purpose.LUCK, LUCK_SETS).draws
    luck = Luck(ahead.mean_to_go if to_go is None else to_go, nodes, LUCK_NODES)
    return play_sequences(solution.problem, position.policies[0], solution.value, first, KEY, luck=luck, **keys)


def test_luck_has_the_mean_zero_and_is_most_of_the_spread(position):
    outcome = lucky(position)
    luck = pair_means(outcome.luck)
    assert abs(luck.mean()) < 4 * standard_error(luck)
    left = strokes_left(position.solutions[0].problem, position.aheads[0].mean_to_go, outcome.first)
    fair = outcome.first.added + left  # what the first ball leaves is no luck of later strokes
    plain, without = outcome.score - fair, outcome.score - outcome.luck - fair
    assert without.std() < 0.25 * plain.std()
    assert outcome.luck.std() > 0.8 * plain.std()


def test_an_audit_needs_a_fiftieth_of_the_sequences(position):
    """What a scene takes off a score leaves how far it is from what its first ball was worth: nothing, on average.

    The error is a seventh of that of plain scores; 0.003 for cells and nodes, which the values know balls by.
    """
    outcome = position.play(0, -3.0, KEY, N, luck=True)
    plain, apart = pair_means(outcome.score), pair_means(outcome.score - outcome.luck)
    assert standard_error(apart) < standard_error(plain) / math.sqrt(50)
    assert abs(apart.mean()) < 4 * standard_error(apart) + 0.003
    solved, ahead = position.solutions[0], position.aheads[0]
    worth = outcome.first.added + strokes_left(solved.problem, ahead.mean_to_go, outcome.first)
    assert np.abs(outcome.luck - lucky(position).luck - worth).max() < 1e-9


def test_an_audit_notices_two_hundredths_of_a_stroke(position):
    """It has teeth: where every ball off the green is said to need 0.02 strokes more, 20,000 sequences find it out."""
    ahead = position.aheads[0]
    one_more = np.concatenate([np.zeros_like(ahead.after[..., :1]), ahead.after[..., :-1]], axis=2)
    one_more[..., -1] += ahead.after[..., -1]
    wrong = replace(position, aheads=(replace(ahead, after=0.98 * ahead.after + 0.02 * one_more),))
    outcome = wrong.play(0, -3.0, KEY, 20_000, luck=True)
    apart = pair_means(outcome.score - outcome.luck)
    assert abs(apart.mean()) > 4 * standard_error(apart) + 0.003


def test_values_that_are_wrong_leave_the_mean_alone_and_more_of_the_spread(position):
    """Values that know nothing of lies: the mean of luck is 0 still, and it takes less away."""
    right = lucky(position, 50_000)
    wrong = lucky(position, 50_000, to_go=np.full_like(position.solutions[0].to_go, 3.0))
    luck = pair_means(wrong.luck)
    assert abs(luck.mean()) < 4 * standard_error(luck)
    assert np.array_equal(wrong.score, right.score)
    assert (wrong.score - wrong.luck).std() > 1.1 * (right.score - right.luck).std()


def test_asking_for_luck_changes_no_sequence(position):
    asked = lucky(position, 4_000)
    solution = position.solutions[0]
    plain = play_sequences(solution.problem, position.policies[0], solution.value, asked.first, KEY)
    assert plain.luck is None
    for name in ("score", "picked_up", "parts"):
        assert np.array_equal(getattr(plain, name), getattr(asked, name))


def test_on_the_green_luck_is_putts_beyond_their_mean(position):
    """A first ball on the green or in the hole leaves no luck but that of its putts."""
    problem, to_go = position.solutions[0].problem, position.aheads[0].mean_to_go
    short = set_position(busy_hole(), club_golfer(), spot="second", then=position.then)
    (first,) = short.first(4, short.pin_line, KEY, 20_000)
    nodes = node_sets(LUCK_NODES, Purpose.LUCK, LUCK_SETS).draws
    after = play_sequences(
        problem, position.policies[0], position.solutions[0].value, first, KEY, luck=Luck(to_go, nodes, LUCK_NODES)
    )
    on = after.parts[:, [1, 2]].sum(axis=1) == 0  # the green was hit, or the ball was holed
    assert on.mean() > 0.05
    due = after.parts[on, 3] - strokes_left(problem, to_go, first)[on]
    assert np.abs(after.luck[on] - due).max() < 1e-12


def test_the_number_of_threads_changes_no_luck(position, monkeypatch):
    found = []
    for threads in ("1", "3"):
        monkeypatch.setenv("SIMCADDIE_THREADS", threads)
        found.append(lucky(position, 6_000).luck)
    assert np.array_equal(*found)
