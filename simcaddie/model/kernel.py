"""The stroke kernel: the one place that knows what a golf stroke does.

(place, lie, swing, aim line, draws) → (place, lie, strokes counted, what happened), for many balls at a time. All that
plays golf calls ``strokes``: the solver and the simulator, so that they can be held against each other.

A stroke is asked for as a row of ``Asked``: where the ball lies, what is played, along which line. Every row is played
with ``count`` draws, one ball each, so that what the balls of a row share is worked out once. Balls go through the
stroke in blocks, stage by stage, each stage a short loop that the processor can overlap:

    address       what the balls of a row share: slope underfoot, the day's air along the line, room for a touch shot
    strike        solid, fat, thin or failed: carry, side, run, launch and landing angle
    land          through the air of the day to where the flight meets the ground (``flight``)
    pass trees    stopped by a canopy, or not
    run out       over the ground, each kind of it slowing the ball
    come to rest  out, lost, in a penalty area, unplayable: relief under the Rules (``relief``); else where it lies

What is rare (a slope that rises to meet the flight, a ball among branches, edges of ground underway, relief) goes ball
by ball. Ground is looked up in two small grids of half-yard cells: ``word`` packs a cell's kind, whether a ball that
rests there needs a look at the Rules, and how far the kind is sure to stay the same; ``wood`` how far there is no
canopy, or how deep inside one the cell lies. So most balls take one look where they land and one where they rest.

Compiled functions allocate nothing: blocks stand in a ``Room`` that is handed in, one a thread.
"""

from __future__ import annotations

import math
from typing import Any, Final

from simcaddie.base.compiled import compiled, inlined
from simcaddie.model import arrays as r
from simcaddie.model.flight import (
    FLAT,
    NEWTON,
    OVER,
    falls_on,
    lie_of_land,
    meets_ground,
    on_slope,
    rise,
    stopped_by_trees,
    through_air,
)
from simcaddie.model.look import area_at, cell_of, distance
from simcaddie.model.relief import penalty_relief, stroke_and_distance, unplayable_relief

__all__ = ["mean_putts", "putts", "strokes"]

HOLED_WITHIN: Final = 0.193  # yd: a circle of the area 3 ft × 4.25 in, where a ball at holing speed on line would fall
STANCE: Final = 5.0  # mishits grow by this times the slope underfoot; common practice, no source
STEEPEST: Final = 0.3  # slopes underfoot beyond this count as this
TOUCH_LAUNCH: Final = 0.6  # tangents of a touch shot
TOUCH_LANDING: Final = 1.0
STRIDES: Final = 4  # that all balls of a block take together; the few that need more go on by themselves
LITTLE: Final = 1e-9  # yd of run that is none

PLAYED: Final = int(r.Event.PLAYED)
PENALTY_AREA: Final = int(r.Event.PENALTY_AREA)
OUT_OF_BOUNDS: Final = int(r.Event.OUT_OF_BOUNDS)
LOST: Final = int(r.Event.LOST)
UNPLAYABLE: Final = int(r.Event.UNPLAYABLE)
HOLED: Final = int(r.Event.HOLED)
HIT_TREE: Final = int(r.Event.HIT_TREE)
FAILED: Final = int(r.Event.FAILED)

# Rows of a room: a column a ball of the block
(X, Y, DX, DY, BASE, EVEN, ACROSS, LONGER, DRIFT, STEEP, ROLLS, RISES, LENGTH, SHORT, OPEN, BOW,
 CARRY, SIDE, RUN, LAUNCH, LANDING, ARCH, END, CLIMB, FX, FY, LX, LY, EX, EY,
 P, Q, S, T) = range(r.ROOM_NUMBERS)  # fmt: skip
LIE, SWING, DRAW, WHAT, CELL, LIST = range(r.ROOM_WHOLES)

# ── touch shots and putts ────────────────────────────────────────────────────────────────────────────────────────────


