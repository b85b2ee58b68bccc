"""Cells and nodes are fine enough: halving the one or doubling the other hardly moves the value of the tee.

The value is that of best play from the tee, by the law: 6 yd cells choose first, then 2 yd cells, which are valued.
"""

from __future__ import annotations

from functools import cache

import pytest
from solving import HOLES, PLAYERS, Question, demo, mean_of, tee_law

from simcaddie.play import records as r
from simcaddie.play.states import STATE_CELL
from simcaddie.solve import Solution, best_policy, policy_law, solve
from simcaddie.solve.solution import CHOOSE_NODES

MOST = 0.005  # strokes
ONE = ("millpond", "wren")
ALL = [(hole, player) for hole in HOLES for player in PLAYERS]


def value(question: Question, table: r.Table, nodes: int = CHOOSE_NODES) -> float:
    """Return the mean strokes from the tee on the states of ``table``, chosen with ``nodes`` nodes."""
    chosen = best_policy(table, question.grid, question.place, nodes=nodes)
    law = policy_law(table, chosen)
    solution = Solution(
        table, chosen.policy, chosen.value, law, chosen.often, chosen.sweeps, chosen.residual, (0.0, 0.0)
    )
    return mean_of(tee_law(solution, question))


@cache
def usual(hole: str, player: str) -> float:
    question = demo(hole, player)
    return value(question, question.table)


def cells_matter(hole: str, player: str) -> float:
    question = demo(hole, player)
    return value(question, question.on_cells(STATE_CELL / 2)) - usual(hole, player)


def nodes_matter(hole: str, player: str) -> float:
    question = demo(hole, player)
    return value(question, question.table, 2 * CHOOSE_NODES) - usual(hole, player)


def test_what_is_varied_is_what_solve_does():
    question = demo(*ONE)
    assert usual(*ONE) == mean_of(tee_law(solve(question.table, question.grid, question.place), question))


def test_halving_the_cells_hardly_moves_the_tee():
    assert abs(cells_matter(*ONE)) < MOST


def test_doubling_the_nodes_hardly_moves_the_tee():
    assert abs(nodes_matter(*ONE)) < MOST


def test_coarse_cells_do_move_it():
    """The measure is no constant: on 8 yd cells the value of the tee is another."""
    question = demo(*ONE)
    assert abs(value(question, question.on_cells(8.0)) - usual(*ONE)) > 1e-4


@pytest.mark.slow
@pytest.mark.parametrize(("hole", "player"), ALL)
def test_halving_the_cells_hardly_moves_any_tee(hole, player):
    assert abs(cells_matter(hole, player)) < MOST


@pytest.mark.slow
@pytest.mark.parametrize(("hole", "player"), ALL)
def test_doubling_the_nodes_hardly_moves_any_tee(hole, player):
    assert abs(nodes_matter(hole, player)) < MOST
