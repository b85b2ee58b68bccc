"""Targets in a golfer's words: "mill", "5 yd left of the mill", "middle", "pin", "3° right"."""

from __future__ import annotations

import math
import re
from difflib import get_close_matches
from typing import Final

from simcaddie.base.units import FEET_PER_YARD, YARDS_PER, angle_between
from simcaddie.course.hole import Hole, Point
from simcaddie.course.route import line_of_play, point_along
from simcaddie.decision.options import plain_name
from simcaddie.decision.position import Position

__all__ = ["LENGTH_UNITS", "aim_at", "number_of", "target_names"]

LENGTH_UNITS: Final = {
    **dict.fromkeys(("yd", "yds", "yard", "yards"), 1.0),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), YARDS_PER["metres"]),
    **dict.fromkeys(("ft", "foot", "feet"), 1.0 / FEET_PER_YARD),
}
MIDDLE: Final = ("middle", "fairway", "middle of the fairway", "centre", "center")
PIN: Final = ("pin", "flag", "hole")
GREEN: Final = ("green", "middle of the green")
_ASIDE: Final = re.compile(r"(\d+(?:[.,]\d+)?)\s*(°|[a-z]*)\s*(left|right|l|r)\b(?:\s+(?:of\s+)?(?:the\s+)?(.+))?")


def number_of(text: str) -> float:
    """Return a number with a point or a comma for its decimal mark."""
    return float(text.replace(",", "."))


def _places(position: Position, far: float) -> dict[str, Point]:
    """Return what can be aimed at from a place, by plain name; ``far`` (yd) is how far the stroke goes."""
    hole = position.hole
    pin, middle = position.pins[0], point_along(line_of_play(hole, position.place.at, position.pins[0]), far)
    areas = {plain_name(area.name): area.outline.centroid.coords[0] for area in hole.areas if area.name}
    marks = {plain_name(mark.name): mark.at for mark in hole.landmarks}
    spots = {plain_name(name.replace("_", " ")): spot.at for name, spot in hole.spots.items()}
    fixed = {**dict.fromkeys(PIN, pin), **dict.fromkeys(GREEN, hole.green_middle), **dict.fromkeys(MIDDLE, middle)}
    return {**areas, **spots, **marks, **fixed}


def target_names(hole: Hole) -> str:
    """Return what may be aimed at on a hole, in words."""
    return ", ".join([*(mark.name for mark in hole.landmarks), "middle", "green", "pin"])


def _place(position: Position, words: str, far: float) -> Point:
    known = _places(position, far)
    plain = plain_name(words).removeprefix("the ").removeprefix("at the ")
    if plain in known:
        return known[plain]
    close = get_close_matches(plain, known, 1, 0.7)
    hint = f"; did you mean '{close[0]}'?" if close else ""
    raise ValueError(f"a target such as {target_names(position.hole)}, or 10 yd left of one{hint}")


def aim_at(position: Position, words: str, far: float) -> float:
    """Return the aim of a stroke that goes ``far`` yards, degrees right of the pin line, from its target in words.

    Nothing, or "middle", is the line of play. So many yards beside a target count at the target, degrees from the line
    to it (from the pin line where none is named).

    Raises
    ------
    ValueError
        With what was expected, where the words name nothing on the hole.
    """
    text, place = words.strip().lower(), position.place.at
    found = _ASIDE.fullmatch(text)
    if found is None:
        turn = angle_between(place, _place(position, text or MIDDLE[0], far))
    else:
        number, unit, side, name = found.groups()
        at = _place(position, name or PIN[0], far)
        turn, away = angle_between(place, at), max(1.0, math.dist(place, at))
        aside = number_of(number) * (1.0 if side[0] == "r" else -1.0)
        if unit in ("°", "deg", "degree", "degrees"):
            turn += math.radians(aside)
        elif unit == "" or unit in LENGTH_UNITS:
            default = YARDS_PER[position.hole.units]
            away = away if name else min(away, max(far, 1.0))
            turn += math.asin(max(-1.0, min(1.0, aside * LENGTH_UNITS.get(unit, default) / away)))
        else:
            raise ValueError(f"yards, metres or degrees, as 10 yd left, not '{unit}'")
    return math.degrees(math.remainder(turn - position.pin_line, 2.0 * math.pi))
