"""A round: every hole's scores against net par, the law of the total, and an opponent.

Within a round strokes are not independent: a day's form is in all of them. So totals are summed hole by hole on each
day and the days mixed; all figures a hole are means over the days as well, and add up to those of the round. The same
without day form shows what form does. An opponent's days are their own.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.errors import BadRequest
from simcaddie.course.card import Card, card_of
from simcaddie.course.course import Course
from simcaddie.course.hole import Hole
from simcaddie.decision.position import THENS, Then
from simcaddie.decision.rounds import CAP, Handicap, Played, handicap_of, play_course, tee_of
from simcaddie.player.swing import Player
from simcaddie.scoring.formats import FORMS, Form, limit_of, net_double_bogey, stableford
from simcaddie.scoring.handicap import match_handicaps
from simcaddie.scoring.match import MatchLaw, hole_chances, match_law
from simcaddie.scoring.pmf import Pmf, mixed, total
from simcaddie.weather.day import Day

__all__ = ["Round", "RoundHole", "RoundRequest", "Versus", "count_round", "play_round"]

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]
Counts = Callable[[Whole, int, int], Whole]  # scores, net par and limit of a hole → what they count

SCORES: Final = np.arange(CAP + 1)
FEWEST_SEQUENCES: Final = 1000


def score(scores: Whole, _net_par: int, _limit: int) -> Whole:
    """Count the strokes themselves."""
    return scores


@dataclass(frozen=True, slots=True)
class Side:
    """One player's round; ``net_pars`` and ``limits`` (of maximum score) are by hole."""

    card: Card
    played: Played
    handicap: Handicap
    net_pars: tuple[int, ...]
    limits: tuple[int, ...]

    def hole(self, number: int, counts: Counts, day: int | None = None) -> Pmf:
        """Return the law of what one hole counts, on one day or over all."""
        scores = self.played.holes[number]
        share = self.played.weights @ scores.days if day is None else scores.days[day]
        return Pmf.of(counts(SCORES, self.net_pars[number], self.limits[number]), share)

    def total(self, counts: Counts) -> Pmf:
        """Return the law of the round's sum: holes added up on each day, then the days mixed."""
        holes, weights = range(len(self.net_pars)), self.played.weights
        return mixed([total(self.hole(i, counts, day) for i in holes) for day in range(weights.size)], list(weights))

    def plain(self, counts: Counts) -> Pmf:
        """Return the law of the round's sum without day form."""
        return total(
            Pmf.of(counts(SCORES, net, most), hole.plain)
            for hole, net, most in zip(self.played.holes, self.net_pars, self.limits, strict=True)
        )


@dataclass(frozen=True, slots=True)
class Versus:
    """Chances to ``win``, ``tie`` and ``lose`` against ``player``, whose strokes have the law ``total``.

    In match play also ``strokes`` received on each hole (negative: given), the chances by hole, float64[holes, 3], and
    the law of the match.
    """

    player: Player
    handicap: Handicap
    total: Pmf
    win: float
    tie: float
    lose: float
    strokes: tuple[int, ...] = ()
    holes: Floats | None = None
    match: MatchLaw | None = None


def versus_total(opponent: Player, ours: Side, theirs: Side, form: Form) -> Versus:
    """Return the chances of the better total in a form of play: the lower net one, or the one with more points."""
    ours_net, theirs_net = (
        side.total(form.counts).shifted(-side.handicap.playing if form.gross else 0) for side in (ours, theirs)
    )
    ahead = total([ours_net, theirs_net.negative()] if form.more else [theirs_net, ours_net.negative()])
    win, lose = ahead.at_least(1), ahead.at_most(-1)
    return Versus(opponent, theirs.handicap, theirs.total(score), win, 1.0 - win - lose, lose)


def match_strokes(ours: Side, theirs: Side) -> tuple[int, ...]:
    """Return strokes received on each hole of a match: the lower playing handicap plays off nought (Appendix C)."""
    gets, gives = match_handicaps([ours.handicap.playing, theirs.handicap.playing])
    if gets:
        return ours.card.strokes(gets)
    return tuple(-given for given in ours.card.strokes(gives))


def versus_in_match(opponent: Player, ours: Side, theirs: Side) -> Versus:
    """Return the law of a match: hole by hole on every pair of days, then the pairs mixed."""
    strokes = match_strokes(ours, theirs)
    weights = np.outer(ours.played.weights, theirs.played.weights)
    days, holes = weights.shape, range(len(strokes))
    a = [[ours.hole(i, score, day) for i in holes] for day in range(days[0])]
    b = [[theirs.hole(i, score, day) for i in holes] for day in range(days[1])]
    chances = np.array(
        [
            [hole_chances(x, y, gets) for x, y, gets in zip(mine, other, strokes, strict=True)]
            for mine in a
            for other in b
        ]
    )
    pmf = match_law(chances, weights.ravel())
    by_hole = np.tensordot(weights.ravel(), chances, axes=1)
    return Versus(opponent, theirs.handicap, theirs.total(score), pmf.win, pmf.tie, pmf.lose, strokes, by_hole, pmf)


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
    """One hole of a round: ``strokes`` received, the score's ``pmf`` over all days, ``parts`` (``PARTS``) of its mean.

    ``counts`` is the law of what the hole counts in the form of play, ``points`` the mean Stableford points.
    """

    hole: Hole
    strokes: int
    net_par: int
    pmf: Pmf
    counts: Pmf
    points: float
    parts: Floats
    se: float

    @property
    def mean(self) -> float:
        """Mean strokes."""
        return self.pmf.mean

    @property
    def over(self) -> float:
        """Mean strokes over net par."""
        return self.mean - self.net_par

    @property
    def net_par_or_better(self) -> float:
        """Chance of net par or better."""
        return self.pmf.at_most(self.net_par)

    @property
    def blow_up(self) -> float:
        """Chance of net double bogey or worse."""
        return self.pmf.at_least(int(net_double_bogey(self.net_par)))

    @property
    def picked_up(self) -> float:
        """Chance of a hole that takes ``CAP`` strokes or more."""
        return self.pmf.at_least(CAP)


@dataclass(frozen=True, slots=True)
class Round:
    """A round: ``total`` is the law of all strokes over all days, ``plain`` that without day form.

    ``counted`` and ``counted_plain`` are those of what the form of play counts; ``to_handicap`` is the chance of a
    score differential no higher than the handicap index (None without an index).
    """

    course: Course
    player: Player
    request: RoundRequest
    form: Form
    tee: str | None
    handicap: Handicap
    holes: tuple[RoundHole, ...]
    total: Pmf
    plain: Pmf
    counted: Pmf
    counted_plain: Pmf
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
    tee = tee_of(course, request.tee)
    card = card_of(course, tee)
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
    scores = side.played.holes[number]
    return RoundHole(
        hole=hole,
        strokes=side.handicap.strokes[number],
        net_par=side.net_pars[number],
        pmf=side.hole(number, score),
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
    form, tee = request.check(opponent), tee_of(course, request.tee)
    card = card_of(course, tee)
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
