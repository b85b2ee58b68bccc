"""Choosing the best action everywhere: coarse cells first, then fine cells with their neighbours' choices.

States are swept in bands by distance from the pin, outward, since most strokes end nearer to it; inside a band every
state is valued from the same table (Jacobi), so that bands can be shared out over threads without changing the result.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import partial
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simcaddie.play import records as r
from simcaddie.solve import sweep
from simcaddie.workers import share_out

__all__ = [
    "COARSE_CELL",
    "FAN",
    "Choice",
    "Few",
    "Plan",
    "choose_all",
    "choose_near",
    "choose_start",
    "every",
    "handed_on",
    "settle",
]

COARSE_CELL: Final = 6.0  # yd
BAND: Final = 12.0  # yd
MOST_FEW: Final = 9  # actions handed on to a fine cell: its coarse cell's and the neighbours'
FAN: Final = np.radians([-60.0, -45.0, -30.0, -20.0, -10.0, 0.0, 10.0, 20.0, 30.0, 45.0, 60.0])
START_FAN: Final = np.radians(sorted(np.arange(-40.0, 41.0, 2.0), key=abs))  # level lines: the straightest
ALL_ROUND: Final = np.radians(np.arange(-180.0, 180.0, 15.0))
NEIGHBOURS: Final = ((0, 0), (0, -1), (0, 1), (-1, 0), (1, 0), (-1, -1), (-1, 1), (1, -1), (1, 1))

Floats = NDArray[np.float64]


class Choice(NamedTuple):
    """The swing, bearing off the pin line (rad) and value chosen at every state so far; ``new`` is the sweep's own."""

    swing: NDArray[np.int16]
    bearing: Floats
    value: Floats
    new: Floats

    @classmethod
    def unmade(cls, value: Floats) -> Choice:
        """Return no choice yet, with first values to start from."""
        return cls(np.zeros(value.size, np.int16), np.zeros(value.size), value.copy(), value.copy())


class Plan(NamedTuple):
    """How to search: nodes; stages (node counts) and margins of the race; aim lines and first step off them (rad)."""

    nodes: Floats
    stages: NDArray[np.int64]
    margins: Floats
    fan: Floats
    all_round: Floats
    step: float
    every: bool


class Few(NamedTuple):
    """A few actions per state: [state, MOST_FEW], and how many of them."""

    swing: NDArray[np.int16]
    bearing: Floats
    many: NDArray[np.int64]


class Room(NamedTuple):
    """Working room of one thread: the candidates of one state."""

    swings: NDArray[np.int16]
    bearings: Floats
    total: Floats
    back: NDArray[np.int64]
    alive: NDArray[np.bool_]


def coarse_plan(nodes: Floats) -> Plan:
    """Return the search on coarse cells: all actions, few nodes."""
    return Plan(
        nodes,
        np.array([4, 8, 16, 32, 64]),
        np.array([0.6, 0.4, 0.25, 0.12, 0.0]),
        FAN,
        ALL_ROUND,
        math.radians(5.0),
        False,
    )


def fine_plan(nodes: Floats) -> Plan:
    """Return the search on fine cells: a few actions, more nodes."""
    stages = np.array([16, 64, nodes.shape[1]])[: 2 + (nodes.shape[1] > 64)]
    return Plan(nodes, stages, np.array([0.2, 0.06, 0.0])[: stages.size], FAN, ALL_ROUND, 0.0, False)


def every_plan(nodes: Floats, fan: Floats) -> Plan:
    """Return the exhaustive search: every action with all nodes, no race, no steps between the lines."""
    return Plan(nodes, np.array([nodes.shape[1]]), np.zeros(1), fan, ALL_ROUND, 0.0, True)


def _room(table: r.Table, plan: Plan) -> Room:
    actions = table.swings.table.shape[1] + table.touch.reach.size
    size = max(MOST_FEW, actions * max(plan.fan.size, plan.all_round.size))
    return Room(
        np.zeros(size, np.int16), np.zeros(size), np.zeros(size), np.zeros(size, np.int64), np.zeros(size, np.bool_)
    )


def bands(table: r.Table, which: NDArray[np.int64], width: float = BAND) -> Iterator[NDArray[np.int64]]:
    """Yield the states ``which`` in bands by distance from the pin, nearest first."""
    xy, ground = table.states.xy[which], table.ground
    band = np.floor(np.hypot(xy[:, 0] - ground.pin_x, xy[:, 1] - ground.pin_y) / width).astype(np.int64)
    order = np.argsort(band, kind="stable")
    yield from np.split(which[order], np.flatnonzero(np.diff(band[order])) + 1)


