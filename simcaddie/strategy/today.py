"""What the day makes of every swing at one place: the numbers to pencil in before the round.

For a target at distance D the numbers ask which swing, as measured in calm air on the level, lands there: the carries
of the day along the line to the target are set against the calm ones, and D is read back between them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.air.day import STANDARD, Day
from simcaddie.air.table import DAY_CARRY, Struck, day_table
from simcaddie.errors import BadRequest
from simcaddie.golfer.player import Player, Swing
from simcaddie.ground.hole import Hole, Spot
from simcaddie.play import records as r
from simcaddie.play.aloft import Aloft, aloft, height_at
from simcaddie.play.pack import pack
from simcaddie.surfaces import BY_NAME, code
from simcaddie.units import MPS_PER_MPH, angle_between, unit_vector

__all__ = ["SwingToday", "Target", "Today", "rules_of_practice", "today"]

RULE_WIND: Final = 10.0  # mph, in which the model's per cent per mph is read
IRON: Final = 33.0  # degrees of loft: the rule of practice is about irons like a 7 iron
STEP: Final = 25.0  # yd between targets where none were asked for


@dataclass(frozen=True, slots=True)
class SwingToday:
    """One swing on the day: yards, ``side`` and ``calm_side`` to the right of the aim line; ``total`` along it."""

    title: str
    calm: float
    carry: float
    drift: float
    total: float


@dataclass(frozen=True, slots=True)
class Target:
    """A target: yards away, how far up or down it is, the calm level carry that it plays as, and what carries so.

    ``plays`` and ``title`` are None where no swing reaches it, or all carry beyond it.
    """

    far: float
    rise: float
    plays: float | None
    title: str | None


@dataclass(frozen=True, slots=True)
class Today:
    """The answer: swings longest first, then targets along the same line."""

    hole: Hole
    player: Player
    place: Spot
    asked_from: str
    day: Day
    bearing: float
    swings: tuple[SwingToday, ...]
    targets: tuple[Target, ...]


def _plays(calm: NDArray[np.float64], carries: NDArray[np.float64], far: float) -> float | None:
    """Return the calm carry whose carry today is ``far``, between the swings; None beyond them."""
    order = np.argsort(carries)
    if not carries[order[0]] - 5.0 <= far <= carries[order[-1]]:
        return None
    return float(np.interp(far, carries[order], np.maximum.accumulate(calm[order])))


def _targets(
    found: Sequence[tuple[Swing, float, Aloft]], asked: Sequence[float], rises: Sequence[float]
) -> tuple[Target, ...]:
    calm = np.array([carry for _, carry, _ in found])
    carries = np.array([ball.carry for *_, ball in found])
    targets = []
    for far, rise in zip(asked, rises, strict=True):
        plays = _plays(calm, carries, far)
        nearest = int(np.argmin(np.abs(carries - far)))
        targets.append(Target(far, rise, plays, found[nearest][0].title if plays is not None else None))
    return tuple(targets)


def _default_targets(hole: Hole, place: Spot, found: Sequence[tuple[Swing, float, Aloft]]) -> list[float]:
    """Return every 25 yards among the full swings' carries today, and the middle pin where it is in reach."""
    carries = [ball.carry for swing, _, ball in found if swing.name == "full"] or [ball.carry for *_, ball in found]
    first, last = math.ceil(min(carries) / STEP), math.floor(max(carries) / STEP)
    pin = math.dist(place.at, hole.pin())
    return sorted({STEP * k for k in range(first, last + 1)} | ({pin} if pin <= max(carries) else set()))


def today(
    hole: Hole,
    player: Player,
    *,
    day: Day | None = None,
    tee: str | None = None,
    spot: str | None = None,
    pin: str | None = None,
    targets: Sequence[float] = (),
) -> Today:
    """Return what the day makes of each swing that can be used at a place, along the line to the pin.

    ``targets`` are yards along the line; by default every 25 yards that the full swings carry, and the pin.

    Raises
    ------
    BadRequest
        Where the hole has no such place or pin, or no swing can be used there.
    """
    place, day = hole.place(tee, spot), day or STANDARD
    kind = BY_NAME[place.lie]
    if kind.putting or kind.penalty or kind.out:
        raise BadRequest(f"no swing to look at from a lie of '{place.lie}'")
    bearing = angle_between(place.at, hole.pin(pin))
    table = pack(hole, player, place, hole.pin(pin), day=day)
    start = (*place.at, code(place.lie))
    rows = table.swings.table[start[2]]
    found = [
        (swing, float(rows[number, r.SW_SOLID + r.STRIKE_CARRY]), aloft(table, number, start, bearing))
        for number, swing in enumerate(player.swings)
        if rows[number, r.SW_USABLE] > 0.0
    ]
    if not found:
        raise BadRequest(f"{player.name} has no swing to use from a lie of '{place.lie}'")
    found.sort(key=lambda one: -one[1])
    asked = sorted(targets) or _default_targets(hole, place, found)
    rises = [_rise(table, place, unit_vector(bearing), far) for far in asked]
    swings = tuple(
        SwingToday(
            swing.title,
            calm,
            ball.carry,
            ball.side - float(rows[player.swings.index(swing), r.SW_SOLID + r.STRIKE_SIDE]) * ball.landed,
            ball.carry + ball.run,
        )
        for swing, calm, ball in found
    )
    return Today(
        hole=hole,
        player=player,
        place=place,
        asked_from=f"spot {spot}" if spot else f"{tee or next(iter(hole.tees))} tee",
        day=day,
        bearing=bearing,
        swings=swings,
        targets=_targets(found, asked, rises),
    )


def _rise(table: r.Table, place: Spot, line: tuple[float, float], far: float) -> float:
    (x, y), (dx, dy) = place.at, line
    return height_at(table.ground, x + far * dx, y + far * dy) - height_at(table.ground, x, y)


def rules_of_practice(player: Player) -> tuple[str, float, float, float] | None:
    """Return what the model says where a rule of practice does, for the full iron nearest a 7 iron.

    (title, per cent of carry lost per mph into the wind, per cent won per mph downwind, yards of carry lost to a
    target 10 yards above the feet). None where the player has no such iron. The rule: about 1 % a mph into the wind,
    half of that downwind, a yard a yard of height; common practice, no source.
    """
    irons = [s for s in player.swings if s.name == "full" and 20.0 < s.loft < 45.0]
    if not irons:
        return None
    swing = min(irons, key=lambda s: abs(s.loft - IRON))
    struck = [Struck(swing.carry, swing.launch, swing.spin, swing.landing)]
    table = day_table(struck, replace(STANDARD, wind=RULE_WIND * MPS_PER_MPH))[0, :, 0, DAY_CARRY]
    per_yard = 1.0 / math.tan(math.radians(swing.landing))
    return swing.title, 100 * (1 - table[table.size // 2]) / RULE_WIND, 100 * (table[0] - 1) / RULE_WIND, 10 * per_yard
