"""A round on the range as a state machine: what is typed, or comes from the device, takes it a step further.

A step depends on the lines so far and on nothing else: what the course does with a ball is drawn by seed, hole and
stroke. So the journal of lines is the round, and a round that was interrupted goes on where it was.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final, Literal

import numpy as np

from simcaddie.base.errors import BadRequest
from simcaddie.base.streams import Purpose
from simcaddie.base.units import YARDS_PER
from simcaddie.course.course import Course
from simcaddie.decision.ledger import Entry, HoleLedger, Place, Putted, Reckoner, on_green
from simcaddie.decision.options import Option, plain_name, swing_title
from simcaddie.decision.struck import KINDS, Struck, likeliest, play_struck
from simcaddie.decision.targets import LENGTH_UNITS, aim_at, number_of
from simcaddie.decision.walk import Walk, far_of, swing_named
from simcaddie.fitting.session import Ball, misread
from simcaddie.model import arrays as r
from simcaddie.model.arrays import Event
from simcaddie.player.pattern import usable
from simcaddie.player.swing import Player
from simcaddie.weather.day import Day

__all__ = ["Game", "Line", "Phase", "Row", "Shot", "State", "ball_of", "begin", "new_rows", "replay", "step"]

Phase = Literal["choose", "hit", "putt", "over"]
MOST_PUTTS: Final = 9
PUTTS: Final = 1000  # their place among the strokes of a hole, whose luck is drawn by it
_ADVICE: Final = ("?", "help me", "what is best")
_STEPS_BACK: Final = ("undo", "back")
_PICK_UP: Final = ("pick up", "picked up")
_STRIKES: Final = {**{kind: kind for kind in KINDS}, "topped": "thin", "top": "thin", "chunk": "fat", "heavy": "fat"}
_BALL: Final = re.compile(
    r"(?P<carry>\d+(?:[.,]\d+)?)\s*(?P<unit>yds?|m|yards?|metres?)?"
    r"(?:[\s,;]+(?:(?P<first>l|r|left|right)\s*)?(?P<side>[-+−]?\d+(?:[.,]\d+)?)\s*(?P<last>l|r|left|right)?)?",
    re.IGNORECASE,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a device's file: a ball in yards, with its club, and the line that it stands in."""

    club: str
    swing: str
    carry: float
    side: float
    total: float | None
    line: int


Line = str | Row | int  # typed; of the device; or a line of its file up to which balls are older than the round


@dataclass(frozen=True, slots=True)
class Shot:
    """A ball hit on the range and played on the hole; ``rest`` is where it came to rest there, ``total`` as measured.

    ``turned`` is the strike that it was on the hole where that was another, or "failed"; ``entry`` the ledger's.
    """

    ball: Struck
    rest: r.Rest
    turned: str
    entry: Entry
    total: float | None = None


@dataclass(frozen=True)
class State:
    """Where a round stands.

    ``hole`` counts from 0; ``option`` is the stroke that was chosen and is to be hit; ``asked`` tells that best play
    was looked up for it. ``done`` and ``hit`` hold the ledgers and balls of the holes that are finished.
    """

    hole: int
    place: Place
    shots: tuple[Shot, ...] = ()
    option: Option | None = None
    asked: bool = False
    done: tuple[HoleLedger, ...] = ()
    hit: tuple[tuple[Shot, ...], ...] = ()
    over: bool = False
    before: State | None = field(default=None, repr=False)  # as ``undo`` brings it back

    @property
    def phase(self) -> Phase:
        """What is to be typed next."""
        if self.over:
            return "over"
        if on_green(self.place):
            return "putt"
        return "choose" if self.option is None else "hit"


@dataclass(frozen=True)
class Game:
    """What a round on the range is played with: some holes of a course (numbers from 1), the player, the day."""

    walk: Walk
    numbers: tuple[int, ...]

    @property
    def course(self) -> Course:
        """The course."""
        return self.walk.course

    @property
    def player(self) -> Player:
        """The player."""
        return self.walk.player

    @property
    def day(self) -> Day | None:
        """The day, None for a standard one."""
        return self.walk.day

    def reckoner(self, state: State) -> Reckoner:
        """Return what the hole that is being played is worth."""
        return self.walk.reckoner(self.numbers[state.hole])


