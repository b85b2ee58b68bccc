"""What files were understood to say, in short lines; and as data."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from simcaddie.base.units import SHORT, YARDS_PER
from simcaddie.console.document import Block, Items, Table, Text, figures, table, words
from simcaddie.course.course import Course
from simcaddie.course.hole import Hole
from simcaddie.course.route import length_from
from simcaddie.features.check.analysis import WIDTHS, Stretch, along, beside, doubts, fairway_widths
from simcaddie.player.estimated import estimates_told, marked
from simcaddie.player.swing import Player
from simcaddie.weather.day import Day

__all__ = ["present", "understood_data"]

Record = Hole | Player | Course | Day
NO_UNITS = "no `units`: the lengths were read as yards"


def _unsure(record: Record, units: bool) -> list[str]:
    """Return what can't be meant, or may not be; ``units`` tells whether the file has that key."""
    told = [] if units or isinstance(record, Course | Day) else [NO_UNITS]
    if isinstance(record, Hole):
        told += doubts(record)
    if isinstance(record, Course):
        told += [f"hole {number}: {doubt}" for number, hole in enumerate(record.holes, 1) for doubt in doubts(hole)]
        lost = [str(number) for number, hole in enumerate(record.holes, 1) if hole.bearing is None]
        if lost and record.day is not None and record.day.wind > 0.0 and not record.day.relative:
            told.append(f"the day's wind is told by the compass, and holes {', '.join(lost)} have no `bearing`")
    return told


def present(path: str, record: Record, *, units: bool) -> Iterator[Block]:
    """Yield what a file was understood to say, and what in it is to be looked at again."""
    yield Text(f"{path}: a {type(record).__name__.lower()} file, no mistakes found", whole=True)
    if isinstance(record, Course):
        yield _course(record)
    told = _hole(record) if isinstance(record, Hole) else _player(record) if isinstance(record, Player) else ()
    lines = [*(("–", line) for line in told), *(("!", f"Look again: {line}") for line in _unsure(record, units))]
    if lines:
        yield Items(tuple(lines))


def _hole(hole: Hole) -> Iterator[str]:
    unit, sign = YARDS_PER[hole.units], SHORT[hole.units]
    index = f"stroke index {hole.stroke_index}" if hole.stroke_index else "no stroke index"
    tees = ", ".join(f"{length_from(hole, at) / unit:.0f} {sign} from {name}" for name, at in hole.tees.items())
    yield f"{hole.name}: par {hole.par}, {index}; {tees}"
    yield f"Pins: {', '.join(hole.pins)}. " + (
        "No `bearing`: no wind by the compass, no north arrow."
        if hole.bearing is None
        else f"Straight up the hole is {hole.bearing:.0f}° by the compass."
    )
    at = (f"{wide} at {far}" for far, wide in zip(WIDTHS, _widths(hole), strict=True))
    yield f"Fairway, {sign} wide: {', '.join(at)}"
    yield f"Along the line: {', '.join(_reach(one, unit) for one in along(hole))}"
    if found := beside(hole):
        sides = (
            f"{_reach(one, unit)}, {abs(one.aside) / unit:.0f} {'right' if one.aside > 0 else 'left'}" for one in found
        )
        yield f"Beside it: {'; '.join(sides)}"


def _reach(one: Stretch, unit: float) -> str:
    return f"{one.title} {one.near / unit:.0f}–{one.far / unit:.0f}"


def _widths(hole: Hole) -> list[str]:
    unit = YARDS_PER[hole.units]
    return ["none" if wide is None else f"{wide / unit:.0f}" for wide in fairway_widths(hole)]


def _course(course: Course) -> Table:
    """Return the holes in a row each, as they were understood."""
    rows = []
    for number, hole in enumerate(course.holes, 1):
        index = "" if hole.stroke_index is None else str(hole.stroke_index)
        length = length_from(hole, next(iter(hole.tees.values()))) / YARDS_PER[hole.units]
        rows.append((str(number), hole.name, str(hole.par), index, f"{length:.0f}", *_widths(hole)))
    return table(
        (*figures(""), *words("hole", wraps=True), *figures("par", "index", "length", *map(str, WIDTHS))),
        rows,
        f"length from the first tee, and width of the fairway at {', '.join(map(str, WIDTHS))}, "
        "in the units of each hole's file",
        "close",
    )


def _player(player: Player) -> Iterator[str]:
    unit, index = YARDS_PER[player.units], player.handicap_index
    yield f"{player.name}: {'no handicap index' if index is None else f'index {index:g}'}"
    carries = ", ".join(f"{s.title} {marked(f'{s.carry / unit:.0f}', s.guessed)}" for s in player.swings)
    yield f"Average carry, {player.units}: {carries}"
    if told := estimates_told(player.swings):
        yield told


def understood_data(path: str, record: Record, *, units: bool) -> dict[str, Any]:
    """Return what a file is, and what in it is to be looked at again, as data; lengths in yards."""
    told: dict[str, Any] = {"file": path, "kind": type(record).__name__.lower(), "look_again": _unsure(record, units)}
    holes: Sequence[Hole] = record.holes if isinstance(record, Course) else [record] if isinstance(record, Hole) else ()
    told["holes"] = [
        {
            "name": hole.name,
            "par": hole.par,
            "stroke_index": hole.stroke_index,
            "lengths": {name: length_from(hole, at) for name, at in hole.tees.items()},
            "fairway": dict(zip(map(str, WIDTHS), fairway_widths(hole), strict=True)),
            "along": [[one.title, one.near, one.far] for one in along(hole)],
            "beside": [[one.title, one.near, one.far, one.aside] for one in beside(hole)],
        }
        for hole in holes
    ]
    return told
