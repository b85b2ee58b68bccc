"""The card: par and stroke index of every hole, and the strokes received there.

Rules of Handicapping 2024, Appendix E: 18 holes bear the indexes 1 to 18, each once. Nine holes keep those of the
18-hole card (or bear 1 to 9); strokes then fall in ascending order of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from simcaddie.base.errors import BadRequest
from simcaddie.course.course import Course
from simcaddie.course.route import length_from
from simcaddie.scoring.handicap import nine_hole_order, strokes_received

__all__ = ["ROUNDS", "Card", "card_of", "index_faults", "order_by_length"]

ROUNDS = (9, 18)  # holes for which the Rules of Handicapping have a course handicap


@dataclass(frozen=True, slots=True)
class Card:
    """One item a hole: ``pars``, and ``order`` 1 … n in which strokes fall.

    ``by_length`` tells that stroke indexes are missing, so that the order is that of ``order_by_length``.
    """

    pars: tuple[int, ...]
    order: tuple[int, ...]
    by_length: bool = False

    def strokes(self, handicap: int) -> tuple[int, ...]:
        """Return the strokes received on each hole; they add up to ``handicap``, negative ones given back.

        >>> Card((4,) * 9, tuple(range(1, 10))).strokes(11)
        (2, 2, 1, 1, 1, 1, 1, 1, 1)
        """
        return tuple(strokes_received(handicap, at, len(self.pars)) for at in self.order)

    def net_pars(self, handicap: int) -> tuple[int, ...]:
        """Return par and strokes of each hole."""
        return tuple(par + strokes for par, strokes in zip(self.pars, self.strokes(handicap), strict=True))


def index_faults(indexes: Sequence[int | None]) -> list[tuple[int, str, str]]:
    """Return what is wrong with the stroke indexes of a card: (hole from 0, what was expected, what was found).

    None for a hole without one is no fault.
    """
    faults: list[tuple[int, str, str]] = []
    seen: dict[int, int] = {}
    for hole, index in enumerate(indexes):
        if index is None:
            continue
        if index in seen:
            faults.append((hole, "a stroke index of its own", f"{index}, which hole {seen[index]} has as well"))
        else:
            seen[index] = hole + 1
    return faults


def order_by_length(lengths: Sequence[float]) -> tuple[int, ...]:
    """Return each hole's place in the order of strokes where the card's indexes aren't known: the longest first.

    Strokes even out a scratch and a bogey player, whose length ratings differ by length / 160 − length / 220: by length
    alone. Over 18 holes odd places go to the first nine and even ones to the second, as Appendix E recommends.

    >>> order_by_length([300, 510, 150, 400, 350, 340, 320, 160, 480])
    (7, 1, 9, 3, 4, 5, 6, 8, 2)
    """
    nines = [lengths[:9], lengths[9:]] if len(lengths) == max(ROUNDS) else [lengths]
    found: list[int] = []
    for number, nine in enumerate(nines):
        ranks = sorted(range(len(nine)), key=lambda hole: (-nine[hole], hole))
        found += [len(nines) * ranks.index(hole) + 1 + number for hole in range(len(nine))]
    return tuple(found)


def card_of(course: Course, tee: str | None = None) -> Card:
    """Return the card of a course; from ``tee``, each hole's first by default, where strokes go by length.

    Raises
    ------
    BadRequest
        Where the course has not 9 or 18 holes, or two have the same stroke index.
    """
    if len(course.holes) not in ROUNDS:
        raise BadRequest(f"{course.name}: a round is played over 9 or 18 holes, not over {len(course.holes)}")
    indexes = [hole.stroke_index for hole in course.holes]
    for hole, expected, found in index_faults(indexes):
        raise BadRequest(f"{course.name}, hole {hole + 1}: expected {expected}, found {found}")
    known, pars = [index for index in indexes if index is not None], tuple(hole.par for hole in course.holes)
    if len(known) == len(pars):
        return Card(pars, tuple(nine_hole_order(known)))
    lengths = [length_from(hole, hole.place(tee).at) for hole in course.holes]
    return Card(pars, order_by_length(lengths), by_length=True)
