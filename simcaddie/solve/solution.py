"""Best play from everywhere, and its score law.

An undiscounted, absorbing Markov decision process: a state is a (cell, lie) pair, an action a swing along a bearing
or a touch shot, and V(s) = min over actions of E[strokes + V(next)] over the stroke kernel. On the green the exact
putting law takes over.

Choose with few nodes, freeze the policy, value it with many others (a value from the nodes that chose is too low),
answer for the asked place by a look-ahead from its exact position. The score law follows from the same transitions,
without iterating: a state's chance of k strokes to go needs only chances of fewer than k.
"""

from __future__ import annotations

import math
import time
from dataclasses import dataclass
from functools import partial
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simcaddie.ground.grid import AreaGrid
from simcaddie.play import records as r
from simcaddie.play.everyday import guess_to_go
from simcaddie.play.states import build_states
from simcaddie.solve import laws, search
from simcaddie.solve.nodes import ANSWER, CHOOSE, VALUE, node_sets, stroke_nodes
from simcaddie.units import unit_vector
from simcaddie.workers import share_out

__all__ = ["Solution", "best_policy", "first_stroke_law", "follow", "often_reached", "policy_law", "solve"]

CHOOSE_NODES: Final = 256
VALUE_NODES: Final = 1024
SELDOM_NODES: Final = 64
OFTEN: Final = 1e-3  # visits of a coarse cell per ball from the place asked
ANSWER_NODES: Final = 4096
FOLLOW_NODES: Final = 16
FOLLOW_OFTEN: Final = 2e-4  # visits of a fine cell

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Solution:
    """Best play on one table.

    ``value`` holds the values that chose (for choices that a Rule leaves); ``law`` float64[cap + 1, states] is the
    chance of each number of strokes to go, the last row that of cap or more; ``often`` the states that balls reach
    often. ``residual`` is the largest change in the last sweep.
    """

    table: r.Table
    policy: r.Policy
    value: r.Value
    law: Floats
    often: NDArray[np.int64]
    sweeps: int
    residual: float
    seconds: tuple[float, float]  # choosing, valuing

    @property
    def cap(self) -> int:
        """Strokes at which the ball is picked up."""
        return int(self.law.shape[0]) - 1

    @property
    def to_go(self) -> Floats:
        """Mean strokes to go from each state, picked up at the cap: float64[states]."""
        return np.asarray(np.arange(self.cap + 1.0) @ self.law)


class Chosen(NamedTuple):
    """A policy, the values that chose it, the states that balls reach often, sweeps and residual of the last ones."""

    policy: r.Policy
    value: r.Value
    often: NDArray[np.int64]
    sweeps: int
    residual: float


def best_policy(
    table: r.Table,
    grid: AreaGrid,
    place: tuple[float, float, int],
    *,
    exhaustive: bool = False,
    fan: Floats = search.FAN,
    nodes: int = CHOOSE_NODES,
) -> Chosen:
    """Return the policy of fewest strokes.

    Every action is tried on coarse cells; then fine cells that balls from ``place`` reach often choose among what the
    coarse cells around them chose, with ``nodes`` nodes (at least 64). ``exhaustive`` tries every action of the
    ``fan`` (radians off the pin line) at every fine cell with all nodes instead: slow, for checks.
    """
    points, all_states = node_sets(nodes, CHOOSE), search.every(table)
    if exhaustive:
        choice = search.Choice.unmade(guess_to_go(table).to_go)
        for _ in range(3):
            search.choose_all(table, choice, search.every_plan(points, fan))
        often = all_states
    else:
        coarse = table._replace(states=build_states(grid, place, search.COARSE_CELL))
        first = search.Choice.unmade(guess_to_go(coarse).to_go)
        search.choose_all(coarse, first, search.coarse_plan(points[:, :64]))
        search.settle(coarse, first, points[:, :64], search.every(coarse), most=1)
        choice, few = search.handed_on(coarse, first, table)
        often = np.flatnonzero(often_reached(coarse, first, place)[search.parents(coarse, table)])
        search.choose_near(table, choice, search.fine_plan(points), few, often)
        search.choose_start(table, choice, stroke_nodes(64 * nodes, CHOOSE)[None])
    sweeps, residual = search.settle(table, choice, points, often, most=1)
    return Chosen(r.Policy(choice.swing, choice.bearing), r.Value(choice.value), often, sweeps, residual)


def putt_laws(table: r.Table) -> Floats:
    """Return P(exactly k putts), float64[tilt, distance, 5]."""
    return np.diff(table.putting.cumulative, axis=2, prepend=0.0)


class Steps(NamedTuple):
    """Transitions of some states: next state (−1: down), strokes counted [row, node]; law of balls that are down."""

    after: NDArray[np.int32]
    added: NDArray[np.int8]
    green: Floats


