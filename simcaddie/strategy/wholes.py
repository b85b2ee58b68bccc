"""Whole numbers that still add up: of ten balls, of a hundred plays, hundredths of a stroke."""

from __future__ import annotations

import math
from collections.abc import Sequence

__all__ = ["wholes"]


def wholes(values: Sequence[float], total: int) -> list[int]:
    """Round ``values`` to whole numbers that add up to ``total``, by largest remainders.

    Parameters
    ----------
    values : real numbers of either sign whose sum is within a half, or so, of ``total``
    total : what the whole numbers add up to

    >>> wholes([3.4, 3.4, 3.2], 10), wholes([12.6, -7.3], 5)
    ([4, 3, 3], [12, -7])
    """
    floors = [math.floor(value) for value in values]
    order = sorted(range(len(values)), key=lambda i: (floors[i] - values[i], i))
    spare = total - sum(floors)
    for turn in range(abs(spare)):
        floors[(order if spare > 0 else order[::-1])[turn % len(values)]] += 1 if spare > 0 else -1
    return floors