@inlined
def touch_room(t: Any, g: Any, x: float, y: float, lie: int, dx: float, dy: float, length: float) -> Any:
    """Return (run, short side) of a feel shot meant to go ``length`` yards.

    The stock shot flies ``air`` of the way and runs the rest on the green. Where the green leaves less room than that
    (the short side) the ball must fly further and stop quicker, and the error grows by up to as much again.
    """
    run = (1.0 - t.rows[lie, r.TOUCH_AIR]) * length
    room, on_green = 0.0, True
    while on_green and room < run:
        back = length - room
        iy = cell_of(y + dy * back, g.y0, g.cell, g.rows)
        ix = cell_of(x + dx * back, g.x0, g.cell, g.columns)
        word = g.word[iy * g.columns + ix]
        on_green = g.kinds[word & r.WORD_KIND, r.KIND_PUTTING] > 0.0
        if on_green:
            room += float(word >> r.WORD_SAME)
    if 0.0 < room < run:
        return max(room - 0.5, 0.25 * run), 1.0 - room / run
    return run, 0.0


@inlined
def touched(row: Any, length: float, run: float, short: float, ahead: float, aside: float, u: float, v: float) -> Any:
    """Return (carry, side, run, failed) of a feel shot; ``ahead``, ``aside`` normals, ``u`` and ``v`` uniforms."""
    side = length * row[r.TOUCH_DIRECTION] * aside
    if u >= row[r.TOUCH_THIN]:
        error = (row[r.TOUCH_NEAR] + row[r.TOUCH_FAR] * length) * (1.0 + short) * ahead
        scale = max(0.05, 1.0 + error / length)
        return (length - run) * scale, side, run * scale * row[r.TOUCH_PACE], False
    if u < row[r.TOUCH_FAIL]:
        return row[r.TOUCH_FAIL_CARRY] * 2.0 * v, 0.0, 0.0, True
    if u < row[r.TOUCH_FAT]:
        return max(0.5, length * (0.35 + 0.12 * ahead)), 0.5 * side, 0.05 * length, False
    return 0.7 * length, side, max(0.0, length * (0.75 + 0.25 * ahead)), False


@inlined
def tilt_row(g: Any, p: Any, x: float, y: float) -> int:
    """Return which putt table serves a place: 0 from below the hole … last from above it; 0 on a level green."""
    rows = p.cumulative.shape[0]
    if rows == 1:
        return 0
    area = area_at(g, x, y)
    if area < 0 or g.areas[area, r.AREA_TILT] == 0.0:
        return 0
    dx, dy = x - g.pin_x, y - g.pin_y
    far = max(1e-9, distance(dx, dy))
    above = (dx * g.areas[area, r.AREA_TILT_X] + dy * g.areas[area, r.AREA_TILT_Y]) / far
    return int(math.floor(0.5 + max(0.0, above) * (rows - 1)))


@inlined
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


@inlined
def mean_putts(g: Any, p: Any, x: float, y: float) -> float:
    """Return the mean number of putts from a place on the green."""
    row = tilt_row(g, p, x, y)
    place = min(distance(x - g.pin_x, y - g.pin_y) / p.step, p.expected.shape[1] - 1.001)
    i = int(math.floor(place))
    return p.expected[row, i] + (place - i) * (p.expected[row, i + 1] - p.expected[row, i])


# ── the stages of a stroke ───────────────────────────────────────────────────────────────────────────────────────────