def step_out(
    table: r.Table, policy: r.Policy, value: r.Value, which: NDArray[np.int64], nodes: Floats, cap: int
) -> Steps:
    """Return where ``nodes`` take the states ``which`` under a policy."""
    size = nodes.shape[1]
    steps = Steps(
        np.empty((which.size, size), np.int32), np.empty((which.size, size), np.int8), np.zeros((which.size, cap + 1))
    )
    work = partial(laws.step_out, table, value.to_go, nodes, policy, putt_laws(table), which, steps)
    share_out(work, which.size)
    return steps


def often_reached(
    table: r.Table,
    choice: search.Choice,
    place: tuple[float, float, int],
    nodes: int = SELDOM_NODES,
    least: float = OFTEN,
) -> NDArray[np.bool_]:
    """Return which states balls reach often: by any swing from ``place`` about the pin line, then by the choice."""
    x, y, lie = place
    policy, value = r.Policy(choice.swing, choice.bearing), r.Value(choice.value)
    steps = step_out(table, policy, value, search.every(table), node_sets(nodes, VALUE), 1)
    line = math.atan2(table.ground.pin_x - x, table.ground.pin_y - y)
    usable = np.flatnonzero(table.swings.table[lie, :, r.SW_USABLE])
    visits, points = np.zeros(value.to_go.size), stroke_nodes(SELDOM_NODES, ANSWER)
    for swing in usable:
        for aim in np.radians(np.arange(-24.0, 25.0, 6.0)):
            laws.scatter(table, value.to_go, points, x, y, lie, int(swing), *unit_vector(line + aim), visits)
    visits /= max(1, usable.size * 9)
    ever = visits.copy()
    for _ in range(4):
        new = np.zeros_like(visits)
        laws.spread(steps, visits, new)
        visits, ever = new, ever + new
    return ever > least


def policy_law(table: r.Table, chosen: Chosen, cap: int = 12) -> Floats:
    """Return the law of strokes to go under a policy, float64[cap + 1, states]; the last row holds cap or more.

    States that balls reach often are valued with ``VALUE_NODES`` nodes, others with ``SELDOM_NODES``.
    """
    seldom = np.setdiff1d(search.every(table), chosen.often, assume_unique=True)
    parts = [
        (which, step_out(table, chosen.policy, chosen.value, which, node_sets(nodes, VALUE), cap))
        for which, nodes in ((seldom, SELDOM_NODES), (chosen.often, VALUE_NODES))
    ]
    law = np.zeros((cap + 1, table.states.lie.size))
    for strokes in range(1, cap):
        for which, steps in parts:
            share_out(partial(laws.law_layer, steps, which, law, strokes), which.size)
    law[cap] = 1.0 - law[:cap].sum(axis=0)
    return law


def first_stroke_law(
    solution: Solution, place: tuple[float, float, int], swing: int, bearing: float, nodes: int = ANSWER_NODES
) -> Floats:
    """Return the law of strokes from the exact ``place``, (x, y, lie), by a first stroke and best play to follow.

    float64[cap + 1]; ``bearing`` in radians clockwise from +y.
    """
    out = np.zeros(solution.cap + 1)
    laws.first_law(
        solution.table,
        solution.value.to_go,
        solution.law,
        putt_laws(solution.table),
        stroke_nodes(nodes, ANSWER),
        float(place[0]),
        float(place[1]),
        int(place[2]),
        int(swing),
        *unit_vector(bearing),
        out,
    )
    return out


def solve(
    table: r.Table, grid: AreaGrid, place: tuple[float, float, int], *, cap: int = 12, exhaustive: bool = False
) -> Solution:
    """Return best play for ``table``; ``place`` is where the question is asked from, (x, y, lie)."""
    started = time.perf_counter()
    chosen = best_policy(table, grid, place, exhaustive=exhaustive)
    after = time.perf_counter()
    law = policy_law(table, chosen, cap)
    seconds = (after - started, time.perf_counter() - after)
    return Solution(table, chosen.policy, chosen.value, law, chosen.often, chosen.sweeps, chosen.residual, seconds)


def follow(
    table: r.Table, policy: r.Policy, value: r.Value, place: tuple[float, float, int], *, cap: int = 12
) -> Solution:
    """Return the score law of a given policy, as a solution; ``value`` serves the choices that a Rule leaves."""
    started = time.perf_counter()
    choice = search.Choice(policy.swing, policy.bearing, value.to_go, value.to_go)
    often = np.flatnonzero(often_reached(table, choice, place, FOLLOW_NODES, FOLLOW_OFTEN))
    law = policy_law(table, Chosen(policy, value, often, 0, 0.0), cap)
    return Solution(table, policy, value, law, often, 0, 0.0, (0.0, time.perf_counter() - started))
