"""Whole sequences of strokes, from a first stroke to the bottom of the hole.

Every sequence writes its own result, from numbers keyed (key, sequence, draw): the
bytes don't depend on the number of threads. Sequences come in mirrored pairs, 2k and 2k + 1: the same numbers with the
side turned over. So a mirrored hole and player give the same score law, and a standard error is taken over pairs.

All options played with one key share their numbers stroke by stroke, so that differences between them are paired.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.compiled import compiled
from simcaddie.play import kernel as k
from simcaddie.play import records as r
from simcaddie.units import unit_vector
from simcaddie.workers import share_out

__all__ = ["Outcome", "first_strokes", "play_sequences"]

GUSTS: Final = 1 << 20  # gusts come from far along a sequence's stream, so that no other number depends on them


@dataclass(frozen=True, slots=True)
class Outcome:
    """What n sequences came to.

    ``score`` int8[n] counts strokes from the place asked, at most the cap; ``picked_up`` bool[n]; ``penalties`` int8[n]
    counts penalty strokes; ``first`` holds the first balls.
    """

    score: NDArray[np.int8]
    penalties: NDArray[np.int8]
    picked_up: NDArray[np.bool_]
    first: r.Rest


@compiled
def draws(start: Any, stroke: int, sign: float, gusty: bool) -> Any:
    """Return the seven numbers of one stroke; ``sign`` turns the side over. No gust where the day isn't ``gusty``."""
    at = stroke * r.DRAWS
    return (
        k.normal(k.uniform(start, at)),
        sign * k.normal(k.uniform(start, at + 1)),
        k.normal(k.uniform(start, at + 2)),
        k.uniform(start, at + 3),
        k.uniform(start, at + 4),
        k.uniform(start, at + 5),
        k.normal(k.uniform(start, GUSTS + stroke)) if gusty else 0.0,
    )


@compiled
def one_sequence(table: Any, policy: Any, to_go: Any, start: Any, sign: float, cap: int, rest: Any, i: int) -> Any:
    """Play on from first ball ``i`` of ``rest``; return (score, penalty strokes, picked up)."""
    x, y, lie = rest.x[i], rest.y[i], int(rest.surface[i])
    score = int(rest.added[i])
    penalties = score - 1
    holed = rest.event[i] == k.HOLED
    g = table.ground
    states = table.states.lie.size
    rows = policy.swing.size // states
    stroke = 1
    while not holed and score < cap:
        if g.kinds[lie, r.KIND_PUTTING] > 0.0:
            score += k.putts(g, table.putting, x, y, k.uniform(start, stroke * r.DRAWS))
            holed = True
            break
        state = k.state_at(table.states, lie, x, y)
        row = min(score, rows - 1) * states + state
        dx, dy = k.aim_line(g, x, y, policy.bearing[row])
        x, y, lie, added, event, _, _, _ = k.stroke(
            table, to_go, x, y, lie, policy.swing[row], dx, dy, draws(start, stroke, sign, table.day.table.shape[2] > 1)
        )
        holed = event == k.HOLED
        score += added
        penalties += added - 1
        stroke += 1
    picked_up = score > cap or not holed  # a ball on the green at the cap isn't in the hole
    return min(score, cap), penalties, picked_up


@compiled
def _first(
    table: Any,
    to_go: Any,
    x: float,
    y: float,
    lie: int,
    swing: int,
    dx: float,
    dy: float,
    key: Any,
    rest: Any,
    start: int,
    stop: int,
) -> None:
    for i in range(start, stop):
        z = draws(k.stream(key, i >> 1), 0, 1.0 - 2.0 * (i & 1), table.day.table.shape[2] > 1)
        out = k.stroke(table, to_go, x, y, lie, swing, dx, dy, z)
        rest.x[i], rest.y[i], rest.surface[i], rest.added[i] = out[0], out[1], out[2], out[3]
        rest.event[i], rest.finish[i], rest.landing_x[i], rest.landing_y[i] = out[4], out[5], out[6], out[7]


@compiled
def _play_on(
    table: Any,
    policy: Any,
    to_go: Any,
    key: Any,
    cap: int,
    rest: Any,
    score: Any,
    penalties: Any,
    picked_up: Any,
    start: int,
    stop: int,
) -> None:
    for i in range(start, stop):
        score[i], penalties[i], picked_up[i] = one_sequence(
            table, policy, to_go, k.stream(key, i >> 1), 1.0 - 2.0 * (i & 1), cap, rest, i
        )


def first_strokes(
    table: r.Table, value: r.Value, place: tuple[float, float, int], swing: int, bearing: float, key: np.uint64, n: int
) -> r.Rest:
    """Play ``n`` first strokes from ``place``, (x, y, lie) in yards; ``bearing`` in radians clockwise from +y."""
    rest = r.Rest.empty(n)
    x, y, lie = float(place[0]), float(place[1]), int(place[2])
    dx, dy = unit_vector(bearing)

    def work(start: int, stop: int) -> None:
        _first(table, value.to_go, x, y, lie, int(swing), dx, dy, key, rest, start, stop)

    share_out(work, n, least=1000)
    return rest


def play_sequences(
    table: r.Table, policy: r.Policy, value: r.Value, first: r.Rest, key: np.uint64, cap: int = 12
) -> Outcome:
    """Play on from the balls of ``first`` with ``policy``, to the hole or to ``cap`` strokes."""
    n = first.x.size
    score, penalties, picked_up = np.zeros(n, np.int8), np.zeros(n, np.int8), np.zeros(n, np.bool_)

    def work(start: int, stop: int) -> None:
        _play_on(table, policy, value.to_go, key, cap, first, score, penalties, picked_up, start, stop)

    share_out(work, n, least=1000)
    return Outcome(score, penalties, picked_up, first)
