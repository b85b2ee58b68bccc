"""Playing the holes of a course: the policy of each hole, and its scores on every day and on none.

The policy is found once, for the player as the file says, and kept on all days: nobody knows the day's form on the
first tee. Sequences are shared out over the days by weight; those of one hole have a key of their own, so that holes
are independent.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.air.day import Day
from simcaddie.course.record import Course
from simcaddie.errors import BadRequest
from simcaddie.golfer.day_form import form_days, on_day
from simcaddie.golfer.player import Player
from simcaddie.ground.grid import area_grid
from simcaddie.ground.hole import Hole
from simcaddie.play import records as r
from simcaddie.play.everyday import everyday, guess_to_go
from simcaddie.play.pack import pack, pack_swings
from simcaddie.simulate import first_strokes, play_sequences
from simcaddie.simulate.sequences import APPROACH, PARTS, TEE, TOUCH
from simcaddie.solve.kept import solved
from simcaddie.solve.solution import QUICK
from simcaddie.strategy.scene import Then
from simcaddie.streams import kernel_key
from simcaddie.surfaces import code
from simcaddie.workers import each

__all__ = ["CAP", "HoleScores", "Played", "Policied", "play_course", "refuse_unknown", "set_hole"]

CAP: Final = 12  # strokes; a hole that takes more is picked up
FEWEST: Final = 400  # sequences of a day that weighs next to nothing
_HOLES: Final = 2000  # purposes of the random numbers, one a hole and day

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Policied:
    """One hole ready to be played: ``place`` (x, y, lie), the table, and what the player does from everywhere."""

    hole: Hole
    place: tuple[float, float, int]
    table: r.Table
    policy: r.Policy
    value: r.Value

    def turned(self, turns: Floats) -> Policied:
        """Return it with every aim line turned clockwise, by ``turns`` float64[swings] in radians; touch stays."""
        turn = np.append(turns, 0.0)[np.minimum(self.policy.swing, turns.size)]
        return replace(self, policy=r.Policy(self.policy.swing, self.policy.bearing + turn))

    def play(self, table: r.Table, key: np.uint64, n: int, *, by_swing: bool = False) -> NDArray[np.int8]:
        """Play ``n`` sequences, in mirrored pairs; return the strokes by part, int8[n, 5], and by swing after them."""
        start = table.states.start
        swing = int(self.policy.swing[start])
        line = math.atan2(table.ground.pin_x - self.place[0], table.ground.pin_y - self.place[1])
        bearing = line + float(self.policy.bearing[start])
        first = first_strokes(table, self.value, self.place, swing, bearing, key, n)
        touch = swing >= table.swings.table.shape[1]
        part = TOUCH if touch else APPROACH if self.hole.par == 3 else TEE
        counted = swing if by_swing else None
        return play_sequences(table, self.policy, self.value, first, key, CAP, part=part, swing=counted).parts


def set_hole(
    hole: Hole, player: Player, tee: str | None, pin: str | None, then: Then, day: Day | None = None
) -> Policied:
    """Return a hole with a player's policy from a tee to a pin; no ``day`` is a standard one.

    Raises
    ------
    BadRequest
        Where the hole has no such tee or pin.
    """
    spot, grid = hole.place(tee), area_grid(hole)
    place = (*spot.at, code(spot.lie))
    table = pack(hole, player, spot, hole.pin(pin), grid=grid, day=day)
    if then == "best":
        solution = solved(table, grid, place, cap=CAP, effort=QUICK)
        return Policied(hole, place, table, solution.policy, solution.value)
    return Policied(hole, place, table, everyday(table, player, then, hole.green_middle), guess_to_go(table))


@dataclass(frozen=True, slots=True)
class HoleScores:
    """How a hole came out, as shares of sequences.

    ``days`` float64[day, CAP + 1] are the score laws of each day, ``plain`` float64[CAP + 1] that without day form;
    ``parts`` float64[5] mean strokes by part over all days, ``se`` the standard error of the mean score over all days.
    """

    days: Floats
    plain: Floats
    parts: Floats
    se: float
    plain_se: float


@dataclass(frozen=True, slots=True)
class Played:
    """A player's scores on every hole of a course, ``weights`` float64[day]."""

    holes: tuple[HoleScores, ...]
    weights: Floats


def _law(counts: NDArray[np.int8]) -> Floats:
    return np.asarray(np.bincount(counts.sum(axis=1), minlength=CAP + 1) / counts.shape[0], np.float64)


def _variance(counts: NDArray[np.int8]) -> float:
    """Return the variance of the mean score, taken over mirrored pairs."""
    pairs = counts.sum(axis=1).reshape(-1, 2).mean(axis=1)
    return float(pairs.var(ddof=1) / pairs.size)


def _scores(ready: Policied, days: Sequence[tuple[float, r.Swings]], number: int, n: int, seed: int) -> HoleScores:
    """Play one hole on every day, a weight and the day's swings, and without day form."""
    laws, parts, variance = [], np.zeros(len(PARTS)), 0.0
    purpose = _HOLES + number * (len(days) + 1)
    plain = ready.play(ready.table, kernel_key(seed, purpose), n)
    for index, (weight, swings) in enumerate(days):
        share = 2 * max(FEWEST // 2, round(weight * n / 2))
        counts = ready.play(ready.table._replace(swings=swings), kernel_key(seed, purpose + 1 + index), share)
        laws.append(_law(counts))
        parts += weight * counts.mean(axis=0)
        variance += weight**2 * _variance(counts)
    return HoleScores(np.array(laws), _law(plain), parts, math.sqrt(variance), math.sqrt(_variance(plain)))


def play_course(
    course: Course,
    player: Player,
    *,
    tee: str | None,
    pin: str | None,
    then: Then,
    sequences: int,
    seed: int,
    day: Day | None = None,
    done: Callable[[], None] | None = None,
) -> Played:
    """Play every hole ``sequences`` times over good and bad days and as often without day form.

    ``day`` is the weather (None: a standard one), the same on all of them.
    ``done`` is called as each hole is finished, from any thread. Numbers depend on the seed and on each hole's place in
    the course, not on how many threads there are.

    Raises
    ------
    BadRequest
        Where a hole has no such tee or pin.
    """
    weights = np.array([form.weight for form in form_days()])
    days = [(form.weight, pack_swings(on_day(player, form))) for form in form_days()]
    refuse_unknown(course, tee, pin)

    def one(number: int) -> HoleScores:
        ready = set_hole(course.holes[number], player, tee, pin, then, day)
        scores = _scores(ready, days, number, sequences, seed)
        if done is not None:
            done()
        return scores

    return Played(tuple(each(one, range(len(course.holes)))), weights)


def refuse_unknown(course: Course, tee: str | None, pin: str | None) -> None:
    """Refuse a tee or a pin that a hole of the course hasn't got, before the long work.

    Raises
    ------
    BadRequest
        With the first such hole's name, or where the pin is "any".
    """
    if pin == "any":
        raise BadRequest("a round is played to one pin a hole; name one that every hole has")
    for hole in course.holes:
        hole.place(tee)
        hole.pin(pin)
