"""A round that was played, from what a golfer remembers of it to the ledger of each hole."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby
from typing import Final, TypeVar

from simcaddie.base.errors import BadFile, BadRequest, Fault
from simcaddie.course.course import Course
from simcaddie.course.hole import Hole
from simcaddie.course.played import Finish
from simcaddie.decision.finishes import PICKED_UP, Seen, finish_of, seen
from simcaddie.decision.ledger import Entry, HoleLedger, Place, Putted, Reckoner, on_green
from simcaddie.decision.options import TOUCH, Option, named_swings, plain_name
from simcaddie.decision.position import set_position
from simcaddie.decision.targets import aim_at
from simcaddie.fitting.rounds import RoundRow
from simcaddie.player.pattern import usable
from simcaddie.player.swing import Player
from simcaddie.weather.day import Day

__all__ = ["Card", "Walk", "far_of", "reckoner_of", "swing_named", "walk_round"]

T = TypeVar("T")

PUTTER: Final = "putter"
_PUTTS: Final = re.compile(r"(\d)\s*(?:putts?)?")
_LEAST_SD: Final = 0.5  # yd: nobody's balls all fly alike


def reckoner_of(
    hole: Hole, player: Player, tee: str | None, pin: str | None, day: Day | None = None, seed: int = 1
) -> Reckoner:
    """Return what a hole is worth from a tee, to one pin, to a player.

    Raises
    ------
    BadRequest
        Where the hole has no such tee or pin.
    """
    if pin == "any":
        raise BadRequest("a round is played to one pin a hole; name one that every hole has")
    return Reckoner(set_position(hole, some_spread(player), tee=tee, pin=pin, day=day, seed=seed))


def some_spread(player: Player) -> Player:
    """Return a player none of whose swings is without any spread: no ball would be off the average."""
    return player.with_swings(
        lambda swing: replace(swing, carry_sd=max(swing.carry_sd, _LEAST_SD), side_sd=max(swing.side_sd, _LEAST_SD))
    )


def far_of(reckoner: Reckoner, place: Place, swing: int) -> float:
    """Return how far a stroke goes, about, yd: carry and run of a swing, the way to the pin of a touch shot."""
    player, pin = reckoner.position.player, reckoner.position.pins[0]
    away = math.dist(place[:2], pin)
    return min(player.swings[swing].total, away) if swing < len(player.swings) else away


def swing_named(reckoner: Reckoner, place: Place, words: str) -> int:
    """Return the number of the swing of that name that may be played from a place; of several the full one.

    Raises
    ------
    ValueError
        With what was expected.
    """
    player, plain = reckoner.position.player, plain_name(words)
    if plain in (TOUCH, "touch", "chip", "pitch", "bump", "feel"):
        return len(player.swings)
    try:
        numbers = sorted(named_swings(player, [words]))
    except BadRequest as error:
        raise ValueError(str(error).partition(" has ")[2] or str(error)) from None
    lie = reckoner.at(place).place.lie
    if allowed := [number for number in numbers if usable(player, player.swings[number], player.lies[lie])]:
        exact = [number for number in allowed if plain_name(player.swings[number].title) == plain]
        return (exact or allowed)[0]
    return numbers[0]


@dataclass(frozen=True, slots=True)
class Card:
    """A round: the ledgers of its holes in the order of the course, and the file that told it."""

    name: str
    ledgers: tuple[HoleLedger, ...]


@dataclass(frozen=True)
class Walk:
    """What rounds of one player on one course are walked with; solved holes are kept between rounds."""

    course: Course
    player: Player
    tee: str | None = None
    pin: str | None = None
    day: Day | None = None
    seed: int = 1
    _reckoners: dict[int, Reckoner] = field(default_factory=dict, repr=False)

    def reckoner(self, number: int) -> Reckoner:
        """Return what a hole (from 1) is worth."""
        if number not in self._reckoners:
            hole = self.course.holes[number - 1]
            self._reckoners[number] = reckoner_of(hole, self.player, self.tee, self.pin, self.day, self.seed)
        return self._reckoners[number]


class _Told(Exception):
    """A fault of a row: the column, what was expected, what was found."""


def _read(where: str, found: str, read: Callable[[], T]) -> T:
    try:
        return read()
    except ValueError as error:
        raise _Told(where, str(error), f"'{found}'" if found else "nothing") from None


def _putts(row: RoundRow) -> tuple[int, bool]:
    """Return the putts of a putter's row, and whether they end the hole."""
    text = row.finish.lower()
    if found := _PUTTS.fullmatch(text):
        return int(found[1]), True
    finish = text in ("holed", "in", "in the hole", "hole")
    return (row.putts or 1), finish or row.putts is not None


