"""A hole solved for a player, and the most likely line of play through it.

From a place the best swing and aim line are found by looking ahead over swings and aims; every look uses the same
balls, so that differences between swings are paired. The ball then counts as lying where the middle one of those that
stay out of trouble does, and the next stroke is looked for from there.

A hole is solved to one pin. Bearings of a policy are offsets from the line to the pin, so it plays to the other pins as
well: where several are asked for, a ball on the green counts the putts to each of them, a ball off it what it is worth
to the pin that was solved for.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simcaddie.base.errors import BadRequest
from simcaddie.base.streams import Purpose, kernel_key
from simcaddie.base.surfaces import BY_NAME, NAMES, SURFACES, code
from simcaddie.base.units import angle_between
from simcaddie.course.grid import AreaGrid, area_grid
from simcaddie.course.hole import Hole, Point, Spot
from simcaddie.decision.best_aims import best_lines, fan
from simcaddie.decision.dangers import Danger, dangers, in_trouble
from simcaddie.decision.options import SPARE, landing_turn, swing_title
from simcaddie.decision.request import LEVEL, trusted_first
from simcaddie.decision.unfinished import refuse_unfinished
from simcaddie.model import arrays as r
from simcaddie.model.average import on_the_day
from simcaddie.model.build import pack, pack_day
from simcaddie.model.states import states_at
from simcaddie.player.pattern import Pattern, course_pattern
from simcaddie.player.swing import Player
from simcaddie.simulate import first_strokes
from simcaddie.solve.ahead import Ahead
from simcaddie.solve.memo import solved
from simcaddie.solve.quadrature import SETS
from simcaddie.solve.solution import ROUGH, USUAL, Effort, Solution
from simcaddie.weather.day import Day

__all__ = [
    "Leg",
    "Plan",
    "SolvedHole",
    "aims_from",
    "best_leg",
    "line_of_legs",
    "plan",
    "solved_hole",
    "state_of",
    "swings_worth_trying",
]

MOST_LEGS: Final = 9
BALLS: Final = 6_000  # to find the middle finish of a leg, and where balls go
LONG: Final = 0.35  # of the longest carry: shorter swings aren't tried while the green is out of reach
REACH: Final = 1.2  # of the longest carry: the green is out of reach beyond it
_PUTTING: Final = np.array([kind.putting for kind in SURFACES])

Floats = NDArray[np.float64]
Place = tuple[float, float, int]


@dataclass(frozen=True, slots=True)
class SolvedHole:
    """One player on one hole from one place, solved to one pin; looks may ask for ``pins``, which name the hole's."""

    hole: Hole
    player: Player
    spot: Spot
    pins: tuple[str, ...]
    grid: AreaGrid
    solution: Solution
    seed: int

    @property
    def problem(self) -> r.Problem:
        """What the kernel reads, to the pin that was solved for."""
        return self.solution.problem

    @property
    def pin(self) -> Point:
        """The pin that was solved for, x and y in yards."""
        return self.problem.ground.pin_x, self.problem.ground.pin_y

    @property
    def place(self) -> Place:
        """Where the hole is played from: x, y in yards, the lie's code."""
        return (*self.spot.at, code(self.spot.lie))

    def blown(self, day: Day) -> SolvedHole:
        """Return it on a day that differs by its wind alone, solved in half the time: for looks ahead."""
        problem = self.problem._replace(day=pack_day(self.hole, self.player, day))
        return replace(self, solution=solved(problem, self.grid, self.place, effort=ROUGH))

    def look(
        self, place: Place, swings: ArrayLike, bearings: ArrayLike, pins: Sequence[str] = (),
        sets: int = SETS, purpose: int = Purpose.ANSWER,
    ) -> Floats:  # fmt: skip
        """Return the mean strokes from a place by first strokes, one a row, over ``pins`` or all of them."""
        names = pins or self.pins
        at = [self.hole.pins[name] for name in names]
        grounds = [] if at == [self.pin] else [self.problem.ground._replace(pin_x=x, pin_y=y) for x, y in at]
        means = Ahead.of(self.solution, seed=self.seed).means(place, swings, bearings, sets, purpose, grounds)
        return np.asarray(means.mean(axis=1))

    def pattern(self, swing: int, place: Place, bearing: float) -> Pattern | None:
        """Return the pattern of a stroke on the day, None for a touch shot."""
        if swing >= len(self.player.swings):
            return None
        pattern = course_pattern(self.player, self.player.swings[swing], self.player.lies[NAMES[place[2]]])
        return on_the_day(self.problem, pattern, swing, place, bearing)

    def pattern_of(self, leg: Leg) -> Pattern | None:
        """Return the pattern of a stroke of the line of play, None for a touch shot."""
        return self.pattern(leg.swing, leg.begin, leg.bearing)


