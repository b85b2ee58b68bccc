"""The ledger of strokes that were played: what each came to, split into choice, execution, luck and putts.

With V(p) the strokes that best play needs from a place p, Q(p, a) what the stroke a chosen there comes to on average
over the player's own strikes, and M(p, a, b) what it comes to with the strike b that was made, averaged over all that
the ground does with that strike (run, trees, finding the ball, gusts), a stroke that counts n strokes and is played
on from p′ splits as

    n + V(p′) − V(p)  =  [Q − V(p)]  +  [M − Q]  +  [n + V(p′) − M]
                          choice        execution    luck

exactly, whatever V, Q and M are, and on the green putts taken less their mean. Over a hole V(p′) of one stroke is V(p)
of the next, so all parts add up to the score less V(tee). Q and V are looked ahead to from the very place: V(p) is Q of
the stroke that is best there. So choice is nothing where the plan is played; as Q is the mean of M over the player's
strikes, execution has the mean 0 for the player himself, and luck for everybody.

Where only the finish of a ball is known (``decision/finishes.py``), M is its mean over those of the player's own
strikes, of that choice, that finish so. That is a conditional mean of M: its mean over rounds is Q as far as the words
are no wider than the golfer's memory; told to five yards, luck comes out 0.02 to 0.04 strokes a hole too good.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simcaddie.base.streams import Purpose
from simcaddie.base.surfaces import NAMES, SURFACES
from simcaddie.course.hole import Spot
from simcaddie.course.played import Finish
from simcaddie.decision.best_aims import Line, best_lines, fan
from simcaddie.decision.options import Option, scene_turn, swings_to_compare
from simcaddie.decision.position import Position
from simcaddie.model import arrays as r
from simcaddie.model.batch import asked, in_chunks, play, rows_of
from simcaddie.model.left import strokes_left
from simcaddie.model.states import states_at
from simcaddie.player.putting import MAX_PUTTS
from simcaddie.solve.ahead import NODES, Ahead
from simcaddie.solve.quadrature import SETS, node_sets
from simcaddie.solve.transitions import Steps, putt_pmfs
from simcaddie.solve.values import take_steps

__all__ = [
    "GROUND_NODES",
    "Entry",
    "HoleLedger",
    "Parts",
    "Place",
    "Putted",
    "Reckoner",
    "ground_means",
    "on_green",
    "own_draws",
    "same_strike",
    "stroke_values",
    "total",
]

Floats = NDArray[np.float64]
Place = tuple[float, float, int]  # x, y in yd, the lie's code

GROUND_NODES: Final = 64
GROUND_SETS: Final = 2048  # where many strokes are looked at: with few sets for all their errors would add up
OWN_BALLS: Final = 8192
SPREAD_BALLS: Final = 128  # of a choice, that tell how far execution and luck spread
_PUTTED: Final = np.array([kind.putting for kind in SURFACES])
_FIXED: Final = [r.DRAW_CARRY, r.DRAW_SIDE, r.DRAW_STRIKE]


def on_green(place: Place) -> bool:
    """Tell whether a ball at a place is putted."""
    return bool(_PUTTED[place[2]])


# ─── Many strokes at once ───────────────────────────────────────────────────────────────────────────────────────────


class Parts(NamedTuple):
    """V(p), Q, M and n + V(p′) of strokes, float64[stroke]; their differences are the parts."""

    best: Floats
    chosen: Floats
    strike: Floats
    came: Floats

    @property
    def choice(self) -> Floats:
        """What the choice cost against best play."""
        return self.chosen - self.best

    @property
    def execution(self) -> Floats:
        """What the strike cost against the player's own average."""
        return self.strike - self.chosen

    @property
    def luck(self) -> Floats:
        """What the ground cost against its average."""
        return self.came - self.strike


def stroke_values(ahead: Ahead, rows: r.Asked, sets: int = SETS) -> Floats:
    """Return Q of strokes from any places, float64[stroke], each over ``sets`` (a power of two) sets of first balls."""
    nodes, count = node_sets(NODES, Purpose.ANSWER, SETS, ahead.seed).draws, NODES * sets
    out, to_go = np.zeros(rows.x.size), ahead.mean_to_go
    turns = rows._replace(draw=np.arange(rows.x.size) * count % nodes.shape[1])

    def use(rest: r.Rest, first: int, last: int) -> None:
        some = r.Rest._make(column[: (last - first) * count] for column in rest)
        worth = some.added + strokes_left(ahead.problem, to_go, some)
        out[first:last] = worth.reshape(-1, count).mean(axis=1)

    in_chunks(ahead.problem, ahead.to_go, rows.x.size, rows_of(turns), nodes, count, use)
    return out


