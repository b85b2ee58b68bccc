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

from simcaddie.base.errors import BadRequest
from simcaddie.base.surfaces import BY_NAME, code
from simcaddie.base.units import MPS_PER_MPH, angle_between, unit_vector
from simcaddie.course.hole import Hole, Spot
from simcaddie.model import arrays as r
from simcaddie.model.average import aloft, height_at
from simcaddie.model.build import pack
from simcaddie.player.swing import Player
from simcaddie.weather.day import STANDARD, Day
from simcaddie.weather.table import DAY_CARRY, Struck, day_table

__all__ = ["SwingToday", "Target", "Today", "rules_of_practice", "today"]

RULE_WIND: Final = 10.0  # mph, in which the model's per cent per mph is read
IRON: Final = 33.0  # degrees of loft: the rule of practice is about irons like a 7 iron
STEP: Final = 25.0  # yd between targets where none were asked for


@dataclass(frozen=True, slots=True)
class SwingToday:
    """One swing on the day, ``full`` or part: yards, ``drift`` to the right of the aim line, ``total`` along it."""

    title: str
    full: bool
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


def _target(swings: Sequence[SwingToday], far: float, rise: float) -> Target:
    """Return a target: it plays as the calm carry whose carry today is ``far``, read between the swings."""
    calm, carries = np.array([(swing.calm, swing.carry) for swing in swings]).T
    order = np.argsort(carries)
    if not carries[order[0]] - 5.0 <= far <= carries[order[-1]]:
        return Target(far, rise, None, None)
    plays = np.interp(far, carries[order], np.maximum.accumulate(calm[order]))
    return Target(far, rise, float(plays), swings[int(np.argmin(np.abs(carries - far)))].title)


def _default_targets(hole: Hole, place: Spot, swings: Sequence[SwingToday]) -> list[float]:
    """Return every 25 yards among the full swings' carries today, and the middle pin where it is in reach."""
    carries = [swing.carry for swing in swings if swing.full] or [swing.carry for swing in swings]
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
    if not BY_NAME[place.lie].swung:
        raise BadRequest(f"no swing to look at from a lie of '{place.lie}'")
    bearing = angle_between(place.at, hole.pin(pin))
    problem = pack(hole, player, place, hole.pin(pin), day=day)
    start = (*place.at, code(place.lie))
    rows = problem.swings.rows[start[2]]
    swings = []
    for number, swing in enumerate(player.swings):
        row = rows[number]
        if row[r.SW_USABLE] > 0.0:
            ball = aloft(problem, number, start, bearing)
            calm, aside = (float(row[r.SW_SOLID + part]) for part in (r.STRIKE_CARRY, r.STRIKE_SIDE))
            drift, total = ball.side - aside * ball.landed, ball.carry + ball.run
            swings.append(SwingToday(swing.title, swing.name == "full", calm, ball.carry, drift, total))
    if not swings:
        raise BadRequest(f"{player.name} has no swing to use from a lie of '{place.lie}'")
    swings.sort(key=lambda one: -one.calm)
    asked = sorted(targets) or _default_targets(hole, place, swings)
    (x, y), (dx, dy) = place.at, unit_vector(bearing)
    level = height_at(problem.ground, x, y)
    rises = ((far, height_at(problem.ground, x + far * dx, y + far * dy) - level) for far in asked)
    return Today(
        hole=hole,
        player=player,
        place=place,
        asked_from=f"spot {spot}" if spot else f"{tee or next(iter(hole.tees))} tee",
        day=day,
        bearing=bearing,
        swings=tuple(swings),
        targets=tuple(_target(swings, far, rise) for far, rise in rises),
    )


def rules_of_practice(player: Player) -> tuple[str, float, float, float] | None:
    """Return what the model says where a rule of practice does, for the full iron nearest a 7 iron.

    (title, per cent of carry lost per mph into the wind, per cent won per mph downwind, yards of carry lost to a
    target 10 yards above the feet); None where the player has no such iron. The rule: about 1 % a mph into the wind,
    half of that downwind, a yard a yard of height; common practice, no source.
    """
    irons = [s for s in player.swings if s.name == "full" and 20.0 < s.loft < 45.0]
    if not irons:
        return None
    swing = min(irons, key=lambda s: abs(s.loft - IRON))
    struck = [Struck(swing.carry, swing.launch, swing.spin, swing.landing)]
    carries = day_table(struck, replace(STANDARD, wind=RULE_WIND * MPS_PER_MPH))[0, :, 0, DAY_CARRY]
    into, down = 100 * (1 - carries[carries.size // 2]), 100 * (carries[0] - 1)
    return swing.title, into / RULE_WIND, down / RULE_WIND, 10 * (1.0 / math.tan(math.radians(swing.landing)))
