"""``simcaddie range-round``: a real hole or course, played on the range."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Final

from simcaddie.base.errors import BadRequest
from simcaddie.console.command import Answer, command, note, working
from simcaddie.console.options import FIGURE, Common, CourseOrHoleOf, DayOf, PlayerOf, Tee, hole_numbers, option

if TYPE_CHECKING:
    from simcaddie.features.range_round.analysis import Game, Line, State
    from simcaddie.io.journal import Journal

__all__ = ["range_round"]

LOOK_EVERY: Final = 0.2  # seconds, into the device's file
MADE: Final = "Balls of a round on the range"  # how a session begins that may be written over


@dataclass(frozen=True, kw_only=True)
class Options(Common, DayOf, Tee, PlayerOf, CourseOrHoleOf):
    """What may be asked of a round on the range."""

    pin: Annotated[str | None, option("NAME", "The pin of every hole; middle by default.")] = None
    holes: Annotated[str | None, option("LIST", "Only these holes, as 1-9 or 1,3,10-12.")] = None
    follow: Annotated[
        Path | None, option("FILE", "A .csv that the range's device adds rows to: its new balls count as hit.")
    ] = None
    column: Annotated[
        list[str] | None, option("KEY=HEADER", 'Which column of that file is which, as carry="Air [m]".')
    ] = None
    journal: Annotated[
        Path | None, option("FILE", "Where every line is kept; named after course and player by default.")
    ] = None
    new: Annotated[bool, option("", "Begin another round; the old journal stays under another name.", "--new")] = False
    session: Annotated[
        Path | None, option("FILE", "Where the balls are saved for `fit`; beside the journal by default.")
    ] = None
    figure: Annotated[
        Path | None, option("FILE", "Draw the holes and what they cost (.pdf of pages, .png)."), FIGURE
    ] = None

    @property
    def path(self) -> Path:
        """Where the journal is."""
        from simcaddie.io.write import slug

        return self.journal or Path(f"{slug(Path(self.course).stem)}-{slug(Path(self.player).stem)}.range.jsonl")

    def read_game(self) -> Game:
        """Return what is played with."""
        from simcaddie.decision.rounds import refuse_unknown
        from simcaddie.decision.walk import Walk
        from simcaddie.features.range_round.analysis import Game

        course, player = self.read_course(), self.read_player()
        chosen = hole_numbers(self.holes) or range(1, len(course.holes) + 1)
        if strange := [number for number in chosen if not 1 <= number <= len(course.holes)]:
            raise BadRequest(f"{course.name} has {len(course.holes)} holes, no hole {strange[0]}")
        refuse_unknown(course, self.tee, self.pin)
        walk = Walk(course, player, self.tee, self.pin, self.day, self.seed)
        return Game(walk, tuple(sorted(chosen)))


@command(Options)
def range_round(options: Options) -> Answer:
    """Play a real hole or course on the range, before the round.

    You choose club and target, hit the ball, and type its carry and side; the program plays that ball on the hole and
    says where it lies. It says what is best only when you type ?. After each hole: what the choices cost, what the
    swings, and what was luck. Every line is kept in a journal: a round that was stopped goes on where it was. The balls
    are saved as a session for `fit`, hit with consequence.
    """
    from simcaddie.features.range_round.analysis import begin, new_rows, replay
    from simcaddie.features.range_round.present import card, range_data

    game = options.read_game()
    if options.new and options.path.exists():
        _put_aside(options.path)
    with working("Setting the holes up"):
        start = begin(game)
    with closing(_journal(options, game)) as journal:
        if journal.torn:
            note(f"{options.path}: half a last line was dropped: {journal.torn}")
        lines = [_line(entry) for entry in journal.entries]
        state = replay(game, lines, start)
        follow = _Followed(options, game, lines, journal, new_rows) if options.follow else None
        state = _play(game, state, journal, follow, quiet=options.json == "-")
    saved = _save(options, game, state)
    notes = [] if state.over else [f"Stopped on hole {game.numbers[state.hole]}; the same command goes on."]
    files = {"journal": str(options.path), "session": saved}
    figures = []
    if (path := options.figure) is not None and state.done:
        from simcaddie.features.range_round.figure import draw_range_round

        figures.append((path, lambda: draw_range_round(game, state, path)))
    return Answer(
        data=lambda: range_data(game, state, files),
        document=lambda: card(game, state),
        figures=figures,
        notes=[*([f"Written: {saved}"] if saved else []), *notes],
    )


# ─── The journal, and the session that is left of it ────────────────────────────────────────────────────────────────


def _journal(options: Options, game: Game) -> Journal:
    """Open the journal; its head tells what the round was begun with."""
    from simcaddie.base.memo import digest
    from simcaddie.course.grid import ground_of
    from simcaddie.io.journal import Journal

    holes = [game.course.holes[number - 1] for number in game.numbers]
    grounds = tuple((ground_of(hole), repr(hole.tees), repr(hole.pins), repr(hole.heights)) for hole in holes)
    told = (grounds, repr(game.player), repr(game.day), game.walk.tee, game.walk.pin)
    head = {
        "journal": "round on the range",
        "course": game.course.name,
        "player": game.player.name,
        "holes": ",".join(map(str, game.numbers)),
        "seed": options.seed,
        "of": digest(*told),
    }
    return Journal(options.path, head)


def _put_aside(path: Path) -> None:
    """Give an old journal another name."""
    number = 1
    while (aside := path.with_suffix(f".{number}{path.suffix}")).exists():
        number += 1
    path.rename(aside)
    note(f"The old journal is {aside}.")


def _line(entry: dict[str, Any]) -> Line:
    """Return what an entry of the journal says."""
    from simcaddie.features.range_round.analysis import Row

    if "row" in entry:
        return Row(**entry["row"])
    return int(entry["older"]) if "older" in entry else str(entry.get("typed", ""))


def _save(options: Options, game: Game, state: State) -> str | None:
    """Write the balls that were hit as a session; None where there are none."""
    from simcaddie.io.write import write_text

    path = options.session or options.path.with_suffix(".csv")
    swings, shots = game.player.swings, [shot for hole in (*state.hit, state.shots) for shot in hole]
    rows = []
    for number, shot in enumerate(shots, start=1):
        if shot.entry.option.swing < len(swings):
            swing, ball = swings[shot.entry.option.swing], shot.ball
            total = "" if shot.total is None else f"{shot.total:.1f}"
            rows.append(f"{number},{swing.club},{swing.name},{ball.carry:.1f},{ball.side:.1f},{total},{ball.kind},yes")
    if not rows:
        return None
    if path.exists() and not path.read_bytes().startswith(MADE.encode()):
        raise BadRequest(f"{path}: is there already, and not by `range-round`; choose another with --session")
    head = [
        f"{MADE}: {game.course.name}. {game.player.name}.",
        "Ball,Club,Swing,Carry (yd),Side (yd),Total (yd),Strike,First",
    ]
    write_text(
        path, "\n".join([*(line.replace(",", "") if i == 0 else line for i, line in enumerate(head)), *rows, ""])
    )
    return str(path)


# ─── The loop ───────────────────────────────────────────────────────────────────────────────────────────────────────


class _Followed:
    """A device's growing file: which of its balls are new."""

    def __init__(
        self, options: Options, game: Game, lines: list[Line], journal: Journal, new_rows: Callable[..., Any]
    ) -> None:
        from simcaddie.console.options import columns_told
        from simcaddie.features.range_round.analysis import Row

        self.path, self.columns, self.new_rows = options.follow, columns_told(options.column), new_rows
        self.units, self.clubs = game.player.units, [club.name for club in game.player.bag]
        self.size, self.said = -1, set[str]()
        known = [line if isinstance(line, int) else line.line for line in lines if isinstance(line, int | Row)]
        self.last = max(known, default=-1)
        if self.last < 0:
            self.last = self.lines()
            journal.add({"older": self.last})
            if self.last:
                note(f"{self.path}: balls up to line {self.last} are from before the round.")

    def lines(self) -> int:
        """Return how many whole lines the file has; 0 where it isn't there yet."""
        path = self.path
        return path.read_bytes().count(b"\n") if path is not None and path.exists() else 0

    def new(self) -> list[Any]:
        """Return the rows that are new; what is wrong with others is said."""
        from simcaddie.io.session import read_growing

        path = self.path
        if path is None or not path.exists() or path.stat().st_size == self.size:
            return []
        self.size = path.stat().st_size
        if self.lines() < self.last:
            note(f"{path}: begun anew; its balls count from its first line.")
            self.last = 0
        read = read_growing(path, columns=self.columns, units=self.units, clubs=self.clubs)
        if read is None:
            return []
        for fault in read.faults:
            if fault.line > self.last:
                self.say(str(fault))
        rows, said = self.new_rows(read.balls, self.last)
        for text in said:
            self.say(f"{path}: {text}")
        self.last = max([self.last, *(ball.line for ball in read.balls), *(fault.line for fault in read.faults)])
        return list(rows)

    def say(self, text: str) -> None:
        """Say something once."""
        if text not in self.said:
            self.said.add(text)
            note(text)


