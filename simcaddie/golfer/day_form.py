"""Day form: strokes within a round are not independent. A round draws one side bias and one mishit factor for all.

How much: club golfers' rounds, published (USGA, before 2020, seen): 3 strokes above the course handicap on average, a
quarter at or better than it, which is an sd of about 3.7 strokes. Independent strokes on neutral courses alone come to
nearly that (DEVELOPERS.md, "Golfers"), so little is left for form: the numbers below, of about one stroke a round, are
the most that the published spread allows, and otherwise common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from simcaddie.golfer.player import Player, Swing

__all__ = ["DAY_FORM", "DayForm", "in_form"]


@dataclass(frozen=True, slots=True)
class DayForm:
    """``direction``: sd of a round's bias in degrees; ``mishits``: sd of the logarithm of its mishit factor."""

    direction: float
    mishits: float


DAY_FORM: Final = DayForm(direction=1.0, mishits=0.25)


def in_form(player: Player, form: DayForm, rng: np.random.Generator) -> Player:
    """Return the player as on one day: every swing turned by the same bias, every mishit share times the same factor.

    The factor's mean is 1, so that the average day is the player's own.
    """
    slope = math.tan(math.radians(form.direction * float(rng.standard_normal())))
    factor = math.exp(form.mishits * float(rng.standard_normal()) - form.mishits**2 / 2.0)

    def today(swing: Swing) -> Swing:
        return replace(swing, side=swing.side + slope * swing.carry, fat=swing.fat * factor, thin=swing.thin * factor)

    return player.with_swings(today)
