"""Solved holes, kept: in memory while a command runs, and on the disk between commands (``base/memo.py``).

A solution depends on what it is given alone, so that its key is a digest of every number that goes in.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.memo import Arrays, digest, kept_arrays
from simcaddie.course.grid import AreaGrid
from simcaddie.model import arrays as r
from simcaddie.solve.solution import USUAL, Chosen, Effort, Solution, choose, follow, solve

__all__ = ["chosen", "followed", "solved"]

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
        "law": solution.pmf,
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


def _solution(problem: r.Problem, found: Arrays) -> Solution:
    residual, choosing, valuing = (float(number) for number in found["numbers"])
    policy, value = r.Policy(found["swing"], found["bearing"]), r.Value(found["to_go"])
    return Solution(problem, policy, value, found["law"], found["visits"], residual, (choosing, valuing))


def _kept(key: str, problem: r.Problem, cap: int, make: Callable[[], Solution]) -> Solution:
    with _lock:
        if key in _memory:
            _memory.move_to_end(key)
            return _memory[key]
    states = problem.states.lie.size
    found = _solution(problem, kept_arrays(key, lambda: _arrays(make()), lambda held: _fits(held, states, cap)))
    with _lock:
        _memory[key] = found
        while len(_memory) > MOST_IN_MEMORY:
            _memory.popitem(last=False)
    return found


def _content(problem: r.Problem) -> tuple[Any, ...]:
    """Return all of a table that a solution depends on: its states follow from the ground, their cell and the place."""
    states = problem.states
    return (*problem[:5], states.xy.shape, states.x0, states.y0, states.cell, states.start)


def solved(problem: r.Problem, grid: AreaGrid, place: Place, *, cap: int = 12, effort: Effort = USUAL) -> Solution:
    """Return what ``solve`` does, kept."""
    key = digest("solve", _content(problem), place, cap, effort)
    return _kept(key, problem, cap, lambda: solve(problem, grid, place, cap=cap, effort=effort))


def chosen(problem: r.Problem, grid: AreaGrid, place: Place, *, effort: Effort = USUAL) -> Chosen:
    """Return what ``choose`` does, kept apart from solutions: enough to play by, for three quarters of the time."""

    def made() -> Arrays:
        own = choose(problem, grid, place, effort=effort)
        return {
            "swing": own.policy.swing,
            "bearing": own.policy.bearing,
            "to_go": own.value.to_go,
            "visits": own.visits,
        }

    def fits(found: Arrays) -> bool:
        same = (problem.states.lie.size,)
        kinds = {"swing": np.int16, "bearing": np.float64, "to_go": np.float64, "visits": np.float64}
        return set(found) == set(kinds) and all(a.shape == same and a.dtype == kinds[n] for n, a in found.items())

    found = kept_arrays(digest("choose", _content(problem), place, effort), made, fits)
    return Chosen(r.Policy(found["swing"], found["bearing"]), r.Value(found["to_go"]), found["visits"], 0.0, 0.0)


def followed(
    problem: r.Problem,
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
    key = digest("follow", _content(problem), name, to_go, place, cap, nodes, visits)
    return _kept(
        key, problem, cap, lambda: follow(problem, policy(), to_go, place, cap=cap, nodes=nodes, visits=visits)
    )
