"""The flight over the ground: what the day's air does to it, where it meets the slope, and where trees stop it.

Its shape: height above the start at the share t of the level carry C is C·q·[a(1−t) + b t + e q], q = t(1−t), with
launch tangent a, landing tangent b and the arch e that wind and air add or take. Against the radar-measured 6 iron of
184 yd (14.7° up, 48° down) the top of the cubic, e = 0, is 34.1 yd, published 33.8.
"""

from __future__ import annotations

import math
from typing import Any, Final

from simcaddie.base.compiled import inlined
from simcaddie.base.units import METRES_PER_YARD
from simcaddie.model import arrays as r
from simcaddie.model.look import cell_of
from simcaddie.weather.table import DAY_ARCH, DAY_CARRY, DAY_DRIFT, DAY_LANDING, DAY_RUN

__all__ = ["falls_on", "lie_of_land", "meets_ground", "on_slope", "rise", "stopped_by_trees", "through_air"]

BENDS: Final = 0.55  # how much steeper a flight falls per share of its carry below its start (weather/flight.py)
ROLLING: Final = 0.0936  # a rolling ball loses this share of g on turf, 5/7 · 0.131 (Penner 2002)
NEAR_ENOUGH: Final = 0.05  # yd between a flight and the ground that it meets
NEWTON: Final = 4.0  # yd of height within which one step of Newton's is as near
FLAT: Final = 0.6  # a flight whose middle is as high, per carry, as this times the steepest slope meets it once
OVER: Final = (0.5, 0.65, 0.75, 0.85, 0.92)  # shares of the carry at which a flight may still be over all trees


@inlined
def lie_of_land(heights: Any, x0: float, y0: float, cell: float, x: float, y: float) -> Any:
    """Return the ground's height at a place (yd) and its slope towards +x and towards +y."""
    px = min(max((x - x0) / cell, 0.0), heights.shape[1] - 1.001)
    py = min(max((y - y0) / cell, 0.0), heights.shape[0] - 1.001)
    ix, iy = int(px), int(py)  # neither is below 0
    u, v = px - ix, py - iy
    a, b, c, d = heights[iy, ix], heights[iy, ix + 1], heights[iy + 1, ix], heights[iy + 1, ix + 1]
    low, high = a + u * (b - a), c + u * (d - c)
    return low + v * (high - low), ((b - a) * (1.0 - v) + (d - c) * v) / cell, (high - low) / cell


@inlined
def rise(t: float, launch: float, landing: float, arch: float) -> float:
    """Return the height of a flight at the share ``t`` of its level carry, as a share of it; ``t`` from 0 to 1."""
    q = t - t * t
    return q * (launch + t * (landing - launch) + arch * q)


@inlined
def falls_on(t: float, launch: float, landing: float, arch: float) -> float:
    """Return the height as ``rise`` does, also beyond 1, where the flight falls on below its start."""
    if t > 1.0:
        return (1.0 - t) * landing * (1.0 + BENDS * (t - 1.0))
    return rise(t, launch, landing, arch)


@inlined
def meets_ground(
    g: Any,
    x: float,
    y: float,
    fx: float,
    fy: float,
    carry: float,
    launch: float,
    landing: float,
    arch: float,
    base: float,
) -> float:
    """Return the share of its level carry at which a flight meets the ground, from 0.02 to 1.7.

    (x, y) is its start, ``base`` the ground's height there, (fx, fy) the way to the landing on the level. Newton's step
    from there, then secants; a flight that the ground rises to meet on its way, or that they don't find, is looked at
    step by step.
    """
    height, gx, gy = lie_of_land(g.height, g.x0, g.y0, g.height_cell, x + fx, y + fy)
    gap, now, steep = base - height, 1.0, carry * max(0.05, landing)
    slope = -max(0.3 * steep, steep + gx * fx + gy * fy)
    if abs(gap) < NEWTON:
        now -= gap / slope
        gap = 0.0
    for _ in range(10):
        if abs(gap) <= NEAR_ENOUGH:
            break
        last, before = gap, now
        now = min(max(now - gap / min(slope, -0.3 * steep), 0.1), 1.6)
        gap = base - lie_of_land(g.height, g.x0, g.y0, g.height_cell, x + now * fx, y + now * fy)[0]
        gap += carry * falls_on(now, launch, landing, arch)
        if now != before:
            slope = (gap - last) / (now - before)
    middle = rise(0.5, launch, landing, arch)
    if abs(gap) <= NEAR_ENOUGH and middle >= FLAT * g.steepest and carry * middle >= g.highest - base:
        return now  # it rises and falls faster than any ground there, and its top is above all of it
    last = 0.0
    for i in range(1, 18):
        t = 0.1 * i
        gap = base - lie_of_land(g.height, g.x0, g.y0, g.height_cell, x + t * fx, y + t * fy)[0]
        gap += carry * falls_on(t, launch, landing, arch)
        if gap < 0.0:
            if abs(now - t) <= 0.1:
                return now
            return max(0.02, t - 0.1 * gap / (gap - last)) if last > 0.0 else 0.02
        last = gap
    return 1.7