def solved_hole(
    hole: Hole, player: Player, *, tee: str | None = None, spot: str | None = None, pin: str | None = None,
    effort: Effort = USUAL, cap: int = 12, seed: int = 1, day: Day | None = None,
) -> SolvedHole:  # fmt: skip
    """Return a hole solved for a player from a tee (the first by default) or spot, to a pin or, by "any", over all.

    Raises
    ------
    BadRequest
        Where the hole has no such place or pin, the place asks for no stroke but a putt, or best play never ends.
    """
    where = hole.place(tee, spot)
    if not BY_NAME[where.lie].swung:
        raise BadRequest(f"no stroke to plan from a lie of '{where.lie}'")
    to = hole.pin(None if pin == "any" else pin)
    names = tuple(hole.pins) if pin == "any" else (next(name for name, at in hole.pins.items() if at == to),)
    grid = area_grid(hole)
    problem = pack(hole, player, where, to, grid=grid, day=day)
    solution = solved(problem, grid, (*where.at, code(where.lie)), cap=cap, effort=effort)
    refuse_unfinished(solution, hole, player)
    return SolvedHole(hole, player, where, names, grid, solution, seed)


# ─── One stroke ─────────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Leg:
    """One stroke of the line of play.

    ``start`` and ``finish`` (x, y in yd) with their lies (surface kinds); ``swing`` its number, touch actions after the
    player's swings; ``bearing`` in radians clockwise from +y, ``aim`` in degrees right of the line to the pin;
    ``left`` and ``leaves`` the yards to the pin before and after, on the green the median over the balls that stay out
    of trouble (the middle ball would flatter); ``to_go`` the mean strokes to go from the start; ``safe`` the share of
    balls that stay out of hazards and trees, ``green`` the share that finish on the green; ``level`` the titles of the
    other swings that are as good; ``tried`` (swing, mean strokes, bearing) of those looked at, best first; ``rest``
    the balls.
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
    tried: tuple[tuple[int, float, float], ...]
    rest: r.Rest = field(compare=False, repr=False)

    @property
    def begin(self) -> Place:
        """Where it is played from: x, y in yards, the lie's code."""
        return (*self.start, code(self.lie))

    @property
    def end(self) -> Place:
        """Where the next stroke is played from."""
        return (*self.finish, code(self.finish_lie))


def swings_worth_trying(problem: r.Problem, place: Place) -> list[int]:
    """Return the swings worth trying from a place: none that fly far past the pin while another doesn't.

    Nor short ones while the green is out of reach of all.
    """
    x, y, lie = place
    away = math.hypot(problem.ground.pin_x - x, problem.ground.pin_y - y)
    rows = problem.swings.rows[lie]
    carry = rows[:, r.SW_SOLID + r.STRIKE_CARRY]
    can = [int(swing) for swing in np.flatnonzero(rows[:, r.SW_USABLE] > 0.0)]
    found = [swing for swing in can if carry[swing] <= away + SPARE]
    if away <= problem.touch.rows[lie, r.TOUCH_LONGEST] or not found:
        found += range(rows.shape[0], rows.shape[0] + problem.touch.reach.size)
    longest = max((carry[swing] for swing in can), default=0.0)
    if away < REACH * longest or SURFACES[lie].trouble:
        return found
    return [swing for swing in found if swing >= carry.size or carry[swing] >= LONG * longest]


