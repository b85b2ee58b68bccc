"""``simcaddie squad``: a coach's whole group on one course."""

from __future__ import annotations

import base64
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from simcaddie.base.limits import MOST_SEQUENCES, MOST_SEQUENCES_OF_PRACTICE
from simcaddie.console.command import Answer, command
from simcaddie.console.options import Common, CourseOrHoleOf, DayOf, Written, option
from simcaddie.console.working import PiecesOf, failures

if TYPE_CHECKING:
    from simcaddie.base.pieces import Delivered, Piece
    from simcaddie.course.course import Course
    from simcaddie.features.squad.analysis import Ordered, Squad, SquadRequest

__all__ = ["squad_command"]


@dataclass(frozen=True, kw_only=True)
class Options(Common, DayOf, PiecesOf, CourseOrHoleOf):
    """What may be asked of a group."""

    players: Annotated[
        list[str], typer.Argument(metavar="PLAYER...", help="Player files, demo players, or folders of player files.")
    ]
    output: Annotated[
        Path | None, option("FOLDER", "Where everything is written.", "--output", "-o"), Written(folder=True)
    ] = None
    tee: Annotated[str | None, option("NAME", "The tee that all play from; for each the one that suits.")] = None
    pin: Annotated[str | None, option("NAME", "The pin of every hole; middle by default.")] = None
    sequences: Annotated[
        int, option("N", "How often each hole is played, over good and bad days.", min=1000, max=MOST_SEQUENCES)
    ] = 20_000
    practised: Annotated[
        int, option("N", "How often for every change of practice.", min=1000, max=MOST_SEQUENCES_OF_PRACTICE)
    ] = 4_000
    no_sheets: Annotated[bool, option("", "Leave the players' sheets out: less than half the work.", "--no-sheets")] = (
        False
    )

    @property
    def folder(self) -> Path:
        """The folder that everything goes to."""
        from simcaddie.base.errors import BadRequest

        if self.output is None and self.resume is None:
            raise BadRequest("squad needs a folder to write into: -o FOLDER")
        if self.output is not None and self.resume is not None and self.output != self.resume:
            raise BadRequest("--resume names the folder already: leave -o out")
        return self.resume or self.output or Path()

    def request(self, course: Course) -> SquadRequest:
        """Return the question."""
        from simcaddie.features.squad.analysis import SquadRequest
        from simcaddie.io.sent import day_sent

        day = day_sent(self.day or course.day)
        return SquadRequest(self.pin, self.sequences, self.practised, self.seed, day, self.tee)

    def group(self, course: Course) -> list[Ordered]:
        """Return the players, each with a tee."""
        from simcaddie.features.squad.analysis import Ordered, suited_tee
        from simcaddie.io.find import player_files
        from simcaddie.io.player import player_of
        from simcaddie.io.yaml_reader import parse, read_text

        found = []
        for path in player_files(self.players):
            text = read_text(path)
            player = player_of(parse(text, str(path)))
            found.append(Ordered(player, text, self.tee or suited_tee(course, player)))
        return found


Sheets = Callable[..., dict[str, Any]]


def squad_command(sheet_piece: Sheets) -> Callable[..., int]:
    """Return the command; ``sheet_piece`` (course, player, tee, day, seed) makes a player's sheet wherever it runs."""

    @command(Options)
    def squad(options: Options) -> Answer:
        """Plan a course for a whole group: rounds, sheets, what pays for each, and who differs.

        For every player the tee that suits, the round, the strategy sheet and the three strokes that pay most to
        practise; one overview of the group as table, figure and CSV; and players who choose otherwise than most on a
        tee. Everything is written into one folder. --executor shares the work out; --resume goes on with a run that
        was stopped.
        """
        from simcaddie.features.squad.analysis import pieces_of, squad_of
        from simcaddie.features.squad.present import present, squad_data
        from simcaddie.io.sent import holes_sent

        folder, course = options.folder, options.read_course()
        group, request = options.group(course), options.request(course)
        pieces = pieces_of(course, holes_sent(course, options.course), group, request)
        if not options.no_sheets:
            pieces += _sheets(options, course, group, request, sheet_piece)
        if options.resume is None:
            _begin_anew(folder)
        delivered = options.deliver("Playing the holes", pieces, folder)
        answer = squad_of(course, group, request, delivered)
        sheets = delivered.results[len(group) * len(course.holes) :]
        names = _write(folder, answer, sheets, delivered)
        return Answer(
            data=lambda: squad_data(answer),
            document=lambda: present(answer),
            notes=[f"Written: {folder / name}" for name in names] + failures(delivered, folder),
            verbose=_bytes(delivered),
            caution=True,
            code=1 if delivered.failed else 0,
        )

    return squad


def _bytes(delivered: Delivered) -> str:
    many = len(delivered.results) - delivered.kept
    return f"{many} pieces, {delivered.sent // max(many, 1)} bytes sent and {delivered.back // max(many, 1)} back each"


def _sheets(
    options: Options, course: Course, group: Sequence[Ordered], request: SquadRequest, make: Sheets
) -> list[Piece]:
    from simcaddie.base.pieces import Piece
    from simcaddie.io.sent import course_sent

    sent = course_sent(course, options.course)
    return [
        Piece(f"the sheet of {one.player.name}", make, (sent, one.text, one.tee, request.day, options.seed))
        for one in group
    ]


def _begin_anew(folder: Path) -> None:
    """Drop the journal of an earlier run that isn't asked for."""
    from simcaddie.base.pieces import JOURNAL, lost

    try:
        (folder / JOURNAL).unlink(missing_ok=True)
    except OSError as error:
        raise lost(folder / JOURNAL, error) from None


def _write(
    folder: Path, answer: Squad, sheets: Sequence[dict[str, Any] | None], delivered: Delivered
) -> list[str]:  # fmt: skip
    """Write everything; return the names of the overview's files. The journal goes once all is written."""
    from simcaddie.base.pieces import JOURNAL
    from simcaddie.charts.pages import write_pages
    from simcaddie.features.squad.figure import overview_pages
    from simcaddie.features.squad.present import file_names, member_data, overview_csv
    from simcaddie.io.write import write_bytes, write_json, write_text

    for name, member in zip(names := file_names(answer), answer.members, strict=True):
        write_json(member_data(answer, member), folder / f"{name}.json")
    for name, made in zip(names, sheets or [None] * len(names), strict=True):
        if made is not None:
            write_bytes(folder / f"{name}-sheet.pdf", base64.b64decode(made["pdf"]))
    write_text(folder / "overview.csv", overview_csv(answer))
    for ending in ("pdf", "png"):
        write_pages(overview_pages(answer), folder / f"overview.{ending}")
    if not delivered.failed:
        (folder / JOURNAL).unlink(missing_ok=True)
    return ["overview.csv", "overview.pdf", "overview.png"]
