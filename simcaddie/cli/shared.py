"""What the commands share: their common options, their console, what is said while compiling."""

from __future__ import annotations

import re
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

__all__ = [
    "BEST",
    "CAUTION",
    "RULE",
    "CourseArg",
    "FromSpot",
    "HoleArg",
    "Json",
    "NoSeed",
    "Paper",
    "Pin",
    "PlayerArg",
    "Seed",
    "Tee",
    "Verbose",
    "compiling",
    "console",
    "hole_numbers",
    "known_units",
    "note",
    "plain_table",
    "tenths",
    "took",
]

CAUTION = (
    "For planning before the round (Rule 4.3). Play only when nobody is within reach of your longest likely shot; "
    "shout if a ball may hit someone; stop for lightning."
)

HoleArg = Annotated[str, typer.Argument(metavar="HOLE", help="A hole file, or the name of a demo hole.")]
CourseArg = Annotated[str, typer.Argument(metavar="COURSE", help="A course file, or the name of a demo course.")]
PlayerArg = Annotated[str, typer.Argument(metavar="PLAYER", help="A player file, or the name of a demo player.")]
Tee = Annotated[str | None, typer.Option(metavar="NAME", help="The tee to play from; the file's first by default.")]
FromSpot = Annotated[
    str | None, typer.Option("--from", metavar="SPOT", help="A named spot to play from instead of a tee.")
]
Pin = Annotated[
    str | None,
    typer.Option(metavar="NAME", help="A pin by name, or 'any' for the average over all; middle by default."),
]
Paper = Annotated[str, typer.Option(metavar="a4|letter", help="The paper to print on.")]
Json = Annotated[
    str | None, typer.Option("--json", metavar="FILE", help="Write the same content as data; '-' prints it instead.")
]
Seed = Annotated[int, typer.Option(min=0, metavar="N", help="Same seed, same numbers.")]
NoSeed = Annotated[
    int, typer.Option("--seed", min=0, metavar="N", help="As everywhere; nothing is drawn by chance here.")
]
Verbose = Annotated[bool, typer.Option("--verbose", help="Say what is being done and how long it took.")]

_MOST_HOLES = 999
RULE = "╌"  # beneath the head of a table
BEST = "bold green"  # of the best row, on a terminal; its words say so too
PLAIN_WIDTH = 100  # columns when the output is not a terminal


def console() -> Console:
    """Return the console for tables, 100 columns wide where no terminal says otherwise."""
    from rich.console import Console

    return Console(width=None if sys.stdout.isatty() else PLAIN_WIDTH, highlight=False, soft_wrap=False)


def plain_table(padding: tuple[int, int, int, int] = (0, 1, 0, 1), caption: str = "") -> Table:
    """Return an empty table as all commands show them: a dashed line beneath its head, its caption to the left."""
    from rich.box import Box
    from rich.table import Table

    ruled = Box("\n".join(["    ", "    ", f" {RULE}{RULE} ", *["    "] * 5]) + "\n")
    table = Table(box=ruled, padding=padding, pad_edge=False, header_style="bold", show_edge=False)
    table.caption, table.caption_justify = caption or None, "left"
    return table


def known_units(units: str | None) -> None:
    """Refuse what ``--units`` may not say; None stands for nothing said."""
    from simcaddie.errors import BadRequest
    from simcaddie.units import YARDS_PER

    if units is not None and units not in YARDS_PER:
        raise BadRequest(f"--units: expected {' or '.join(YARDS_PER)}, found '{units}'")


def hole_numbers(text: str | None) -> set[int] | None:
    """Return the numbers of a list like 1-9,12; None for no list."""
    if text is None:
        return None
    from simcaddie.errors import BadRequest

    numbers: set[int] = set()
    for part in text.split(","):
        found = re.fullmatch(r"\s*(\d{1,3})\s*(?:[-–]\s*(\d{1,3})\s*)?", part)
        low, high = (int(found[1]), int(found[2] or found[1])) if found else (1, 0)
        if low > high:
            raise BadRequest(f"--holes: expected numbers as 1-9 or 1,3,10-12, found '{part.strip()}'")
        numbers.update(range(low, min(high, _MOST_HOLES) + 1))
    return numbers


def note(text: str) -> None:
    """Say something beside the result, on stderr."""
    sys.stderr.write(f"{text}\n")
    sys.stderr.flush()


def tenths(share: float) -> str:
    """Say a share as so many in ten, one decimal."""
    return f"{10 * share:.1f}"


def took(started: float, verbose: bool) -> None:
    """Say how long it took since ``started`` (of time.perf_counter), where that was asked for."""
    if verbose:
        note(f"Done in {time.perf_counter() - started:.1f} s")


@contextmanager
def compiling() -> Iterator[None]:
    """Say so, and how long it took, where code has to be compiled: the first run ever."""
    from simcaddie.compiled import announce_compiling, cache_folder

    seconds = announce_compiling(note)
    yield
    if seconds() > 0:
        later = "; later runs start at once" if cache_folder() else ""
        note(f"Compiled in {seconds():.0f} s{later}.")
