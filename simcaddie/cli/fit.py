"""``simcaddie fit``: from the range to a player file."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from simcaddie.cli.shared import Json, Seed, Verbose, console, known_units, note, took
from simcaddie.errors import BadFile, BadRequest

if TYPE_CHECKING:
    from collections.abc import Sequence

    from simcaddie.errors import Fault
    from simcaddie.files.session_file import SessionFile
    from simcaddie.fitting.fit import SessionFit
    from simcaddie.fitting.session import Key
    from simcaddie.golfer.player import Player

__all__ = ["fit"]

MADE = "# Fitted by simcaddie"  # how a file begins that may be written over
MOST_FAULTS = 20  # shown one by one


def fit(
    sessions: Annotated[list[Path], typer.Argument(metavar="SESSION", help="Sessions as .csv, the oldest first.")],
    player: Annotated[
        str | None,
        typer.Option(metavar="PLAYER", help="A player to start from: clubs, putting, and what wasn't hit stay."),
    ] = None,
    index: Annotated[
        float | None,
        typer.Option(min=-10, max=54, metavar="N", help="Handicap index: how wide such golfers are, before any ball."),
    ] = None,
    output: Annotated[
        Path | None, typer.Option("--output", "-o", metavar="FILE", help="Write the player file, as me.yaml.")
    ] = None,
    units: Annotated[
        str | None, typer.Option(metavar="yards|metres", help="Of the player file, and where a session doesn't tell.")
    ] = None,
    column: Annotated[
        list[str] | None,
        typer.Option(metavar="KEY=HEADER", help='Which column is which, as carry="Air [m]"; may be repeated.'),
    ] = None,
    warm_up: Annotated[int, typer.Option(min=0, metavar="N", help="Leave out the first N balls of each session.")] = 0,
    newer: Annotated[
        float,
        typer.Option(min=0.01, max=1.0, metavar="SHARE", help="What a ball counts against one of the next session."),
    ] = 1.0,
    name: Annotated[str | None, typer.Option(metavar="NAME", help="The player's name.")] = None,
    details: Annotated[bool, typer.Option("--details", help="Show best balls and what the numbers are worth.")] = False,
    json: Json = None,
    seed: Seed = 1,
    verbose: Verbose = False,
) -> int:
    """Turn range sessions into a player file, with its doubt.

    Reads club, swing, carry, total, side, and, where they are there, the order of the balls and whether each had a
    routine, from any .csv. Tells solid strikes from fat and thin ones, and draws every number towards what golfers
    usually do, the more so the fewer balls there are. Rows that can't be used are listed with their line. KEY is one
    of club, swing, carry, total, side, order, routine.
    """
    from simcaddie.fitting.fit import fit_session
    from simcaddie.fitting.player import fitted_player
    from simcaddie.fitting.prior import prior_from

    started = time.perf_counter()
    known_units(units)
    base = _base(player)
    _writable(output, sessions)
    read, lofts = _read(sessions, column or [], units, base)
    balls = [ball for each in read for ball in each.balls]
    found = fit_session(
        balls,
        prior_from(base, lofts, index),
        declared=base.range_to_course if base else None,
        newer=newer,
        warm_up=warm_up,
        seed=seed,
    )
    if not found.fits:
        raise BadFile(_misread(found, read))
    golfer = fitted_player(found, base, lofts, name=name, units=units, handicap_index=index)
    faults = [*(fault for each in read for fault in each.faults), *_misread(found, read)]
    remarks = [f"{each.file}: {remark}" for each in read for remark in each.remarks]
    short = _short_of_best(found, golfer)
    if json is not None:
        from simcaddie.files import write_json
        from simcaddie.files.fit_answer import fit_data

        write_json(fit_data(found, golfer, faults, remarks, short), json)
    if output is not None:  # before any printing, which may end early (a closed pipe)
        _write(output, golfer, found, read)
    if json != "-":
        _print(found, golfer, len(balls), faults, remarks, short, details)
    if output is None and json != "-":
        note("Nothing written: -o me.yaml writes the player file.")
    took(started, verbose)
    return 0


def _base(player: str | None) -> Player | None:
    from simcaddie.files import find_player, read_player

    return None if player is None else read_player(find_player(player))


def _read(
    paths: Sequence[Path], columns: Sequence[str], units: str | None, base: Player | None
) -> tuple[tuple[SessionFile, ...], dict[str, float]]:
    """Return the sessions, and the lofts of all clubs in them."""
    from simcaddie.files import read_sessions
    from simcaddie.files.session_cells import known_loft

    mapped = {}
    for text in columns:
        key, mark, header = text.partition("=")
        if not mark or not header.strip():
            raise BadRequest(f"--column: expected KEY=HEADER, as carry=\"Air [m]\", found '{text}'")
        mapped[key.strip().lower()] = header
    lofts = {club.name: club.loft for club in base.bag} if base else {}
    read = read_sessions(paths, columns=mapped, units=units or (base.units if base else None), clubs=lofts)
    for ball in (ball for each in read for ball in each.balls):
        if ball.club not in lofts and (loft := known_loft(ball.club)) is not None:
            lofts[ball.club] = loft
    return read, lofts


def _misread(found: SessionFit, read: Sequence[SessionFile]) -> Iterator[Fault]:
    from simcaddie.errors import Fault

    for wrong in found.refused:
        yield Fault(read[wrong.ball.session].file, wrong.ball.line, wrong.where, wrong.expected, wrong.found)


def _short_of_best(found: SessionFit, player: Player) -> dict[Key, float]:
    """Return how often each session's best ball comes up short on the course."""
    from simcaddie.golfer.carries import carry_share
    from simcaddie.golfer.pattern import course_pattern

    swings = {(swing.club, swing.name): swing for swing in player.swings}
    return {
        key: carry_share(course_pattern(player, swings[key], player.lies["tee"]), fit.best)
        for key, fit in found.fits.items()
    }


