"""Solver and simulator agree: the mean, and the whole score law, of best play from the tee.

A mean may differ by 4 standard errors, taken over mirrored pairs, and 0.003 for cells and nodes. The law is held
against one score of each pair: the two of a pair share their putts and their mishits, so they aren't independent. An
ace comes once in some thousand strokes: the look-ahead has many nodes here, else its law would be the rougher one.
"""

from __future__ import annotations

import numpy as np
import pytest
from helpers import busy_hole, club_golfer
from solving import (
    HOLES,
    PLAYERS,
    Question,
    ask,
    demo,
    demo_solution,
    mean_of,
    merged_chi_square,
    tee_law,
    tee_scores,
)

from simcaddie.air.day import Day
from simcaddie.files import find_hole, find_player, read_hole, read_player
from simcaddie.solve import Solution, solve
from simcaddie.strategy.measure import pair_means, standard_error

FEW = tuple(zip(HOLES, PLAYERS, strict=False))  # every hole; the slow form has all pairs


def hold(solution: Solution, question: Question, sequences: int, seed: int) -> None:
    """Compare the law from the tee with ``sequences`` independent scores, and as many mirrored ones for the mean."""
    law = tee_law(solution, question, nodes=2**18)
    scores = tee_scores(solution, question, 2 * sequences, seed)
    pairs = pair_means(scores)
    assert abs(pairs.mean() - mean_of(law)) < 4 * standard_error(pairs) + 0.003
    seen = np.bincount(scores[::2], minlength=law.size)
    assert merged_chi_square(seen, law * sequences) > 1e-4


@pytest.mark.parametrize(("hole", "player"), FEW)
def test_solver_and_simulator_agree(hole, player):
    hold(demo_solution(hole, player), demo(hole, player), 60_000, seed=11)


@pytest.mark.slow
@pytest.mark.parametrize("player", PLAYERS)
@pytest.mark.parametrize("hole", HOLES)
def test_solver_and_simulator_agree_on_every_hole_and_player(hole, player):
    hold(demo_solution(hole, player), demo(hole, player), 400_000, seed=12)


def test_solver_and_simulator_agree_on_a_gusty_hilly_day():
    hole, player = read_hole(find_hole("kettle-drain")), read_player(find_player("wren"))
    question = ask(hole, player, Day(wind=6.0, gust=10.0, wind_from=300.0, temperature=5.0, firmness=1.0))
    hold(solve(question.table, question.grid, question.place), question, 60_000, seed=14)


def test_solver_and_simulator_agree_on_a_hole_with_something_of_everything():
    question = ask(busy_hole(), club_golfer())
    hold(solve(question.table, question.grid, question.place), question, 60_000, seed=13)


def test_the_comparison_would_notice_one_score_in_two_hundred():
    """The χ² has teeth: moving half a per cent of the fours to fives in the law fails it."""
    hole, player = FEW[0]
    solution, question = demo_solution(hole, player), demo(hole, player)
    law = tee_law(solution, question, nodes=2**18)
    seen = np.bincount(tee_scores(solution, question, 800_000, seed=14)[::2], minlength=law.size)
    moved = law.copy()
    moved[4] -= 0.005
    moved[5] += 0.005
    assert merged_chi_square(seen, moved * 400_000) < 1e-6
