"""The holes and players that are timed: an invented plain one, and demo holes with and without what makes them hard."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from helpers import CARRIES, box, club, club_golfer

from simcaddie.base.surfaces import NAMES, Lie, code
from simcaddie.course.grid import AreaGrid, area_grid
from simcaddie.course.hole import Area, Hole
from simcaddie.io.find import find_hole, find_player
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player
from simcaddie.model import arrays as r
from simcaddie.model.build import pack
from simcaddie.model.states import build_states
from simcaddie.player.swing import Player
from simcaddie.weather.day import Day

Place = tuple[float, float, int]
Position = tuple[r.Problem, AreaGrid, Place]

GUSTY = Day(wind=5.0, gust=8.0, wind_from=240.0)  # m/s
TEE = (0.0, 0.0, code("tee"))


def plain_hole() -> Hole:
    """Return 400 yd of fairway, rough, bunkers and green: all that the numpy version knows."""
    return Hole(
        "Plain (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"p": (4.0, 400.0)},
        (
            Area("fairway", box(-18, 120, 16, 375)),
            Area("light_rough", box(-26, 110, 25, 385)),
            Area("green", box(-9, 387, 18, 414)),
            Area("bunker", box(18, 215, 30, 235)),
            Area("bunker", box(-20, 380, -9, 398)),
        ),
    )


def scene_of(hole: Hole, player: Player, day: Day | None = None) -> Position:
    grid, place = area_grid(hole), hole.place()
    return pack(hole, player, place, hole.pin(), grid=grid, day=day), grid, (*place.at, code(place.lie))


def plain_scene(player: Player | None = None, cell: float | None = None) -> Position:
    """Return the plain hole for a player, the usual club golfer by default; ``cell`` (yd) is that of its states."""
    problem, grid, place = scene_of(plain_hole(), player or club_golfer())
    return (problem if cell is None else problem._replace(states=build_states(grid, place, cell))), grid, place


def plain_bag(clubs: int) -> Player:
    """Return a golfer with ``clubs`` full swings, usable from every lie."""
    bag = tuple(club(name, carry) for name, carry in list(CARRIES.items())[:6] for _ in range(2))[:clubs]
    return club_golfer(bag=bag, lies={name: Lie() for name in NAMES})


def coarse_scene(clubs: int) -> r.Problem:
    """Return the plain hole with few states, and without touch actions, which would be a constant share of the cost."""
    problem, _, _ = plain_scene(plain_bag(clubs), 8.0)
    return problem._replace(touch=problem.touch._replace(reach=np.zeros(0)))


def demo(name: str) -> tuple[Hole, Player]:
    return read_hole(find_hole(name)), read_player(find_player("wren"))


def demo_scene(name: str) -> Position:
    return scene_of(*demo(name))


def kinds_of_hole() -> dict[str, Position]:
    """Return one demo hole four times, from the easiest for the kernel to the hardest."""
    hole, player = demo("curlew-inlet")
    bare = replace(hole, areas=tuple(area for area in hole.areas if area.kind != "trees"), heights=None)
    return {
        "flat, calm, no trees": scene_of(bare, player),
        "with trees": scene_of(replace(hole, heights=None), player),
        "with hills and gusts": scene_of(replace(bare, heights=hole.heights), player, GUSTY),
        "with trees, hills and gusts": scene_of(hole, player, GUSTY),
    }