@inlined
def address(problem: Any, f: Any, w: Any, asked: Any, row: int, i: int, n: int, draw: int) -> None:
    """Write what ``n`` balls of a row of ``asked`` share into the columns from ``i`` on; ``draw`` is the first's."""
    g, t = problem.ground, problem.touch
    x, y, dx, dy = asked.x[row], asked.y[row], asked.dx[row], asked.dy[row]
    lie, swing = int(asked.lie[row]), int(asked.swing[row])
    base, even, across, length, roll, short, way, bow = 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
    longer, drift, steep, rolls, arch = 1.0, 0.0, TOUCH_LANDING, 1.0, 0.0
    if swing >= problem.swings.rows.shape[1]:  # feel allows for the slope and the air
        pin = distance(g.pin_x - x, g.pin_y - y)
        length = min(pin * t.reach[swing - problem.swings.rows.shape[1]], t.rows[lie, r.TOUCH_LONGEST])
        roll, short = touch_room(t, g, x, y, lie, dx, dy, length)
    else:
        bow = problem.swings.rows[lie, swing, r.SW_BOW]
        if g.height.shape[0] > 1:
            base, gx, gy = lie_of_land(g.height, g.x0, g.y0, g.height_cell, x, y)
            if g.kinds[lie, r.KIND_LEVEL] == 0.0:
                even = 1.0 / (1.0 + STANCE * min(distance(gx, gy), STEEPEST))
                across = min(max(gx * dy - gy * dx, -STEEPEST), STEEPEST)
        if problem.day.rows.shape[2] == 1:
            longer, drift, steep, rolls, arch = through_air(problem.day, swing, dx, dy, 0.0)
    if g.wood.shape[0] > 1:  # looked at from mid-yard on: a start on a cell's edge has no mirror image
        iy = cell_of(y + 0.5 * dy, g.y0, g.cell, g.wood.shape[0])
        mark = g.wood[iy, cell_of(x + 0.5 * dx, g.x0, g.cell, g.wood.shape[1])]
        way = float(mark) if mark < r.WOOD else 0.0
    for j in range(i, i + n):
        f[X, j], f[Y, j], f[DX, j], f[DY, j], f[OPEN, j] = x, y, dx, dy, way
    for j in range(i, i + n):
        f[BASE, j], f[EVEN, j], f[ACROSS, j] = base, even, across
        f[LENGTH, j], f[RUN, j], f[SHORT, j], f[BOW, j] = length, roll, short, bow
    for j in range(i, i + n):
        f[LONGER, j], f[DRIFT, j], f[STEEP, j], f[ROLLS, j], f[RISES, j] = longer, drift, steep, rolls, arch
    for j in range(i, i + n):
        w[LIE, j], w[SWING, j], w[DRAW, j] = lie, swing, draw + j - i


@inlined
def strike(problem: Any, f: Any, w: Any, z: Any, n: int) -> None:
    """Strike ``n`` balls: carry, side, run and the angles of each.

    On uneven ground mishits are 1 / ``EVEN`` times as many; ``ACROSS`` is the slope's rise to the right, which turns
    the face: a sole flat on it points a lofted face downhill by the tangent of its loft times the slope.
    """
    s, t = problem.swings.rows, problem.touch.rows
    for i in range(n):
        lie, swing, d = w[LIE, i], w[SWING, i], w[DRAW, i]
        u = z[r.DRAW_STRIKE, d]
        w[WHAT, i] = PLAYED
        if swing >= s.shape[1]:
            carry, side, run, failed = touched(
                t[lie],
                f[LENGTH, i],
                f[RUN, i],
                f[SHORT, i],
                z[r.DRAW_CARRY, d],
                z[r.DRAW_SIDE, d],
                u,
                z[r.DRAW_TREES, d],
            )
            f[CARRY, i], f[SIDE, i], f[RUN, i] = carry, side, run
            f[LAUNCH, i], f[LANDING, i], f[ARCH, i] = TOUCH_LAUNCH, TOUCH_LANDING, 0.0
            if failed:
                w[WHAT, i] = FAILED
            continue
        fail = s[lie, swing, r.SW_FAIL]
        if u < fail:
            f[CARRY, i] = s[lie, swing, r.SW_FAIL_CARRY] * 2.0 * z[r.DRAW_TREES, d]
            f[SIDE, i], f[RUN, i], f[LAUNCH, i], f[LANDING, i], f[ARCH, i] = 0.0, 0.0, 0.0, 0.0, 0.0
            w[WHAT, i] = FAILED
            continue
        u = fail + (u - fail) * f[EVEN, i]
        kind = (u >= s[lie, swing, r.SW_FAT]) + (u >= s[lie, swing, r.SW_THIN])  # 0 fat, 1 thin, 2 solid
        at = r.SW_STRIKE + r.STRIKE_COLUMNS * kind
        ahead = z[r.DRAW_CARRY, d]
        carry = max(0.5, s[lie, swing, at + r.STRIKE_CARRY] + s[lie, swing, at + r.STRIKE_CARRY_SD] * ahead)
        side = (
            s[lie, swing, at + r.STRIKE_SIDE]
            + s[lie, swing, at + r.STRIKE_SIDE_ON_CARRY] * ahead
            + s[lie, swing, at + r.STRIKE_SIDE_SD] * z[r.DRAW_SIDE, d]
        )
        side -= carry * s[lie, swing, r.SW_TURN] * f[ACROSS, i]
        run = s[lie, swing, at + r.STRIKE_RUN] + s[lie, swing, at + r.STRIKE_RUN_SD] * z[r.DRAW_RUN, d]
        landing = s[lie, swing, r.SW_LANDING + kind]
        if problem.day.rows.shape[2] > 1:
            longer, drift, steep, rolls, arch = through_air(problem.day, swing, f[DX, i], f[DY, i], z[r.DRAW_GUST, d])
        else:
            longer, drift, steep, rolls, arch = f[LONGER, i], f[DRIFT, i], f[STEEP, i], f[ROLLS, i], f[RISES, i]
        f[SIDE, i] = side + carry * drift
        f[CARRY, i] = carry * longer
        f[RUN, i] = max(0.0, run) * rolls
        f[LAUNCH, i] = s[lie, swing, r.SW_LAUNCH + kind]
        own = landing > 0.0  # a thin strike lands as it does, whatever the day
        f[LANDING, i] = landing if own else steep
        f[ARCH, i] = 0.0 if own else arch


