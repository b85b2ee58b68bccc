"""One swing of a player changed in one respect, and what that does to the look-aheads of a scene."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.affinity import translate

from simcaddie.base.surfaces import BY_NAME, code
from simcaddie.base.units import unit_vector
from simcaddie.course.grid import area_grid
from simcaddie.course.hole import Hole
from simcaddie.decision.position import Position
from simcaddie.model import arrays as r
from simcaddie.model.arrays import Event
from simcaddie.model.build import pack_ground, pack_swings
from simcaddie.model.states import build_states
from simcaddie.player.pattern import mishit_rate
from simcaddie.player.swing import Player, Swing, Trust
from simcaddie.solve.ahead import Balls
from simcaddie.weather.day import STANDARD

__all__ = ["dearest_area", "moved", "on_ground", "on_patterns", "with_mishits", "with_spread", "with_trust"]


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


def on_patterns(position: Position, player: Player) -> Position:
    """Return the scene with a player's patterns, for look-aheads only: what follows is worth what it was."""
    swings = pack_swings(player)
    aheads = tuple(ahead.on(ahead.problem._replace(swings=swings)) for ahead in position.aheads)
    return replace(position, player=player, aheads=aheads)


# ─── A hazard moved along a line: which one makes the difference, the hole with it elsewhere, old values on new ground

LEAST_LOSS: Final = 0.005  # strokes a hole


def moved(hole: Hole, number: int, bearing: float, far: float) -> Hole:
    """Return the hole with area ``number`` moved ``far`` yards along ``bearing`` (radians clockwise from +y)."""
    dx, dy = unit_vector(bearing)
    area = hole.areas[number]
    there = replace(area, outline=translate(area.outline, far * dx, far * dy))
    return replace(hole, areas=(*hole.areas[:number], there, *hole.areas[number + 1 :]))


def _same_place(old: r.States, new: r.States) -> NDArray[np.int64]:
    """Return, per new state, the old state of the same lie whose cell is nearest: as a rule the same cell."""
    from scipy.spatial import cKDTree  # noqa: PLC0415 (a tenth of a second that few questions need)

    origin = np.zeros(new.lie.size, np.int64)
    for lie in np.unique(new.lie):
        here = np.flatnonzero(new.lie == lie)
        there = np.flatnonzero(old.lie == lie)
        there = there if there.size else np.arange(old.lie.size)
        _, nearest = cKDTree(old.xy[there]).query(new.xy[here])
        origin[here] = there[nearest]
    return origin


def on_ground(position: Position, hole: Hole) -> Position:
    """Return the scene on another form of its hole, for look-aheads only: what follows is worth what it was.

    A ball is worth what a ball of the same lie was worth at that place, or at the nearest place where there was such
    a lie. Exact where nothing moved; near a moved edge a guess.
    """
    grid, aheads = area_grid(hole), []
    states = build_states(grid, position.start)
    for ahead, pin in zip(position.aheads, position.pins, strict=True):
        ground = pack_ground(hole, grid, pin, position.day or STANDARD)
        origin = _same_place(ahead.problem.states, states)
        aheads.append(ahead.on(ahead.problem._replace(ground=ground, states=states), origin))
    return replace(position, hole=hole, aheads=tuple(aheads))


def _areas(hole: Hole, first: r.Rest) -> NDArray[np.int64]:
    """Return the hazard or stand of trees that each first ball finished in, −1 for none: int64[ball]."""
    stays = np.isin(first.event, [Event.PLAYED, Event.HIT_TREE, Event.FAILED])
    x, y = np.where(stays, first.x, first.landing_x), np.where(stays, first.y, first.landing_y)
    found = np.full(x.size, -1)
    for name, kind in BY_NAME.items():
        numbers = [i for i, area in enumerate(hole.areas) if area.kind == name]
        here = np.flatnonzero(first.finish == code(name))
        if numbers and here.size and not kind.out and kind.trouble:
            points = shapely.points(x[here], y[here])
            away = np.array([shapely.distance(points, hole.areas[i].outline) for i in numbers])
            found[here] = np.array(numbers)[np.argmin(away, axis=0)]
    return found


def dearest_area(hole: Hole, behind: Balls, ahead: Balls) -> int | None:
    """Return the area that costs one option's first balls most more than it costs the other's; None where none does.

    An area costs the balls that finish in it their score over that of balls which avoid all trouble. Areas that are
    out of bounds don't count: those are the course's edge.
    """
    where = [_areas(hole, balls.rest) for balls in (behind, ahead)]
    scores = [balls.strokes for balls in (behind, ahead)]
    clear = np.concatenate([score[area < 0] for score, area in zip(scores, where, strict=True)])
    if not clear.size:
        return None
    loss = [
        np.bincount(area[area >= 0], (score - clear.mean())[area >= 0], len(hole.areas)) / area.size
        for score, area in zip(scores, where, strict=True)
    ]
    more = loss[0] - loss[1]
    number = int(np.argmax(more)) if more.size else -1
    return number if number >= 0 and more[number] > LEAST_LOSS and math.isfinite(more[number]) else None
