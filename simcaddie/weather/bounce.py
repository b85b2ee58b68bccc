"""Bounce and run: what a ball does on turf after it lands.

A ball that lands at speed v, at φ from the vertical, dents the turf and meets it as a hard plane tilted back by

    θ = 15.4° · (v / 18.6 m/s) · (φ / 44.4°)

With x the speed along that plane, n the speed into it, ω the backspin and r the radius:

    e = 0.510 − 0.0375 n + 0.000903 n², 0.120 above 20 m/s        speed off the plane: e n
    rolls off (friction enough):   x' = (5 x − 2 r ω) / 7,        ω' = −x' / r
    slides off (at most μ = 0.40): x' = x − μ n (1 + e),          ω' = ω − 5 μ n (1 + e) / 2 r

Hops follow, in a vacuum, until one is lower than 5 mm. Then the ball rolls, at (5 x − 2 r ω) / 7 and slowing by
(5/7)(ρ cos α ± sin α) g on a slope α. Source: A. R. Penner, The run of a golf ball, Canadian Journal of Physics
80, 2002 (as quoted); his turf is firmness 0.5 here. His θ is used up to 34°, the most in his worked examples: beyond,
fast low balls would jump back at the player.

Soft and firm turf are calibrated, common practice, no source: at firmness f, e is multiplied by ``FIRMER`` ^ (2f − 1)
and θ and μ are divided by it, so that a long drive runs about 4 and 15 % of its carry on soft and firm turf. Ordinary
turf is Penner's as it stands, and gives 9.5 %, where 8 % is usual.
"""

from __future__ import annotations

import math
from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simcaddie.base.compiled import compiled
from simcaddie.base.errors import BadRequest
from simcaddie.weather.flight import GRAVITY, RADIUS, columns

__all__ = ["FAST_GREEN", "ORDINARY_TURF", "SLOW_GREEN", "first_bounce", "run_out"]

FAST_GREEN, ORDINARY_TURF, SLOW_GREEN = 0.065, 0.131, 0.196  # rolling resistance ρ
FIRMER: Final = 1.2
FRICTION: Final = 0.40
MOST_TILT: Final = 34.0  # degrees
LOWEST_HOP: Final = 0.005  # m
MOST_HOPS: Final = 60
LEAST_SLOWING: Final = 0.5  # of the level's: no slope more than doubles a roll (common practice, no source)
STEEPEST_SLOPE: Final = 1.0
STEEPEST_COUNTED: Final = 0.1  # down steeper ones the hops would grow for ever

Floats = NDArray[np.float64]


@compiled
def _bounce(vx: float, vn: float, spin: float, firmness: float) -> Any:
    """Return (vx, vn, spin) after a bounce, from vx along the ground, vn into it, m/s, and backspin in rad/s."""
    firm = FIRMER ** (2.0 * firmness - 1.0)
    speed, steep = math.sqrt(vx * vx + vn * vn), math.atan2(abs(vx), vn)
    degrees = min(MOST_TILT, 15.4 * (speed / 18.6) * (math.degrees(steep) / 44.4)) / firm
    tilt = math.copysign(min(math.radians(degrees), steep), vx)
    cos, sin = math.cos(tilt), math.sin(tilt)
    x, n = vx * cos - vn * sin, vn * cos + vx * sin
    e = (0.510 - 0.0375 * n + 0.000903 * n * n if n < 20.0 else 0.120) * firm
    slip = x + RADIUS * spin
    change = math.copysign(min(2.0 / 7.0 * abs(slip), FRICTION / firm * n * (1.0 + e)), slip)
    x, n, spin = x - change, e * n, spin - 2.5 * change / RADIUS
    return x * cos - n * sin, max(0.0, n * cos + x * sin), spin


@compiled
def _run(speed: float, landing: float, spin: float, firmness: float, slope: float, rolling: float) -> float:
    """Return the level distance from landing to rest, in metres."""
    hill = math.atan(min(STEEPEST_COUNTED, max(-STEEPEST_COUNTED, slope)))
    down, along = GRAVITY * math.cos(hill), -GRAVITY * math.sin(hill)
    angle = max(0.0, math.radians(landing) + hill)
    vx, vn, w, far = speed * math.cos(angle), speed * math.sin(angle), spin * math.pi / 30.0, 0.0
    for _ in range(MOST_HOPS):
        if vn * vn < 2.0 * down * LOWEST_HOP:
            break
        vx, vn, w = _bounce(vx, vn, w, firmness)
        time = 2.0 * vn / down
        far += vx * time + 0.5 * along * time * time
        vx += along * time
    vx = (5.0 * vx - 2.0 * RADIUS * w) / 7.0
    helped = along if vx > 0.0 else -along
    slowing = 5.0 / 7.0 * max(rolling * down - helped, LEAST_SLOWING * rolling * down)
    return (far + 0.5 * vx * abs(vx) / slowing) * math.cos(hill)