@inlined
def heights_at(g: Any, f: Any, x: int, y: int, n: int) -> None:
    """Write the ground's height at (row ``x``, row ``y``) of ``n`` balls into S, its slopes to +x, +y into P, Q."""
    columns, rows, by = g.height.shape[1], g.height.shape[0], 1.0 / g.height_cell
    for i in range(n):
        f[P, i] = min(max((f[x, i] - g.x0) * by, 0.0), columns - 1.001)
        f[Q, i] = min(max((f[y, i] - g.y0) * by, 0.0), rows - 1.001)
    for i in range(n):
        ix, iy = int(f[P, i]), int(f[Q, i])  # neither is below 0
        u, v = f[P, i] - ix, f[Q, i] - iy
        a, b, c, d = g.height[iy, ix], g.height[iy, ix + 1], g.height[iy + 1, ix], g.height[iy + 1, ix + 1]
        low, high = a + u * (b - a), c + u * (d - c)
        f[S, i] = low + v * (high - low)
        f[P, i] = ((b - a) * (1.0 - v) + (d - c) * v) * by
        f[Q, i] = (high - low) * by


@inlined
def land(problem: Any, f: Any, w: Any, n: int) -> None:
    """Write where ``n`` balls land."""
    g, swings = problem.ground, problem.swings.rows.shape[1]
    for i in range(n):
        f[FX, i] = f[DX, i] * f[CARRY, i] + f[DY, i] * f[SIDE, i]
        f[FY, i] = f[DY, i] * f[CARRY, i] - f[DX, i] * f[SIDE, i]
        f[END, i], f[CLIMB, i] = 1.0, 0.0
    if g.height.shape[0] > 1:
        hills(g, swings, f, w, n)
    for i in range(n):
        f[LX, i], f[LY, i] = f[X, i] + f[FX, i] * f[END, i], f[Y, i] + f[FY, i] * f[END, i]


