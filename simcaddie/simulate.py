"""Whole sequences of strokes, from a first stroke to the bottom of the hole.

Sequences go a chunk at a time, all of a chunk stroke by stroke: those still on their way set out by the policy, the
kernel plays them, and each stroke is counted under its part of the game, so that the parts add up to the score.
Putting is all that is played on the green, touch every feel shot, approach every other swing that follows a tee shot;
penalty strokes stand apart. Where the ball is picked up at the cap, strokes beyond it are left out.

Numbers are keyed (key, sequence, draw), and every sequence writes its own result: the bytes don't depend on the number
of threads. Sequences come in mirrored pairs, 2k and 2k + 1: the same numbers with the side turned over. So a mirrored
hole and player give the same score law, and a standard error is taken over pairs. All options played with one key
share their numbers stroke by stroke, so that differences between them are paired.

Luck can be taken out: with V(s) the strokes that a policy needs from s, the sum over the strokes of

    (strokes counted + V(next)) − mean of the same over fixed nodes from the same place

has the mean 0 and is most of what a score differs by from its mean. (Burch, Schmid, Moravčík, Morrill and Bowling,
AIVAT, AAAI 2018, for games of cards; the variance-reduced rollouts of backgammon programs are the same.)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.compiled import compiled
from simcaddie.base.parallel import share_out
from simcaddie.base.surfaces import SURFACES
from simcaddie.base.units import unit_vector
from simcaddie.model import arrays as r
from simcaddie.model import kernel
from simcaddie.model.batch import CHUNK, asked, play, working_room
from simcaddie.model.kernel import HOLED, mean_putts, putts
from simcaddie.model.left import leave
from simcaddie.model.look import ask_policy, state_at
from simcaddie.model.numbers import normal, stream, uniform
from simcaddie.model.states import states_at

__all__ = [
    "APPROACH",
    "BY_SWING",
    "PARTS",
    "PENALTIES",
    "PUTTING",
    "TEE",
    "TOUCH",
    "Luck",
    "Outcome",
    "first_strokes",
    "first_strokes_of_each",
    "next_strokes",
    "play_sequences",
]

PARTS: Final = ("tee", "approach", "touch", "putting", "penalties")
TEE, APPROACH, TOUCH, PUTTING, PENALTIES = range(5)
BY_SWING: Final = len(PARTS)  # the first column of strokes by swing

GUSTS: Final = 1 << 20  # gusts come from far along a sequence's stream, so that no other number depends on them
_PUTTED: Final = np.array([kind.putting for kind in SURFACES])


class Luck(NamedTuple):
    """What takes luck out: ``to_go`` as in ``leave``, sets of ``each`` nodes after each other, float64[7+, nodes]."""

    to_go: NDArray[np.float64]
    nodes: NDArray[np.float64]
    each: int


@dataclass(frozen=True, slots=True)
class Outcome:
    """What n sequences came to.

    ``score`` int8[n] counts strokes from the place asked, at most the cap; ``picked_up`` bool[n]; ``parts`` int8[n, 5]
    are the strokes by part in the order of ``PARTS``, which add up to the score, and where asked for the strokes by
    swing in columns after them; ``first`` holds the first balls; ``luck`` float64[n] what the strokes after the first
    owe to luck, where that was asked for.
    """

    score: NDArray[np.int8]
    picked_up: NDArray[np.bool_]
    parts: NDArray[np.int8]
    first: r.Rest
    luck: NDArray[np.float64] | None = None

    @property
    def penalties(self) -> NDArray[np.int8]:
        """Penalty strokes, int8[n]."""
        return self.parts[:, PENALTIES]


class _Going(NamedTuple):
    """Sequences on their way: where the balls lie, the score so far, whether they are done and picked up."""

    x: NDArray[np.float64]
    y: NDArray[np.float64]
    lie: NDArray[np.int8]
    score: NDArray[np.int8]
    done: NDArray[np.bool_]
    picked_up: NDArray[np.bool_]
    parts: NDArray[np.int8]

    @classmethod
    def after(cls, first: r.Rest, parts: NDArray[np.int8], cap: int) -> _Going:
        """Return sequences after their first strokes, whose penalty strokes are counted in ``parts``."""
        score = np.minimum(first.added, cap).astype(np.int8)
        parts[:, PENALTIES] = score - 1
        holed = first.event == HOLED
        done = holed | (score >= cap)
        picked_up = done & ~(holed & (first.added <= cap))
        return cls(first.x.copy(), first.y.copy(), first.surface.copy(), score, done, picked_up, parts)


@compiled
def _draw(key: Any, who: Any, stroke: int, gusty: bool, z: Any) -> None:
    """Write the numbers of one stroke of the sequences ``who``, a column each."""
    at = stroke * r.DRAWS
    for j in range(who.size):
        start, sign = stream(key, who[j] >> 1), 1.0 - 2.0 * (who[j] & 1)
        z[r.DRAW_CARRY, j] = normal(uniform(start, at))
        z[r.DRAW_SIDE, j] = sign * normal(uniform(start, at + 1))
        z[r.DRAW_RUN, j] = normal(uniform(start, at + 2))
        z[r.DRAW_STRIKE, j] = uniform(start, at + 3)
        z[r.DRAW_TREES, j] = uniform(start, at + 4)
        z[r.DRAW_FIND, j] = uniform(start, at + 5)
        if gusty:
            z[r.DRAW_GUST, j] = normal(uniform(start, GUSTS + stroke))


@compiled
def _set_out(
    problem: Any, policy: Any, turn: Any, key: Any, base: int, stroke: int, cap: int, going: Any, rows: Any, who: Any,
    luck: Any,
) -> int:  # fmt: skip
    """Putt out what lies on the green and write the strokes of the others into ``rows``; return how many.

    ``who`` [row] is the sequence, ``base`` that of the chunk's first. ``turn`` is the policy's own.
    """
    g, s, states = problem.ground, problem.states, problem.states.lie.size
    used, count = policy.swing.size // states - 1, 0
    for i in range(going.x.size):
        if going.done[i]:
            continue
        x, y, lie = going.x[i], going.y[i], int(going.lie[i])
        if g.kinds[lie, r.KIND_PUTTING] > 0.0:
            taken = putts(g, problem.putting, x, y, uniform(stream(key, (base + i) >> 1), stroke * r.DRAWS))
            luck[i] += taken - mean_putts(g, problem.putting, x, y)
            going.picked_up[i] = going.score[i] + taken > cap
            taken = min(taken, cap - going.score[i])
            going.parts[i, PUTTING] += taken
            going.score[i] += taken
            going.done[i] = True
            continue
        row = min(int(going.score[i]), used) * states + state_at(s, lie, x, y)
        ask_policy(g, policy, turn, row, x, y, lie, count, rows, count)
        who[count] = base + i
        count += 1
    return count


@compiled
def _take_in(rows: Any, rest: Any, who: Any, base: int, count: int, swings: int, cap: int, going: Any) -> None:
    """Count the strokes of ``rows`` and take over where their balls came to rest."""
    for j in range(count):
        i, swing, added = who[j] - base, int(rows.swing[j]), int(rest.added[j])
        room = cap - going.score[i]
        going.parts[i, TOUCH if swing >= swings else APPROACH] += 1
        going.parts[i, PENALTIES] += min(added, room) - 1
        if going.parts.shape[1] > BY_SWING:
            going.parts[i, BY_SWING + min(swing, swings)] += 1
        going.score[i] += min(added, room)
        going.x[i], going.y[i], going.lie[i] = rest.x[j], rest.y[j], rest.surface[j]
        if rest.event[j] == HOLED:
            going.done[i], going.picked_up[i] = True, added > room
        elif going.score[i] >= cap:
            going.done[i], going.picked_up[i] = True, True


@compiled
def _add_luck(rest: Any, left: Any, mean_rest: Any, mean_left: Any, each: int, who: Any, base: int, count: int,
              luck: Any) -> None:  # fmt: skip
    """Add to ``luck`` what each stroke came to beyond its mean, over ``each`` balls a row of ``mean_rest``."""
    for j in range(count):
        total = 0.0
        for i in range(j * each, (j + 1) * each):
            total += mean_rest.added[i] + mean_left[i]
        luck[who[j] - base] += rest.added[j] + left[j] - total / each


def first_strokes(
    problem: r.Problem,
    value: r.Value,
    place: tuple[float, float, int],
    swing: int,
    bearing: float,
    key: np.uint64,
    n: int,
) -> r.Rest:
    """Play ``n`` first strokes from ``place``, (x, y, lie) in yards; ``bearing`` in radians clockwise from +y."""
    rest = r.Rest.empty(n)
    x, y, lie = float(place[0]), float(place[1]), int(place[2])
    dx, dy = unit_vector(bearing)
    gusty = problem.day.rows.shape[2] > 1
    row = r.Asked.empty(1)
    row.x[0], row.y[0], row.dx[0], row.dy[0], row.lie[0], row.swing[0] = x, y, dx, dy, lie, int(swing)

    def work(start: int, stop: int) -> None:
        z = np.zeros((r.DRAWS + 1, min(CHUNK, stop - start)))
        for low in range(start, stop, CHUNK):
            high = min(low + CHUNK, stop)
            _draw(key, np.arange(low, high), 0, gusty, z)
            here = r.Rest._make(column[low:high] for column in rest)
            kernel.strokes(problem, value.to_go, row, z, high - low, here, working_room()[0], 0, 1)

    share_out(work, n, least=2048)
    return rest


def first_strokes_of_each(
    problem: r.Problem,
    value: r.Value,
    place: tuple[float, float, int],
    swings: NDArray[np.int64],
    bearings: NDArray[np.float64],
    key: np.uint64,
    n: int,
) -> r.Rest:
    """Play the ``n`` first strokes of ``first_strokes`` with each of ``swings`` along its bearing, all with one luck.

    The balls of a swing stand after each other.
    """
    z = np.zeros((r.DRAWS + 1, n))
    _draw(key, np.arange(n), 0, problem.day.rows.shape[2] > 1, z)
    return play(problem, value.to_go, asked(*place, swings, bearings), z, n)


def next_strokes(
    problem: r.Problem, policy: r.Policy, value: r.Value, rest: r.Rest, key: np.uint64, stroke: int
) -> r.Rest:
    """Play one more stroke with every ball of ``rest`` by ``policy``; ``stroke`` counts from 0, the first.

    Balls on the green or in the hole stay where they are, with ``added`` 0. The numbers of ball i are those that
    ``play_sequences`` uses with the same key, so both play the same sequences.
    """
    going = np.flatnonzero((rest.event != HOLED) & ~_PUTTED[rest.surface])
    x, y, lie = rest.x[going], rest.y[going], rest.surface[going]
    state = states_at(problem.states, lie, x, y)
    line = np.arctan2(problem.ground.pin_x - x, problem.ground.pin_y - y)
    rows = asked(x, y, lie, policy.swing[state], line + policy.bearing[state], np.arange(going.size))
    z = np.zeros((r.DRAWS + 1, going.size))
    _draw(key, going, stroke, problem.day.rows.shape[2] > 1, z)
    new = r.Rest._make(column.copy() for column in rest)
    new.added[:] = 0
    new.finish[:] = rest.surface
    played: tuple[NDArray[Any], ...] = play(problem, value.to_go, rows, z, 1)
    for column, found in zip(tuple[NDArray[Any], ...](new), played, strict=True):
        column[going] = found
    return new


def play_sequences(
    problem: r.Problem,
    policy: r.Policy,
    value: r.Value,
    first: r.Rest,
    key: np.uint64,
    cap: int = 12,
    *,
    part: int = TEE,
    swing: int | None = None,
    luck: Luck | None = None,
) -> Outcome:
    """Play on from the balls of ``first`` with ``policy``, to the hole or to ``cap`` strokes.

    ``part`` is where the first stroke counts: as a rule a tee shot on par 4s and longer. With ``swing``, that of the
    first stroke, strokes by swing are counted as well, touch shots last: int8[n, 5 + swings + 1] in all.
    """
    n, swings = first.x.size, problem.swings.rows.shape[1]
    parts = np.zeros((n, BY_SWING + (0 if swing is None else swings + 1)), np.int8)
    parts[:, part] = 1
    if swing is not None:
        parts[:, BY_SWING + min(swing, swings)] = 1
    going, lucky = _Going.after(first, parts, cap), np.zeros(n)
    turn, many = policy.turn, CHUNK if luck is None else CHUNK // luck.each

    def work(start: int, stop: int) -> None:
        for low in range(start, stop, many):
            here = slice(low, min(low + many, stop))
            some = _Going._make(column[here] for column in going)
            _play_on(problem, policy, turn, value, some, key, low, cap, luck, lucky[here])

    share_out(work, n, least=min(2048, 2 * many))
    return Outcome(going.score, going.picked_up, parts, first, lucky if luck is not None else None)


def _play_on(
    problem: r.Problem, policy: r.Policy, turn: NDArray[np.float64], value: r.Value, going: _Going, key: np.uint64,
    base: int, cap: int, luck: Luck | None, lucky: NDArray[np.float64],
) -> None:  # fmt: skip
    """Play a chunk of sequences to their end, stroke by stroke; ``base`` is the number of the first."""
    room, rows, rest = working_room()
    size, stroke = going.x.size, 1
    who, z = np.zeros(size, np.int64), np.zeros((r.DRAWS + 1, size))
    gusty, swings = problem.day.rows.shape[2] > 1, problem.swings.rows.shape[1]
    while count := _set_out(problem, policy, turn, key, base, stroke, cap, going, rows, who, lucky):
        _draw(key, who[:count], stroke, gusty, z)
        kernel.strokes(problem, value.to_go, rows, z, 1, rest, room, 0, count)
        if luck is not None:
            _lucks(problem, value, luck, rows, rest, who, base, count, stroke, lucky)
        _take_in(rows, rest, who, base, count, swings, cap, going)
        stroke += 1


def _lucks(
    problem: r.Problem, value: r.Value, luck: Luck, rows: r.Asked, rest: r.Rest, who: NDArray[np.int64], base: int,
    count: int, stroke: int, lucky: NDArray[np.float64],
) -> None:  # fmt: skip
    """Add what the strokes of ``rows`` came to beyond their mean; ``rest`` holds their balls."""
    sets = luck.nodes.shape[1] // luck.each
    left, mean_rest = np.zeros(count), r.Rest.empty(count * luck.each)
    mean_left = np.zeros(mean_rest.x.size)
    leave(problem, luck.to_go, rest, left, 0, count)
    again = rows._replace(draw=(who[:count] * 7 + stroke * 13) % sets * luck.each)
    kernel.strokes(problem, value.to_go, again, luck.nodes, luck.each, mean_rest, working_room()[0], 0, count)
    leave(problem, luck.to_go, mean_rest, mean_left, 0, mean_left.size)
    _add_luck(rest, left, mean_rest, mean_left, luck.each, who, base, count, lucky)
