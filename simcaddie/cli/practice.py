"""``simcaddie practice``: what pays, and a session in proportion to it."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from simcaddie.cli.day_options import with_day
from simcaddie.cli.shared import (
    CAUTION,
    CourseArg,
    Json,
    PlayerArg,
    Seed,
    Tee,
    Verbose,
    compiling,
    console,
    note,
    plain_table,
    took,
)
from simcaddie.errors import BadRequest

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.table import Table

    from simcaddie.air.day import Day
    from simcaddie.strategy.practice import Practice, PracticeRow
    from simcaddie.strategy.practice_session import Ball

__all__ = ["practice"]

BALLS = 60
FINISHES = ("left", "on", "right", "short")  # boxes to tick


@with_day
def practice(
    course: CourseArg,
    player: PlayerArg,
    tee: Tee = None,
    pin: Annotated[str | None, typer.Option(metavar="NAME", help="The pin of every hole; middle by default.")] = None,
    balls: Annotated[
        int | None, typer.Option(min=4, max=300, metavar="N", help=f"Balls of the session; {BALLS} by default.")
    ] = None,
    minutes: Annotated[
        int | None,
        typer.Option(min=4, max=300, metavar="N", help="Length of the session instead: a minute a ball."),
    ] = None,
    sequences: Annotated[
        int, typer.Option(min=1000, metavar="N", help="How often each hole is played for every change.")
    ] = 10_000,
    figure: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Draw what pays as bars (.png, .svg or .pdf).")
    ] = None,
    details: Annotated[bool, typer.Option("--details", help="Show the standard error of every number.")] = False,
    json: Json = None,
    seed: Seed = 1,
    verbose: Verbose = False,
    day: Day | None = None,
) -> int:
    """Tell what practice pays: strokes a round saved, and a session in proportion.

    The round is replayed with one thing better at a time: each swing, touch and putting brought up to a golfer five
    strokes better; 10 % less spread; half the mishits; no side bias. Then a session of balls in random order, never the
    same club twice running, each with a target of its own and room to note how it finished.
    """
    from simcaddie.cli.progress import progress
    from simcaddie.files import find_course, find_player, read_player, read_round_course, write_json
    from simcaddie.strategy.practice import what_pays
    from simcaddie.strategy.practice_session import MINUTES_A_BALL, session

    started = time.perf_counter()
    if balls is not None and minutes is not None:
        raise BadRequest("give the session's balls or its minutes, not both")
    count = round(minutes / MINUTES_A_BALL) if minutes is not None else balls or BALLS
    ground, golfer = read_round_course(find_course(course), tee), read_player(find_player(player))
    with compiling(), progress("Replaying the holes", len(ground.holes)) as done:
        answer = what_pays(ground, golfer, tee=tee, pin=pin, sequences=sequences, seed=seed, day=day, done=done)
    plan = session(answer, count, seed)
    if json is not None:
        from simcaddie.files.practice_answer import practice_data

        write_json(practice_data(answer, plan), json)
    if json != "-":
        _print(answer, plan, details)
    if figure is not None:
        from simcaddie.report.practice_figure import practice_figure
        from simcaddie.report.style import save_figure

        save_figure(practice_figure(answer), figure)
        note(f"Drawn: {figure}")
    took(started, verbose)
    return 0


def _print(answer: Practice, plan: Sequence[Ball], details: bool) -> None:
    from simcaddie.strategy.day_words import day_words
    from simcaddie.strategy.practice_words import practice_words

    out = console()
    tee = f"{answer.tee} tees" if answer.tee else "first tees"
    out.print(f"[bold]{answer.course.name}[/bold], {len(answer.course.holes)} holes, {tee}")
    if answer.day is not None:
        out.print(f"The day: {day_words(answer.day)}", markup=False)
    out.print(f"{answer.player.name}: what would save strokes, a round\n", markup=False)
    out.print(_table(answer, details))
    out.print()
    for line in practice_words(answer):
        out.print(line, markup=False)
    out.print(f"\n[bold]A session of {len(plan)} balls[/bold]")
    out.print(_shares(plan), markup=False)
    routine = f"Before every ball your routine: {answer.player.routine}. " if answer.player.routine else ""
    out.print(f"{routine}Take the next club only when the ball has stopped, and note how it finished.\n", markup=False)
    out.print(_session(plan))
    out.print(f"\n[dim]{CAUTION}[/dim]")


def _shares(plan: Sequence[Ball]) -> str:
    """Say how many balls each thing gets, most first."""
    counts: dict[str, int] = {}
    for ball in plan:
        counts[ball.title] = counts.get(ball.title, 0) + 1
    told = (f"{title} {count}" for title, count in sorted(counts.items(), key=lambda item: -item[1]))
    return f"In proportion to what closing the gap saves: {', '.join(told)}."


def _row(row: PracticeRow, details: bool) -> list[str]:
    from simcaddie.strategy.practice_words import CHANGE_TITLES, shown

    cells = [row.thing.title, f"{row.played:.1f}"]
    for change in CHANGE_TITLES:
        gain = row.gains.get(change)
        cells.append(shown(gain) + (f" ± {gain.se:.3f}" if details and gain is not None else ""))
    return cells


def _table(answer: Practice, details: bool) -> Table:
    from simcaddie.strategy.practice_words import CHANGE_TITLES

    table = plain_table(
        (0, 2, 0, 0),
        "strokes a round saved; played: strokes a round with it\n"
        "gap closed: as good as a golfer five strokes better, where it is worse",
    )
    table.add_column("", no_wrap=True)
    table.add_column("played", justify="right", no_wrap=True)
    for title in CHANGE_TITLES.values():
        table.add_column(title, justify="right", no_wrap=True)
    for row in answer.rows:
        table.add_row(*_row(row, details))
    table.add_row(*_row(answer.swings, details), style="bold")
    return table


def _session(plan: Sequence[Ball]) -> Table:
    table = plain_table((0, 2, 0, 0))
    table.add_column("ball", justify="right", no_wrap=True)
    table.add_column("play", no_wrap=True)
    table.add_column("target", no_wrap=True)
    for title in FINISHES:
        table.add_column(title, justify="center", no_wrap=True)
    for number, ball in enumerate(plan):
        table.add_row(str(number + 1), ball.title, ball.target, *("□" for _ in FINISHES))
    return table
