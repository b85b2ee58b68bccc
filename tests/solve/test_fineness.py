"""Cells and nodes are fine enough: halving the one or doubling the other hardly moves the value of the tee.

The value is that of best play from the tee, by the law: coarser cells choose first, then 4-yd cells, which are valued.
"""

from __future__ import annotations

from functools import cache

import pytest
from solving import HOLES, PLAYERS, Question, demo, mean_of, tee_law

from simcaddie.model.states import STATE_CELL
from simcaddie.solve.solution import USUAL, Effort, solve

MOST = 0.005  # strokes
TIMES = 8  # the nodes of an answer: two aims a degree apart have answers of their own, with an error each
ONE = ("millpond", "wren")
ALL = [(hole, player) for hole in HOLES for player in PLAYERS]
TWICE = USUAL._replace(
    everywhere=2 * USUAL.everywhere,
    coarse=(2 * USUAL.coarse[0], 2 * USUAL.coarse[1]),
    fine=(2 * USUAL.fine[0], 2 * USUAL.fine[1]),
    value=(2 * USUAL.value[0], 2 * USUAL.value[1]),
    start=2 * USUAL.start,
)


def value(question: Question, effort: Effort = USUAL) -> float:
    """Return the mean strokes from the tee on the question's own states."""
    solution = solve(question.problem, question.grid, question.place, effort=effort)
    return mean_of(tee_law(solution, question, TIMES))


@cache
def usual(hole: str, player: str) -> float:
    return value(demo(hole, player))


def cells_matter(hole: str, player: str) -> float:
    return value(demo(hole, player).on_cells(STATE_CELL / 2)) - usual(hole, player)


def nodes_matter(hole: str, player: str) -> float:
    return value(demo(hole, player), TWICE) - usual(hole, player)


def test_halving_the_cells_hardly_moves_the_tee():
    assert abs(cells_matter(*ONE)) < MOST


def test_doubling_the_nodes_hardly_moves_the_tee():
    assert abs(nodes_matter(*ONE)) < MOST


def test_coarse_cells_and_few_nodes_do_move_it():
    """The measure is no constant: on 8-yd cells, or with few nodes, the value of the tee is another."""
    few = Effort(4e-3, 8, (8, 8), (8, 8), (8, 8), 64)
    for other in (value(demo(*ONE).on_cells(2 * STATE_CELL)), value(demo(*ONE), few)):
        assert abs(other - usual(*ONE)) > 1e-4


@pytest.mark.slow
@pytest.mark.parametrize(("hole", "player"), ALL)
def test_halving_the_cells_hardly_moves_any_tee(hole, player):
    assert abs(cells_matter(hole, player)) < MOST


@pytest.mark.slow
@pytest.mark.parametrize(("hole", "player"), ALL)
def test_doubling_the_nodes_hardly_moves_any_tee(hole, player):
    assert abs(nodes_matter(hole, player)) < MOST
