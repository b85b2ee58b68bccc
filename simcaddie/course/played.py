"""A hole as it was played: where balls finished, as a golfer tells it, and what charts show of it."""

from __future__ import annotations

from dataclasses import dataclass

from simcaddie.base.surfaces import BY_NAME
from simcaddie.course.hole import Hole, Point

__all__ = ["Finish", "HolePlayed", "Step", "StrokeMark"]


@dataclass(frozen=True, slots=True)
class StrokeMark:
    """A stroke on a map: its number, its club, where it was played from and came to, and what it cost in all.

    ``relief`` is where the ball was played from next, where that is elsewhere.
    """

    number: int
    title: str
    start: Point
    end: Point
    cost: float
    relief: Point | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """A row of a waterfall: its name, and strokes; a ``whole`` row shows a total, others what they add to it."""

    name: str
    strokes: float
    whole: bool = False
    shown: str = ""


@dataclass(frozen=True, slots=True)
class HolePlayed:
    """All that a hole's page shows: ``rows`` are the strokes in words, each with its costs; ``said`` stands below."""

    hole: Hole
    note: str
    marks: tuple[StrokeMark, ...]
    steps: tuple[Step, ...]
    rows: tuple[tuple[str, str], ...]
    said: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Finish:
    """Where a ball finished: yards; ``kind`` a surface kind, "lost", "unplayable", "holed" or nothing.

    ``side`` is "left" or "right" of the line of play, ``area`` an area's title, ``to_pin`` what was left; ``at`` the
    place where that was told.
    """

    kind: str = ""
    side: str = ""
    area: str = ""
    to_pin: float | None = None
    at: Point | None = None

    @property
    def gone(self) -> bool:
        """Whether the ball isn't played from where it finished."""
        return self.kind in ("lost", "unplayable") or (self.kind in BY_NAME and not BY_NAME[self.kind].in_play)
