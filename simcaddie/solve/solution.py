"""Best play from everywhere, and its score law.

An undiscounted, absorbing Markov decision process: a state is a (cell, lie) pair, an action a swing along a bearing
or a touch shot, and V(s) = min over actions of E[strokes + V(next)] over the stroke kernel. On the green the exact
putting law takes over.

Coarse to fine, with effort where balls come: 16-yd cells race every sensible action everywhere, with few nodes; 8-yd
cells race what wasn't hopeless there, where balls from the place asked come; the table's own cells race what the coarse
cells around them chose, with the more nodes the more often balls are there; the place asked races everything. Every
choice, and the policy in the end, is valued with other nodes (a value from the nodes that chose is too low). The score
law follows from the same transitions, without iterating: a state's chance of k strokes to go needs only chances of
fewer than k.
"""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.streams import Purpose
from simcaddie.course.grid import AreaGrid
from simcaddie.model import arrays as r
from simcaddie.model.heuristics import guess_to_go, plain
from simcaddie.model.states import build_states
from simcaddie.solve import search
from simcaddie.solve.actions import Choice, Tried, all_actions, handed_on, in_play, parents
from simcaddie.solve.everyday import SMALL_GREEN, green_size, no_worse
from simcaddie.solve.quadrature import node_sets
from simcaddie.solve.transitions import policy_pmf, reached, step_out, visits_from

__all__ = ["QUICK", "ROUGH", "USUAL", "Chosen", "Effort", "Solution", "choose", "follow", "solve", "valued"]

WIDEST_CELL: Final = 16.0  # yd
COARSE_CELL: Final = 8.0
OFTEN: Final = 1e-3  # visits of a coarse cell per ball from the place asked
PLAIN_NODES: Final = 32
PLAIN_CAP: Final = 40  # strokes: more than a policy needs that is worth anything
LOST: Final = 20.0  # strokes
START_FAN: Final = np.radians(sorted(np.arange(-44.0, 45.0, 4.0), key=abs))  # level lines: the straightest

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]
Place = tuple[float, float, int]


class Effort(NamedTuple):
    """How hard to try: nodes of the first race, of the coarse one, of the fine one and of the values.

    A state's nodes grow with √ of how often balls are there, from the first number of a pair to the second. Only states
    that balls reach as often as ``reachable``, visits of a coarse cell per ball from the place asked, are raced again.
    """

    reachable: float = 3e-5
    everywhere: int = 128
    coarse: tuple[int, int] = (128, 128)
    fine: tuple[int, int] = (64, 512)
    value: tuple[int, int] = (256, 2048)
    start: int = 8192


USUAL: Final = Effort()
QUICK: Final = Effort(7e-4, 64, (64, 128), (64, 256), (64, 512), 4096)  # for many holes at a time
ROUGH: Final = Effort(2e-3, 16, (32, 64), (32, 64), (64, 256), 1024)  # where a club's order is enough


@dataclass(frozen=True, slots=True)
class Solution:
    """Best play on one table.

    ``value`` holds the values that chose (for choices that a Rule leaves); ``pmf`` float64[cap + 1, states] is the
    chance of each number of strokes to go, the last row that of cap or more; ``visits`` how often balls from the place
    asked are at each state, ``often`` the states that they reach often. ``residual`` is the largest change in the last
    sweep.
    """

    problem: r.Problem
    policy: r.Policy
    value: r.Value
    pmf: Floats
    visits: Floats
    residual: float
    seconds: tuple[float, float]  # choosing, valuing

    @property
    def cap(self) -> int:
        """Strokes at which the ball is picked up."""
        return int(self.pmf.shape[0]) - 1

    @property
    def to_go(self) -> Floats:
        """Mean strokes to go from each state, picked up at the cap: float64[states]."""
        return np.asarray(np.arange(self.cap + 1.0) @ self.pmf)

    @property
    def reachable(self) -> Whole:
        """The states that balls reach often."""
        return np.flatnonzero(self.visits > OFTEN * _share(self.problem))


