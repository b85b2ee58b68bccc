"""The stroke kernel: the one place that knows what a golf stroke does.

(place, lie, swing, aim line, draws) → (place, lie, strokes counted, what happened). The solver and the simulator both
call ``stroke``, so that they can be held against each other. This file is long on purpose: numba's disk cache follows
changes within a file, and the pieces below are one thought (design of the layers: see DEVELOPERS.md).

A stroke goes: strike → flight → trees → landing → run over the ground → rest or relief. Relief follows the Rules of
Golf (2023); the Rule stands at each branch. Where a Rule leaves a choice the player takes what is best to play on
from, by the ``to_go`` that comes in as an array.

Flight shape, for trees and slopes: height above the start at the share t of the level carry C is
C·q·[a(1−t) + b t + e q], q = t(1−t), with launch tangent a, landing tangent b and the arch e that wind and air add
or take. Against the radar-measured 6 iron of 184 yd (14.7° up, 48° down) the top of the cubic, e = 0, is 34.1 yd,
published 33.8.
"""

from __future__ import annotations

import math
from typing import Any, Final

import numpy as np

from simcaddie.air.table import DAY_ARCH, DAY_CARRY, DAY_DRIFT, DAY_LANDING, DAY_RUN
from simcaddie.compiled import compiled
from simcaddie.play import records as r
from simcaddie.units import METRES_PER_YARD

__all__: list[str] = []  # compiled helpers; ``play/__init__.py`` gives the public ones

CLUB_LENGTH: Final = 1.25  # yd: a driver of about 45 in (Definitions, "Club-Length")
HOLED_WITHIN: Final = 0.193  # yd: a circle of the area 3 ft × 4.25 in, where a ball at holing speed on line would fall
BACK_STEP: Final = 0.5  # yd, tracing a path back to where it crossed an edge
NO_STATE: Final = 1.0e6
BENDS: Final = 0.55  # how much steeper a flight falls per share of its carry below its start (air/flight.py)
STANCE: Final = 5.0  # mishits grow by this times the slope underfoot; common practice, no source
STEEPEST: Final = 0.3  # slopes underfoot beyond this count as this
ROLLING: Final = 0.0936  # a rolling ball loses this share of g on turf, 5/7 · 0.131 (Penner 2002)
NEAR_ENOUGH: Final = 0.05  # yd between a flight and the ground that it meets
NEWTON: Final = 4.0  # yd of height within which one step of Newton's is as near
_LATER: Final = (0.92, 0.85, 0.75, 0.65, 0.5)
# Directions of lateral relief, (cos, sin) from straight away from the hole to square to it on either side
_ASIDE: Final = tuple((math.cos(i * math.pi / 8), math.sin(i * math.pi / 8)) for i in (0, 1, -1, 2, -2, 3, -3, 4, -4))

PLAYED: Final = int(r.Event.PLAYED)
PENALTY_AREA: Final = int(r.Event.PENALTY_AREA)
OUT_OF_BOUNDS: Final = int(r.Event.OUT_OF_BOUNDS)
LOST: Final = int(r.Event.LOST)
UNPLAYABLE: Final = int(r.Event.UNPLAYABLE)
HOLED: Final = int(r.Event.HOLED)
HIT_TREE: Final = int(r.Event.HIT_TREE)
FAILED: Final = int(r.Event.FAILED)

# ── numbers from a counter ───────────────────────────────────────────────────────────────────────────────────────────

_GOLDEN: Final = np.uint64(0x9E3779B97F4A7C15)
_MIX_1: Final = np.uint64(0xBF58476D1CE4E5B9)
_MIX_2: Final = np.uint64(0x94D049BB133111EB)
_S30, _S27, _S31, _S12 = np.uint64(30), np.uint64(27), np.uint64(31), np.uint64(12)


@compiled
def mix(z: Any) -> Any:
    """Scramble 64 bits: the finaliser of SplitMix64 (Steele, Lea and Flood, OOPSLA 2014)."""
    z = (z ^ (z >> _S30)) * _MIX_1
    z = (z ^ (z >> _S27)) * _MIX_2
    return z ^ (z >> _S31)


@compiled
def stream(key: Any, sequence: int) -> Any:
    """Return the start of a sequence's own stream."""
    return mix(key ^ mix(np.uint64(sequence) * _GOLDEN + _MIX_1))


