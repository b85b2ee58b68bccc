"""Options that commands share, in groups: a command's own options are a dataclass that takes in the groups it needs."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Final, TypeVar

import typer

if TYPE_CHECKING:
    from simcaddie.course.course import Course
    from simcaddie.course.hole import Hole
    from simcaddie.player.swing import Player
    from simcaddie.weather.day import Day

__all__ = [
    "DATA",
    "FIGURE",
    "PAGE",
    "Common",
    "CourseOf",
    "CourseOrHoleOf",
    "DayOf",
    "HoleOf",
    "NoChance",
    "Paper",
    "Place",
    "PlayerOf",
    "RoundOf",
    "Start",
    "Tee",
    "Told",
    "Written",
    "columns_told",
    "hole_numbers",
    "known_units",
    "option",
    "read_days",
]

_MOST_HOLES: Final = 999


def option(metavar: str, text: str, *names: str, **more: Any) -> Any:
    """Return what typer is told of an option: its placeholder, its help, its names where the field's own won't do."""
    return typer.Option(*names, metavar=metavar or None, help=text, **more)


@dataclass(frozen=True, slots=True)
class Written:
    """Marks an option as what the command writes: a file, where ``endings`` are given with one of them, or a folder.

    ``words`` say what has those endings. It is looked at before any work.
    """

    words: str = ""
    endings: tuple[str, ...] = ()
    folder: bool = False

    def check(self, path: Path) -> None:
        """Refuse a path with another ending, or a folder that can't be written into."""
        from simcaddie.base.errors import BadRequest
        from simcaddie.base.writing import look_at_folder

        if self.endings and path.suffix.lower() not in self.endings:
            raise BadRequest(f"{path}: {self.words}, not as '{path.suffix}'")
        if self.folder:
            look_at_folder(path)


DATA: Final = Written()
FIGURE: Final = Written("a figure is written as .png, .svg or .pdf", (".png", ".svg", ".pdf"))
PAGE: Final = Written("a page is written as .html", (".html", ".htm"))

Paper = Annotated[str, option("a4|letter", "The paper to print on.")]


Record = TypeVar("Record", bound="Hole | Course | Player")


@dataclass(frozen=True, kw_only=True)
class Told:
    """The units that lengths are told in."""

    units: Annotated[str | None, option("yards|metres", "Tell lengths in these; as the file does by default.")] = None

    def in_units(self, record: Record) -> Record:
        """Return a record, a course with its holes, that is told in the units asked for."""
        if self.units is None:
            return record
        from simcaddie.course.course import Course

        known_units(self.units)
        if isinstance(record, Course):
            record = replace(record, holes=tuple(self.in_units(hole) for hole in record.holes))
        return replace(record, units=self.units)


@dataclass(frozen=True, kw_only=True)
class HoleOf(Told):
    """The hole that is asked about."""

    hole: Annotated[str, typer.Argument(metavar="HOLE", help="A hole file, or the name of a demo hole.")]

    def read_hole(self) -> Hole:
        """Return the hole."""
        from simcaddie.io.find import find_hole
        from simcaddie.io.hole import read_hole

        return self.in_units(read_hole(find_hole(self.hole)))


@dataclass(frozen=True, kw_only=True)
class CourseOf(Told):
    """The course that is asked about."""

    course: Annotated[str, typer.Argument(metavar="COURSE", help="A course file, or the name of a demo course.")]


@dataclass(frozen=True, kw_only=True)
class CourseOrHoleOf(CourseOf):
    """The course that is asked about; a single hole counts as a course of one."""

    course: Annotated[
        str, typer.Argument(metavar="COURSE", help="A course file, the name of a demo course, or a single hole.")
    ]

    def read_course(self) -> Course:
        """Return the course by its file or name."""
        from simcaddie.base.errors import BadRequest
        from simcaddie.course.course import Course
        from simcaddie.course.hole import Hole
        from simcaddie.io.check import check_file
        from simcaddie.io.course import read_course
        from simcaddie.io.find import demo_files, find_course, find_hole
        from simcaddie.io.hole import read_hole
        from simcaddie.io.write import slug

        name = self.course
        if Path(name).is_file():
            record = check_file(name)
        elif slug(name) in demo_files("holes") or "/" in name:
            record = read_hole(find_hole(name))
        else:
            record = read_course(find_course(name))
        if isinstance(record, Hole):
            record = Course(record.name, (record,), (name,), units=record.units)
        if isinstance(record, Course):
            return self.in_units(record)
        raise BadRequest(f"{name}: expected a course or a hole, found a {type(record).__name__.lower()} file")


@dataclass(frozen=True, kw_only=True)
class PlayerOf(Told):
    """The player who asks."""

    player: Annotated[str, typer.Argument(metavar="PLAYER", help="A player file, or the name of a demo player.")]

    def read_player(self) -> Player:
        """Return the player."""
        from simcaddie.io.find import find_player
        from simcaddie.io.player import read_player

        return self.in_units(read_player(find_player(self.player)))


@dataclass(frozen=True, kw_only=True)
class Tee:
    """The tee."""

    tee: Annotated[str | None, option("NAME", "The tee to play from; the file's first by default.")] = None


@dataclass(frozen=True, kw_only=True)
class Start(Tee):
    """Where on the hole the ball lies."""

    from_spot: Annotated[str | None, option("SPOT", "A named spot to play from instead of a tee.", "--from")] = None