def begin(game: Game) -> State:
    """Return the state on the first tee."""
    return State(0, game.walk.reckoner(game.numbers[0]).start)


def replay(game: Game, lines: Iterable[Line], state: State | None = None) -> State:
    """Return the state after some lines; those that can't be read change nothing."""
    state = begin(game) if state is None else state
    for line in lines:
        try:
            state = step(game, state, line)
        except BadRequest:
            continue
    return state


def step(game: Game, state: State, line: Line) -> State:
    """Return the state after one line more.

    Raises
    ------
    BadRequest
        With what was expected, where the line can't be read; the state stays as it was.
    """
    if isinstance(line, int):
        return state
    if isinstance(line, Row):
        return _row(game, state, line)
    words = " ".join(line.lower().split())
    if words in _STEPS_BACK:
        if state.before is None:
            raise BadRequest("nothing to take back on this hole")
        return state.before
    if state.over:
        raise BadRequest("the round is over")
    if words in _ADVICE:
        return replace(state, asked=True)
    if words in _PICK_UP:
        left = game.reckoner(state).worth(state.place)
        return _holed_out(game, state, None, left)
    return {"choose": _choose, "hit": _hit, "putt": _putt}[state.phase](game, state, words)


def _choose(game: Game, state: State, words: str) -> State:
    """Take club and target, parted by a comma; the target may be left out."""
    if not words:
        raise BadRequest("type a club and a target, as driver, middle")
    reckoner, (name, _, target) = game.reckoner(state), words.partition(",")
    try:
        swing = swing_named(reckoner, state.place, name)
        here = reckoner.at(state.place)
        swings, lie = game.player.swings, here.place.lie
        if swing < len(swings) and not usable(game.player, swings[swing], game.player.lies[lie]):
            raise BadRequest(f"the {swings[swing].title} can't be used from {lie.replace('_', ' ')}; choose another")
        aim = aim_at(here, target, far_of(reckoner, state.place, swing))
    except ValueError as error:
        raise BadRequest(f"expected a club and a target, as driver, middle: {error}") from None
    return replace(state, option=Option(swing, aim), before=state)


def ball_of(words: str, units: str, guess: Any = None) -> Struck:
    """Return a ball from what is typed: "168 6R", "fat 120", "142,5 -3"; ``guess`` (carry, side) names its strike.

    >>> ball_of("168 6R", "yards"), ball_of("fat 120", "yards")
    (Struck(carry=168.0, side=6.0, kind='solid'), Struck(carry=120.0, side=0.0, kind='fat'))

    Raises
    ------
    BadRequest
        With what was expected.
    """
    kept = [word for word in words.split() if word not in _STRIKES]
    told = next((_STRIKES[word] for word in words.split() if word in _STRIKES), None)
    found = _BALL.fullmatch(" ".join(kept))
    if found is None:
        raise BadRequest(f"expected carry and side, as 168 6R, or fat 120; found '{words[:40]}'")
    unit = LENGTH_UNITS.get((found["unit"] or "").lower(), YARDS_PER[units])
    carry, side = number_of(found["carry"]) * unit, number_of((found["side"] or "0").replace("−", "-")) * unit
    if letter := (found["first"] or found["last"] or "").lower():
        side = -abs(side) if letter[0] == "l" else abs(side)
    return Struck(carry, side, told or (guess(carry, side) if guess else "solid"))


def _chosen(state: State) -> Option:
    if state.option is None:
        raise BadRequest("choose club and target first")
    return state.option


def _hit(game: Game, state: State, words: str) -> State:
    """Take a ball from its numbers as they were typed."""
    reckoner, swing = game.reckoner(state), _chosen(state).swing
    ball = ball_of(words, game.player.units, lambda carry, side: likeliest(reckoner, swing, carry, side))
    return _played(game, state, ball)


