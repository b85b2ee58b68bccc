"""What stands in the cells of a session: numbers with either decimal mark, sides, clubs, yes and no."""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from simcaddie.files.clubs import club_name, swing_name
from simcaddie.golfer.defaults import CLUBS
from simcaddie.units import FEET_PER_YARD, YARDS_PER

__all__ = ["EMPTY", "UNITS", "club_and_swing", "known_loft", "length", "order", "side", "unit_of", "yes_or_no"]

EMPTY: Final = {"", "-", "–", "—", "n/a", "na", "none", "null"}
UNITS: Final[dict[str, float]] = {
    **dict.fromkeys(("yd", "yds", "yard", "yards"), 1.0),
    **dict.fromkeys(("m", "mtr", "metre", "metres", "meter", "meters"), YARDS_PER["metres"]),
    **dict.fromkeys(("ft", "feet", "foot"), 1.0 / FEET_PER_YARD),
}
_NUMBER: Final = re.compile(r"([-+−–]?\d*[.,]?\d+)\s*([a-z]*)\.?", re.IGNORECASE)
_SIDE: Final = re.compile(r"([lr])(?:eft|ight)?\s*(\S.*)|(\S.*?)\s*\b([lr])(?:eft|ight)?|(\d\S*)([lr])", re.IGNORECASE)
_CLOCK: Final = re.compile(r"(\d{1,2}):(\d\d)(?::(\d\d(?:[.,]\d+)?))?")
_LOFT: Final = re.compile(r"(\d\d(?:[.,]\d)?) ?(?:°|deg|degrees?)?(?: wedge)?", re.IGNORECASE)
_YES: Final = dict.fromkeys(("yes", "y", "true", "1", "x", "✓", "with"), True)
_NO: Final = dict.fromkeys(("no", "n", "false", "0", "without"), False)
_SWINGS: Final = {
    "": "full", "1/2": "half", "½": "half", "3/4": "three quarter", "¾": "three quarter", "1/4": "quarter",
}  # fmt: skip
_SWING_WORDS: Final = ("full", "half", "three quarter", "quarter", "1/2", "3/4", "½", "¾", "1/4")


def unit_of(text: str) -> float | None:
    """Return the yards of a unit by its name, None where ``text`` is no unit.

    >>> unit_of("[yds]"), unit_of("speed")
    (1.0, None)
    """
    return UNITS.get(text.strip(" []().").lower())


def _plain(number: str) -> float:
    """Return a number; the last of dot and comma is its decimal mark."""
    return float(number.replace("−", "-").replace("–", "-").replace(",", "."))


def length(text: str) -> tuple[float, float | None]:
    """Return (number, yards of the unit behind it or None).

    >>> length("145,2"), length("-3.5"), length("120 yd")
    ((145.2, None), (-3.5, None), (120.0, 1.0))

    Raises
    ------
    ValueError
        Where it is no number, or no unit stands behind it.

    """
    found = _NUMBER.fullmatch(text.strip())
    if found is None:
        raise ValueError(text)
    unit = unit_of(found[2]) if found[2] else None
    if found[2] and unit is None:
        raise ValueError(text)
    return _plain(found[1]), unit


def side(text: str) -> tuple[float, float | None]:
    """Return a distance to the right and its unit: signed, or with L or R before or behind it.

    >>> side("12 L"), side("R 3,5"), side("-4"), side("7 yd left")
    ((-12.0, None), (3.5, None), (-4.0, None), (-7.0, 1.0))
    """
    found = _SIDE.fullmatch(text.strip())
    if found is None:
        return length(text)
    letter = found[1] or found[4] or found[6]
    value, unit = length(found[2] or found[3] or found[5])
    if value < 0:
        raise ValueError(text)
    return (-value if letter.lower() == "l" else value), unit


def order(text: str) -> float:
    """Return a ball's number, or its time of day in seconds.

    >>> order("17"), order("10:15:30")
    (17.0, 36930.0)
    """
    if (clock := _CLOCK.fullmatch(text.strip())) is not None:
        return 3600.0 * int(clock[1]) + 60.0 * int(clock[2]) + _plain(clock[3] or "0")
    value, unit = length(text)
    if unit is not None:
        raise ValueError(text)
    return value


def yes_or_no(text: str) -> bool:
    """Return what a yes or no says.

    Raises
    ------
    ValueError
        Where it is neither.

    """
    try:
        return {**_YES, **_NO}[text.strip().lower()]
    except KeyError:
        raise ValueError(text) from None


@cache
def known_loft(club: str) -> float | None:
    """Return the loft of a club whose name tells it: one of the table, or a wedge called by its degrees.

    >>> known_loft("7 iron"), known_loft("52° wedge"), known_loft("Old Cleek")
    (33.0, 52.0, None)
    """
    if club in CLUBS:
        return CLUBS[club].loft
    found = _LOFT.fullmatch(club)
    loft = _plain(found[1]) if found else 0.0
    return loft if 40.0 <= loft <= 70.0 else None


@cache
def club_and_swing(club: str, swing: str) -> tuple[str, str]:
    """Return the names that club and swing go by; the club's cell may name the swing too.

    >>> club_and_swing("Half 9-iron", ""), club_and_swing("PW", "3/4"), club_and_swing("52", "")
    (('9 iron', 'half'), ('pitching wedge', 'three quarter'), ('52° wedge', 'full'))
    """
    words = " ".join(club.split())
    if not swing.strip() and known_loft(club_name(words)) is None:
        for word in _SWING_WORDS:
            low = words.lower()
            if low.startswith(f"{word} "):
                words, swing = words[len(word) + 1 :], word
            elif low.endswith((f" {word}", f" ({word})", f", {word}")):
                words, swing = words[: low.rindex(word)].rstrip(" (,"), word
    name = club_name(words)
    if name not in CLUBS and (loft := known_loft(name)) is not None:
        name = f"{loft:g}° wedge"
    plain = swing_name(swing.replace("-", " "))
    return name, _SWINGS.get(plain, plain)
