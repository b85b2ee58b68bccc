"""``simcaddie lesson``: one page for a pupil."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, cast

from simcaddie.base.limits import MOST_SEQUENCES
from simcaddie.console.command import Answer, command, working
from simcaddie.console.options import FIGURE, Common, DayOf, HoleOf, Paper, Place, PlayerOf, option

if TYPE_CHECKING:
    from simcaddie.decision.position import Then

__all__ = ["lesson"]


@dataclass(frozen=True, kw_only=True)
class Two:
    """The two choices."""

    two: Annotated[tuple[str, str], option("A B", 'The two clubs or swings, as "driver" "5 wood".', "--options")]


@dataclass(frozen=True, kw_only=True)
class Options(Common, DayOf, Place, Two, PlayerOf, HoleOf):
    """What may be asked of a lesson."""

    strokes: Annotated[
        int | None,
        option("N", "Handicap strokes on this hole; from index and stroke index by default.", min=-9, max=9),
    ] = None
    played: Annotated[int | None, option("N", "Strokes already played when asking from a spot.", min=0)] = None
    sequences: Annotated[
        int, option("N", "How often each of the two is played out, as an audit.", min=100, max=MOST_SEQUENCES)
    ] = 4_000
    then: Annotated[str, option("best|sound|usual", "How the strokes that follow are played.")] = "best"
    paper: Paper = "a4"
    output: Annotated[Path, option("FILE", "Where to draw it: .pdf, .png or .svg.", "--output", "-o"), FIGURE] = Path(
        "lesson.pdf"
    )


@command(Options)
def lesson(options: Options) -> Answer:
    """Draw a lesson about two clubs: one page for a pupil.

    The same twenty balls on two maps, where balls finish of ten, why one club costs more, in parts that add up, how
    the hole ends of a hundred plays, the number that would change the answer, and homework for the range.
    """
    from simcaddie.charts.text import paper_size
    from simcaddie.decision.request import Request
    from simcaddie.features.lesson.analysis import lesson as make_lesson
    from simcaddie.features.lesson.figure import draw_lesson
    from simcaddie.features.lesson.present import lesson_data, present

    paper_size(options.paper)
    request = Request(
        tee=options.tee,
        spot=options.from_spot,
        pin=options.pin,
        strokes=options.strokes,
        played=options.played,
        sequences=options.sequences,
        then=cast("Then", options.then),
        seed=options.seed,
        robust=False,
        day=options.day,
    )
    with working("Playing both choices"):
        answer = make_lesson(options.read_hole(), options.read_player(), options.two, request)
    return Answer(
        data=lambda: lesson_data(answer),
        document=lambda: present(answer),
        figures=[(options.output, lambda: draw_lesson(answer, options.output, options.paper))],
        caution=True,
    )
