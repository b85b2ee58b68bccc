"""Where the strokes fall: a playing handicap spread over the holes by stroke index.

    strokes(H, s) = ⌊(H − s) / n⌋ + 1,   n holes, s = 1 … n

One formula for all: strokes go in the order of the stroke index, above n the order repeats, and a plus player
(H < 0) gives strokes back from the highest index down. Rules of Handicapping 2024, Appendices C and E.
"""

from __future__ import annotations

from collections.abc import Sequence

from simcaddie.errors import BadRequest

__all__ = ["max_hole_score", "nine_hole_order", "strokes_received"]

NO_INDEX_OVER_PAR = 5  # Rule 3.1a: before a handicap index is established


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


def max_hole_score(par: int, strokes: int | None) -> int:
    """Return the most a hole counts towards a handicap: net double bogey, par + 2 + ``strokes`` (Rule 3.1b).

    ``strokes`` come from the full rounded course handicap, not from the playing handicap; None before a
    player has a handicap index, then par + 5 (Rule 3.1a).
    """
    return par + NO_INDEX_OVER_PAR if strokes is None else par + 2 + strokes
