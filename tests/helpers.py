"""Small holes and players built in code, what turns them over, and strokes with chosen numbers."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import shapely
from shapely import Polygon
from shapely.affinity import affine_transform

from simcaddie.base.compiled import compiled
from simcaddie.base.surfaces import default_lies, default_touch
from simcaddie.course.hole import Area, Hole, Landmark, Point, Spot
from simcaddie.model import arrays as r
from simcaddie.model import kernel
from simcaddie.model.batch import asked, play
from simcaddie.model.build import pack
from simcaddie.model.heuristics import guess_to_go
from simcaddie.player.defaults import CLUBS, make_swing
from simcaddie.player.swing import Club, Player, Swing

CARRIES = {
    "driver": 190.0,
    "5 wood": 165.0,
    "hybrid": 155.0,
    "6 iron": 140.0,
    "7 iron": 130.0,
    "8 iron": 120.0,
    "9 iron": 110.0,
    "pitching wedge": 98.0,
    "gap wedge": 85.0,
    "sand wedge": 70.0,
}


def club(name: str, carry: float, **keys: float) -> Club:
    """Return a club with a full swing, and a half swing where it is a wedge."""
    loft = CLUBS[name].loft
    swings = [make_swing(name, "full", carry, loft=loft, **keys)]
    if loft >= 41:
        swings.append(make_swing(name, "half", 0.68 * carry, loft=loft))
    return Club(name, loft, tuple(swings))


def club_golfer(**keys: object) -> Player:
    """Return an invented club golfer, lopsided on purpose so that a mirror shows."""
    bag = []
    for name, carry in CARRIES.items():
        made = club(name, carry)
        swings = tuple(replace(s, side=0.02 * s.carry, correlation=-0.2) for s in made.swings)
        bag.append(replace(made, swings=swings))
    bag[0] = replace(bag[0], swings=(replace(bag[0].swings[0], start_line=-1.5),))
    return replace(
        Player("club golfer (invented)", tuple(bag), 18.0, lies=default_lies(), touch=default_touch()), **keys
    )


def box(left: float, bottom: float, right: float, top: float) -> Polygon:
    return shapely.box(left, bottom, right, top)


def lane(*extra: Area) -> Hole:
    """Return a short, straight hole between strips of heather."""
    return Hole(
        name="Lane (invented)",
        par=4,
        tees={"t": (0.0, 0.0)},
        pins={"p": (0.0, 300.0)},
        areas=(
            Area("fairway", box(-18, 90, 18, 282)),
            Area("green", box(-13, 287, 13, 313)),
            Area("heather", box(-45, 90, -18, 260), name="left heather"),
            Area("heather", box(18, 90, 45, 260), name="right heather"),
            *extra,
        ),
    )


@cache
def lawn(kind: str = "fairway", size: float = 300.0) -> tuple[Hole, r.Problem]:
    """Return a hole that is all of one kind, but for a large green far up, and its table for the club golfer."""
    hole = Hole(
        "Lawn (invented)",
        5,
        {"t": (0.0, 0.0)},
        {"p": (0.0, 520.0)},
        (Area(kind, box(-size, -size, size, 490)), Area("green", shapely.Point(0, 520).buffer(25))),
    )
    return hole, pack(hole, club_golfer(), hole.place(), hole.pin())


def busy_hole() -> Hole:
    """Return a hole with something of everything, not its own mirror image."""
    return Hole(
        name="Busy (invented)",
        par=4,
        stroke_index=9,
        tees={"white": (0.5, 0.5)},
        pins={"middle": (18.3, 361.2)},
        areas=(
            Area("fairway", Polygon([(-16, 110), (15, 112), (24, 250), (32, 335), (2, 338), (-12, 240)])),
            Area("light_rough", Polygon([(-22, 100), (21, 100), (31, 250), (40, 345), (-6, 345), (-20, 240)])),
            Area("green", shapely.Point(18, 360).buffer(13.3), tilt=(2.0, math.pi)),
            Area("bunker", shapely.Point(26, 198).buffer(7.7), name="right bunker"),
            Area("bunker", shapely.Point(-1, 352).buffer(5.1), name="front bunker"),
            Area("heather", Polygon([(-60, 212), (60, 214), (60, 228), (-60, 226)])),
            Area("water", Polygon([(-70, 120), (-28, 122), (-26, 220), (-66, 215)]), marking="red"),
            Area("water", Polygon([(40, 300), (75, 300), (75, 380), (42, 376)]), marking="yellow"),
            Area("gorse", Polygon([(-60, 300), (-30, 301), (-32, 340), (-58, 338)])),
            Area("trees", Polygon([(40, 90), (70, 90), (72, 260), (45, 262)]), height=15.0, density=0.5),
        ),
        boundary=box(-95.5, -40.5, 95.5, 420.5),
        landmarks=(Landmark("pylon", (30.0, 430.0)),),
        spots={"second": Spot((8.2, 230.7), "fairway")},
    )


def transformed(hole: Hole, a: float, b: float, c: float, d: float) -> Hole:
    """Return the hole under (x, y) → (a x + b y, c x + d y)."""

    def over(point: Point) -> Point:
        return (a * point[0] + b * point[1], c * point[0] + d * point[1])

    def shape(polygon: Polygon) -> Polygon:
        return affine_transform(polygon, [a, b, c, d, 0.0, 0.0])

    def tilt(value: tuple[float, float] | None) -> tuple[float, float] | None:
        if value is None:
            return None
        x, y = over((math.sin(value[1]), math.cos(value[1])))
        return (value[0], math.atan2(x, y))

    return replace(
        hole,
        tees={name: over(at) for name, at in hole.tees.items()},
        pins={name: over(at) for name, at in hole.pins.items()},
        areas=tuple(replace(area, outline=shape(area.outline), tilt=tilt(area.tilt)) for area in hole.areas),
        line=tuple(over(at) for at in hole.line),
        heights=None if hole.heights is None else np.array([(*over((x, y)), h) for x, y, h in hole.heights]),
        boundary=hole.boundary and shape(hole.boundary),
        landmarks=tuple(replace(mark, at=over(mark.at)) for mark in hole.landmarks),
        spots={name: replace(spot, at=over(spot.at)) for name, spot in hole.spots.items()},
    )


def mirrored_hole(hole: Hole) -> Hole:
    return transformed(hole, -1.0, 0.0, 0.0, 1.0)


def turned_hole(hole: Hole, degrees: float) -> Hole:
    """Return the hole turned clockwise; exactly for quarter turns."""
    quarter = {0: (0.0, 1.0), 90: (1.0, 0.0), 180: (0.0, -1.0), 270: (-1.0, 0.0)}
    sin, cos = quarter.get(degrees, (math.sin(math.radians(degrees)), math.cos(math.radians(degrees))))
    return transformed(hole, cos, sin, -sin, cos)


def mirrored_player(player: Player) -> Player:
    def flip(swing: Swing) -> Swing:
        start = None if swing.start_line is None else -swing.start_line
        return replace(swing, side=-swing.side, correlation=-swing.correlation, start_line=start)

    return player.with_swings(flip)


def score_law(score: np.ndarray) -> np.ndarray:
    return np.bincount(score, minlength=14)


# ── strokes with chosen numbers ──────────────────────────────────────────────────────────────────────────────────────


def draws(**chosen: Any) -> np.ndarray:
    """Return the numbers of average solid strokes whose balls are found, float64[7, n], but for those ``chosen``.

    By name: carry, side, run, strike, trees, find, gust; scalars stand for every ball.
    """
    usual = {"carry": 0.0, "side": 0.0, "run": 0.0, "strike": 1 - 1e-9, "trees": 0.5, "find": 1 - 1e-9, "gust": 0.0}
    assert chosen.keys() <= usual.keys()
    columns = np.broadcast_arrays(*np.atleast_1d(*(usual | chosen).values()))
    return np.ascontiguousarray(np.array(columns, float))


def played(problem: r.Problem, x: Any, y: Any, lie: Any, swing: int, bearing: Any, z: np.ndarray) -> r.Rest:
    """Play a stroke with each column of ``z``, from one place for all or from a place each."""
    rows = asked(x, y, lie, swing, bearing, np.arange(z.shape[1]))
    return play(problem, guess_to_go(problem).to_go, rows, z, 1)


@compiled
def _address_and_strike(problem: Any, rows: Any, z: Any, f: Any, w: Any) -> None:
    kernel.address(problem, f, w, rows, 0, 0, z.shape[1], 0)
    kernel.strike(problem, f, w, z, z.shape[1])


def struck(problem: r.Problem, x: float, y: float, lie: int, swing: int, z: np.ndarray) -> dict[str, np.ndarray]:
    """Return what the kernel makes of strikes straight up the hole, before any flight: arrays[ball] by name."""
    n = z.shape[1]
    f, w = np.zeros((r.ROOM_NUMBERS, n)), np.zeros((r.ROOM_WHOLES, n), np.int64)
    _address_and_strike(problem, asked(x, y, lie, swing, 0.0), z, f, w)
    names = ("CARRY", "SIDE", "RUN", "LAUNCH", "LANDING", "ARCH")
    return {name.lower(): f[getattr(kernel, name)] for name in names} | {"failed": w[kernel.WHAT] == kernel.FAILED}
