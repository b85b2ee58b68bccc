"""The scene of a question: one player on one hole, at one place, to one pin or to all of them.

It holds, per pin, a packed table and a solution: what plays on (best play, or an everyday policy) and its score law.
First strokes are answered by looking ahead; whole sequences are there to hold the answers against. A question to
several pins is the average over them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simcaddie.base.errors import BadRequest
from simcaddie.base.streams import Purpose
from simcaddie.base.surfaces import BY_NAME, code
from simcaddie.course.grid import area_grid
from simcaddie.course.hole import Hole, Spot
from simcaddie.decision.unfinished import refuse_unfinished
from simcaddie.model import arrays as r
from simcaddie.model.build import pack, pack_swings
from simcaddie.model.heuristics import everyday, guess_to_go
from simcaddie.model.left import strokes_left
from simcaddie.player.swing import Player
from simcaddie.simulate import Luck, Outcome, first_strokes, play_sequences
from simcaddie.solve.ahead import Ahead, Balls
from simcaddie.solve.memo import followed, solved
from simcaddie.solve.objective import Aim, aimed_policy
from simcaddie.solve.quadrature import SETS, node_sets
from simcaddie.solve.solution import USUAL, Solution
from simcaddie.weather.day import Day

__all__ = ["THENS", "Position", "Then", "set_position"]

Then = Literal["best", "sound", "usual"]
THENS: Final[tuple[Then, ...]] = ("best", "sound", "usual")
LUCK_NODES: Final = 16  # balls that tell what a stroke was expected to come to
LUCK_SETS: Final = 8192  # more than sequences, so that each stroke of each has balls of its own
ROUGHLY: Final = (64, 512)  # nodes of a state for what plays on where only the order of clubs is asked for

Floats = NDArray[np.float64]
Place = tuple[float, float, int]


@dataclass(frozen=True, slots=True)
class Position:
    """``solutions`` and ``aheads`` hold one item a pin, ``policies`` what plays on; ``cap``: pick up there.

    ``worth`` float64[cap + 1] is what each total from the place is worth, lower being better. No ``day`` is a standard
    one.
    """

    hole: Hole
    player: Player
    place: Spot
    pins: tuple[tuple[float, float], ...]
    solutions: tuple[Solution, ...]
    policies: tuple[r.Policy, ...]
    aheads: tuple[Ahead, ...]
    then: Then
    worth: Floats
    day: Day | None = None

    @property
    def cap(self) -> int:
        """Strokes from the place at which the ball is picked up."""
        return self.worth.size - 1

    @property
    def start(self) -> Place:
        """The place: x and y in yards, the lie's code."""
        return (*self.place.at, code(self.place.lie))

    @property
    def pin_line(self) -> float:
        """Bearing in radians from the place to the pin asked for (the default one where all are)."""
        pin = self.pins[0] if len(self.pins) == 1 else self.hole.pin()
        return math.atan2(pin[0] - self.place.at[0], pin[1] - self.place.at[1])

    @property
    def own_aim(self) -> float:
        """The aim of best play's first stroke (to the first pin), degrees right of the pin."""
        solution = self.solutions[0]
        (px, py), (x, y) = self.pins[0], self.place.at
        bearing = math.atan2(px - x, py - y) + float(solution.policy.bearing[solution.problem.states.start])
        return math.degrees(math.remainder(bearing - self.pin_line, 2 * math.pi))

    def pmfs(self, swings: ArrayLike, aims: ArrayLike, sets: int = SETS, purpose: int = Purpose.ANSWER) -> Floats:
        """Return the law of strokes from the place of first strokes, float64[row, set, cap + 1].

        ``aims`` are degrees right of the pin line; rows and sets are paired: they share their random numbers.
        """
        bearings = self.pin_line + np.radians(aims)
        pmfs = [ahead.pmfs(self.start, swings, bearings, sets, purpose) for ahead in self.aheads]
        return np.asarray(sum(pmfs[1:], pmfs[0]) / len(pmfs))

    def worths(self, swings: ArrayLike, aims: ArrayLike, sets: int, purpose: int = Purpose.LOOK) -> Floats:
        """Return the mean worth of first strokes, float64[row], by look-ahead; less is better."""
        return np.asarray(self.pmfs(swings, aims, sets, purpose).mean(axis=1) @ self.worth)

    def balls(self, swing: int, aim: float, sets: int = SETS) -> Balls:
        """Return the first balls behind ``pmfs``, those of a pin after each other, with the mean strokes of each."""
        bearing = self.pin_line + math.radians(aim)
        found = [ahead.balls(self.start, swing, bearing, sets) for ahead in self.aheads]
        rest = r.Rest.joined(one.rest for one in found)
        return Balls(rest, np.concatenate([one.strokes for one in found]))

    def set_means(self, strokes: Floats) -> Floats:
        """Return the means over sets of a number for each of the ``balls``: independent draws, float64[set]."""
        return np.asarray(strokes.reshape(len(self.pins), SETS, -1).mean(axis=(0, 2)))

    def first(self, swing: int, bearing: float, key: np.uint64, n: int) -> list[r.Rest]:
        """Play ``n`` first strokes per pin."""
        return [first_strokes(s.problem, s.value, self.start, swing, bearing, key, n) for s in self.solutions]

    def play(self, swing: int, aim: float, key: np.uint64, n: int, *, luck: bool = False) -> Outcome:
        """Play about ``n`` whole sequences, shared equally among the pins, in mirrored pairs.

        With ``luck`` the outcome's ``luck`` is what the first ball leaves to be expected, its stroke counted, and
        all luck after it: scores less that have the mean 0 and a small spread.
        """
        each, bearing = 2 * max(1, round(n / (2 * len(self.pins)))), self.pin_line + math.radians(aim)
        found = []
        parts = zip(self.solutions, self.policies, self.aheads, self.first(swing, bearing, key, each), strict=True)
        for solution, policy, ahead, first in parts:
            to_go = ahead.mean_to_go if luck else None
            taken = (
                None if to_go is None else Luck(to_go, node_sets(LUCK_NODES, Purpose.LUCK, LUCK_SETS).draws, LUCK_NODES)
            )
            outcome = play_sequences(solution.problem, policy, solution.value, first, key, self.cap, luck=taken)
            if to_go is not None and outcome.luck is not None:
                due = first.added + strokes_left(solution.problem, to_go, first)
                outcome = replace(outcome, luck=outcome.luck + due)
            found.append(outcome)
        return found[0] if len(found) == 1 else _joined(found)

    def distance_left(self, first: r.Rest) -> Floats:
        """Return the yards to the pin that first balls leave; balls are in pin order."""
        pins = np.repeat(np.array(self.pins), first.x.size // len(self.pins), axis=0)
        return np.asarray(np.hypot(first.x - pins[:, 0], first.y - pins[:, 1]))

    def playing(self, then: Literal["sound", "usual"]) -> Position:
        """Return the scene with another way to play on, roughly valued."""
        found = [_by_habit(self.hole, self.player, then, s.problem, self.start, self.cap, s) for s in self.solutions]
        return replace(self._on(found), then=then)

    def with_player(self, player: Player) -> Position:
        """Return the scene with another player's swings and this scene's policy to play on, roughly valued."""
        swings = pack_swings(player)

        def again(s: Solution) -> Solution:
            problem, own = s.problem._replace(swings=swings), s.policy
            given = {"cap": self.cap, "nodes": ROUGHLY, "visits": s.visits}
            return followed(problem, lambda: own, (own,), s.value.to_go, self.start, **given)  # type: ignore[arg-type]

        return replace(self._on([again(s) for s in self.solutions]), player=player)

    def _on(self, solutions: Sequence[Solution]) -> Position:
        """Return the scene with other solutions to play on."""
        aheads = tuple(Ahead.of(solution, seed=self.aheads[0].seed) for solution in solutions)
        return replace(self, solutions=tuple(solutions), policies=tuple(s.policy for s in solutions), aheads=aheads)


def _by_habit(
    hole: Hole,
    player: Player,
    then: Literal["sound", "usual"],
    problem: r.Problem,
    start: Place,
    cap: int,
    known: Solution | None = None,
) -> Solution:
    """Return what an everyday policy comes to; roughly, where best play is ``known``."""
    trust, centre = tuple(swing.trust for swing in player.swings), hole.green_middle
    to_go = guess_to_go(problem).to_go if known is None else known.value.to_go
    nodes, visits = (USUAL.value, None) if known is None else (ROUGHLY, known.visits)
    name = (then, trust, centre)
    return followed(
        problem,
        lambda: everyday(problem, player, then, centre),
        name,
        to_go,
        start,
        cap=cap,
        nodes=nodes,
        visits=visits,
    )


def _joined(parts: Sequence[Outcome]) -> Outcome:
    luck = [part.luck for part in parts if part.luck is not None]
    return Outcome(
        score=np.concatenate([part.score for part in parts]),
        picked_up=np.concatenate([part.picked_up for part in parts]),
        parts=np.concatenate([part.parts for part in parts]),
        first=r.Rest.joined(part.first for part in parts),
        luck=np.concatenate(luck) if luck else None,
    )


def set_position(
    hole: Hole,
    player: Player,
    *,
    tee: str | None = None,
    spot: str | None = None,
    pin: str | None = None,
    then: Then = "best",
    aim: Aim | None = None,
    played: int = 0,
    cap: int = 12,
    day: Day | None = None,
    seed: int = 1,
) -> Position:
    """Return the scene at a tee (the first by default) or spot, to a pin by name, or to "any": all of them.

    ``aim`` is what totals from the place are worth, lower being better, and best play follows it; None stands for the
    strokes themselves, those ``played`` before counted. ``seed`` picks the first balls that answer.

    Raises
    ------
    BadRequest
        Where the hole has no such place or pin, the place asks for no stroke but a putt, or best play never ends.
    """
    place = hole.place(tee, spot)
    if not BY_NAME[place.lie].swung:
        raise BadRequest(f"no choice of club to compare from a lie of '{place.lie}'")
    pins = tuple(hole.pins.values()) if pin == "any" else (hole.pin(pin),)
    grid, start = area_grid(hole), (*place.at, code(place.lie))
    solutions, policies, aheads = [], [], []
    totals = np.arange(cap + 1.0)
    for at in pins:
        problem = pack(hole, player, place, at, grid=grid, day=day)
        if then == "best":
            solution = solved(problem, grid, start, cap=cap)
            refuse_unfinished(solution, hole, player)
        else:
            solution = _by_habit(hole, player, then, problem, start, cap)
        policy, after = solution.policy, None
        if aim is not None and then == "best":
            policy, after = aimed_policy(solution, aim)
        solutions.append(solution)
        policies.append(policy)
        aheads.append(Ahead.of(solution, after, seed))
    worth = totals + played if aim is None else aim(totals)
    return Position(hole, player, place, pins, tuple(solutions), tuple(policies), tuple(aheads), then, worth, day)
