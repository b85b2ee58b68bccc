"""The day's table: per swing and angle to the wind, how carry, direction, landing and run change."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

__all__ = ["calm_table"]


def calm_table(landing: Sequence[float]) -> NDArray[np.float64]:
    """Return float64[swing, 1, 4] for a calm day: carry and run factors 1, drift 0, each swing's own landing tangent.

    ``landing`` holds the landing angles in degrees, one a swing.
    """
    table = np.ones((len(landing), 1, 4))
    table[:, 0, 1] = 0.0
    table[:, 0, 2] = np.tan(np.radians(landing))
    return table
