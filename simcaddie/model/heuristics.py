"""Everyday policies: how people play on, without a solver.

``sound``: the club whose average reaches the middle of the green, at the middle, wind and height allowed for. Out of
reach, the trusted club and line whose average finish leaves the easiest next shot (the longest, unless trouble lies
there). ``usual``: the club that would get there with the best ball ever hit, at the flag, whatever the day; out of
reach, the longest club by reflex, along the line whose average finish leaves the easiest next shot.

Both come as plain arrays over the states, bearings as offsets from the line to the pin.
"""

from __future__ import annotations

from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.surfaces import SURFACES
from simcaddie.model import arrays as r
from simcaddie.player.swing import Player
from simcaddie.weather.table import DAY_CARRY

__all__ = ["BEST_OF_TEN", "EVERYDAY", "everyday", "guess_to_go", "plain"]

EVERYDAY: Final = ("sound", "usual")
BEST_OF_TEN: Final = 1.539  # mean of the largest of ten standard normals (order statistics; Harter 1961)
LINES: Final = np.radians([0, -5, 5, -10, 10, -15, 15, -20, 20, -30, 30, -40, 40, -55, 55])

Floats = NDArray[np.float64]


def _cost_of_lie() -> Floats:
    """Return strokes that a lie costs, roughly, from what it does to a swing; trouble that penalises costs most."""
    cost = [
        (1 - k.lie.carry) * 2 + (k.lie.spread - 1) / 2 + k.lie.fail + 1.3 * (k.lost + k.unplayable) for k in SURFACES
    ]
    return np.array(cost) + [1.6 * (not kind.in_play) for kind in SURFACES]


def _kinds_at(ground: r.Ground, x: Floats, y: Floats) -> NDArray[np.int8]:
    iy = np.clip(np.floor((y - ground.y0) / ground.cell).astype(np.int64), 0, ground.rows - 1)
    ix = np.clip(np.floor((x - ground.x0) / ground.cell).astype(np.int64), 0, ground.columns - 1)
    return np.asarray(ground.word[iy * ground.columns + ix] & r.WORD_KIND, np.int8)


def _guess(problem: r.Problem, x: Floats, y: Floats, lie: NDArray[np.int8]) -> Floats:
    ground = problem.ground
    solid = problem.swings.rows[:, :, r.SW_SOLID + r.STRIKE_CARRY]
    longest = float(np.max(solid + problem.swings.rows[:, :, r.SW_SOLID + r.STRIKE_RUN]))
    far = np.hypot(x - ground.pin_x, y - ground.pin_y)
    return 2.4 + np.minimum(far / 40.0, 0.4) + far / longest + _cost_of_lie()[lie]