def _writable(output: Path | None, sessions: Sequence[Path]) -> None:
    """Refuse to write over what ``fit`` hasn't written."""
    if output is None or not output.exists():
        return
    try:
        begins = output.read_bytes()[: len(MADE)] == MADE.encode()
    except OSError:
        begins = False
    if not begins:
        raise BadRequest(f"{output}: is there already, and not by `fit`; choose another name, or move it away")


def _write(output: Path, player: Player, found: SessionFit, read: Sequence[SessionFile]) -> None:
    from simcaddie.files import write_player

    names = ", ".join(Path(each.file).name for each in read)
    balls = sum(fit.swing.shots for fit in found.fits.values())
    lines = [f"{MADE[2:]} from {names}: {balls} balls.", "posterior: what each number is worth in balls."]
    if found.without_first and found.first is not None:
        lines.append(
            f"range_to_course: measured, {found.first.balls} first balls after a change of club against "
            f"{found.first.rest} others."
        )
    write_player(player, output, comment="\n".join(lines), source=f"range sessions {names}")
    note(f"Written: {output}")


def _print(
    found: SessionFit,
    player: Player,
    balls: int,
    faults: Sequence[Fault],
    remarks: Sequence[str],
    short: dict[Key, float],
    details: bool,
) -> None:
    from simcaddie.cli.fit_tables import best_words, fitted_table, worth_table
    from simcaddie.fitting.words import fit_words

    out = console()
    fitted = sum(fit.swing.shots for fit in found.fits.values())
    out.print(f"[bold]{player.name}[/bold]: ", end="")
    out.print(f"{fitted} of {balls} balls, {len(found.fits)} swings; lengths in {player.units}\n", markup=False)
    out.print(fitted_table(found, player.units))
    out.print()
    for line in (*remarks, *fit_words(found), best_words(found, player, short)):
        if line:
            out.print(line, markup=False)
    if details:
        out.print()
        out.print(worth_table(found, player.units, short))
    if faults:
        out.print(f"\nNot used, {len(faults)} of the rows:", markup=False)
        for fault in faults[:MOST_FAULTS]:
            out.print(str(fault), markup=False, soft_wrap=True)  # a path stays whole
        if len(faults) > MOST_FAULTS:
            out.print(f"… and {len(faults) - MOST_FAULTS} more; --json lists all.", markup=False)
