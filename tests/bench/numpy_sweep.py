"""The solver's sweep written straightforwardly in numpy, as one would without a compiler.

The same stroke for holes without trees, water, bounds and lost balls: strike, landing, run, putts; touch shots with
their short side. All strokes of a block of states are played at once, [state, node].
"""

from __future__ import annotations

import numpy as np

from simcaddie.play import kernel as k
from simcaddie.play import records as r

Floats = np.ndarray
BLOCK = 256  # states at a time: the arrays stay in the processor's cache


def plain(table: r.Table) -> bool:
    """Tell whether the port knows all that can happen on this table."""
    kinds = table.ground.kinds[np.unique(table.ground.surface)]
    trouble = kinds[:, [r.KIND_LOST, r.KIND_UNPLAYABLE, r.KIND_PENALTY, r.KIND_OUT]]
    return not trouble.any() and table.ground.clear.size == 1 and table.putting.expected.shape[0] == 1


def cells(value: Floats, low: float, cell: float, count: int) -> np.ndarray:
    return np.clip(np.floor((value - low) * (1.0 / cell)).astype(np.int64), 0, count - 1)


def look(g: r.Ground, layer: np.ndarray, x: Floats, y: Floats) -> np.ndarray:
    return layer[cells(y, g.y0, g.cell, layer.shape[0]), cells(x, g.x0, g.cell, layer.shape[1])]


def struck(table: r.Table, lie: np.ndarray, swing: np.ndarray, z: Floats) -> tuple[Floats, ...]:
    """Return (carry, side, run, failed) of full and part swings."""
    row, u = table.swings.table[lie, swing], z[..., r.DRAW_STRIKE]
    strike = (u >= row[..., r.SW_FAT]).astype(np.int64) + (u >= row[..., r.SW_THIN])
    at = r.SW_STRIKE + r.STRIKE_COLUMNS * strike

    def number(column: int) -> Floats:
        return np.take_along_axis(row, (at + column)[..., None], axis=-1)[..., 0]

    carry = np.maximum(0.5, number(r.STRIKE_CARRY) + number(r.STRIKE_CARRY_SD) * z[..., r.DRAW_CARRY])
    side = number(r.STRIKE_SIDE) + number(r.STRIKE_SIDE_ON_CARRY) * z[..., r.DRAW_CARRY]
    side = side + number(r.STRIKE_SIDE_SD) * z[..., r.DRAW_SIDE]
    run = np.maximum(0.0, number(r.STRIKE_RUN) + number(r.STRIKE_RUN_SD) * z[..., r.DRAW_RUN])
    failed = u < row[..., r.SW_FAIL]
    short = row[..., r.SW_FAIL_CARRY] * 2.0 * z[..., r.DRAW_TREES]
    return np.where(failed, short, carry), np.where(failed, 0.0, side), np.where(failed, 0.0, run), failed


def room_on_green(g: r.Ground, x: Floats, y: Floats, dx: Floats, dy: Floats, length: Floats, run: Floats) -> Floats:
    """Return how many yards of green lie before the target of touch shots, as far as they run."""
    room, on = np.zeros(x.shape), run > 0.0
    while on.any():
        back = (length - room)[on]
        px, py = x[on] + dx[on] * back, y[on] + dy[on] * back
        green = g.kinds[look(g, g.surface, px, py), r.KIND_PUTTING] > 0.0
        room[on] += np.where(green, look(g, g.same, px, py), 0.0)
        on[on] = green
        on &= room < run
    return room


def touched(
    table: r.Table, x: Floats, y: Floats, lie: np.ndarray, dx: Floats, dy: Floats, length: Floats, z: Floats
) -> tuple[Floats, ...]:
    """Return (carry, side, run, failed) of touch shots of ``length`` yards."""
    row, u = table.touch.table[lie], z[..., r.DRAW_STRIKE]
    side = length * row[..., r.TOUCH_DIRECTION] * z[..., r.DRAW_SIDE]
    run = (1.0 - row[..., r.TOUCH_AIR]) * length
    room = room_on_green(table.ground, x, y, dx, dy, length, run)
    short = (room > 0.0) & (room < run)
    short_side = np.where(short, 1.0 - room / np.maximum(run, 1e-300), 0.0)
    run = np.where(short, np.maximum(room - 0.5, 0.25 * run), run)
    error = (row[..., r.TOUCH_NEAR] + row[..., r.TOUCH_FAR] * length) * (1.0 + short_side) * z[..., r.DRAW_CARRY]
    scale = np.maximum(0.05, 1.0 + error / length)
    fat, thin, fail = u < row[..., r.TOUCH_FAT], u < row[..., r.TOUCH_THIN], u < row[..., r.TOUCH_FAIL]
    chunk = np.maximum(0.5, length * (0.35 + 0.12 * z[..., r.DRAW_CARRY]))
    through = np.maximum(0.0, length * (0.75 + 0.25 * z[..., r.DRAW_CARRY]))
    stay = row[..., r.TOUCH_FAIL_CARRY] * 2.0 * z[..., r.DRAW_TREES]
    which = [fail, fat, thin]
    return (
        np.select(which, [stay, chunk, 0.7 * length], (length - run) * scale),
        np.select(which, [0.0 * side, 0.5 * side, side], side),
        np.select(which, [0.0 * run, 0.05 * length, through], run * scale),
        fail,
    )


