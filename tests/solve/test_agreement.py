"""Solver and simulator agree: the mean, and the whole score law, of best play from the tee.

A mean may differ by 4 standard errors, taken over mirrored pairs, and 0.003 for cells and nodes. The law is held
against one score of each pair: the two of a pair share their putts and their mishits, so they aren't independent. An
ace comes once in some thousand strokes: the look-ahead has many nodes here, else its law would be the rougher one.
"""

from __future__ import annotations

import numpy as np
import pytest
from helpers import club_golfer
from solving import (
    HOLES,
    PLAYERS,
    Question,
    ask,
    busy_question,
    busy_solution,
    demo,
    demo_solution,
    mean_of,
    merged_chi_square,
    short_question,
    short_solution,
    tee_law,
    tee_scores,
)

from simcaddie.decision.measure import pair_means, standard_error
from simcaddie.io.find import find_hole, find_player
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player
from simcaddie.model.heuristics import everyday
from simcaddie.solve.solution import Solution, follow, solve
from simcaddie.weather.day import Day

MANY = 96  # times the nodes of an answer: 1.6 million, so that aces are known four times as well as 400,000 plays tell


def hold(solution: Solution, question: Question, sequences: int, seed: int) -> None:
    """Compare the law from the tee with ``sequences`` independent scores, and as many mirrored ones for the mean."""
    pmf = tee_law(solution, question, MANY)
    scores = tee_scores(solution, question, 2 * sequences, seed)
    pairs = pair_means(scores)
    assert abs(pairs.mean() - mean_of(pmf)) < 4 * standard_error(pairs) + 0.003
    seen = np.bincount(scores[::2], minlength=pmf.size)
    assert merged_chi_square(seen, pmf * sequences) > 1e-4


def test_solver_and_simulator_agree_on_a_short_hole_with_small_cells():
    hold(short_solution(), short_question(), 400_000, seed=11)


@pytest.mark.slow
@pytest.mark.parametrize("player", PLAYERS)
@pytest.mark.parametrize("hole", HOLES)
def test_solver_and_simulator_agree_on_every_hole_and_player(hole, player):
    hold(demo_solution(hole, player), demo(hole, player), 400_000, seed=12)


def test_solver_and_simulator_agree_on_a_gusty_hilly_day():
    hole, player = read_hole(find_hole("kettle-drain")), read_player(find_player("wren"))
    question = ask(hole, player, Day(wind=6.0, gust=10.0, wind_from=300.0, temperature=5.0, firmness=1.0))
    hold(solve(question.problem, question.grid, question.place), question, 60_000, seed=14)


def test_solver_and_simulator_agree_on_a_hole_with_something_of_everything():
    hold(busy_solution(), busy_question(), 60_000, seed=13)


@pytest.mark.parametrize("then", ["sound", "usual"])
def test_they_agree_on_what_an_everyday_policy_comes_to(then):
    question = busy_question()
    policy = everyday(question.problem, club_golfer(), then, question.hole.green_middle)
    hold(follow(question.problem, policy, busy_solution().value.to_go, question.place), question, 60_000, seed=15)


def test_the_comparison_would_notice_one_score_in_two_hundred():
    """The χ² has teeth: moving half a per cent of the threes to fours in the law fails it."""
    pmf = tee_law(short_solution(), short_question(), MANY)
    seen = np.bincount(tee_scores(short_solution(), short_question(), 800_000, seed=14)[::2], minlength=pmf.size)
    moved = pmf.copy()
    moved[3] -= 0.005
    moved[4] += 0.005
    assert merged_chi_square(seen, moved * 400_000) < 1e-6
