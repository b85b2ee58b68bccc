"""Handicaps: from a player's index to the strokes of a round, and where those fall on the holes.

    course handicap = index × slope / 113 + (course rating − par)             Rule 6.1a
    playing handicap = course handicap, unrounded, × allowance, then rounded   Rule 6.2a
    strokes(H, s) = ⌊(H − s) / n⌋ + 1,   n holes, s = 1 … n                    Appendices C and E

Rules of Handicapping (World Handicap System), 2024. A plus player's index is a negative number here. Handicaps are
computed in decimals, so that a half is a half. Strokes go in the order of the stroke index, above n the order repeats,
and a plus player (H < 0) gives strokes back from the highest index down.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import ROUND_FLOOR, Decimal
from types import MappingProxyType
from typing import Final

from simcaddie.base.errors import BadRequest

__all__ = [
    "ALLOWANCES",
    "NEUTRAL_SLOPE",
    "course_handicap",
    "course_handicap_nine",
    "match_handicaps",
    "nine_hole_order",
    "playing_handicap",
    "rounded",
    "strokes_received",
]  # fmt: skip

Number = int | float | Decimal

NEUTRAL_SLOPE: Final = 113  # Definitions, "Slope Rating": 55 to 155, a course of standard difficulty 113
LOWEST_SLOPE: Final = 55
HIGHEST_SLOPE: Final = 155
HIGHEST_INDEX: Final = Decimal(54)  # Rule 5.3

# Appendix C, recommended allowances by form of play; a nation or a Committee may set others.
ALLOWANCES: Final[Mapping[str, Decimal]] = MappingProxyType(
    {
        "stroke play": Decimal("0.95"),
        "stableford": Decimal("0.95"),
        "par/bogey": Decimal("0.95"),
        "maximum score": Decimal("0.95"),
        "match play": Decimal("1.00"),
        "four-ball stroke play": Decimal("0.85"),
        "four-ball stableford": Decimal("0.85"),
        "four-ball par/bogey": Decimal("0.90"),
        "four-ball match play": Decimal("0.90"),
    }
)


def strokes_received(playing_handicap: int, stroke_index: int, holes: int = 18) -> int:
    """Return the strokes received on a hole; negative where a plus player gives one back.

    Parameters
    ----------
    playing_handicap : whole strokes of the round, negative for a plus player
    stroke_index : 1 … ``holes``, 1 where the first stroke falls; for nine holes see ``nine_hole_order``
    holes : 18 or 9

    Raises
    ------
    BadRequest
        Where the stroke index isn't one of 1 … ``holes``.

    >>> [strokes_received(20, index) for index in (1, 2, 3, 18)]
    [2, 2, 1, 1]
    >>> [strokes_received(-2, index) for index in (1, 16, 17, 18)]
    [0, 0, -1, -1]
    """
    if not 1 <= stroke_index <= holes:
        raise BadRequest(f"a stroke index lies between 1 and {holes}, not at {stroke_index}")
    return (playing_handicap - stroke_index) // holes + 1


def nine_hole_order(stroke_indexes: Sequence[int]) -> list[int]:
    """Return each hole's place 1 … 9 in the order of the published 18-hole stroke indexes (Appendix E).

    >>> nine_hole_order([5, 17, 1])
    [2, 3, 1]
    """
    if len(set(stroke_indexes)) != len(stroke_indexes):
        raise BadRequest("no two holes may have the same stroke index")
    order = sorted(stroke_indexes)
    return [order.index(index) + 1 for index in stroke_indexes]


def _decimal(value: Number, what: str) -> Decimal:
    number = Decimal(str(value))
    if not number.is_finite():
        raise BadRequest(f"{what} must be a number, not {value}")
    return number


def rounded(value: Number) -> int:
    """Round to a whole number, a half towards +∞, also below zero (Rules 5.1c, 6.1 and Appendix C).

    >>> rounded(14.5), rounded(-2.5), rounded(-2.51)
    (15, -2, -3)
    """
    return int((_decimal(value, "a handicap") + Decimal("0.5")).to_integral_value(ROUND_FLOOR))


def _differential(index: Decimal, slope: Number, rating: Number, par: Number) -> Decimal:
    steepness = _decimal(slope, "a slope rating")
    if not LOWEST_SLOPE <= steepness <= HIGHEST_SLOPE:
        raise BadRequest(f"a slope rating lies between {LOWEST_SLOPE} and {HIGHEST_SLOPE}, not at {slope}")
    return index * steepness / NEUTRAL_SLOPE + _decimal(rating, "a course rating") - _decimal(par, "par")


def _index(index: Number) -> Decimal:
    number = _decimal(index, "a handicap index")
    if number > HIGHEST_INDEX:
        raise BadRequest(f"a handicap index is at most {HIGHEST_INDEX}, not {index}")
    return number


def course_handicap(index: Number, slope: Number, rating: Number, par: Number) -> Decimal:
    """Return the course handicap of 18 holes, unrounded (Rule 6.1a).

    Parameters
    ----------
    index : handicap index, at most 54.0; negative for a plus player
    slope : slope rating, 55 to 155
    rating, par : strokes

    Raises
    ------
    BadRequest
        Where the index or the slope rating is out of its range, or a number isn't finite.

    >>> round(course_handicap(26.2, 126, 72.1, 72), 4)
    Decimal('29.3142')
    """
    return _differential(_index(index), slope, rating, par)


def course_handicap_nine(index: Number, slope: Number, rating: Number, par: Number) -> Decimal:
    """Return the course handicap of nine holes, unrounded: half the index, the nine's own ratings (6.1b)."""
    return _differential(_index(index) / 2, slope, rating, par)


def playing_handicap(course_handicap: Number, allowance: Number = 1) -> int:
    """Return the strokes of a round: the unrounded course handicap × allowance, rounded last (Rule 6.2a).

    >>> playing_handicap(13.317, 0.95), playing_handicap(13, 0.95)
    (13, 12)
    """
    share = _decimal(allowance, "an allowance")
    if not 0 <= share <= 1:
        raise BadRequest(f"an allowance lies between 0 and 1, not at {allowance}")
    return rounded(_decimal(course_handicap, "a course handicap") * share)


def match_handicaps(playing_handicaps: Sequence[int]) -> list[int]:
    """Return what each player of a match gets: the best none, the others the difference (Appendix C)."""
    lowest = min(playing_handicaps, default=0)
    return [handicap - lowest for handicap in playing_handicaps]