@compiled
def uniform(start: Any, draw: int) -> float:
    """Return draw number ``draw`` of a stream, uniform in (0, 1)."""
    bits = mix(start + np.uint64(draw + 1) * _GOLDEN) >> _S12
    return (float(bits) + 0.5) * (1.0 / 4503599627370496.0)


@compiled
def normal(p: float) -> float:
    """Return the standard normal quantile of ``p``: Wichura's AS 241 (PPND16), Applied Statistics 37, 1988."""
    # fmt: off
    q = p - 0.5
    if abs(q) <= 0.425:
        s = 0.180625 - q * q
        return (
            q
            * (((((((2509.0809287301226727 * s + 33430.575583588128105) * s + 67265.770927008700853) * s
                   + 45921.953931549871457) * s + 13731.693765509461125) * s + 1971.5909503065514427) * s
                + 133.14166789178437745) * s + 3.387132872796366608)
            / (((((((5226.495278852545925 * s + 28729.085735721942674) * s + 39307.89580009271061) * s
                   + 21213.794301586595867) * s + 5394.1960214247511077) * s + 687.1870074920579083) * s
                + 42.313330701600911252) * s + 1.0)
        )
    s = math.sqrt(-math.log(p if q < 0.0 else 1.0 - p))
    if s <= 5.0:
        s -= 1.6
        x = (
            (((((((7.7454501427834140764e-4 * s + 0.0227238449892691845833) * s + 0.24178072517745061177) * s
                 + 1.27045825245236838258) * s + 3.64784832476320460504) * s + 5.7694972214606914055) * s
              + 4.6303378461565452959) * s + 1.42343711074968357734)
            / (((((((1.05075007164441684324e-9 * s + 5.475938084995344946e-4) * s + 0.0151986665636164571966) * s
                   + 0.14810397642748007459) * s + 0.68976733498510000455) * s + 1.6763848301838038494) * s
                + 2.05319162663775882187) * s + 1.0)
        )
    else:
        s -= 5.0
        x = (
            (((((((2.01033439929228813265e-7 * s + 2.71155556874348757815e-5) * s + 0.0012426609473880784386) * s
                 + 0.026532189526576123093) * s + 0.29656057182850489123) * s + 1.7848265399172913358) * s
              + 5.4637849111641143699) * s + 6.6579046435011037772)
            / (((((((2.04426310338993978564e-15 * s + 1.4215117583164458887e-7) * s + 1.8463183175100546818e-5) * s
                   + 7.868691311456132591e-4) * s + 0.0148753612908506148525) * s + 0.13692988092273580531) * s
                + 0.59983220655588793769) * s + 1.0)
        )
    # fmt: on
    return -x if q < 0.0 else x


@compiled
def distance(x: float, y: float) -> float:
    """Return the length of (x, y); the library's hypot guards against overflow and is slow."""
    return math.sqrt(x * x + y * y)


# ── looking at the ground ────────────────────────────────────────────────────────────────────────────────────────────


@compiled
def cell_of(x: float, x0: float, cell: float, n: int) -> int:
    """Return the cell that holds ``x``, the edge cell where it lies outside."""
    i = int(math.floor((x - x0) * (1.0 / cell)))
    return min(max(i, 0), n - 1)


@compiled
def kind_at(g: Any, x: float, y: float) -> int:
    """Return the surface kind at a place."""
    return g.surface[cell_of(y, g.y0, g.cell, g.surface.shape[0]), cell_of(x, g.x0, g.cell, g.surface.shape[1])]


@compiled
def area_at(g: Any, x: float, y: float) -> int:
    """Return the number of the area at a place, −1 in the surround."""
    return g.area[cell_of(y, g.y0, g.cell, g.area.shape[0]), cell_of(x, g.x0, g.cell, g.area.shape[1])]


@compiled
def state_at(s: Any, lie: int, x: float, y: float) -> int:
    """Return the state of a place and lie, −1 where there is none."""
    return s.of_cell[lie, cell_of(y, s.y0, s.cell, s.of_cell.shape[1]), cell_of(x, s.x0, s.cell, s.of_cell.shape[2])]


# ── the ground's heights ─────────────────────────────────────────────────────────────────────────────────────────────