def same_strike(draws: Floats, seed: int = 0, count: int = GROUND_NODES) -> Floats:
    """Return strikes of ``draws`` float64[7, stroke], each ``count`` times on other ground, as a further axis.

    Carry, side and kind of strike stay, run, trees, finding the ball and gusts are nodes.
    """
    sets = GROUND_SETS if draws.shape[1] > SETS else SETS
    nodes = node_sets(count, Purpose.GROUND, sets, seed).draws[: r.DRAWS + 1].reshape(r.DRAWS + 1, sets, count)
    again = nodes[:, np.arange(draws.shape[1]) % sets].copy()
    again[_FIXED] = draws[_FIXED, :, None]
    return again


def ground_means(ahead: Ahead, rows: r.Asked, draws: Floats) -> tuple[Floats, Floats]:
    """Return M of strokes, and its variance over the ground: float64[stroke] each; ``draws`` as ``same_strike``'s."""
    count = draws.shape[2]
    turns = rows._replace(draw=np.arange(rows.x.size) * count)
    rest = play(ahead.problem, ahead.to_go, turns, np.ascontiguousarray(draws.reshape(draws.shape[0], -1)), count)
    worth = (rest.added + strokes_left(ahead.problem, ahead.mean_to_go, rest)).reshape(-1, count)
    return worth.mean(axis=1), worth.var(axis=1, ddof=1) if count > 1 else np.zeros(rows.x.size)


def own_draws(seed: int, count: int = OWN_BALLS) -> Floats:
    """Return draws of a player's own strokes, float64[7, count], a power of two."""
    return node_sets(count, Purpose.FINISHES, 1, seed).draws[: r.DRAWS + 1]


def _lying(place: Place) -> r.Rest:
    """Return one ball at rest."""
    ball = r.Rest.empty(1)
    ball.x[0], ball.y[0], ball.surface[0] = place
    return ball


