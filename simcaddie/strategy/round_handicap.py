"""What a player's index comes to from one tee of a course: course handicap, playing handicap, strokes on each hole."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from simcaddie.course.card import Card
from simcaddie.course.record import Course, CourseTee
from simcaddie.errors import BadRequest
from simcaddie.golfer.player import Player
from simcaddie.scoring.handicap import (
    NEUTRAL_SLOPE,
    course_handicap,
    course_handicap_nine,
    playing_handicap,
    rounded,
)

__all__ = ["Handicap", "handicap_of", "tee_of"]


@dataclass(frozen=True, slots=True)
class Handicap:
    """``course`` unrounded (Rule 6.1), ``playing`` after the allowance (Rule 6.2a), ``strokes`` a hole, None: no index.

    ``rating`` and ``slope`` are what was used; ``assumed`` tells that the course file gives none for the tee, so that
    the rating is par and the slope 113.
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
    assumed = known.course_rating is None or known.slope is None
    none = (0,) * len(card.pars)
    if player.handicap_index is None:
        return Handicap(None, None, 0, allowance, none, none, rating, slope, par, assumed)
    formula = course_handicap if len(card.pars) == 18 else course_handicap_nine
    exact = formula(player.handicap_index, slope, rating, par)
    playing = playing_handicap(exact, allowance)
    return Handicap(
        player.handicap_index,
        exact,
        playing,
        allowance,
        card.strokes(playing),
        card.strokes(rounded(exact)),
        rating,
        slope,
        par,
        assumed,
    )