@compiled
def lie_of_land(heights: Any, x0: float, y0: float, cell: float, x: float, y: float) -> Any:
    """Return the ground's height at a place (yd) and its slope towards +x and towards +y."""
    px = min(max((x - x0) / cell, 0.0), heights.shape[1] - 1.001)
    py = min(max((y - y0) / cell, 0.0), heights.shape[0] - 1.001)
    ix, iy = int(px), int(py)  # neither is below 0
    u, v = px - ix, py - iy
    a, b, c, d = heights[iy, ix], heights[iy, ix + 1], heights[iy + 1, ix], heights[iy + 1, ix + 1]
    low, high = a + u * (b - a), c + u * (d - c)
    return low + v * (high - low), ((b - a) * (1.0 - v) + (d - c) * v) / cell, (high - low) / cell


def surface_of(g: Any) -> tuple[Any, float, float, float]:
    """Return what ``lie_of_land`` takes of a ground; the whole record would be handed on by value."""
    return g.height, g.x0, g.y0, g.height_cell


@compiled
def rise(t: float, launch: float, landing: float, arch: float) -> float:
    """Return the height of a flight at the share ``t`` of its level carry, as a share of it; ``t`` from 0 to 1."""
    q = t - t * t
    return q * (launch + t * (landing - launch) + arch * q)


@compiled
def falls_on(t: float, launch: float, landing: float, arch: float) -> float:
    """Return the height as ``rise`` does, also beyond 1, where the flight falls on below its start."""
    if t > 1.0:
        return (1.0 - t) * landing * (1.0 + BENDS * (t - 1.0))
    return rise(t, launch, landing, arch)


@compiled
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
    if abs(gap) <= NEAR_ENOUGH and middle >= 0.6 * g.steepest and carry * middle >= g.highest - base:
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


@compiled
def over_hills(
    g: Any,
    x: float,
    y: float,
    dx: float,
    dy: float,
    carry: float,
    side: float,
    run: float,
    launch: float,
    landing: float,
    arch: float,
    base: float,
) -> Any:
    """Return (share of the level carry at which a flight meets the ground, climb to there, run over the slope there).

    A slope adds its share of g to what slows a rolling ball: from a third to three times that counts.
    """
    fx, fy = dx * carry + dy * side, dy * carry - dx * side
    end = meets_ground(g, x, y, fx, fy, carry, launch, landing, arch, base)
    climb = carry * falls_on(end, launch, landing, arch)
    if run > 0.0:
        far = run / math.sqrt(carry * carry + side * side) + end
        up = lie_of_land(g.height, g.x0, g.y0, g.height_cell, x + far * fx, y + far * fy)[0] - base - climb
        run /= min(3.0, max(1.0 / 3.0, 1.0 + up / (run * ROLLING)))
    return end, climb, run


# ── the flight among trees ───────────────────────────────────────────────────────────────────────────────────────────


@compiled
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
) -> float:
    """Return the share of the level carry at which trees stop the ball before ``end`` of it, −1 if none does.

    A ball below the top of a canopy that it is over is stopped with chance 1 − (1 − density)^(metres crossed / 10).
    ``climb`` is how much higher than the start the flight meets the ground; in between the ground counts as even.
    """
    along, log_open, over = 0.5, 0.0, False  # mid-yard: a cell's edge has no mirror image
    steepest = max(launch, landing)
    tallest, climb = g.tallest + max(0.0, climb), climb / end
    while along < carry * end:
        t = along / carry
        if not over and rise(t, launch, landing, arch) * carry > tallest:
            over = True  # a flight rises, then falls: it is over everything until the last such place
            for later in _LATER:
                if later > t and rise(later, launch, landing, arch) * carry > tallest:
                    along, t = later * carry, later
                    break
        lateral = side * t + bow * carry * t * (1.0 - t)
        px, py = x + dx * along + dy * lateral, y + dy * along - dx * lateral
        iy = cell_of(py, g.y0, g.cell, g.canopy.shape[0])
        ix = cell_of(px, g.x0, g.cell, g.canopy.shape[1])
        tree = g.canopy[iy, ix]
        step = 1.0
        if tree >= 0:
            above = carry * rise(t, launch, landing, arch) - climb * t - g.areas[tree, r.AREA_HEIGHT]
            if above < 0.0:
                log_open += gap * g.areas[tree, r.AREA_LOG_OPEN] * METRES_PER_YARD / 10.0
                if log_open < math.log(1.0 - u):
                    return t
            else:
                step = max(1.0, above / steepest)  # it can't come down to that canopy sooner
        else:
            step = float(g.clear[iy, ix])
        along += step
    return -1.0


