"""The scene of a question: one player on one hole, at one place, to one pin or to all of them.

It holds, per pin, a packed table and a solution: the policy that plays on (best play, or an everyday policy) and its
score law. A question to several pins shares its sequences out equally among them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from simcaddie.air.day import Day
from simcaddie.errors import BadRequest
from simcaddie.golfer.player import Player
from simcaddie.ground.grid import area_grid
from simcaddie.ground.hole import Hole, Spot
from simcaddie.play import records as r
from simcaddie.play.everyday import everyday, guess_to_go
from simcaddie.play.pack import pack
from simcaddie.simulate import Outcome, first_strokes, play_sequences
from simcaddie.solve import Aim, Lookahead, Solution, aimed_policy, follow, solve
from simcaddie.surfaces import BY_NAME, code

__all__ = ["THENS", "Scene", "Then", "set_scene"]

Then = Literal["best", "sound", "usual"]
THENS: Final[tuple[Then, ...]] = ("best", "sound", "usual")


@dataclass(frozen=True, slots=True)
class Scene:
    """``solutions`` and ``lookaheads`` hold one item a pin, ``policies`` what plays on; ``cap``: pick up there.

    No ``day`` is a standard one.
    """

    hole: Hole
    player: Player
    place: Spot
    pins: tuple[tuple[float, float], ...]
    solutions: tuple[Solution, ...]
    policies: tuple[r.Policy, ...]
    lookaheads: tuple[Lookahead, ...]
    then: Then
    cap: int
    day: Day | None = None

    @property
    def pin_line(self) -> float:
        """Bearing in radians from the place to the pin asked for (the default one where all are)."""
        pin = self.pins[0] if len(self.pins) == 1 else self.hole.pin()
        return math.atan2(pin[0] - self.place.at[0], pin[1] - self.place.at[1])

    def ahead(self, swing: int, aim: float, nodes: int) -> float:
        """Return the worth of a first stroke by look-ahead, ``aim`` in degrees right of the pin; less is better."""
        bearing = self.pin_line + math.radians(aim)
        return sum(look(swing, bearing, nodes) for look in self.lookaheads) / len(self.lookaheads)

    def first(self, swing: int, bearing: float, key: np.uint64, n: int) -> list[r.Rest]:
        """Play ``n`` first strokes per pin."""
        start = (*self.place.at, code(self.place.lie))
        return [first_strokes(s.table, s.value, start, swing, bearing, key, n) for s in self.solutions]

    def play(self, swing: int, bearing: float, key: np.uint64, n: int) -> Outcome:
        """Play about ``n`` whole sequences, shared equally among the pins, in mirrored pairs."""
        each = 2 * max(1, round(n / (2 * len(self.pins))))
        parts = [
            play_sequences(solution.table, policy, solution.value, first, key, self.cap)
            for solution, policy, first in zip(
                self.solutions, self.policies, self.first(swing, bearing, key, each), strict=True
            )
        ]
        return parts[0] if len(parts) == 1 else _joined(parts)

    def distance_left(self, first: r.Rest) -> NDArray[np.float64]:
        """Return the yards to the pin that first balls leave; balls are in pin order."""
        pins = np.repeat(np.array(self.pins), first.x.size // len(self.pins), axis=0)
        return np.asarray(np.hypot(first.x - pins[:, 0], first.y - pins[:, 1]))

    def playing(self, then: Literal["sound", "usual"]) -> Scene:
        """Return the scene with another way to play on, for simulation only: its look-aheads stay those of this one."""
        return replace(
            self,
            policies=tuple(everyday(s.table, self.player, then, self.hole.green_middle) for s in self.solutions),
            then=then,
        )

    def with_player(self, player: Player) -> Scene:
        """Return the scene with another player's patterns and this scene's policy to play on, for simulation only."""
        grid = area_grid(self.hole)
        tables = [pack(self.hole, player, self.place, pin, grid=grid, day=self.day) for pin in self.pins]
        solutions = [replace(s, table=table) for s, table in zip(self.solutions, tables, strict=True)]
        return replace(self, player=player, solutions=tuple(solutions))


def _joined(parts: Sequence[Outcome]) -> Outcome:
    return Outcome(
        score=np.concatenate([part.score for part in parts]),
        penalties=np.concatenate([part.penalties for part in parts]),
        picked_up=np.concatenate([part.picked_up for part in parts]),
        first=r.Rest(*(np.concatenate(column) for column in zip(*(part.first for part in parts), strict=True))),
    )


def set_scene(
    hole: Hole,
    player: Player,
    *,
    tee: str | None = None,
    spot: str | None = None,
    pin: str | None = None,
    then: Then = "best",
    aim: Aim | None = None,
    cap: int = 12,
    day: Day | None = None,
) -> Scene:
    """Return the scene at a tee (the first by default) or spot, to a pin by name, or to "any": all of them.

    ``aim`` is what totals from the place are worth, lower being better; None stands for the strokes themselves. Best
    play follows it.

    Raises
    ------
    BadRequest
        Where the hole has no such place or pin, or the place asks for no stroke but a putt.
    """
    place = hole.place(tee, spot)
    kind = BY_NAME[place.lie]
    if kind.putting or kind.penalty or kind.out:
        raise BadRequest(f"no choice of club to compare from a lie of '{place.lie}'")
    pins = tuple(hole.pins.values()) if pin == "any" else (hole.pin(pin),)
    grid, start = area_grid(hole), (*place.at, code(place.lie))
    solutions, policies, lookaheads = [], [], []
    for at in pins:
        table = pack(hole, player, place, at, grid=grid, day=day)
        if then == "best":
            solution = solve(table, grid, start, cap=cap)
        else:
            policy = everyday(table, player, then, hole.green_middle)
            solution = follow(table, policy, guess_to_go(table), start, cap=cap)
        policy, worth = solution.policy, None
        if aim is not None and then == "best":
            policy, worth = aimed_policy(solution, aim)
        solutions.append(solution)
        policies.append(policy)
        lookaheads.append(Lookahead.of(solution, aim or _strokes, start, worth))
    return Scene(hole, player, place, pins, tuple(solutions), tuple(policies), tuple(lookaheads), then, cap, day)


def _strokes(total: NDArray[np.float64]) -> NDArray[np.float64]:
    return total