@dataclass(frozen=True, kw_only=True)
class Place(Start):
    """Where on the hole the ball lies, and where the hole is cut."""

    pin: Annotated[
        str | None, option("NAME", "A pin by name, or 'any' for the average over all; middle by default.")
    ] = None


@dataclass(frozen=True, kw_only=True)
class RoundOf(Tee, PlayerOf, CourseOf):
    """The round that is asked about."""

    pin: Annotated[str | None, option("NAME", "The pin of every hole; middle by default.")] = None

    def read_course(self) -> Course:
        """Return the course, its card fit for a round from the tee."""
        from simcaddie.io.course import read_round_course
        from simcaddie.io.find import find_course

        return self.in_units(read_round_course(find_course(self.course), self.tee))


@dataclass(frozen=True, kw_only=True)
class DayOf:
    """The day, and whether answers are kept."""

    wind: Annotated[
        str | None,
        option("WIND", '"12 mph from 240" (compass), "12 mph into", "12 mph from the left"; or km/h, m/s, knots.'),
    ] = None
    gust: Annotated[
        str | None, option("SPEED", 'How hard it gusts, as "20 mph": the wind then differs from stroke to stroke.')
    ] = None
    temperature: Annotated[str | None, option("DEGREES", 'As "8 C" or "46 F"; 15 C by default.')] = None
    altitude: Annotated[str | None, option("HEIGHT", 'Of the course above the sea, as "150 m" or "500 ft".')] = None
    firmness: Annotated[str | None, option("soft|ordinary|firm", "Of the turf; or a number from 0 to 1.")] = None
    greens: Annotated[str | None, option("FEET", "Speed of the greens on the stimpmeter; 9 by default.")] = None
    day_file: Annotated[
        Path | None, option("FILE", "A file with a `day:` block; the options above change it.", "--day")
    ] = None
    fresh: Annotated[
        bool, option("", "Work everything out anew, whatever is kept from an earlier command.", "--fresh")
    ] = False

    @property
    def day(self) -> Day | None:
        """The day that the file and the words say; None where they say nothing."""
        words = {
            "wind": self.wind, "gust": self.gust, "temperature": self.temperature, "altitude": self.altitude,
            "firmness": self.firmness, "greens": self.greens,
        }  # fmt: skip
        if self.day_file is None and not any(words.values()):
            return None
        from simcaddie.io.day import day_of_words, read_day
        from simcaddie.weather.day import STANDARD

        return day_of_words(words, read_day(self.day_file)[1] if self.day_file is not None else STANDARD)


@dataclass(frozen=True, kw_only=True)
class Common:
    """What every command understands."""

    json: Annotated[str | None, option("FILE", "Write the same content as data; '-' prints it instead."), DATA] = None
    seed: Annotated[int, option("N", "Same seed, same numbers.", min=0)] = 1
    verbose: Annotated[bool, option("", "Say what is being done and how long it took.", "--verbose")] = False


@dataclass(frozen=True, kw_only=True)
class NoChance(Common):
    """What a command understands that draws nothing by chance."""

    seed: Annotated[int, option("N", "As everywhere; nothing is drawn by chance here.", min=0)] = 0


def columns_told(texts: Sequence[str] | None) -> dict[str, str]:
    """Return the headers by key that ``--column KEY=HEADER`` told.

    Raises
    ------
    BadRequest
        Where there is no header behind a key.
    """
    from simcaddie.base.errors import BadRequest

    columns = {}
    for text in texts or ():
        key, mark, header = text.partition("=")
        if not mark or not header.strip():
            raise BadRequest(f"--column: expected KEY=HEADER, as carry=\"Air [m]\", found '{text}'")
        columns[key.strip().lower()] = header
    return columns


def known_units(units: str | None) -> None:
    """Refuse what ``--units`` may not say; None stands for nothing said."""
    from simcaddie.base.errors import BadRequest
    from simcaddie.base.units import YARDS_PER

    if units is not None and units not in YARDS_PER:
        raise BadRequest(f"--units: expected {' or '.join(YARDS_PER)}, found '{units}'")


def hole_numbers(text: str | None) -> set[int] | None:
    """Return the numbers of a list like 1-9,12; None for no list."""
    if text is None:
        return None
    from simcaddie.base.errors import BadRequest

    numbers: set[int] = set()
    for part in text.split(","):
        found = re.fullmatch(r"\s*(\d{1,3})\s*(?:[-–]\s*(\d{1,3})\s*)?", part)
        low, high = (int(found[1]), int(found[2] or found[1])) if found else (1, 0)
        if low > high:
            raise BadRequest(f"--holes: expected numbers as 1-9 or 1,3,10-12, found '{part.strip()}'")
        numbers.update(range(low, min(high, _MOST_HOLES) + 1))
    return numbers


def read_days(text: str) -> Sequence[tuple[str, Day]]:
    """Return (name, day) of each file of "calm.yaml,winter.yaml"; a day without a name is called by its file.

    Raises
    ------
    BadRequest
        Fewer than two files.
    BadFile
        A file with a fault.
    """
    from simcaddie.base.errors import BadRequest
    from simcaddie.io.day import read_day

    paths = [Path(part.strip()) for part in text.split(",") if part.strip()]
    if len(paths) < 2:
        raise BadRequest(f"--days: expected two or more day files, as calm.yaml,winter.yaml, found '{text}'")
    read = [(path, *read_day(path)) for path in paths]
    return [(name or path.stem, day) for path, name, day in read]
