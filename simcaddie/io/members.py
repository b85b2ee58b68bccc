"""Members of a club as a CSV file: a row a member, with the handicap index, the driver's carry and what tee they play.

Columns: ``member`` (a name or number), ``index`` (a plus as "+1.2"), ``driver`` (average carry), and ``tee`` (a tee of
the course) or ``sex`` (m or w), or neither. Lines that begin with ``#`` are remarks.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from simcaddie.base.errors import BadFile, Fault
from simcaddie.base.units import YARDS_PER
from simcaddie.io.faults import describe, listed, raise_faults
from simcaddie.io.yaml_reader import PathLike, read_text, shown
from simcaddie.player.reference import LONGEST_DRIVER, SHORTEST_DRIVER

__all__ = ["COLUMNS", "MOST_MEMBERS", "FieldMember", "read_members"]

COLUMNS: Final = {
    "member": ("member", "name", "number", "no", "player"),
    "index": ("index", "handicap index", "handicap", "hcp"),
    "driver": ("driver", "driver carry", "carry"),
    "tee": ("tee", "tees"),
    "sex": ("sex", "gender"),
}
NEEDED: Final = ("member", "index", "driver")
MOST_MEMBERS: Final = 5000
MOST_BYTES: Final = 2_000_000
LOWEST, HIGHEST = -10.0, 54.0
_SEXES: Final = dict.fromkeys(("m", "man", "men", "male"), "m") | dict.fromkeys(
    ("w", "f", "woman", "women", "female"), "w"
)
_NUMBER: Final = re.compile(r"[+-]?\d{1,3}(?:[.,]\d{1,3})?")


@dataclass(frozen=True, slots=True)
class FieldMember:
    """A member: handicap ``index``, ``driver`` carry in yards; ``tee`` by name and ``sex`` ("m", "w") where told."""

    name: str
    index: float
    driver: float
    tee: str | None = None
    sex: str | None = None


def _table(file: str, text: str) -> tuple[dict[str, int], list[tuple[int, list[str]]]]:
    """Return the columns by key and (line, cells) of the rows below the header."""
    rows: list[tuple[int, list[str]]] = []
    for separator in (";", "\t", ","):
        reader, rows, line = csv.reader(io.StringIO(text, newline=""), delimiter=separator), [], 1
        for cells in reader:
            here, line = line, reader.line_num + 1
            if any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith("#"):
                rows.append((here, [" ".join(cell.split()) for cell in cells]))
        if rows and len(rows[0][1]) > 1:
            break
    heads = [" ".join(re.sub(r"[\W_]+", " ", head.lower()).split()) for head in rows[0][1]] if rows else []
    known = {key: next((heads.index(name) for name in names if name in heads), -1) for key, names in COLUMNS.items()}
    if missing := [key for key in NEEDED if known[key] < 0]:
        found = f"'{shown(', '.join(rows[0][1]))}'" if rows else "an empty file"
        expected = f"a header line that names {', '.join(NEEDED[:-1])} and {NEEDED[-1]}"
        raise BadFile([Fault(file, rows[0][0] if rows else 1, missing[0], expected, found)])
    return {key: at for key, at in known.items() if at >= 0}, rows[1:]


def _number(text: str) -> float | None:
    return float(text.replace(",", ".")) if _NUMBER.fullmatch(text) else None


def _index(text: str) -> float | None:
    """Return a handicap index, a plus below 0; None for what is none."""
    number = _number(text)
    if number is None or not LOWEST <= (number := -number if text.startswith("+") else number) <= HIGHEST:
        return None
    return number


def _member(file: str, line: int, row: Mapping[str, str], unit: float) -> tuple[FieldMember | None, list[Fault]]:
    index, driver, sex = _index(row["index"]), _number(row["driver"]), _SEXES.get(row.get("sex", "").lower())
    low, high = (round(yards / unit) for yards in (SHORTEST_DRIVER, LONGEST_DRIVER))
    faults = []
    if not row["member"]:
        faults.append(Fault(file, line, "member", "a name or number", "nothing"))
    if index is None:
        expected = "a handicap index up to 54, a plus as +1.2"
        faults.append(Fault(file, line, "index", expected, describe(row["index"] or None)))
    if driver is None or not SHORTEST_DRIVER <= driver * unit <= LONGEST_DRIVER:
        faults.append(Fault(file, line, "driver", f"a carry from {low} to {high}", describe(row["driver"] or None)))
    if row.get("sex") and sex is None:
        faults.append(Fault(file, line, "sex", "m or w", describe(row["sex"])))
    if faults or index is None or driver is None:
        return None, faults
    return FieldMember(row["member"][:60], index, driver * unit, row.get("tee") or None, sex), []


def read_members(path: PathLike, units: str = "yards", tees: tuple[str, ...] = ()) -> tuple[FieldMember, ...]:
    """Return the members of a file, in its order; ``units`` are those of the carries, ``tees`` those that may be named.

    Raises
    ------
    BadFile
        With every fault of the file, each with its line.

    """
    file, text = shown(str(path), 200), read_text(path, limit=MOST_BYTES)
    try:
        places, rows = _table(file, text)
    except csv.Error as error:
        raise BadFile([Fault(file, 0, "", "rows of cells", shown(str(error)))]) from None
    found, faults = [], list[Fault]()
    for line, cells in rows:
        row = {key: cells[at] if at < len(cells) else "" for key, at in places.items()}
        member, wrong = _member(file, line, row, YARDS_PER[units])
        if member is not None and member.tee is not None and member.tee not in tees:
            wrong = [Fault(file, line, "tee", f"a tee that every hole has: {listed(tees)}", describe(member.tee))]
        faults += wrong
        found += [] if member is None else [member]
    if not found and not faults:
        faults.append(Fault(file, 0, "", "members below the header line", "none"))
    if len(found) > MOST_MEMBERS:
        faults.append(Fault(file, 0, "", f"at most {MOST_MEMBERS} members", str(len(found))))
    raise_faults(faults)
    return tuple(found)
