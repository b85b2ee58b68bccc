"""``simcaddie sheet``: a course's strategy sheet, for the pocket or the desk."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from simcaddie.cli.day_options import with_day
from simcaddie.cli.shared import (
    Json,
    Paper,
    PlayerArg,
    Seed,
    Tee,
    Verbose,
    compiling,
    hole_numbers,
    note,
    took,
)

if TYPE_CHECKING:
    from simcaddie.air.day import Day
    from simcaddie.course.record import Course

__all__ = ["sheet"]


@with_day
def sheet(
    course: Annotated[
        str, typer.Argument(metavar="COURSE", help="A course file, the name of a demo course, or a single hole.")
    ],
    player: PlayerArg,
    form: Annotated[
        str, typer.Option(metavar="pocket|desk", help="Pages of 4¼ × 7 inches, one hole each, or two holes a page.")
    ] = "pocket",
    paper: Paper = "a4",
    tee: Tee = None,
    holes: Annotated[str | None, typer.Option(metavar="LIST", help="Only these holes, as 1-9 or 1,3,10-12.")] = None,
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="FILE", help="Where to draw it: .pdf, or .png to look at.")
    ] = Path("sheet.pdf"),
    json: Json = None,
    seed: Seed = 1,
    verbose: Verbose = False,
    day: Day | None = None,
) -> int:
    """Draw a course's strategy sheet: every hole in at most three decisions.

    For each hole the tee club and its target, what to carry and not to reach, the way out of trouble, the approach
    and the side to miss on, net par, and what wind or pin would flip. Worked out and printed before the round: all
    figures are averages over the pins. The cover has the card of carries. --paper is that of the desk form.
    """
    from simcaddie.cli.progress import progress
    from simcaddie.files import find_player, read_player, write_json
    from simcaddie.report.sheet import draw_sheet, known_form, known_sheet
    from simcaddie.report.writing import paper_size
    from simcaddie.strategy.sheet import sheet as make_sheet

    started = time.perf_counter()
    known_form(form)
    paper_size(paper)
    known_sheet(output)
    ground, golfer, chosen = _course(course), read_player(find_player(player)), hole_numbers(holes)
    numbers = None if chosen is None else sorted(chosen)
    steps = len(numbers if numbers is not None else ground.holes)
    with compiling(), progress("Planning the holes", steps) as done:
        answer = make_sheet(ground, golfer, tee=tee, holes=numbers, seed=seed, day=day, done=done)
    with progress("Drawing the pages", steps) as done:
        pages = draw_sheet(answer, output, form, paper, done=done)
    if json is not None:
        from simcaddie.files.sheet_answer import sheet_data

        write_json(sheet_data(answer), json)
    note(f"Drawn: {output}, {pages} page{'' if pages == 1 else 's'}")
    took(started, verbose)
    return 0


def _course(name: str) -> Course:
    """Return a course by its file or name; a single hole counts as a course of one."""
    from simcaddie.course.record import Course
    from simcaddie.errors import BadRequest
    from simcaddie.files import check_file, demo_files, find_course, find_hole, read_course, read_hole, slug
    from simcaddie.ground.hole import Hole

    if Path(name).is_file():
        record = check_file(name)
    elif slug(name) in demo_files("holes"):
        record = read_hole(find_hole(name))
    else:
        record = read_course(find_course(name))
    if isinstance(record, Hole):
        return Course(record.name, (record,), (name,), units=record.units)
    if isinstance(record, Course):
        return record
    raise BadRequest(f"{name}: expected a course or a hole, found a {type(record).__name__.lower()} file")
