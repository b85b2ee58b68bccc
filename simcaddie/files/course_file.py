"""A course file, and the hole files that it names, to a course record; and the text of one."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from simcaddie.course.record import Course, CourseTee
from simcaddie.errors import BadFile, Fault
from simcaddie.files.course_model import CourseFile
from simcaddie.files.day_file import day_faults, day_of
from simcaddie.files.hole_file import read_hole
from simcaddie.files.nodes import Document, PathLike, load
from simcaddie.files.told import fault, listed, raise_faults, validated
from simcaddie.files.yaml_text import comment, flow, word
from simcaddie.ground.hole import Hole

__all__ = ["course_of", "course_text", "read_course"]


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
    if not isinstance(document.data, dict):
        raise_faults([fault(document, (), "a course: lines of `key: value`")])
    model, faults = validated(document, CourseFile)
    if model is None:
        raise_faults(faults)
        raise TypeError("a model that fails has faults")  # unreachable
    holes = [_hole(document, folder, number, name, faults) for number, name in enumerate(model.holes)]
    known = [hole for hole in holes if hole is not None]
    if len(known) == len(holes):
        faults += _tee_faults(document, model, known)
    faults += day_faults(document, model.day)
    _raise_all(document, faults)
    tees = {name: CourseTee(tee.par, tee.course_rating, tee.slope) for name, tee in model.tees.items()}
    day = day_of(model.day) if model.day else None
    return Course(model.name, tuple(known), tuple(model.holes), tees, model.source or "", model.units, day)


def _hole(document: Document, folder: Path, number: int, name: str, faults: list[Fault]) -> Hole | None:
    """Return a hole of the course, or note its faults, those of its file under that file's name."""
    place = ("holes", number)
    if name in document.data["holes"][:number]:
        faults.append(fault(document, place, "each hole file once", f"'{name}' again"))
        return None
    path = folder / name
    if not path.is_file():
        faults.append(fault(document, place, "a hole file in the folder of the course file", f"none at '{name}'"))
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
    head: Sequence[str] = (),
    remarks: Mapping[str, str] | None = None,
) -> str:
    """Return the text of a course file; ``head`` and ``remarks`` (by key) are comments."""
    notes = remarks or {}
    lines = [comment(text) for text in head]
    lines += ["format: 1\n", f"name: {word(name)}\n", f"units: {units}\n", comment(notes.get("holes", "")), "holes:\n"]
    lines += [f"  - {word(file)}\n" for file in files]
    if tees:
        lines += [comment(notes.get("tees", "")), "tees:\n"]
        for title, tee in tees.items():
            known = {"par": tee.par, "course_rating": tee.course_rating, "slope": tee.slope}
            lines.append(f"  {word(title)}: {flow({k: v for k, v in known.items() if v is not None})}\n")
    if source:
        lines.append(comment(notes.get("source", "")) + f"source: {word(source)}\n")
    return "".join(lines)
