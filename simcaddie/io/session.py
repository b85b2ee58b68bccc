"""Range sessions from CSV files, whatever their separators, decimal marks, header names and units.

The header line may stand below other lines, and a row of units below it. A row that can't be used is a fault with its
line; the rest is used all the same.
"""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from functools import cache
from itertools import chain, islice
from typing import Final, TypeVar

from simcaddie.base.errors import BadFile, BadRequest, Fault
from simcaddie.base.units import FEET_PER_YARD, YARDS_PER
from simcaddie.fitting.session import Ball
from simcaddie.io.faults import describe, first_faults, listed, near
from simcaddie.io.fields import is_name
from simcaddie.io.hole_rules import RULES
from simcaddie.io.player import club_name, swing_name
from simcaddie.io.yaml_reader import PathLike, read_text, shown
from simcaddie.player.defaults import CLUBS

__all__ = [
    "SessionFile",
    "club_and_swing",
    "club_names",
    "known_loft",
    "length",
    "order",
    "read_growing",
    "read_session",
    "read_sessions",
    "side",
    "strike",
    "way",
    "yes_or_no",
]  # fmt: skip

# ─── What stands in a cell ────────────────────────────────────────────────────────────────────────────────────────────

EMPTY: Final = {"", "-", "–", "—", "n/a", "na", "none", "null"}
UNITS: Final[dict[str, float]] = {
    **dict.fromkeys(("yd", "yds", "yard", "yards"), 1.0),
    **dict.fromkeys(("m", "mtr", "metre", "metres", "meter", "meters"), YARDS_PER["metres"]),
    **dict.fromkeys(("ft", "feet", "foot"), 1.0 / FEET_PER_YARD),
}
_NUMBER: Final = re.compile(r"([-+−–]?\d*[.,]?\d+)\s*([a-z]*)\.?", re.IGNORECASE)
_SIDE: Final = re.compile(r"([lr])(?:eft|ight)?\s*(\S.*)|(\S.*?)\s*\b([lr])(?:eft|ight)?|(\d\S*)([lr])", re.IGNORECASE)
# What coaches write of a strike, in place of a carry, beside it or in a column of its own; a shank counts as thin, as
# the wild ball does.
_STRIKES: Final = {
    **dict.fromkeys(("fat", "heavy", "duff", "duffed", "chunk", "chunked", "dug"), "fat"),
    **dict.fromkeys(("thin", "thinned", "top", "topped", "skull", "skulled", "blade", "bladed", "shank", "shanked"),
                    "thin"),
    **dict.fromkeys(("solid", "good", "ok", "clean", "flush", "pure"), "solid"),
}  # fmt: skip
_STRAIGHT: Final = {"straight", "centre", "center", "middle", "on line", "online", "c", "s"}
_WAYS: Final = {"l": -1.0, "left": -1.0, "r": 1.0, "right": 1.0}
_CLOCK: Final = re.compile(r"(\d{1,2}):(\d\d)(?::(\d\d(?:[.,]\d+)?))?")
_LOFT: Final = re.compile(r"(\d\d(?:[.,]\d)?) ?(?:°|deg|degrees?)?(?: wedge)?", re.IGNORECASE)
_ANSWERS: Final = {
    **dict.fromkeys(("yes", "y", "true", "1", "x", "✓", "with"), True),
    **dict.fromkeys(("no", "n", "false", "0", "without"), False),
}
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
    """Return (number, yards of the unit behind it or None); ValueError where it is no number, or that no unit.

    >>> length("145,2"), length("-3.5"), length("120 yd")
    ((145.2, None), (-3.5, None), (120.0, 1.0))
    """
    found = _NUMBER.fullmatch(text.strip())
    unit = unit_of(found[2]) if found and found[2] else None
    if found is None or (found[2] and unit is None):
        raise ValueError(text)
    return _plain(found[1]), unit


def side(text: str) -> tuple[float, float | None]:
    """Return a distance to the right and its unit: signed, or with L or R before or behind it.

    >>> side("12 L"), side("R 3,5"), side("-4"), side("7 yd left"), side("straight")
    ((-12.0, None), (3.5, None), (-4.0, None), (-7.0, 1.0), (0.0, None))
    """
    if text.strip().lower() in _STRAIGHT:
        return 0.0, None
    found = _SIDE.fullmatch(text.strip())
    if found is None:
        return length(text)
    letter = found[1] or found[4] or found[6]
    value, unit = length(found[2] or found[3] or found[5])
    if value < 0:
        raise ValueError(text)
    return (-value if letter.lower() == "l" else value), unit


