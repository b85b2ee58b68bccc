"""Golfers of any index: a ladder of carries from how far the driver goes, and a level of skill (``skill``).

The ladder is two published columns, as shares of their own driver: men's tour averages (driver 282 yd) and a club
golfer's (205 yd, estimates); linear in the driver's carry between them, held beyond. Neither column alone would do: a
slower golfer's woods and irons lie closer to the driver, the wedges do not.

The model is held against five golfers by name. Their driver carries: the published tee shots of the Course Rating
System's model golfers (250, 210, 200 and 150 yd in all, of which about 20 are run) and, for the tour, of the years of
the published strokes, 2003 to 2010: about 289 yd in all, from memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

import numpy as np

from simcaddie.base.units import YARDS_PER
from simcaddie.player.defaults import CLUBS, club_defaults, make_swing, mishit_split
from simcaddie.player.skill import TOUR_INDEX, lies_of, skill_of, touch_of
from simcaddie.player.swing import Club, Player, Putting, RangeToCourse, Swing

__all__ = ["LONGEST_DRIVER", "PARTS", "REFERENCES", "SHORTEST_DRIVER", "bag_for", "carry_of", "golfer", "reference"]

_SLOW: Final = CLUBS["driver"].carry  # yd
_FAST: Final = 282.0
# Tour carries by loft (published averages 2023, second-hand; wedges below the pitching wedge are estimates)
_TOUR_LOFT: Final = (10.5, 15.0, 18.0, 22.0, 23.0, 26.0, 29.5, 33.0, 37.0, 41.5, 46.0, 50.0, 55.0, 60.0)
_TOUR: Final = (282.0, 249.0, 236.0, 225.0, 209.0, 199.0, 188.0, 176.0, 164.0, 152.0, 142.0, 128.0, 115.0, 100.0)

# Thirteen clubs beside the putter, by the driver carry from which such a bag is usual; common practice, no source
_WEDGES: Final = ("pitching wedge", "gap wedge", "sand wedge", "lob wedge")
_BAGS: Final[tuple[tuple[float, tuple[str, ...]], ...]] = (
    (235.0, ("driver", "3 wood", "3 hybrid", "4 iron", "5 iron", "6 iron", "7 iron", "8 iron", "9 iron", *_WEDGES)),
    (165.0, ("driver", "3 wood", "5 wood", "4 hybrid", "5 iron", "6 iron", "7 iron", "8 iron", "9 iron", *_WEDGES)),
    (0.0, ("driver", "3 wood", "5 wood", "7 wood", "5 hybrid", "6 hybrid", "7 iron", "8 iron", "9 iron", *_WEDGES)),
)
# Part swings as shares of a full swing's carry, and the index up to which a golfer has them; common practice, no source
PARTS: Final = (("three quarter", 0.84, 5.0), ("half", 0.66, 54.0))


def bag_for(driver: float) -> tuple[str, ...]:
    """Return the names of the thirteen clubs usual with a driver that carries ``driver`` yd."""
    return next(clubs for least, clubs in _BAGS if driver >= least)


def carry_of(club: str, driver: float, loft: float | None = None) -> float:
    """Return the average carry of a club in yards, the driver's being ``driver``; ``loft`` for one not in the table.

    >>> carry_of("driver", 200.0), round(carry_of("7 iron", 205.0)), round(carry_of("7 iron", 282.0))
    (200.0, 138, 176)
    """
    base = club_defaults(club, loft)
    if base is None:
        raise KeyError(club)
    fast = float(np.interp(base.loft, _TOUR_LOFT, _TOUR)) / _FAST
    share = min(1.0, max(0.0, (driver - _SLOW) / (_FAST - _SLOW)))
    slow = base.carry / _SLOW
    return driver * (slow + share * (fast - slow))


SHORTEST_DRIVER: Final = 60.0  # yd of carry for which a ladder makes sense
LONGEST_DRIVER: Final = 350.0

PART_LOFT: Final = 41.0  # from the 9 iron down a golfer has part swings

# name: (index, driver carry in yd)
REFERENCES: Final = {
    "tour": (TOUR_INDEX, 266.0),
    "scratch man": (0.0, 230.0),
    "scratch woman": (0.0, 191.0),
    "bogey man": (20.0, 180.0),
    "bogey woman": (24.0, 131.0),
}


def _rounded(swing: Swing, unit: float) -> Swing:
    """Round a swing as a person would write it: whole carries, tenths of a unit, hundredths of a chance."""
    tenths = {key: round(getattr(swing, key) / unit, 1) * unit for key in ("carry_sd", "side_sd", "run", "run_sd")}
    fat, thin = mishit_split(swing.loft, round(swing.fat + swing.thin, 2))
    return replace(swing, fat=fat, thin=thin, **tenths)


def golfer(
    index: float, driver: float, *, name: str = "", units: str = "yards", lofts: Mapping[str, float] | None = None
) -> Player:
    """Return a golfer of a handicap index whose driver carries ``driver`` yd on average; all of it estimated.

    ``lofts`` (degrees) has the clubs in the bag, the thirteen that are usual by default.
    The numbers are for the course, not the range: nothing flatters them. They are rounded in ``units``.
    """
    bag = []
    unit = YARDS_PER[units]

    bagged = lofts or {club: CLUBS[club].loft for club in bag_for(driver)}

    def swing(club: str, part: str, carry: float) -> Swing:
        loft, whole = bagged[club], max(1.0, round(carry / unit)) * unit
        made = make_swing(club, part, whole, loft=loft, index=index, source="course", estimated=True)
        return _rounded(made, unit)

    for club, loft in bagged.items():
        carry = carry_of(club, driver, loft)
        swings = [swing(club, "full", carry)]
        if loft >= PART_LOFT:
            swings += [swing(club, part, carry * share) for part, share, highest in PARTS if index <= highest]
        bag.append(Club(club, loft, tuple(swings)))
    skill = skill_of(index)
    putting = Putting(round(skill.putting_direction, 2), round(skill.putting_distance, 3), skill.past)
    title = name or f"Index {index:g}, estimated"
    return Player(title, tuple(bag), index, RangeToCourse(), touch_of(skill), putting, lies_of(skill), units)


def reference(name: str) -> Player:
    """Return one of ``REFERENCES``."""
    index, driver = REFERENCES[name]
    return golfer(index, driver, name=name.capitalize())
