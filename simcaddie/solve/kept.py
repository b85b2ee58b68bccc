"""Solved holes, kept: in memory while a command runs, and on the disk between commands (``shelf``).

A solution depends on what it is given alone, so that its key is a digest of every number that goes in.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.ground.grid import AreaGrid
from simcaddie.play import records as r
from simcaddie.shelf import Arrays, digest, kept_arrays
from simcaddie.solve.solution import USUAL, Effort, Solution, follow, solve

__all__ = ["followed", "solved"]

MOST_IN_MEMORY: Final = 24  # of some 1 MB each

Floats = NDArray[np.float64]
Place = tuple[float, float, int]

_memory: OrderedDict[str, Solution] = OrderedDict()
_lock = threading.Lock()


def _arrays(solution: Solution) -> Arrays:
    return {
        "swing": solution.policy.swing,
        "bearing": solution.policy.bearing,
        "to_go": solution.value.to_go,
        "law": solution.law,
        "visits": solution.visits,
        "numbers": np.array([solution.residual, *solution.seconds]),
    }


def _fits(found: Arrays, states: int, cap: int) -> bool:
    """Tell whether arrays from the disk can be a solution of so many states."""
    shapes = {
        "swing": (states,), "bearing": (states,), "to_go": (states,), "law": (cap + 1, states), "visits": (states,),
        "numbers": (3,),
    }  # fmt: skip
    return set(found) == set(shapes) and all(
        array.shape == shapes[name] and array.dtype == (np.int16 if name == "swing" else np.float64)
        for name, array in found.items()
    )


def _solution(table: r.Table, found: Arrays) -> Solution:
    residual, choosing, valuing = (float(number) for number in found["numbers"])
    policy, value = r.Policy(found["swing"], found["bearing"]), r.Value(found["to_go"])
    return Solution(table, policy, value, found["law"], found["visits"], residual, (choosing, valuing))


def _kept(key: str, table: r.Table, cap: int, make: Callable[[], Solution]) -> Solution:
    with _lock:
        if key in _memory:
            _memory.move_to_end(key)
            return _memory[key]
    states = table.states.lie.size
    found = _solution(table, kept_arrays(key, lambda: _arrays(make()), lambda held: _fits(held, states, cap)))
    with _lock:
        _memory[key] = found
        while len(_memory) > MOST_IN_MEMORY:
            _memory.popitem(last=False)
    return found


def _content(table: r.Table) -> tuple[Any, ...]:
    """Return all of a table that a solution depends on: its states follow from the ground, their cell and the place."""
    states = table.states
    return (*table[:5], states.xy.shape, states.x0, states.y0, states.cell, states.start)


def solved(table: r.Table, grid: AreaGrid, place: Place, *, cap: int = 12, effort: Effort = USUAL) -> Solution:
    """Return what ``solve`` does, kept."""
    key = digest("solve", _content(table), place, cap, effort)
    return _kept(key, table, cap, lambda: solve(table, grid, place, cap=cap, effort=effort))


def followed(
    table: r.Table,
    policy: Callable[[], r.Policy],
    name: tuple[Any, ...],
    to_go: Floats,
    place: Place,
    *,
    cap: int = 12,
    nodes: tuple[int, int] = USUAL.value,
    visits: Floats | None = None,
) -> Solution:
    """Return what ``follow`` does, kept; ``name`` tells all that ``policy`` depends on besides the table."""
    key = digest("follow", _content(table), name, to_go, place, cap, nodes, visits)
    return _kept(key, table, cap, lambda: follow(table, policy(), to_go, place, cap=cap, nodes=nodes, visits=visits))
