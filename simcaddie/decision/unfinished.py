"""Holes that a player can't finish from a place: told, with the reason, instead of advice by chance."""

from __future__ import annotations

from typing import Final

import shapely
from shapely import LineString

from simcaddie.base.errors import BadRequest
from simcaddie.base.surfaces import BY_NAME
from simcaddie.base.units import SHORT, YARDS_PER, told
from simcaddie.course.hole import Hole
from simcaddie.course.route import line_of_play
from simcaddie.player.swing import Player
from simcaddie.solve.solution import Solution

__all__ = ["refuse_unfinished"]

SELDOM: Final = 0.01  # chance to hole out within the cap, below which no advice is worth anything


def refuse_unfinished(solution: Solution, hole: Hole, player: Player) -> None:
    """Raise where best play of a hole comes to its end less than one time in a hundred.

    Raises
    ------
    BadRequest
        With the reason: ground that lies across the way and is longer than the longest carry, where there is any.
    """
    states = solution.problem.states
    if solution.pmf[:-1, states.start].sum() >= SELDOM:
        return
    x, y = (float(number) for number in states.xy[states.start])
    per, short = YARDS_PER[hole.units], SHORT[hole.units]
    longest = max((swing.carry for swing in player.swings), default=0.0)
    why = "no shot of this bag holds the green"
    if across := _across(hole, (x, y)):
        title, near, far = across
        if far - near > 0.8 * longest:
            why = (
                f"{title} lies across the way from {near / per:.0f} to {far / per:.0f} {short}, "
                f"and the longest carry is {told(longest, hole.units)}"
            )
    raise BadRequest(
        f"{hole.name} can't be finished from here by {player.name}: with best play fewer than one in a hundred "
        f"come to an end within {solution.cap} strokes, since {why}"
    )


def _across(hole: Hole, place: tuple[float, float]) -> tuple[str, float, float] | None:
    """Return the longest stretch of the way that no ball is played from: its name, and from where to where, in yd."""
    line, found = LineString(line_of_play(hole, place)), []
    for area in hole.areas:
        if not BY_NAME[area.kind].in_play:
            for part in shapely.get_parts(line.intersection(area.outline.difference(hole.green))):
                near, far = sorted(line.project(shapely.Point(end)) for end in (part.coords[0], part.coords[-1]))
                found.append((f"the {area.title}".replace("the the ", "the "), near, far))
    return max(found, key=lambda each: each[2] - each[1], default=None)
