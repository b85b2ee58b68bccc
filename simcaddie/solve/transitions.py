"""Where a policy takes balls: transitions, visits, and the law of strokes to go that follows from them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simcaddie.play import records as r
from simcaddie.play.batch import asked, in_chunks, rows_of
from simcaddie.solve import values
from simcaddie.solve.nodes import ANSWER, Nodes, node_sets
from simcaddie.solve.search import block_of
from simcaddie.workers import share_out

__all__ = ["Steps", "policy_law", "putt_laws", "reached", "step_out", "visits_from"]

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


def putt_laws(table: r.Table) -> Floats:
    """Return P(exactly k putts), float64[tilt, distance, 5]."""
    return np.diff(table.putting.cumulative, axis=2, prepend=0.0)


def step_out(
    table: r.Table, policy: r.Policy, to_go: Floats, which: Whole, nodes: Nodes, count: int, cap: int
) -> Steps:
    """Return where the first ``count`` nodes of each state's set take the states ``which`` under a policy."""
    steps = Steps(
        np.empty((which.size, count), np.int32), np.empty((which.size, count), np.int8), np.zeros((which.size, cap + 1))
    )
    block = np.zeros(table.states.lie.size, np.int64)
    block[which] = block_of(table, nodes, which)
    turn, law = policy.turn, putt_laws(table)

    def fill(rows: r.Asked, first: int, last: int) -> r.Asked:
        values.start_anywhere(table, policy, turn, which, block, nodes.draws, count, rows, first, last)
        return rows

    def use(rest: r.Rest, first: int, last: int) -> None:
        values.take_steps(table, rest, count, law, steps, first, last)

    in_chunks(table, to_go, which.size, fill, nodes.draws, 1, use, rows=count)
    return steps


def policy_law(parts: Sequence[tuple[Whole, Steps]], states: int, cap: int) -> Floats:
    """Return the law of strokes to go, float64[cap + 1, states], from the transitions of parts of the states.

    The last row holds cap or more.
    """
    law = np.zeros((cap + 1, states))
    for strokes in range(1, cap):
        for which, steps in parts:
            share_out(partial(values.law_layer, steps, which, law, strokes), which.size, least=256)
    law[cap] = 1.0 - law[:cap].sum(axis=0)
    return law


def visits_from(table: r.Table, to_go: Floats, place: Place) -> Floats:
    """Return how often first strokes from ``place`` come to rest at each state: any swing along lines about the pin."""
    x, y, lie = place
    line = np.arctan2(table.ground.pin_x - x, table.ground.pin_y - y)
    usable = np.flatnonzero(table.swings.table[lie, :, r.SW_USABLE])
    swings = usable if usable.size else table.swings.table.shape[1] + np.arange(table.touch.reach.size)
    rows = asked(x, y, lie, np.repeat(swings, REACH_AIMS.size), line + np.tile(REACH_AIMS, swings.size))
    nodes = node_sets(REACH_NODES, ANSWER, 1)
    steps = Steps(
        np.empty((rows.x.size, REACH_NODES), np.int32),
        np.empty((rows.x.size, REACH_NODES), np.int8),
        np.zeros((rows.x.size, 2)),
    )
    law = putt_laws(table)

    def use(rest: r.Rest, first: int, last: int) -> None:
        values.take_steps(table, rest, REACH_NODES, law, steps, first, last)

    in_chunks(table, to_go, rows.x.size, rows_of(rows), nodes.draws, REACH_NODES, use)
    after = steps.after[steps.after >= 0]
    return np.bincount(after, minlength=table.states.lie.size) / steps.after.size


def reached(parts: Sequence[tuple[Whole, Steps]], first: Floats) -> Floats:
    """Return how often balls are at each state in all, ``first`` [state] being where first strokes leave them."""
    visits, ever = first, first.copy()
    for _ in range(REACH_STROKES):
        new = np.zeros_like(visits)
        for which, steps in parts:
            values.visit(steps, which, visits, new)
        visits, ever = new, ever + new
    return ever
