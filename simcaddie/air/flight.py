"""Ball flight: from speed, launch and spin to where the ball comes down, and back from a carry to the ball speed.

SI: metres, m/s; launch and landing in degrees, spin in rpm. The equations stand in ``motion.py``. The wind is the same
at every height, so it counts for a little less aloft and a little more near the ground than it does. The ball flies
with backspin alone: a curve is part of a swing's spread, not of its flight.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simcaddie.air.motion import SHARES, columns, fly_all, profile_all, solve_all
from simcaddie.errors import BadRequest

__all__ = ["FASTEST", "PROFILE_SHARES", "REFERENCE_DENSITY", "Flight", "ball_speed", "fly", "fly_profile"]

REFERENCE_DENSITY: Final = 1.184  # kg/m³, 25 °C at sea level: the air that the constants were fitted in
FASTEST: Final = 120.0  # m/s, 268 mph: no ball is faster
PROFILE_SHARES: Final = np.linspace(0.0, 1.6, SHARES)  # of the level carry: where ``fly_profile`` samples

Floats = NDArray[np.float64]


class Flight(NamedTuple):
    """Where each ball comes down to its start's level: float64[n] each."""

    carry: Floats  # m, along the aim line; below 0 where the wind blew the ball back
    side: Floats  # m, to the right of the aim line
    landing: Floats  # degrees below the horizontal, up to 90
    apex: Floats  # m above the start
    time: Floats  # s
    landing_speed: Floats  # m/s
    landing_spin: Floats  # rpm of backspin


def _given(speed: ArrayLike, launch: ArrayLike, spin: ArrayLike, air: tuple[ArrayLike, ...], step: float) -> Floats:
    """Return what the compiled code takes, float64[n, 6], checked."""
    given = columns(speed, launch, spin, *air)
    if (given[:, 0] < 0.0).any() or (given[:, 3] < 0.0).any():
        raise BadRequest("ball speed and air density should be 0 or more")
    if not 0.0 < step <= 0.1:
        raise BadRequest(f"the time step should be above 0 and at most 0.1 s, found {step:g}")
    return given


def fly(
    speed: ArrayLike,
    launch: ArrayLike,
    spin: ArrayLike,
    *,
    density: ArrayLike = REFERENCE_DENSITY,
    tail: ArrayLike = 0.0,
    across: ArrayLike = 0.0,
    step: float = 0.02,
) -> Flight:
    """Fly n balls to the level of their start.

    Parameters
    ----------
    speed : ball speed, m/s.
    launch : degrees above the horizontal.
    spin : backspin, rpm.
    density : kg/m³, 0 for a vacuum.
    tail : wind along the aim line, m/s; a head wind is negative.
    across : wind across it, m/s, positive from left to right.
    step : s, at most 0.1.

    All but ``step`` broadcast together to n flights, in C order.

    Raises
    ------
    BadRequest
        A value that isn't finite, a speed or density below 0, or a time step out of its range.

    >>> flight = fly(76.4, 10.4, 2545.0)
    >>> round(float(flight.carry[0]) / 0.9144)
    276
    """
    given = _given(speed, launch, spin, (density, tail, across), step)
    out = np.empty((given.shape[0], 7))
    fly_all(given, step, out)
    return Flight(*np.ascontiguousarray(out.T))


def fly_profile(
    speed: ArrayLike,
    launch: ArrayLike,
    spin: ArrayLike,
    *,
    density: ArrayLike = REFERENCE_DENSITY,
    tail: ArrayLike = 0.0,
    across: ArrayLike = 0.0,
    step: float = 0.02,
) -> tuple[Flight, Floats, Floats]:
    """Fly as ``fly`` does, and sample the flights on their way, to land them on higher or lower ground.

    Returns
    -------
    flight : as ``fly`` returns it.
    heights, sides : float64[n, 17], height above the start and distance to the right at the distances
        ``PROFILE_SHARES`` × carry along the aim line, all as shares of the carry.

    Beyond the carry the flight goes on below its start, to 0.8 of the carry down; from there on straight, at most 85°
    steep. A ball that the wind turns round in the air has the heights of its way out before the carry, 0 at the carry
    and falls at 85° beyond; one that comes down behind its start has 0 up to the carry.
    """
    given = _given(speed, launch, spin, (density, tail, across), step)
    n = given.shape[0]
    out, heights, sides = np.empty((n, 7)), np.empty((n, SHARES)), np.empty((n, SHARES))
    fly_all(given, step, out)
    profile_all(given, step, out, heights, sides)
    return Flight(*np.ascontiguousarray(out.T)), heights, sides


def ball_speed(
    carry: ArrayLike, launch: ArrayLike, spin: ArrayLike, *, density: ArrayLike = REFERENCE_DENSITY, step: float = 0.02
) -> Floats:
    """Return the ball speeds, float64[n] in m/s, that carry ``carry`` metres on the level in calm air.

    Raises
    ------
    BadRequest
        A carry that isn't above 0, or one that no ball of up to 120 m/s reaches at that launch and spin.

    >>> speed = ball_speed(250.0, 10.4, 2545.0)
    >>> round(float(fly(speed, 10.4, 2545.0).carry[0]), 4)
    250.0
    """
    given = columns(carry, launch, spin, density)
    if (given[:, 0] <= 0.0).any():
        raise BadRequest(f"a carry should be above 0 m, found {given[:, 0].min():g}")
    out = np.empty(given.shape[0])
    solve_all(given, step, FASTEST, out)
    if np.isnan(out).any():
        far, angle, rpm, thick = given[int(np.argmax(np.isnan(out)))]
        raise BadRequest(
            f"no ball of up to {FASTEST:g} m/s carries {far:.1f} m ({far / 0.9144:.0f} yd) when launched at {angle:g}° "
            f"with {rpm:g} rpm in air of {thick:.3f} kg/m³"
        )
    return out
