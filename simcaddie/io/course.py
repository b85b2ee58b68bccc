"""Course files: their keys, what they name as a record, whether a card is fit for a round, and the text of one."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Any, Final

from pydantic import BeforeValidator, Field

from simcaddie.base.errors import BadFile, Fault
from simcaddie.base.writing import reason
from simcaddie.course.card import ROUNDS, index_faults
from simcaddie.course.course import Course, CourseTee
from simcaddie.course.hole import Hole
from simcaddie.io.day import DayBlock, day_faults, day_of
from simcaddie.io.faults import fault, listed, raise_faults, validated
from simcaddie.io.fields import Format, Name, Part, Source, Units, Within, told, unlike
from simcaddie.io.hole import read_hole
from simcaddie.io.yaml_reader import Document, PathLike, load
from simcaddie.io.yaml_writer import comment, flow, word

__all__ = ["MOST_HOLES", "CourseFile", "CourseTeeFile", "course_of", "course_text", "read_course", "read_round_course"]

MOST_HOLES: Final = 36


def _file_name(value: Any) -> Any:
    if isinstance(value, str) and value.strip() and value.isprintable() and len(value) <= 200:
        return value
    raise unlike("the name of a hole file", value)


class CourseTeeFile(Part):
    """What the card says of one tee."""

    par: Annotated[int, Field(ge=3, le=6 * MOST_HOLES), told("a whole number, the par of all holes")] | None = None
    course_rating: Annotated[float, Within(above=0, high=200)] | None = Field(
        None, description="strokes a scratch player takes, from the card"
    )
    slope: Annotated[int, Field(ge=55, le=155), told("a whole number from 55 to 155")] | None = Field(
        None, description="slope rating, from the card; 113 is the standard"
    )


class CardLine(Part):
    """What the card says of one hole; what is left empty is as the hole file has it."""

    name: Name | None = None
    par: Annotated[int, Field(ge=3, le=6), told("a whole number from 3 to 6")] | None = None
    stroke_index: Annotated[int, Field(ge=1, le=18), told("a whole number from 1 to 18")] | None = None


class CourseFile(Part):
    """A golf course: its hole files in playing order."""

    format: Format = Field(1, description="of the file")
    name: Name
    units: Units = Field("yards", description="of all lengths in this file")
    holes: Annotated[list[Annotated[str, BeforeValidator(_file_name)]], Field(min_length=1, max_length=MOST_HOLES)] = (
        Field(description="hole files in playing order, as seen from this file's folder")
    )
    card: Annotated[list[CardLine], Field(max_length=MOST_HOLES)] = Field(
        [], description="name, par and stroke index of each hole, in playing order: these go before the hole files'"
    )
    tees: dict[Name, CourseTeeFile] = Field({}, description="by name, as the hole files name them")
    day: DayBlock | None = Field(None, description="wind, air and ground to plan for")
    source: Source | None = Field(None, description="where the drawing comes from")


def read_course(path: PathLike) -> Course:
    """Return the course of a course file, its holes read.

    Raises
    ------
    BadFile
        With every fault of the file and of the hole files that it names, each with its line.

    """
    return course_of(load(path), Path(os.fsdecode(path)).parent)


def course_of(document: Document, folder: Path) -> Course:
    """Return the course that a document describes, its hole files seen from ``folder``; see ``read_course``."""
    model, faults = validated(document, CourseFile, "a course: lines of `key: value`")
    if model is None:
        raise_faults(faults)
        raise TypeError("a model that fails has faults")  # unreachable
    holes = [_hole(document, folder, number, name, faults) for number, name in enumerate(model.holes)]
    if model.card and len(model.card) != len(holes):
        faults.append(fault(document, ("card",), f"a line for each of the {len(holes)} holes", str(len(model.card))))
    known = _by_the_card(model, [hole for hole in holes if hole is not None])
    if len(known) == len(holes):
        faults += _tee_faults(document, model, known)
    faults += day_faults(document, model.day)
    _raise_all(document, faults)
    tees = {name: CourseTee(tee.par, tee.course_rating, tee.slope) for name, tee in model.tees.items()}
    day = day_of(model.day) if model.day else None
    return Course(model.name, tuple(known), tuple(model.holes), tees, model.source or "", model.units, day)


def _by_the_card(model: CourseFile, holes: list[Hole]) -> list[Hole]:
    """Return the holes with what the card says of each, where there is one for each."""
    if len(model.card) != len(holes):
        return holes
    return [
        replace(hole, **{key: value for key, value in line if value is not None})
        for hole, line in zip(holes, model.card, strict=True)
    ]


def _hole(document: Document, folder: Path, number: int, name: str, faults: list[Fault]) -> Hole | None:
    """Return a hole of the course, or note its faults, those of its file under that file's name."""
    place = ("holes", number)
    if name in document.data["holes"][:number]:
        faults.append(fault(document, place, "each hole file once", f"'{name}' again"))
        return None
    path = folder / name
    if Path(os.path.realpath(folder)) not in Path(os.path.realpath(path)).parents:
        faults.append(fault(document, place, "a hole file in or below the folder of the course file", f"'{name}'"))
        return None
    try:
        there, why = path.is_file(), f"none at '{name}'"
    except OSError as error:
        there, why = False, reason(error)
    if not there:
        faults.append(fault(document, place, "a hole file in the folder of the course file", why))
        return None
    try:
        return read_hole(path)
    except BadFile as error:
        faults.extend(error.faults)
        return None


