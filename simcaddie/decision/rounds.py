"""A course played by one player: what the index comes to from a tee, and every hole's scores on good and bad days.

The policy of a hole is found once, for the player as the file says, and kept on all days: nobody knows the day's form
on the first tee. Sequences are shared out over the days by weight; those of one hole have a key of their own, so that
holes are independent.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.errors import BadRequest
from simcaddie.base.parallel import each
from simcaddie.base.streams import Purpose, kernel_key
from simcaddie.base.surfaces import code
from simcaddie.course.card import ROUNDS, Card, card_of
from simcaddie.course.course import Course, CourseTee
from simcaddie.course.grid import area_grid
from simcaddie.course.hole import Hole
from simcaddie.decision.position import Then
from simcaddie.decision.request import hole_strokes
from simcaddie.model import arrays as r
from simcaddie.model.build import pack, pack_swings
from simcaddie.model.heuristics import everyday, guess_to_go
from simcaddie.player.day_form import day_form, form_days, on_day
from simcaddie.player.swing import Player
from simcaddie.scoring.formats import FORMS
from simcaddie.scoring.handicap import NEUTRAL_SLOPE, course_handicap, course_handicap_nine, playing_handicap, rounded
from simcaddie.simulate import APPROACH, PARTS, TEE, TOUCH, first_strokes, play_sequences
from simcaddie.solve.memo import chosen
from simcaddie.solve.solution import QUICK
from simcaddie.weather.day import Day

__all__ = [
    "BY_LENGTH",
    "CAP",
    "Handicap",
    "HoleScores",
    "Played",
    "Policied",
    "good_and_bad_days",
    "handicap_of",
    "hole_scores",
    "play_course",
    "refuse_unknown",
    "sequences_on",
    "set_hole",
    "strokes_on",
    "tee_of",
]


def strokes_on(course: Course, player: Player, tee: str | None) -> tuple[list[int], int | None, bool]:
    """Return the strokes received on each hole in stroke play, the playing handicap, and whether they go by length.

    The handicap is None where the player has no index, or the course not 9 or 18 holes.
    """
    if len(course.holes) not in ROUNDS or player.handicap_index is None:
        return [hole_strokes(hole, player) for hole in course.holes], None, False
    handicap = handicap_of(course, card_of(course, tee), player, tee, FORMS["stroke"].share)
    return list(handicap.strokes), handicap.playing, handicap.by_length


BY_LENGTH: Final = "Stroke indexes are missing: strokes are spread by length (~), the longest holes first."
CAP: Final = 12  # strokes; a hole that takes more is picked up
FEWEST: Final = 400  # sequences of a day that weighs next to nothing

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Handicap:
    """``course`` unrounded (Rule 6.1), None without an index; ``playing`` after the allowance (Rule 6.2a).

    ``strokes`` a hole come of the playing handicap, ``full`` ones of the course handicap. ``rating`` and ``slope`` are
    what was used; ``assumed`` tells that the course file gives none for the tee, so that the rating is par and the
    slope 113. ``order`` is that in which strokes fall; ``by_length`` tells that it goes by the holes' lengths, since
    stroke indexes are missing.
    """

    index: float | None
    course: Decimal | None
    playing: int
    allowance: float
    strokes: tuple[int, ...]
    full: tuple[int, ...]
    rating: float
    slope: int
    par: int
    assumed: bool
    order: tuple[int, ...]
    by_length: bool

    @property
    def whole(self) -> int:
        """The course handicap, rounded; 0 without an index."""
        return 0 if self.course is None else rounded(self.course)


def tee_of(course: Course, tee: str | None) -> str | None:
    """Return the tee that a round is played from: the one asked for, else the first that the course file tells of.

    None where neither is there: every hole from its own first tee.
    """
    return tee if tee is not None else next(iter(course.tees), None)


def handicap_of(course: Course, card: Card, player: Player, tee: str | None, allowance: float) -> Handicap:
    """Return a player's handicap for a round; ``allowance`` from 0 to 1.

    Raises
    ------
    BadRequest
        Where index, slope or allowance are out of their range, or the rating can't be one of so many holes.
    """
    known = course.tees.get(tee, CourseTee()) if tee is not None else CourseTee()
    par = known.par if known.par is not None else sum(card.pars)
    rating = float(par) if known.course_rating is None else known.course_rating
    slope = NEUTRAL_SLOPE if known.slope is None else known.slope
    if not 0.75 * par <= rating <= 1.25 * par:
        raise BadRequest(
            f"{course.name}: a course rating of {rating:g} can't belong to {len(card.pars)} holes of par {par}"
        )
    index, formula = player.handicap_index, course_handicap if len(card.pars) == 18 else course_handicap_nine
    exact = None if index is None else formula(index, slope, rating, par)
    playing, full = (0, 0) if exact is None else (playing_handicap(exact, allowance), rounded(exact))
    return Handicap(
        index=index,
        course=exact,
        playing=playing,
        allowance=allowance,
        strokes=card.strokes(playing),
        full=card.strokes(full),
        rating=rating,
        slope=slope,
        par=par,
        assumed=known.course_rating is None or known.slope is None,
        order=card.order,
        by_length=card.by_length,
    )


@dataclass(frozen=True, slots=True)
class Policied:
    """One hole ready to be played: ``place`` (x, y, lie), the table, and what the player does from everywhere."""

    hole: Hole
    place: tuple[float, float, int]
    problem: r.Problem
    policy: r.Policy
    value: r.Value

    def turned(self, turns: Floats) -> Policied:
        """Return it with every aim line turned clockwise, by ``turns`` float64[swings] in radians; touch stays."""
        turn = np.append(turns, 0.0)[np.minimum(self.policy.swing, turns.size)]
        return replace(self, policy=r.Policy(self.policy.swing, self.policy.bearing + turn))

    def play(self, problem: r.Problem, key: np.uint64, n: int, *, by_swing: bool = False) -> NDArray[np.int8]:
        """Play ``n`` sequences, in mirrored pairs; return the strokes by part, int8[n, 5], and by swing after them."""
        start = problem.states.start
        swing = int(self.policy.swing[start])
        line = math.atan2(problem.ground.pin_x - self.place[0], problem.ground.pin_y - self.place[1])
        bearing = line + float(self.policy.bearing[start])
        first = first_strokes(problem, self.value, self.place, swing, bearing, key, n)
        touch = swing >= problem.swings.rows.shape[1]
        part = TOUCH if touch else APPROACH if self.hole.par == 3 else TEE
        counted = swing if by_swing else None
        return play_sequences(problem, self.policy, self.value, first, key, CAP, part=part, swing=counted).parts


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
    problem = pack(hole, player, spot, hole.pin(pin), grid=grid, day=day)
    if then == "best":
        own = chosen(problem, grid, place, effort=QUICK)
        return Policied(hole, place, problem, own.policy, own.value)
    return Policied(hole, place, problem, everyday(problem, player, then, hole.green_middle), guess_to_go(problem))


@dataclass(frozen=True, slots=True)
class HoleScores:
    """How a hole came out: the score laws ``days`` float64[day, CAP + 1] and, without day form, ``plain``.

    ``parts`` float64[5] are mean strokes by part over all days; ``se`` and ``plain_se`` are the standard errors of the
    two mean scores.
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


