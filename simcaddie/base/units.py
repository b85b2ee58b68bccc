"""Units: yards and radians inside, whatever people write at the edge.

Lengths are yards everywhere but in the flight model, which computes in SI and converts at its own edge.
"""

from __future__ import annotations

import math
from typing import Final

__all__ = [
    "FEET_PER_YARD", "METRES_PER_YARD", "MPS_PER_MPH", "SHORT", "YARDS_PER", "angle_between", "told",
    "unit_vector",
]  # fmt: skip

METRES_PER_YARD: Final = 0.9144  # exact, by definition
FEET_PER_YARD: Final = 3.0
MPS_PER_MPH: Final = 0.44704  # exact, by definition
YARDS_PER: Final = {"yards": 1.0, "metres": 1.0 / METRES_PER_YARD}
SHORT: Final = {"yards": "yd", "metres": "m"}


def unit_vector(bearing: float) -> tuple[float, float]:
    """Return (x, y) of length 1 for a bearing in radians, clockwise from +y.

    >>> unit_vector(0.0)
    (0.0, 1.0)
    """
    return math.sin(bearing), math.cos(bearing)


def told(yards: float, units: str, digits: int = 0) -> str:
    """Return a length as people say it in ``units``.

    >>> told(152.3, "yards"), told(152.3, "metres", 1)
    ('152 yd', '139.3 m')
    """
    return f"{yards / YARDS_PER[units]:.{digits}f} {SHORT[units]}"


def angle_between(start: tuple[float, float], end: tuple[float, float]) -> float:
    """Return the bearing in radians, clockwise from +y, of the line from ``start`` to ``end``.

    >>> round(math.degrees(angle_between((0, 0), (10, 10))), 6)
    45.0
    """
    return math.atan2(end[0] - start[0], end[1] - start[1])
