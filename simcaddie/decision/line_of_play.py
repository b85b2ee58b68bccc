"""A hole seen through the best policy: the most likely line of play, and what to avoid.

From the place asked the best swing and aim line are found by looking ahead over swings and aims. The ball then counts
as lying where the middle one of those that stay out of trouble does, and the next stroke is looked for from there,
until the green. As in ``compare``, swings within ``LEVEL`` strokes of the best are level: the one that is trusted most
is played.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.errors import BadRequest
from simcaddie.base.streams import Purpose, kernel_key
from simcaddie.base.surfaces import BY_NAME, NAMES, SURFACES, code
from simcaddie.base.units import angle_between
from simcaddie.course.grid import AreaGrid, area_grid
from simcaddie.course.hole import Hole, Point, Spot
from simcaddie.decision.best_aims import best_lines, fan
from simcaddie.decision.compare import LEVEL
from simcaddie.decision.dangers import Danger, dangers, in_trouble
from simcaddie.decision.options import landing_turn, swing_title
from simcaddie.model import arrays as r
from simcaddie.model.build import pack
from simcaddie.model.states import states_at
from simcaddie.player.swing import TRUST_ORDER, Player
from simcaddie.simulate import first_strokes
from simcaddie.solve.ahead import Ahead
from simcaddie.solve.memo import solved
from simcaddie.solve.solution import Solution
from simcaddie.weather.day import Day

__all__ = ["Leg", "Plan", "aims_from", "middle_ball", "plan", "state_of", "swings_worth_trying"]

MOST_LEGS: Final = 9
BALLS: Final = 4_000  # to find the middle finish of a leg, and where balls go
SPARE: Final = 35.0  # yd: swings that carry farther past the pin than this are left out
_PUTTING: Final = np.array([kind.putting for kind in SURFACES])

Place = tuple[float, float, int]


@dataclass(frozen=True, slots=True)
class Leg:
    """One stroke of the line of play.

    ``start`` and ``finish`` (x, y in yd) with their lies (surface kinds); ``swing`` its number, touch actions after the
    player's swings; ``bearing`` in radians clockwise from +y, ``aim`` in degrees right of the line to the pin;
    ``left`` and ``leaves`` the yards to the pin before and after, on the green the median over the balls that stay out
    of trouble (the middle ball would flatter); ``to_go`` the mean strokes to go from the start; ``safe`` the share of
    balls that stay out of hazards and trees, ``green`` the share that finish on the green; ``level`` the titles of the
    other swings that are as good.
    """

    start: Point
    lie: str
    swing: int
    title: str
    bearing: float
    aim: float
    finish: Point
    finish_lie: str
    left: float
    leaves: float
    to_go: float
    safe: float
    green: float
    level: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """Best play of one player on one hole to one pin.

    ``pmf`` float64[cap + 1] is the chance of each number of strokes from the place asked, the last item that of the cap
    or more; ``legs`` is the line of play, ``avoid`` what costs most, dearest first.
    """

    hole: Hole
    player: Player
    place: Spot
    asked_from: str
    pin_name: str
    pin: Point
    grid: AreaGrid
    solution: Solution
    pmf: NDArray[np.float64]
    legs: tuple[Leg, ...]
    avoid: tuple[Danger, ...]
    day: Day | None = None

    @property
    def mean(self) -> float:
        """Mean strokes to go from the place asked."""
        return float(np.arange(self.pmf.size) @ self.pmf)


def swings_worth_trying(problem: r.Problem, place: Place) -> list[int]:
    """Return the swings worth trying from a place: none that fly far past the pin while another doesn't."""
    x, y, lie = place
    away = math.hypot(problem.ground.pin_x - x, problem.ground.pin_y - y)
    rows = problem.swings.rows[lie]
    carry = rows[:, r.SW_SOLID + r.STRIKE_CARRY]
    can = np.flatnonzero(rows[:, r.SW_USABLE] > 0.0)
    found = [int(swing) for swing in can if carry[swing] <= away + SPARE]
    if away <= problem.touch.rows[lie, r.TOUCH_LONGEST] or not found:
        found += range(rows.shape[0], rows.shape[0] + problem.touch.reach.size)
    return found


def aims_from(solution: Solution, place: Place, more: Sequence[float] = ()) -> list[float]:
    """Return the aims to try from a place, degrees right of the pin: about the pin line and best play's own."""
    own = float(solution.policy.bearing[state_of(solution.problem.states, place)])
    return fan([0.0, math.degrees(math.remainder(own, 2 * math.pi)), *more])


def _best_aims(ahead: Ahead, aims: Sequence[float], place: Place) -> dict[int, tuple[float, float]]:
    """Return, per swing, (mean strokes, bearing) of its best aim line by looking ahead from the exact place."""
    ground = ahead.problem.ground
    line = angle_between(place[:2], (ground.pin_x, ground.pin_y))

    def look(swings: Sequence[int], aims: Sequence[float], sets: int) -> NDArray[np.float64]:
        return np.asarray(ahead.means(place, swings, line + np.radians(aims), sets, Purpose.LOOK).mean(axis=1))

    lines = list(best_lines(look, swings_worth_trying(ahead.problem, place), aims).values())
    bearings = line + np.radians([one.aim for one in lines])
    means = ahead.means(place, [one.swing for one in lines], bearings).mean(axis=1)
    return {one.swing: (float(m), float(at)) for one, m, at in zip(lines, means, bearings, strict=True)}


