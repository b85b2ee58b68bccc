"""``simcaddie new-player``: a whole player file for someone with no range data yet."""

from __future__ import annotations

import sys
import time
from pathlib import Path
from typing import Annotated

import typer

from simcaddie.cli.shared import NoSeed, Verbose, known_units, note, took

__all__ = ["new_player"]

HEADER = """\
Estimated, not measured: a starting file from a handicap index and one carry. Carries are laddered from the driver's by
published averages of tour players and of club golfers; spreads, mishits, touch and putting are those of a golfer of the
index. Replace it club by club with what the range says, and take `estimated: true` away there.\
"""


def new_player(
    index: Annotated[float, typer.Option(min=-10, max=54, metavar="N", help="Handicap index; below 0 for a plus.")],
    driver: Annotated[float, typer.Option(metavar="N", help="Average carry of the driver, in --units.")],
    out: Annotated[
        Path | None, typer.Option("-o", "--out", metavar="FILE", help="Where to write it; printed where left out.")
    ] = None,
    name: Annotated[str | None, typer.Option(metavar="TEXT", help="The player's name.")] = None,
    units: Annotated[str, typer.Option(metavar="UNITS", help="yards or metres.")] = "yards",
    seed: NoSeed = 0,
    verbose: Verbose = False,
) -> None:
    """Make a player file from a handicap index and the driver's carry, all of it marked as estimated.

    Carries of the other clubs follow from the driver's by published averages; spreads, mishits, touch and putting are
    those of a golfer of that index. Range data replaces it club by club.
    """
    from simcaddie.errors import BadRequest
    from simcaddie.files.player_writer import player_text
    from simcaddie.files.write import write_text
    from simcaddie.golfer.reference import LONGEST_DRIVER, SHORTEST_DRIVER, golfer
    from simcaddie.units import YARDS_PER

    started = time.perf_counter()
    known_units(units)
    carry = driver * YARDS_PER[units]
    if not SHORTEST_DRIVER <= carry <= LONGEST_DRIVER:
        low, high = (round(yards / YARDS_PER[units]) for yards in (SHORTEST_DRIVER, LONGEST_DRIVER))
        raise BadRequest(f"--driver: expected a carry from {low} to {high} {units}, found {driver:g}")
    if out is not None and out.exists():
        raise BadRequest(f"{out} is there already; choose another name, so that nothing is lost")
    player = golfer(index, carry, name=name or "", units=units)
    text = player_text(player, comment=HEADER, whole=True)
    if out is None:
        sys.stdout.write(text)
    else:
        write_text(out, text)
        note(f"Wrote {out}: {len(player.bag)} clubs, all estimated. Next: simcaddie compare HOLE {out}")
    took(started, verbose)