def way(text: str) -> float:
    """Return -1 for left, 1 for right and 0 for straight; ValueError where it is none.

    >>> way("L"), way("right"), way("straight")
    (-1.0, 1.0, 0.0)
    """
    plain = text.strip().lower()
    if plain not in _WAYS and plain not in _STRAIGHT:
        raise ValueError(text)
    return _WAYS.get(plain, 0.0)


def strike(text: str) -> str:
    """Return which of ``STRIKES`` a word says; ValueError where it says none.

    >>> strike("Topped"), strike("fat")
    ('thin', 'fat')
    """
    if (found := _STRIKES.get(text.strip().lower())) is None:
        raise ValueError(text)
    return found


def carry_and_strike(text: str) -> tuple[str, str]:
    """Return the words of a carry without those of its strike, and which of ``STRIKES`` they say, "" for none.

    >>> carry_and_strike("95 yd fat"), carry_and_strike("top"), carry_and_strike("140")
    (('95 yd', 'fat'), ('', 'thin'), ('140', ''))
    """
    said = [word for word in re.findall(r"[a-z]+", text.lower()) if word in _STRIKES]
    if not said:
        return text, ""
    rest = re.sub(rf"\b{said[0]}\b", " ", text, count=1, flags=re.IGNORECASE)
    return " ".join(rest.strip(" ()-,;").split()), _STRIKES[said[0]]


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
    """Return what a yes or no says; ValueError where it is neither."""
    answer = _ANSWERS.get(text.strip().lower())
    if answer is None:
        raise ValueError(text)
    return answer


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


def club_names(option: str, text: str, known: Collection[str] = ()) -> tuple[str, ...]:
    """Return the clubs of a list as people type it, "driver, 7i, PW"; "none" holds none, and the putter isn't counted.

    Raises
    ------
    BadRequest
        Where one isn't in ``known`` (where that is empty: has no loft that its name tells), named with ``option``.

    >>> club_names("--clubs", "Dr, seven, 56, putter")
    ('driver', '7 iron', '56° wedge')
    """
    typed = [part.strip() for part in re.split("[,;]", text) if part.strip()]
    names = {club_and_swing(part, "")[0]: part for part in typed if part.lower() not in ("putter", "none")}
    for name, part in names.items():
        if name not in known if known else known_loft(name) is None:
            close = near(name, known or CLUBS)
            hint = f"; did you mean '{close}'?" if close else ""
            raise BadRequest(f"{option}: expected clubs {'of the bag' if known else 'it knows'}, as "
                             f"'{', '.join([*(known or CLUBS)][:3])}', found '{shown(part, 40)}'{hint}")  # fmt: skip
    if not typed:
        raise BadRequest(f"{option}: expected clubs with commas between them, found nothing")
    return tuple(names)


# ─── Which column holds what ──────────────────────────────────────────────────────────────────────────────────────────

