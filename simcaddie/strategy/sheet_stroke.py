"""Strokes for a strategy sheet: the best one from a place, averaged over the pins, by looking one stroke ahead.

A hole is solved once, to its middle pin. Bearings of a policy are offsets from the line to the pin, so it plays to the
other pins as well; a ball on the green counts the putts to each of them, a ball off it what it is worth to the middle
one. Every look uses the same balls, so that differences between swings are paired.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simcaddie.air.day import Day
from simcaddie.golfer.player import TRUST_ORDER, Player
from simcaddie.ground.grid import AreaGrid, area_grid
from simcaddie.ground.hole import Hole, Point, Spot
from simcaddie.play import records as r
from simcaddie.play.pack import pack
from simcaddie.simulate import first_strokes
from simcaddie.solve.ahead import Ahead
from simcaddie.solve.kept import solved
from simcaddie.solve.nodes import ANSWER, LOOK
from simcaddie.solve.solution import QUICK, ROUGH, Solution
from simcaddie.strategy.aims import best_lines
from simcaddie.strategy.dangers import in_trouble
from simcaddie.strategy.options import swing_title
from simcaddie.strategy.plan import aims_from, middle_ball, swings_worth_trying
from simcaddie.strategy.request import LEVEL
from simcaddie.streams import kernel_key
from simcaddie.surfaces import NAMES, SURFACES, code
from simcaddie.units import angle_between

__all__ = ["Place", "Ready", "Stroke", "best_stroke", "line_of_strokes", "look", "ready", "worths"]

BALLS: Final = 8000
FIGURE_SETS: Final = 16  # of first balls, for the figures shown
SHORTLIST: Final = 5  # swings that may be best
MOST: Final = 6  # strokes to the green
ON: Final = 0.15  # share of balls on the green from which a stroke is the approach
NEAR_GREEN: Final = 45.0  # yd left, likewise
LONG: Final = 0.55  # of the longest carry: shorter swings aren't tried while the green is out of reach
_LOOK: Final = 41  # purpose of the random numbers
_PUTTING: Final = np.array([kind.putting for kind in SURFACES])

Floats = NDArray[np.float64]
Place = tuple[float, float, int]


@dataclass(frozen=True, slots=True)
class Ready:
    """A hole solved for a player to its middle pin; ``tables`` one a pin, in the order of ``pins``."""

    hole: Hole
    player: Player
    spot: Spot
    grid: AreaGrid
    pins: tuple[str, ...]
    tables: tuple[r.Table, ...]
    solution: Solution
    key: np.uint64

    @property
    def policy(self) -> r.Policy:
        """What is played on."""
        return self.solution.policy

    @property
    def value(self) -> r.Value:
        """What choices that a Rule leaves go by."""
        return self.solution.value

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
    rough: bool = False,
) -> Ready:
    """Return a hole solved for a player from a tee (the first by default) on a day (a standard one by default).

    ``rough`` takes half the time, for looks ahead alone; ``grid`` saves building the area grid again.

    Raises
    ------
    BadRequest
        Where the hole has no such tee.
    """
    spot, grid = hole.place(tee), grid or area_grid(hole)
    table = pack(hole, player, spot, hole.pin(), grid=grid, day=day)
    solution = solved(table, grid, (*spot.at, code(spot.lie)), effort=ROUGH if rough else QUICK)
    tables = tuple(table._replace(ground=table.ground._replace(pin_x=x, pin_y=y)) for x, y in hole.pins.values())
    return Ready(hole, player, spot, grid, tuple(hole.pins), tables, solution, kernel_key(seed, _LOOK))


def look(
    on: Ready,
    place: Place,
    swings: ArrayLike,
    bearings: ArrayLike,
    pins: Sequence[str] = (),
    sets: int = FIGURE_SETS,
    purpose: int = ANSWER,
) -> Floats:
    """Return the mean strokes from a place by first strokes, one a row, over all pins or those named."""
    grounds = [table.ground for name, table in zip(on.pins, on.tables, strict=True) if not pins or name in pins]
    means = Ahead.of(on.solution).means(place, swings, bearings, sets, purpose, grounds)
    return np.asarray(means.mean(axis=1))


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
    ground = on.middle.ground
    line = angle_between(place[:2], (ground.pin_x, ground.pin_y))

    def tried(numbers: Sequence[int], aims: Sequence[float], sets: int) -> Floats:
        return look(on, place, numbers, line + np.radians(aims), pins, sets, LOOK)

    lines = best_lines(tried, swings or _swings(on, place), aims_from(on.solution, place))
    found = sorted(lines.values(), key=lambda one: one.worth)[:SHORTLIST]
    bearings = line + np.radians([one.aim for one in found])
    means = look(on, place, [one.swing for one in found], bearings, pins)
    return {one.swing: (float(m), float(at)) for one, m, at in zip(found, means, bearings, strict=True)}


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
