"""Sharing work out over Python threads that run compiled code without the lock.

Every item of work writes its own result from its own numbers, so that no result depends on how many threads there
are. ``SIMCADDIE_THREADS`` bounds them. Threads, not numba's parallel loops: those take no nested records, compile
slowly, and abort in forked workers under some threading layers.
"""

from __future__ import annotations

import contextlib
import itertools
import os
import threading
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from typing import Final, TypeVar

__all__ = ["alone", "each", "own_pool", "share_out", "threads"]

MOST_THREADS: Final = 64  # more help nobody

T = TypeVar("T")
R = TypeVar("R")

_here = threading.local()


def threads() -> int:
    """Return how many threads share the work: ``SIMCADDIE_THREADS``, at most 64, else one a core."""
    asked = os.environ.get("SIMCADDIE_THREADS", "")
    if asked.isdecimal() and len(asked) < 10 and int(asked) > 0:
        return min(int(asked), MOST_THREADS)
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _enter() -> None:
    _here.inside = True


@cache
def _pool(count: int) -> ThreadPoolExecutor:
    return ThreadPoolExecutor(count, thread_name_prefix="simcaddie", initializer=_enter)


def own_pool() -> ThreadPoolExecutor:
    """Return the threads of this process; they go on until it ends."""
    return _pool(threads())


@contextlib.contextmanager
def alone() -> Iterator[None]:
    """Share nothing out from this thread: it is one of several that work already."""
    before, _here.inside = getattr(_here, "inside", False), True
    try:
        yield
    finally:
        _here.inside = before


def _alone() -> bool:
    """Tell whether to stay on this thread: there is but one, or it is a worker already."""
    return threads() == 1 or getattr(_here, "inside", False)


def share_out(work: Callable[[int, int], None], items: int, least: int = 16) -> None:
    """Call ``work(start, stop)`` over all of ``items``, in pieces of at least ``least``."""
    pieces = min(items // least, 8 * threads())
    if pieces <= 1 or _alone():
        work(0, items)
        return
    edges = [items * i // pieces for i in range(pieces + 1)]
    for done in [_pool(threads()).submit(work, start, stop) for start, stop in itertools.pairwise(edges)]:
        done.result()


def each(function: Callable[[T], R], items: Iterable[T]) -> list[R]:
    """Return ``function`` of each item, in order."""
    if _alone():
        return [function(item) for item in items]
    return list(_pool(threads()).map(function, items))
