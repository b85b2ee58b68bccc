"""The average solid strike on the day, by the kernel's own flight: for figures and tables, not for play."""

from __future__ import annotations

from dataclasses import dataclass, replace

from simcaddie.golfer.pattern import Pattern
from simcaddie.play import kernel as k
from simcaddie.play import records as r
from simcaddie.units import unit_vector

__all__ = ["Aloft", "aloft", "on_the_day"]


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


def aloft(table: r.Table, swing: int, place: tuple[float, float, int], bearing: float) -> Aloft:
    """Return the average solid strike of a swing from ``place`` (x, y, lie) along ``bearing``, in the mean wind."""
    x, y, lie = place
    dx, dy = unit_vector(bearing)
    row = table.swings.table[lie, swing]
    carry, side, run = (row[r.SW_SOLID + at] for at in (r.STRIKE_CARRY, r.STRIKE_SIDE, r.STRIKE_RUN))
    longer, drift, landing, rolls, arch = k.through_air(table.day, swing, dx, dy, 0.0)
    side, carry, run = side + carry * drift, carry * longer, run * rolls
    g, end, rise = table.ground, 1.0, 0.0
    if g.height.shape[0] > 1:
        base = k.lie_of_land(*k.surface_of(g), x, y)[0]
        fx, fy = dx * carry + dy * side, dy * carry - dx * side
        end = k.meets_ground(g, x, y, fx, fy, carry, row[r.SW_LAUNCH + 2], landing, arch, base)
        rise = k.lie_of_land(*k.surface_of(g), x + end * fx, y + end * fy)[0] - base
    return Aloft(carry * end, side * end, run, end, longer, rise)


def on_the_day(
    table: r.Table, pattern: Pattern, swing: int, place: tuple[float, float, int], bearing: float
) -> Pattern:
    """Return a pattern with its solid strike as the day has it along ``bearing`` from ``place`` (x, y, lie)."""
    ball, solid = aloft(table, swing, place, bearing), pattern.solid
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
