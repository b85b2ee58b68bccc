"""``simcaddie review``: rounds that were played, looked back on."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from simcaddie.console.command import Answer, command, working
from simcaddie.console.options import FIGURE, Common, CourseOrHoleOf, DayOf, PlayerOf, Tee, option

__all__ = ["review"]


@dataclass(frozen=True, kw_only=True)
class Rounds:
    """The rounds."""

    rounds: Annotated[
        list[Path], typer.Argument(metavar="ROUND", help="Rounds as .csv, the oldest first: a row a stroke.")
    ]


@dataclass(frozen=True, kw_only=True)
class Options(Common, DayOf, Tee, Rounds, PlayerOf, CourseOrHoleOf):
    """What may be asked of rounds."""

    pin: Annotated[str | None, option("NAME", "The pin of every hole; middle by default.")] = None
    against: Annotated[str | None, option("PLAYER", "Tell strokes gained against this golfer as well.")] = None
    details: Annotated[bool, option("", "Show every stroke, with strokes to go before and after it.", "--details")] = (
        False
    )
    figure: Annotated[
        Path | None, option("FILE", "Draw the waterfall and every hole (.pdf of pages, .png)."), FIGURE
    ] = None


@command(Options)
def review(options: Options) -> Answer:
    """Look back on rounds: what choice, execution and luck cost.

    A round is a .csv with a row a stroke: hole, club, where it finished ("fairway 152", "right rough 140", "bunker",
    "green 24 ft", "holed", "2 putts") and, where it wasn't the plan's, the aim. Strokes to go before and after each
    stroke are split exactly into choice (against best play), execution (how good the strike was among the player's own)
    and luck (what the ground did with it). Of several rounds it says what repeats and what is noise.
    """
    from simcaddie.decision.walk import Walk
    from simcaddie.features.review.analysis import review as look_back
    from simcaddie.features.review.present import present, review_data
    from simcaddie.io.find import find_player
    from simcaddie.io.player import read_player
    from simcaddie.io.round import read_round

    course, player = options.read_course(), options.read_player()
    golfer = read_player(find_player(options.against)) if options.against is not None else None
    rounds = [(str(path), read_round(path, len(course.holes))) for path in options.rounds]
    asked = (options.tee, options.pin, options.day, options.seed)
    walk = Walk(course, player, *asked)
    against = None if golfer is None else Walk(course, golfer, *asked)
    with working("Looking back", sum(len({row.hole for row in rows}) for _, rows in rounds)) as done:
        answer = look_back(walk, rounds, against, done)
    figures = []
    if (path := options.figure) is not None:
        from simcaddie.features.review.figure import draw_review

        figures.append((path, lambda: draw_review(answer, path)))
    return Answer(
        data=lambda: review_data(answer),
        document=lambda: present(answer, details=options.details),
        figures=figures,
    )
