"""The one solver's effort is enough: with eight times the effort its policy would hardly score better.

Both policies are played from the place asked with the same numbers, and what luck did to either is taken out, so that
a difference of a few thousandths shows. The first stroke counts, and all that follow it.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from solving import HOLES, PLAYERS, Question, choice_at, demo, short_question

from simcaddie.base.streams import Purpose, kernel_key
from simcaddie.decision.measure import pair_means, standard_error
from simcaddie.simulate import Luck, first_strokes, play_sequences
from simcaddie.solve.ahead import Ahead
from simcaddie.solve.quadrature import node_sets
from simcaddie.solve.solution import ROUGH, USUAL, Effort, Solution, solve

MOST_LOST = 0.006  # strokes
EIGHTFOLD = Effort(
    USUAL.reachable / 8,
    8 * USUAL.everywhere,
    (8 * USUAL.coarse[0], 8 * USUAL.coarse[1]),
    (8 * USUAL.fine[0], 8 * USUAL.fine[1]),
    (8 * USUAL.value[0], 8 * USUAL.value[1]),
    8 * USUAL.start,
)
N = 100_000
KEY = kernel_key(12)
LUCK_NODES, LUCK_SETS = 16, 1024


def unlucky(solution: Solution, question: Question) -> np.ndarray:
    """Return scores from the place with what later strokes owe to luck taken out, a mean a mirrored pair."""
    first = first_strokes(solution.problem, solution.value, question.place, *choice_at(solution, question), KEY, N)
    luck = Luck(Ahead.of(solution).mean_to_go, node_sets(LUCK_NODES, Purpose.LUCK, LUCK_SETS).draws, LUCK_NODES)
    outcome = play_sequences(solution.problem, solution.policy, solution.value, first, KEY, solution.cap, luck=luck)
    return pair_means(outcome.score - outcome.luck)


@cache
def at_best(*names: str) -> np.ndarray:
    """Return what eight times the effort comes to, on a demo hole for a demo player or on the short hole."""
    question = demo(*names) if names else short_question()
    return unlucky(solve(question.problem, question.grid, question.place, effort=EIGHTFOLD), question)


def lost(effort: Effort, *names: str) -> tuple[float, float]:
    """Return strokes that ``effort`` loses against eight times the usual one, and the standard error."""
    question = demo(*names) if names else short_question()
    cost = unlucky(solve(question.problem, question.grid, question.place, effort=effort), question) - at_best(*names)
    return float(cost.mean()), standard_error(cost)


def test_the_usual_effort_loses_next_to_nothing_on_a_short_hole():
    cost, error = lost(USUAL)
    assert error < MOST_LOST / 4
    assert cost < MOST_LOST


def test_hardly_any_effort_loses_more():
    """The measure has teeth: with a handful of nodes a policy is clearly worse."""
    cost, error = lost(ROUGH._replace(everywhere=8, coarse=(8, 8), fine=(8, 8), value=(8, 8), start=64))
    assert cost > MOST_LOST + 4 * error


@pytest.mark.slow
@pytest.mark.parametrize(("hole", "player"), list(zip(HOLES, PLAYERS, strict=False)))
def test_the_usual_effort_loses_next_to_nothing_on_demo_holes(hole, player):
    cost, error = lost(USUAL, hole, player)
    assert error < MOST_LOST / 4
    assert cost < MOST_LOST
