"""Small courses for tests of rounds: nine short holes, no two alike, quick to solve."""

from __future__ import annotations

from dataclasses import replace

import shapely
from helpers import box, club_golfer, lane

from simcaddie.course.course import Course, CourseTee
from simcaddie.course.hole import Area, Hole
from simcaddie.player.swing import Player


def short(length: float, index: int) -> Hole:
    """Return a hole of ``length`` yd with a bunker beside the green and a strip of water."""
    far = length
    return Hole(
        name=f"Short {index} (invented)",
        par=3,
        stroke_index=index,
        tees={"white": (0.0, 0.0)},
        pins={"middle": (0.0, far)},
        areas=(
            Area("green", shapely.Point(0, far).buffer(11)),
            Area("bunker", shapely.Point(16, far - 6).buffer(5)),
            Area("water", box(-40, far - 30, -14, far + 20), marking="red"),
        ),
        boundary=box(-60, -20, 60, far + 50),
    )


def nine(*, tees: dict[str, CourseTee] | None = None) -> Course:
    """Return nine holes: eight short ones and a lane, stroke indexes of an 18-hole card."""
    indexes = (5, 17, 1, 9, 3, 13, 7, 15)
    holes = [short(90.0 + 12 * i, index) for i, index in enumerate(indexes)]
    holes.append(replace(lane(), stroke_index=11, tees={"white": (0.0, 0.0)}, boundary=box(-70, -20, 70, 350)))
    card = {"white": CourseTee(28, 27.0, 118)} if tees is None else tees
    return Course("Nine (invented)", tuple(holes), tuple(f"{i + 1}.yaml" for i in range(9)), card)


def golfer(**keys: object) -> Player:
    """Return the club golfer of the helpers."""
    return club_golfer(**keys)