def state_of(states: r.States, place: Place) -> int:
    """Return the number of the state that holds a place."""
    x, y, lie = place
    return int(states_at(states, lie, x, y))


def middle_ball(rest: r.Rest, stays: NDArray[np.bool_]) -> int:
    """Return the number of the ball nearest the median of those that stay out of trouble (of all where none does)."""
    kept = np.flatnonzero(stays) if stays.any() else np.arange(rest.x.size)
    away = np.hypot(rest.x[kept] - np.median(rest.x[kept]), rest.y[kept] - np.median(rest.y[kept]))
    return int(kept[np.argmin(away)])


def _leaves(rest: r.Rest, stays: NDArray[np.bool_], end: Place, pin: Point) -> float:
    """Return the yards that a stroke leaves: those of the middle ball, or the median where that is on the green."""
    if not SURFACES[end[2]].putting or not stays.any():
        return math.dist(end[:2], pin)
    return float(np.median(np.hypot(rest.x - pin[0], rest.y - pin[1])[stays]))


def _leg(
    solution: Solution, ahead: Ahead, player: Player, place: Place, aims: Sequence[float], key: np.uint64
) -> tuple[Leg, Place]:
    """Return the best stroke from a place, and where its middle ball comes to rest."""
    problem = solution.problem
    pin = (problem.ground.pin_x, problem.ground.pin_y)
    means = _best_aims(ahead, aims, place)
    lowest = min(mean for mean, _ in means.values())
    level = [swing for swing, (mean, _) in means.items() if mean - lowest <= LEVEL]
    trust = {s: TRUST_ORDER[player.swings[s].trust] if s < len(player.swings) else TRUST_ORDER["ok"] for s in level}
    level.sort(key=lambda swing: (trust[swing], means[swing][0]))
    swing, (mean, bearing) = level[0], means[level[0]]
    title = swing_title(player, swing)
    rest = first_strokes(problem, solution.value, place, swing, bearing, key, BALLS)
    stays = ~in_trouble(rest)
    ball = middle_ball(rest, stays)
    end = (float(rest.x[ball]), float(rest.y[ball]), int(rest.surface[ball]))
    leg = Leg(
        start=(place[0], place[1]),
        lie=NAMES[place[2]],
        swing=swing,
        title=title,
        bearing=bearing,
        aim=math.degrees(math.remainder(bearing - angle_between(place[:2], pin), 2 * math.pi)),
        finish=end[:2],
        finish_lie=NAMES[end[2]],
        left=math.dist(place[:2], pin),
        leaves=_leaves(rest, stays, end, pin),
        to_go=mean,
        safe=float(stays.mean()),
        green=float(_PUTTING[rest.surface].mean()),
        level=tuple(dict.fromkeys(t for t in (swing_title(player, s) for s in level[1:]) if t != title)),
    )
    return leg, end


def _legs(solution: Solution, player: Player, place: Place, turn: float, seed: int) -> tuple[Leg, ...]:
    """Return the line of play from a place to the green; ``turn`` (degrees) is where the hole goes at first."""
    legs: list[Leg] = []
    ahead = Ahead.of(solution, seed=seed)
    while len(legs) < MOST_LEGS and not SURFACES[place[2]].putting:
        aims = aims_from(solution, place, () if legs else (turn,))
        leg, place = _leg(solution, ahead, player, place, aims, kernel_key(seed, Purpose.LEGS + 100 * len(legs)))
        legs.append(leg)
    return tuple(legs)


def plan(
    hole: Hole,
    player: Player,
    *,
    tee: str | None = None,
    spot: str | None = None,
    pin: str | None = None,
    seed: int = 1,
    cap: int = 12,
    day: Day | None = None,
) -> Plan:
    """Return best play from a tee (the first by default) or spot to one pin: the line of play and what to avoid.

    Raises
    ------
    BadRequest
        Where the hole has no such place or pin, or the place asks for no stroke but a putt.
    """
    where = hole.place(tee, spot)
    if not BY_NAME[where.lie].swung:
        raise BadRequest(f"no stroke to plan from a lie of '{where.lie}'")
    to = hole.pin(pin)
    grid = area_grid(hole)
    place = (*where.at, code(where.lie))
    solution = solved(pack(hole, player, where, to, grid=grid, day=day), grid, place, cap=cap)
    legs = _legs(solution, player, place, landing_turn(hole, player, where.at, to), seed)
    return Plan(
        hole=hole,
        player=player,
        place=where,
        asked_from=f"spot {spot}" if spot else f"{tee or next(iter(hole.tees))} tee",
        pin_name=pin or next(name for name, at in hole.pins.items() if at == to),
        pin=to,
        grid=grid,
        solution=solution,
        pmf=Ahead.of(solution, seed=seed).pmfs(place, legs[0].swing, legs[0].bearing)[0].mean(axis=0),
        legs=legs,
        avoid=dangers(hole, grid, solution, place, (legs[0].swing, legs[0].bearing), kernel_key(seed, Purpose.DANGERS)),
        day=day,
    )