# By key: header names that are understood, the surest first.
_NAMES: Final[dict[str, tuple[str, ...]]] = {
    "club": ("club", "club name", "club type", "clubs", "club used"),
    "swing": ("swing", "swing type", "swing length", "kind of swing", "shot type"),
    "carry": ("carry", "carry distance", "carry dist", "carry length", "distance carried", "carried"),
    "total": ("total", "total distance", "total dist", "total length", "carry and run"),
    "side": (
        "side", "sideways", "side distance", "off line", "lateral", "lateral distance", "left right",
        "side carry", "carry side", "deviation", "distance off line", "offline", "off target", "offset",
    ),
    "way": (
        "l r", "left right", "lr", "dir", "left or right", "l or r", "side l r", "way", "which way", "which side",
    ),
    "strike": ("strike", "contact", "struck", "strike quality", "mishit"),
    "order": ("order", "ball", "ball no", "ball number", "shot", "shot no", "shot number", "no", "nr", "number"),
    "routine": ("routine", "pre shot routine", "with routine"),
    "first": ("first", "first ball", "with consequence"),
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
    """Places of the columns by key, from 0, their headings, and the yards of their units where these tell."""

    place: Mapping[str, int]
    unit: Mapping[str, float] = field(default_factory=dict)
    by_hand: frozenset[str] = frozenset()
    headings: Mapping[str, str] = field(default_factory=dict)

    def heading(self, key: str) -> str:
        """Return what a fault calls a column: its key, and its heading where that is another word."""
        given = shown(self.headings.get(key, "").strip(), 40)
        return f"{key} (column '{given}')" if given and given.lower() != key else key


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

    ``mapped`` has headers by key, as told by hand; where not ``strict`` their keys go by name where such a header isn't
    there. ``wanted``, the yards of a unit, decides between a column in yards and one in metres.

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
    return Columns(place, units, frozenset(by_hand), {key: headers[at] for key, at in place.items()})


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


# ─── The rows ─────────────────────────────────────────────────────────────────────────────────────────────────────────

MAX_BYTES: Final = 30_000_000
HEADER_WITHIN: Final = 30  # lines
_SEPARATORS: Final = (",", ";", "\t", "|")

Row = tuple[int, list[str]]  # line, cells
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class SessionFile:
    """What a session file holds: balls in yards, rows that can't be used, and what there is to say of the rest."""

    file: str
    balls: tuple[Ball, ...]
    faults: tuple[Fault, ...]
    remarks: tuple[str, ...]
    columns: Columns = field(default_factory=lambda: Columns({}))

    @property
    def by_hand(self) -> frozenset[str]:
        """Keys whose column was told by hand, and is there."""
        return self.columns.by_hand


@dataclass(frozen=True, slots=True)
class _Reading:
    file: str
    columns: Columns
    unit: float  # yards, of lengths whose unit nothing tells
    clubs: Collection[str]
    session: int
    mapped: Mapping[str, str] = field(default_factory=dict)
    unread: dict[str, list[tuple[int, str]]] = field(default_factory=dict)  # cells that a row can do without


class _Unusable(Exception):
    """A row's fault: where, expected, found."""


def read_session(
    path: PathLike,
    *,
    columns: Mapping[str, str] | None = None,
    units: str | None = None,
    clubs: Collection[str] = (),
    session: int = 0,
    strict: bool = True,
) -> SessionFile:
    """Return the balls of a session file.

    Parameters
    ----------
    path : the file
    columns : header by key (``KEYS``) where the names don't tell
    units : "yards" or "metres", where the file doesn't tell; yards by default
    clubs : names of clubs that are known besides the usual ones
    session : the number its balls get
    strict : whether every header in ``columns`` must be there

    Raises
    ------
    BadFile
        Where the file can't be read, has no header line that names club, carry and side, or has no row that can be
        used.
    BadRequest
        Where ``columns`` has an unknown key.

    """
    return _session(
        read_text(path, limit=MAX_BYTES), shown(str(path), 200), columns or {}, units, clubs, session, strict
    )


def read_growing(
    path: PathLike, *, columns: Mapping[str, str] | None = None, units: str | None = None, clubs: Collection[str] = ()
) -> SessionFile | None:
    """Return the balls of a file that a device still writes, its whole lines alone; None where it has no ball yet.

    Raises
    ------
    BadFile
        Where the file can't be read, or its first lines name no club, carry and side.
    BadRequest
        As ``read_session``.

    """
    text = read_text(path, limit=MAX_BYTES)
    whole = text[: text.rfind("\n") + 1]
    try:
        return _session(whole, shown(str(path), 200), columns or {}, units, clubs, 0, strict=True)
    except BadFile:
        if sum(1 for line in whole.splitlines() if line.strip()) > HEADER_WITHIN:
            raise
        return None


def _session(
    text: str, file: str, columns: Mapping[str, str], units: str | None, clubs: Collection[str], session: int,
    strict: bool,
) -> SessionFile:  # fmt: skip
    """Return the balls of the text of a session file."""
    try:
        separator, line, headers = _header(file, text, columns, units, strict)
        rows = _rows(text, separator, after=line)
        first = next(rows, None)
        if first is not None and (told := _units_row(first[1], headers)) is not None:
            headers = told
        elif first is not None:
            rows = chain([first], rows)
        reading = _Reading(file, headers, UNITS["m" if units == "metres" else "yd"], clubs, session, columns)
        balls, faults = _balls(reading, rows)
        return _told(reading, balls, faults, line)
    except csv.Error as error:
        raise BadFile([Fault(file, 0, "", "rows of cells", shown(str(error)))]) from None


def _rows(text: str, separator: str, after: int = 0) -> Iterator[Row]:
    """Return (line, cells) of the rows that aren't empty, from below line ``after``."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    line = 1
    for cells in reader:
        here, line = line, reader.line_num + 1
        if here > after and any(cell.strip() for cell in cells):
            yield here, cells


def _header(
    file: str, text: str, mapped: Mapping[str, str], units: str | None, strict: bool
) -> tuple[str, int, Columns]:
    """Return (separator, line, columns) of the header line."""
    wanted = None if units is None else UNITS["m" if units == "metres" else "yd"]
    found: list[tuple[int, str, int, Columns]] = []
    doubt: Ambiguous | None = None
    at = 0
    for separator in _SEPARATORS:
        for line, cells in islice(_rows(text, separator), HEADER_WITHIN):
            try:
                columns = columns_of(cells, mapped, wanted, strict=strict)
            except Ambiguous as error:
                doubt, at = error, line
                break
            if columns is not None:
                found.append((len(cells), separator, line, columns))
                break
    if found:
        _, separator, line, columns = max(found, key=lambda each: each[0])
        return separator, line, columns
    if doubt is not None:
        names = " and ".join(f"'{shown(header.strip())}'" for header in doubt.headers)
        expected = f'one column for {doubt.key} (say which one: --column {doubt.key}="…")'
        raise BadFile([Fault(file, at, "header", expected, names)])
    first = next(iter(text.strip().splitlines()), "")
    raise BadFile([Fault(file, 1, "", _header_words(mapped), f"'{shown(first)}'" if first else "an empty file")])


def _header_words(mapped: Mapping[str, str]) -> str:
    words = f"a header line that names {', '.join(NEEDED[:-1])} and {NEEDED[-1]}"
    if mapped:
        return f"{words}, with the columns {listed([repr(name) for name in mapped.values()])}"
    return f'{words}, or --column carry="…" and the like'


def _units_row(cells: list[str], columns: Columns) -> Columns | None:
    """Return the columns with the units that a row beneath the header tells, None where it is no such row."""
    units = {
        key: unit
        for key in _LENGTHS
        if key in columns.place and (unit := unit_of(_cell(cells, columns, key))) is not None
    }
    return replace(columns, unit={**columns.unit, **units}) if "carry" in units else None


def _cell(cells: list[str], columns: Columns, key: str) -> str:
    place = columns.place.get(key)
    return "" if place is None or place >= len(cells) else cells[place].replace("\xa0", " ").strip()


def _balls(reading: _Reading, rows: Iterator[Row]) -> tuple[list[Ball], list[Fault]]:
    balls, faults = [], []
    for line, cells in rows:
        try:
            balls.append(_ball(reading, line, cells))
        except _Unusable as error:
            if (again := _another_header(reading, cells)) is not None:
                reading = replace(reading, columns=again)
                continue
            where, expected, found = error.args
            faults.append(Fault(reading.file, line, reading.columns.heading(where), expected, found))
    return balls, faults


def _another_header(reading: _Reading, cells: list[str]) -> Columns | None:
    """Return the columns of a header line, or of the units beneath one, that stands among the balls; else None."""
    try:
        return columns_of(cells, reading.mapped, None, strict=False) or _units_row(cells, reading.columns)
    except Ambiguous:
        return None


def _ball(reading: _Reading, line: int, cells: list[str]) -> Ball:
    columns = reading.columns
    club, swing = _club(_cell(cells, columns, "club"), _cell(cells, columns, "swing"), reading.clubs)
    struck, carry, aside = _struck(reading, line, cells)
    return Ball(
        club=club,
        swing=swing,
        carry=carry,
        side=aside,
        total=_spare(reading, line, cells, "total", lambda text: _measured(reading, text, "total", length, "a number")),
        order=_spare(reading, line, cells, "order", order),
        routine=_spare(reading, line, cells, "routine", yes_or_no),
        first=_spare(reading, line, cells, "first", yes_or_no),
        session=reading.session,
        line=line,
        strike=struck,
    )


def _struck(reading: _Reading, line: int, cells: list[str]) -> tuple[str, float, float]:
    """Return how a ball was struck, its carry and its side; a mishit told in words may have neither (nan)."""
    words, struck = carry_and_strike(_cell(cells, reading.columns, "carry"))
    struck = struck or _spare(reading, line, cells, "strike", strike) or ""
    if struck in ("fat", "thin") and words.lower() in EMPTY:
        return struck, math.nan, math.nan
    carry = _measured(reading, words, "carry", length, "a number, or fat, thin or top")
    aside = _measured(reading, _cell(cells, reading.columns, "side"), "side", side, "a number, or one with L or R")
    turn = _spare(reading, line, cells, "way", way)
    if turn is not None and aside * turn < 0.0 and turn > 0.0:
        raise _Unusable("way", "left, as the side is below 0", "right")
    return struck, carry, aside if turn is None else turn * abs(aside)


def _club(club: str, swing: str, known: Collection[str]) -> tuple[str, str]:
    if not club:
        raise _Unusable("club", "a club", "nothing")
    name, made = club_and_swing(club, swing)
    if name.casefold() == "putter":
        raise _Unusable("club", "any club but the putter", "the putter")
    if name not in known and known_loft(name) is None:
        raise _Unusable("club", "a club it knows, or one of the --player's bag", f"'{shown(club, 40)}'")
    if not is_name(made):
        raise _Unusable("swing", RULES["name"][0], f"'{shown(swing or club, 40)}'")
    return name, made


def _measured(
    reading: _Reading, text: str, key: str, read: Callable[[str], tuple[float, float | None]], expected: str
) -> float:
    """Return a length in yards."""
    value, unit = _read(read, text, key, expected)
    return value * (unit or reading.columns.unit.get(key) or reading.unit)


def _spare(reading: _Reading, line: int, cells: list[str], key: str, read: Callable[[str], T]) -> T | None:
    """Return what a cell holds that a row can do without; one that can't be read is noted."""
    text = _cell(cells, reading.columns, key)
    if text.lower() in EMPTY:
        return None
    try:
        return read(text)
    except (ValueError, _Unusable):
        reading.unread.setdefault(key, []).append((line, text))
        return None


def _read(read: Callable[[str], T], text: str, where: str, expected: str) -> T:
    try:
        return read(text)
    except ValueError:
        raise _Unusable(where, expected, describe(text or None)) from None


def _told(reading: _Reading, balls: list[Ball], faults: list[Fault], line: int) -> SessionFile:
    file = reading.file
    if not balls:
        raise BadFile(first_faults(faults) or [Fault(file, line, "", "balls below the header line", "none")])
    remarks = [
        f"{len(cells)} cells of `{key}` left out, the first in line {cells[0][0]}: {describe(cells[0][1])}"
        for key, cells in reading.unread.items()
    ]
    numbers = [ball.order for ball in balls if ball.order is not None]
    if len(set(numbers)) < len(numbers):
        balls = [replace(ball, order=None) for ball in balls]
        remarks.append("ball numbers come twice, so they don't tell the order in which the balls were hit")
    return SessionFile(file, tuple(balls), tuple(faults), tuple(remarks), reading.columns)


def read_sessions(
    paths: Sequence[PathLike],
    *,
    columns: Mapping[str, str] | None = None,
    units: str | None = None,
    clubs: Collection[str] = (),
) -> tuple[SessionFile, ...]:
    """Return several sessions, the oldest first; a header in ``columns`` need only be in one.

    Raises
    ------
    BadFile
        With the faults of all files that can't be used; see ``read_session``.
    BadRequest
        Where no file has a column that ``columns`` names.

    """
    sessions: list[SessionFile] = []
    faults: list[Fault] = []
    for number, path in enumerate(paths):
        try:
            sessions.append(
                read_session(path, columns=columns, units=units, clubs=clubs, session=number, strict=len(paths) == 1)
            )
        except BadFile as error:
            faults += error.faults
    if faults:
        raise BadFile(faults)
    for key, header in (columns or {}).items():
        if not any(key in session.by_hand for session in sessions):
            raise BadRequest(f"--column: expected a column of the sessions for {key}, found '{shown(header)}'")
    return tuple(sessions)
