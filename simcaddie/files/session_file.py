"""A range session from a CSV file, whatever its separators, decimal marks, header names and units.

The header line may stand below other lines, and a row of units below it. A row that can't be used is a fault with its
line; the rest is used all the same.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import islice
from typing import Final, TypeVar

from simcaddie.errors import BadFile, Fault
from simcaddie.files.nodes import PathLike, read_text, shown
from simcaddie.files.session_cells import (
    EMPTY,
    UNITS,
    club_and_swing,
    known_loft,
    length,
    order,
    side,
    unit_of,
    yes_or_no,
)
from simcaddie.files.session_columns import NEEDED, Ambiguous, Columns, columns_of
from simcaddie.files.told import describe, first_faults, listed
from simcaddie.fitting.session import Ball

__all__ = ["SessionFile", "read_session"]

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
    by_hand: frozenset[str] = frozenset()  # keys whose column was told by hand, and is there


@dataclass(frozen=True, slots=True)
class _Reading:
    file: str
    columns: Columns
    unit: float  # yards, of lengths whose unit nothing tells
    clubs: Collection[str]
    session: int
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
    columns : header by key (club, swing, carry, total, side, order, routine) where the names don't tell
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
    text = read_text(path, limit=MAX_BYTES)
    file = shown(str(path), 200)
    try:
        separator, line, headers = _header(file, text, columns or {}, units, strict)
        rows = _rows(text, separator, after=line)
        first = next(rows, None)
        if first is not None and (told := _units_row(first[1], headers)) is not None:
            headers = told
        elif first is not None:
            rows = _again(first, rows)
        reading = _Reading(file, headers, UNITS["m" if units == "metres" else "yd"], clubs, session)
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


def _again(first: Row, rows: Iterator[Row]) -> Iterator[Row]:
    yield first
    yield from rows


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
        expected = f"one column for {doubt.key} (say which one: --column {doubt.key}=\"…\")"
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
        for key in ("carry", "total", "side")
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
            where, expected, found = error.args
            faults.append(Fault(reading.file, line, where, expected, found))
    return balls, faults


def _ball(reading: _Reading, line: int, cells: list[str]) -> Ball:
    columns = reading.columns
    club, swing = _club(_cell(cells, columns, "club"), _cell(cells, columns, "swing"), reading.clubs)
    carry = _yards(reading, cells, "carry")
    aside = _yards(reading, cells, "side")
    return Ball(
        club=club,
        swing=swing,
        carry=carry,
        side=aside,
        total=_spare(reading, line, cells, "total", lambda _: _yards(reading, cells, "total")),
        order=_spare(reading, line, cells, "order", order),
        routine=_spare(reading, line, cells, "routine", yes_or_no),
        session=reading.session,
        line=line,
    )


def _club(club: str, swing: str, known: Collection[str]) -> tuple[str, str]:
    if not club:
        raise _Unusable("club", "a club", "nothing")
    name, made = club_and_swing(club, swing)
    if name.casefold() == "putter":
        raise _Unusable("club", "any club but the putter", "the putter")
    if name not in known and known_loft(name) is None:
        raise _Unusable("club", "a club it knows, or one of the --player's bag", f"'{shown(club, 40)}'")
    return name, made


def _yards(reading: _Reading, cells: list[str], key: str) -> float:
    text = _cell(cells, reading.columns, key)
    words = "a number, or one with L or R" if key == "side" else "a number"
    value, unit = _read(side if key == "side" else length, text, key, words)
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
    return SessionFile(file, tuple(balls), tuple(faults), tuple(remarks), reading.columns.by_hand)
