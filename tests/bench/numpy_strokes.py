"""The stroke written straightforwardly in numpy, as one would without a compiler.

The same stroke for holes without trees, heights, water, bounds and lost balls, in still air: strike, landing, run,
putts; touch shots with their short side. All strokes of a block of states are played at once, [state, node]. The kernel
is held against it, in what it answers and in how fast it does.
"""

from __future__ import annotations

import numpy as np

from simcaddie.model import arrays as r
from simcaddie.model import kernel as k
from simcaddie.solve.actions import Actions
from simcaddie.solve.quadrature import Nodes
from simcaddie.solve.search import block_of

Floats = np.ndarray
BLOCK = 256  # states at a time: the arrays stay in the processor's cache


def plain(problem: r.Problem) -> bool:
    """Tell whether the port knows all that can happen on this table."""
    ground, day = problem.ground, problem.day.rows
    trouble = ground.kinds[np.unique(kinds(ground))][
        :, [r.KIND_LOST, r.KIND_UNPLAYABLE, r.KIND_PENALTY, r.KIND_OUT]
    ].any()
    even = ground.wood.size == 1 and ground.height.size == 1 and problem.putting.expected.shape[0] == 1
    return even and day.shape[1:3] == (1, 1) and not trouble


def words(g: r.Ground) -> np.ndarray:
    return g.word.reshape(g.rows, g.columns).astype(np.int64)


def kinds(g: r.Ground) -> np.ndarray:
    return words(g) & r.WORD_KIND


def cells(value: Floats, low: float, cell: float, count: int) -> np.ndarray:
    return np.clip(np.floor((value - low) * (1.0 / cell)).astype(np.int64), 0, count - 1)


def look(g: r.Ground, layer: np.ndarray, x: Floats, y: Floats) -> np.ndarray:
    return layer[cells(y, g.y0, g.cell, layer.shape[0]), cells(x, g.x0, g.cell, layer.shape[1])]


def struck(problem: r.Problem, lie: np.ndarray, swing: np.ndarray, z: Floats) -> tuple[Floats, ...]:
    """Return (carry, side, run) of full and part swings; ``z`` is [draw, state, node]."""
    row, u = problem.swings.rows[lie, swing], z[r.DRAW_STRIKE]
    strike = (u >= row[..., r.SW_FAT]).astype(np.int64) + (u >= row[..., r.SW_THIN])
    at = r.SW_STRIKE + r.STRIKE_COLUMNS * strike

    def number(column: int) -> Floats:
        return np.take_along_axis(row, (at + column)[..., None], axis=-1)[..., 0]

    carry = np.maximum(0.5, number(r.STRIKE_CARRY) + number(r.STRIKE_CARRY_SD) * z[r.DRAW_CARRY])
    side = number(r.STRIKE_SIDE) + number(r.STRIKE_SIDE_ON_CARRY) * z[r.DRAW_CARRY]
    side = side + number(r.STRIKE_SIDE_SD) * z[r.DRAW_SIDE]
    run = np.maximum(0.0, number(r.STRIKE_RUN) + number(r.STRIKE_RUN_SD) * z[r.DRAW_RUN])
    failed = u < row[..., r.SW_FAIL]
    short = row[..., r.SW_FAIL_CARRY] * 2.0 * z[r.DRAW_TREES]
    return np.where(failed, short, carry), np.where(failed, 0.0, side), np.where(failed, 0.0, run)


def room_on_green(g: r.Ground, x: Floats, y: Floats, dx: Floats, dy: Floats, length: Floats, run: Floats) -> Floats:
    """Return how many yards of green lie before the target of touch shots, as far as they run."""
    room, on = np.zeros(x.shape), run > 0.0
    while on.any():
        back = (length - room)[on]
        word = look(g, words(g), x[on] + dx[on] * back, y[on] + dy[on] * back)
        green = g.kinds[word & r.WORD_KIND, r.KIND_PUTTING] > 0.0
        room[on] += np.where(green, word >> r.WORD_SAME, 0.0)
        on[on] = green
        on &= room < run
    return room


def touched(
    problem: r.Problem, x: Floats, y: Floats, lie: np.ndarray, dx: Floats, dy: Floats, length: Floats, z: Floats
) -> tuple[Floats, ...]:
    """Return (carry, side, run) of touch shots of ``length`` yards; ``z`` is [draw, state, node]."""
    row, u = problem.touch.rows[lie], z[r.DRAW_STRIKE]
    side = length * row[..., r.TOUCH_DIRECTION] * z[r.DRAW_SIDE]
    run = (1.0 - row[..., r.TOUCH_AIR]) * length
    room = room_on_green(problem.ground, x, y, dx, dy, length, run)
    short = (room > 0.0) & (room < run)
    short_side = np.where(short, 1.0 - room / np.maximum(run, 1e-300), 0.0)
    run = np.where(short, np.maximum(room - 0.5, 0.25 * run), run)
    error = (row[..., r.TOUCH_NEAR] + row[..., r.TOUCH_FAR] * length) * (1.0 + short_side) * z[r.DRAW_CARRY]
    scale = np.maximum(0.05, 1.0 + error / length)
    fat, thin, fail = u < row[..., r.TOUCH_FAT], u < row[..., r.TOUCH_THIN], u < row[..., r.TOUCH_FAIL]
    chunk = np.maximum(0.5, length * (0.35 + 0.12 * z[r.DRAW_CARRY]))
    through = np.maximum(0.0, length * (0.75 + 0.25 * z[r.DRAW_CARRY]))
    stay = row[..., r.TOUCH_FAIL_CARRY] * 2.0 * z[r.DRAW_TREES]
    which = [fail, fat, thin]
    return (
        np.select(which, [stay, chunk, 0.7 * length], (length - run) * scale),
        np.select(which, [0.0 * side, 0.5 * side, side], side),
        np.select(which, [0.0 * run, 0.05 * length, through], run * scale * row[..., r.TOUCH_PACE]),
    )


