"""``simcaddie fit``: from the range to a player file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from simcaddie.base.errors import BadFile, BadRequest, Fault, shown
from simcaddie.base.writing import stands
from simcaddie.console.command import Answer, command, note
from simcaddie.console.options import DATA, Common, known_units, option

if TYPE_CHECKING:
    from simcaddie.course.course import Course
    from simcaddie.features.fit.present import Fitted
    from simcaddie.features.fit.rounds import Learnt
    from simcaddie.fitting.fit import SessionFit
    from simcaddie.fitting.rounds import RoundRow
    from simcaddie.fitting.session import Key
    from simcaddie.io.session import SessionFile
    from simcaddie.player.swing import Player

__all__ = ["fit"]


@dataclass(frozen=True, kw_only=True)
class Options(Common):
    """What may be said of range sessions."""

    sessions: Annotated[
        list[Path] | None, typer.Argument(metavar="SESSION", help="Sessions as .csv, the oldest first.")
    ] = None
    player: Annotated[
        str | None, option("PLAYER", "A player to start from: clubs, putting, and what wasn't hit stay.")
    ] = None
    index: Annotated[
        float | None, option("N", "Handicap index: how wide such golfers are, before any ball.", min=-10, max=54)
    ] = None
    output: Annotated[Path | None, option("FILE", "Write the player file, as me.yaml.", "--output", "-o"), DATA] = None
    units: Annotated[str | None, option("yards|metres", "Of the player file, and where a session doesn't tell.")] = None
    column: Annotated[
        list[str] | None, option("KEY=HEADER", 'Which column is which, as carry="Air [m]"; may be repeated.')
    ] = None
    warm_up: Annotated[int, option("N", "Leave out the first N balls of each session.", min=0)] = 0
    newer: Annotated[
        float, option("SHARE", "What a ball counts against one of the next session.", min=0.01, max=1.0)
    ] = 1.0
    name: Annotated[str | None, option("NAME", "The player's name.")] = None
    keep: Annotated[
        str | None, option("CLUBS", "Of the --player's clubs without balls keep these alone, as 'driver, 7i'; or none.")
    ] = None
    force: Annotated[bool, option("", "Write over a player file that is there.", "--force")] = False
    rounds: Annotated[
        list[Path] | None, option("ROUND", "A round as `review` reads it: what its finishes say; may be repeated.")
    ] = None
    course: Annotated[str | None, option("COURSE", "The course, or hole, that the rounds were played on.")] = None
    tee: Annotated[str | None, option("NAME", "The tee of the rounds; the file's first by default.")] = None
    trust: Annotated[bool, option("", "Set trust by what was chosen in the rounds.", "--trust")] = False
    details: Annotated[bool, option("", "Show best balls and what the numbers are worth.", "--details")] = False

    def read_base(self) -> Player | None:
        """Return the player to start from."""
        from simcaddie.io.find import find_player
        from simcaddie.io.player import read_player

        return None if self.player is None else read_player(find_player(self.player))

    def kept(self, base: Player | None) -> set[str] | None:
        """Return the names of the clubs to keep though nobody hit them; None for all."""
        from simcaddie.io.session import club_names

        if self.keep is None:
            return None
        if base is None:
            raise BadRequest("--keep: which clubs of a --player's bag to keep; there is no --player")
        return set(club_names("--keep", self.keep, [club.name for club in base.bag]))

    def read_sessions(self, base: Player | None) -> tuple[tuple[SessionFile, ...], dict[str, float]]:
        """Return the sessions, and the lofts of all clubs in them."""
        from simcaddie.console.options import columns_told
        from simcaddie.io.session import known_loft, read_sessions

        columns = columns_told(self.column)
        lofts = {club.name: club.loft for club in base.bag} if base else {}
        units = self.units or (base.units if base else None)
        read = read_sessions(self.sessions or (), columns=columns, units=units, clubs=lofts)
        for ball in (ball for each in read for ball in each.balls):
            if ball.club not in lofts and (loft := known_loft(ball.club)) is not None:
                lofts[ball.club] = loft
        return read, lofts


@command(Options)
def fit(options: Options) -> Answer:
    """Turn range sessions into a player file, with its doubt.

    Reads club, swing, carry, total, side, and, where they are there, the order of the balls and whether each had a
    routine, from any .csv. Tells solid strikes from fat and thin ones, and draws every number towards what golfers
    usually do, the more so the fewer balls there are. Clubs go by their usual short forms; "fat", "thin" or "top" in
    place of a carry counts as the mishit it is. Rows that can't be used are counted and listed with their line. Clubs
    of the --player that were only estimated are carried along with those that were hit. KEY is one of club, swing,
    carry, total, side, way (L or R), strike, order, routine, first.
    """
    from simcaddie.features.fit.present import Fitted, fit_data, present
    from simcaddie.fitting.fit import fit_session
    from simcaddie.fitting.player import fitted_player
    from simcaddie.fitting.prior import prior_from

    known_units(options.units)
    base = options.read_base()
    keep = options.kept(base)
    if options.output is not None and stands(options.output) and not options.force:
        raise BadRequest(f"{options.output}: is there already; --force writes over it, or choose another name")
    rounds = _read_rounds(options, base)
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
    refused = [
        Fault(
            read[w.ball.session].file, w.ball.line, read[w.ball.session].columns.heading(w.where), w.expected, w.found
        )
        for w in found.refused
    ]
    if options.sessions and not found.fits:
        raise BadFile(refused)
    player = fitted_player(
        found, base, lofts, name=options.name, units=options.units, handicap_index=options.index, keep=keep
    )
    fitted = Fitted(
        found,
        player,
        rows=len(balls) + sum(len(each.faults) for each in read),
        faults=[*(fault for each in read for fault in each.faults), *refused],
        remarks=[f"{each.file}: {remark}" for each in read for remark in each.remarks],
        short=_short_of_best(found, player),
    )
    learnt = None
    if rounds is not None:
        learnt = _learn(options, player, *rounds)
        fitted = fitted._replace(player=learnt.player)
    notes = []
    if options.output is not None:  # before any printing, which may end early (a closed pipe)
        _write(options.output, fitted, read, learnt)
    elif options.json != "-":
        notes = ["Nothing written: -o me.yaml writes the player file."]
    return Answer(
        data=lambda: fit_data(fitted, learnt),
        document=lambda: present(fitted, learnt, details=options.details),
        notes=notes,
    )


def _read_rounds(options: Options, base: Player | None) -> tuple[Course, list[tuple[str, Sequence[RoundRow]]]] | None:
    """Return the course and the rounds that were played on it, None where there are none."""
    from simcaddie.console.options import CourseOrHoleOf
    from simcaddie.io.round import read_round

    if not options.rounds:
        if not options.sessions:
            raise BadRequest("fit: give sessions, or rounds with --rounds")
        if options.trust:
            raise BadRequest("--trust is set by what was chosen in rounds: give some with --rounds")
        return None
    if options.course is None:
        raise BadRequest("--rounds: say with --course which course they were played on")
    if base is None and not options.sessions:
        raise BadRequest("--rounds alone start from a player: name one with --player")
    course = CourseOrHoleOf(course=options.course).read_course()
    return course, [(str(path), read_round(path, len(course.holes))) for path in options.rounds]


def _learn(
    options: Options, player: Player, course: Course, rounds: Sequence[tuple[str, Sequence[RoundRow]]]
) -> Learnt:
    """Return what rounds say of the player that the sessions made."""
    from simcaddie.console.command import working
    from simcaddie.decision.walk import Walk
    from simcaddie.features.fit.rounds import learn

    walk = Walk(course, player, options.tee, seed=options.seed)
    with working("Walking the rounds", sum(len({row.hole for row in rows}) for _, rows in rounds)) as done:
        return learn(walk, rounds, trust=options.trust, done=done)


def _short_of_best(found: SessionFit, player: Player) -> dict[Key, float]:
    """Return how often each session's best ball comes up short on the course."""
    from simcaddie.player.carries import carry_share
    from simcaddie.player.pattern import course_pattern

    swings = {(swing.club, swing.name): swing for swing in player.swings}
    return {
        key: carry_share(course_pattern(player, swings[key], player.lies["tee"]), fit.best)
        for key, fit in found.fits.items()
    }


