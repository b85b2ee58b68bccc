"""``simcaddie round``: a whole course, hole by hole and in all."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Annotated, cast

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
    plain_table,
    tenths,
    took,
)

if TYPE_CHECKING:
    from rich.table import Table

    from simcaddie.air.day import Day
    from simcaddie.strategy.round import Round, RoundHole
    from simcaddie.strategy.scene import Then

__all__ = ["round_"]


@with_day
def round_(
    course: CourseArg,
    player: PlayerArg,
    tee: Tee = None,
    pin: Annotated[str | None, typer.Option(metavar="NAME", help="The pin of every hole; middle by default.")] = None,
    form: Annotated[
        str,
        typer.Option("--format", metavar="FORM", help="stroke, stableford, maximum, par-bogey or match."),
    ] = "stroke",
    versus: Annotated[
        str | None, typer.Option(metavar="PLAYER", help="Set it against this player's round, from the same tee.")
    ] = None,
    allowance: Annotated[
        float | None,
        typer.Option(min=0, max=100, metavar="N", help="Handicap allowance in per cent; the usual one of the format."),
    ] = None,
    limit: Annotated[
        str,
        typer.Option(metavar="LIMIT", help="Of maximum score: net-double-bogey, double-par or a number."),
    ] = "net-double-bogey",
    then: Annotated[
        str, typer.Option(metavar="best|sound|usual", help="How the player chooses clubs and lines.")
    ] = "best",
    sequences: Annotated[
        int, typer.Option(min=1000, metavar="N", help="How often each hole is played, over good and bad days.")
    ] = 50_000,
    details: Annotated[bool, typer.Option("--details", help="Show errors, parts and the law of the total.")] = False,
    json: Json = None,
    seed: Seed = 1,
    verbose: Verbose = False,
    day: Day | None = None,
) -> int:
    """Play a whole course: each hole against net par, and the round.

    Handicap strokes fall by course rating, slope, stroke index and the format's allowance. Rounds are played on good
    and bad days: a day's bias and mishits go through all its strokes. Shown are the average, how often the round is
    played to the handicap, the best and worst holes, and where the strokes go.
    """
    from simcaddie.cli.progress import progress
    from simcaddie.files import find_course, find_player, read_player, read_round_course, write_json
    from simcaddie.strategy.round import RoundRequest, play_round

    started = time.perf_counter()
    request = RoundRequest(
        tee=tee,
        pin=pin,
        form=form,
        allowance=None if allowance is None else allowance / 100.0,
        limit=limit,
        then=cast("Then", then),
        sequences=sequences,
        seed=seed,
        day=day,
    )
    ground, golfer = read_round_course(find_course(course), tee), read_player(find_player(player))
    other = read_player(find_player(versus)) if versus is not None else None
    steps = len(ground.holes) * (1 if other is None else 2)
    with compiling(), progress("Playing the holes", steps) as done:
        answer = play_round(ground, golfer, request, opponent=other, done=done)
    if json is not None:
        from simcaddie.files.round_answer import round_data

        write_json(round_data(answer), json)
    if json != "-":
        _print(answer, details)
    took(started, verbose)
    return 0


def _print(answer: Round, details: bool) -> None:
    from simcaddie.strategy.day_words import day_words
    from simcaddie.strategy.round_words import handicap_words, round_words

    out = console()
    pin = f"{answer.request.pin or 'middle'} pins"
    tee = f"{answer.tee} tees" if answer.tee else "first tees"
    out.print(f"[bold]{answer.course.name}[/bold], par {answer.par}, {len(answer.holes)} holes, {tee}, {pin}")
    if answer.day is not None:
        out.print(f"The day: {day_words(answer.day)}", markup=False)
    out.print(f"{handicap_words(answer)}\n", markup=False)
    out.print(_table(answer))
    out.print()
    for line in round_words(answer):
        out.print(line, markup=False)
    out.print("\n[bold]Where the strokes go[/bold]")
    out.print(_parts(answer))
    if details:
        out.print("\n[bold]Details[/bold]")
        out.print(_details(answer))
        out.print(_law(answer))
    out.print(f"\n[dim]{CAUTION}[/dim]")


def _gets(strokes: int) -> str:
    return "" if strokes == 0 else f"{strokes:+d}"


def _over(strokes: float) -> str:
    return f"{strokes:+.2f}" if abs(strokes) >= 0.005 else "0.00"


def _match_cells(answer: Round, number: int) -> tuple[str, ...]:
    """Return the cells of a hole in a match: strokes, and how often it is won, tied and lost."""
    versus = answer.versus
    if versus is None or versus.holes is None:
        return ()
    return (_gets(versus.strokes[number]), *(tenths(share) for share in versus.holes[number]))


def _cells(answer: Round, one: RoundHole, number: int) -> tuple[str, ...]:
    if answer.request.form == "match":
        return _match_cells(answer, number)
    net = (_gets(one.strokes), str(one.net_par), _over(one.over))
    return (*net, tenths(one.net_par_or_better), tenths(one.blow_up), f"{one.points:.2f}")


def _table(answer: Round) -> Table:
    match = answer.request.form == "match"
    caption = (
        "strokes: received (+) or given (−) in the match\nwon, tied, lost: times in ten"
        if match
        else "gets: strokes received; over: score on average less net par; times in ten: net par+, net par\n"
        "or better; blow-up, net double bogey or worse; points: Stableford"
    )
    table = plain_table((0, 2, 0, 0), caption)
    table.add_column("", justify="right", no_wrap=True)
    table.add_column("hole", no_wrap=True)
    net = ("gets", "net par", "over", "net par+", "blow-up", "points")
    titles = ("strokes", "won", "tied", "lost") if match else net
    for title in ("par", "index", "score", *titles):
        table.add_column(title, justify="right", no_wrap=True)
    for number, one in enumerate(answer.holes):
        start = (str(number + 1), one.hole.name, str(one.hole.par), str(one.hole.stroke_index), f"{one.mean:.2f}")
        table.add_row(*start, *_cells(answer, one, number))
    whole = ("", "the round", str(answer.par), "", f"{answer.total.mean:.1f}")
    table.add_row(*whole, *_sums(answer), style="bold")
    return table


def _sums(answer: Round) -> tuple[str, ...]:
    """Return the last cells of the round's own row."""
    if answer.versus is not None and answer.versus.holes is not None:
        return (_gets(sum(answer.versus.strokes)),)
    net = answer.par + answer.handicap.playing
    points = sum(one.points for one in answer.holes)
    return (_gets(answer.handicap.playing), str(net), f"{answer.total.mean - net:+.1f}", "", "", f"{points:.1f}")


