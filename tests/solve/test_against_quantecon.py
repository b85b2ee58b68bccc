"""A small hole as explicit matrices: the exhaustive search agrees with a general-purpose library.

QuantEcon.py (https://quanteconpy.readthedocs.io), ``DiscreteDP`` and ``backward_induction``: with discount factor 1 its
infinite-horizon methods refuse, so a horizon long enough that hardly any ball is still in play stands in for them.
"""

from __future__ import annotations

import numpy as np
import pytest
import scipy.sparse as sp
from helpers import box, club, club_golfer
from solving import Question, ask, converged

from simcaddie.ground.hole import Area, Hole
from simcaddie.play import kernel as k
from simcaddie.play import records as r
from simcaddie.solve.nodes import CHOOSE, stroke_nodes

markov = pytest.importorskip("quantecon.markov", reason="quantecon, the library held against, is not installed")

FAN = np.radians([-5.0, 0.0, 5.0])
NODES = stroke_nodes(8, CHOOSE)
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
    return ask(hole, club_golfer(bag=bag))


def actions(table: r.Table, lie: int) -> list[tuple[int, float]]:
    """Return every (swing, line) from a lie: what the club allows, and touch shots."""
    usable = np.flatnonzero(table.swings.table[lie, :, r.SW_USABLE])
    number = table.swings.table.shape[1]
    swings = [*usable, *range(number, number + table.touch.reach.size)]
    return [(int(swing), float(line)) for swing in swings for line in FAN]


def matrices(table: r.Table, to_go: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Return (state, action, mean strokes, chances of the next state) of every pair; the last state is the hole.

    ``to_go`` settles which relief is taken where a Rule leaves a choice, and nothing else.
    """
    s, g, rows = table.states, table.ground, []
    for state in range(s.lie.size):
        x, y, lie = float(s.xy[state, 0]), float(s.xy[state, 1]), int(s.lie[state])
        for number, (swing, line) in enumerate(actions(table, lie)):
            cost, chance = 0.0, np.zeros(s.lie.size + 1)
            for z in NODES:
                out = k.stroke(table, to_go, x, y, lie, swing, *k.aim_line(g, x, y, line), tuple(z))
                after = s.lie.size
                cost += out[3]
                if out[4] != k.HOLED and g.kinds[out[2], r.KIND_PUTTING] > 0.0:
                    cost += k.mean_putts(g, table.putting, out[0], out[1])
                elif out[4] != k.HOLED:
                    after = k.state_at(s, out[2], out[0], out[1])
                chance[after] += 1.0 / len(NODES)
            rows.append((state, number, cost / len(NODES), chance))
    down = np.zeros(s.lie.size + 1)
    down[-1] = 1.0
    rows.append((s.lie.size, 0, 0.0, down))
    state, number, cost, chance = zip(*rows, strict=True)
    return np.array(state), np.array(number), np.array(cost), np.array(chance)


def test_exhaustive_values_are_those_of_backward_induction(small):
    table = small.on_cells(CELL)
    choice = converged(table, FAN, NODES)
    state, number, cost, chance = matrices(table, choice.value)
    assert np.allclose(chance.sum(axis=1), 1.0)
    with pytest.warns(UserWarning, match="beta=1"):
        problem = markov.DiscreteDP(-cost, sp.csr_matrix(chance), 1.0, state, number)
    values, policies = markov.backward_induction(problem, HORIZON)
    assert np.abs(values[0] - values[1]).max() < 1e-12  # the horizon is long enough
    assert np.abs(-values[0][:-1] - choice.value).max() < 1e-8
    # and the choices themselves cost no more than the library's
    starts = np.searchsorted(state, np.arange(table.states.lie.size))
    worth = cost - chance @ values[0]
    mine = [
        starts[i] + actions(table, int(lie)).index((int(choice.swing[i]), float(choice.bearing[i])))
        for i, lie in enumerate(table.states.lie)
    ]
    assert np.abs(worth[mine] - worth[starts + policies[0][:-1]]).max() < 1e-8


def test_the_small_hole_is_no_trivial_instance(small):
    """Many states; both clubs, touch shots and more than one line among the best; penalties and balls played again."""
    table = small.on_cells(CELL)
    choice = converged(table, FAN, NODES)
    assert 100 < table.states.lie.size < 400
    assert set(np.unique(choice.swing)) >= {0, 1}
    assert (choice.swing >= table.swings.table.shape[1]).any()
    assert np.unique(choice.bearing).size > 1
    state, _, cost, chance = matrices(table, choice.value)
    own = chance[np.arange(state.size), state][:-1]
    assert 0.1 < (own > 0.0).mean() < 0.9  # some strokes may come back to where they were played
    assert (cost[:-1] >= 1.0).all()