def _write(output: Path, fitted: Fitted, read: Sequence[SessionFile], learnt: Learnt | None) -> None:
    from simcaddie.io.player_writer import player_text, text_faults, write_player

    rounds = [Path(card.name) for card in learnt.cards] if learnt is not None else []
    strokes = "" if learnt is None else f", {learnt.fit.strokes} strokes of rounds"
    names, found = ", ".join([*(Path(each.file).name for each in read), *(path.name for path in rounds)]), fitted.found
    lines = [
        f"Fitted by simcaddie from {names}: {fitted.used} balls{strokes}.",
        "posterior: what each number is worth in balls.",
    ]
    if found.without_first and found.first is not None:
        lines.append(
            f"range_to_course: measured, {found.first.balls} first balls after a change of club against "
            f"{found.first.rest} others."
        )
    kinds = " and ".join([*(["range sessions"] if read else []), *(["rounds"] if rounds else [])])
    comment, source = "\n".join(lines), shown(f"{kinds} {names}", 500)
    _refuse(text_faults(player_text(fitted.player, comment=comment, source=source)), read)
    write_player(fitted.player, output, comment=comment, source=source)
    note(f"Written: {output}")


def _refuse(faults: Sequence[Fault], read: Sequence[SessionFile]) -> None:
    """Raise what `check` would say of the player file by the rows that it comes from; the rest is for the writer."""
    told = []
    for fault in faults:
        column = fault.where.rpartition(" > ")[2]
        balls = [(each.file, ball) for each in read for ball in each.balls if f"({ball.club})" in fault.where]
        own = [pair for pair in balls if f"swings > {shown(pair[1].swing)} >" in f"{fault.where} >"] or balls
        told += [Fault(file, ball.line, column, fault.expected, fault.found) for file, ball in own[:1]]
    if told:
        raise BadFile(told)