def run_out(g: r.Ground, x: Floats, y: Floats, dx: Floats, dy: Floats, run: Floats) -> tuple[Floats, Floats]:
    """Return where balls stop; all that still roll go on together."""
    x, y, left, layer = x.copy(), y.copy(), run.copy(), words(g)
    moving = np.nonzero(left > 0.0)
    while moving[0].size:
        px, py, still = x[moving], y[moving], left[moving]
        word = look(g, layer, px, py)
        slow = g.kinds[word & r.WORD_KIND, r.KIND_SLOW]
        step = (word >> r.WORD_SAME).astype(np.float64)
        last = step * slow > still
        step = np.where(last, still / slow, step)
        x[moving], y[moving] = px + dx[moving] * step, py + dy[moving] * step
        left[moving] = np.where(last, 0.0, still - step * slow)
        moving = tuple(axis[left[moving] > 0.0] for axis in moving)
    return x, y


def block_worths(problem: r.Problem, to_go: Floats, z: Floats, actions: Actions) -> Floats:
    """Return the worth of each action; ``z`` is float64[draw, action, node]."""
    g, s, shape = problem.ground, problem.states, z.shape[1:]
    x, y = (np.broadcast_to(s.xy[actions.state, axis, None], shape) for axis in (0, 1))
    lie, swing = (np.broadcast_to(a[:, None].astype(np.int64), shape) for a in (s.lie[actions.state], actions.swing))
    far = np.maximum(1e-9, np.sqrt((g.pin_x - x) ** 2 + (g.pin_y - y) ** 2))
    c, w = np.cos(actions.bearing[:, None]) / far, np.sin(actions.bearing[:, None]) / far
    dx, dy = (g.pin_x - x) * c + (g.pin_y - y) * w, (g.pin_y - y) * c - (g.pin_x - x) * w
    swings = problem.swings.rows.shape[1]
    feel = actions.swing >= swings
    carry, side, run = (np.empty(shape) for _ in range(3))
    full = struck(problem, lie[~feel], swing[~feel], z[:, ~feel])
    length = np.minimum(
        far[feel] * problem.touch.reach[swing[feel] - swings], problem.touch.rows[lie[feel], r.TOUCH_LONGEST]
    )
    short = touched(problem, x[feel], y[feel], lie[feel], dx[feel], dy[feel], length, z[:, feel])
    for column, by_swing, by_feel in zip((carry, side, run), full, short, strict=True):
        column[~feel], column[feel] = by_swing, by_feel
    lx, ly = x + dx * carry + dy * side, y + dy * carry - dx * side
    away = np.maximum(np.sqrt(carry * carry + side * side), 1e-300)
    ex, ey = run_out(g, lx, ly, (lx - x) / away, (ly - y) / away, run)
    kind = look(g, kinds(g), ex, ey)
    pin = np.sqrt((ex - g.pin_x) ** 2 + (ey - g.pin_y) ** 2)
    place = np.minimum(pin / problem.putting.step, problem.putting.expected.shape[1] - 1.001)
    i = np.floor(place).astype(np.int64)
    expected = problem.putting.expected[0]
    putts = expected[i] + (place - i) * (expected[i + 1] - expected[i])
    _, rows, columns = s.of_cell.shape
    after = s.of_cell[kind, cells(ey, s.y0, s.cell, rows), cells(ex, s.x0, s.cell, columns)]
    green = g.kinds[kind, r.KIND_PUTTING] > 0.0
    more = np.where(green, putts, to_go[after])
    holed = pin < k.HOLED_WITHIN
    back = (after == actions.state[:, None]) & ~green & ~holed
    total = shape[1] + np.where(holed | back, 0.0, more).sum(axis=1)
    return total / (shape[1] - back.sum(axis=1))


def action_values(problem: r.Problem, to_go: Floats, nodes: Nodes, actions: Actions, count: int) -> Floats:
    """Return the worth of each action over the first ``count`` nodes of its state's set: as ``search`` does."""
    column = block_of(problem, nodes, actions.state)[:, None] + np.arange(count)
    found = []
    for start in range(0, actions.state.size, BLOCK):
        here = np.arange(start, min(start + BLOCK, actions.state.size))
        found.append(block_worths(problem, to_go, nodes.draws[:, column[here]], actions.of(here)))
    return np.concatenate(found)
