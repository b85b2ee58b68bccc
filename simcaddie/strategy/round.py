"""A whole round: every hole's scores against its net par, the law of the total, and the chances that matter.

Within a round strokes are not independent: a day's form is in all of them. So totals are summed hole by hole on each
day and the days mixed; all figures a hole are means over the days as well, and add up to those of the round. The same
without day form shows what form does.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from simcaddie.air.day import Day
from simcaddie.course.card import card_of
from simcaddie.course.law import Law
from simcaddie.course.record import Course
from simcaddie.errors import BadRequest
from simcaddie.golfer.player import Player
from simcaddie.ground.hole import Hole
from simcaddie.scoring.forms import FORMS, Form, limit_of
from simcaddie.scoring.points import net_double_bogey, stableford
from simcaddie.strategy.round_handicap import Handicap, handicap_of, tee_of
from simcaddie.strategy.round_play import CAP, HoleScores, Played, play_course
from simcaddie.strategy.round_side import Side, score
from simcaddie.strategy.round_versus import Versus, versus_in_match, versus_total
from simcaddie.strategy.scene import THENS, Then

__all__ = ["Round", "RoundHole", "RoundRequest", "count_round", "play_round"]

Floats = NDArray[np.float64]
FEWEST_SEQUENCES = 1000


@dataclass(frozen=True, slots=True)
class RoundRequest:
    """What is asked: a tee and a pin by name, a form of play (a key of ``FORMS``), and how hard to try.

    ``allowance`` from 0 to 1, None for the recommended one; ``limit`` is that of maximum score; no ``day`` is the one
    that the course file gives, else a standard one.
    """

    tee: str | None = None
    pin: str | None = None
    form: str = "stroke"
    allowance: float | None = None
    limit: str = "net-double-bogey"
    then: Then = "best"
    sequences: int = 50_000
    seed: int = 1
    day: Day | None = None

    def check(self, opponent: Player | None) -> Form:
        """Return the form of play, refusing what makes no sense whatever the course and player.

        Raises
        ------
        BadRequest
            An unknown form, way to play or limit, too few sequences, match play against nobody.
        """
        if self.form not in FORMS:
            raise BadRequest(f"a form of play is one of {', '.join(FORMS)}, not '{self.form}'")
        if self.then not in THENS:
            raise BadRequest(f"strokes are played {', '.join(THENS)}, not '{self.then}'")
        if self.sequences < FEWEST_SEQUENCES:
            raise BadRequest(f"at least {FEWEST_SEQUENCES} sequences a hole are needed, not {self.sequences}")
        if self.form == "match" and opponent is None:
            raise BadRequest("match play needs an opponent: --versus OTHER")
        limit_of(self.limit, 4, 4)
        return FORMS[self.form]


@dataclass(frozen=True, slots=True)
class RoundHole:
    """One hole of a round: ``strokes`` received, the score's ``law`` over all days, ``parts`` (``PARTS``) of its mean.

    ``counts`` is the law of what the hole counts in the form of play, ``points`` the mean Stableford points.
    """

    hole: Hole
    strokes: int
    net_par: int
    law: Law
    counts: Law
    points: float
    parts: Floats
    se: float

    @property
    def mean(self) -> float:
        """Mean strokes."""
        return self.law.mean

    @property
    def over(self) -> float:
        """Mean strokes over net par."""
        return self.mean - self.net_par

    @property
    def net_par_or_better(self) -> float:
        """Chance of net par or better."""
        return self.law.at_most(self.net_par)

    @property
    def blow_up(self) -> float:
        """Chance of net double bogey or worse."""
        return self.law.at_least(int(net_double_bogey(self.net_par)))

    @property
    def picked_up(self) -> float:
        """Chance of a hole that takes ``CAP`` strokes or more."""
        return self.law.at_least(CAP)


@dataclass(frozen=True, slots=True)
class Round:
    """A round.

    ``total`` is the law of all strokes over all days, ``plain`` that without day form; ``counted`` and
    ``counted_plain`` are those of what the form of play counts. ``to_handicap`` is the chance of a score differential
    no higher than the handicap index (None without an index).
    """

    course: Course
    player: Player
    request: RoundRequest
    form: Form
    tee: str | None
    handicap: Handicap
    holes: tuple[RoundHole, ...]
    total: Law
    plain: Law
    counted: Law
    counted_plain: Law
    to_handicap: float | None
    se: float
    plain_se: float
    versus: Versus | None = None

    @property
    def day(self) -> Day | None:
        """The weather played in: the one asked for, else the course file's; None for a standard day."""
        return self.request.day or self.course.day

    @property
    def par(self) -> int:
        """The sum of the holes' pars."""
        return sum(one.hole.par for one in self.holes)

    @property
    def parts(self) -> Floats:
        """Mean strokes of the round by part of the game, float64[5]: they add up to the mean total."""
        return np.asarray(np.sum([one.parts for one in self.holes], axis=0))


