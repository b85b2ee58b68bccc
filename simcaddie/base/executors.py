"""Where pieces of work run: on this process's threads, in processes of their own, or on an existing dask cluster.

All three are a ``concurrent.futures.Executor``; what is sent there is a plain function by name and its arguments, what
comes back is JSON, so that neither depends on where a piece ran. Inside a piece nothing is shared out further.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import re
import signal
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from importlib import import_module
from multiprocessing.connection import wait
from typing import Any, Final

from simcaddie.base.errors import BadRequest, shown
from simcaddie.base.parallel import own_pool, threads

__all__ = ["HERE", "MOST_PROCESSES", "Place", "place_of"]

HERE: Final = "threads"
MOST_PROCESSES: Final = 256
PATIENCE: Final = 10.0  # seconds for a cluster to answer
_EXPECTED: Final = "processes:N or dask:tcp://HOST:PORT"


class Place:
    """Where pieces run: ``executor`` takes them, ``workers`` at a time; ``renew`` replaces one whose worker died."""

    def __init__(self, make: Callable[[], Executor], workers: int, close: Callable[[], object] | None = None) -> None:
        self._make, self._close, self.workers = make, close, workers
        self._others = set(multiprocessing.active_children())
        self.executor = make()

    def renew(self) -> None:
        """Take a new executor instead of a broken one."""
        self._drop(wait=False)
        self.executor = self._make()

    def leave(self, *, at_once: bool) -> None:
        """End what was begun here; ``at_once``: processes in the middle of a piece too. A cluster's is cancelled."""
        if self._close is None:
            return
        if at_once:
            for worker in set(multiprocessing.active_children()) - self._others:
                worker.terminate()
        self._drop(wait=True)
        self._close()

    def _drop(self, *, wait: bool) -> None:
        """Leave an executor; what it has not begun is cancelled (a cluster's does so by itself)."""
        if isinstance(self.executor, ProcessPoolExecutor):
            self.executor.shutdown(wait=wait, cancel_futures=True)
        else:
            self.executor.shutdown(wait=False)


def _end_with_parent() -> None:
    """End this worker when the process that started it is gone, however that went; Ctrl-C is for that one."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=lambda: (wait([parent.sentinel]), os._exit(1)), daemon=True).start()


def _processes(count: int) -> Place:
    context = multiprocessing.get_context("spawn")  # a forked one would inherit threads that hold locks

    def make() -> Executor:
        return ProcessPoolExecutor(count, mp_context=context, initializer=_end_with_parent)

    return Place(make, count, lambda: None)


def _dask(address: str) -> Place:
    """Return a running cluster; its own scheduler runs a piece again where a worker dies, as often as it is set to."""
    try:
        distributed = import_module("distributed")
    except ImportError:
        raise BadRequest("--executor: dask needs pip install 'simcaddie[dask]'") from None
    try:
        client: Any = distributed.Client(address, timeout=PATIENCE, set_as_default=False)
    except (OSError, ValueError, TimeoutError) as error:
        raise BadRequest(
            f"--executor: no dask scheduler answers at {shown(address)} ({type(error).__name__})"
        ) from None
    workers = sum(client.nthreads().values())
    return Place(lambda: client.get_executor(pure=False), max(1, workers), client.close)


@contextlib.contextmanager
def place_of(text: str | None) -> Iterator[Place]:
    """Yield the place that ``--executor`` says: None or "threads", "processes:N", "dask:tcp://HOST:PORT".

    Raises
    ------
    BadRequest
        For another word, too many processes, or where no cluster answers.
    """
    kind, _, rest = (text or HERE).partition(":")
    if kind == HERE and not rest:
        yield Place(own_pool, threads())  # the program's own threads go on
        return
    if kind == "processes" and re.fullmatch(r"[1-9]\d{0,3}", rest) and int(rest) <= MOST_PROCESSES:
        place = _processes(int(rest))
    elif kind == "dask" and re.fullmatch(r"(tcp|tls|ws|wss)://\S+", rest):
        place = _dask(rest)
    else:
        raise BadRequest(f"--executor: expected {_EXPECTED}, at most {MOST_PROCESSES}, found '{shown(text or '')}'")
    try:
        yield place
    except BaseException:
        place.leave(at_once=True)
        raise
    place.leave(at_once=False)