def _played(game: Game, state: State, ball: Struck, total: float | None = None) -> State:
    """Take a ball that was hit, and play it on the hole."""
    reckoner, option = game.reckoner(state), _chosen(state)
    for wrong in misread([Ball("", "", ball.carry, ball.side)]):
        if option.swing < len(game.player.swings) or wrong.where != "carry":
            raise BadRequest(f"{wrong.where}: expected {wrong.expected}, found {wrong.found}")
    rng = np.random.default_rng((game.walk.seed, Purpose.ON_THE_RANGE, game.numbers[state.hole], len(state.shots)))
    luck = np.concatenate([rng.standard_normal(3), rng.random(3), rng.standard_normal(1)])
    played = play_struck(reckoner, state.place, option, ball, luck)
    rest, place = played.rest, state.place
    holed = int(rest.event[0]) == Event.HOLED
    after = None if holed else (float(rest.x[0]), float(rest.y[0]), int(rest.surface[0]))
    plan, best = reckoner.best(place)
    entry = Entry(
        place=place,
        option=option,
        plan=plan,
        after=after,
        added=int(rest.added[0]),
        best=best,
        chosen=best if option == plan else reckoner.chosen(place, option),
        strike=played.value,
        came=int(rest.added[0]) + reckoner.worth(after),
        asked=state.asked,
        landed=(float(rest.landing_x[0]), float(rest.landing_y[0])) if rest.added[0] > 1 else None,
    )
    shot = Shot(ball, rest, played.kind if played.kind != ball.kind else "", entry, total)
    new = replace(state, shots=(*state.shots, shot), option=None, asked=False, before=state)
    return _holed_out(game, new, None, 0.0) if after is None else replace(new, place=after)


def _row(game: Game, state: State, row: Row) -> State:
    """Take a device's row, of the club that was chosen."""
    if state.phase != "hit" or state.option is None:
        raise BadRequest(f"row {row.line}: a ball was hit before a club was chosen; it is left out")
    swing = state.option.swing
    mine = swing_title(game.player, swing)
    if swing < len(game.player.swings) and plain_name(row.club) != plain_name(game.player.swings[swing].club):
        raise BadRequest(f"row {row.line}: a ball of the {row.club}, not of the {mine}; left out: type it if it counts")
    kind = likeliest(game.reckoner(state), swing, row.carry, row.side)
    return _played(game, state, Struck(row.carry, row.side, kind), row.total)


def _putt(game: Game, state: State, words: str) -> State:
    """Take the putts that were typed, or nothing: as the player's putting model has it."""
    reckoner = game.reckoner(state)
    found = re.fullmatch(r"(\d)(?: putts?)?", words)
    if words and (found is None or not 1 <= int(found[1]) <= MOST_PUTTS):
        raise BadRequest("expected a number of putts, or Enter for your putting model")
    rng = np.random.default_rng((game.walk.seed, Purpose.ON_THE_RANGE, game.numbers[state.hole], PUTTS))
    law = reckoner.putt_law(state.place)
    taken = int(found[1]) if found else int(rng.choice(law.size, p=law))
    return _holed_out(game, state, reckoner.putted(state.place, taken), 0.0)


def _holed_out(game: Game, state: State, putted: Putted | None, left: float) -> State:
    """Return the state on the next tee, or the round's end."""
    entries = tuple(shot.entry for shot in state.shots)
    ledger = HoleLedger(game.numbers[state.hole], game.reckoner(state), entries, putted, left)
    done, hit = (*state.done, ledger), (*state.hit, state.shots)
    if state.hole + 1 == len(game.numbers):
        return State(state.hole, state.place, done=done, hit=hit, over=True, before=state)
    place = game.walk.reckoner(game.numbers[state.hole + 1]).start
    return State(state.hole + 1, place, done=done, hit=hit, before=state)


# ─── What a device has measured ─────────────────────────────────────────────────────────────────────────────────────


def new_rows(balls: Sequence[Ball], after: int) -> tuple[list[Row], list[str]]:
    """Return the balls of a device's file below the line ``after``, and what is to be said of rows left out.

    A row with the number of an earlier one, or word for word the same as the row above it, is the same ball again.
    """
    rows, said = [], []
    known: set[float | None] = {ball.order for ball in balls if ball.line <= after}
    last: Ball | None = None
    for ball in balls:
        same = last is not None and replace(ball, line=0) == replace(last, line=0)
        last = ball
        if ball.line <= after:
            continue
        if same or (ball.order is not None and ball.order in known):
            said.append(f"row {ball.line} repeats an earlier one: left out")
            continue
        known.add(ball.order)
        rows.append(Row(ball.club, ball.swing, ball.carry, ball.side, ball.total, ball.line))
    return rows, said