def run_out(g: r.Ground, x: Floats, y: Floats, dx: Floats, dy: Floats, run: Floats) -> tuple[Floats, Floats]:
    """Return where balls stop; all that still roll go on together."""
    x, y, left = x.copy(), y.copy(), run.copy()
    moving = np.nonzero(left > 0.0)
    while moving[0].size:
        px, py, still = x[moving], y[moving], left[moving]
        slow = g.kinds[look(g, g.surface, px, py), r.KIND_SLOW]
        step = look(g, g.same, px, py).astype(np.float64)
        last = step * slow > still
        step = np.where(last, still / slow, step)
        x[moving], y[moving] = px + dx[moving] * step, py + dy[moving] * step
        left[moving] = np.where(last, 0.0, still - step * slow)
        moving = tuple(axis[left[moving] > 0.0] for axis in moving)
    return x, y


def block_values(table: r.Table, to_go: Floats, z: Floats, policy: r.Policy, which: np.ndarray) -> Floats:
    """Return the new values of the states ``which``; ``z`` is float64[states or 1, node, draw]."""
    g, s = table.ground, table.states
    shape = (which.size, z.shape[1])
    z = np.broadcast_to(z, (*shape, z.shape[2]))
    x, y = (np.broadcast_to(s.xy[which, axis, None], shape) for axis in (0, 1))
    lie, swing = (np.broadcast_to(a[which, None].astype(np.int64), shape) for a in (s.lie, policy.swing))
    far = np.maximum(1e-9, np.sqrt((g.pin_x - x) ** 2 + (g.pin_y - y) ** 2))
    c, w = np.cos(policy.bearing[which, None]) / far, np.sin(policy.bearing[which, None]) / far
    dx, dy = (g.pin_x - x) * c + (g.pin_y - y) * w, (g.pin_y - y) * c - (g.pin_x - x) * w
    swings = table.swings.table.shape[1]
    feel = policy.swing[which] >= swings
    carry, side, run, failed = (np.empty(shape) for _ in range(4))
    for rows, play in ((~feel, struck), (feel, touched)):
        if not rows.any():
            continue
        if play is struck:
            out = struck(table, lie[rows], swing[rows], z[rows])
        else:
            reach = table.touch.reach[swing[rows] - swings]
            length = np.minimum(far[rows] * reach, table.touch.table[lie[rows], r.TOUCH_LONGEST])
            out = touched(table, x[rows], y[rows], lie[rows], dx[rows], dy[rows], length, z[rows])
        carry[rows], side[rows], run[rows], failed[rows] = out
    lx, ly = x + dx * carry + dy * side, y + dy * carry - dx * side
    away = np.maximum(np.sqrt(carry * carry + side * side), 1e-300)
    ex, ey = run_out(g, lx, ly, (lx - x) / away, (ly - y) / away, run)
    kind = look(g, g.surface, ex, ey)
    pin = np.sqrt((ex - g.pin_x) ** 2 + (ey - g.pin_y) ** 2)
    place = np.minimum(pin / table.putting.step, table.putting.expected.shape[1] - 1.001)
    i = np.floor(place).astype(np.int64)
    expected = table.putting.expected[0]
    putts = expected[i] + (place - i) * (expected[i + 1] - expected[i])
    _, rows, columns = s.of_cell.shape
    after = s.of_cell[kind, cells(ey, s.y0, s.cell, rows), cells(ex, s.x0, s.cell, columns)]
    green = g.kinds[kind, r.KIND_PUTTING] > 0.0
    more = np.where(green, putts, to_go[after])
    holed = pin < k.HOLED_WITHIN
    back = (after == which[:, None]) & ~green & ~holed
    total = shape[1] + np.where(holed | back, 0.0, more).sum(axis=1)
    return total / (shape[1] - back.sum(axis=1))


def sweep(table: r.Table, to_go: Floats, z: Floats, policy: r.Policy, which: np.ndarray) -> Floats:
    """Return the new values of the states ``which``, all from the same old values ``to_go``."""
    parts = np.array_split(which, max(1, which.size // BLOCK))
    return np.concatenate([block_values(table, to_go, z, policy, part) for part in parts])
