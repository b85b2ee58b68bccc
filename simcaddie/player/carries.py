"""How far a swing carries, mishits counted: quantiles of its pattern, and the way it usually misses.

The carry's law is the mixture Σ share Φ((c − mean) / sd) over solid, fat and thin strikes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from simcaddie.base.surfaces import TEE
from simcaddie.player.estimated import marked
from simcaddie.player.pattern import Pattern, course_pattern
from simcaddie.player.swing import Player, Swing

__all__ = ["SwingCarry", "carry_quantile", "carry_share", "swing_carries"]

EITHER_WAY: Final = 0.6  # of the balls on one side: below it a swing misses either way
_SURE: Final = 1e-10  # yd


@dataclass(frozen=True, slots=True)
class SwingCarry:
    """A swing's carry on the course from a good lie, yards.

    ``average`` is that of its solid strikes; ``low`` and ``high`` bound the middle half of all balls; eight in ten
    beat ``short``. ``right`` is the share of balls to the right of the aim line.
    """

    swing: Swing
    average: float
    low: float
    high: float
    short: float
    right: float

    def average_shown(self, unit: float) -> str:
        """Return the average in units of ``unit`` yards, marked where it is an estimate."""
        return marked(f"{self.average / unit:.0f}", self.swing.estimated)

    def short_shown(self, unit: float) -> str:
        """Return what eight in ten beat in units of ``unit`` yards, marked where it rests on an estimate."""
        return marked(f"{self.short / unit:.0f}", self.swing.guessed)

    @property
    def miss(self) -> str:
        """The way it usually misses: "right", "left" or "either way"."""
        if self.right >= EITHER_WAY:
            return "right"
        return "left" if self.right <= 1.0 - EITHER_WAY else "either way"


def _below(z: float) -> float:
    """Return the normal law's share below ``z`` standard deviations."""
    return 0.5 * math.erfc(-z / math.sqrt(2.0))


def carry_share(pattern: Pattern, carry: float) -> float:
    """Return the share of balls that carry less than ``carry`` yards."""
    return sum(s.share * _below((carry - s.carry) / max(s.carry_sd, 1e-9)) for s in pattern.strikes)


def carry_quantile(pattern: Pattern, share: float) -> float:
    """Return the carry in yards that ``share`` of the balls don't reach; 0 < share < 1. Found by halving."""
    low = min(s.carry - 9.0 * s.carry_sd - 1.0 for s in pattern.strikes)
    high = max(s.carry + 9.0 * s.carry_sd + 1.0 for s in pattern.strikes)
    while high - low > _SURE:
        middle = (low + high) / 2.0
        low, high = (middle, high) if carry_share(pattern, middle) < share else (low, middle)
    return (low + high) / 2.0


def swing_carries(player: Player) -> tuple[SwingCarry, ...]:
    """Return every swing's carry on the course from the tee, where no lie costs any, longest first."""
    return tuple(sorted((_carry(player, swing) for swing in player.swings), key=lambda each: -each.average))


def _carry(player: Player, swing: Swing) -> SwingCarry:
    pattern = course_pattern(player, swing, player.lies[TEE])
    low, high, short = (carry_quantile(pattern, share) for share in (0.25, 0.75, 0.2))
    right = sum(s.share * _below(s.side / max(s.side_sd, 1e-9)) for s in pattern.strikes)
    return SwingCarry(swing, pattern.solid.carry, low, high, short, right)
