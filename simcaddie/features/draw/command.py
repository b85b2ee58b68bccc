"""``simcaddie draw``, the map of a hole, and ``yardages``, the numbers a player would write in a notebook."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

from simcaddie.base.errors import BadRequest
from simcaddie.console.command import Answer, command, working
from simcaddie.console.options import FIGURE, DayOf, HoleOf, NoChance, Start, option

if TYPE_CHECKING:
    from simcaddie.charts.page import PatternView
    from simcaddie.decision.line_of_play import SolvedHole

__all__ = ["draw", "yardages"]

MOST_PATTERNS: Final = 2  # more can't be told apart on one map


@dataclass(frozen=True, kw_only=True)
class PatternsOf:
    """Whose patterns are drawn."""

    player: Annotated[str | None, option("PLAYER", "Draw the patterns of this player's two best clubs as well.")] = None


@dataclass(frozen=True, kw_only=True)
class Drawing(NoChance, DayOf, Start, PatternsOf, HoleOf):
    """What is to be drawn."""

    club: Annotated[list[str] | None, option("NAME", "Draw this club's pattern instead; two at most.")] = None
    output: Annotated[Path, option("FILE", "Where to draw it: .png, .svg or .pdf.", "--output", "-o"), FIGURE] = Path(
        "map.png"
    )


@command(Drawing)
def draw(options: Drawing) -> Answer:
    """Draw a hole as a map, with a player's shot patterns on it if you like."""
    from simcaddie.charts.page import hole_figure
    from simcaddie.charts.style import save_figure
    from simcaddie.decision.line_of_play import solved_hole
    from simcaddie.io.find import find_player
    from simcaddie.io.player import read_player

    hole, file = options.read_hole(), options.output
    place = hole.place(options.tee, options.from_spot)
    views: list[PatternView] = []
    label = ""
    if len(options.club or ()) > MOST_PATTERNS:
        raise BadRequest(f"--club: expected {MOST_PATTERNS} clubs at most on one map, found {len(options.club or ())}")
    if options.player is not None:
        player = read_player(find_player(options.player))
        with working("Working out the patterns"):
            on = solved_hole(hole, player, tee=options.tee, spot=options.from_spot, day=options.day)
            views, label = _patterns(on, options.club or ()), player.name
    shown = [{"swing": view.title, "bearing_rad": view.bearing} for view in views]
    return Answer(
        data=lambda: {"schema": "draw/1", "hole": hole.name, "file": str(file), "patterns": shown},
        figures=[(file, lambda: save_figure(hole_figure(hole, place=place.at, patterns=views, note=label), file))],
    )


def _patterns(on: SolvedHole, names: Sequence[str]) -> list[PatternView]:
    """Return the patterns of the clubs named, else of the two that score best, each along its best line."""
    from simcaddie.charts.page import PatternView
    from simcaddie.decision.line_of_play import best_leg
    from simcaddie.decision.options import named_swings, swing_title

    player = on.player
    named = sorted(named_swings(player, names)) if names else []
    tried = {swing: bearing for swing, _, bearing in best_leg(on, on.place, swings=named).tried}
    views: list[PatternView] = []
    for swing in named or list(tried):
        pattern = on.pattern(swing, on.place, tried[swing])
        if pattern is not None and len(views) < MOST_PATTERNS:
            views.append(
                PatternView(title=swing_title(player, swing), place=on.spot.at, bearing=tried[swing], pattern=pattern)
            )
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
