"""Members as neutral golfers: each for themselves, or between the golfers of a lattice, whichever are fewer.

A neutral golfer is known by handicap index and driver carry (``player/reference``), and what a hole does to one changes
slowly with both. So the golfers played stand on a lattice, and a member's law of scores is the mixture of those at the
four corners around, weighted linearly: means and chances are interpolated as they are mixed. A golfer of few nodes is
played for all who share them. What that costs in accuracy is held in the tests against members played for themselves.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from simcaddie.io.members import FieldMember

__all__ = ["DRIVER_STEP", "INDEX_STEP", "Golfer", "Golfers", "Setup", "golfers_for"]

INDEX_STEP: Final = 6.0
DRIVER_STEP: Final = 10.0  # yd

Golfer = tuple[float, float]  # index, driver carry in yards
Setup = tuple[str | None, str | None]  # tee, pin


@dataclass(frozen=True, slots=True)
class Golfers:
    """The golfers to be played, and for each member (golfer's number, weight); weights add up to 1."""

    golfers: tuple[Golfer, ...]
    shares: tuple[tuple[tuple[int, float], ...], ...]


def _corners(index: float, driver: float) -> dict[Golfer, float]:
    """Return the lattice golfers around one, and their weights; the outermost are the last that a golfer can be."""
    sides = []
    for value, step in ((index, INDEX_STEP), (driver, DRIVER_STEP)):
        start = step * math.floor(value / step)
        up = (value - start) / step
        sides.append([(at, share) for at, share in ((start, 1.0 - up), (start + step, up)) if share])
    return {(a, b): x * y for (a, x), (b, y) in itertools.product(*sides)}


def golfers_for(members: Sequence[FieldMember], *, each: bool = False) -> Golfers:
    """Return the golfers to play for some members; ``each``: every member for themselves, whatever that costs."""
    own = [{(member.index, member.driver): 1.0} for member in members]
    lattice = [_corners(member.index, member.driver) for member in members]
    counts = [len({golfer for shares in way for golfer in shares}) for way in (own, lattice)]
    chosen = own if each or counts[0] <= counts[1] else lattice
    golfers = tuple(sorted({golfer for shares in chosen for golfer in shares}))
    number = {golfer: place for place, golfer in enumerate(golfers)}
    shares = tuple(tuple((number[golfer], share) for golfer, share in sorted(one.items())) for one in chosen)
    return Golfers(golfers, shares)
