"""A tiny course of three holes and players of three clubs, as files: quick to solve, all invented."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import shapely
from helpers import box, club

from simcaddie.course.course import CourseTee
from simcaddie.course.hole import Area, Hole
from simcaddie.io.course import course_text
from simcaddie.io.hole_writer import hole_text
from simcaddie.io.player_writer import player_text
from simcaddie.player.swing import Player


def hole(number: int, length: float, par: int, *extra: Area, moved: float = 15.0) -> Hole:
    """Return a straight hole with a tee ``moved`` yd forward, a pin in the middle and one cut close to the edge."""
    return Hole(
        name=f"Small {number} (invented)",
        par=par,
        stroke_index=number,
        tees={"back": (0.0, 0.0), "front": (0.0, moved)},
        pins={"middle": (0.0, length), "edge": (8.0, length + 3.0)},
        areas=(
            Area("green", shapely.Point(0, length).buffer(11)),
            Area("bunker", shapely.Point(16, length - 2).buffer(5)),
            *extra,
        ),
        boundary=box(-50, -15, 50, length + 40),
    )


def three() -> tuple[Hole, ...]:
    """Return a short par 3, one with water before it, and a short par 4."""
    water = Area("water", box(-20, 70, 20, 92), marking="red")
    return hole(1, 90.0, 3), hole(2, 110.0, 3, water), hole(3, 165.0, 4)


def write_course(folder: Path, holes: tuple[Hole, ...] = (), tees: dict[str, CourseTee] | None = None) -> Path:
    """Write a course and its holes; return the course file."""
    made = holes or three()
    files = [f"{number + 1}.yaml" for number in range(len(made))]
    for file, one in zip(files, made, strict=True):
        (folder / file).write_text(hole_text(one), encoding="utf-8")
    path = folder / "small-links.yaml"
    path.write_text(course_text("Small Links (invented)", files, tees or {}), encoding="utf-8")
    return path


def player(name: str, carries: tuple[float, float, float], index: float | None = 20.0) -> Player:
    """Return a player of three clubs."""
    bag = tuple(club(kind, carry) for kind, carry in zip(("driver", "8 iron", "sand wedge"), carries, strict=True))
    bag = (*bag[:2], replace(bag[2], swings=bag[2].swings[:1]))
    return Player(name, bag, index)


GROUP = (
    player("Ada (invented)", (150.0, 100.0, 60.0)),
    player("Bo (invented)", (140.0, 95.0, 55.0), 27.0),
    player("Cy (invented)", (160.0, 110.0, 65.0), 9.0),
)


def write_group(folder: Path, group: tuple[Player, ...] = GROUP) -> Path:
    """Write players' files into a folder of their own; return it."""
    inside = folder / "group"
    inside.mkdir()
    for one in group:
        (inside / f"{one.name.split()[0].lower()}.yaml").write_text(player_text(one, whole=True), encoding="utf-8")
    return inside
