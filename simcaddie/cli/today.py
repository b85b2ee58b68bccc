"""``simcaddie today``: what the day makes of every swing."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Annotated, Any

import typer

from simcaddie.cli.day_options import with_day
from simcaddie.cli.shared import (
    FromSpot,
    HoleArg,
    Json,
    NoSeed,
    PlayerArg,
    Tee,
    Verbose,
    compiling,
    console,
    plain_table,
    took,
)
from simcaddie.errors import BadRequest

if TYPE_CHECKING:
    from rich.table import Table

    from simcaddie.air.day import Day
    from simcaddie.strategy.today import Today

__all__ = ["today"]

FARTHEST = 400.0  # yd
CAUTION = (
    "To pencil in before the round: during it Rule 4.3 allows no measuring of wind or heights and no computing from "
    "them, this program included. Play only when nobody is within reach of your longest likely shot."
)


@with_day
def today(
    hole: HoleArg,
    player: PlayerArg,
    tee: Tee = None,
    from_spot: FromSpot = None,
    pin: Annotated[str | None, typer.Option(metavar="NAME", help="The pin to look at; middle by default.")] = None,
    target: Annotated[
        list[float] | None,
        typer.Option(metavar="YARDS", help="A distance to hit along the line to the pin; may be repeated."),
    ] = None,
    json: Json = None,
    seed: NoSeed = 0,
    verbose: Verbose = False,
    day: Day | None = None,
) -> int:
    """Show what the day makes of every swing at one place, and which swing a distance asks for.

    For each swing: its calm carry, the day's carry on this ground, how far the air drifts it, and carry and run
    together along the line. For each distance: the calm carry that it plays as, and the swing that lands nearest.
    """
    from simcaddie.files import find_hole, find_player, read_hole, read_player, write_json
    from simcaddie.strategy.today import today as look

    started = time.perf_counter()
    for far in target or ():
        if not 0.0 < far <= FARTHEST:
            raise BadRequest(f"--target: expected yards above 0, at most {FARTHEST:g}, found {far:g}")
    with compiling():
        answer = look(
            read_hole(find_hole(hole)),
            read_player(find_player(player)),
            day=day,
            tee=tee,
            spot=from_spot,
            pin=pin,
            targets=tuple(target or ()),
        )
    if json is not None:
        write_json(_data(answer), json)
    if json != "-":
        _print(answer)
    took(started, verbose)
    return 0


def _data(answer: Today) -> dict[str, Any]:
    from simcaddie.files.day_answer import day_data

    return {
        "schema": "today/1",
        "hole": answer.hole.name,
        "player": answer.player.name,
        "from": answer.asked_from,
        "day": day_data(answer.day),
        "swings": [
            {
                "swing": s.title,
                "calm_carry_yd": s.calm,
                "carry_yd": s.carry,
                "drift_yd": s.drift,
                "total_yd": s.total,
            }
            for s in answer.swings
        ],
        "targets": [
            {"yards": t.far, "rise_yd": t.rise, "plays_yd": t.plays, "swing": t.title} for t in answer.targets
        ],
    }


def _aside(yards: float) -> str:
    return "–" if abs(yards) < 0.5 else f"{abs(yards):.0f} {'right' if yards > 0 else 'left'}"


def _swings(answer: Today) -> Table:
    table = plain_table((0, 2, 0, 0))
    table.add_column("swing", no_wrap=True)
    for title in ("calm carry", "carry today", "drift", "carry and run"):
        table.add_column(title, justify="right", no_wrap=True)
    for s in answer.swings:
        table.add_row(s.title, f"{s.calm:.0f}", f"{s.carry:.0f}", _aside(s.drift), f"{s.total:.0f}")
    return table


def _targets(answer: Today) -> Table:
    table = plain_table((0, 2, 0, 0))
    for title in ("to carry", "up or down", "plays as"):
        table.add_column(title, justify="right", no_wrap=True)
    table.add_column("lands nearest", no_wrap=True)
    for t in answer.targets:
        rise = "–" if abs(t.rise) < 0.5 else f"{abs(t.rise):.0f} {'up' if t.rise > 0 else 'down'}"
        plays = "out of reach" if t.plays is None else f"{t.plays:.0f}"
        table.add_row(f"{t.far:.0f}", rise, plays, t.title or "–")
    return table


def _print(answer: Today) -> None:
    from simcaddie.strategy.day_words import day_words
    from simcaddie.strategy.today import rules_of_practice

    out = console()
    out.print(f"[bold]{answer.hole.name}[/bold], from the {answer.asked_from}, along the line to the pin. Yards.")
    out.print(f"{answer.player.name}; the day: {day_words(answer.day)}\n", markup=False)
    out.print(_swings(answer))
    out.print()
    out.print(_targets(answer))
    if rules := rules_of_practice(answer.player):
        title, into, down, high = rules
        out.print(
            f"\nRule of practice (no source), and the model for this player's {title}: into the wind 1 % of the carry "
            f"a mph, the model {into:.1f}; downwind half of that, the model {down:.1f}; 10 yards up plays 10 longer, "
            f"the model {high:.0f}.",
            markup=False,
        )
    out.print(f"\n[dim]{CAUTION}[/dim]")
