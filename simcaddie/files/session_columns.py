"""Which column of a session holds what: header names matched loosely, or mapped by hand, with their units."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Final

from simcaddie.errors import BadRequest
from simcaddie.files.session_cells import UNITS, unit_of
from simcaddie.files.told import listed

__all__ = ["KEYS", "NEEDED", "Ambiguous", "Columns", "columns_of", "plain_header"]

# By key: header names that are understood, the surest first.
_NAMES: Final[dict[str, tuple[str, ...]]] = {
    "club": ("club", "club name", "club type", "clubs", "club used"),
    "swing": ("swing", "swing type", "swing length", "kind of swing", "shot type"),
    "carry": ("carry", "carry distance", "carry dist", "carry length", "distance carried", "carried"),
    "total": ("total", "total distance", "total dist", "total length", "carry and run"),
    "side": (
        "side", "sideways", "side distance", "off line", "lateral", "lateral distance", "left right",
        "side carry", "carry side", "deviation", "distance off line",
    ),
    "order": ("order", "ball", "ball no", "ball number", "shot", "shot no", "shot number", "no", "nr", "number"),
    "routine": ("routine", "pre shot routine", "with routine"),
}  # fmt: skip
KEYS: Final = tuple(_NAMES)
NEEDED: Final = ("club", "carry", "side")
_LENGTHS: Final[tuple[str, ...]] = ("carry", "total", "side")
_BRACKETS: Final = re.compile(r"[\[(]([^\])]*)[\])]")


class Ambiguous(Exception):
    """Several columns might hold a key."""

    def __init__(self, key: str, headers: Sequence[str]) -> None:
        self.key, self.headers = key, tuple(headers)
        super().__init__(key)


@dataclass(frozen=True, slots=True)
class Columns:
    """Places of the columns by key, from 0, and the yards of their units where the headers tell."""

    place: Mapping[str, int]
    unit: Mapping[str, float] = field(default_factory=dict)
    by_hand: frozenset[str] = frozenset()


def plain_header(header: str) -> tuple[str, float | None]:
    """Return a header's plain words and the yards of the unit in it.

    >>> plain_header("Carry_Distance [yd]"), plain_header("SIDE (m)"), plain_header("total yds")
    (('carry distance', 1.0), ('side', 1.0936132983377078), ('total', 1.0))
    """
    unit = next((unit for inside in _BRACKETS.findall(header) if (unit := unit_of(inside)) is not None), None)
    words = re.sub(r"[\W_]+", " ", _BRACKETS.sub(" ", header).lower()).split()
    if unit is None and len(words) > 1 and words[-1] in UNITS:
        unit = UNITS[words.pop()]
    return " ".join(words), unit


def columns_of(
    headers: Sequence[str], mapped: Mapping[str, str], wanted: float | None, *, strict: bool = True
) -> Columns | None:
    """Return the columns that a row of headers names, None where it doesn't name what a session needs.

    Parameters
    ----------
    headers : the row's cells
    mapped : header by key, as told by hand
    wanted : yards of the unit that is asked for; decides between a column in yards and one in metres
    strict : whether every mapped header must be there; else their keys go by name where it isn't

    Raises
    ------
    Ambiguous
        Where several columns might hold a key that is needed.
    BadRequest
        Where ``mapped`` has an unknown key.

    """
    if unknown := set(mapped) - set(KEYS):
        raise BadRequest(f"--column: expected one of {listed(KEYS)} before the '=', found '{min(unknown)}'")
    plain = [plain_header(header) for header in headers]
    place: dict[str, int] = {}
    by_hand = set()
    for key in KEYS:
        found = _by_hand(headers, plain, mapped[key]) if key in mapped else []
        if found:
            by_hand.add(key)
        elif not (key in mapped and strict):
            taken = list(place.values())
            found = [number for number in _by_name(plain, _NAMES[key]) if number not in taken]
        if len(found) > 1:
            found = _by_unit(plain, found, wanted)
        if len(found) > 1 and key in NEEDED:
            raise Ambiguous(key, [headers[number] for number in found])
        if found:
            place[key] = found[0]
    if any(key not in place for key in (*NEEDED, *(mapped if strict else ()))):
        return None
    units = {key: unit for key in _LENGTHS if key in place and (unit := plain[place[key]][1]) is not None}
    return Columns(place, units, frozenset(by_hand))


def _by_hand(headers: Sequence[str], plain: Sequence[tuple[str, float | None]], name: str) -> list[int]:
    exact = [number for number, header in enumerate(headers) if header.strip().lower() == name.strip().lower()]
    words = plain_header(name)[0]
    return exact or [number for number, (header, _) in enumerate(plain) if header == words != ""]


def _by_name(plain: Sequence[tuple[str, float | None]], names: Sequence[str]) -> list[int]:
    headers = [header for header, _ in plain]
    for name in names:
        if name in headers:
            return [number for number, header in enumerate(headers) if header == name]
    close = get_close_matches(names[0], [header for header in headers if header], n=1, cutoff=0.85)
    return [headers.index(close[0])] if close else []


def _by_unit(plain: Sequence[tuple[str, float | None]], found: list[int], wanted: float | None) -> list[int]:
    fitting = [number for number in found if plain[number][1] == (1.0 if wanted is None else wanted)]
    return fitting or found
