"""The card: par and stroke index of every hole, and the strokes received there.

Rules of Handicapping 2024, Appendix E: 18 holes bear the indexes 1 to 18, each once. Nine holes keep those of the
18-hole card (or bear 1 to 9); strokes then fall in ascending order of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from simcaddie.base.errors import BadRequest
from simcaddie.course.course import Course
from simcaddie.scoring.handicap import nine_hole_order, strokes_received

__all__ = ["ROUNDS", "Card", "card_of", "index_faults"]

ROUNDS = (9, 18)  # holes for which the Rules of Handicapping have a course handicap


@dataclass(frozen=True, slots=True)
class Card:
    """One item a hole: ``pars``, and ``order`` 1 … n in which strokes fall."""

    pars: tuple[int, ...]
    order: tuple[int, ...]

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
    """Return what is wrong with the stroke indexes of a card: (hole from 0, what was expected, what was found)."""
    faults: list[tuple[int, str, str]] = []
    seen: dict[int, int] = {}
    for hole, index in enumerate(indexes):
        if index is None:
            faults.append((hole, f"a `stroke_index` from 1 to 18 on every hole of a round (hole {hole + 1})", "none"))
        elif index in seen:
            faults.append((hole, "a stroke index of its own", f"{index}, which hole {seen[index]} has as well"))
        else:
            seen[index] = hole + 1
    return faults


def card_of(course: Course) -> Card:
    """Return the card of a course.

    Raises
    ------
    BadRequest
        Where the course has not 9 or 18 holes, or a hole's stroke index is missing or doubled.
    """
    if len(course.holes) not in ROUNDS:
        raise BadRequest(f"{course.name}: a round is played over 9 or 18 holes, not over {len(course.holes)}")
    indexes = [hole.stroke_index for hole in course.holes]
    for hole, expected, found in index_faults(indexes):
        raise BadRequest(f"{course.name}, hole {hole + 1}: expected {expected}, found {found}")
    known = [index for index in indexes if index is not None]
    return Card(tuple(hole.par for hole in course.holes), tuple(nine_hole_order(known)))