# ── the run over the ground ──────────────────────────────────────────────────────────────────────────────────────────


@compiled
def run_out(g: Any, x: float, y: float, dx: float, dy: float, run: float) -> Any:
    """Return where a ball with ``run`` yards of ordinary-fairway run in it stops.

    Each kind of ground scales what is left. The ball goes yard by yard, or as far at once as the kind is known to stay
    the same; a penalty area takes it.
    """
    left = run
    while left > 0.0:
        iy = cell_of(y, g.y0, g.cell, g.surface.shape[0])
        ix = cell_of(x, g.x0, g.cell, g.surface.shape[1])
        slow = g.kinds[g.surface[iy, ix], r.KIND_SLOW]
        if slow <= 0.0:
            break
        step = float(g.same[iy, ix])
        use = step * slow
        if use > left:
            use, step = left, left / slow
        x += dx * step
        y += dy * step
        left -= use
    return x, y


# ── relief ───────────────────────────────────────────────────────────────────────────────────────────────────────────


@compiled
def worth(g: Any, s: Any, to_go: Any, x: float, y: float) -> float:
    """Return the strokes to go after a drop at a place; huge where no drop is allowed or sensible.

    A drop on the green, which Rule 17.1d would allow, is left out: relief that near the hole hardly occurs.
    """
    kind = kind_at(g, x, y)
    if g.kinds[kind, r.KIND_PENALTY] > 0.0 or g.kinds[kind, r.KIND_OUT] > 0.0 or g.kinds[kind, r.KIND_PUTTING] > 0.0:
        return NO_STATE
    state = state_at(s, kind, x, y)
    return to_go[state] if state >= 0 else NO_STATE


@compiled
def back_on_line(g: Any, s: Any, to_go: Any, px: float, py: float, area: int, best: float) -> Any:
    """Rules 17.1d(2), 19.2b: any distance back on the line from the hole through (px, py), not in area ``area``.

    Returns (strokes to go, x, y) of the best such place if it beats ``best``, else ``best`` and the point itself.
    """
    bx, by = px, py
    dx, dy = px - g.pin_x, py - g.pin_y
    far = distance(dx, dy)
    if far > 1e-9:
        dx, dy = dx / far, dy / far
        back = 1.0
        while back < 150.0:
            x, y = px + dx * back, py + dy * back
            if area < 0 or area_at(g, x, y) != area:
                value = worth(g, s, to_go, x, y)
                if value < best:
                    best, bx, by = value, x, y
            back += 1.0 if back < 10.0 else 5.0
    return best, bx, by


@compiled
def lateral(g: Any, s: Any, to_go: Any, px: float, py: float, area: int, best: float, x: float, y: float) -> Any:
    """Rules 17.1d(3), 19.2c: within two club-lengths of (px, py), no nearer the hole, not in area ``area``.

    Of places level with each other the first on the side of (x, y), where the stroke was made, is taken.
    """
    bx, by = px, py
    dx, dy = px - g.pin_x, py - g.pin_y
    far = distance(dx, dy)
    if far > 1e-9:
        turn = 1.0 if dx * (y - g.pin_y) - dy * (x - g.pin_x) <= 0.0 else -1.0
        dx, dy = dx / far, dy / far
        for ring in range(2):
            reach = CLUB_LENGTH * (2.0 - ring)
            for c, w in _ASIDE:
                tx, ty = px + reach * (dx * c + dy * w * turn), py + reach * (dy * c - dx * w * turn)
                beyond = (tx - g.pin_x) ** 2 + (ty - g.pin_y) ** 2 >= (far - 1e-9) ** 2
                if beyond and (area < 0 or area_at(g, tx, ty) != area):
                    value = worth(g, s, to_go, tx, ty)
                    if value < best:
                        best, bx, by = value, tx, ty
    return best, bx, by


@compiled
def last_crossing(g: Any, area: int, x: float, y: float, lx: float, ly: float, ex: float, ey: float) -> Any:
    """Return the first point outside area ``area``, going back from rest (ex, ey) by landing (lx, ly) to the start."""
    for leg in range(2):
        ax, ay = (ex, ey) if leg == 0 else (lx, ly)
        tx, ty = (lx, ly) if leg == 0 else (x, y)
        length = distance(tx - ax, ty - ay)
        steps = int(math.ceil(length / BACK_STEP))
        for k in range(1, steps + 1):
            share = min(1.0, k * BACK_STEP / length)
            px, py = ax + share * (tx - ax), ay + share * (ty - ay)
            if area_at(g, px, py) != area:
                return px, py
    return x, y