def _nodes_for(visits: Floats, bounds: tuple[int, int], seldom: float = OFTEN) -> Whole:
    """Return the nodes of each state, powers of two: the first of ``bounds`` at OFTEN visits, the second at the most.

    They grow with √ of the visits, from ``seldom`` ones on.
    """
    few, many = bounds
    power = np.round(np.log2(few) + 0.5 * np.log2(np.maximum(visits, seldom) / OFTEN))
    return np.asarray(np.minimum(2.0**power, many), np.int64)


def _share(problem: r.Problem) -> float:
    """Return the share of a coarse cell that a state's cell is."""
    return float((problem.states.cell / COARSE_CELL) ** 2)


def _valued(
    problem: r.Problem, policy: r.Policy, to_go: Floats, visits: Floats, nodes: tuple[int, int], cap: int
) -> Floats:
    """Return the score law of a policy, from nodes by how often balls are at the coarse cell of each state."""
    count = _nodes_for(visits, nodes, OFTEN / 64.0)
    parts = []
    for size in np.unique(count):
        which = np.flatnonzero(count == size)
        parts.append(
            (which, step_out(problem, policy, to_go, which, node_sets(int(size), Purpose.VALUE), int(size), cap))
        )
    return policy_pmf(parts, problem.states.lie.size, cap)


class _Level(NamedTuple):
    """A level of states: what is best there, how often balls from the place asked come by, what was tried."""

    problem: r.Problem
    choice: Choice
    visits: Floats
    tried: Tried


def _plain(problem: r.Problem) -> tuple[Choice, Floats]:
    """Return what a plain policy plays and comes to from everywhere, and a rough guess of that.

    Values to begin with must be no better than what can be played: from lower ones a sweep would look for places
    that it knows nothing of yet, and on small greens find them. Where plain play is lost, a guess tells ways apart.
    """
    policy, guess = plain(problem), guess_to_go(problem).to_go
    every = np.arange(guess.size)
    steps = step_out(problem, policy, guess, every, node_sets(PLAIN_NODES, Purpose.VALUE), PLAIN_NODES, PLAIN_CAP)
    law = policy_pmf([(every, steps)], guess.size, PLAIN_CAP)
    value = np.arange(PLAIN_CAP + 1.0) @ law
    return Choice(policy.swing, policy.bearing, np.where(value < LOST, value, LOST + guess)), guess


def _everywhere(problem: r.Problem, grid: AreaGrid, place: Place, effort: Effort) -> _Level:
    """Return widest states: what is roughly best there, whether balls from ``place`` come or not."""
    wide = problem._replace(states=build_states(grid, place, WIDEST_CELL))
    every = np.arange(wide.states.lie.size)
    choice, guess = _plain(wide)
    nodes, actions = search.Both.of(effort.everywhere), all_actions(wide, every)
    _, behind = search.improve(wide, choice, nodes, actions, np.full(guess.size, effort.everywhere))
    policy = r.Policy(choice.swing, choice.bearing)
    steps = step_out(wide, policy, choice.value, every, node_sets(16, Purpose.VALUE), 16, 1)
    visits = reached([(every, steps)], visits_from(wide, choice.value, place))
    return _Level(wide, choice, visits, Tried(actions, behind))


def _coarse(problem: r.Problem, grid: AreaGrid, place: Place, effort: Effort) -> tuple[r.Problem, Choice, Floats]:
    """Return coarse states, what is best there where balls from ``place`` come, and how often they do."""
    wide = _everywhere(problem, grid, place, effort)
    coarse = problem._replace(states=build_states(grid, place, COARSE_CELL))
    above = parents(wide.problem, coarse)
    choice = Choice._make(column[above] for column in wide.choice)
    visits = wide.visits[above] * _share(coarse) / _share(wide.problem)
    reachable = np.flatnonzero(visits > effort.reachable)
    search.improve(
        coarse,
        choice,
        search.Both.of(effort.coarse[1]),
        in_play(wide.problem, wide.tried, coarse, all_actions(coarse, reachable)),
        _nodes_for(visits, effort.coarse),
        step=np.radians(6.0),
        polish=effort.coarse[0],
    )
    return coarse, choice, visits


