"""The law of a whole number, and of sums of independent ones: a round's total from its holes.

    P(A + B = s) = Σ P(A = a) · P(B = s − a)

Holes of one round are independent given the day's form, so a total is summed day by day and then mixed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import reduce

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["Pmf", "mixed", "total"]


@dataclass(frozen=True, slots=True)
class Pmf:
    """``chance`` float64[n] of the whole numbers ``low``, ``low`` + 1, …; sums to 1."""

    low: int
    chance: NDArray[np.float64]

    @classmethod
    def of(cls, values: ArrayLike, chance: ArrayLike) -> Pmf:
        """Return the law of ``values`` (whole numbers, also doubled ones) with their chances.

        >>> law = Pmf.of([2, 1, 0, 0], [0.1, 0.4, 0.3, 0.2])
        >>> law.low, law.chance
        (0, array([0.5, 0.4, 0.1]))
        """
        whole = np.asarray(values, np.int64)
        low = int(whole.min())
        return cls(low, np.bincount(whole - low, np.asarray(chance, np.float64)).astype(np.float64))

    @property
    def values(self) -> NDArray[np.int64]:
        """The whole numbers that ``chance`` belongs to."""
        return self.low + np.arange(self.chance.size)

    @property
    def mean(self) -> float:
        """The mean."""
        return float(self.values @ self.chance)

    @property
    def sd(self) -> float:
        """The standard deviation."""
        return math.sqrt(max(0.0, float((self.values - self.mean) ** 2 @ self.chance)))

    def at_most(self, value: float) -> float:
        """Return the chance of ``value`` or less."""
        return float(self.chance[self.values <= value].sum())

    def at_least(self, value: float) -> float:
        """Return the chance of ``value`` or more."""
        return float(self.chance[self.values >= value].sum())

    def quantile(self, share: float) -> int:
        """Return the least number that is not passed with a chance of ``share`` or more."""
        place = int(np.searchsorted(np.cumsum(self.chance), share - 1e-12))
        return self.low + min(place, self.chance.size - 1)

    def shifted(self, by: int) -> Pmf:
        """Return the law of the number plus ``by``."""
        return Pmf(self.low + by, self.chance)

    def negative(self) -> Pmf:
        """Return the law of the number with its sign changed."""
        return Pmf(-self.low - self.chance.size + 1, self.chance[::-1])


def total(pmfs: Iterable[Pmf]) -> Pmf:
    """Return the law of the sum of independent numbers; of none it is 0.

    >>> coin = Pmf(0, np.array([0.5, 0.5]))
    >>> total([coin, coin]).chance
    array([0.25, 0.5 , 0.25])
    """
    return reduce(lambda a, b: Pmf(a.low + b.low, np.convolve(a.chance, b.chance)), pmfs, Pmf(0, np.ones(1)))


def mixed(pmfs: Sequence[Pmf], weights: Sequence[float]) -> Pmf:
    """Return the law that is ``laws[i]`` with a chance of ``weights[i]``."""
    low, high = min(pmf.low for pmf in pmfs), max(pmf.low + pmf.chance.size for pmf in pmfs)
    chance = np.zeros(high - low)
    for pmf, weight in zip(pmfs, weights, strict=True):
        chance[pmf.low - low : pmf.low - low + pmf.chance.size] += weight * pmf.chance
    return Pmf(low, chance)
