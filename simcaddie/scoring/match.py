"""Match play: the law of a match's result from the chances to win, tie and lose each hole (Rule 3.2, 2023).

With u holes up after so many holes, P(u) moves to u + 1, u or u − 1 by the next hole's chances; a match is over as soon
as a player is up by more holes than are left (Rule 3.2a(3)).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from simcaddie.scoring.pmf import Pmf

__all__ = ["MatchLaw", "hole_chances", "match_law", "result_words"]

Floats = NDArray[np.float64]
Result = tuple[int, int]


@dataclass(frozen=True, slots=True)
class MatchLaw:
    """``chance`` of each result (holes up, holes left), up negative where the match is lost, (0, 0) a tied one."""

    chance: dict[Result, float]

    @property
    def win(self) -> float:
        """Chance to win the match."""
        return sum(share for (up, _), share in self.chance.items() if up > 0)

    @property
    def tie(self) -> float:
        """Chance that all holes leave it tied."""
        return self.chance.get((0, 0), 0.0)

    @property
    def lose(self) -> float:
        """Chance to lose the match."""
        return sum(share for (up, _), share in self.chance.items() if up < 0)


def hole_chances(ours: Pmf, theirs: Pmf, strokes: int) -> tuple[float, float, float]:
    """Return the chances to win, tie and lose a hole, receiving ``strokes`` (giving them, where negative) there.

    The lower net score wins (Rule 3.2c).

    >>> hole_chances(Pmf(4, np.array([0.5, 0.5])), Pmf(4, np.array([1.0])), 1)
    (0.5, 0.5, 0.0)
    """
    ahead = theirs.values[None, :] - (ours.values[:, None] - strokes)
    both = ours.chance[:, None] * theirs.chance[None, :]
    return float(both[ahead > 0].sum()), float(both[ahead == 0].sum()), float(both[ahead < 0].sum())


def match_law(chances: Floats, weights: Floats | None = None) -> MatchLaw:
    """Return the law of a match.

    Parameters
    ----------
    chances : float64[holes, 3], or float64[days, holes, 3] with ``weights`` float64[days]: win, tie, lose
    """
    by_day = chances if chances.ndim == 3 else chances[None]
    share = np.ones(1) if weights is None else weights
    days, holes, _ = by_day.shape
    share_up = np.zeros((days, 2 * holes + 1))  # column holes + u: u up
    share_up[:, holes] = 1.0
    results: dict[Result, float] = {}
    for hole in range(holes):
        win, tie, lose = (by_day[:, hole, i, None] for i in range(3))
        new = tie * share_up
        new[:, 1:] += win * share_up[:, :-1]
        new[:, :-1] += lose * share_up[:, 1:]
        left = holes - hole - 1
        over = (left + 1, left + 2, -left - 1, -left - 2)  # from at most left + 1 up, one hole on
        for ahead in (up for up in over if abs(up) <= hole + 1) if left else range(-holes, holes + 1):
            ended = float(share @ new[:, holes + ahead])
            if ended > 0.0:
                results[ahead, left] = results.get((ahead, left), 0.0) + ended
            new[:, holes + ahead] = 0.0
        share_up = new
    return MatchLaw(results)


def result_words(result: Result) -> str:
    """Say a result as golfers do.

    >>> result_words((3, 2)), result_words((-1, 0)), result_words((0, 0))
    ('won 3 and 2', 'lost 1 down', 'tied')
    """
    up, left = result
    if up == 0:
        return "tied"
    how = f"{abs(up)} and {left}" if left else f"{abs(up)} {'up' if up > 0 else 'down'}"
    return f"{'won' if up > 0 else 'lost'} {how}"
