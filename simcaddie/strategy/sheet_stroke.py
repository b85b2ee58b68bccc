"""Strokes for a strategy sheet: the best one from a place, averaged over the pins, by looking one stroke ahead.

A hole is solved once, to its middle pin. Bearings of a policy are offsets from the line to the pin, so it plays to the
other pins as well; a ball on the green counts the putts to each of them, a ball off it what it is worth to the middle
one. Every look uses the same balls, so that differences between swings are paired.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.air.day import Day
from simcaddie.golfer.player import TRUST_ORDER, Player
from simcaddie.ground.grid import AreaGrid, area_grid
from simcaddie.ground.hole import Hole, Point, Spot
from simcaddie.play import records as r
from simcaddie.play.pack import pack
from simcaddie.simulate import first_strokes
from simcaddie.simulate.follow import strokes_left
from simcaddie.solve.quick import coarse_policy, quick_policy
from simcaddie.strategy.dangers import in_trouble
from simcaddie.strategy.options import swing_title
from simcaddie.strategy.plan import middle_ball, state_of, swings_worth_trying
from simcaddie.strategy.request import LEVEL
from simcaddie.streams import kernel_key
from simcaddie.surfaces import NAMES, SURFACES, code
from simcaddie.units import angle_between

__all__ = ["Place", "Ready", "Stroke", "best_stroke", "line_of_strokes", "look", "ready", "worths"]

ASIDE: Final = math.radians(16.0)  # aims tried this far beyond the pin line and the policy's own line
STEP: Final = math.radians(4.0)
NEAR: Final = np.radians([-2.0, -1.0, 1.0, 2.0])
SCREEN, CLOSER, BALLS = 400, 2000, 8000
SHORTLIST: Final = 5  # swings that are looked at closer
MOST: Final = 6  # strokes to the green
ON: Final = 0.15  # share of balls on the green from which a stroke is the approach
NEAR_GREEN: Final = 45.0  # yd left, likewise
COARSE: Final = 12.0  # yd: cells where only looks ahead are asked for
LONG: Final = 0.55  # of the longest carry: shorter swings aren't tried while the green is out of reach
_LOOK: Final = 41  # purpose of the random numbers
_PUTTING: Final = np.array([kind.putting for kind in SURFACES])

Place = tuple[float, float, int]


@dataclass(frozen=True, slots=True)
class Ready:
    """A hole solved for a player: ``tables`` one a pin, in the order of ``pins``; ``value`` is to the middle pin."""

    hole: Hole
    player: Player
    spot: Spot
    grid: AreaGrid
    pins: tuple[str, ...]
    tables: tuple[r.Table, ...]
    policy: r.Policy
    value: r.Value
    key: np.uint64

    @property
    def middle(self) -> r.Table:
        """The table to the middle pin."""
        return self.tables[self.pins.index(next(n for n, at in self.hole.pins.items() if at == self.hole.pin()))]

    @property
    def place(self) -> Place:
        """Where the hole is played from: x, y in yards, the lie's code."""
        return (*self.spot.at, code(self.spot.lie))


@dataclass(frozen=True, slots=True)
class Stroke:
    """One stroke of the advised line.

    ``start`` and ``finish`` in yards with their lies (surface kinds); ``swing`` its number, touch actions after the
    player's swings; ``bearing`` in radians clockwise from +y; ``mean`` strokes to go from the start, over all pins;
    ``left`` and ``leaves`` yards to the middle pin before and after; ``safe`` the share of balls that stay out of
    trouble, ``green`` that on the green; ``level`` the titles of other swings that are as good; ``shortlist`` the
    swings looked at closer; ``rest`` the balls.
    """

    start: Point
    lie: str
    swing: int
    title: str
    bearing: float
    mean: float
    finish: Point
    finish_lie: str
    left: float
    leaves: float
    safe: float
    green: float
    level: tuple[str, ...]
    shortlist: tuple[int, ...]
    rest: r.Rest


def ready(
    hole: Hole,
    player: Player,
    tee: str | None = None,
    *,
    seed: int = 1,
    day: Day | None = None,
    grid: AreaGrid | None = None,
    coarse: bool = False,
) -> Ready:
    """Return a hole solved for a player from a tee (the first by default) on a day (a standard one by default).

    ``coarse`` takes a quarter of the time, for looks ahead alone; ``grid`` saves building the area grid again.

    Raises
    ------
    BadRequest
        Where the hole has no such tee.
    """
    spot, grid = hole.place(tee), grid or area_grid(hole)
    table = pack(hole, player, spot, hole.pin(), grid=grid, day=day)
    search = partial(coarse_policy, cell=COARSE) if coarse else quick_policy
    table, policy, value = search(table, grid, player, hole.green_middle, (*spot.at, code(spot.lie)))
    tables = tuple(table._replace(ground=table.ground._replace(pin_x=x, pin_y=y)) for x, y in hole.pins.values())
    return Ready(hole, player, spot, grid, tuple(hole.pins), tables, policy, value, kernel_key(seed, _LOOK))