@dataclass
class _Hole:
    """A hole on the way: where the ball lies, and what was played."""

    walk: Walk
    reckoner: Reckoner
    place: Place | None
    entries: list[Entry] = field(default_factory=list)
    putted: Putted | None = None
    left: float = 0.0
    over: bool = False

    def take(self, row: RoundRow) -> None:
        """Take one row in."""
        if self.over or self.place is None:
            raise _Told("hole", "no stroke after the hole was over", f"'{row.club}'")
        if row.finish.lower() in PICKED_UP:
            self.left, self.over = self.reckoner.worth(self.place), True
            return
        if plain_name(row.club) == PUTTER and on_green(self.place):
            count, self.over = _putts(row)
            before = self.putted.taken if self.putted else 0
            start = self.putted.place if self.putted else self.place
            self.putted = self.reckoner.putted(start, before + count)
            return
        if on_green(self.place):
            raise _Told("club", "the putter on the green", f"'{row.club}'")
        self._swing(self.place, row)
        if row.putts is not None and not self.over:
            if self.place is None or not on_green(self.place):
                raise _Told("putts", "putts where the ball reached the green", f"{row.putts}")
            self.putted = self.reckoner.putted(self.place, row.putts)
            self.over = True

    def _swing(self, place: Place, row: RoundRow) -> None:
        reckoner, hole, units = self.reckoner, self.reckoner.position.hole, self.walk.course.units
        swing = _read("club", row.club, lambda: swing_named(reckoner, place, row.club))
        finish = _read("finish", row.finish, lambda: finish_of(row.finish, hole, units))
        drop = _read("drop", row.drop, lambda: finish_of(row.drop, hole, units)) if row.drop else None
        option = _read("aim", row.aim, lambda: self._option(place, swing, row.aim))
        found = _read("finish", row.finish, lambda: seen(reckoner, place, option, finish, drop))
        self._enter(place, option, finish, found)

    def _option(self, place: Place, swing: int, words: str) -> Option:
        """Return the stroke that was chosen; without a target the swing's best line."""
        reckoner, touch = self.reckoner, len(self.reckoner.position.player.swings)
        if words and plain_name(words) not in ("plan", "as planned"):
            return Option(swing, aim_at(reckoner.at(place), words, far_of(reckoner, place, swing)))
        lines = reckoner.lines(place)
        known = [line for line in lines.values() if line.swing == swing or min(line.swing, swing) >= touch]
        if known:
            best = min(known, key=lambda line: line.worth)
            return Option(best.swing, best.aim)
        return Option(swing, aim_at(reckoner.at(place), "", far_of(reckoner, place, swing)))

    def _enter(self, place: Place, option: Option, finish: Finish, found: Seen) -> None:
        reckoner = self.reckoner
        plan, best = reckoner.best(place)
        self.entries.append(
            Entry(
                place=place,
                option=option,
                plan=plan,
                after=found.after,
                added=found.added,
                best=best,
                chosen=best if option == plan else reckoner.chosen(place, option),
                strike=found.strike,
                came=found.added + reckoner.worth(found.after),
                spreads=reckoner.spreads(place, option),
                landed=found.landed,
                known=found.balls > 0,
                finish=finish,
            )
        )
        self.place, self.over = found.after, found.after is None


def _hole(walk: Walk, number: int, file: str, rows: Sequence[RoundRow]) -> HoleLedger:
    """Return the ledger of a hole; every fault is raised with its line."""
    reckoner = walk.reckoner(number)
    going = _Hole(walk, reckoner, reckoner.start)
    for row in rows:
        try:
            going.take(row)
        except _Told as told:
            raise BadFile([Fault(file, row.line, *told.args)]) from None
    if not going.over:
        expected = f"hole {number} to end: 'holed', '2 putts' or 'picked up'"
        raise BadFile([Fault(file, rows[-1].line, "finish", expected, f"'{rows[-1].finish}'")])
    return HoleLedger(number, reckoner, tuple(going.entries), going.putted, going.left)


def walk_round(walk: Walk, name: str, rows: Iterable[RoundRow], done: Callable[[], None] | None = None) -> Card:
    """Return the round of a file; ``done`` is called as each hole is finished.

    Raises
    ------
    BadFile
        With the first fault of each hole.
    BadRequest
        Where a hole has no such tee or pin.
    """
    ledgers, faults, seen_holes = [], [], set()
    for number, some in groupby(rows, key=lambda row: row.hole):
        strokes = list(some)
        if number in seen_holes:
            faults.append(
                Fault(name, strokes[0].line, "hole", "the strokes of a hole together", f"hole {number} again")
            )
            continue
        seen_holes.add(number)
        try:
            ledgers.append(_hole(walk, number, name, strokes))
        except BadFile as error:
            faults += error.faults
        if done is not None:
            done()
    if faults:
        raise BadFile(faults)
    return Card(name, tuple(sorted(ledgers, key=lambda ledger: ledger.number)))