@inlined
def hills(g: Any, swings: int, f: Any, w: Any, n: int) -> None:
    """Write where the flights of ``n`` balls meet the slope, and what it does to their run."""
    for i in range(n):
        f[LX, i], f[LY, i] = f[X, i] + f[FX, i], f[Y, i] + f[FY, i]
    heights_at(g, f, LX, LY, n)
    for i in range(n):
        steep = f[CARRY, i] * max(0.05, f[LANDING, i])
        f[T, i] = max(0.3 * steep, steep + f[P, i] * f[FX, i] + f[Q, i] * f[FY, i])  # how fast it nears the ground
        f[END, i] = min(max(1.0 + (f[BASE, i] - f[S, i]) / f[T, i], 0.1), 1.6)
    for i in range(n):
        f[LX, i], f[LY, i] = f[X, i] + f[FX, i] * f[END, i], f[Y, i] + f[FY, i] * f[END, i]
    heights_at(g, f, LX, LY, n)
    for i in range(n):
        f[S, i] = f[BASE, i] - f[S, i] + f[CARRY, i] * falls_on(f[END, i], f[LAUNCH, i], f[LANDING, i], f[ARCH, i])
    for i in range(n):
        f[Q, i] = rise(0.5, f[LAUNCH, i], f[LANDING, i], f[ARCH, i])
        f[P, i] = f[CARRY, i] * f[Q, i] + f[BASE, i]
    rare = 0
    for i in range(n):
        played = (w[SWING, i] < swings) & (w[WHAT, i] == PLAYED)
        f[END, i] = f[END, i] + f[S, i] / f[T, i] if played else 1.0
        steady = (abs(f[S, i]) < NEWTON) & (f[Q, i] >= FLAT * g.steepest) & (f[P, i] >= g.highest)
        w[LIST, rare] = i
        rare += played & (not steady)
    for j in range(rare):
        i = w[LIST, j]
        f[END, i] = meets_ground(
            g, f[X, i], f[Y, i], f[FX, i], f[FY, i], f[CARRY, i], f[LAUNCH, i], f[LANDING, i], f[ARCH, i], f[BASE, i]
        )
    for i in range(n):
        far = max(f[RUN, i], LITTLE) / distance(f[CARRY, i], f[SIDE, i]) + f[END, i]
        f[LX, i], f[LY, i] = f[X, i] + far * f[FX, i], f[Y, i] + far * f[FY, i]
    heights_at(g, f, LX, LY, n)
    for i in range(n):
        f[T, i] = f[CARRY, i] * falls_on(f[END, i], f[LAUNCH, i], f[LANDING, i], f[ARCH, i])
    for i in range(n):
        if (w[SWING, i] < swings) & (w[WHAT, i] == PLAYED):
            f[CLIMB, i] = f[T, i]
            f[RUN, i] /= on_slope(f[S, i] - f[BASE, i] - f[T, i], max(f[RUN, i], LITTLE))


@inlined
def pass_trees(problem: Any, f: Any, w: Any, z: Any, n: int) -> None:
    """Stop those of ``n`` balls that trees stop: they drop where they are, and don't run.

    Most are over all trees, or clear of them, for all of their way: that is looked for first, in a few strides.
    """
    g, s = problem.ground, problem.swings.rows
    for i in range(n):
        f[T, i] = (g.tallest + max(0.0, f[CLIMB, i])) / f[CARRY, i]
    for i in range(n):  # the last place where the ball is sure to be over everything
        down = 0.0
        for later in OVER:
            down = later if rise(later, f[LAUNCH, i], f[LANDING, i], f[ARCH, i]) > f[T, i] else down
        f[S, i] = down
    for i in range(n):  # the first stride: as far as it is clear about the start
        at = min(1.0, (f[OPEN, i] + 0.5) / f[CARRY, i])
        high = rise(at, f[LAUNCH, i], f[LANDING, i], f[ARCH, i])
        f[P, i] = max(at, f[S, i]) if high > f[T, i] else at
    rows, columns, by = g.wood.shape[0], g.wood.shape[1], 1.0 / g.cell
    for _ in range(STRIDES):
        for i in range(n):
            along = f[CARRY, i] * f[P, i]
            lateral = (f[SIDE, i] + f[BOW, i] * f[CARRY, i] * (1.0 - f[P, i])) * f[P, i]
            f[EX, i], f[EY, i] = along, lateral
        for i in range(n):
            f[FX, i] = f[X, i] + f[DX, i] * f[EX, i] + f[DY, i] * f[EY, i]
        for i in range(n):
            f[FY, i] = f[Y, i] + f[DY, i] * f[EX, i] - f[DX, i] * f[EY, i]
        for i in range(n):
            f[EX, i] = min(max(math.floor((f[FX, i] - g.x0) * by), 0.0), columns - 1.0)
            f[EY, i] = min(max(math.floor((f[FY, i] - g.y0) * by), 0.0), rows - 1.0)
        for i in range(n):
            mark = g.wood[int(f[EY, i]), int(f[EX, i])]
            f[Q, i] = float(mark) if mark < r.WOOD else 0.0
        for i in range(n):
            f[Q, i] = f[P, i] + f[Q, i] / f[CARRY, i]
        for i in range(n):
            high = rise(min(1.0, f[Q, i]), f[LAUNCH, i], f[LANDING, i], f[ARCH, i])
            f[P, i] = max(f[Q, i], f[S, i]) if high > f[T, i] else f[Q, i]
    near = 0
    for i in range(n):
        w[LIST, near] = i
        near += (f[P, i] < f[END, i]) & (w[WHAT, i] != FAILED)
    for j in range(near):
        i = w[LIST, j]
        lie, swing, bow, gap = w[LIE, i], w[SWING, i], 0.0, 1.0
        if swing < s.shape[1]:
            bow, gap = s[lie, swing, r.SW_BOW], s[lie, swing, r.SW_GAP]
        carry, side = f[CARRY, i], f[SIDE, i]
        hit = stopped_by_trees(
            g, f[X, i], f[Y, i], f[DX, i], f[DY, i], carry, side, bow,
            f[LAUNCH, i], f[LANDING, i], f[ARCH, i], f[END, i], f[CLIMB, i], gap, z[r.DRAW_TREES, w[DRAW, i]],
            f[P, i] * carry,
        )  # fmt: skip
        if hit >= 0.0:
            away = side * hit + bow * carry * hit * (1.0 - hit)
            f[LX, i] = f[X, i] + f[DX, i] * carry * hit + f[DY, i] * away
            f[LY, i] = f[Y, i] + f[DY, i] * carry * hit - f[DX, i] * away
            f[RUN, i] = 0.0
            w[WHAT, i] = HIT_TREE


