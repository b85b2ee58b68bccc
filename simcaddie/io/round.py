"""A round as a golfer remembers it, from a CSV file: a row a stroke, with the club, the target and where it finished.

Columns: ``hole`` (empty: as the row above), ``club``, ``finish``; and, where there is something to say, ``aim``,
``drop`` (where the ball was played from after relief) and ``putts``. Lines that begin with ``#`` are remarks.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from typing import Final

from simcaddie.base.errors import BadFile, Fault
from simcaddie.fitting.rounds import RoundRow
from simcaddie.io.faults import describe, listed, near, raise_faults
from simcaddie.io.yaml_reader import PathLike, read_text, shown

__all__ = ["COLUMNS", "read_round"]

COLUMNS: Final = {
    "hole": ("hole", "no", "hole no"),
    "club": ("club",),
    "aim": ("aim", "target", "line"),
    "finish": ("finish", "finished", "where", "result"),
    "drop": ("drop", "dropped", "relief"),
    "putts": ("putts",),
}
NEEDED: Final = ("hole", "club", "finish")
_SEPARATORS: Final = (",", ";", "\t")


def _rows(text: str, separator: str) -> list[tuple[int, list[str]]]:
    """Return (line, cells) of the rows that hold something."""
    reader, found, line = csv.reader(io.StringIO(text, newline=""), delimiter=separator), [], 1
    for cells in reader:
        here, line = line, reader.line_num + 1
        if any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith("#"):
            found.append((here, [" ".join(cell.replace("\xa0", " ").split()) for cell in cells]))
    return found


def _places(headers: Sequence[str]) -> dict[str, int]:
    plain = [" ".join(re.sub(r"[\W_]+", " ", header.lower()).split()) for header in headers]
    return {
        key: plain.index(name)
        for key, names in COLUMNS.items()
        for name in [next((name for name in names if name in plain), "")]
        if name
    }


def _header(file: str, text: str) -> tuple[dict[str, int], list[tuple[int, list[str]]], list[Fault]]:
    """Return the columns by key, the rows below the header, and faults of headers that aren't known."""
    tried = [_rows(text, separator) for separator in _SEPARATORS]
    rows = max(tried, key=lambda rows: len(_places(rows[0][1])) if rows else 0)
    places = _places(rows[0][1]) if rows else {}
    if missing := [key for key in NEEDED if key not in places]:
        found = f"'{shown(', '.join(rows[0][1]))}'" if rows else "an empty file"
        expected = f"a header line that names {', '.join(NEEDED[:-1])} and {NEEDED[-1]}"
        where = "" if len(missing) == len(NEEDED) else missing[0]
        raise BadFile([Fault(file, rows[0][0] if rows else 1, where, expected, found)])
    line, headers = rows[0]
    faults = []
    for number, header in enumerate(headers):
        if header and number not in places.values():
            close = near(header, COLUMNS)
            expected = f"one of the columns {listed(COLUMNS)}" + (f"; did you mean `{close}`?" if close else "")
            faults.append(Fault(file, line, "header", expected, describe(header)))
    return places, rows[1:], faults


def read_round(path: PathLike, holes: int) -> tuple[RoundRow, ...]:
    """Return the strokes of a round on a course of so many holes, in the order of the file.

    Raises
    ------
    BadFile
        With every fault of the file, each with its line.

    """
    file, text = shown(str(path), 200), read_text(path)
    try:
        places, rows, faults = _header(file, text)
    except csv.Error as error:
        raise BadFile([Fault(file, 0, "", "rows of cells", shown(str(error)))]) from None
    found, last = [], None
    for line, cells in rows:
        row = {key: cells[at] if at < len(cells) else "" for key, at in places.items()}
        number = _whole(row["hole"], 1, holes) if row["hole"] else last
        if number is None:
            expected = f"a hole from 1 to {holes}" + ("" if row["hole"] else ", or a row above that has one")
            faults.append(Fault(file, line, "hole", expected, describe(row["hole"] or None)))
        putts = _whole(row.get("putts", ""), 0, 9) if row.get("putts") else None
        if row.get("putts") and putts is None:
            faults.append(Fault(file, line, "putts", "a number of putts from 0 to 9", describe(row["putts"])))
        faults += [
            Fault(file, line, key, words, "nothing")
            for key, words in (("club", "a club"), ("finish", "where the ball finished"))
            if not row[key] and not (key == "club" and row["finish"].lower().startswith("pick"))
        ]
        last = number
        found.append(
            RoundRow(line, number or 0, row["club"], row.get("aim", ""), row["finish"], row.get("drop", ""), putts)
        )
    if not found and not faults:
        faults.append(Fault(file, 0, "", "strokes below the header line", "none"))
    raise_faults(faults)
    return tuple(found)


def _whole(text: str, low: int, high: int) -> int | None:
    number = int(text) if re.fullmatch(r"\d{1,3}", text) else None
    return number if number is not None and low <= number <= high else None
