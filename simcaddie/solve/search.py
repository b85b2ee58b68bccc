"""Choosing the best action everywhere: a race among actions, swept over the states from the hole outward.

States are swept in bands by distance from the pin, outward, since most strokes end nearer to it; inside a band every
state is valued from the same table (Jacobi), so that bands can be shared out over threads without changing the result.

All states of a band race together. A race goes in rounds, each with twice the nodes of the last; what is behind the
leader by more than the error that so many nodes leave drops out. A state stops when one action is left or the nodes
that it is worth are used up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.streams import Purpose
from simcaddie.model import arrays as r
from simcaddie.model.batch import asked, in_chunks, rows_of
from simcaddie.solve import values
from simcaddie.solve.actions import NEVER, Actions, Choice, pin_line
from simcaddie.solve.quadrature import SETS, Nodes, node_sets

__all__ = ["Both", "action_values", "bands", "block_of", "improve", "race"]

NARROWEST: Final = 10.0  # yd: width of the bands near the hole
WIDENING: Final = 0.12  # of the distance: width of bands farther out
FIRST_ROUND: Final = 8  # nodes
FEWEST: Final = 32  # nodes of a value
# Standard error of a mean over n nodes: ERROR · sd · n^RATE, measured on demo holes; independent nodes have 1 and −1/2
ERROR: Final = 1.5
RATE: Final = -0.8
SURE: Final = 2.0  # standard errors of the difference by which an action must be behind to drop out
FINEST: Final = math.radians(1.0)  # no finer steps of an aim are tried

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]


class Sums(NamedTuple):
    """Per action: Σ strokes and values, Σ squares, how many nodes come back, over how many nodes."""

    total: Floats
    square: Floats
    back: Floats
    nodes: Whole

    @property
    def mean(self) -> Floats:
        """The worth of each."""
        left = self.nodes - self.back
        return np.where(left > 0.0, self.total / np.maximum(left, 1.0), NEVER)

    @property
    def error(self) -> Floats:
        """The standard error of each worth."""
        mean = self.total / self.nodes
        sd = np.sqrt(np.maximum(self.square / self.nodes - mean * mean, 0.0))
        return ERROR * sd * np.asarray(self.nodes, np.float64) ** RATE


class Both(NamedTuple):
    """Nodes to choose with, and others to value the choice with: a value from the nodes that chose is too low."""

    choosing: Nodes
    valuing: Nodes

    @classmethod
    def of(cls, count: int, sets: int = SETS) -> Both:
        """Return sets of ``count`` nodes for either."""
        return cls(node_sets(count, Purpose.CHOOSE, sets), node_sets(count, Purpose.VALUE, sets))


def block_of(problem: r.Problem, nodes: Nodes, state: Whole) -> Whole:
    """Return the first node of the set that serves each state: neighbours differ, a mirrored hole has the same."""
    states, ground = problem.states, problem.ground
    row = np.floor((states.xy[state, 1] - states.y0) / states.cell).astype(np.int64)
    aside = np.floor(np.abs(states.xy[state, 0] - ground.pin_x) / states.cell + 0.5).astype(np.int64)
    return np.asarray((row * 29 + aside * 13) % nodes.sets * nodes.each)


def action_sums(problem: r.Problem, to_go: Floats, nodes: Nodes, actions: Actions, low: int, high: int) -> Sums:
    """Return the sums of actions over the nodes ``low`` … ``high`` of each state's own set."""
    state = actions.state
    xy = problem.states.xy[state]
    rows = asked(
        xy[:, 0],
        xy[:, 1],
        problem.states.lie[state],
        actions.swing,
        pin_line(problem, state) + actions.bearing,
        block_of(problem, nodes, state) + low,
    )
    sums, count = np.empty((state.size, 3)), high - low

    def use(rest: r.Rest, first: int, last: int) -> None:
        values.add_up(problem, to_go, rest, count, state, sums, first, last)

    in_chunks(problem, to_go, state.size, rows_of(rows), nodes.draws, count, use)
    return Sums(sums[:, 0].copy(), sums[:, 1].copy(), sums[:, 2].copy(), np.full(state.size, count))


def action_values(problem: r.Problem, to_go: Floats, nodes: Nodes, actions: Actions, count: int) -> Floats:
    """Return the worth of each action over the first ``count`` nodes of its state's set."""
    return action_sums(problem, to_go, nodes, actions, 0, count).mean


def _groups(state: Whole) -> Whole:
    """Return where each state's actions begin."""
    return np.flatnonzero(np.diff(state, prepend=-1))


