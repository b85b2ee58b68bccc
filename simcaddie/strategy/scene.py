"""The scene of a question: one player on one hole, at one place, to one pin or to all of them.

It holds a packed table and a policy per pin, and plays whole sequences on them. A question to several pins shares its
sequences out equally among them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from simcaddie.errors import BadRequest
from simcaddie.golfer.player import Player
from simcaddie.ground.grid import area_grid
from simcaddie.ground.hole import Hole, Spot
from simcaddie.play import records as r
from simcaddie.play.everyday import everyday, guess_to_go
from simcaddie.play.pack import pack
from simcaddie.simulate import Outcome, first_strokes, play_sequences
from simcaddie.surfaces import BY_NAME, code

__all__ = ["Scene", "Then", "set_scene"]

Then = Literal["sound", "usual"]


@dataclass(frozen=True, slots=True)
class Scene:
    """``tables``, ``policies`` and ``values`` hold one item a pin; ``cap``: pick up there."""

    hole: Hole
    player: Player
    place: Spot
    pins: tuple[tuple[float, float], ...]
    tables: tuple[r.Table, ...]
    policies: tuple[r.Policy, ...]
    values: tuple[r.Value, ...]
    then: Then
    cap: int

    @property
    def pin_line(self) -> float:
        """Bearing in radians from the place to the pin asked for (the default one where all are)."""
        pin = self.pins[0] if len(self.pins) == 1 else self.hole.pin()
        return math.atan2(pin[0] - self.place.at[0], pin[1] - self.place.at[1])

    def first(self, swing: int, bearing: float, key: np.uint64, n: int) -> list[r.Rest]:
        """Play ``n`` first strokes per pin."""
        start = (*self.place.at, code(self.place.lie))
        return [
            first_strokes(table, value, start, swing, bearing, key, n)
            for table, value in zip(self.tables, self.values, strict=True)
        ]

    def play(self, swing: int, bearing: float, key: np.uint64, n: int) -> Outcome:
        """Play about ``n`` whole sequences, shared equally among the pins, in mirrored pairs."""
        each = 2 * max(1, round(n / (2 * len(self.pins))))
        parts = [
            play_sequences(table, policy, value, first, key, self.cap)
            for table, policy, value, first in zip(
                self.tables, self.policies, self.values, self.first(swing, bearing, key, each), strict=True
            )
        ]
        return parts[0] if len(parts) == 1 else _joined(parts)

    def distance_left(self, first: r.Rest) -> NDArray[np.float64]:
        """Return the yards to the pin that first balls leave; balls are in pin order."""
        pins = np.repeat(np.array(self.pins), first.x.size // len(self.pins), axis=0)
        return np.asarray(np.hypot(first.x - pins[:, 0], first.y - pins[:, 1]))


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
    then: Then = "sound",
    cap: int = 12,
) -> Scene:
    """Return the scene at a tee (the first by default) or spot, to a pin by name, or to "any": all of them.

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
    grid = area_grid(hole)
    tables = tuple(pack(hole, player, place, at, grid=grid) for at in pins)
    centre = hole.green.centroid
    return Scene(
        hole=hole,
        player=player,
        place=place,
        pins=pins,
        tables=tables,
        policies=tuple(everyday(table, player, then, (centre.x, centre.y)) for table in tables),
        values=tuple(guess_to_go(table) for table in tables),
        then=then,
        cap=cap,
    )
