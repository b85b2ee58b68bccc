"""A course file for a round: read, and its card held against the Rules of Handicapping, faults with file and line."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from simcaddie.course.card import ROUNDS, index_faults
from simcaddie.course.record import Course
from simcaddie.errors import Fault
from simcaddie.files.course_file import read_course
from simcaddie.files.nodes import PathLike, load
from simcaddie.files.told import fault, raise_faults

__all__ = ["read_round_course"]


def read_round_course(path: PathLike, tee: str | None = None) -> Course:
    """Return the course of a course file, fit for a round from ``tee`` (the first that the file tells of by default).

    Raises
    ------
    BadFile
        With the faults of the files; else where the course has not 9 or 18 holes, stroke indexes are missing or
        doubled, or the course rating can't be one of so many holes.

    """
    course = read_course(path)
    faults = [*_course_faults(path, course, tee), *_index_faults(path, course)]
    raise_faults(faults)
    return course


def _course_faults(path: PathLike, course: Course, tee: str | None) -> Iterator[Fault]:
    document, number = load(path), len(course.holes)
    if number not in ROUNDS:
        yield fault(document, ("holes",), "9 or 18 holes for a round", str(number))
    name = tee if tee is not None else next(iter(course.tees), None)
    card = course.tees.get(name) if name is not None else None
    if name is None or card is None or card.course_rating is None:
        return
    par = card.par or course.par
    if not 0.75 * par <= card.course_rating <= 1.25 * par:
        told = f"the course rating of these {number} holes, par {par}"
        yield fault(document, ("tees", name, "course_rating"), told, f"{card.course_rating:g}")


def _index_faults(path: PathLike, course: Course) -> Iterator[Fault]:
    folder = Path(os.fsdecode(path)).parent
    for hole, expected, found in index_faults([one.stroke_index for one in course.holes]):
        yield fault(load(folder / course.files[hole]), ("stroke_index",), expected, found)