@compiled
def _bounce_all(given: Any, out: Any) -> None:
    """Fill ``out`` float64[n, 3] from ``given`` float64[n, 4]."""
    for i in range(given.shape[0]):
        angle = math.radians(given[i, 1])
        vx, vn = given[i, 0] * math.cos(angle), given[i, 0] * math.sin(angle)
        vx, vn, w = _bounce(vx, vn, given[i, 2] * math.pi / 30.0, given[i, 3])
        out[i, 0], out[i, 1], out[i, 2] = vx, vn, w * 30.0 / math.pi


@compiled
def _run_all(given: Any, out: Any) -> None:
    """Fill ``out`` float64[n] from ``given`` float64[n, 6]."""
    for i in range(given.shape[0]):
        out[i] = _run(given[i, 0], given[i, 1], given[i, 2], given[i, 3], given[i, 4], given[i, 5])


def _checked(speed: ArrayLike, landing: ArrayLike, spin: ArrayLike, firmness: ArrayLike, *more: ArrayLike) -> Floats:
    """Return the values as float64[n, 4 or more], checked."""
    given = columns(speed, landing, spin, firmness, *more)
    if (given[:, 0] < 0.0).any():
        raise BadRequest(f"a landing speed should be 0 m/s or more, found {given[:, 0].min():g}")
    if ((given[:, 1] < 0.0) | (given[:, 1] > 90.0)).any():
        raise BadRequest("a landing angle should be 0 to 90 degrees below the horizontal")
    if ((given[:, 3] < 0.0) | (given[:, 3] > 1.0)).any():
        raise BadRequest("firmness should be 0 (soft) to 1 (firm)")
    return given


def first_bounce(
    speed: ArrayLike, landing: ArrayLike, spin: ArrayLike, firmness: ArrayLike = 0.5
) -> tuple[Floats, Floats, Floats]:
    """Return (speed along the ground, speed up, backspin) after the first bounce on level turf.

    Parameters
    ----------
    speed : landing speed, m/s.
    landing : degrees below the horizontal, 0 to 90.
    spin : backspin, rpm.
    firmness : 0 soft, 0.5 ordinary, 1 firm.

    Returns
    -------
    vx, vy : float64[n], m/s; vx is negative where the ball jumps back.
    spin : float64[n], rpm; negative is topspin.

    Raises
    ------
    BadRequest
        A value that isn't finite or is out of its range.
    """
    given = _checked(speed, landing, spin, firmness)
    out = np.empty((given.shape[0], 3))
    _bounce_all(given, out)
    vx, vy, after = np.ascontiguousarray(out.T)
    return vx, vy, after


def run_out(
    speed: ArrayLike,
    landing: ArrayLike,
    spin: ArrayLike,
    *,
    firmness: ArrayLike = 0.5,
    slope: ArrayLike = 0.0,
    rolling: ArrayLike = ORDINARY_TURF,
) -> Floats:
    """Return how far n balls bounce and roll on from where they land, float64[n] in level metres.

    Parameters
    ----------
    speed, landing, spin, firmness : as for ``first_bounce``.
    slope : rise over run along the shot, uphill positive, −1 to 1, the same all the way; one beyond ±0.1
        counts as ±0.1, since his turf takes too little from hops down a steeper one.
    rolling : rolling resistance ρ, above 0.

    Negative where spin pulls the ball back. A ball that comes to rest is at rest: none rolls back down a slope.

    Raises
    ------
    BadRequest
        A value that isn't finite or is out of its range.
    """
    given = _checked(speed, landing, spin, firmness, slope, rolling)
    if (np.abs(given[:, 4]) > STEEPEST_SLOPE).any():
        raise BadRequest(f"a slope should be −{STEEPEST_SLOPE:g} to {STEEPEST_SLOPE:g}")
    if (given[:, 5] <= 0.0).any():
        raise BadRequest("rolling resistance should be above 0")
    out = np.empty(given.shape[0])
    _run_all(given, out)
    return out