@dataclass(frozen=True, slots=True)
class Chosen:
    """What is played from every state, before it is valued; fields as those of ``Solution``."""

    policy: r.Policy
    value: r.Value
    visits: Floats
    residual: float
    seconds: float


def choose(problem: r.Problem, grid: AreaGrid, place: Place, *, effort: Effort = USUAL) -> Chosen:
    """Return what is best from everywhere; ``place`` is where the question is asked from, (x, y, lie)."""
    started = time.perf_counter()
    coarse, first, coarse_visits = _coarse(problem, grid, place, effort)
    visits = coarse_visits[parents(coarse, problem)]
    reachable = np.flatnonzero(visits > effort.reachable)
    choice, actions = handed_on(coarse, first, problem, reachable)
    change, _ = search.improve(
        problem, choice, search.Both.of(effort.fine[1]), actions, _nodes_for(visits, effort.fine)
    )
    start = np.array([problem.states.start])
    search.improve(
        problem,
        choice,
        search.Both.of(effort.start, 1),
        all_actions(problem, start, START_FAN),
        np.full(problem.states.lie.size, effort.start),
        step=np.radians(4.0),
        polish=effort.start,
        least=256,
    )
    policy, to_go = r.Policy(choice.swing, choice.bearing), choice.value
    if green_size(problem) < SMALL_GREEN:

        def value_of(policy: r.Policy) -> Floats:
            law = _valued(problem, policy, choice.value, visits, effort.value, PLAIN_CAP)
            return np.asarray(np.arange(PLAIN_CAP + 1.0) @ law)

        policy, to_go = no_worse(problem, policy, to_go, place, value_of)
    seconds = time.perf_counter() - started
    return Chosen(policy, r.Value(to_go), visits * _share(problem), change, seconds)


def solve(problem: r.Problem, grid: AreaGrid, place: Place, *, cap: int = 12, effort: Effort = USUAL) -> Solution:
    """Return best play for ``problem`` and its score law; ``place`` as for ``choose``."""
    return valued(problem, choose(problem, grid, place, effort=effort), cap=cap, nodes=effort.value)


def valued(problem: r.Problem, chosen: Chosen, *, cap: int, nodes: tuple[int, int]) -> Solution:
    """Return what was chosen with the score law that follows from it, over so many ``nodes`` a state."""
    started = time.perf_counter()
    pmf = _valued(problem, chosen.policy, chosen.value.to_go, chosen.visits / _share(problem), nodes, cap)
    seconds = (chosen.seconds, time.perf_counter() - started)
    return Solution(problem, chosen.policy, chosen.value, pmf, chosen.visits, chosen.residual, seconds)


def follow(
    problem: r.Problem,
    policy: r.Policy,
    to_go: Floats,
    place: Place,
    *,
    cap: int = 12,
    nodes: tuple[int, int] = USUAL.value,
    visits: Floats | None = None,
) -> Solution:
    """Return what a given policy comes to, as a solution.

    ``to_go`` [state] serves the choices that a Rule leaves; ``visits`` [state] tell how often balls are where, about,
    None: that is found out.
    """
    if visits is None:
        every = np.arange(to_go.size)
        steps = step_out(problem, policy, to_go, every, node_sets(16, Purpose.VALUE), 16, 1)
        visits = reached([(every, steps)], visits_from(problem, to_go, place))
    return valued(problem, Chosen(policy, r.Value(to_go), visits, 0.0, 0.0), cap=cap, nodes=nodes)