def _allowance(problem: r.Problem, turn: Floats, usable: NDArray[np.int64]) -> Floats:
    """Return what the day's air does to carries along the bearings ``turn``, by place: the mean factor over swings."""
    day = problem.day.rows[usable, :, problem.day.rows.shape[2] // 2, DAY_CARRY].mean(axis=0)
    at = ((turn - problem.day.towards) / (2 * np.pi) % 1.0) * day.size
    return np.asarray(np.interp(at, np.arange(day.size + 1), np.append(day, day[0])))


def _heights_at(ground: r.Ground, x: Floats, y: Floats) -> Floats:
    """Return the ground's height at places, that of the nearest corner: near enough for choosing a club."""
    rows, columns = ground.height.shape
    iy = np.clip(np.rint((y - ground.y0) / ground.height_cell).astype(np.int64), 0, rows - 1)
    ix = np.clip(np.rint((x - ground.x0) / ground.height_cell).astype(np.int64), 0, columns - 1)
    return ground.height[iy, ix]


def guess_to_go(problem: r.Problem) -> r.Value:
    """Return rough strokes to go by distance and lie: good enough to choose between kinds of relief."""
    xy = problem.states.xy
    return r.Value(_guess(problem, xy[:, 0], xy[:, 1], problem.states.lie))


def _lay_up(
    problem: r.Problem, x: Floats, y: Floats, pin_line: Floats, total: Floats, carry: Floats, choices: NDArray[np.int64]
) -> tuple[NDArray[np.int64], Floats]:
    """Return (swing, line) whose average landing and finish leave least to do, for states out of reach."""
    best = np.full(x.size, np.inf)
    swing, line = np.zeros(x.size, np.int64), np.zeros(x.size)
    for number in choices:
        for offset in LINES:
            sin, cos = np.sin(pin_line + offset), np.cos(pin_line + offset)
            ex, ey = x + total[number] * sin, y + total[number] * cos
            lx, ly = x + carry[number] * sin, y + carry[number] * cos
            left = _guess(problem, ex, ey, _kinds_at(problem.ground, ex, ey))
            left += _cost_of_lie()[_kinds_at(problem.ground, lx, ly)] + 0.15 * abs(offset)
            better = left < best - 1e-9
            best[better], swing[better], line[better] = left[better], number, offset
    return swing, line


def everyday(
    problem: r.Problem, player: Player, kind: Literal["sound", "usual"], centre: tuple[float, float]
) -> r.Policy:
    """Return the policy ``kind`` over the states of ``problem``; ``centre`` is the middle of the green (x, y in yd)."""
    return _played(problem, np.array([s.trust != "low" for s in player.swings]), kind, centre)


def plain(problem: r.Problem, kind: Literal["sound", "usual"] = "sound") -> r.Policy:
    """Return the policy ``kind`` over the states of ``problem``, at the pin, trust apart: anybody could play it."""
    trusted = np.ones(problem.swings.rows.shape[1], np.bool_)
    return _played(problem, trusted, kind, (problem.ground.pin_x, problem.ground.pin_y))


def _played(
    problem: r.Problem, trusted: NDArray[np.bool_], kind: Literal["sound", "usual"], centre: tuple[float, float]
) -> r.Policy:
    states, ground = problem.states, problem.ground
    swing = np.zeros(states.lie.size, np.int16)
    bearing = np.zeros(states.lie.size)
    touch = trusted.size
    for lie in np.unique(states.lie):
        here = states.lie == lie
        x, y = states.xy[here, 0], states.xy[here, 1]
        rows = problem.swings.rows[lie]
        carry = rows[:, r.SW_SOLID + r.STRIKE_CARRY]
        total = carry + rows[:, r.SW_SOLID + r.STRIKE_RUN]
        usable = np.nonzero(rows[:, r.SW_USABLE] > 0)[0]
        pin_line = np.arctan2(ground.pin_x - x, ground.pin_y - y)
        pin_far = np.hypot(ground.pin_x - x, ground.pin_y - y)
        chosen = np.full(x.size, touch, np.int64)
        line = np.zeros(x.size)
        if usable.size:
            long = pin_far > problem.touch.rows[lie, r.TOUCH_LONGEST]
            if kind == "sound":
                sure = usable[trusted[usable]] if trusted[usable].any() else usable
                chosen[long], line[long] = _sound(
                    problem, x[long], y[long], pin_line[long], total, carry, usable, sure, centre
                )
            else:
                best_ball = total + BEST_OF_TEN * rows[:, r.SW_SOLID + r.STRIKE_CARRY_SD]
                chosen[long] = _shortest_that_reaches(pin_far[long], best_ball, usable)
                longest = usable[[np.argmax(best_ball[usable])]]
                out = long & (pin_far > best_ball[longest])
                if out.any():
                    chosen[out], line[out] = _lay_up(problem, x[out], y[out], pin_line[out], total, carry, longest)
        swing[here], bearing[here] = chosen, line
    return r.Policy(swing, bearing)


def _shortest_that_reaches(far: Floats, reach: Floats, usable: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return, per distance, the swing that reaches it with least to spare; the longest where none does."""
    order = usable[np.argsort(reach[usable], kind="stable")]
    place = np.searchsorted(reach[order], far)
    return order[np.minimum(place, order.size - 1)]


def _sound(
    problem: r.Problem,
    x: Floats,
    y: Floats,
    pin_line: Floats,
    total: Floats,
    carry: Floats,
    usable: NDArray[np.int64],
    sure: NDArray[np.int64],
    centre: tuple[float, float],
) -> tuple[NDArray[np.int64], Floats]:
    towards = np.arctan2(centre[0] - x, centre[1] - y)
    up = _heights_at(problem.ground, np.full(x.size, centre[0]), np.full(x.size, centre[1]))
    up -= _heights_at(problem.ground, x, y)  # a yard a yard
    far = (np.hypot(centre[0] - x, centre[1] - y) + up) / _allowance(problem, towards, usable)
    chosen = usable[np.argmin(np.abs(total[usable][None, :] - far[:, None]), axis=1)]
    turn = towards - pin_line
    line = (turn + np.pi) % (2 * np.pi) - np.pi
    out = far > total[usable].max() + 5.0
    if out.any():
        chosen[out], line[out] = _lay_up(problem, x[out], y[out], pin_line[out], total, carry, sure)
    return chosen, line
