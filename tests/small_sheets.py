"""A small sheet for several test modules: quickly solved holes with something of everything (invented)."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import shapely
from helpers import box, club_golfer, lane

from simcaddie.course.course import Course
from simcaddie.course.hole import Area, Hole, Landmark
from simcaddie.features.sheet.analysis import Sheet, sheet


def three() -> Hole:
    """Return a par 3 over water, a pond to the left of the green, three pins."""
    return Hole(
        name="Over the Drain (invented)",
        par=3,
        stroke_index=2,
        tees={"white": (0.0, 0.0), "red": (0.0, 30.0)},
        pins={"front": (-3.0, 141.0), "middle": (0.0, 150.0), "back": (4.0, 159.0)},
        areas=(
            Area("green", shapely.Point(0, 150).buffer(14)),
            Area("water", box(-40, 60, 40, 80), name="drain", marking="yellow"),
            Area("water", box(-34, 120, -15, 180), name="pond", marking="red"),
            Area("bunker", box(-6, 172, 6, 178), name="back bunker"),
        ),
        boundary=box(-70, -30, 70, 230),
        landmarks=(Landmark("oast", (0.0, 220.0)),),
    )


def four() -> Hole:
    """Return a par 4 between heather, with a ditch across 200 yd out."""
    hole = lane(Area("water", box(-50, 200, 50, 206), name="cross ditch", marking="yellow"))
    return replace(hole, name="Between Heather (invented)", stroke_index=5, tees={"white": (0.0, 0.0), "red": (0, 20)},
                   pins={"front": (0.0, 292.0), "middle": (0.0, 300.0)}, boundary=box(-80, -30, 80, 350),
                   landmarks=(Landmark("mast", (2.0, 400.0)),))  # fmt: skip


def pair() -> Course:
    return Course("The Pair (invented)", (three(), four()), ("3.yaml", "4.yaml"))


@cache
def small_sheet(seed: int = 1) -> Sheet:
    return sheet(pair(), club_golfer(), seed=seed)