@compiled
def nearest_fairway(g: Any, x: float, y: float) -> Any:
    """Local Rule E-5: return (found, x, y) of the nearest fairway cell that is no nearer the hole than (x, y).

    Looks outward in square rings of cells, until none further out can be nearer.
    """
    rows, columns = g.surface.shape
    cy, cx = cell_of(y, g.y0, g.cell, rows), cell_of(x, g.x0, g.cell, columns)
    far = distance(x - g.pin_x, y - g.pin_y)
    best, bx, by = 1.0e18, x, y
    for ring in range(max(rows, columns)):
        if best < ((ring - 1) * g.cell) ** 2:
            break
        for iy in range(max(0, cy - ring), min(rows, cy + ring + 1)):
            edge = abs(iy - cy) == ring
            for ix in range(cx - ring, cx + ring + 1, 1 if edge else max(1, 2 * ring)):
                if 0 <= ix < columns and g.kinds[g.surface[iy, ix], r.KIND_FAIRWAY] > 0.0:
                    px, py = g.x0 + (ix + 0.5) * g.cell, g.y0 + (iy + 0.5) * g.cell
                    apart = (px - x) ** 2 + (py - y) ** 2
                    if apart < best and distance(px - g.pin_x, py - g.pin_y) >= far:
                        best, bx, by = apart, px, py
    return best < 1.0e18, bx, by


@compiled
def stroke_and_distance(g: Any, s: Any, to_go: Any, x: float, y: float, lie: int, px: float, py: float) -> Any:
    """Rule 18.2, lost or out of bounds: play again from (x, y) under penalty of one stroke.

    Where the Committee adopted Local Rule E-5 the player may drop by the fairway level with (px, py) for two instead.
    """
    if g.local_rule_e5:
        found, fx, fy = nearest_fairway(g, px, py)
        if found:
            again = state_at(s, lie, x, y)
            if worth(g, s, to_go, fx, fy) + 2.0 < (to_go[again] if again >= 0 else NO_STATE) + 1.0:
                return fx, fy, kind_at(g, fx, fy), 3
    return x, y, lie, 2


@compiled
def penalty_relief(
    g: Any, s: Any, to_go: Any, x: float, y: float, lie: int, lx: float, ly: float, ex: float, ey: float
) -> Any:
    """Rule 17.1d, a ball in a penalty area, one stroke: back to (x, y), back on the line, or lateral where it is red.

    Returns (x, y, lie). Playing it as it lies (17.1b) is not on: the areas of this kind hold water.
    """
    area = area_at(g, ex, ey)
    cx, cy = last_crossing(g, area, x, y, lx, ly, ex, ey)
    again = state_at(s, lie, x, y)
    best = to_go[again] if again >= 0 else NO_STATE  # 17.1d(1)
    value, bx, by = back_on_line(g, s, to_go, cx, cy, area, best)  # 17.1d(2)
    moved = value < best
    if area >= 0 and g.areas[area, r.AREA_LATERAL] > 0.0:
        beside, sx, sy = lateral(g, s, to_go, cx, cy, area, value, x, y)  # 17.1d(3)
        if beside < value:
            return sx, sy, kind_at(g, sx, sy)
    if moved:
        return bx, by, kind_at(g, bx, by)
    return x, y, lie


@compiled
def unplayable_relief(g: Any, s: Any, to_go: Any, x: float, y: float, lie: int, ex: float, ey: float) -> Any:
    """Rule 19.2, unplayable, one stroke: back to (x, y) (a), back on the line (b) or within two club-lengths (c)."""
    again = state_at(s, lie, x, y)
    best = to_go[again] if again >= 0 else NO_STATE
    value, bx, by = back_on_line(g, s, to_go, ex, ey, -1, best)
    beside, sx, sy = lateral(g, s, to_go, ex, ey, -1, value, x, y)
    if beside < value:
        return sx, sy, kind_at(g, sx, sy)
    if value < best:
        return bx, by, kind_at(g, bx, by)
    return x, y, lie


# ── touch shots and putts ────────────────────────────────────────────────────────────────────────────────────────────


