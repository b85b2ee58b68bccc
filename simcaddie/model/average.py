"""The average solid strike on the day, by the kernel's own flight: for figures and tables, not for play."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from simcaddie.base.compiled import compiled
from simcaddie.base.units import unit_vector
from simcaddie.model import arrays as r
from simcaddie.model.flight import lie_of_land, meets_ground, through_air
from simcaddie.player.pattern import Pattern

__all__ = ["Aloft", "aloft", "height_at", "on_the_day"]


@dataclass(frozen=True, slots=True)
class Aloft:
    """An average solid strike: yards along and to the right of the aim line where it lands, and its run from there.

    ``landed`` is the share of the level carry at which it meets the ground, ``longer`` the air's part: the carry on the
    level over the calm one. ``rise`` is how much higher than the start the landing place is, yd.
    """

    carry: float
    side: float
    run: float
    landed: float
    longer: float
    rise: float


@compiled
def _average(problem: Any, lie: int, swing: int, x: float, y: float, dx: float, dy: float, out: Any) -> None:
    """Write the fields of ``Aloft`` into ``out``."""
    g, row = problem.ground, problem.swings.rows[lie, swing]
    longer, drift, landing, rolls, arch = through_air(problem.day, swing, dx, dy, 0.0)
    calm, end, climb = row[r.SW_SOLID + r.STRIKE_CARRY], 1.0, 0.0
    carry, side = calm * longer, row[r.SW_SOLID + r.STRIKE_SIDE] + calm * drift
    if g.height.shape[0] > 1:
        base = lie_of_land(g.height, g.x0, g.y0, g.height_cell, x, y)[0]
        fx, fy = dx * carry + dy * side, dy * carry - dx * side
        end = meets_ground(g, x, y, fx, fy, carry, row[r.SW_LAUNCH + 2], landing, arch, base)
        climb = lie_of_land(g.height, g.x0, g.y0, g.height_cell, x + end * fx, y + end * fy)[0] - base
    out[0], out[1], out[2] = carry * end, side * end, row[r.SW_SOLID + r.STRIKE_RUN] * rolls
    out[3], out[4], out[5] = end, longer, climb


@compiled
def _height(g: Any, x: float, y: float) -> float:
    height: float = lie_of_land(g.height, g.x0, g.y0, g.height_cell, x, y)[0]
    return height


def height_at(ground: r.Ground, x: float, y: float) -> float:
    """Return the ground's height at a place, yd; 0 where the hole is flat."""
    return float(_height(ground, float(x), float(y))) if ground.height.shape[0] > 1 else 0.0


def aloft(problem: r.Problem, swing: int, place: tuple[float, float, int], bearing: float) -> Aloft:
    """Return the average solid strike of a swing from ``place`` (x, y, lie) along ``bearing``, in the mean wind."""
    x, y, lie = place
    out = np.empty(6)
    dx, dy = unit_vector(bearing)
    _average(problem, int(lie), int(swing), float(x), float(y), float(dx), float(dy), out)
    return Aloft(*out.tolist())


def on_the_day(
    problem: r.Problem, pattern: Pattern, swing: int, place: tuple[float, float, int], bearing: float
) -> Pattern:
    """Return a pattern with its solid strike as the day has it along ``bearing`` from ``place`` (x, y, lie)."""
    ball, solid = aloft(problem, swing, place, bearing), pattern.solid
    times = ball.longer * ball.landed
    return replace(
        pattern,
        solid=replace(
            solid,
            carry=ball.carry,
            carry_sd=solid.carry_sd * times,
            side=ball.side,
            side_sd=solid.side_sd * ball.landed,
            run=ball.run,
        ),
    )
