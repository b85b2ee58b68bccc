"""One swing of a player changed in one respect, and what that does to the look-aheads of a scene."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from simcaddie.golfer.pattern import mishit_rate
from simcaddie.golfer.player import Player, Swing, Trust
from simcaddie.play.pack import pack_swings
from simcaddie.strategy.scene import Scene

__all__ = ["on_patterns", "with_mishits", "with_spread", "with_trust"]


def _with_swing(player: Player, number: int, change: Callable[[Swing], Swing]) -> Player:
    bag, first = [], 0
    for club in player.bag:
        swings = tuple(change(s) if first + i == number else s for i, s in enumerate(club.swings))
        bag.append(replace(club, swings=swings))
        first += len(swings)
    return replace(player, bag=tuple(bag))


def with_spread(player: Player, number: int, factor: float) -> Player:
    """Return the player with the spread to the side of swing ``number`` multiplied."""
    return _with_swing(player, number, lambda swing: replace(swing, side_sd=swing.side_sd * factor))


def with_mishits(player: Player, number: int, lie: str, share: float) -> Player:
    """Return the player with swing ``number`` mishit that often on the course from ``lie``.

    Fat and thin strikes keep their proportion; a swing that had none gets half of each.
    """

    def changed(swing: Swing) -> Swing:
        both = swing.fat + swing.thin
        fat = swing.fat / both if both > 0.0 else 0.5
        rate = share / mishit_rate(player, swing, player.lies[lie])
        return replace(swing, fat=rate * fat, thin=rate * (1.0 - fat))

    return _with_swing(player, number, changed)


def with_trust(player: Player, number: int, trust: Trust) -> Player:
    """Return the player with another trust in swing ``number``."""
    return _with_swing(player, number, lambda swing: replace(swing, trust=trust))


def on_patterns(scene: Scene, player: Player) -> Scene:
    """Return the scene with a player's patterns, for look-aheads only: what follows is worth what it was."""
    swings = pack_swings(player)
    aheads = tuple(ahead.on(ahead.table._replace(swings=swings)) for ahead in scene.aheads)
    return replace(scene, player=player, aheads=aheads)
