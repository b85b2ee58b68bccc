"""``simcaddie draw``, the map of a hole, and ``yardages``, the numbers a player would write in a notebook."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

from simcaddie.base.errors import BadRequest
from simcaddie.console.command import Answer, command, working
from simcaddie.console.options import DayOf, HoleOf, NoChance, Start, option

if TYPE_CHECKING:
    from simcaddie.charts.page import PatternView
    from simcaddie.course.hole import Hole, Spot
    from simcaddie.player.swing import Player
    from simcaddie.weather.day import Day

__all__ = ["draw", "yardages"]

MOST_PATTERNS: Final = 5  # more can't be told apart on one map


@dataclass(frozen=True, kw_only=True)
class PatternsOf:
    """Whose patterns are drawn."""

    player: Annotated[str | None, option("PLAYER", "Draw this player's tee clubs and their patterns as well.")] = None


@dataclass(frozen=True, kw_only=True)
class Drawing(NoChance, DayOf, Start, PatternsOf, HoleOf):
    """What is to be drawn."""

    club: Annotated[list[str] | None, option("NAME", "Draw this club's pattern; may be repeated.")] = None
    output: Annotated[Path, option("FILE", "Where to draw it: .png, .svg or .pdf.", "--output", "-o")] = Path("map.png")


@command(Drawing)
def draw(options: Drawing) -> Answer:
    """Draw a hole as a map, with a player's shot patterns on it if you like."""
    from simcaddie.charts.page import hole_figure
    from simcaddie.charts.style import save_figure
    from simcaddie.io.find import find_player
    from simcaddie.io.player import read_player

    hole, file = options.read_hole(), options.output
    place = hole.place(options.tee, options.from_spot)
    views: list[PatternView] = []
    label = ""
    if options.player is not None:
        player = read_player(find_player(options.player))
        with working("Working out the patterns"):
            views, label = _patterns(hole, player, place, options.club or (), options.day), player.name
    shown = [{"swing": view.title, "bearing_rad": view.bearing} for view in views]
    return Answer(
        data=lambda: {"schema": "draw/1", "hole": hole.name, "file": str(file), "patterns": shown},
        figures=[(file, lambda: save_figure(hole_figure(hole, place=place.at, patterns=views, note=label), file))],
    )


def _patterns(hole: Hole, player: Player, place: Spot, names: Sequence[str], day: Day | None) -> list[PatternView]:
    """Return the patterns of the clubs named, else of the longest full swings, along the line of play."""
    from simcaddie.base.surfaces import code
    from simcaddie.base.units import angle_between
    from simcaddie.charts.page import PatternView
    from simcaddie.course.route import line_of_play, point_along
    from simcaddie.decision.options import named_swings
    from simcaddie.model.average import on_the_day
    from simcaddie.model.build import pack
    from simcaddie.player.pattern import course_pattern, usable

    lie = player.lies[place.lie]
    can = [i for i, swing in enumerate(player.swings) if usable(player, swing, lie)]
    if names:
        chosen = [i for i in can if i in named_swings(player, names)]
    else:
        full = [i for i in can if player.swings[i].name == "full"]
        chosen = sorted(full, key=lambda i: -player.swings[i].total)[:MOST_PATTERNS]
    line, table = line_of_play(hole, place.at), pack(hole, player, place, hole.pin(), day=day)
    views = []
    for number in chosen:
        swing, start = player.swings[number], (*place.at, code(place.lie))
        bearing = angle_between(place.at, point_along(line, swing.total))
        pattern = on_the_day(table, course_pattern(player, swing, lie), number, start, bearing)
        views.append(PatternView(title=swing.title, place=place.at, bearing=bearing, pattern=pattern))
    return views


@dataclass(frozen=True, kw_only=True)
class Yards(NoChance, Start, HoleOf):
    """What is to be measured."""

    aim: Annotated[float | None, option("DEG", "The line, in degrees right of the pin; at the pin by default.")] = None


@command(Yards)
def yardages(options: Yards) -> Answer:
    """Measure the way to every hazard and to the green.

    Reach and carry are along the line from tee or spot: where it enters a hazard and where it leaves it. Nearest and
    farthest are as the crow flies.
    """
    from simcaddie.base.units import angle_between
    from simcaddie.course.distances import yardages as measure
    from simcaddie.features.draw.present import Measured, measured_data, present

    aim = options.aim or 0.0
    if not -360.0 <= aim <= 360.0:
        raise BadRequest(f"--aim: expected degrees from -360 to 360, found {aim}")
    hole = options.read_hole()
    place = hole.place(options.tee, options.from_spot)
    found = measure(hole, place.at, angle_between(place.at, hole.pin()) + math.radians(aim))
    start = f"spot {options.from_spot}" if options.from_spot else f"{options.tee or next(iter(hole.tees))} tee"
    measured = Measured(hole.name, start, aim, found)
    return Answer(data=lambda: measured_data(measured), document=lambda: present(measured))
