"""Touch shots: feel shots shorter than any measured swing.

Their numbers stand in the table of surfaces and in the player file; how one comes off is in the stroke kernel.
"""

from __future__ import annotations

from typing import Final

from simcaddie.golfer.player import Player
from simcaddie.surfaces import Lie

__all__ = ["SHORTEST_REACH", "longest_touch"]

SHORTEST_REACH: Final = 30.0  # yd: a player without part swings can still play a chip or pitch this far


def longest_touch(player: Player, lie: Lie) -> float:
    """Return the longest touch shot in yards: up to the carry of the shortest swing, from this lie."""
    shortest = min((swing.carry for swing in player.swings), default=SHORTEST_REACH)
    return max(SHORTEST_REACH, shortest) * lie.carry