def _parts(answer: Round) -> Table:
    from simcaddie.strategy.round_words import part_rows

    table = plain_table((0, 2, 0, 0))
    table.show_header = False
    table.add_column(no_wrap=True)
    table.add_column(justify="right")
    table.add_column(justify="right")
    for title, strokes, share in part_rows(answer):
        table.add_row(title, f"{strokes:.1f}", f"{share:.0%}")
    table.add_row("in all", f"{answer.total.mean:.1f}", "", style="bold")
    return table


def _details(answer: Round) -> Table:
    from simcaddie.simulate.sequences import PARTS

    table = plain_table((0, 2, 0, 0), "mean strokes by part; ± SE: standard error of the simulation alone")
    table.add_column("", justify="right")
    table.add_column("hole", no_wrap=True)
    for title in ("mean", "± SE", *PARTS, "picked up"):
        table.add_column(title, justify="right", no_wrap=True)
    for number, one in enumerate(answer.holes):
        parts = (f"{strokes:.3f}" for strokes in one.parts)
        mean = (f"{one.mean:.3f}", f"{one.se:.3f}")
        table.add_row(str(number + 1), one.hole.name, *mean, *parts, f"{one.picked_up:.4f}")
    whole = (f"{strokes:.2f}" for strokes in answer.parts)
    table.add_row("", "the round", f"{answer.total.mean:.2f}", f"{answer.se:.3f}", *whole, style="bold")
    return table


def _law(answer: Round) -> Table:
    """Return the chances of totals, in hundred, with day form and without."""
    table = plain_table((0, 2, 0, 0), "rounds in a hundred with that total or fewer")
    shares = (0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99)
    totals = sorted({answer.total.quantile(share) for share in shares})
    table.add_column("total", no_wrap=True)
    for value in totals:
        table.add_column(str(value), justify="right", no_wrap=True)
    for title, law in (("with day form", answer.total), ("without", answer.plain)):
        table.add_row(title, *(f"{100 * law.at_most(value):.0f}" for value in totals))
    return table
