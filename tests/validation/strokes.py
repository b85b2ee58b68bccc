"""Strokes to hole out by distance and lie, held against the published ones of tour players.

Two long holes: the neutral one, with small teeing places along its middle, and an open one with patches of sand to one
side and woods to the other. A ball in the woods is 4 yd from their edge, and 30 yd of trees lie on the way to the pin:
what is published are recoveries, strokes whose way to the hole was blocked.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache

import numpy as np
import shapely
from numpy.typing import NDArray
from reference.tour import strokes
from shapely.affinity import rotate
from validation.neutral import Played, played

from simcaddie.course.hole import Area
from simcaddie.player.reference import reference
from simcaddie.player.swing import Player

LENGTH = 620.0  # yd
DISTANCES = (20, 30, 40, 50, *range(60, 461, 20))  # yd
PATCHES = range(40, 481, 40)  # yd
ASIDE = math.radians(20.0)  # from the line of play to the woods, seen from the pin
SAND_X = 61.0

Floats = NDArray[np.float64]

TEES = tuple(
    Area("tee", shapely.box(-5, LENGTH - away - 1.5, -2, LENGTH - away + 1.5)) for away in range(100, 601, 20)
)


def _in_the_woods(away: float) -> tuple[float, float]:
    return -away * math.sin(ASIDE), LENGTH - away * math.cos(ASIDE)


def _wood(away: float) -> Area:
    x, y = _in_the_woods(away)
    patch = rotate(shapely.box(x - 4, y - 4, x + 4, y + 30), -math.degrees(ASIDE), origin=(x, y))
    return Area("trees", patch, height=16.0, density=0.6)


SAND = tuple(Area("bunker", shapely.box(57, LENGTH - away - 4, 65, LENGTH - away + 4)) for away in PATCHES)


def _across(xs: tuple[int, ...], away: int) -> Floats:
    """Return places ``away`` ± 2 yd from the pin, at ``xs`` yd to its right."""
    rings = (away - 2, away, away + 2)
    return np.array([(x, LENGTH - math.sqrt(max(ring**2 - x**2, 0))) for ring in rings for x in xs])


def _error(there: Played, kind: str, lie: str, places: Floats) -> float:
    """Return simulated less published strokes, averaged over the cells of ``places`` that have the lie."""
    states = there.solution.problem.states
    corner = np.array([states.x0, states.y0])
    middles = (np.floor((places - corner) / states.cell) + 0.5) * states.cell + corner
    error = there.to_go(lie, places) - strokes(kind, np.hypot(middles[:, 0], middles[:, 1] - LENGTH))
    return float(error[~np.isnan(error)].mean())


def neutral(player: Player) -> Played:
    """Return the neutral hole with teeing places along it, solved."""
    return played(player, LENGTH, extra=TEES)


def opened(player: Player) -> Played:
    """Return the open hole with its patches of sand and woods, solved."""
    return played(player, LENGTH, woods=False, extra=SAND + tuple(_wood(away) for away in PATCHES[:-1]))


def _neutral(there: Played) -> dict[str, dict[int, float]]:
    beside = np.array([(-20, -4), (-22, -2), (-24, -6), (12, -4), (14, -6), (16, -4)]) + np.array([0, LENGTH])
    by_the_green, along = (-19, -18, 14, 16), (-30, -26, -24, 18, 22, 26)  # yd to the right, where rough is
    return {
        "fairway": {d: _error(there, "fairway", "fairway", _across((-12, -8, -2, 2, 6), d)) for d in DISTANCES},
        "rough": {
            d: _error(there, "rough", "rough", _across(along if d > 32 else by_the_green, d)) for d in DISTANCES
        },
        "tee": {
            d: _error(there, "tee", "tee", np.array([(-4, LENGTH - d), (-3, LENGTH - d)]))
            for d in DISTANCES
            if d >= 100
        },
        "sand": {20: _error(there, "sand", "bunker", beside)},
    }


def _open(there: Played) -> dict[str, dict[int, float]]:
    sand, recovery = {}, {}
    for away in PATCHES:
        if (far := round(math.hypot(SAND_X, away))) <= DISTANCES[-1]:
            sand[far] = _error(there, "sand", "bunker", np.array([(60, LENGTH - away), (62, LENGTH - away)]))
    for away in PATCHES[:-1]:
        x, y = _in_the_woods(away)
        near = np.array([(x + a, y + b) for a in (-1, 0, 1) for b in (-1, 1)])
        recovery[away] = _error(there, "recovery", "trees", near)
    return {"sand": sand, "recovery": recovery}


def errors_of(near: Played, aside: Played) -> Mapping[str, Mapping[int, float]]:
    """Return simulated less published strokes by lie and yards from the two holes; + is simulated worse."""
    mine, theirs = _neutral(near), _open(aside)
    return {kind: mine.get(kind, {}) | theirs.get(kind, {}) for kind in ("fairway", "rough", "sand", "recovery", "tee")}


@cache
def errors(player_name: str) -> Mapping[str, Mapping[int, float]]:
    """Return ``errors_of`` a reference golfer."""
    player = reference(player_name)
    return errors_of(neutral(player), opened(player))


def root_mean_square(values: list[float]) -> float:
    """Return the root of the mean square."""
    return float(np.sqrt(np.mean(np.square(values))))
