"""The ladder of carries: how far each club goes, from how far the driver goes.

Two published columns, as shares of their own driver: men's tour averages (driver 282 yd) and a club golfer's (205 yd,
estimates); linear in the driver's carry between them, held beyond. Neither column alone would do: a slower golfer's
woods and irons lie closer to the driver, the wedges do not.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from simcaddie.golfer.defaults import CLUBS

__all__ = ["PARTS", "bag_for", "carry_of"]

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


def carry_of(club: str, driver: float) -> float:
    """Return the average carry of a club in yards, the driver's being ``driver``.

    >>> carry_of("driver", 200.0), round(carry_of("7 iron", 205.0)), round(carry_of("7 iron", 282.0))
    (200.0, 138, 176)
    """
    base = CLUBS[club]
    fast = float(np.interp(base.loft, _TOUR_LOFT, _TOUR)) / _FAST
    share = min(1.0, max(0.0, (driver - _SLOW) / (_FAST - _SLOW)))
    slow = base.carry / _SLOW
    return driver * (slow + share * (fast - slow))