def _root(errors: list[float]) -> float:
    return float(np.sqrt(np.sum(np.square(errors))))


def _played(course: Course, player: Player, request: RoundRequest, done: Callable[[], None] | None) -> Played:
    return play_course(
        course,
        player,
        tee=tee_of(course, request.tee),
        pin=request.pin,
        then=request.then,
        sequences=request.sequences,
        seed=request.seed,
        day=request.day or course.day,
        done=done,
    )


def _side(course: Course, player: Player, request: RoundRequest, form: Form, played: Played) -> Side:
    card, tee = card_of(course), tee_of(course, request.tee)
    allowance = form.share if request.allowance is None else request.allowance
    handicap = handicap_of(course, card, player, tee, allowance)
    net_pars = card.net_pars(handicap.playing)
    limits = tuple(limit_of(request.limit, par, net) for par, net in zip(card.pars, net_pars, strict=True))
    return Side(card, played, handicap, net_pars, limits)


def _to_handicap(side: Side) -> float | None:
    """Return the chance of a differential (Rule 5.1a) up to the index, no hole above net double bogey (3.1b)."""
    handicap = side.handicap
    if handicap.course is None:
        return None
    full = tuple(net - a + b for net, a, b in zip(side.net_pars, handicap.strokes, handicap.full, strict=True))
    adjusted = replace(side, net_pars=full).total(lambda taken, net, _: np.minimum(taken, net + 2))
    return adjusted.at_most(handicap.par + float(handicap.course))


def _hole(side: Side, hole: Hole, number: int, form: Form) -> RoundHole:
    scores: HoleScores = side.played.holes[number]
    return RoundHole(
        hole=hole,
        strokes=side.handicap.strokes[number],
        net_par=side.net_pars[number],
        law=side.hole(number, score),
        counts=side.hole(number, form.counts),
        points=side.hole(number, lambda taken, net, _: stableford(taken, net)).mean,
        parts=scores.parts,
        se=scores.se,
    )


def play_round(
    course: Course,
    player: Player,
    request: RoundRequest | None = None,
    *,
    opponent: Player | None = None,
    done: Callable[[], None] | None = None,
) -> Round:
    """Return a player's round on a course; ``done`` is called as each hole of either player is finished.

    Raises
    ------
    BadRequest
        Where the request or the course's card makes no sense; see ``RoundRequest.check`` and ``card_of``.
    """
    request = request or RoundRequest()
    players = [player] if opponent is None else [player, opponent]
    form, card, tee = request.check(opponent), card_of(course), tee_of(course, request.tee)
    for one in players:  # refused before the long work
        handicap_of(course, card, one, tee, form.share if request.allowance is None else request.allowance)
    played = [_played(course, one, request, done) for one in players]
    return count_round(course, player, request, played[0], None if opponent is None else (opponent, played[1]))


def count_round(
    course: Course,
    player: Player,
    request: RoundRequest,
    played: Played,
    against: tuple[Player, Played] | None = None,
) -> Round:
    """Return the round that scores come to by the form of play of ``request``; nothing is played anew."""
    form = request.check(against and against[0])
    side = _side(course, player, request, form, played)
    holes = tuple(_hole(side, hole, number, form) for number, hole in enumerate(course.holes))
    versus = None
    if against is not None:
        other = _side(course, against[0], request, form, against[1])
        match = request.form == "match"
        versus = versus_in_match(against[0], side, other) if match else versus_total(against[0], side, other, form)
    return Round(
        course=course,
        player=player,
        request=request,
        form=form,
        tee=tee_of(course, request.tee),
        handicap=side.handicap,
        holes=holes,
        total=side.total(score),
        plain=side.plain(score),
        counted=side.total(form.counts),
        counted_plain=side.plain(form.counts),
        to_handicap=_to_handicap(side),
        se=_root([scores.se for scores in side.played.holes]),
        plain_se=_root([scores.plain_se for scores in side.played.holes]),
        versus=versus,
    )