@inlined
def run_out(g: Any, x: float, y: float, dx: float, dy: float, run: float) -> Any:
    """Return where a ball with ``run`` yards of ordinary-fairway run in it stops.

    Each kind of ground scales what is left. The ball goes yard by yard, or as far at once as the kind is known to stay
    the same; a penalty area takes it.
    """
    left = run
    while left > 0.0:
        iy = cell_of(y, g.y0, g.cell, g.rows)
        ix = cell_of(x, g.x0, g.cell, g.columns)
        word = g.word[iy * g.columns + ix]
        slow = g.kinds[word & r.WORD_KIND, r.KIND_SLOW]
        if slow <= 0.0:
            break
        step = float(word >> r.WORD_SAME)
        use = step * slow
        if use > left:
            use, step = left, left / slow
        x += dx * step
        y += dy * step
        left -= use
    return x, y


@inlined
def cells(g: Any, f: Any, w: Any, n: int) -> None:
    """Write the cell of (EX, EY) of ``n`` balls, counted row by row."""
    rows, columns, by = g.rows, g.columns, 1.0 / g.cell
    for i in range(n):
        f[P, i] = min(max(math.floor((f[EX, i] - g.x0) * by), 0.0), columns - 1.0)
        f[Q, i] = min(max(math.floor((f[EY, i] - g.y0) * by), 0.0), rows - 1.0)
    for i in range(n):
        w[CELL, i] = int(f[Q, i]) * columns + int(f[P, i])


@inlined
def roll(problem: Any, words: Any, f: Any, w: Any, n: int) -> None:
    """Let ``n`` balls run on from where they landed, along the way that they came."""
    g = problem.ground
    for i in range(n):
        f[P, i], f[Q, i] = f[LX, i] - f[X, i], f[LY, i] - f[Y, i]
        f[T, i] = 1.0 / max(LITTLE, distance(f[P, i], f[Q, i]))
    for i in range(n):
        f[FX, i], f[FY, i] = f[P, i] * f[T, i], f[Q, i] * f[T, i]
    for i in range(n):
        f[EX, i], f[EY, i] = f[LX, i], f[LY, i]
    for _ in range(STRIDES):
        cells(g, f, w, n)
        for i in range(n):
            word = words[w[CELL, i]]
            f[P, i] = word >> r.WORD_SAME
            f[Q, i] = g.kinds[word & r.WORD_KIND, r.KIND_RUN]
            f[S, i] = g.kinds[word & r.WORD_KIND, r.KIND_SLOW]
        for i in range(n):  # as far as the kind is sure to stay the same: the whole way for most
            step = min(f[P, i], f[RUN, i] * f[Q, i])
            f[EX, i] += f[FX, i] * step
            f[EY, i] += f[FY, i] * step
            f[RUN, i] -= step * f[S, i]
    on = 0
    for i in range(n):
        w[LIST, on] = i
        on += (f[RUN, i] > LITTLE) & (f[Q, i] > 0.0)
    for j in range(on):
        i = w[LIST, j]
        f[EX, i], f[EY, i] = run_out(g, f[EX, i], f[EY, i], f[FX, i], f[FY, i], f[RUN, i])


