"""Timing for the benchmarks: the best of several runs, the growth of a cost, and tables to read or to paste."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

import numpy as np

Row = Sequence[str]


def best_time(work: Callable[[], object], rounds: int = 3, clock: Callable[[], float] = time.process_time) -> float:
    """Return the shortest of ``rounds`` times in seconds, after one run to warm up.

    As a rule processor seconds, of all threads: a busy machine changes them less than those on the wall.
    """
    work()
    times = []
    for _ in range(rounds):
        started = clock()
        work()
        times.append(clock() - started)
    return min(times)


def growth(sizes: Sequence[float], seconds: Sequence[float]) -> float:
    """Return the exponent b of seconds = a · size^b, by least squares on logarithms."""
    return float(np.polyfit(np.log(sizes), np.log(seconds), 1)[0])


def aligned(rows: Sequence[Row]) -> str:
    """Return a Markdown table with its columns lined up; the first row is the heading."""
    widths = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)]
    ruled = [rows[0], ["-" * width for width in widths], *rows[1:]]
    return "\n".join(
        "| " + " | ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) + " |" for row in ruled
    )
