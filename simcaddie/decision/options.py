"""Options: a first stroke, which is a swing along an aim line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.errors import BadRequest, NothingToPlay
from simcaddie.course.hole import Hole, Point
from simcaddie.course.route import line_of_play, point_along
from simcaddie.decision.position import Position
from simcaddie.player.pattern import usable
from simcaddie.player.putting import longest_touch
from simcaddie.player.swing import Player, Swing

__all__ = [
    "DEFAULT_AIMS",
    "SPARE",
    "TOUCH",
    "Option",
    "aim_grid",
    "known_aims",
    "landing_turn",
    "named_swings",
    "plain_name",
    "scene_turn",
    "swing_title",
    "swings_to_compare",
]

TOUCH = "touch shot"
SPARE = 35.0  # yd: swings that carry farther past the pin than this are left out
DEFAULT_AIMS = (-20.0, 20.0, 2.0)  # degrees about the line to the landing area


@dataclass(frozen=True, slots=True)
class Option:
    """``swing`` numbers the player's swings, touch following them; ``aim`` is degrees right of the line to the pin."""

    swing: int
    aim: float


def swing_title(player: Player, swing: int) -> str:
    """Say a swing by its number; touch actions follow the player's swings."""
    return player.swings[swing].title if swing < len(player.swings) else TOUCH


def plain_name(name: str) -> str:
    """Return a name as names are compared: lower case, hyphens as spaces.

    >>> plain_name("Half  Sand-Wedge")
    'half sand wedge'
    """
    return " ".join(name.lower().replace("-", " ").split())


def _names(swing: Swing) -> tuple[str, ...]:
    """Return what a swing may be asked for by: "full driver", "driver", or the club's name for all its swings."""
    return (plain_name(f"{swing.name} {swing.club}"), plain_name(swing.title), plain_name(swing.club))


def named_swings(player: Player, names: Sequence[str]) -> set[int]:
    """Return the swing numbers that the names ask for: a club's name takes all its swings.

    Raises
    ------
    BadRequest
        A name that no swing of the player bears.
    """
    swings = player.swings
    chosen: set[int] = set()
    for name in names:
        plain = plain_name(name)
        found = {i for i, swing in enumerate(swings) if plain in _names(swing)}
        if not found:
            titles = [swing.title for swing in swings]
            near = get_close_matches(plain, [title.lower() for title in titles], 1)
            hint = f"; did you mean '{near[0]}'?" if near else f"; the bag has {', '.join(titles)}"
            raise BadRequest(f"{player.name} has no club '{name}'{hint}")
        chosen |= found
    return chosen


def swings_to_compare(position: Position, names: Sequence[str] = ()) -> list[int]:
    """Return the numbers of the swings that make sense here, touch last; only those named, where any are.

    None that flies far past the pin, while another doesn't.

    Raises
    ------
    BadRequest
        A name that no swing of the player bears.
    NothingToPlay
        Where no swing named can be used from this lie.
    """
    player, lie = position.player, position.player.lies[position.place.lie]
    wanted = named_swings(player, names) if names else set(range(len(player.swings)))
    found = [i for i, swing in enumerate(player.swings) if i in wanted and usable(player, swing, lie)]
    pin = position.hole.pin()
    away = math.hypot(pin[0] - position.place.at[0], pin[1] - position.place.at[1])
    if not names:
        found = [i for i in found if player.swings[i].carry * lie.carry <= away + SPARE] or found
    if not names and away <= longest_touch(player, lie):
        found.append(len(player.swings))
    if not found:
        which = f"none of {', '.join(names)}" if names else "no club in the bag"
        raise NothingToPlay(f"{player.name}: {which} can be used from a lie of '{position.place.lie}'")
    return found


def scene_turn(position: Position) -> float:
    """Return ``landing_turn`` of a scene, against its pin line."""
    pin = position.pins[0] if len(position.pins) == 1 else position.hole.pin()
    return landing_turn(position.hole, position.player, position.place.at, pin)


def known_aims(aims: tuple[float, float, float]) -> tuple[float, float, float]:
    """Return aims, (low, high, step) in degrees; BadRequest where they make no range."""
    low, high, step = aims
    if not (step > 0 and high >= low and (high - low) / step <= 360 and max(abs(low), abs(high)) <= 180):
        raise BadRequest("aims are LOW:HIGH:STEP in degrees, LOW at most HIGH, within ±180, at most 361 of them")
    return aims


def aim_grid(position: Position, aims: tuple[float, float, float] | None = None) -> NDArray[np.float64]:
    """Return the aims to try, in degrees right of the line to the pin.

    ``aims`` is (low, high, step) about the line to the pin; by default −20 … 20 by 2 about the line to the landing
    area: the line of play at the length of the longest swing.
    """
    low, high, step = known_aims(aims or DEFAULT_AIMS)
    grid = np.asarray(low + step * np.arange(math.floor((high - low) / step + 1e-9) + 1), np.float64)
    return grid if aims else grid + scene_turn(position)


def landing_turn(hole: Hole, player: Player, place: Point, pin: Point) -> float:
    """Return the angle, whole degrees, from the line to the pin to that to the landing area of the longest swing."""
    x, y = point_along(line_of_play(hole, place), max(swing.total for swing in player.swings))
    turn = math.atan2(x - place[0], y - place[1]) - math.atan2(pin[0] - place[0], pin[1] - place[1])
    return float(round(math.degrees((turn + math.pi) % (2 * math.pi) - math.pi)))
