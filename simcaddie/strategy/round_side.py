"""One player's round: scores by hole and day with the handicap, and laws of whatever the scores count."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.course.card import Card
from simcaddie.course.law import Law, mixed, total
from simcaddie.strategy.round_handicap import Handicap
from simcaddie.strategy.round_play import CAP, Played

__all__ = ["Counts", "Side", "score"]

Whole = NDArray[np.int64]
Counts = Callable[[Whole, int, int], Whole]  # scores, net par and limit of a hole → what they count

SCORES: Final = np.arange(CAP + 1)


def score(scores: Whole, _net_par: int, _limit: int) -> Whole:
    """Count the strokes themselves."""
    return scores


@dataclass(frozen=True, slots=True)
class Side:
    """One player's round; ``net_pars`` and ``limits`` (of maximum score) are by hole."""

    card: Card
    played: Played
    handicap: Handicap
    net_pars: tuple[int, ...]
    limits: tuple[int, ...]

    def hole(self, number: int, counts: Counts, day: int | None = None) -> Law:
        """Return the law of what one hole counts, on one day or over all."""
        scores = self.played.holes[number]
        share = self.played.weights @ scores.days if day is None else scores.days[day]
        return Law.of(counts(SCORES, self.net_pars[number], self.limits[number]), share)

    def total(self, counts: Counts) -> Law:
        """Return the law of the round's sum: holes added up on each day, then the days mixed."""
        holes, weights = range(len(self.net_pars)), self.played.weights
        return mixed([total(self.hole(i, counts, day) for i in holes) for day in range(weights.size)], list(weights))

    def plain(self, counts: Counts) -> Law:
        """Return the law of the round's sum without day form."""
        return total(
            Law.of(counts(SCORES, net, most), hole.plain)
            for hole, net, most in zip(self.played.holes, self.net_pars, self.limits, strict=True)
        )