@inlined
def on_slope(up: float, run: float) -> float:
    """Return how many times as fast a ball stops whose ``run`` ends ``up`` yards higher: a third to three times."""
    return min(3.0, max(1.0 / 3.0, 1.0 + up / (run * ROLLING)))


@inlined
def stopped_by_trees(
    g: Any,
    x: float,
    y: float,
    dx: float,
    dy: float,
    carry: float,
    side: float,
    bow: float,
    launch: float,
    landing: float,
    arch: float,
    end: float,
    climb: float,
    gap: float,
    u: float,
    along: float = 0.5,
) -> float:
    """Return the share of the level carry at which trees stop the ball before ``end`` of it, −1 if none does.

    A ball below the top of a canopy that it is over is stopped with chance 1 − (1 − density)^(metres crossed / 10).
    ``climb`` is how much higher than the start the flight meets the ground; in between the ground counts as even.
    ``along``, from mid-yard on since a cell's edge has no mirror image, is how far it is known to be clear.
    """
    crossed, over, limit = 0.0, False, math.log(1.0 - u) / (gap * METRES_PER_YARD / 10.0)
    slower, full, share = 1.0 / max(launch, landing), carry * end, 1.0 / carry
    tallest, climb = g.tallest + max(0.0, climb), climb / end
    while along < full:
        t = along * share
        high = carry * rise(t, launch, landing, arch)
        if not over and high > tallest:
            over = True  # a flight rises, then falls: it is over everything until the last such place
            for later in OVER:
                if later > t and rise(later, launch, landing, arch) * carry > tallest:
                    along, t, high = later * carry, later, carry * rise(later, launch, landing, arch)
        lateral = side * t + bow * carry * t * (1.0 - t)
        px, py = x + dx * along + dy * lateral, y + dy * along - dx * lateral
        iy = cell_of(py, g.y0, g.cell, g.wood.shape[0])
        ix = cell_of(px, g.x0, g.cell, g.wood.shape[1])
        mark = int(g.wood[iy, ix])
        step = float(mark)
        if mark >= r.WOOD:
            tree = g.canopy[iy, ix]
            above = (high - climb * t - g.areas[tree, r.AREA_HEIGHT]) * slower
            if above < 0.0:  # yard after yard under the same canopy, as far as that is sure
                step = max(1.0, math.floor(min(float(mark - r.WOOD), -above, math.ceil(full - along))))
                rate = g.areas[tree, r.AREA_LOG_OPEN]
                if crossed + step * rate < limit:
                    return float((along + max(0.0, math.floor((limit - crossed) / rate))) * share)
                crossed += step * rate
            else:
                step = max(1.0, above)  # it can't come down to that canopy sooner
        along += step
    return -1.0


@inlined
def through_air(d: Any, swing: int, dx: float, dy: float, gust: float) -> Any:
    """Return (carry factor, drift, landing, run factor, arch) of a swing along (dx, dy) in a gust of that many sds."""
    problem = d.rows
    if problem.shape[1] == 1:
        row = problem[swing, 0, 0]
        return row[DAY_CARRY], row[DAY_DRIFT], row[DAY_LANDING], row[DAY_RUN], row[DAY_ARCH]
    turn = (math.atan2(dx, dy) - d.towards) / (2.0 * math.pi)
    place = (turn - math.floor(turn)) * problem.shape[1]
    i = int(math.floor(place))
    u = place - i
    i, after = i % problem.shape[1], (i + 1) % problem.shape[1]
    j, v = 0, 0.0
    if problem.shape[2] > 1:
        strength = 1.0 + 0.5 * min(max(gust, -2.0), 2.0)
        j = min(int(math.floor(strength)), problem.shape[2] - 2)
        v = strength - j
    more = min(j + 1, problem.shape[2] - 1)
    p, q, s, t = (1.0 - u) * (1.0 - v), u * (1.0 - v), (1.0 - u) * v, u * v
    a, b, c, e = problem[swing, i, j], problem[swing, after, j], problem[swing, i, more], problem[swing, after, more]
    return (
        p * a[DAY_CARRY] + q * b[DAY_CARRY] + s * c[DAY_CARRY] + t * e[DAY_CARRY],
        p * a[DAY_DRIFT] + q * b[DAY_DRIFT] + s * c[DAY_DRIFT] + t * e[DAY_DRIFT],
        p * a[DAY_LANDING] + q * b[DAY_LANDING] + s * c[DAY_LANDING] + t * e[DAY_LANDING],
        p * a[DAY_RUN] + q * b[DAY_RUN] + s * c[DAY_RUN] + t * e[DAY_RUN],
        p * a[DAY_ARCH] + q * b[DAY_ARCH] + s * c[DAY_ARCH] + t * e[DAY_ARCH],
    )
