"""Looking one stroke ahead from a place: first balls, and the law of the score that follows from where they lie.

Given what play on comes to from everywhere, every figure of an option is an average over first balls of what they
leave: one stroke a sample instead of five, and a third of the spread. First balls are sets of nodes, scrambled
independently of each other: the means over sets are independent draws, shared by all options, so that differences
between options are paired over sets.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simcaddie.base.streams import Purpose
from simcaddie.model import arrays as r
from simcaddie.model.batch import Use, asked, in_chunks, play, rows_of
from simcaddie.model.left import leave, strokes_left
from simcaddie.solve import values
from simcaddie.solve.quadrature import SETS, node_sets
from simcaddie.solve.solution import Solution
from simcaddie.solve.transitions import putt_pmfs

__all__ = ["NODES", "Ahead", "Balls"]

NODES: Final = 256  # of a set
MOST_COUNTED: Final = 4  # strokes that one stroke counts: itself, a penalty, another after relief

Floats = NDArray[np.float64]
Place = tuple[float, float, int]


@dataclass(frozen=True, slots=True)
class Balls:
    """First balls of one option, sets after each other: where they came to rest, mean strokes in all of each."""

    rest: r.Rest
    strokes: Floats


@dataclass(frozen=True, slots=True)
class Ahead:
    """Looks ahead with what follows being known.

    ``to_go`` float64[states] serves the choices that a Rule leaves; ``after`` float64[used, states, cap + 1] is the law
    of strokes to go by how many are used, one row where that doesn't matter. ``seed`` picks the first balls.
    """

    problem: r.Problem
    to_go: Floats
    after: Floats
    seed: int = 0

    @classmethod
    def of(cls, solution: Solution, after: Floats | None = None, seed: int = 0) -> Ahead:
        """Return the look-ahead to a solution's policy; ``after`` where another policy follows."""
        own = np.ascontiguousarray(solution.pmf.T)[None] if after is None else after
        return cls(solution.problem, solution.value.to_go, own, seed)

    def on(self, problem: r.Problem, origin: NDArray[np.int64] | None = None) -> Ahead:
        """Return the look-ahead on another table; ``origin`` [state] says which old state a new one is worth."""
        if origin is None:
            return replace(self, problem=problem)
        return Ahead(problem, self.to_go[origin], np.ascontiguousarray(self.after[:, origin]), self.seed)

    @property
    def mean_to_go(self) -> Floats:
        """Mean strokes to go, picked up at the cap, float64[used · states] as ``strokes_left`` takes them.

        A row of states per number of strokes that a first stroke may count.
        """
        cap = self.after.shape[2] - 1
        more, last = np.arange(cap + 1.0), self.after.shape[0] - 1
        rows = [self.after[min(used, last)] @ np.minimum(more, cap - used) for used in range(MOST_COUNTED + 1)]
        return np.concatenate(rows)

    def pmfs(
        self, place: Place, swing: ArrayLike, bearing: ArrayLike, sets: int = SETS,
        purpose: int = Purpose.ANSWER, also: Use | None = None,
    ) -> Floats:  # fmt: skip
        """Return the law of strokes from ``place``, (x, y, lie), of first strokes, float64[row, set, cap + 1].

        ``swing`` and ``bearing`` (radians clockwise from +y) hold one item a row. ``also`` is shown the balls
        themselves, ``NODES`` for each set of each row, some sets at a time, from any thread.
        """
        nodes, rows = self._rows(place, swing, bearing, sets, purpose)
        out, putts = np.zeros((rows.x.size, self.after.shape[2])), putt_pmfs(self.problem)

        def use(rest: r.Rest, start: int, stop: int) -> None:
            values.laws_of_rest(self.problem, self.after, putts, rest, NODES, out, start, stop)
            if also is not None:
                also(rest, start, stop)

        in_chunks(self.problem, self.to_go, rows.x.size, rows_of(rows), nodes, NODES, use)
        return out.reshape(-1, sets, out.shape[1])

    def means(
        self, place: Place, swing: ArrayLike, bearing: ArrayLike, sets: int = SETS, purpose: int = Purpose.ANSWER,
        pins: Sequence[r.Ground] = (),
    ) -> Floats:  # fmt: skip
        """Return the mean strokes of first strokes, float64[row, set].

        With ``pins``, the ground with the pin at each, a ball on the green counts the putts to each of them, a ball off
        it what it is worth to the table's own.
        """
        nodes, rows = self._rows(place, swing, bearing, sets, purpose)
        tables = [self.problem._replace(ground=ground) for ground in pins] or [self.problem]
        out, to_go = np.zeros(rows.x.size), self.mean_to_go

        def use(rest: r.Rest, start: int, stop: int) -> None:
            balls = (stop - start) * NODES
            total, left = rest.added[:balls].astype(np.float64), np.empty(balls)
            for problem in tables:
                leave(problem, to_go, rest, left, 0, balls)
                total += left / len(tables)
            out[start:stop] = total.reshape(-1, NODES).mean(axis=1)

        in_chunks(self.problem, self.to_go, rows.x.size, rows_of(rows), nodes, NODES, use)
        return out.reshape(-1, sets)

    def balls(self, place: Place, swing: int, bearing: float, sets: int = SETS) -> Balls:
        """Return the first balls of an option, ``NODES`` a set; those of ``pmfs``."""
        nodes, rows = self._rows(place, swing, bearing, sets, Purpose.ANSWER)
        rest = play(self.problem, self.to_go, rows, nodes, NODES)
        return Balls(rest, rest.added + strokes_left(self.problem, self.mean_to_go, rest))

    def _rows(
        self, place: Place, swing: ArrayLike, bearing: ArrayLike, sets: int, purpose: int
    ) -> tuple[Floats, r.Asked]:
        """Return the draws of all sets, and a row for each item and set."""
        swings, bearings = np.broadcast_arrays(np.atleast_1d(swing), np.atleast_1d(bearing))
        first = np.tile(np.arange(sets) * NODES, swings.size)
        rows = asked(*place, np.repeat(swings, sets), np.repeat(bearings, sets), first)
        return node_sets(NODES, purpose, max(sets, SETS), self.seed).draws, rows
