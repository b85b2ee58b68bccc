"""The course as a record: its holes in playing order, and what the card says of each tee."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from simcaddie.course.hole import Hole
from simcaddie.weather.day import Day

__all__ = ["Course", "CourseTee"]


@dataclass(frozen=True, slots=True)
class CourseTee:
    """What the card says of a tee: ``course_rating`` in strokes, ``slope`` from 55 to 155; None for not known."""

    par: int | None = None
    course_rating: float | None = None
    slope: int | None = None


@dataclass(frozen=True, slots=True)
class Course:
    """A course; ``files`` names the hole files as the course file does, in playing order, like ``holes``.

    ``tees`` is by name, as the holes name theirs. ``units`` is what the course file itself is written in,
    ``day`` the one that it says to plan for.
    """

    name: str
    holes: tuple[Hole, ...]
    files: tuple[str, ...]
    tees: Mapping[str, CourseTee] = field(default_factory=dict)
    source: str = ""
    units: str = "yards"
    day: Day | None = None

    @property
    def par(self) -> int:
        """The sum of the holes' pars."""
        return sum(hole.par for hole in self.holes)