def race(
    problem: r.Problem, to_go: Floats, nodes: Nodes, actions: Actions, most: Whole, least: int = FIRST_ROUND
) -> tuple[Actions, Floats, Floats]:
    """Return the winner of every state's actions and its worth, and how far behind each action was at its last look.

    ``most`` [state of the table] is how many nodes a state may use, ``least`` how many the first round has, powers of
    two.
    """
    first = _groups(actions.state)
    winner, worth = np.empty(first.size, np.int64), np.empty(first.size)
    group = np.repeat(np.arange(first.size), np.diff(first, append=actions.state.size))
    alive = np.arange(actions.state.size)
    totals, behind = np.zeros((3, alive.size)), np.empty(alive.size)
    low, high = 0, least
    while alive.size:
        sums = action_sums(problem, to_go, nodes, actions.of(alive), low, high)
        totals[:, alive] += np.array(sums[:3])
        total, square, back = totals[:, alive]
        so_far = Sums(total, square, back, np.full(alive.size, high))
        mean, error = so_far.mean, so_far.error
        here = group[alive]
        start = np.flatnonzero(np.diff(here, prepend=-1))
        size = np.diff(start, append=here.size)
        best = np.minimum.reduceat(mean, start)
        at = _first_of(mean == np.repeat(best, size), start)
        winner[here[start]], worth[here[start]] = alive[at], best
        behind[alive] = mean - np.repeat(best, size)
        apart = SURE * np.hypot(error, np.repeat(error[at], size))
        stays = behind[alive] <= apart
        counts = np.add.reduceat(stays, start)
        on = (counts > 1) & (most[actions.state[alive[start]]] > high)
        alive = alive[stays & np.repeat(on, size)]
        low, high = high, 2 * high
    return actions.of(winner), worth, behind


def _first_of(flags: NDArray[np.bool_], start: Whole) -> Whole:
    """Return the place of the first flag that is set in each group."""
    places = np.where(flags, np.arange(flags.size), flags.size)
    return np.minimum.reduceat(places, start)


def bands(problem: r.Problem, which: Whole) -> Iterator[Whole]:
    """Yield the states ``which`` in bands by distance from the pin, nearest first, wider farther out."""
    xy, ground = problem.states.xy[which], problem.ground
    away = np.hypot(xy[:, 0] - ground.pin_x, xy[:, 1] - ground.pin_y)
    band = np.floor(np.log1p(away * (WIDENING / NARROWEST)) / WIDENING).astype(np.int64)
    order = np.argsort(band, kind="stable")
    yield from np.split(which[order], np.flatnonzero(np.diff(band[order])) + 1)


def _polished(
    problem: r.Problem, to_go: Floats, nodes: Nodes, best: Actions, worth: Floats, count: Whole, step: float
) -> tuple[Actions, Floats]:
    """Return actions and worths after halving steps about their bearings, down to a degree or so."""
    bearing, worth = best.bearing.copy(), worth.copy()
    while step > FINEST:
        for size in np.unique(count):
            here = np.flatnonzero(count == size)
            tried = Actions(
                np.concatenate([best.state[here]] * 2),
                np.concatenate([best.swing[here]] * 2),
                np.concatenate([bearing[here] - step, bearing[here] + step]),
            )
            low, high = action_values(problem, to_go, nodes, tried, int(size)).reshape(2, -1)
            better = np.minimum(low, high) < worth[here]
            turn = np.where(better, np.where(low <= high, -step, step), 0.0)
            bearing[here] += turn
            worth[here] = np.where(better, np.minimum(low, high), worth[here])
        step *= 0.5
    return Actions(best.state, best.swing, bearing), worth


def _valued(problem: r.Problem, to_go: Floats, nodes: Nodes, best: Actions, most: Whole) -> Floats:
    """Return the worth of actions over nodes that had no part in choosing them."""
    count, worth = np.maximum(most[best.state], FEWEST), np.empty(best.state.size)
    for size in np.unique(count):
        here = np.flatnonzero(count == size)
        worth[here] = action_values(problem, to_go, nodes, best.of(here), int(size))
    return worth


def improve(
    problem: r.Problem,
    choice: Choice,
    nodes: Both,
    actions: Actions,
    most: Whole,
    *,
    step: float = 0.0,
    polish: int = 0,
    least: int = FIRST_ROUND,
) -> tuple[float, Floats]:
    """Choose among ``actions`` at their states, in place, from the hole outward.

    Returns the largest change, and how many strokes each action was behind the best of its state when last looked at.

    ``most`` [state] bounds the nodes, ``least`` is how many a race begins with; with a ``step`` (rad) aims are
    polished by halving it, with ``polish`` nodes at the most.
    """
    change, behind, start = 0.0, np.empty(actions.state.size), _groups(actions.state)
    sizes = np.diff(start, append=actions.state.size)
    place = np.zeros(problem.states.lie.size, np.int64)
    place[actions.state[start]] = np.arange(start.size)
    for band in bands(problem, actions.state[start]):
        here = place[band]
        rows = np.repeat(start[here] - np.cumsum(sizes[here]) + sizes[here], sizes[here]) + np.arange(sizes[here].sum())
        best, worth, behind[rows] = race(problem, choice.value, nodes.choosing, actions.of(rows), most, least)
        if step:
            count = np.maximum(np.minimum(most[best.state], polish), FIRST_ROUND)
            again = action_values(problem, choice.value, nodes.choosing, best, polish)
            best, worth = _polished(problem, choice.value, nodes.choosing, best, again, count, step)
        worth = _valued(problem, choice.value, nodes.valuing, best, most)
        change = max(change, float(np.max(np.abs(worth - choice.value[best.state]))))
        choice.swing[best.state], choice.bearing[best.state], choice.value[best.state] = best.swing, best.bearing, worth
    return change, behind
