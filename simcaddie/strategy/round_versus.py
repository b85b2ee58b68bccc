"""A round against an opponent: the better total, or a match hole by hole. Their days are their own: independent."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from simcaddie.course.law import Law, total
from simcaddie.course.match import MatchLaw, hole_chances, match_law
from simcaddie.golfer.player import Player
from simcaddie.scoring.forms import Form
from simcaddie.scoring.handicap import match_handicaps
from simcaddie.strategy.round_handicap import Handicap
from simcaddie.strategy.round_side import Side, score

__all__ = ["Versus", "versus_in_match", "versus_total"]


@dataclass(frozen=True, slots=True)
class Versus:
    """Chances to ``win``, ``tie`` and ``lose`` against ``player``, whose strokes have the law ``total``.

    In match play also ``strokes`` received on each hole (negative: given), the chances by hole, float64[holes, 3], and
    the law of the match.
    """

    player: Player
    handicap: Handicap
    total: Law
    win: float
    tie: float
    lose: float
    strokes: tuple[int, ...] = ()
    holes: NDArray[np.float64] | None = None
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
    chances = np.array([
        [hole_chances(x, y, gets) for x, y, gets in zip(mine, other, strokes, strict=True)] for mine in a for other in b
    ])
    law = match_law(chances, weights.ravel())
    by_hole = np.tensordot(weights.ravel(), chances, axes=1)
    return Versus(
        opponent, theirs.handicap, theirs.total(score), law.win, law.tie, law.lose, strokes, by_hole, law
    )
