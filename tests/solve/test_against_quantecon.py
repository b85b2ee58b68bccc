"""A small hole as explicit matrices: the exhaustive search agrees with a general-purpose library.

QuantEcon.py (https://quanteconpy.readthedocs.io), ``DiscreteDP`` and ``backward_induction``: with discount factor 1 its
infinite-horizon methods refuse, so a horizon long enough that hardly any ball is still in play stands in for them.
"""

from __future__ import annotations

import numpy as np
import pytest
import scipy.sparse as sp
from helpers import box, club, club_golfer
from solving import Question, ask, converged, every_action

from simcaddie.base.streams import Purpose
from simcaddie.course.hole import Area, Hole
from simcaddie.model import arrays as r
from simcaddie.model.batch import asked, play
from simcaddie.model.left import strokes_left
from simcaddie.model.states import states_at
from simcaddie.solve import search
from simcaddie.solve.actions import Actions, Choice
from simcaddie.solve.quadrature import node_sets

markov = pytest.importorskip("quantecon.markov", reason="quantecon, the library held against, is not installed")

FAN = np.radians([-5.0, 0.0, 5.0])
COUNT = 32  # nodes
CELL = 8.0  # yd
HORIZON = 600  # strokes


@pytest.fixture(scope="module")
def small() -> Question:
    """Return 110 yd over a pond, with a bunker and out of bounds, for a bag of two clubs."""
    hole = Hole(
        "Small (invented)",
        3,
        {"t": (0.0, 0.0)},
        {"p": (2.0, 110.0)},
        (
            Area("fairway", box(-10, 30, 12, 95)),
            Area("green", box(-9, 98, 13, 121)),
            Area("bunker", box(14, 94, 21, 108)),
            Area("water", box(-26, 58, 2, 76), marking="red"),
        ),
        boundary=box(-30, -12, 30, 134),
    )
    bag = (club("9 iron", 108.0), club("sand wedge", 66.0))
    return ask(hole, club_golfer(bag=bag)).on_cells(CELL)


@pytest.fixture(scope="module")
def choice(small) -> Choice:
    return converged(small.problem, FAN, COUNT)


def matrices(problem: r.Problem, to_go: np.ndarray, actions: Actions) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return (number within its state, mean strokes, chances of the next state) of every action.

    The last state is the hole, with one action. ``to_go`` settles which relief is taken where a Rule leaves a choice,
    and nothing else.
    """
    s, states = problem.states, problem.states.lie.size
    state, nodes = actions.state, node_sets(COUNT, Purpose.CHOOSE)
    x, y = s.xy[state].T
    line = np.arctan2(problem.ground.pin_x - x, problem.ground.pin_y - y) + actions.bearing
    block = search.block_of(problem, nodes, state)
    rest = play(problem, to_go, asked(x, y, s.lie[state], actions.swing, line, block), nodes.draws, COUNT)
    green = problem.ground.kinds[rest.surface, r.KIND_PUTTING] > 0.0
    down = green | (rest.event == r.Event.HOLED)
    after = np.where(down, states, states_at(s, rest.surface, rest.x, rest.y))
    putts = strokes_left(problem, np.zeros(states), rest)  # off the green nothing
    cost = (rest.added + putts).reshape(-1, COUNT).mean(axis=1)
    chance = np.zeros((state.size + 1, states + 1))
    np.add.at(chance, (np.repeat(np.arange(state.size), COUNT), after), 1.0 / COUNT)
    chance[-1, -1] = 1.0
    number = np.arange(state.size) - np.searchsorted(state, state)
    return np.append(number, 0), np.append(cost, 0.0), chance


def test_exhaustive_values_are_those_of_backward_induction(small, choice):
    problem, actions = small.problem, every_action(small.problem, FAN)
    number, cost, chance = matrices(problem, choice.value, actions)
    state = np.append(actions.state, problem.states.lie.size)
    assert np.allclose(chance.sum(axis=1), 1.0)
    with pytest.warns(UserWarning, match="beta=1"):
        process = markov.DiscreteDP(-cost, sp.csr_matrix(chance), 1.0, state, number)
    values, policies = markov.backward_induction(process, HORIZON)
    assert np.abs(values[0] - values[1]).max() < 1e-12  # the horizon is long enough
    assert np.abs(-values[0][:-1] - choice.value).max() < 1e-8
    # and the choices themselves cost no more than the library's
    starts = np.searchsorted(state, np.arange(problem.states.lie.size))
    worth = cost - chance @ values[0]
    own = (actions.swing == choice.swing[actions.state]) & (actions.bearing == choice.bearing[actions.state])
    mine = np.flatnonzero(own)
    assert np.array_equal(actions.state[mine], np.arange(problem.states.lie.size))  # one action each, an allowed one
    assert np.abs(worth[mine] - worth[starts + policies[0][:-1]]).max() < 1e-8


def test_every_swing_that_the_lie_allows_and_every_touch_shot_is_among_the_actions(small):
    problem, actions = small.problem, every_action(small.problem, FAN)
    swings = problem.swings.rows.shape[1]
    for state, lie in enumerate(problem.states.lie):
        usable = np.flatnonzero(problem.swings.rows[lie, :, r.SW_USABLE])
        due = [*usable, *range(swings, swings + problem.touch.reach.size)]
        here = actions.state == state
        assert np.array_equal(np.unique(actions.swing[here]), due)
        for swing in due:
            lines = actions.bearing[here & (actions.swing == swing)]
            assert np.unique(lines).size == lines.size
            assert np.array_equal(lines, FAN) or lines.size == 24  # all round from a bad lie


def test_the_small_hole_is_no_trivial_instance(small, choice):
    """Many states; both clubs, touch shots and more than one line among the best; penalties and balls played again."""
    problem, actions = small.problem, every_action(small.problem, FAN)
    assert 100 < problem.states.lie.size < 400
    assert set(np.unique(choice.swing)) >= {0, 1}
    assert (choice.swing >= problem.swings.rows.shape[1]).any()
    assert np.unique(choice.bearing).size > 1
    _, cost, chance = matrices(problem, choice.value, actions)
    own = chance[np.arange(actions.state.size), actions.state]
    assert 0.1 < (own > 0.0).mean() < 0.9  # some strokes may come back to where they were played
    assert (cost[:-1] >= 1.0).all()
