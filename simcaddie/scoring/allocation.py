"""Where handicap strokes should fall: stroke indexes from the difficulty of the holes, and what is asked of them.

Rules of Handicapping, Appendix E. A hole's difficulty relative to par is, in the words of the 2020 edition,

    value of a scratch golfer + value of a bogey golfer − 2 × par        example: 4.2 + 5.3 − 2 × 4 = 1.5

Its recommendations: odd indexes on the front nine and even ones on the back nine; the lowest of each nine in its middle
three holes. From memory, to be held against the text in force: unless no hole there is among the six hardest of the
eighteen, and then not on the nine's first or last hole; and no two neighbours with indexes of 6 or less. The edition of
a nation and the Committee decide.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

__all__ = ["LOW_INDEX", "Asked", "asked_of", "difficulty", "places", "proposed_indexes"]

LOW_INDEX: Final = 6
WHOLE: Final = 18
NINES: Final = (range(9), range(9, WHOLE))
MIDDLE: Final = slice(3, 6)  # of a nine


def difficulty(better: float, worse: float, par: int) -> float:
    """Return a hole's difficulty relative to par from the mean scores of a better and a worse golfer.

    >>> round(difficulty(4.2, 5.3, 4), 1)
    1.5
    """
    return better + worse - 2.0 * par


def places(difficulties: Sequence[float]) -> tuple[int, ...]:
    """Return each hole's place in the order of difficulty, 1 the hardest; of equal ones the earlier first.

    >>> places([0.5, 1.5, 1.0])
    (3, 1, 2)
    """
    order = sorted(range(len(difficulties)), key=lambda hole: (-difficulties[hole], hole))
    found = [0] * len(order)
    for place, hole in enumerate(order, start=1):
        found[hole] = place
    return tuple(found)


def _first(nine: range, rank: Sequence[int]) -> int:
    """Return the hole of a nine on which its first stroke should fall."""
    middle = min(nine[MIDDLE], key=lambda hole: rank[hole])
    return middle if rank[middle] <= LOW_INDEX else min(nine[1:-1], key=lambda hole: rank[hole])


def proposed_indexes(difficulties: Sequence[float]) -> tuple[int, ...]:
    """Return stroke indexes by difficulty: over 18 holes as Appendix E recommends, else in plain order.

    Neighbours with low indexes are left as they fall: ``asked_of`` tells of them.
    """
    rank = places(difficulties)
    if len(rank) != WHOLE:
        return rank
    found = [0] * WHOLE
    for number, nine in enumerate(NINES):
        first = _first(nine, rank)
        order = [first, *sorted(set(nine) - {first}, key=lambda hole: rank[hole])]
        for place, hole in enumerate(order):
            found[hole] = 2 * place + 1 + number
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Asked:
    """One recommendation: ``words``, whether ``met``, the ``holes`` (from 1) where not; ``memory``: unchecked."""

    words: str
    met: bool
    holes: tuple[int, ...]
    memory: bool = False


def asked_of(indexes: Sequence[int], difficulties: Sequence[float]) -> tuple[Asked, ...]:
    """Return what is asked of the indexes of 18 holes; nothing for another number of holes."""
    if len(indexes) != WHOLE:
        return ()
    rank = places(difficulties)
    odd = [{indexes[hole] % 2 for hole in nine} for nine in NINES]
    lowest = [min(nine, key=lambda hole: indexes[hole]) for nine in NINES]
    off = [hole + 1 for nine, hole in zip(NINES, lowest, strict=True) if not _well_placed(nine, hole, rank)]
    beside = [hole + 1 for hole, pair in enumerate(pairwise(indexes)) if max(pair) <= LOW_INDEX]
    ends = [hole + 1 for nine, hole in zip(NINES, lowest, strict=True) if hole in (nine[0], nine[-1])]
    return (
        Asked("odd indexes on one nine, even ones on the other", sorted(map(len, odd)) == [1, 1], ()),
        Asked("the lowest index of each nine in its middle three holes", not off, tuple(off)),
        Asked("it is not the nine's first or last hole", not ends, tuple(ends), memory=True),
        Asked("no two neighbours of index 6 or less", not beside, tuple(beside), memory=True),
    )


def _well_placed(nine: range, hole: int, rank: Sequence[int]) -> bool:
    """Tell whether a nine's lowest index stands in its middle, or needn't since no hole there is hard enough."""
    middle = nine[MIDDLE]
    return hole in middle or min(rank[one] for one in middle) > LOW_INDEX
