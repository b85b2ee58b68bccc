"""Many strokes at once: the kernel over threads, a chunk of balls at a time."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simcaddie.base.parallel import share_out
from simcaddie.model import arrays as r
from simcaddie.model import kernel

__all__ = ["CHUNK", "Fill", "Use", "asked", "in_chunks", "play", "rows_of", "working_room"]

CHUNK: Final = 8192  # balls whose numbers stay in the processor's second cache
LEAST: Final = 2048  # balls that are worth handing to another thread

# Takes items start … stop; returns the rows to play, as many for each item, which may be written into ``rows``.
Fill = Callable[[r.Asked, int, int], r.Asked]
# Takes the balls of items start … stop, those of an item after each other.
Use = Callable[[r.Rest, int, int], None]

_here = threading.local()


def working_room() -> tuple[r.Room, r.Asked, r.Rest]:
    """Return this thread's working room, and room for the rows and balls of a chunk."""
    if not hasattr(_here, "room"):
        block = r.Room(np.zeros((r.ROOM_NUMBERS, r.BLOCK)), np.zeros((r.ROOM_WHOLES, r.BLOCK), np.int64))
        _here.room = block, r.Asked.empty(CHUNK), r.Rest.empty(CHUNK)
    return _here.room


def asked(
    x: ArrayLike, y: ArrayLike, lie: ArrayLike, swing: ArrayLike, bearing: ArrayLike, draw: ArrayLike = 0
) -> r.Asked:
    """Return rows to play; scalars stand for every row.

    Parameters
    ----------
    x, y, lie : places (yd) and surface kinds
    swing : numbers of swings; touch actions follow the player's
    bearing : of the aim lines, radians clockwise from +y
    draw : column of each row's first draw
    """
    columns = np.broadcast_arrays(x, y, np.sin(bearing), np.cos(bearing), lie, swing, draw)
    kinds = (float, float, float, float, np.int8, np.int16, np.int64)
    return r.Asked._make(np.array(np.atleast_1d(c), kind) for c, kind in zip(columns, kinds, strict=True))


def rows_of(rows: r.Asked) -> Fill:
    """Return a ``Fill`` that hands out rows which stand ready, one an item."""
    return lambda _, start, stop: r.Asked._make(column[start:stop] for column in rows)


def play(
    problem: r.Problem, to_go: NDArray[np.float64], rows: r.Asked, draws: NDArray[np.float64], count: int
) -> r.Rest:
    """Play ``rows``, ``count`` balls each with the columns of ``draws`` from ``rows.draw`` on; see ``kernel.strokes``.

    Returns the balls, those of a row after each other.
    """
    rest = r.Rest.empty(rows.x.size * count)

    def work(start: int, stop: int) -> None:
        kernel.strokes(problem, to_go, rows, draws, count, rest, working_room()[0], start, stop)

    share_out(work, rows.x.size, least=max(1, LEAST // count))
    return rest


def in_chunks(
    problem: r.Problem,
    to_go: NDArray[np.float64],
    items: int,
    fill: Fill,
    draws: NDArray[np.float64],
    count: int,
    use: Use,
    *,
    rows: int = 1,
) -> None:
    """Play ``rows`` rows of ``count`` balls for each of ``items``, and hand the balls on, all on one thread a chunk."""
    many = max(1, CHUNK // (rows * count))

    def work(start: int, stop: int) -> None:
        block, room, rest = working_room()
        balls = many * rows * count
        if balls > CHUNK:  # a single item asks for so many
            room, rest = r.Asked.empty(many * rows), r.Rest.empty(balls)
        for first in range(start, stop, many):
            last = min(first + many, stop)
            here = fill(room, first, last)
            kernel.strokes(problem, to_go, here, draws, count, rest, block, 0, (last - first) * rows)
            use(rest, first, last)

    share_out(work, items, least=max(1, LEAST // (rows * count)))
