"""Checking a file of any format: its keys tell what it is meant to be."""

from __future__ import annotations

import os
from pathlib import Path

from simcaddie.course.course import Course
from simcaddie.course.hole import Hole
from simcaddie.io.course import course_of
from simcaddie.io.day import read_day
from simcaddie.io.faults import fault, near, raise_faults
from simcaddie.io.hole import hole_of
from simcaddie.io.player import player_of
from simcaddie.io.yaml_reader import PathLike, load
from simcaddie.player.swing import Player
from simcaddie.weather.day import Day

__all__ = ["check_file", "has_units"]

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


def has_units(path: PathLike) -> bool:
    """Tell whether a file says in which units its lengths are."""
    data = load(path).data
    return isinstance(data, dict) and "units" in data
