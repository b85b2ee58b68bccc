"""``simcaddie plan``: the hole seen through best play."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from simcaddie.cli.day_options import with_day
from simcaddie.cli.shared import (
    CAUTION,
    FromSpot,
    HoleArg,
    Json,
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
    from collections.abc import Iterable

    from rich.table import Table

    from simcaddie.air.day import Day
    from simcaddie.strategy.plan import Plan

__all__ = ["plan"]


@with_day
def plan(
    hole: HoleArg,
    player: PlayerArg,
    tee: Tee = None,
    from_spot: FromSpot = None,
    pin: Annotated[str | None, typer.Option(metavar="NAME", help="The pin to play to; middle by default.")] = None,
    figure: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Draw the best club by place and the line of play (.png, .svg or .pdf)."),
    ] = None,
    json: Json = None,
    seed: Seed = 1,
    verbose: Verbose = False,
    day: Day | None = None,
) -> int:
    """Plan a whole hole: each stroke in turn, and what to avoid.

    Finds the stroke that costs least from everywhere on the hole, then tells the most likely line of play from tee to
    green: club, target, what it leaves and how many strokes are still to go on average, putts included. Below stand
    the club for every distance left on the fairway, and the hazards that cost most.
    """
    from simcaddie.cli.progress import progress
    from simcaddie.files import find_hole, find_player, read_hole, read_player, write_json
    from simcaddie.strategy.plan import plan as make_plan

    started = time.perf_counter()
    with compiling(), progress("Planning the hole"):
        answer = make_plan(
            read_hole(find_hole(hole)),
            read_player(find_player(player)),
            tee=tee,
            spot=from_spot,
            pin=pin,
            seed=seed,
            day=day,
        )
    if json is not None:
        from simcaddie.files.plan_answer import plan_data

        write_json(plan_data(answer), json)
    if json != "-":
        _print(answer)
    if figure is not None:
        from simcaddie.report.plan_figure import draw_plan

        draw_plan(answer, figure)
        note(f"Drawn: {figure}")
    if verbose:
        solved = answer.solution
        note(
            f"{solved.policy.swing.size} places, last change {solved.residual:.3f}; "
            f"chosen in {solved.seconds[0]:.1f} s, valued in {solved.seconds[1]:.1f} s"
        )
    took(started, verbose)
    return 0


def _print(answer: Plan) -> None:
    from simcaddie.strategy.day_words import day_words
    from simcaddie.strategy.places import fairway_clubs
    from simcaddie.strategy.plan_words import avoid_words, fairway_words, leg_words

    out = console()
    out.print(f"[bold]{answer.hole.name}[/bold], par {answer.hole.par}, from the {answer.asked_from}, ", end="")
    out.print(f"{answer.pin_name} pin", markup=False)
    out.print(f"{answer.player.name}: {answer.mean:.2f} strokes on average with best play", markup=False)
    if answer.day is not None:
        out.print(f"The day: {day_words(answer.day)}", markup=False)
    out.print()
    out.print(_listed((f"{number + 1}.", leg_words(answer, number)) for number in range(len(answer.legs))))
    if along := fairway_words(fairway_clubs(answer)):
        out.print(f"\n{along}", markup=False)
    if answer.avoid:
        out.print("\nWhat to avoid:")
        out.print(_listed(("–", avoid_words(danger)) for danger in answer.avoid))
    out.print(f"\n[dim]{CAUTION}[/dim]")


def _listed(items: Iterable[tuple[str, str]]) -> Table:
    """Return (mark, text) pairs as a list with the text set in."""
    from rich.table import Table
    from rich.text import Text

    table = Table.grid(padding=(0, 1, 0, 0))
    for mark, text in items:
        table.add_row(mark, Text(text))
    return table
