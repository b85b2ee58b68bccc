"""Where a policy takes balls: transitions, visits, and the law of strokes to go that follows from them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.parallel import share_out
from simcaddie.base.streams import Purpose
from simcaddie.model import arrays as r
from simcaddie.model.batch import asked, in_chunks, rows_of
from simcaddie.solve import values
from simcaddie.solve.quadrature import Nodes, node_sets
from simcaddie.solve.search import block_of

__all__ = ["Steps", "policy_pmf", "putt_pmfs", "reached", "step_out", "visits_from"]

REACH_AIMS: Final = np.radians(np.arange(-24.0, 25.0, 6.0))
REACH_NODES: Final = 64
REACH_STROKES: Final = 4

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]
Place = tuple[float, float, int]


class Steps(NamedTuple):
    """Transitions of some states: next state (−1: down), strokes counted [row, node]; law of balls that are down."""

    after: NDArray[np.int32]
    added: NDArray[np.int8]
    green: Floats


def putt_pmfs(problem: r.Problem) -> Floats:
    """Return P(exactly k putts), float64[tilt, distance, 5]."""
    return np.diff(problem.putting.cumulative, axis=2, prepend=0.0)


def step_out(
    problem: r.Problem, policy: r.Policy, to_go: Floats, which: Whole, nodes: Nodes, count: int, cap: int
) -> Steps:
    """Return where the first ``count`` nodes of each state's set take the states ``which`` under a policy."""
    steps = Steps(
        np.empty((which.size, count), np.int32), np.empty((which.size, count), np.int8), np.zeros((which.size, cap + 1))
    )
    block = np.zeros(problem.states.lie.size, np.int64)
    block[which] = block_of(problem, nodes, which)
    turn, pmf = policy.turn, putt_pmfs(problem)

    def fill(rows: r.Asked, first: int, last: int) -> r.Asked:
        values.start_anywhere(problem, policy, turn, which, block, nodes.draws, count, rows, first, last)
        return rows

    def use(rest: r.Rest, first: int, last: int) -> None:
        values.take_steps(problem, rest, count, pmf, steps, first, last)

    in_chunks(problem, to_go, which.size, fill, nodes.draws, 1, use, rows=count)
    return steps


def policy_pmf(parts: Sequence[tuple[Whole, Steps]], states: int, cap: int) -> Floats:
    """Return the law of strokes to go, float64[cap + 1, states], from the transitions of parts of the states.

    The last row holds cap or more.
    """
    pmf = np.zeros((cap + 1, states))
    for strokes in range(1, cap):
        for which, steps in parts:
            share_out(partial(values.pmf_layer, steps, which, pmf, strokes), which.size, least=256)
    pmf[cap] = 1.0 - pmf[:cap].sum(axis=0)
    return pmf


def visits_from(problem: r.Problem, to_go: Floats, place: Place) -> Floats:
    """Return how often first strokes from ``place`` come to rest at each state: any swing along lines about the pin."""
    x, y, lie = place
    line = np.arctan2(problem.ground.pin_x - x, problem.ground.pin_y - y)
    usable = np.flatnonzero(problem.swings.rows[lie, :, r.SW_USABLE])
    swings = usable if usable.size else problem.swings.rows.shape[1] + np.arange(problem.touch.reach.size)
    rows = asked(x, y, lie, np.repeat(swings, REACH_AIMS.size), line + np.tile(REACH_AIMS, swings.size))
    nodes = node_sets(REACH_NODES, Purpose.ANSWER, 1)
    steps = Steps(
        np.empty((rows.x.size, REACH_NODES), np.int32),
        np.empty((rows.x.size, REACH_NODES), np.int8),
        np.zeros((rows.x.size, 2)),
    )
    pmf = putt_pmfs(problem)

    def use(rest: r.Rest, first: int, last: int) -> None:
        values.take_steps(problem, rest, REACH_NODES, pmf, steps, first, last)

    in_chunks(problem, to_go, rows.x.size, rows_of(rows), nodes.draws, REACH_NODES, use)
    after = steps.after[steps.after >= 0]
    return np.bincount(after, minlength=problem.states.lie.size) / steps.after.size


def reached(parts: Sequence[tuple[Whole, Steps]], first: Floats) -> Floats:
    """Return how often balls are at each state in all, ``first`` [state] being where first strokes leave them."""
    visits, ever = first, first.copy()
    for _ in range(REACH_STROKES):
        new = np.zeros_like(visits)
        for which, steps in parts:
            values.visit(steps, which, visits, new)
        visits, ever = new, ever + new
    return ever