@compiled
def touch_shot(t: Any, g: Any, x: float, y: float, lie: int, dx: float, dy: float, length: float, z: Any) -> Any:
    """Return (carry, side, run, failed) of a feel shot meant to go ``length`` yards.

    The stock shot flies ``air`` of the way and runs the rest on the green. Where the green leaves less room than that
    (the short side) the ball must fly further and stop quicker, and the error grows by up to as much again.
    """
    row = t.table[lie]
    if z[r.DRAW_STRIKE] < row[r.TOUCH_FAIL]:
        return row[r.TOUCH_FAIL_CARRY] * 2.0 * z[r.DRAW_TREES], 0.0, 0.0, True
    side = length * row[r.TOUCH_DIRECTION] * z[r.DRAW_SIDE]
    if z[r.DRAW_STRIKE] < row[r.TOUCH_FAT]:
        return max(0.5, length * (0.35 + 0.12 * z[r.DRAW_CARRY])), 0.5 * side, 0.05 * length, False
    if z[r.DRAW_STRIKE] < row[r.TOUCH_THIN]:
        return 0.7 * length, side, max(0.0, length * (0.75 + 0.25 * z[r.DRAW_CARRY])), False
    run = (1.0 - row[r.TOUCH_AIR]) * length
    room, on_green = 0.0, True
    while on_green and room < run:
        back = length - room
        iy = cell_of(y + dy * back, g.y0, g.cell, g.surface.shape[0])
        ix = cell_of(x + dx * back, g.x0, g.cell, g.surface.shape[1])
        on_green = g.kinds[g.surface[iy, ix], r.KIND_PUTTING] > 0.0
        if on_green:
            room += float(g.same[iy, ix])
    short_side = 0.0
    if 0.0 < room < run:
        short_side = 1.0 - room / run
        run = max(room - 0.5, 0.25 * run)
    error = (row[r.TOUCH_NEAR] + row[r.TOUCH_FAR] * length) * (1.0 + short_side) * z[r.DRAW_CARRY]
    scale = max(0.05, 1.0 + error / length)
    return (length - run) * scale, side, run * scale * row[r.TOUCH_PACE], False


@compiled
def tilt_row(g: Any, p: Any, x: float, y: float) -> int:
    """Return which putt table serves a place: 0 from below the hole … last from above it; 0 on a level green."""
    rows = p.cumulative.shape[0]
    area = area_at(g, x, y)
    if rows == 1 or area < 0 or g.areas[area, r.AREA_TILT] == 0.0:
        return 0
    dx, dy = x - g.pin_x, y - g.pin_y
    far = max(1e-9, distance(dx, dy))
    above = (dx * g.areas[area, r.AREA_TILT_X] + dy * g.areas[area, r.AREA_TILT_Y]) / far
    return int(math.floor(0.5 + max(0.0, above) * (rows - 1)))


@compiled
def putts(g: Any, p: Any, x: float, y: float, u: float) -> int:
    """Return the number of putts from a place on the green."""
    row = tilt_row(g, p, x, y)
    place = min(distance(x - g.pin_x, y - g.pin_y) / p.step, p.cumulative.shape[1] - 1.001)
    i = int(math.floor(place))
    share = place - i
    for k in range(4):
        if u < (1.0 - share) * p.cumulative[row, i, k] + share * p.cumulative[row, i + 1, k]:
            return k + 1
    return 5


@compiled
def mean_putts(g: Any, p: Any, x: float, y: float) -> float:
    """Return the mean number of putts from a place on the green."""
    row = tilt_row(g, p, x, y)
    place = min(distance(x - g.pin_x, y - g.pin_y) / p.step, p.expected.shape[1] - 1.001)
    i = int(math.floor(place))
    return p.expected[row, i] + (place - i) * (p.expected[row, i + 1] - p.expected[row, i])


@compiled
def aim_line(g: Any, x: float, y: float, offset: float) -> Any:
    """Return the unit vector from (x, y) to the pin, turned clockwise by ``offset`` radians."""
    dx, dy = g.pin_x - x, g.pin_y - y
    far = max(1e-9, distance(dx, dy))
    if offset == 0.0:
        return dx / far, dy / far
    c, w = math.cos(offset) / far, math.sin(offset) / far
    return dx * c + dy * w, dy * c - dx * w