@inlined
def come_to_rest(problem: Any, to_go: Any, words: Any, f: Any, w: Any, z: Any, rest: Any, ball: int, n: int) -> None:
    """Write where ``n`` balls are played from next, what was counted and what happened, from row ``ball`` on."""
    g, s = problem.ground, problem.states
    cells(g, f, w, n)
    ruled = 0
    for i in range(n):
        word = words[w[CELL, i]]
        kind = word & r.WORD_KIND
        rest.finish[ball + i], rest.surface[ball + i], rest.added[ball + i] = kind, kind, 1
        w[LIST, ruled] = i
        ruled += (word & r.WORD_RULES) > 0
    for i in range(n):
        f[P, i] = (f[EX, i] - g.pin_x) * (f[EX, i] - g.pin_x) + (f[EY, i] - g.pin_y) * (f[EY, i] - g.pin_y)
    for i in range(n):
        if f[P, i] < HOLED_WITHIN * HOLED_WITHIN:
            f[EX, i], f[EY, i], w[WHAT, i] = g.pin_x, g.pin_y, HOLED
    for j in range(ruled):
        i = w[LIST, j]
        find, kind, event = z[r.DRAW_FIND, w[DRAW, i]], rest.finish[ball + i], w[WHAT, i]
        lost = g.kinds[kind, r.KIND_LOST]
        if g.kinds[kind, r.KIND_OUT] > 0.0:
            event = OUT_OF_BOUNDS
        elif g.kinds[kind, r.KIND_PENALTY] > 0.0:
            event = PENALTY_AREA
        elif event != FAILED and find < lost:
            event = LOST
        elif event != FAILED and find < lost + (1.0 - lost) * g.kinds[kind, r.KIND_UNPLAYABLE]:
            event = UNPLAYABLE
        else:
            continue
        x, y, lie, ex, ey, surface, added = f[X, i], f[Y, i], w[LIE, i], f[EX, i], f[EY, i], int(kind), 2
        if event == PENALTY_AREA:
            ex, ey, surface = penalty_relief(g, s, to_go, x, y, lie, f[LX, i], f[LY, i], ex, ey)
        elif event == UNPLAYABLE:
            ex, ey, surface = unplayable_relief(g, s, to_go, x, y, lie, ex, ey)
        else:
            ex, ey, surface, added = stroke_and_distance(g, s, to_go, x, y, lie, ex, ey)
        f[EX, i], f[EY, i], w[WHAT, i] = ex, ey, event
        rest.surface[ball + i], rest.added[ball + i] = surface, added
    for i in range(n):
        rest.x[ball + i], rest.y[ball + i] = f[EX, i], f[EY, i]
        rest.landing_x[ball + i], rest.landing_y[ball + i] = f[LX, i], f[LY, i]
    for i in range(n):
        rest.event[ball + i] = w[WHAT, i]


@compiled
def strokes(
    problem: Any, to_go: Any, asked: Any, z: Any, count: int, rest: Any, room: Any, start: int, stop: int
) -> None:
    """Play the rows ``start`` … ``stop`` of ``asked``, ``count`` balls each.

    Parameters
    ----------
    problem : Problem
    to_go : float64[states], strokes to go, for choices that a Rule leaves
    asked : Asked, rows of (place, lie, swing, unit vector of the aim line, first draw)
    z : float64[7, draws], a column a ball: three standard normals (carry, side, run), three uniforms (strike, trees,
        finding the ball) and the gust, a standard normal
    count : balls a row, with the draws ``asked.draw[row]`` … + count
    rest : Rest, written from ball start · count to stop · count
    room : Room, of one thread
    """
    f, w, words = room.numbers, room.wholes, problem.ground.word
    row, left, draw = start - 1, 0, 0
    ball, last = start * count, stop * count
    while ball < last:
        n, i = min(f.shape[1], last - ball), 0
        while i < n:
            if left == 0:
                row += 1
                left, draw = count, asked.draw[row]
            many = min(left, n - i)
            address(problem, f, w, asked, row, i, many, draw)
            i += many
            left -= many
            draw += many
        strike(problem, f, w, z, n)
        land(problem, f, w, n)
        if problem.ground.wood.shape[0] > 1:
            pass_trees(problem, f, w, z, n)
        roll(problem, words, f, w, n)
        come_to_rest(problem, to_go, words, f, w, z, rest, ball, n)
        ball += n
