"""``simcaddie card``: the pocket card."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Annotated

import typer

from simcaddie.cli.shared import Json, NoSeed, PlayerArg, Verbose, note, took

__all__ = ["card"]


def card(
    player: PlayerArg,
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="FILE", help="Where to draw it: .pdf, .png or .svg.")
    ] = Path("card.pdf"),
    json: Json = None,
    seed: NoSeed = 0,
    verbose: Verbose = False,
) -> int:
    """Draw a pocket card of a player's clubs, within 4¼ × 7 inches.

    For every club its average carry, the carry that eight balls in ten beat, and the usual miss; below, the part
    swings. No best balls. A dot marks trusted clubs. To print at full size, for the pocket.
    """
    from simcaddie.files import find_player, read_player, write_json
    from simcaddie.golfer.carries import swing_carries
    from simcaddie.report.card import card_figure
    from simcaddie.report.style import save_figure

    started = time.perf_counter()
    golfer = read_player(find_player(player))
    carries = swing_carries(golfer)
    save_figure(card_figure(golfer, carries), output)
    if json is not None:
        rows = [
            {
                "club": each.swing.club,
                "swing": each.swing.name,
                "average": each.average,
                "eight_in_ten_beat": each.short,
                "miss": each.miss,
                "trust": each.swing.trust,
            }
            for each in carries
        ]
        write_json({"schema": "card/1", "player": golfer.name, "file": str(output), "swings": rows}, json)
    note(f"Drawn: {output}")
    took(started, verbose)
    return 0