# ── the day ──────────────────────────────────────────────────────────────────────────────────────────────────────────


@compiled
def through_air(d: Any, swing: int, dx: float, dy: float, gust: float) -> Any:
    """Return (carry factor, drift, landing, run factor, arch) of a swing along (dx, dy) in a gust of that many sds."""
    table = d.table
    if table.shape[1] == 1:
        row = table[swing, 0, 0]
        return row[DAY_CARRY], row[DAY_DRIFT], row[DAY_LANDING], row[DAY_RUN], row[DAY_ARCH]
    turn = (math.atan2(dx, dy) - d.towards) / (2.0 * math.pi)
    place = (turn - math.floor(turn)) * table.shape[1]
    i = int(math.floor(place))
    u = place - i
    i, after = i % table.shape[1], (i + 1) % table.shape[1]
    j, v = 0, 0.0
    if table.shape[2] > 1:
        strength = 1.0 + 0.5 * min(max(gust, -2.0), 2.0)
        j = min(int(math.floor(strength)), table.shape[2] - 2)
        v = strength - j
    more = min(j + 1, table.shape[2] - 1)
    p, q, s, t = (1.0 - u) * (1.0 - v), u * (1.0 - v), (1.0 - u) * v, u * v
    a, b, c, e = table[swing, i, j], table[swing, after, j], table[swing, i, more], table[swing, after, more]
    return (
        p * a[DAY_CARRY] + q * b[DAY_CARRY] + s * c[DAY_CARRY] + t * e[DAY_CARRY],
        p * a[DAY_DRIFT] + q * b[DAY_DRIFT] + s * c[DAY_DRIFT] + t * e[DAY_DRIFT],
        p * a[DAY_LANDING] + q * b[DAY_LANDING] + s * c[DAY_LANDING] + t * e[DAY_LANDING],
        p * a[DAY_RUN] + q * b[DAY_RUN] + s * c[DAY_RUN] + t * e[DAY_RUN],
        p * a[DAY_ARCH] + q * b[DAY_ARCH] + s * c[DAY_ARCH] + t * e[DAY_ARCH],
    )


# ── one stroke ───────────────────────────────────────────────────────────────────────────────────────────────────────


@compiled
def struck(w: Any, lie: int, swing: int, z: Any, even: float, across: float) -> Any:
    """Return (carry, side, run, launch, landing, failed) of a swing; a landing tangent of 0 means the day's own.

    On uneven ground mishits are 1 / ``even`` times as many; ``across`` is its rise to the right, which turns the face:
    a sole flat on the slope points a lofted face downhill by the tangent of its loft times the slope.
    """
    row = w.table[lie, swing]
    u = z[r.DRAW_STRIKE]
    if u < row[r.SW_FAIL]:
        return row[r.SW_FAIL_CARRY] * 2.0 * z[r.DRAW_TREES], 0.0, 0.0, 0.0, 0.0, True
    u = row[r.SW_FAIL] + (u - row[r.SW_FAIL]) * even
    strike = (u >= row[r.SW_FAT]) + (u >= row[r.SW_THIN])  # 0 fat, 1 thin, 2 solid
    block = r.SW_STRIKE + r.STRIKE_COLUMNS * strike
    carry = max(0.5, row[block + r.STRIKE_CARRY] + row[block + r.STRIKE_CARRY_SD] * z[r.DRAW_CARRY])
    side = (
        row[block + r.STRIKE_SIDE]
        + row[block + r.STRIKE_SIDE_ON_CARRY] * z[r.DRAW_CARRY]
        + row[block + r.STRIKE_SIDE_SD] * z[r.DRAW_SIDE]
    )
    side -= carry * row[r.SW_TURN] * across
    run = max(0.0, row[block + r.STRIKE_RUN] + row[block + r.STRIKE_RUN_SD] * z[r.DRAW_RUN])
    return carry, side, run, row[r.SW_LAUNCH + strike], row[r.SW_LANDING + strike], False


