"""Timing for the benchmarks: the best of several runs, the growth of a cost, and the rows of the table."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

import numpy as np

ROWS: list[tuple[str, str, str]] = []  # what, measured, against


def best_time(work: Callable[[], object], rounds: int = 3) -> float:
    """Return the shortest of ``rounds`` times in seconds, after one run to warm up."""
    work()
    times = []
    for _ in range(rounds):
        started = time.perf_counter()
        work()
        times.append(time.perf_counter() - started)
    return min(times)


def growth(sizes: Sequence[float], seconds: Sequence[float]) -> float:
    """Return the exponent b of seconds = a · size^b, by least squares on logarithms."""
    return float(np.polyfit(np.log(sizes), np.log(seconds), 1)[0])