def _tee_faults(document: Document, model: CourseFile, holes: Sequence[Hole]) -> list[Fault]:
    faults = []
    for name in model.tees:
        without = [file for file, hole in zip(model.holes, holes, strict=True) if name not in hole.tees]
        if without:
            some = listed(without[:3]).replace(" or ", " and ") + (" and more" if len(without) > 3 else "")
            faults.append(fault(document, ("tees", name), "a tee that every hole has", f"none such in {some}"))
    return faults


def _raise_all(document: Document, faults: list[Fault]) -> None:
    """Raise the faults of all files; those of this one counted like any file's."""
    elsewhere = [one for one in faults if one.file != document.file]
    if elsewhere:
        raise BadFile(faults)
    raise_faults(faults)


def course_text(
    name: str,
    files: Sequence[str],
    tees: Mapping[str, CourseTee],
    *,
    source: str = "",
    units: str = "yards",
    card: Sequence[Hole] = (),
    head: Sequence[str] = (),
    remarks: Mapping[str, str] | None = None,
) -> str:
    """Return the text of a course file; ``card`` has the holes of its table, ``head`` and ``remarks`` are comments."""
    notes = remarks or {}
    lines = [comment(text) for text in head]
    lines += ["format: 1\n", f"name: {word(name)}\n", f"units: {units}\n", comment(notes.get("holes", "")), "holes:\n"]
    lines += [f"  - {word(file)}\n" for file in files]
    if card:
        lines += [comment(notes.get("card", "")), "card:\n"]
        lines += [f"  - {{{_card_keys(hole)}}}  # {number}\n" for number, hole in enumerate(card, start=1)]
    if tees:
        lines += [comment(notes.get("tees", "")), "tees:\n"]
        for title, tee in tees.items():
            known = {"par": tee.par, "course_rating": tee.course_rating, "slope": tee.slope}
            lines.append(f"  {word(title)}: {flow({k: v for k, v in known.items() if v is not None})}\n")
    if source:
        lines.append(comment(notes.get("source", "")) + f"source: {word(source)}\n")
    return "".join(lines)


def _card_keys(hole: Hole) -> str:
    """Return what is known of a hole's line on the card; an index that isn't is left to be filled in."""
    return f"name: {word(hole.name)}, par: {hole.par}, stroke_index: {hole.stroke_index or ''}"


# ─── For a round: the card held against the Rules of Handicapping ───────────────────────────────────────────────────


def read_round_course(path: PathLike, tee: str | None = None) -> Course:
    """Return the course of a course file, fit for a round from ``tee`` (the first that the file tells of by default).

    Raises
    ------
    BadFile
        With the faults of the files; else where the course has not 9 or 18 holes, two have the same stroke index, or
        the course rating can't be one of so many holes.

    """
    course = read_course(path)
    raise_faults([*_course_faults(path, course, tee), *_index_faults(path, course)])
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
    folder, document = Path(os.fsdecode(path)).parent, load(path)
    card = document.data.get("card") or ()
    for hole, expected, found in index_faults([one.stroke_index for one in course.holes]):
        if card and card[hole].get("stroke_index") is not None:
            yield fault(document, ("card", hole, "stroke_index"), expected, found)
        else:
            yield fault(load(folder / course.files[hole]), ("stroke_index",), expected, found)
