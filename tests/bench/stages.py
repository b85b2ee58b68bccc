"""What a solve spends its time on: stage by stage, with the strokes that each plays."""

from __future__ import annotations

import itertools
import os
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from typing import Any, NamedTuple
from unittest.mock import patch

from scenes import Position

from simcaddie.model import kernel
from simcaddie.solve import search, solution
from simcaddie.solve.quadrature import node_sets

STAGES = ("16-yd cells, everywhere", "8-yd cells, where balls come", "4-yd cells", "the place asked", "score law")
TIMED = ((solution, "_everywhere"), (solution, "_coarse"), (search, "improve"), (solution, "_valued"))


class Stage(NamedTuple):
    """Wall and processor seconds, and how many strokes were played."""

    name: str
    wall: float
    processor: float
    strokes: int


@contextmanager
def threads(count: int) -> Iterator[None]:
    with patch.dict(os.environ, SIMCADDIE_THREADS=str(count)):
        yield


@contextmanager
def strokes_counted() -> Iterator[list[int]]:
    """Yield a list that grows by a number of strokes for each call of the kernel, from any thread."""
    played: list[int] = []
    strokes = kernel.strokes

    def counting(problem: Any, to_go: Any, asked: Any, z: Any, count: int, *more: Any) -> None:
        played.append((more[-1] - more[-2]) * count)
        strokes(problem, to_go, asked, z, count, *more)

    with patch.object(kernel, "strokes", counting):
        yield played


def solve_stages(position: Position, effort: solution.Effort = solution.USUAL) -> list[Stage]:
    """Solve a hole as in a new process (nodes are made anew); return its stages in order."""
    node_sets.cache_clear()
    marks, depth = [], 0

    def mark() -> None:
        marks.append((time.perf_counter(), time.process_time(), sum(played)))

    def marked(function: Callable[..., Any], always: bool = False) -> Callable[..., Any]:
        """Put down the time when ``function`` is done, as a rule only where no other of them called it."""

        def call(*given: Any, **named: Any) -> Any:
            nonlocal depth
            depth += 1
            found = function(*given, **named)
            depth -= 1
            if always or not depth:
                mark()
            return found

        return call

    with strokes_counted() as played, ExitStack() as patches:
        for owner, name in TIMED:
            patches.enter_context(patch.object(owner, name, marked(getattr(owner, name), name == "_everywhere")))
        mark()
        solution.solve(*position, effort=effort)
    spent = [tuple(b - a for a, b in zip(*pair, strict=True)) for pair in itertools.pairwise(marks)]
    return [Stage(name, *one) for name, one in zip(STAGES, spent, strict=True)]
