"""``simcaddie practice``: what pays, and a session in proportion to it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Final

from simcaddie.base.errors import BadRequest
from simcaddie.base.limits import MOST_SEQUENCES_OF_PRACTICE
from simcaddie.console.command import Answer, command, working
from simcaddie.console.options import FIGURE, Common, DayOf, RoundOf, option

__all__ = ["practice"]

BALLS: Final = 60


@dataclass(frozen=True, kw_only=True)
class Options(Common, DayOf, RoundOf):
    """What may be asked of practice."""

    balls: Annotated[int | None, option("N", f"Balls of the session; {BALLS} by default.", min=4, max=300)] = None
    minutes: Annotated[int | None, option("N", "Length of the session instead: a minute a ball.", min=4, max=300)] = (
        None
    )
    sequences: Annotated[
        int, option("N", "How often each hole is played for every change.", min=1000, max=MOST_SEQUENCES_OF_PRACTICE)
    ] = 10_000
    figure: Annotated[Path | None, option("FILE", "Draw what pays as bars (.png, .svg or .pdf)."), FIGURE] = None
    details: Annotated[bool, option("", "Show the standard error of every number.", "--details")] = False


@command(Options)
def practice(options: Options) -> Answer:
    """Tell what practice pays: strokes a round saved, and a session in proportion.

    The round is replayed with one thing better at a time: each swing, touch and putting brought up to a golfer five
    strokes better; 10 % less spread; half the mishits; no side bias. Then a session of balls in random order, never the
    same club twice running, each with a target of its own and room to note how it finished.
    """
    from simcaddie.decision.practice import what_pays
    from simcaddie.features.practice.present import practice_data, present
    from simcaddie.features.practice.session import MINUTES_A_BALL, session

    if options.balls is not None and options.minutes is not None:
        raise BadRequest("give the session's balls or its minutes, not both")
    balls = round(options.minutes / MINUTES_A_BALL) if options.minutes is not None else options.balls or BALLS
    day, course, player = options.day, options.read_course(), options.read_player()
    with working("Replaying the holes", len(course.holes)) as done:
        answer = what_pays(
            course,
            player,
            tee=options.tee,
            pin=options.pin,
            sequences=options.sequences,
            seed=options.seed,
            day=day,
            done=done,
        )
    plan = session(answer, balls, options.seed)
    figures = []
    if (figure := options.figure) is not None:
        from simcaddie.charts.style import save_figure
        from simcaddie.features.practice.figure import practice_figure

        figures.append((figure, lambda: save_figure(practice_figure(answer), figure)))
    return Answer(
        data=lambda: practice_data(answer, plan),
        document=lambda: present(answer, plan, details=options.details),
        figures=figures,
        caution=True,
    )