def look(on: Ready, place: Place, swing: int, bearing: float, balls: int, pins: Sequence[str] = ()) -> float:
    """Return the mean strokes from a place by a first stroke, over all pins or those named."""
    rest = first_strokes(on.middle, on.value, place, swing, bearing, on.key, balls)
    chosen = [table for name, table in zip(on.pins, on.tables, strict=True) if not pins or name in pins]
    left = sum(float(strokes_left(table, on.value.to_go, rest).mean()) for table in chosen) / len(chosen)
    return float(rest.added.mean()) + left


def _aims(on: Ready, place: Place) -> NDArray[np.float64]:
    """Return the aim lines to try: about the line to the pin and the policy's own."""
    table = on.middle
    line = angle_between(place[:2], (table.ground.pin_x, table.ground.pin_y))
    own = float(on.policy.bearing[state_of(table.states, place)])
    return np.append(line + np.arange(min(0.0, own) - ASIDE, max(0.0, own) + ASIDE + 1e-9, STEP), [line, line + own])


def _swings(on: Ready, place: Place) -> list[int]:
    """Return the swings to try from a place: long ones while the green is out of reach."""
    table = on.middle
    swings = swings_worth_trying(table, place)
    carry = table.swings.table[place[2], :, r.SW_SOLID + r.STRIKE_CARRY]
    full = [swing for swing in swings if swing < carry.size]
    longest = max((carry[swing] for swing in full), default=0.0)
    if math.dist(place[:2], (table.ground.pin_x, table.ground.pin_y)) < 1.2 * longest:
        return swings
    return [swing for swing in full if carry[swing] >= LONG * longest]


def worths(
    on: Ready, place: Place, pins: Sequence[str] = (), swings: Sequence[int] = ()
) -> dict[int, tuple[float, float]]:
    """Return (mean strokes, bearing) of the best aim of each swing that may be best from a place.

    ``swings`` are those to try; those that make sense by default.
    """
    rough = {}
    aims = _aims(on, place)
    for swing in swings or _swings(on, place):
        rough[swing] = min((look(on, place, swing, float(aim), SCREEN, pins), float(aim)) for aim in aims)
    found = {}
    for swing in sorted(rough, key=lambda s: rough[s])[:SHORTLIST]:
        around = [rough[swing][1], *(rough[swing][1] + NEAR)]
        found[swing] = min((look(on, place, swing, float(aim), CLOSER, pins), float(aim)) for aim in around)
    return found


def best_stroke(on: Ready, place: Place, pins: Sequence[str] = (), swings: Sequence[int] = ()) -> Stroke:
    """Return the stroke with the fewest strokes to go; among level swings the one that is trusted most."""
    player, table = on.player, on.middle
    means = worths(on, place, pins, swings)
    lowest = min(mean for mean, _ in means.values())
    trust = {s: TRUST_ORDER[player.swings[s].trust] if s < len(player.swings) else TRUST_ORDER["ok"] for s in means}
    level = sorted((s for s in means if means[s][0] - lowest <= LEVEL), key=lambda s: (trust[s], means[s][0]))
    swing, (mean, bearing) = level[0], means[level[0]]
    rest = first_strokes(table, on.value, place, swing, bearing, on.key, BALLS)
    stays = ~in_trouble(rest)
    ball = middle_ball(rest, stays)
    pin = (table.ground.pin_x, table.ground.pin_y)
    title = swing_title(player, swing)
    return Stroke(
        start=place[:2],
        lie=NAMES[place[2]],
        swing=swing,
        title=title,
        bearing=bearing,
        mean=mean,
        finish=(float(rest.x[ball]), float(rest.y[ball])),
        finish_lie=NAMES[int(rest.surface[ball])],
        left=math.dist(place[:2], pin),
        leaves=math.dist((float(rest.x[ball]), float(rest.y[ball])), pin),
        safe=float(stays.mean()),
        green=float(_PUTTING[rest.surface].mean()),
        level=tuple(dict.fromkeys(t for t in (swing_title(player, s) for s in level[1:]) if t != title)),
        shortlist=tuple(means),
        rest=rest,
    )


def _approaches(stroke: Stroke) -> bool:
    """Tell whether a stroke is the one to the green: what it leaves is a touch shot or a putt."""
    return stroke.green >= ON or stroke.leaves <= NEAR_GREEN


def line_of_strokes(on: Ready) -> tuple[Stroke, ...]:
    """Return the advised line: each stroke from where the middle ball of the last one lies, the approach the last."""
    strokes: list[Stroke] = []
    place = on.place
    while len(strokes) < MOST and not SURFACES[place[2]].putting and not (strokes and _approaches(strokes[-1])):
        stroke = best_stroke(on, place)
        strokes.append(stroke)
        place = (*stroke.finish, code(stroke.finish_lie))
    return tuple(strokes)
