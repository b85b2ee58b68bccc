"""A player made better in one thing: what practice might bring.

Closing the gap: a thing that is worse than that of a golfer five strokes better (``skill``, same carries) becomes as
good; what is as good already stays. Numbers from the range are held against the model on the course, after what
``range_to_course`` makes of them. A side bias is no part of that gap: the model has none.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Final

from simcaddie.golfer.player import Player, Putting, Swing
from simcaddie.golfer.skill import USUAL_INDEX, Skill, skill_of, touch_of
from simcaddie.surfaces import TouchLie

__all__ = ["STROKES_BETTER", "TIGHTER", "better_at", "closed", "halved", "straightened", "tightened"]

STROKES_BETTER: Final = 5.0
TIGHTER: Final = 0.9

Change = Callable[[Player, Swing], Swing]


def target_skill(player: Player) -> Skill:
    """Return the skill of a golfer ``STROKES_BETTER`` strokes better than the player."""
    index = USUAL_INDEX if player.handicap_index is None else player.handicap_index
    return skill_of(index - STROKES_BETTER)


def closed(player: Player, swing: Swing) -> Swing:
    """Return a swing with its gap to the better golfer closed: spreads and mishits no worse than the model's."""
    skill, transfer = target_skill(player), player.range_to_course.of(swing.source)
    part, both = swing.name != "full", swing.fat + swing.thin
    mishits = skill.share_of_mishits(part=part) / (transfer.mishits or 1.0)
    fewer = min(1.0, mishits / both) if both > 0.0 else 1.0
    return replace(
        swing,
        carry_sd=min(swing.carry_sd, skill.spread_of_carry(swing.carry, part=part) / transfer.spread),
        side_sd=min(swing.side_sd, skill.side_sd(swing.carry, swing.loft) / transfer.spread),
        fat=swing.fat * fewer,
        thin=swing.thin * fewer,
    )


def tightened(_player: Player, swing: Swing) -> Swing:
    """Return a swing with a tenth less spread, in carry and side."""
    return replace(swing, carry_sd=TIGHTER * swing.carry_sd, side_sd=TIGHTER * swing.side_sd)


def halved(_player: Player, swing: Swing) -> Swing:
    """Return a swing with half the mishits."""
    return replace(swing, fat=swing.fat / 2.0, thin=swing.thin / 2.0)


def straightened(_player: Player, swing: Swing) -> Swing:
    """Return a swing without side bias; a curve stays as it is, turned with the rest."""
    start = swing.start_line
    if start is not None:
        start = math.degrees(math.atan(math.tan(math.radians(start)) - swing.side / swing.carry))
    return replace(swing, side=0.0, start_line=start)


def _touch(player: Player, change: Change) -> dict[str, TouchLie]:
    if change is closed:
        model = touch_of(target_skill(player))
        return {
            kind: replace(
                mine,
                **{
                    key: min(getattr(mine, key), getattr(model[kind], key))
                    for key in ("near", "far", "direction", "fat", "thin", "fail")
                },
            )
            for kind, mine in player.touch.items()
        }
    if change is halved:
        return {kind: replace(mine, fat=mine.fat / 2.0, thin=mine.thin / 2.0) for kind, mine in player.touch.items()}
    return {
        kind: replace(mine, near=TIGHTER * mine.near, far=TIGHTER * mine.far, direction=TIGHTER * mine.direction)
        for kind, mine in player.touch.items()
    }


def _putting(player: Player, change: Change) -> Putting:
    mine = player.putting
    if change is closed:
        model = target_skill(player).putting
        return Putting(min(mine.direction_sd, model.direction_sd), min(mine.distance_sd, model.distance_sd))
    return Putting(TIGHTER * mine.direction_sd, TIGHTER * mine.distance_sd)


def better_at(
    player: Player, change: Change, swings: set[int], *, touch: bool = False, putting: bool = False
) -> Player:
    """Return the player with ``change`` (``closed``, ``tightened`` …) made to the swings by number, touch and putting.

    Touch shots can be closed, tightened and halved, putts closed and tightened.
    """
    titles = {player.swings[number].title for number in swings}
    better = player.with_swings(lambda swing: change(player, swing) if swing.title in titles else swing)
    if touch:
        better = replace(better, touch=_touch(player, change))
    return replace(better, putting=_putting(player, change)) if putting else better
