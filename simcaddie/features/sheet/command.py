"""``simcaddie sheet``: a course's strategy sheet, for the pocket or the desk."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from simcaddie.console.command import Answer, command, working
from simcaddie.console.options import Common, CourseOrHoleOf, DayOf, Paper, PlayerOf, Tee, Written, hole_numbers, option

__all__ = ["sheet"]


@dataclass(frozen=True, kw_only=True)
class Pages:
    """What the sheet is printed on."""

    form: Annotated[str, option("pocket|desk", "Pages of 4¼ × 7 inches, one hole each, or two holes a page.")] = (
        "pocket"
    )
    paper: Paper = "a4"


@dataclass(frozen=True, kw_only=True)
class Options(Common, DayOf, Tee, Pages, PlayerOf, CourseOrHoleOf):
    """What may be asked of a sheet."""

    gross: Annotated[bool, option("", "No handicap strokes: par, not net par.", "--gross")] = False
    holes: Annotated[str | None, option("LIST", "Only these holes, as 1-9 or 1,3,10-12.")] = None
    output: Annotated[
        Path,
        option("FILE", "Where to draw it: .pdf, or .png to look at.", "--output", "-o"),
        Written("a sheet is written as .pdf, or as .png to look at", (".pdf", ".png")),
    ] = Path("sheet.pdf")


@command(Options)
def sheet(options: Options) -> Answer:
    """Draw a course's strategy sheet: every hole in at most three decisions.

    For each hole the tee club and its target, what to carry and not to reach, the way out of trouble, the approach
    and the side to miss on, net par, and what wind or pin would flip. Worked out and printed before the round: all
    figures are averages over the pins. The cover has the card of carries. --paper is that of the desk form.
    """
    from simcaddie.charts.text import paper_size
    from simcaddie.features.sheet.analysis import sheet as make_sheet
    from simcaddie.features.sheet.figure import draw_sheet, known_form
    from simcaddie.features.sheet.present import sheet_data, strokes_told

    known_form(options.form)
    paper_size(options.paper)
    day, course, player, chosen = options.day, options.read_course(), options.read_player(), hole_numbers(options.holes)
    numbers = None if chosen is None else sorted(chosen)
    steps = len(course.holes if numbers is None else numbers)
    with working("Planning the holes", steps) as done:
        answer = make_sheet(
            course, player, tee=options.tee, holes=numbers, seed=options.seed, day=day, gross=options.gross, done=done
        )
    with working("Drawing the pages", steps) as done:
        pages = draw_sheet(answer, options.output, options.form, options.paper, done=done)
    return Answer(
        data=lambda: sheet_data(answer),
        document=lambda: (),
        notes=[f"Drawn: {options.output}, {pages} page{'' if pages == 1 else 's'}", *strokes_told(answer)],
    )
