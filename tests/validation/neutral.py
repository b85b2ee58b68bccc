"""The neutral course: flat, straight holes with the usual widths, and what a golfer needs on them from anywhere.

For validation only. A hole has a fairway 25 yd wide, 3 yd of first cut either side, rough to 36 yd from the middle,
woods 14 yd deep, then out of bounds; a round green 27 yd across with bunkers at its sides and half its front, the pin
5 yd from its middle. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import shapely
from numpy.typing import NDArray

from simcaddie.base.surfaces import code
from simcaddie.course.grid import AreaGrid, area_grid
from simcaddie.course.hole import Area, Hole, Spot
from simcaddie.model.build import pack
from simcaddie.player.swing import Player
from simcaddie.solve.memo import solved
from simcaddie.solve.solution import USUAL, Solution

FAIRWAY, CUT, WOODS, BOUNDARY = 12.5, 15.5, 36.0, 50.0  # half widths, yd
GREEN = 13.5  # radius, yd
PIN = (4.0, 3.0)  # yd right of and behind the middle of the green
SHORT_HOLE = 230.0  # up to here no fairway but an apron

EVERYWHERE = USUAL._replace(reachable=0.0, everywhere=128, coarse=(128, 256))  # also where balls seldom come

Floats = NDArray[np.float64]


def neutral_hole(length: float, *, woods: bool = True, extra: tuple[Area, ...] = ()) -> Hole:
    """Return a hole of ``length`` yd from tee to pin, the tee at (0, 0)."""
    x, y = -PIN[0], length - PIN[1]
    start = y - 40.0 if length <= SHORT_HOLE else min(100.0, y - 120.0)
    areas = [
        Area("light_rough", shapely.box(x - CUT, start - 3, x + CUT, y + GREEN + 3)),
        Area("fairway", shapely.box(x - FAIRWAY, start, x + FAIRWAY, y - GREEN + 4)),
        *(Area("bunker", shapely.box(x + left, y - 20, x + left + 9, y - 12)) for left in (-15, 6)),
        Area("bunker", shapely.box(x + 15, y - 7, x + 22, y + 5)),
        Area("bunker", shapely.box(x - 22, y - 7, x - 15, y + 5)),
        Area("green", shapely.Point(x, y).buffer(GREEN)),
        *extra,
    ]
    boundary = None
    if woods:
        belts = (
            (x - BOUNDARY, -20.0, x - WOODS, y + 60),
            (x + WOODS, -20.0, x + BOUNDARY, y + 60),
            (x - WOODS, y + 25, x + WOODS, y + 60),
        )
        areas += [Area("trees", shapely.box(*belt), height=16.0, density=0.6) for belt in belts]
        boundary = shapely.box(x - BOUNDARY, -40, x + BOUNDARY, y + 60)
    tees, pins = {"tee": (0.0, 0.0)}, {"pin": (0.0, length)}
    return Hole(f"neutral {length:.0f}", 4, tees, pins, tuple(areas), boundary=boundary)


@dataclass(frozen=True)
class Played:
    """A hole solved for a player."""

    hole: Hole
    grid: AreaGrid
    solution: Solution

    def to_go(self, lie: str, places: Floats) -> Floats:
        """Return strokes to go, float64[n], from the cells that hold ``places``, float64[n, 2]; nan where none."""
        states = self.solution.problem.states
        ix = ((places[:, 0] - states.x0) // states.cell).astype(int)
        iy = ((places[:, 1] - states.y0) // states.cell).astype(int)
        found = states.of_cell[code(lie), iy, ix]
        return np.where(found >= 0, self.solution.to_go[found], np.nan)


@cache
def ground_of(length: float, woods: bool = True, extra: tuple[Area, ...] = ()) -> tuple[Hole, AreaGrid]:
    """Return a neutral hole and its grid."""
    hole = neutral_hole(length, woods=woods, extra=extra)
    return hole, area_grid(hole)


def played(player: Player, length: float, *, woods: bool = True, extra: tuple[Area, ...] = ()) -> Played:
    """Return a neutral hole solved for ``player`` from its tee."""
    hole, grid = ground_of(length, woods, extra)
    place = Spot(hole.tees["tee"], "tee")
    problem = pack(hole, player, place, hole.pins["pin"], grid=grid)
    return Played(hole, grid, solved(problem, grid, (*place.at, code("tee")), effort=EVERYWHERE))
