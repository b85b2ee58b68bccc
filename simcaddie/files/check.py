"""Checking a file of any format: its keys tell what it is meant to be."""

from __future__ import annotations

import os
from pathlib import Path

from simcaddie.air.day import Day
from simcaddie.course.record import Course
from simcaddie.files.course_file import course_of
from simcaddie.files.day_file import read_day
from simcaddie.files.hole_file import hole_of
from simcaddie.files.nodes import PathLike, load
from simcaddie.files.player_file import player_of
from simcaddie.files.told import fault, near, raise_faults
from simcaddie.golfer.player import Player
from simcaddie.ground.hole import Hole

__all__ = ["check_file"]

_HOLE = ("par", "areas", "tees", "pins", "surround", "boundary", "spots", "landmarks", "stroke_index")
_COURSE = ("holes", "course_rating", "slope", "tees", "par")
_PLAYER = ("bag", "handicap_index", "putting", "touch", "lies", "range_to_course")


def check_file(path: PathLike) -> Hole | Player | Course | Day:
    """Return the record of a file, a hole, a player, a course or a day, told apart by its keys.

    Raises
    ------
    BadFile
        With every fault of the file, or where it is none of them.

    """
    document = load(path)
    keys = list(document.data) if isinstance(document.data, dict) else []
    meant = [near(key, (*_HOLE, *_PLAYER, *_COURSE)) for key in keys]
    holes, players, courses = (sum(key in names for key in meant) for names in (_HOLE, _PLAYER, _COURSE))
    if "day" in keys and not holes + players + courses:
        return read_day(path)[1]
    if "holes" in meant and courses >= max(holes, players):
        return course_of(document, Path(os.fsdecode(path)).parent)
    if holes == players:
        expected = "a hole (`par`, `areas` …), a player (`bag` …), a course (`holes` …) or a day (`day`)"
        raise_faults([fault(document, (), expected)])
    return hole_of(document) if holes > players else player_of(document)