def _sweep(
    table: r.Table, choice: Choice, which: NDArray[np.int64], work: Callable[[NDArray[np.int64], int, int], None]
) -> float:
    """Run ``work`` over the states ``which``, band by band; return the largest change of a value."""
    change = 0.0
    for order in bands(table, which):
        share_out(partial(work, order), order.size)
        change = max(change, float(np.max(np.abs(choice.new[order] - choice.value[order]))))
        choice.value[order] = choice.new[order]
    return change


def every(table: r.Table) -> NDArray[np.int64]:
    """Return the numbers of all states."""
    return np.arange(table.states.lie.size)


def choose_all(table: r.Table, choice: Choice, plan: Plan, which: NDArray[np.int64] | None = None) -> float:
    """Choose among every sensible action at the states ``which`` (all by default); return the largest change."""

    def work(order: NDArray[np.int64], start: int, stop: int) -> None:
        sweep.sweep_all(table, choice.value, plan, choice, _room(table, plan), order, start, stop)

    return _sweep(table, choice, every(table) if which is None else which, work)


def choose_start(table: r.Table, choice: Choice, nodes: Floats) -> None:
    """Choose among every action along many lines, with many nodes, at the place asked from, in place."""
    most = nodes.shape[1]
    stages, margins = np.array([64, 256, 1024, most]), np.array([0.3, 0.1, 0.05, 0.0])
    plan = every_plan(nodes, START_FAN)._replace(stages=stages, margins=margins)
    order = np.array([table.states.start])
    sweep.sweep_all(table, choice.value, plan, choice, _room(table, plan), order, 0, 1)
    choice.value[order] = choice.new[order]


def choose_near(table: r.Table, choice: Choice, plan: Plan, few: Few, which: NDArray[np.int64]) -> float:
    """Choose at the states ``which`` among the actions that were handed on, in place; return the largest change."""

    def work(order: NDArray[np.int64], start: int, stop: int) -> None:
        sweep.sweep_few(table, choice.value, plan, few, choice, _room(table, plan), order, start, stop)

    return _sweep(table, choice, which, work)


def settle(
    table: r.Table,
    choice: Choice,
    nodes: Floats,
    which: NDArray[np.int64],
    tolerance: float = 1e-3,
    most: int = 3,
) -> tuple[int, float]:
    """Value the choices of ``which`` again until none moves by more than ``tolerance``; return (sweeps, change)."""

    def work(order: NDArray[np.int64], start: int, stop: int) -> None:
        sweep.sweep_values(table, choice.value, nodes, choice, order, start, stop)

    change = math.inf
    for sweeps in range(1, most + 1):
        change = _sweep(table, choice, which, work)
        if change <= tolerance:
            return sweeps, change
    return most, change


def parents(coarse: r.Table, fine: r.Table, dy: int = 0, dx: int = 0) -> NDArray[np.int64]:
    """Return, per fine state, the coarse state of its lie over it, or that (dy, dx) cells away; −1 where none is."""
    xy, lie = fine.states.xy, fine.states.lie.astype(np.int64)
    rows, columns = coarse.states.of_cell.shape[1:]
    iy = np.floor((xy[:, 1] - coarse.states.y0) / coarse.states.cell).astype(np.int64) + dy
    ix = np.floor((xy[:, 0] - coarse.states.x0) / coarse.states.cell).astype(np.int64) + dx
    return np.asarray(coarse.states.of_cell[lie, np.clip(iy, 0, rows - 1), np.clip(ix, 0, columns - 1)])


def handed_on(coarse: r.Table, choice: Choice, fine: r.Table) -> tuple[Choice, Few]:
    """Return the coarse choice on the fine states, and the actions that coarse cells around each chose from its lie."""
    size = fine.states.lie.size
    here = parents(coarse, fine)
    few = Few(np.zeros((size, MOST_FEW), np.int16), np.zeros((size, MOST_FEW)), np.zeros(size, np.int64))
    for dy, dx in NEIGHBOURS:
        there = parents(coarse, fine, dy, dx)
        swing, bearing = choice.swing[there], choice.bearing[there]
        known = (few.swing == swing[:, None]) & (np.abs(few.bearing - bearing[:, None]) < 1e-9)
        known &= np.arange(MOST_FEW)[None, :] < few.many[:, None]
        fresh = (there >= 0) & ~known.any(axis=1)
        few.swing[fresh, few.many[fresh]], few.bearing[fresh, few.many[fresh]] = swing[fresh], bearing[fresh]
        few.many[fresh] += 1
    first = Choice(choice.swing[here], choice.bearing[here], choice.value[here], choice.new[here])
    return first, few