def good_and_bad_days(player: Player) -> list[tuple[float, r.Swings]]:
    """Return (weight, the day's swings) of every day that a round may be played on."""
    forms = form_days(day_form(player.handicap_index))
    return [(form.weight, pack_swings(on_day(player, form))) for form in forms]


def sequences_on(weight: float, n: int) -> int:
    """Return how many of ``n`` sequences are played on a day of some weight: an even number, never too few."""
    return 2 * max(FEWEST // 2, round(weight * n / 2))


def hole_scores(ready: Policied, days: Sequence[tuple[float, r.Swings]], number: int, n: int, seed: int) -> HoleScores:
    """Play one hole, ``number`` from 0, on every day, a weight and the day's swings, and without day form."""
    pmfs, parts, variance = [], np.zeros(len(PARTS)), 0.0
    purpose = Purpose.HOLES + number * (len(days) + 1)
    plain = ready.play(ready.problem, kernel_key(seed, purpose), n)
    for index, (weight, swings) in enumerate(days):
        share = sequences_on(weight, n)
        counts = ready.play(ready.problem._replace(swings=swings), kernel_key(seed, purpose + 1 + index), share)
        pmfs.append(_law(counts))
        parts += weight * counts.mean(axis=0)
        variance += weight**2 * _variance(counts)
    return HoleScores(np.array(pmfs), _law(plain), parts, math.sqrt(variance), math.sqrt(_variance(plain)))


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

    ``day`` is the weather (None: a standard one), the same on all of them. ``done`` is called as each hole is finished,
    from any thread; numbers depend on the seed and each hole's place in the course, not on how many threads there are.

    Raises
    ------
    BadRequest
        Where a hole has no such tee or pin.
    """
    days = good_and_bad_days(player)
    weights = np.array([weight for weight, _ in days])
    refuse_unknown(course, tee, pin)

    def one(number: int) -> HoleScores:
        ready = set_hole(course.holes[number], player, tee, pin, then, day)
        scores = hole_scores(ready, days, number, sequences, seed)
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
