"""``simcaddie draw``: the map of a hole."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from simcaddie.cli.day_options import with_day
from simcaddie.cli.shared import FromSpot, HoleArg, Json, NoSeed, Tee, Verbose, compiling, note, took

if TYPE_CHECKING:
    from simcaddie.air.day import Day
    from simcaddie.golfer.player import Player
    from simcaddie.ground.hole import Hole, Spot
    from simcaddie.report.page import PatternView

__all__ = ["draw"]

MOST_PATTERNS = 5  # more can't be told apart on one map


@with_day
def draw(
    hole: HoleArg,
    player: Annotated[
        str | None, typer.Option(metavar="PLAYER", help="Draw this player's tee clubs and their patterns as well.")
    ] = None,
    tee: Tee = None,
    from_spot: FromSpot = None,
    club: Annotated[
        list[str] | None, typer.Option(metavar="NAME", help="Draw this club's pattern; may be repeated.")
    ] = None,
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="FILE", help="Where to draw it: .png, .svg or .pdf.")
    ] = Path("map.png"),
    json: Json = None,
    seed: NoSeed = 0,
    verbose: Verbose = False,
    day: Day | None = None,
) -> int:
    """Draw a hole as a map, with a player's shot patterns on it if you like."""
    from simcaddie.files import find_hole, find_player, read_hole, read_player, write_json
    from simcaddie.report.page import hole_figure
    from simcaddie.report.style import save_figure

    started = time.perf_counter()
    record = read_hole(find_hole(hole))
    place = record.place(tee, from_spot)
    views, label = [], ""
    if player is not None:
        golfer = read_player(find_player(player))
        with compiling():
            views, label = _patterns(record, golfer, place, club or (), day), golfer.name
    save_figure(hole_figure(record, place=place.at, patterns=views, note=label), output)
    if json is not None:
        shown = [{"swing": view.title, "bearing_rad": view.bearing} for view in views]
        write_json({"schema": "draw/1", "hole": record.name, "file": str(output), "patterns": shown}, json)
    note(f"Drawn: {output}")
    took(started, verbose)
    return 0


def _patterns(hole: Hole, player: Player, place: Spot, names: list[str] | tuple[str, ...], day: Day | None
) -> list[PatternView]:
    """Return the patterns of the clubs named, else of the longest full swings, along the line of play."""
    from simcaddie.golfer.pattern import course_pattern, usable
    from simcaddie.ground.targets import line_of_play, point_along
    from simcaddie.play.aloft import on_the_day
    from simcaddie.play.pack import pack
    from simcaddie.report.page import PatternView
    from simcaddie.strategy.options import named_swings
    from simcaddie.surfaces import code
    from simcaddie.units import angle_between

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