@compiled
def stroke(table: Any, to_go: Any, x: float, y: float, lie: int, swing: int, dx: float, dy: float, z: Any) -> Any:
    """Play one stroke.

    Parameters
    ----------
    table : Table
    to_go : float64[states], strokes to go, for choices that a Rule leaves
    x, y, lie : place (yd) and surface kind
    swing : number of a swing; from the number of swings on, a touch action
    dx, dy : unit vector of the aim line
    z : seven floats, three standard normals (carry, side, run), three uniforms (strike, trees, finding the ball) and
        the gust, a standard normal

    Returns
    -------
    (x, y, surface, strokes counted, event, finish before relief, landing x, landing y)
    """
    g, s = table.ground, table.states
    swings = table.swings.table.shape[1]
    bow, gap, landing, arch, failed = 0.0, 1.0, 0.0, 0.0, False
    hilly, base, end, climb = g.height.shape[0] > 1, 0.0, 1.0, 0.0
    if swing >= swings:
        pin = distance(g.pin_x - x, g.pin_y - y)
        length = min(pin * table.touch.reach[swing - swings], table.touch.table[lie, r.TOUCH_LONGEST])
        carry, side, run, failed = touch_shot(table.touch, g, x, y, lie, dx, dy, length, z)
        launch, landing, hilly = 0.6, 1.0, False  # feel allows for the slope
    else:
        even, across = 1.0, 0.0
        if hilly:
            base, gx, gy = lie_of_land(g.height, g.x0, g.y0, g.height_cell, x, y)
            if g.kinds[lie, r.KIND_LEVEL] == 0.0:
                even = 1.0 / (1.0 + STANCE * min(distance(gx, gy), STEEPEST))
                across = min(max(gx * dy - gy * dx, -STEEPEST), STEEPEST)
        carry, side, run, launch, landing, failed = struck(table.swings, lie, swing, z, even, across)
        bow = table.swings.table[lie, swing, r.SW_BOW]
        gap = table.swings.table[lie, swing, r.SW_GAP]
        longer, drift, steep, rolls, arch = through_air(table.day, swing, dx, dy, z[r.DRAW_GUST])
        if landing > 0.0:
            arch = 0.0
        else:
            landing = steep
        side += carry * drift
        carry *= longer
        run *= rolls
    event = FAILED if failed else PLAYED
    if hilly and not failed:
        end, climb, run = over_hills(g, x, y, dx, dy, carry, side, run, launch, landing, arch, base)
    lx, ly = x + (dx * carry + dy * side) * end, y + (dy * carry - dx * side) * end
    ex, ey = lx, ly
    hit = -1.0
    if g.clear.shape[0] > 1 and not failed:
        u = z[r.DRAW_TREES]
        hit = stopped_by_trees(g, x, y, dx, dy, carry, side, bow, launch, landing, arch, end, climb, gap, u)
    if hit >= 0.0:
        event = HIT_TREE
        away = side * hit + bow * carry * hit * (1.0 - hit)
        lx, ly = x + dx * carry * hit + dy * away, y + dy * carry * hit - dx * away
        ex, ey = lx, ly
    elif run > 0.0:
        far = math.sqrt(carry * carry + side * side) * end
        ex, ey = run_out(g, lx, ly, (lx - x) / far, (ly - y) / far, run)
    kind = kind_at(g, ex, ey)
    if g.kinds[kind, r.KIND_OUT] > 0.0:
        nx, ny, surface, added = stroke_and_distance(g, s, to_go, x, y, lie, ex, ey)
        return nx, ny, surface, added, OUT_OF_BOUNDS, kind, lx, ly
    if g.kinds[kind, r.KIND_PENALTY] > 0.0:
        nx, ny, surface = penalty_relief(g, s, to_go, x, y, lie, lx, ly, ex, ey)
        return nx, ny, surface, 2, PENALTY_AREA, kind, lx, ly
    lost = g.kinds[kind, r.KIND_LOST]
    if z[r.DRAW_FIND] < lost and not failed:
        nx, ny, surface, added = stroke_and_distance(g, s, to_go, x, y, lie, ex, ey)
        return nx, ny, surface, added, LOST, kind, lx, ly
    if z[r.DRAW_FIND] < lost + (1.0 - lost) * g.kinds[kind, r.KIND_UNPLAYABLE] and not failed:
        nx, ny, surface = unplayable_relief(g, s, to_go, x, y, lie, ex, ey)
        return nx, ny, surface, 2, UNPLAYABLE, kind, lx, ly
    if (ex - g.pin_x) ** 2 + (ey - g.pin_y) ** 2 < HOLED_WITHIN**2:
        return g.pin_x, g.pin_y, kind, 1, HOLED, kind, lx, ly
    return ex, ey, kind, 1, event, kind, lx, ly