def _lines(follow: _Followed | None) -> Iterator[Line]:
    """Yield what is typed and what the device measures, as it comes; the end of what is typed ends it."""
    if follow is None:
        yield from iter(sys.stdin.readline, "")
        return
    from queue import Empty, Queue
    from threading import Thread

    typed: Queue[str] = Queue()

    def read() -> None:
        for line in iter(sys.stdin.readline, ""):
            typed.put(line)
        typed.put("")

    Thread(target=read, daemon=True).start()
    while True:
        try:
            line = typed.get(timeout=LOOK_EVERY)
        except Empty:
            yield from follow.new()
            continue
        if not line:
            yield from follow.new()
            return
        yield line


def _play(game: Game, state: State, journal: Journal, follow: _Followed | None, *, quiet: bool) -> State:
    """Ask, take in and answer until the round is over or the input ends."""
    from simcaddie.console.terminal import show
    from simcaddie.features.range_round.analysis import Row, step
    from simcaddie.features.range_round.present import opening, question, reply

    def say(document: Any) -> None:
        if not quiet and document:
            show(document)

    def ask() -> None:
        if not quiet and not state.over:
            sys.stdout.write(question(game, state))
            sys.stdout.flush()

    say(opening(game, state, resumed=len(journal.entries)) if not state.over else [])
    ask()
    for line in () if state.over else _lines(follow):
        journal.add({"row": asdict(line)} if isinstance(line, Row) else {"typed": str(line).strip()})
        if not quiet and (not sys.stdin.isatty() or not isinstance(line, str)):
            sys.stdout.write("\n")
        try:
            after = step(game, state, line)
        except BadRequest as error:
            note(f"{str(error)[:1].upper()}{str(error)[1:]}.")
        else:
            say(reply(game, state, after))
            state = after
        if state.over:
            break
        ask()
    return state
