"""Relief under the Rules of Golf (2023): where the ball is played from after it was lost, out, wet or unplayable.

Where a Rule leaves a choice the player takes what is best to play on from, by the strokes ``to_go`` of the states.
"""

from __future__ import annotations

import math
from typing import Any, Final

from simcaddie.base.compiled import inlined
from simcaddie.model import arrays as r
from simcaddie.model.look import area_at, cell_of, distance, kind_at, state_at

__all__ = ["penalty_relief", "stroke_and_distance", "unplayable_relief"]

CLUB_LENGTH: Final = 1.25  # yd: a driver of about 45 in (Definitions, "Club-Length")
BACK_STEP: Final = 0.5  # yd, tracing a path back to where it crossed an edge
NO_STATE: Final = 1.0e6
# Directions of lateral relief, (cos, sin) from straight away from the hole to square to it on either side
_ASIDE: Final = tuple((math.cos(i * math.pi / 4), math.sin(i * math.pi / 4)) for i in (0, 1, -1, 2, -2))


@inlined
def worth(g: Any, s: Any, to_go: Any, x: float, y: float) -> float:
    """Return the strokes to go after a drop at a place; huge where no drop is allowed or sensible.

    Penalty areas and ground out of bounds have no states, so no ball is dropped there. Nor has the green: a drop there,
    which Rule 17.1d would allow, is left out, since relief that near the hole hardly occurs.
    """
    state = state_at(s, kind_at(g, x, y), x, y)
    return to_go[state] if state >= 0 else NO_STATE


@inlined
def back_on_line(g: Any, s: Any, to_go: Any, px: float, py: float, best: float) -> Any:
    """Rules 17.1d(2), 19.2b: any distance back on the line from the hole through (px, py).

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
            value = worth(g, s, to_go, x, y)
            if value < best:
                best, bx, by = value, x, y
            back += max(1.0, 0.2 * back)
    return best, bx, by


@inlined
def lateral(g: Any, s: Any, to_go: Any, px: float, py: float, best: float, x: float, y: float) -> Any:
    """Rules 17.1d(3), 19.2c: within two club-lengths of (px, py), no nearer the hole.

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
                if (tx - g.pin_x) ** 2 + (ty - g.pin_y) ** 2 >= (far - 1e-9) ** 2:
                    value = worth(g, s, to_go, tx, ty)
                    if value < best:
                        best, bx, by = value, tx, ty
    return best, bx, by


@inlined
def last_crossing(g: Any, area: int, x: float, y: float, lx: float, ly: float, ex: float, ey: float) -> Any:
    """Return the first point outside area ``area``, going back from rest (ex, ey) by landing (lx, ly) to the start.

    Half a yard at a time, or as far at once as the ground is sure to be of the same area.
    """
    for leg in range(2):
        ax, ay = (ex, ey) if leg == 0 else (lx, ly)
        tx, ty = (lx, ly) if leg == 0 else (x, y)
        length = distance(tx - ax, ty - ay)
        steps, k = int(math.ceil(length / BACK_STEP)), 0
        px, py = ax, ay
        while k < steps:
            iy, ix = cell_of(py, g.y0, g.cell, g.rows), cell_of(px, g.x0, g.cell, g.columns)
            sure = int(g.word[iy * g.columns + ix] >> r.WORD_SAME)
            k += max(1, int(sure / BACK_STEP) - 1) if g.area[iy, ix] == area else 1
            share = min(1.0, k * BACK_STEP / length)
            px, py = ax + share * (tx - ax), ay + share * (ty - ay)
            if area_at(g, px, py) != area:
                return px, py
    return x, y


@inlined
def nearest_fairway(g: Any, x: float, y: float) -> Any:
    """Local Rule E-5: return (found, x, y) of the nearest fairway cell that is no nearer the hole than (x, y).

    Looks outward in square rings of cells, until none further out can be nearer.
    """
    rows, columns = g.rows, g.columns
    cy, cx = cell_of(y, g.y0, g.cell, rows), cell_of(x, g.x0, g.cell, columns)
    far = distance(x - g.pin_x, y - g.pin_y)
    best, bx, by = 1.0e18, x, y
    for ring in range(max(rows, columns)):
        if best < ((ring - 1) * g.cell) ** 2:
            break
        for iy in range(max(0, cy - ring), min(rows, cy + ring + 1)):
            edge = abs(iy - cy) == ring
            for ix in range(cx - ring, cx + ring + 1, 1 if edge else max(1, 2 * ring)):
                if 0 <= ix < columns and g.kinds[g.word[iy * g.columns + ix] & r.WORD_KIND, r.KIND_FAIRWAY] > 0.0:
                    px, py = g.x0 + (ix + 0.5) * g.cell, g.y0 + (iy + 0.5) * g.cell
                    apart = (px - x) ** 2 + (py - y) ** 2
                    if apart < best and distance(px - g.pin_x, py - g.pin_y) >= far:
                        best, bx, by = apart, px, py
    return best < 1.0e18, bx, by


@inlined
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


@inlined
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
    value, bx, by = back_on_line(g, s, to_go, cx, cy, best)  # 17.1d(2)
    moved = value < best
    if area >= 0 and g.areas[area, r.AREA_LATERAL] > 0.0:
        beside, sx, sy = lateral(g, s, to_go, cx, cy, value, x, y)  # 17.1d(3)
        if beside < value:
            return sx, sy, kind_at(g, sx, sy)
    if moved:
        return bx, by, kind_at(g, bx, by)
    return x, y, lie


@inlined
def unplayable_relief(g: Any, s: Any, to_go: Any, x: float, y: float, lie: int, ex: float, ey: float) -> Any:
    """Rule 19.2, unplayable, one stroke: back to (x, y) (a), back on the line (b) or within two club-lengths (c)."""
    again = state_at(s, lie, x, y)
    best = to_go[again] if again >= 0 else NO_STATE
    value, bx, by = back_on_line(g, s, to_go, ex, ey, best)
    beside, sx, sy = lateral(g, s, to_go, ex, ey, value, x, y)
    if beside < value:
        return sx, sy, kind_at(g, sx, sy)
    if value < best:
        return bx, by, kind_at(g, bx, by)
    return x, y, lie
