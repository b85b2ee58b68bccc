"""What is sent to another process: files as texts, from which it builds the records, each once.

A hole goes with what the course's card says instead of its file; a day as its numbers.
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace
from functools import lru_cache
from pathlib import Path
from typing import Any

from simcaddie.course.course import Course, CourseTee
from simcaddie.course.hole import Hole
from simcaddie.io.find import find_any
from simcaddie.io.hole import hole_of
from simcaddie.io.player import player_of
from simcaddie.io.yaml_reader import parse, read_text
from simcaddie.player.swing import Player
from simcaddie.weather.day import STANDARD, Day

__all__ = ["SentHole", "course_from", "course_sent", "day_from", "day_sent", "hole_from", "holes_sent", "player_from"]

SentHole = Sequence[Any]  # the file's text; name, par and stroke index by the card


def holes_sent(course: Course, name: str) -> list[SentHole]:
    """Return every hole of a course that was read by ``name``, to be sent.

    Raises
    ------
    BadFile
        Where a file can't be read any more.
    """
    path = Path(os.fsdecode(find_any(name)))
    files = [path] if course.files == (name,) else [path.parent / file for file in course.files]
    return [
        [read_text(file), hole.name, hole.par, hole.stroke_index]
        for file, hole in zip(files, course.holes, strict=True)
    ]


@lru_cache(maxsize=64)
def _hole(text: str) -> Hole:
    return hole_of(parse(text, "a hole file"))


def hole_from(sent: SentHole) -> Hole:
    """Return a hole that was sent; its file is read once."""
    text, name, par, index = sent
    return replace(_hole(text), name=name, par=par, stroke_index=index)


@lru_cache(maxsize=64)
def player_from(text: str) -> Player:
    """Return the player of a file's text, read once."""
    return player_of(parse(text, "a player file"))


def day_sent(day: Day | None) -> dict[str, Any]:
    """Return a day, a standard one for None, to be sent."""
    return asdict(day or STANDARD)


def day_from(sent: Mapping[str, Any]) -> Day:
    """Return a day that was sent."""
    return Day(**sent)


def course_sent(course: Course, name: str) -> dict[str, Any]:
    """Return a whole course that was read by ``name``, to be sent."""
    return {
        "name": course.name,
        "units": course.units,
        "files": list(course.files),
        "tees": {tee: [card.par, card.course_rating, card.slope] for tee, card in course.tees.items()},
        "holes": holes_sent(course, name),
    }


def course_from(sent: Mapping[str, Any]) -> Course:
    """Return a course that was sent, without a day of its own."""
    return Course(
        sent["name"],
        tuple(hole_from(hole) for hole in sent["holes"]),
        tuple(sent["files"]),
        {tee: CourseTee(*card) for tee, card in sent["tees"].items()},
        units=sent["units"],
    )
