"""The strategy sheet: every hole of a course as at most three decisions, worked out before the round.

Nobody knows the day's pins when the sheet is printed: all figures are averages over the pins that the hole files name,
and only what a pin would change is told. The same for wind: the plan is for a calm day (or the course's own), and a
head wind is told where it changes the plan.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Final

from simcaddie.air.day import STANDARD, Day
from simcaddie.course.card import ROUNDS, card_of
from simcaddie.course.record import Course
from simcaddie.errors import BadRequest
from simcaddie.golfer.carries import SwingCarry, swing_carries
from simcaddie.golfer.player import Player
from simcaddie.ground.hole import Hole, Point
from simcaddie.scoring.forms import FORMS
from simcaddie.strategy.request import LEVEL, hole_strokes
from simcaddie.strategy.round_handicap import handicap_of, tee_of
from simcaddie.strategy.sheet_facts import Miss, Number, Trouble, miss_of, numbers_of, trouble_of
from simcaddie.strategy.sheet_stroke import Ready, Stroke, best_stroke, line_of_strokes, look, ready
from simcaddie.surfaces import code
from simcaddie.units import MPS_PER_MPH
from simcaddie.workers import each

__all__ = ["HEAD_WIND", "Flip", "Sheet", "SheetHole", "sheet"]

HEAD_WIND: Final = 12 * MPS_PER_MPH  # m/s: 12 mph into the player's face


@dataclass(frozen=True, slots=True)
class Flip:
    """What changes the plan: ``when`` ("wind" or a pin's name), and the stroke that it asks for instead of ``instead``.

    ``saves`` strokes; ``stroke`` is the number of the stroke of the line that changes.
    """

    when: str
    stroke: int
    instead: Stroke
    saves: float


@dataclass(frozen=True, slots=True)
class SheetHole:
    """One hole of the sheet.

    ``number`` on the course, from 1, 0 for a hole of its own; ``strokes`` received; ``line`` the advised strokes,
    ``approach`` the number of the one to the green; ``carry`` and ``reach`` what the tee shot carries and must not
    reach; ``flips`` what changes the plan.
    """

    number: int
    on: Ready
    tee: str
    strokes: int
    line: tuple[Stroke, ...]
    approach: int
    carry: Number | None
    reach: Number | None
    trouble: Trouble | None
    miss: Miss
    flips: tuple[Flip, ...]

    @property
    def hole(self) -> Hole:
        """The hole."""
        return self.on.hole

    @property
    def finish(self) -> Point:
        """Where the approach usually finishes, x and y in yards."""
        return self.line[self.approach].finish

    @property
    def net_par(self) -> int:
        """Par and the strokes received."""
        return self.hole.par + self.strokes


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet: ``title`` of the course (of the hole, where there is but one), and its holes in playing order.

    ``handicap`` is the playing handicap in stroke play, None where the player has no index or the course no card.
    """

    title: str
    player: Player
    holes: tuple[SheetHole, ...]
    carries: tuple[SwingCarry, ...]
    handicap: int | None
    tee: str | None
    day: Day
    single: bool = False


def _turned(on: Ready, number: int, stroke: Stroke, when: str, pins: tuple[str, ...] = ()) -> Flip | None:
    """Return the flip of a stroke of the line under other circumstances, None where its club stays the best.

    For a pin only the swings that were near the best are tried again.
    """
    place = (*stroke.start, code(stroke.lie))
    other = best_stroke(on, place, pins, stroke.shortlist if pins else ())
    if other.title == stroke.title or stroke.title in other.level:
        return None
    saves = float(look(on, place, stroke.swing, stroke.bearing, pins)[0]) - other.mean
    return Flip(when, number, other, saves) if saves >= LEVEL else None


def _by_wind(on: Ready, line: tuple[Stroke, ...], approach: int, tee: str | None, day: Day) -> Flip | None:
    """Return what a head wind changes first: the tee shot, else the approach from where it is played in calm."""
    blown = replace(day, wind=HEAD_WIND, wind_from=0.0, relative=True, gust=None)
    windy = ready(on.hole, on.player, tee, day=blown, grid=on.grid, rough=True)
    for number in dict.fromkeys((0, approach)):
        flip = _turned(windy, number, line[number], "wind")
        if flip is not None:
            return flip
    return None


def _by_pin(on: Ready, line: tuple[Stroke, ...], approach: int) -> Flip | None:
    """Return the pin that changes the approach most, None where none does."""
    flips = [_turned(on, approach, line[approach], name, (name,)) for name in on.pins] if len(on.pins) > 1 else []
    return max((flip for flip in flips if flip), key=lambda flip: flip.saves, default=None)


def sheet_hole(
    hole: Hole, player: Player, tee: str | None, number: int, strokes: int, *, seed: int, day: Day
) -> SheetHole:
    """Return one hole of a sheet.

    Raises
    ------
    BadRequest
        Where the hole has no such tee.
    """
    on = ready(hole, player, tee, seed=seed, day=day)
    line = line_of_strokes(on)
    approach = len(line) - 1
    carry, reach = numbers_of(on, line[0])
    flips = (_by_wind(on, line, approach, tee, day), _by_pin(on, line, approach))
    return SheetHole(
        number=number,
        on=on,
        tee=tee or next(iter(hole.tees)),
        strokes=strokes,
        line=line,
        approach=approach,
        carry=carry,
        reach=reach,
        trouble=trouble_of(on, line[0]),
        miss=miss_of(on, line[approach]),
        flips=tuple(flip for flip in flips if flip is not None),
    )


def _strokes(course: Course, player: Player, tee: str | None) -> tuple[list[int], int | None]:
    """Return the strokes received on each hole in stroke play, and the playing handicap where there is one."""
    if len(course.holes) not in ROUNDS or player.handicap_index is None:
        return [hole_strokes(hole, player) for hole in course.holes], None
    handicap = handicap_of(course, card_of(course), player, tee, FORMS["stroke"].share)
    return list(handicap.strokes), handicap.playing


def sheet(
    course: Course,
    player: Player,
    *,
    tee: str | None = None,
    holes: Iterable[int] | None = None,
    seed: int = 1,
    day: Day | None = None,
    done: Callable[[], None] | None = None,
) -> Sheet:
    """Return the sheet of a course, or of those of its holes that ``holes`` numbers from 1.

    It is planned for ``day``, else for the course's own, else for a standard one. ``done`` is called as each hole is
    finished, from any thread. Nothing depends on how many threads there are.

    Raises
    ------
    BadRequest
        Where a hole has no such tee, the course no such hole, or the card is wrong (see ``card_of``).
    """
    tee = tee_of(course, tee)
    for hole in course.holes:
        hole.place(tee)  # what can't be played is refused before the long work
    numbers = list(range(1, len(course.holes) + 1) if holes is None else holes)
    for number in numbers:
        if not 1 <= number <= len(course.holes):
            raise BadRequest(f"{course.name} has {len(course.holes)} holes, none numbered {number}")
    strokes, handicap = _strokes(course, player, tee)
    planned = day or course.day or STANDARD

    single = len(course.holes) == 1

    def one(number: int) -> SheetHole:
        shown = 0 if single else number
        hole = sheet_hole(course.holes[number - 1], player, tee, shown, strokes[number - 1], seed=seed, day=planned)
        if done is not None:
            done()
        return hole

    return Sheet(course.name, player, tuple(each(one, numbers)), swing_carries(player), handicap, tee, planned, single)