def aims_from(solution: Solution, place: Place, more: Sequence[float] = ()) -> list[float]:
    """Return the aims to try from a place, degrees right of the pin: about the pin line and best play's own."""
    own = float(solution.policy.bearing[state_of(solution.problem.states, place)])
    return fan([0.0, math.degrees(math.remainder(own, 2 * math.pi)), *more])


def state_of(states: r.States, place: Place) -> int:
    """Return the number of the state that holds a place."""
    x, y, lie = place
    return int(states_at(states, lie, x, y))


def _tried(
    on: SolvedHole, place: Place, pins: Sequence[str], swings: Sequence[int], turns: Sequence[float], sets: int
) -> list[tuple[int, float, float]]:
    """Return (swing, mean strokes, bearing) of each swing's best aim line, best first."""
    line = angle_between(place[:2], on.pin)

    def look(swings: Sequence[int], aims: Sequence[float], sets: int) -> Floats:
        return on.look(place, swings, line + np.radians(aims), pins, sets, Purpose.LOOK)

    lines = best_lines(look, swings or swings_worth_trying(on.problem, place), aims_from(on.solution, place, turns))
    found = sorted(lines.values(), key=lambda one: one.worth)
    bearings = line + np.radians([one.aim for one in found])
    means = on.look(place, [one.swing for one in found], bearings, pins, sets)
    rows = [(one.swing, float(m), float(at)) for one, m, at in zip(found, means, bearings, strict=True)]
    return sorted(rows, key=lambda row: row[1])


def _balls(on: SolvedHole, place: Place, tried: tuple[int, float, float], key: np.uint64) -> r.Rest:
    swing, _, bearing = tried
    return first_strokes(on.problem, on.solution.value, place, swing, bearing, key, BALLS)


def best_leg(
    on: SolvedHole, place: Place, number: int = 0, *, pins: Sequence[str] = (), swings: Sequence[int] = (),
    turns: Sequence[float] = (), sets: int = SETS,
) -> Leg:  # fmt: skip
    """Return the stroke with the fewest strokes to go; a level swing that is trusted more where it risks no more.

    ``number`` counts the line's strokes from 0; ``swings`` are those to try, those that make sense by default;
    ``turns`` more aims to try about, degrees right of the pin.
    """
    key = kernel_key(on.seed, Purpose.LEGS + 100 * number)
    tried = _tried(on, place, pins, swings, turns, sets)
    level = [row for row in tried if row[1] - tried[0][1] <= LEVEL]
    balls = [_balls(on, place, row, key) for row in level]
    trust = [on.player.swings[s].trust if s < len(on.player.swings) else "ok" for s, _, _ in level]
    risks = [float(in_trouble(rest).mean()) for rest in balls]
    first = trusted_first(trust, risks)[0]
    (swing, mean, bearing), rest = level[first], balls[first]
    stays, title = ~in_trouble(rest), swing_title(on.player, swing)
    ball = _middle_ball(rest, stays)
    end = (float(rest.x[ball]), float(rest.y[ball]), int(rest.surface[ball]))
    others = dict.fromkeys(swing_title(on.player, row[0]) for i, row in enumerate(level) if i != first)
    return Leg(
        start=place[:2],
        lie=NAMES[place[2]],
        swing=swing,
        title=title,
        bearing=bearing,
        aim=math.degrees(math.remainder(bearing - angle_between(place[:2], on.pin), 2 * math.pi)),
        finish=end[:2],
        finish_lie=NAMES[end[2]],
        left=math.dist(place[:2], on.pin),
        leaves=_leaves(rest, stays, end, on.pin),
        to_go=mean,
        safe=float(stays.mean()),
        green=float(_PUTTING[rest.surface].mean()),
        level=tuple(other for other in others if other != title),
        tried=tuple(tried),
        rest=rest,
    )


