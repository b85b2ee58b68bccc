"""``simcaddie fit``: from the range to a player file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

import typer

from simcaddie.base.errors import BadFile, BadRequest, Fault
from simcaddie.console.command import Answer, command, note
from simcaddie.console.options import Common, known_units, option

if TYPE_CHECKING:
    from simcaddie.features.fit.present import Fitted
    from simcaddie.fitting.fit import SessionFit
    from simcaddie.fitting.session import Key
    from simcaddie.io.session import SessionFile
    from simcaddie.player.swing import Player

__all__ = ["fit"]

MADE: Final = "# Fitted by simcaddie"  # how a file begins that may be written over


@dataclass(frozen=True, kw_only=True)
class Options(Common):
    """What may be said of range sessions."""

    sessions: Annotated[list[Path], typer.Argument(metavar="SESSION", help="Sessions as .csv, the oldest first.")]
    player: Annotated[
        str | None, option("PLAYER", "A player to start from: clubs, putting, and what wasn't hit stay.")
    ] = None
    index: Annotated[
        float | None, option("N", "Handicap index: how wide such golfers are, before any ball.", min=-10, max=54)
    ] = None
    output: Annotated[Path | None, option("FILE", "Write the player file, as me.yaml.", "--output", "-o")] = None
    units: Annotated[str | None, option("yards|metres", "Of the player file, and where a session doesn't tell.")] = None
    column: Annotated[
        list[str] | None, option("KEY=HEADER", 'Which column is which, as carry="Air [m]"; may be repeated.')
    ] = None
    warm_up: Annotated[int, option("N", "Leave out the first N balls of each session.", min=0)] = 0
    newer: Annotated[
        float, option("SHARE", "What a ball counts against one of the next session.", min=0.01, max=1.0)
    ] = 1.0
    name: Annotated[str | None, option("NAME", "The player's name.")] = None
    details: Annotated[bool, option("", "Show best balls and what the numbers are worth.", "--details")] = False

    def read_base(self) -> Player | None:
        """Return the player to start from."""
        from simcaddie.io.find import find_player
        from simcaddie.io.player import read_player

        return None if self.player is None else read_player(find_player(self.player))

    def read_sessions(self, base: Player | None) -> tuple[tuple[SessionFile, ...], dict[str, float]]:
        """Return the sessions, and the lofts of all clubs in them."""
        from simcaddie.io.session import known_loft, read_sessions

        columns = {}
        for text in self.column or ():
            key, mark, header = text.partition("=")
            if not mark or not header.strip():
                raise BadRequest(f"--column: expected KEY=HEADER, as carry=\"Air [m]\", found '{text}'")
            columns[key.strip().lower()] = header
        lofts = {club.name: club.loft for club in base.bag} if base else {}
        units = self.units or (base.units if base else None)
        read = read_sessions(self.sessions, columns=columns, units=units, clubs=lofts)
        for ball in (ball for each in read for ball in each.balls):
            if ball.club not in lofts and (loft := known_loft(ball.club)) is not None:
                lofts[ball.club] = loft
        return read, lofts


@command(Options)
def fit(options: Options) -> Answer:
    """Turn range sessions into a player file, with its doubt.

    Reads club, swing, carry, total, side, and, where they are there, the order of the balls and whether each had a
    routine, from any .csv. Tells solid strikes from fat and thin ones, and draws every number towards what golfers
    usually do, the more so the fewer balls there are. Rows that can't be used are listed with their line. KEY is one
    of club, swing, carry, total, side, order, routine.
    """
    from simcaddie.features.fit.present import Fitted, fit_data, present
    from simcaddie.fitting.fit import fit_session
    from simcaddie.fitting.player import fitted_player
    from simcaddie.fitting.prior import prior_from

    known_units(options.units)
    base = options.read_base()
    _writable(options.output)
    read, lofts = options.read_sessions(base)
    balls = [ball for each in read for ball in each.balls]
    found = fit_session(
        balls,
        prior_from(base, lofts, options.index),
        declared=base.range_to_course if base else None,
        newer=options.newer,
        warm_up=options.warm_up,
        seed=options.seed,
    )
    refused = [Fault(read[w.ball.session].file, w.ball.line, w.where, w.expected, w.found) for w in found.refused]
    if not found.fits:
        raise BadFile(refused)
    player = fitted_player(found, base, lofts, name=options.name, units=options.units, handicap_index=options.index)
    fitted = Fitted(
        found,
        player,
        balls=len(balls),
        faults=[*(fault for each in read for fault in each.faults), *refused],
        remarks=[f"{each.file}: {remark}" for each in read for remark in each.remarks],
        short=_short_of_best(found, player),
    )
    notes = []
    if options.output is not None:  # before any printing, which may end early (a closed pipe)
        _write(options.output, fitted, read)
    elif options.json != "-":
        notes = ["Nothing written: -o me.yaml writes the player file."]
    return Answer(data=lambda: fit_data(fitted), document=lambda: present(fitted, details=options.details), notes=notes)


def _short_of_best(found: SessionFit, player: Player) -> dict[Key, float]:
    """Return how often each session's best ball comes up short on the course."""
    from simcaddie.player.carries import carry_share
    from simcaddie.player.pattern import course_pattern

    swings = {(swing.club, swing.name): swing for swing in player.swings}
    return {
        key: carry_share(course_pattern(player, swings[key], player.lies["tee"]), fit.best)
        for key, fit in found.fits.items()
    }


def _writable(output: Path | None) -> None:
    """Refuse to write over what ``fit`` hasn't written."""
    if output is None or not output.exists():
        return
    try:
        begins = output.read_bytes()[: len(MADE)] == MADE.encode()
    except OSError:
        begins = False
    if not begins:
        raise BadRequest(f"{output}: is there already, and not by `fit`; choose another name, or move it away")


def _write(output: Path, fitted: Fitted, read: Sequence[SessionFile]) -> None:
    from simcaddie.io.player_writer import write_player

    names, found = ", ".join(Path(each.file).name for each in read), fitted.found
    lines = [f"{MADE[2:]} from {names}: {fitted.used} balls.", "posterior: what each number is worth in balls."]
    if found.without_first and found.first is not None:
        lines.append(
            f"range_to_course: measured, {found.first.balls} first balls after a change of club against "
            f"{found.first.rest} others."
        )
    write_player(fitted.player, output, comment="\n".join(lines), source=f"range sessions {names}")
    note(f"Written: {output}")