# ─── One stroke of a player on a hole ───────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True)
class Reckoner:
    """What places and strokes are worth to one player on one hole; ``position`` is at its tee, to one pin."""

    position: Position
    _best: dict[Place, tuple[Option, float]] = field(default_factory=dict, repr=False)
    _lines: dict[Place, dict[int, Line]] = field(default_factory=dict, repr=False)

    @property
    def ahead(self) -> Ahead:
        """The look-ahead to best play."""
        return self.position.aheads[0]

    @property
    def start(self) -> Place:
        """The tee."""
        return self.position.start

    def at(self, place: Place) -> Position:
        """Return the scene at a place."""
        return replace(self.position, place=Spot(place[:2], NAMES[place[2]]))

    def rows(self, place: Place, swing: ArrayLike, bearing: ArrayLike) -> r.Asked:
        """Return rows of strokes from a place; ``bearing`` in radians clockwise from +y."""
        return asked(*place, swing, bearing)

    def chosen(self, place: Place, option: Option) -> float:
        """Return Q of a stroke from a place."""
        bearing = self.at(place).pin_line + math.radians(option.aim)
        return float(stroke_values(self.ahead, self.rows(place, option.swing, bearing))[0])

    def lines(self, place: Place) -> dict[int, Line]:
        """Return each usable swing's best line at a place, the plan's own stroke among them."""
        if place not in self._lines:
            here, solution = self.at(place), self.position.solutions[0]
            state = int(states_at(solution.problem.states, place[2], place[0], place[1]))
            swing, aim = int(solution.policy.swing[state]), math.degrees(float(solution.policy.bearing[state]))

            def look(swings: Sequence[int], aims: Sequence[float], sets: int) -> Floats:
                bearings = here.pin_line + np.radians(aims)
                return np.asarray(self.ahead.means(place, swings, bearings, sets, Purpose.LOOK).mean(axis=1))

            swings = swings_to_compare(here)
            found = best_lines(look, swings, fan([0.0, scene_turn(here), aim if abs(aim) < 90.0 else 0.0]), 1.0)
            own = Line(swing, aim, float(look([swing], [aim], SETS // 8)[0]))
            if swing not in found or own.worth <= found[swing].worth:
                found[swing] = own
            self._lines[place] = found
        return self._lines[place]

    def best(self, place: Place) -> tuple[Option, float]:
        """Return the best stroke at a place and V there.

        It is looked for with other first balls than those that value it, so V is no lucky figure.
        """
        if place not in self._best:
            line = min(self.lines(place).values(), key=lambda each: each.worth)
            option = Option(line.swing, line.aim)
            self._best[place] = option, self.chosen(place, option)
        return self._best[place]

    def worth(self, place: Place | None) -> float:
        """Return V at a place: the mean putts on the green, 0 in the hole (None)."""
        if place is None:
            return 0.0
        if not on_green(place):
            return self.best(place)[1]
        return float(strokes_left(self.ahead.problem, self.ahead.mean_to_go, _lying(place))[0])

    def putt_law(self, place: Place) -> Floats:
        """Return the chance of 0, 1, … 5 putts from a place on the green, float64[6]."""
        problem = self.ahead.problem
        steps = Steps(np.zeros((1, 1), np.int32), np.zeros((1, 1), np.int8), np.zeros((1, MAX_PUTTS + 1)))
        take_steps(problem, _lying(place), 1, putt_pmfs(problem), steps, 0, 1)
        return np.asarray(steps.green[0] / steps.green[0].sum())

    def putted(self, place: Place, taken: int) -> Putted:
        """Return so many putts from a place beside what they are on average."""
        law, mean = self.putt_law(place), self.worth(place)
        return Putted(place, taken, mean, float(np.sqrt(law @ (np.arange(law.size) - mean) ** 2)))

    def spreads(self, place: Place, option: Option) -> tuple[float, float]:
        """Return how far execution and luck of a choice spread for the player himself: two sds, in strokes."""
        bearing = self.at(place).pin_line + math.radians(option.aim)
        draws = own_draws(self.ahead.seed, SPREAD_BALLS)
        rows = self.rows(place, np.full(SPREAD_BALLS, option.swing), bearing)
        means, within = ground_means(self.ahead, rows, same_strike(draws, self.ahead.seed, GROUND_NODES // 2))
        noise = float(within.mean())
        return math.sqrt(max(0.0, float(means.var()) - noise / (GROUND_NODES // 2))), math.sqrt(noise)


# ─── The ledger of a hole ───────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Entry:
    """One stroke off the green: what was chosen at ``place``, what best play is there, and what it came to.

    ``after`` is where the next stroke is played from, None in the hole; ``added`` counts penalty strokes too; ``best``
    … ``came`` are V, Q, M and n + V(p′) of the module's head; ``spreads`` the sds of execution and luck for the player
    himself. ``asked`` tells that the plan was looked up before it was played; ``landed`` where a ball came down that
    wasn't played from where it finished; ``known`` that some of the player's own balls finish so; ``finish`` is
    what was told of it.
    """

    place: Place
    option: Option
    plan: Option
    after: Place | None
    added: int
    best: float
    chosen: float
    strike: float
    came: float
    spreads: tuple[float, float] = (0.0, 0.0)
    asked: bool = False
    landed: tuple[float, float] | None = None
    known: bool = True
    finish: Finish | None = None

    @property
    def cost(self) -> float:
        """What the stroke cost in all."""
        return self.came - self.best

    @property
    def choice(self) -> float:
        """What the choice cost against best play."""
        return self.chosen - self.best

    @property
    def execution(self) -> float:
        """What the strike cost against the player's own average."""
        return self.strike - self.chosen

    @property
    def luck(self) -> float:
        """What the ground cost against its average."""
        return self.came - self.strike


@dataclass(frozen=True, slots=True)
class Putted:
    """Putts from a place on the green: how many were taken, their mean and sd for the player himself."""

    place: Place
    taken: int
    mean: float
    sd: float = 0.0

    @property
    def cost(self) -> float:
        """Putts taken beyond the mean."""
        return self.taken - self.mean


@dataclass(frozen=True)
class HoleLedger:
    """A hole as it was played; ``expected`` is V at the tee, ``left`` V where the ball was picked up, else 0."""

    number: int
    reckoner: Reckoner
    entries: tuple[Entry, ...]
    putted: Putted | None
    left: float = 0.0

    @property
    def strokes(self) -> int:
        """Strokes played, penalties counted."""
        return sum(entry.added for entry in self.entries) + (self.putted.taken if self.putted else 0)

    @property
    def score(self) -> float:
        """Strokes on the hole; one that was picked up counts what best play would still have needed."""
        return self.strokes + self.left

    @cached_property
    def expected(self) -> float:
        """What best play needs from the tee."""
        return self.reckoner.worth(self.reckoner.start)

    @property
    def choice(self) -> float:
        """What the choices cost."""
        return sum(entry.choice for entry in self.entries)

    @property
    def execution(self) -> float:
        """What the strikes cost."""
        return sum(entry.execution for entry in self.entries)

    @property
    def luck(self) -> float:
        """What the ground cost."""
        return sum(entry.luck for entry in self.entries)

    @property
    def putting(self) -> float:
        """Putts beyond their mean."""
        return self.putted.cost if self.putted else 0.0

    @property
    def parts(self) -> tuple[float, float, float, float]:
        """Choice, execution, luck and putting: they add up to the score less what was expected."""
        return self.choice, self.execution, self.luck, self.putting


def total(ledgers: Iterable[HoleLedger]) -> tuple[float, float, float, float]:
    """Return the four parts of some holes together."""
    columns = list(zip(*(ledger.parts for ledger in ledgers), strict=True)) or [(0.0,)] * 4
    choice, execution, luck, putting = (sum(column) for column in columns)
    return choice, execution, luck, putting
