"""Lessons for several test modules, each made once: making one takes seconds."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from helpers import club_golfer, lane

from simcaddie.course.hole import Hole, Landmark, Spot
from simcaddie.decision.request import Request
from simcaddie.features.lesson.analysis import Lesson, lesson
from simcaddie.io.find import find_hole, find_player
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player
from simcaddie.player.swing import Player

QUICK = Request(sequences=400, then="sound", robust=False)
LONG = ("Grandfather's old cleek", "three-quarter utility iron")


def _long_names() -> tuple[Hole, Player]:
    """Return a hole and player with the longest names that one could expect (invented)."""
    new, bag = dict(zip(("5 wood", "hybrid"), LONG, strict=True)), []
    player = club_golfer(name="A pupil with rather a long name, Tuesdays")
    for club in player.bag:
        name = new.get(club.name, club.name)
        bag.append(replace(club, name=name, swings=tuple(replace(swing, club=name) for swing in club.swings)))
    far = Landmark("chimney of the old kettle works", (20.0, 420.0))
    spots = {"where the second usually lies": Spot((3.0, 120.0), "fairway")}
    hole = replace(lane(), name="The Long Walk Round the Old Kettle Works", landmarks=(far,), spots=spots, pins={
        "front left": (-6.0, 292.0), "back right": (6.0, 306.0)})  # fmt: skip
    return hole, replace(player, bag=tuple(bag))


@cache
def demo_lesson(name: str) -> Lesson:
    """Return a lesson by name: "halt", "weir", "par 3", "long names" (two pins as well)."""
    if name == "long names":
        hole, player = _long_names()
        return lesson(hole, player, LONG, replace(QUICK, spot=next(iter(hole.spots)), pin="any"))
    hole_name, player_name, options, spot = {
        "halt": ("signal-halt", "otto", ("driver", "5 iron"), None),
        "weir": ("weir-lawn", "wren", ("7 iron", "8 iron"), "hillside"),
        "par 3": ("millpond", "bogey-man", ("driver", "7 iron"), None),
    }[name]
    hole, player = read_hole(find_hole(hole_name)), read_player(find_player(player_name))
    return lesson(hole, player, options, replace(QUICK, spot=spot))
