"""``simcaddie lesson``: one page for a pupil."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, cast

import typer

from simcaddie.cli.day_options import with_day
from simcaddie.cli.shared import (
    CAUTION,
    FromSpot,
    HoleArg,
    Json,
    Paper,
    Pin,
    PlayerArg,
    Seed,
    Tee,
    Verbose,
    compiling,
    console,
    note,
    took,
)

if TYPE_CHECKING:
    from simcaddie.air.day import Day
    from simcaddie.strategy.scene import Then

__all__ = ["lesson"]


@with_day
def lesson(
    hole: HoleArg,
    player: PlayerArg,
    options: Annotated[
        tuple[str, str], typer.Option(metavar="A B", help='The two clubs or swings, as "driver" "5 wood".')
    ],
    tee: Tee = None,
    from_spot: FromSpot = None,
    pin: Pin = None,
    strokes: Annotated[
        int | None,
        typer.Option(
            min=-9, max=9, metavar="N", help="Handicap strokes on this hole; from index and stroke index by default."
        ),
    ] = None,
    played: Annotated[
        int | None, typer.Option(min=0, metavar="N", help="Strokes already played when asking from a spot.")
    ] = None,
    sequences: Annotated[
        int, typer.Option(min=100, metavar="N", help="How often each of the two is played out, as an audit.")
    ] = 4_000,
    then: Annotated[
        str, typer.Option(metavar="best|sound|usual", help="How the strokes that follow are played.")
    ] = "best",
    paper: Paper = "a4",
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="FILE", help="Where to draw it: .pdf, .png or .svg.")
    ] = Path("lesson.pdf"),
    json: Json = None,
    seed: Seed = 1,
    verbose: Verbose = False,
    day: Day | None = None,
) -> int:
    """Draw a lesson about two clubs: one page for a pupil.

    The same twenty balls on two maps, where balls finish of ten, why one club costs more, in parts that add up, how
    the hole ends of a hundred plays, the number that would change the answer, and homework for the range.
    """
    from simcaddie.cli.progress import progress
    from simcaddie.files import find_hole, find_player, read_hole, read_player, write_json
    from simcaddie.report.style import known_kind
    from simcaddie.report.writing import paper_size
    from simcaddie.strategy import Request
    from simcaddie.strategy.lesson import lesson as make_lesson
    from simcaddie.strategy.lesson_words import because

    started = time.perf_counter()
    known_kind(output)
    paper_size(paper)
    request = Request(
        tee=tee,
        spot=from_spot,
        pin=pin,
        strokes=strokes,
        played=played,
        sequences=sequences,
        then=cast("Then", then),
        seed=seed,
        robust=False,
        day=day,
    )
    with compiling(), progress("Playing both choices"):
        answer = make_lesson(read_hole(find_hole(hole)), read_player(find_player(player)), options, request)
    from simcaddie.report.lesson import draw_lesson

    draw_lesson(answer, output, paper)
    if json is not None:
        from simcaddie.files.lesson_answer import lesson_data

        write_json(lesson_data(answer), json)
    if json != "-":
        out = console()
        out.print(because(answer), markup=False)
        out.print(f"\n[dim]{CAUTION}[/dim]")
    note(f"Drawn: {output}")
    took(started, verbose)
    return 0
