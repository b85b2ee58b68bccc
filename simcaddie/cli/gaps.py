"""``simcaddie gaps``: how far each swing carries, and what lies between."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from simcaddie.cli.shared import Json, NoSeed, PlayerArg, Verbose, console, note, plain_table, took

if TYPE_CHECKING:
    from collections.abc import Sequence

    from simcaddie.golfer.carries import SwingCarry
    from simcaddie.golfer.gaps import Gap
    from simcaddie.golfer.player import Player

__all__ = ["gaps"]


def gaps(
    player: PlayerArg,
    figure: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Draw it as bands of carry (.png, .svg or .pdf).")
    ] = None,
    json: Json = None,
    seed: NoSeed = 0,
    verbose: Verbose = False,
) -> int:
    """Show how far each swing carries, and the gaps between them.

    On the course from a good lie: the average of solid strikes, where the middle half of all balls lands, mishits
    among them, the carry that eight balls in ten beat, and what lies between neighbours, part swings included.
    """
    from simcaddie.files import find_player, read_player, write_json
    from simcaddie.golfer.carries import swing_carries

    started = time.perf_counter()
    golfer = read_player(find_player(player))
    carries = swing_carries(golfer)
    if json is not None:
        write_json(_data(golfer, carries), json)
    if json != "-":
        _print(golfer, carries)
    if figure is not None:
        from simcaddie.report.gaps_figure import gaps_figure
        from simcaddie.report.style import save_figure

        save_figure(gaps_figure(golfer, carries), figure)
        note(f"Drawn: {figure}")
    took(started, verbose)
    return 0


def _data(player: Player, carries: Sequence[SwingCarry]) -> dict[str, Any]:
    from simcaddie.golfer.gap_words import gap_words
    from simcaddie.golfer.gaps import gaps as between

    swings = [
        {
            "club": each.swing.club,
            "swing": each.swing.name,
            "average": each.average,
            "middle_half": [each.low, each.high],
            "eight_in_ten_beat": each.short,
            "right": each.right,
        }
        for each in carries
    ]
    for row, gap in zip(swings, between(carries), strict=False):
        row |= {"to_next": gap.yards, "clear_to_next": gap.clear}
    return {"schema": "gaps/1", "player": player.name, "swings": swings, "words": gap_words(carries, 1.0, "yd")}


def _overlap(gap: Gap | None, unit: float) -> str:
    if gap is None:
        return ""
    return f"{-gap.clear / unit:.0f}" if gap.clear < 0 else f"none, {gap.clear / unit:.0f} clear"


def _print(player: Player, carries: Sequence[SwingCarry]) -> None:
    from simcaddie.golfer.gap_words import gap_words
    from simcaddie.golfer.gaps import gaps as between
    from simcaddie.units import SHORT, YARDS_PER

    unit, out = YARDS_PER[player.units], console()
    out.print(f"[bold]{player.name}[/bold]", end="")
    out.print(f", on the course from a good lie, {player.units}\n", markup=False)
    table = plain_table(
        (0, 2, 0, 0),
        "carry: average of solid strikes; overlap: of neighbours' middle halves\n"
        "middle half, 8 in 10: of all balls, mishits too",
    )
    table.add_column("swing", no_wrap=True)
    for title in ("carry", "middle half", "8 in 10 beat", "to the next", "overlap"):
        table.add_column(title, justify="right", no_wrap=True)
    for each, gap in zip(carries, [*between(carries), None], strict=True):
        table.add_row(
            each.swing.title,
            f"{each.average / unit:.0f}",
            f"{each.low / unit:.0f} to {each.high / unit:.0f}",
            f"{each.short / unit:.0f}",
            "" if gap is None else f"{gap.yards / unit:.0f}",
            _overlap(gap, unit),
        )
    out.print(table)
    if lines := gap_words(carries, unit, SHORT[player.units]):
        out.print()
        for line in lines:
            out.print(line, markup=False)
