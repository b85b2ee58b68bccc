"""``simcaddie compare``: the ranked table of first strokes."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, cast

import typer

from simcaddie.cli.day_options import with_day
from simcaddie.cli.shared import (
    BEST,
    CAUTION,
    FromSpot,
    HoleArg,
    Json,
    Pin,
    PlayerArg,
    Seed,
    Tee,
    Verbose,
    compiling,
    console,
    note,
    plain_table,
    tenths,
)
from simcaddie.errors import BadRequest

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

    from simcaddie.air.day import Day
    from simcaddie.strategy import Comparison, Measure
    from simcaddie.strategy.best_ball import BestBallCost
    from simcaddie.strategy.doubt import Doubt
    from simcaddie.strategy.explain import Explanation
    from simcaddie.strategy.scene import Then
    from simcaddie.strategy.switch import SwitchPoint

    Pair = tuple[Explanation | None, tuple[SwitchPoint, ...]]
    Doubted = tuple[Doubt, BestBallCost]

__all__ = ["compare"]

SHORT_ROWS = 8  # what a coach sees first


@with_day
def compare(
    hole: HoleArg,
    player: PlayerArg,
    tee: Tee = None,
    from_spot: FromSpot = None,
    pin: Pin = None,
    club: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME", help='Only this club or swing ("half gap wedge"); may be repeated.'),
    ] = None,
    aim: Annotated[
        str | None,
        typer.Option(metavar="LOW:HIGH:STEP", help="Aim lines to try, degrees right of the pin, as -10:10:2."),
    ] = None,
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
        int, typer.Option(min=100, metavar="N", help="How often each club that may be best is played out, as an audit.")
    ] = 4_000,
    then: Annotated[
        str, typer.Option(metavar="best|sound|usual", help="How the strokes that follow are played.")
    ] = "best",
    objective: Annotated[
        str,
        typer.Option(metavar="strokes|points|blow-up", help="What to play for; fewest strokes by default."),
    ] = "strokes",
    details: Annotated[
        bool, typer.Option("--details", help="Show errors, points, finishes and carries as well.")
    ] = False,
    all_aims: Annotated[
        bool, typer.Option("--all-aims", help="One row per aim line, not only each club's best.")
    ] = False,
    why: Annotated[
        tuple[str, str] | None,
        typer.Option(metavar="A B", help="Say why A costs more or less than B: where the first ball finishes."),
    ] = None,
    when: Annotated[
        tuple[str, str] | None,
        typer.Option(metavar="A B", help="Say how far one thing would have to change for B to be as good as A."),
    ] = None,
    redraws: Annotated[
        int | None,
        typer.Option(
            "--doubt", min=2, max=10_000, metavar="N", help="Redraw the player N times: how sure is the choice?"
        ),
    ] = None,
    days: Annotated[
        str | None,
        typer.Option(metavar="FILES", help="Several day files, as calm.yaml,winter.yaml: where does the choice flip?"),
    ] = None,
    figure: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Draw the best options and their scores (.png, .svg or .pdf).")
    ] = None,
    json: Json = None,
    seed: Seed = 1,
    verbose: Verbose = False,
    day: Day | None = None,
) -> int:
    """Rank clubs and lines for one stroke by the average score.

    The table shows each club's best line: its average score, what it costs against the best, and, in ten: how often
    it makes net par or better, how often the ball finds trouble, and how often the hole blows up (net double bogey or
    worse).
    """
    from simcaddie.cli.progress import progress
    from simcaddie.files import find_hole, find_player, read_hole, read_player, write_json
    from simcaddie.strategy import Request
    from simcaddie.strategy import compare as rank

    request = Request(
        tee=tee,
        spot=from_spot,
        pin=pin,
        clubs=tuple(club or ()),
        aims=_aims(aim),
        strokes=strokes,
        played=played,
        sequences=sequences,
        then=cast("Then", then),
        objective=objective,
        seed=seed,
        all_aims=all_aims,
        day=day,
    )
    started = time.perf_counter()
    if days is not None:
        from simcaddie.cli.days import several_days

        return several_days(hole, player, request, days, json, others=(day, why, when, redraws, figure))
    with compiling(), progress("Playing the choices"):
        answer = rank(read_hole(find_hole(hole)), read_player(find_player(player)), request)
        pair, doubted = _pair(answer, why, when), _doubted(answer, redraws)
    if json is not None:
        from simcaddie.files.answers import comparison_data

        write_json(comparison_data(answer, *pair, doubted), json)
    if json != "-":
        _print(answer, details, pair, doubted)
    if figure is not None:
        from simcaddie.report.comparison import draw_comparison

        draw_comparison(answer, figure)
        note(f"Drawn: {figure}")
    if verbose:
        note(f"{len(answer.options)} rows, {sequences} sequences each, in {time.perf_counter() - started:.1f} s")
    return 0


def _aims(text: str | None) -> tuple[float, float, float] | None:
    """Read LOW:HIGH:STEP."""
    if text is None:
        return None
    try:
        low, high, step = (float(part) for part in text.split(":"))
    except ValueError:
        raise BadRequest(f"--aim: expected LOW:HIGH:STEP in degrees, as -10:10:2, found '{text}'") from None
    return low, high, step


def _pair(answer: Comparison, why: tuple[str, str] | None, when: tuple[str, str] | None) -> Pair:
    """Answer what is asked about two options."""
    from simcaddie.strategy.explain import explain
    from simcaddie.strategy.pick import pick_two
    from simcaddie.strategy.switch import switch_points

    for names in (why, when):
        if names:
            pick_two(answer, *names)  # names that don't fit are refused before the long search
    return explain(answer, *why) if why else None, switch_points(answer, *when) if when else ()


def _doubted(answer: Comparison, redraws: int | None) -> Doubted | None:
    if not redraws:
        return None
    from simcaddie.strategy.best_ball import best_ball_cost
    from simcaddie.strategy.doubt import doubt

    return doubt(answer, redraws), best_ball_cost(answer.scene)


def _print(answer: Comparison, details: bool, pair: Pair, doubted: Doubted | None) -> None:
    from simcaddie.cli.compare_details import details_table, finishes
    from simcaddie.cli.pair import print_doubt, print_pair
    from simcaddie.strategy.words import also_words, audit_words, bare_words, cost, price, sentence, why_first

    out, scene = console(), answer.scene
    _print_head(out, answer)
    rows = answer.options if details or answer.request.all_aims else answer.options[:SHORT_ROWS]
    out.print(_table(answer, rows))
    if len(rows) < len(answer.options):
        out.print(
            f"… and {len(answer.options) - len(rows)} more that cost over "
            f"{cost(answer, rows[-1]):.1f}; --details shows all.",
            markup=False,
        )
    out.print()
    told = (price(answer), sentence(answer), why_first(answer), also_words(answer), bare_words(answer))
    for line in (*told, audit_words(answer)):
        if line:
            out.print(line, markup=False)
    if details:
        out.print()
        out.print(details_table(rows))
        for line in finishes(scene, rows[:SHORT_ROWS]):
            out.print(line, markup=False)
    print_pair(out, answer, *pair)
    if doubted:
        print_doubt(out, answer, *doubted)
    if answer.best.picked_up > 0.0005:
        share = f"{answer.best.picked_up:.1%}"
        out.print(f"Picked up at {scene.cap} strokes and counted so: {share} of plays of the first line.", markup=False)
    out.print(f"\n[dim]{CAUTION}[/dim]")


def _print_head(out: Console, answer: Comparison) -> None:
    from simcaddie.strategy.day_words import day_words
    from simcaddie.strategy.words import place_words

    scene, request = answer.scene, answer.request
    received = answer.strokes_received
    gets = f"gets {received} stroke{'' if received == 1 else 's'}" if received >= 0 else f"gives {-received}"
    pin = "average over the pins" if request.pin == "any" else f"{request.pin or 'middle'} pin"
    out.print(f"[bold]{scene.hole.name}[/bold], par {scene.hole.par}, from the {place_words(answer)}, {pin}")
    start = f", {answer.played} played" if answer.played else ""
    out.print(f"{scene.player.name}: {gets} here, so net par is {answer.net_par}{start}", markup=False)
    if request.day is not None:
        out.print(f"The day: {day_words(request.day)}", markup=False)
    out.print()


def _table(answer: Comparison, rows: tuple[Measure, ...]) -> Table:
    from rich.padding import Padding

    from simcaddie.ground.targets import aim_in_degrees
    from simcaddie.strategy.words import aim_words, clarity, cost, trouble

    table = plain_table(
        (0, 0, 0, 0),
        "score on average; net par or better, trouble (first ball), blow-up: times in ten\n"
        "◆ no other choice beats it on both score and blow-up",
    )
    for title in ("club", "aim", "target"):
        table.add_column(title, no_wrap=title != "target")
    for title in ("score", "costs", "net par", "trouble", "blow-up", "leaves"):
        table.add_column(title, justify="right", no_wrap=True)
    table.add_column("", no_wrap=True)
    for m in rows:
        words = (m.title, aim_in_degrees(m.option.aim), aim_words(answer.scene, m))
        table.add_row(
            *(Padding(text, (0, 1, 0, 0)) for text in words),
            f"{m.mean:.2f}",
            "" if m is answer.best else f"{cost(answer, m):+.2f}",
            tenths(m.net_par_or_better),
            tenths(trouble(m)),
            tenths(m.blow_up),
            f"{m.leave:.0f} yd",
            clarity(answer, m) + (" ◆" if answer.on_frontier(m) else ""),
            style=BEST if m is answer.best else None,
        )
    return table