def _middle_ball(rest: r.Rest, stays: NDArray[np.bool_]) -> int:
    """Return the number of the ball nearest the median of those that stay out of trouble (of all where none does)."""
    kept = np.flatnonzero(stays) if stays.any() else np.arange(rest.x.size)
    away = np.hypot(rest.x[kept] - np.median(rest.x[kept]), rest.y[kept] - np.median(rest.y[kept]))
    return int(kept[np.argmin(away)])


def _leaves(rest: r.Rest, stays: NDArray[np.bool_], end: Place, pin: Point) -> float:
    """Return the yards that a stroke leaves: those of the middle ball, or the median where that is on the green."""
    if not SURFACES[end[2]].putting or not stays.any():
        return math.dist(end[:2], pin)
    return float(np.median(np.hypot(rest.x - pin[0], rest.y - pin[1])[stays]))


def line_of_legs(on: SolvedHole, ends: Callable[[Leg], bool] = lambda _: False, *, sets: int = SETS) -> tuple[Leg, ...]:
    """Return the line of play from the place to the green, or to the first leg that ``ends`` it."""
    legs: list[Leg] = []
    turns, place = (landing_turn(on.hole, on.player, on.spot.at, on.pin),), on.place
    while len(legs) < MOST_LEGS and not SURFACES[place[2]].putting and not (legs and ends(legs[-1])):
        legs.append(best_leg(on, place, len(legs), turns=() if legs else turns, sets=sets))
        place = legs[-1].end
    return tuple(legs)


# ─── The plan ───────────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Plan:
    """Best play of one player on one hole to one pin.

    ``pmf`` float64[cap + 1] is the chance of each number of strokes from the place asked, the last item that of the cap
    or more; ``legs`` is the line of play, ``avoid`` what costs most, dearest first.
    """

    on: SolvedHole
    asked_from: str
    pmf: Floats
    legs: tuple[Leg, ...]
    avoid: tuple[Danger, ...]
    day: Day | None = None

    @property
    def hole(self) -> Hole:
        """The hole."""
        return self.on.hole

    @property
    def player(self) -> Player:
        """The player."""
        return self.on.player

    @property
    def place(self) -> Spot:
        """The place asked from."""
        return self.on.spot

    @property
    def pin_name(self) -> str:
        """The pin's name."""
        return self.on.pins[0]

    @property
    def pin(self) -> Point:
        """The pin, x and y in yards."""
        return self.on.pin

    @property
    def grid(self) -> AreaGrid:
        """What lies where."""
        return self.on.grid

    @property
    def solution(self) -> Solution:
        """What follows from everywhere."""
        return self.on.solution

    @property
    def mean(self) -> float:
        """Mean strokes to go from the place asked."""
        return float(np.arange(self.pmf.size) @ self.pmf)


def plan(
    hole: Hole, player: Player, *, tee: str | None = None, spot: str | None = None, pin: str | None = None,
    seed: int = 1, cap: int = 12, day: Day | None = None,
) -> Plan:  # fmt: skip
    """Return best play from a tee (the first by default) or spot to one pin: the line of play and what to avoid.

    Raises
    ------
    BadRequest
        Where the hole has no such place or pin, or the place asks for no stroke but a putt.
    """
    hole.pin(pin)  # a plan is to one of them
    on = solved_hole(hole, player, tee=tee, spot=spot, pin=pin, cap=cap, seed=seed, day=day)
    legs = line_of_legs(on)
    return Plan(
        on=on,
        asked_from=f"spot {spot}" if spot else f"{tee or next(iter(hole.tees))} tee",
        pmf=Ahead.of(on.solution, seed=seed).pmfs(on.place, legs[0].swing, legs[0].bearing)[0].mean(axis=0),
        legs=legs,
        avoid=dangers(hole, on.grid, on.solution, on.place, (legs[0].swing, legs[0].bearing),
                      kernel_key(seed, Purpose.DANGERS)),
        day=day,
    )  # fmt: skip
